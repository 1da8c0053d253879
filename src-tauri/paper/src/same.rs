use std::collections::BTreeMap;

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

/// Draws the record again and compares everything that a reader of the document may come upon: pages, what is read
/// aloud from them, metadata, attachments, and what the catalog tells a reader to do.
///
/// Signing adds its form, its permissions and its lists to the catalog and its fields to the first page, so a signed
/// record compares equal to an unsigned one; what it adds is `sealing`'s to judge.
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
    let mut comparison = Comparison { shown: &shown, drawn: &drawn, stands_for: BTreeMap::new() };
    let same = comparison.whole().unwrap_or(false);
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

/// What signing puts into the catalog.
const OF_SIGNING: [&[u8]; 3] = [b"AcroForm", b"Perms", b"DSS"];

/// The comparison of two documents, object by object from where a reader begins.
struct Comparison<'d> {
    shown: &'d Document,
    drawn: &'d Document,
    /// Which object of the one stands for which of the other. Each stands for one only, so that neither a circle nor
    /// a document that was made to be deep leads any further than what was drawn.
    stands_for: BTreeMap<ObjectId, ObjectId>,
}

impl Comparison<'_> {
    /// `None` where one of them lacks what every document has.
    fn whole(&mut self) -> Option<bool> {
        let mut shown = self.shown.catalog().ok()?.clone();
        let drawn = self.drawn.catalog().ok()?;
        for key in OF_SIGNING {
            shown.remove(key);
        }
        let information = (information(self.shown)?, information(self.drawn)?);
        Some(self.dictionaries(information.0, information.1) && self.dictionaries(&shown, drawn))
    }

    fn objects(&mut self, shown: &Object, drawn: &Object) -> bool {
        if let (Object::Reference(shown), Object::Reference(drawn)) = (shown, drawn) {
            if let Some(known) = self.stands_for.get(drawn) {
                return known == shown;
            }
            self.stands_for.insert(*drawn, *shown);
        }
        let (Ok((_, shown)), Ok((_, drawn))) = (self.shown.dereference(shown), self.drawn.dereference(drawn))
        else {
            return false;
        };
        match (shown, drawn) {
            (Object::Array(shown), Object::Array(drawn)) => {
                shown.len() == drawn.len()
                    && shown.iter().zip(drawn).all(|(shown, drawn)| self.objects(shown, drawn))
            }
            (Object::Dictionary(shown), Object::Dictionary(drawn)) => {
                if drawn.get_type().is_ok_and(|kind| kind == b"Page") {
                    self.page(shown, drawn)
                } else {
                    self.dictionaries(shown, drawn)
                }
            }
            (Object::Stream(shown), Object::Stream(drawn)) => {
                unfolded(shown).is_some_and(|content| unfolded(drawn) == Some(content))
                    && self.dictionaries(&meaning(shown), &meaning(drawn))
            }
            (shown, drawn) => shown == drawn,
        }
    }

    /// The signature fields lie on the first page, and show nothing.
    fn page(&mut self, shown: &Dictionary, drawn: &Dictionary) -> bool {
        let fields_only = match shown.get(b"Annots").and_then(Object::as_array) {
            Ok(annotations) => annotations.iter().all(|annotation| is_empty_field(self.shown, annotation)),
            Err(_) => !shown.has(b"Annots"),
        };
        let mut shown = shown.clone();
        shown.remove(b"Annots");
        fields_only && self.dictionaries(&shown, drawn)
    }

    fn dictionaries(&mut self, shown: &Dictionary, drawn: &Dictionary) -> bool {
        shown.len() == drawn.len()
            && drawn.iter().all(|(key, drawn)| shown.get(key).is_ok_and(|shown| self.objects(shown, drawn)))
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
