use chrono::{DateTime, FixedOffset};
use lopdf::{Dictionary, Document, LoadOptions, Object, Stream, decode_text_string};

use super::layout::Layout;
use crate::{
    RevocationList,
    sign::{FIRST_FIELD, SECOND_FIELD},
};

/// What stands in a document whose bytes are known to be those that were signed.
pub(super) struct Reading {
    pub(super) facts: Facts,
    pub(super) attachment: Option<Vec<u8>>,
    /// Every embedded file.
    pub(super) files: Vec<(String, Vec<u8>)>,
    /// The revocation lists that the document carries.
    pub(super) lists: Vec<RevocationList>,
}

pub(super) struct Facts {
    pub(super) when: DateTime<FixedOffset>,
    pub(super) name: String,
    pub(super) reason: String,
    pub(super) place: String,
}

/// No record comes near this; whatever unfolds to more is not one.
const MOST_UNFOLDED: usize = 64 * 1024 * 1024;

/// Whoever signed a file may have made it so that it unfolds without an end.
pub(crate) fn load(pdf: &[u8]) -> Option<Document> {
    let options = LoadOptions::with_max_decompressed_size(MOST_UNFOLDED);
    Document::load_mem_with_options(pdf, options).ok()
}

/// `None` where the signature that PDF readers show is not the one found by [`Layout::find`], or the
/// form around it is not that of a record.
pub(super) fn read(pdf: &[u8], layout: &Layout) -> Option<Reading> {
    let document = load(pdf)?;
    let catalog = document.catalog().ok()?;
    let form = document.get_dict_in_dict(catalog, b"AcroForm").ok()?;
    let fields = form.get(b"Fields").and_then(Object::as_array).ok()?;
    let [first, second] = fields.as_slice() else { return None };
    let first = dictionary(&document, first)?;
    let second = dictionary(&document, second)?;
    if name(first)? != FIRST_FIELD || name(second)? != SECOND_FIELD || second.has(b"V") {
        return None;
    }
    let signature = document.get_dict_in_dict(first, b"V").ok()?;
    // Whatever else stood here would be something that a reader does, such as running a program.
    let permissions = document.get_dict_in_dict(catalog, b"Perms").ok()?;
    let bare = has_only(form, FORM)
        && has_only(permissions, &[b"DocMDP"])
        && has_only(first, &[FIELD, &[b"V"]].concat())
        && has_only(second, FIELD)
        && has_only(signature, SIGNATURE);
    if !bare {
        return None;
    }
    let range: Option<Vec<usize>> = signature
        .get(b"ByteRange")
        .and_then(Object::as_array)
        .ok()?
        .iter()
        .map(|number| number.as_i64().ok().and_then(|number| usize::try_from(number).ok()))
        .collect();
    let form = signature.get(b"SubFilter").and_then(Object::as_name).ok()?;
    if range?.as_slice() != layout.range || form != b"ETSI.CAdES.detached" {
        return None;
    }
    let text = |key: &[u8]| signature.get(key).ok().and_then(|value| decode_text_string(value).ok());
    let facts = Facts {
        when: moment(&text(b"M")?)?,
        name: text(b"Name")?,
        reason: text(b"Reason")?,
        place: text(b"Location")?,
    };
    let lists = lists(&document, catalog)?;
    let files = files(&document, catalog).unwrap_or_default();
    let attachment = match files.as_slice() {
        [(name, bytes)] if name == "record.json" => Some(bytes.clone()),
        _ => None,
    };
    Some(Reading { facts, attachment, files, lists })
}

/// What the form, each field and the signature have, as signing makes them.
const FORM: &[&[u8]] = &[b"SigFlags", b"Fields"];
const FIELD: &[&[u8]] = &[b"Type", b"Subtype", b"FT", b"T", b"Rect", b"F", b"P"];
const SIGNATURE: &[&[u8]] = &[
    b"Type",
    b"Filter",
    b"SubFilter",
    b"ByteRange",
    b"Contents",
    b"M",
    b"Name",
    b"Reason",
    b"Location",
    b"Reference",
];

const LISTS: &[&[u8]] = &[b"Type", b"CRLs"];

fn has_only(dictionary: &Dictionary, keys: &[&[u8]]) -> bool {
    dictionary.iter().all(|(key, _)| keys.contains(&key.as_slice()))
}

/// None where there is no document security store; `None` where what stands in it is no revocation list.
fn lists(document: &Document, catalog: &Dictionary) -> Option<Vec<RevocationList>> {
    if !catalog.has(b"DSS") {
        return Some(Vec::new());
    }
    let store = document.get_dict_in_dict(catalog, b"DSS").ok().filter(|store| has_only(store, LISTS))?;
    let lists = store.get(b"CRLs").and_then(Object::as_array).ok()?;
    lists
        .iter()
        .map(|list| {
            let stream = document.dereference(list).ok()?.1.as_stream().ok()?;
            RevocationList::read(&content(stream)?).ok()
        })
        .collect()
}

fn content(stream: &Stream) -> Option<Vec<u8>> {
    if stream.is_compressed() {
        stream.decompressed_content_with_limit(MOST_UNFOLDED).ok()
    } else {
        Some(stream.content.clone())
    }
}

fn dictionary<'a>(document: &'a Document, object: &'a Object) -> Option<&'a Dictionary> {
    document.dereference(object).ok()?.1.as_dict().ok()
}

fn name(field: &Dictionary) -> Option<String> {
    decode_text_string(field.get(b"T").ok()?).ok()
}

/// The counterpart of the date that signing writes: `D:20261125100203+01'00'`.
fn moment(text: &str) -> Option<DateTime<FixedOffset>> {
    let text = text.strip_prefix("D:")?.replace('\'', "");
    DateTime::parse_from_str(&text, "%Y%m%d%H%M%S%z").ok()
}

/// Every embedded file with its name.
fn files(document: &Document, catalog: &Dictionary) -> Option<Vec<(String, Vec<u8>)>> {
    let names = document.get_dict_in_dict(catalog, b"Names").ok()?;
    let files = document.get_dict_in_dict(names, b"EmbeddedFiles").ok()?;
    let pairs = files.get(b"Names").and_then(Object::as_array).ok()?;
    pairs
        .chunks(2)
        .map(|pair| {
            let [name, file] = pair else { return None };
            let embedded = document.get_dict_in_dict(dictionary(document, file)?, b"EF").ok()?;
            let stream = document.dereference(embedded.get(b"F").ok()?).ok()?.1.as_stream().ok()?;
            Some((decode_text_string(name).ok()?, content(stream)?))
        })
        .collect()
}
