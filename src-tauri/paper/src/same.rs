use chrono::{DateTime, FixedOffset};
use evidence::Record;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream};

use crate::{
    PaperError,
    archive::written,
    record::{LAYOUT, record},
};

/// Whether the pages of a document say what its data says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SamePage {
    /// The pages are those that the data gives.
    Same,
    /// They are not.
    Different,
    /// They were drawn in a layout that this program does not draw: it cannot tell.
    OtherLayout,
}

/// Draws the record again and compares what stands on the pages: text, shapes and fonts.
///
/// Signing adds form fields and changes nothing on a page, so a signed record compares equal to an
/// unsigned one; the signature itself is `sealing`'s to judge.
///
/// # Errors
/// When the record cannot be drawn.
pub fn same_page(pdf: &[u8], of: &Record, signed: DateTime<FixedOffset>) -> Result<SamePage, PaperError> {
    let Ok(shown) = Document::load_mem(pdf) else { return Ok(SamePage::Different) };
    if layout(&shown).as_deref() != Some(LAYOUT) {
        return Ok(SamePage::OtherLayout);
    }
    // Read again like the other: a whole number is then one on both sides.
    let drawn = Document::load_mem(&written(record(of, signed)?)?)?;
    let (shown_pages, drawn_pages): (Vec<_>, Vec<_>) =
        (shown.page_iter().collect(), drawn.page_iter().collect());
    let same = same_information(&shown, &drawn)
        && shown_pages.len() == drawn_pages.len()
        && shown_pages.iter().zip(&drawn_pages).all(|(&one, &other)| same_pages(&shown, one, &drawn, other));
    Ok(if same { SamePage::Same } else { SamePage::Different })
}

fn layout(document: &Document) -> Option<String> {
    let creator = information(document)?.get(b"Creator").ok()?;
    lopdf::decode_text_string(creator).ok()
}

fn information(document: &Document) -> Option<&Dictionary> {
    let information = document.trailer.get(b"Info").ok()?.as_reference().ok()?;
    document.get_dictionary(information).ok()
}

/// Title, program and dates; signing leaves them as they are.
fn same_information(one: &Document, other: &Document) -> bool {
    match (information(one), information(other)) {
        (Some(first), Some(second)) => same_dictionaries(one, first, other, second, DEPTH),
        (_, _) => false,
    }
}

fn same_pages(one: &Document, page: ObjectId, other: &Document, other_page: ObjectId) -> bool {
    let (Ok(first), Ok(second)) = (one.get_dictionary(page), other.get_dictionary(other_page)) else {
        return false;
    };
    // `Parent` leads out of the page, and `Annots` are the signature fields, which show nothing.
    let content = |page: &Dictionary| {
        let mut page = page.clone();
        page.remove(b"Parent");
        page.remove(b"Annots");
        page
    };
    let fields_only = match first.get(b"Annots").and_then(Object::as_array) {
        Ok(annotations) => annotations.iter().all(|annotation| is_empty_field(one, annotation)),
        Err(_) => true,
    };
    fields_only && same_dictionaries(one, &content(first), other, &content(second), DEPTH)
}

/// A signature field without an appearance and without a size.
fn is_empty_field(document: &Document, annotation: &Object) -> bool {
    let Ok((_, Object::Dictionary(field))) = document.dereference(annotation) else { return false };
    let no_size = field.get(b"Rect").and_then(Object::as_array).is_ok_and(|rect| {
        rect.iter()
            .all(|side| matches!(side, Object::Integer(0)) || side.as_float().is_ok_and(|side| side == 0.0))
    });
    let is_field = field.get(b"FT").and_then(Object::as_name).is_ok_and(|kind| kind == b"Sig");
    is_field && no_size && !field.has(b"AP")
}

/// Pages, resources, fonts, descriptors, programs: nothing of ours lies deeper.
const DEPTH: u32 = 16;

fn same_objects(one: &Document, first: &Object, other: &Document, second: &Object, depth: u32) -> bool {
    let (Ok((_, first)), Ok((_, second))) = (one.dereference(first), other.dereference(second)) else {
        return false;
    };
    let Some(depth) = depth.checked_sub(1) else { return false };
    match (first, second) {
        (Object::Array(first), Object::Array(second)) => {
            first.len() == second.len()
                && first
                    .iter()
                    .zip(second)
                    .all(|(first, second)| same_objects(one, first, other, second, depth))
        }
        (Object::Dictionary(first), Object::Dictionary(second)) => {
            same_dictionaries(one, first, other, second, depth)
        }
        (Object::Stream(first), Object::Stream(second)) => {
            unfolded(first).is_some_and(|content| unfolded(second) == Some(content))
                && same_dictionaries(one, &meaning(first), other, &meaning(second), depth)
        }
        (first, second) => first == second,
    }
}

/// No page of ours comes near this.
const MOST_UNFOLDED: usize = 64 * 1024 * 1024;

/// What a stream holds: another release of the compressor may pack the same into other bytes. `None` where it is
/// packed in a way that nothing of ours is.
fn unfolded(stream: &Stream) -> Option<Vec<u8>> {
    match stream.dict.get(b"Filter") {
        Err(_) => Some(stream.content.clone()),
        Ok(Object::Name(name)) if name == b"FlateDecode" => {
            stream.decompressed_content_with_limit(MOST_UNFOLDED).ok()
        }
        Ok(_) => None,
    }
}

/// What its dictionary says beside how it is packed.
fn meaning(stream: &Stream) -> Dictionary {
    let mut dictionary = stream.dict.clone();
    dictionary.remove(b"Filter");
    dictionary.remove(b"Length");
    dictionary
}

fn same_dictionaries(
    one: &Document,
    first: &Dictionary,
    other: &Document,
    second: &Dictionary,
    depth: u32,
) -> bool {
    first.len() == second.len()
        && first.iter().all(|(key, value)| {
            second.get(key).is_ok_and(|second| same_objects(one, value, other, second, depth))
        })
}
