use std::ops::Range;

use chrono::{DateTime, FixedOffset, Utc};
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary};
use memchr::memmem;
use sha2::{Digest, Sha256};

use crate::{RevocationList, SealingError, Signer, cms, vault::hex};

/// What the signature dictionary says beside the signature; all of it is signed, and PDF readers show it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Facts<'a> {
    /// The claimed moment, with the offset of the facility's wall clock.
    pub when: DateTime<FixedOffset>,
    /// The signer's name, as a person reads it.
    pub name: &'a str,
    /// What the signature means, such as `Observed and assessed by me`.
    pub reason: &'a str,
    /// Where it was made, such as the unit and the facility.
    pub place: &'a str,
}

/// Names of the two signature fields. The second is there, empty, from the start: a reader then sees
/// a counter-signature as filling a form, not as a change of the document.
pub(crate) const FIRST_FIELD: &str = "observer";
pub(crate) const SECOND_FIELD: &str = "person-observed";

/// The widest number a byte range can hold, so that its place can be kept before it is known.
const WIDEST: i64 = 9_999_999_999;

/// Signs a PDF in its first revision: `PAdES` B-B, SHA-256 and P-256, the whole file covered.
///
/// The same document, signer and facts give the same bytes. Later additions other than filling the second
/// field are declared not allowed (`DocMDP`, P = 2).
///
/// # Errors
/// When the document is signed already or has no page, and when the signer's certificate does not hold at
/// `facts.when`.
pub fn sign(document: Document, signer: &Signer, facts: &Facts<'_>) -> Result<Vec<u8>, SealingError> {
    signer.check_moment(facts.when.with_timezone(&Utc))?;
    sign_unchecked(document, signer, facts)
}

/// Signs without asking whether the certificate holds, so that tests can make what [`sign`] refuses.
pub(crate) fn sign_unchecked(
    mut document: Document,
    signer: &Signer,
    facts: &Facts<'_>,
) -> Result<Vec<u8>, SealingError> {
    if document.catalog()?.has(b"AcroForm") {
        return Err(SealingError::AlreadySigned);
    }
    // The block's length does not depend on the digest; a DER signature varies by a few bytes.
    let trial = cms::assemble(&[0; 32], signer.certificate(), signer.authority(), &[0xff; 72])?;
    let room = trial.len() + 8;
    add_fields(&mut document, signature_dictionary(facts, room))?;
    if let Some(list) = signer.revocations() {
        add_revocations(&mut document, list)?;
    }
    "1.7".clone_into(&mut document.version);
    let mut bytes = Vec::new();
    document.save_to(&mut bytes)?;
    let gap = fill_byte_range(&mut bytes, room)?;
    let digest = digest(&bytes, &gap);
    let signature = signer.sign_message(&cms::attributes(&digest, signer.certificate())?)?;
    let block = cms::assemble(&digest, signer.certificate(), signer.authority(), &signature)?;
    put(&mut bytes, gap.start + 1, &hex(&block))?;
    Ok(bytes)
}

/// SHA-256 of everything outside the gap, in which the signature block stands.
pub(crate) fn digest(bytes: &[u8], gap: &Range<usize>) -> [u8; 32] {
    let mut hasher = Sha256::new();
    hasher.update(bytes.get(..gap.start).unwrap_or_default());
    hasher.update(bytes.get(gap.end..).unwrap_or_default());
    hasher.finalize().into()
}

fn signature_dictionary(facts: &Facts<'_>, room: usize) -> Dictionary {
    dictionary! {
        "Type" => "Sig",
        "Filter" => "Adobe.PPKLite",
        "SubFilter" => "ETSI.CAdES.detached",
        "ByteRange" => vec![0.into(), WIDEST.into(), WIDEST.into(), WIDEST.into()],
        "Contents" => Object::String(vec![0; room], StringFormat::Hexadecimal),
        "M" => Object::string_literal(pdf_date(facts.when)),
        "Name" => lopdf::text_string(facts.name),
        "Reason" => lopdf::text_string(facts.reason),
        "Location" => lopdf::text_string(facts.place),
        "Reference" => vec![Object::Dictionary(dictionary! {
            "Type" => "SigRef",
            "TransformMethod" => "DocMDP",
            "TransformParams" => dictionary! { "Type" => "TransformParams", "P" => 2, "V" => "1.2" },
        })],
    }
}

/// ISO 32000-1, 7.9.4.
pub(crate) fn pdf_date(when: DateTime<FixedOffset>) -> String {
    let offset = when.format("%:z").to_string().replace(':', "'");
    format!("D:{}{offset}'", when.format("%Y%m%d%H%M%S"))
}

fn add_fields(document: &mut Document, signature: Dictionary) -> Result<(), SealingError> {
    let (_, &page) = document.get_pages().iter().next().ok_or(SealingError::NotSignable { what: "page" })?;
    let signature = document.add_object(signature);
    let first = document.add_object(field(FIRST_FIELD, page, Some(signature)));
    let second = document.add_object(field(SECOND_FIELD, page, None));
    let fields = vec![first.into(), second.into()];
    document.get_dictionary_mut(page)?.set("Annots", Object::Array(fields.clone()));
    let form = document.add_object(dictionary! { "SigFlags" => 3, "Fields" => fields });
    let root = document.trailer.get(b"Root")?.as_reference()?;
    let catalog = document.get_dictionary_mut(root)?;
    catalog.set("AcroForm", form);
    catalog.set("Perms", dictionary! { "DocMDP" => signature });
    Ok(())
}

/// The document security store (ISO 32000-2, 12.8.4.3) with the revocation list, in the first revision: so
/// the signature covers it, and PDF readers find it where they look.
fn add_revocations(document: &mut Document, list: &RevocationList) -> Result<(), SealingError> {
    let list = document.add_object(Stream::new(Dictionary::new(), list.der().to_vec()));
    let store = document.add_object(dictionary! { "Type" => "DSS", "CRLs" => vec![list.into()] });
    let root = document.trailer.get(b"Root")?.as_reference()?;
    document.get_dictionary_mut(root)?.set("DSS", store);
    Ok(())
}

/// A field that is its own widget, without an appearance: the page says in words who signed.
fn field(name: &str, page: ObjectId, value: Option<ObjectId>) -> Dictionary {
    let mut field = dictionary! {
        "Type" => "Annot",
        "Subtype" => "Widget",
        "FT" => "Sig",
        "T" => Object::string_literal(name),
        "Rect" => vec![0.into(), 0.into(), 0.into(), 0.into()],
        // Print and locked: an archive format asks for the first, nobody should move the second.
        "F" => 132,
        "P" => page,
    };
    if let Some(value) = value {
        field.set("V", value);
    }
    field
}

/// Puts the true byte range into its place and returns the gap: the signature block with its brackets.
fn fill_byte_range(bytes: &mut [u8], room: usize) -> Result<Range<usize>, SealingError> {
    const LOST: SealingError = SealingError::NotSignable { what: "place for the signature" };
    let empty = format!("<{}>", "00".repeat(room));
    let start = find(bytes, empty.as_bytes()).ok_or(LOST)?;
    let gap = start..start + empty.len();
    let placeholder = format!("[0 {WIDEST} {WIDEST} {WIDEST}]");
    let place = find(bytes, placeholder.as_bytes()).ok_or(LOST)?;
    let range = format!("[0 {} {} {}]", gap.start, gap.end, bytes.len() - gap.end);
    // Blanks inside the brackets keep every offset of the cross-reference table true.
    let width = placeholder.len() - 1;
    let padded = format!("{:<width$}]", range.trim_end_matches(']'));
    put(bytes, place, &padded)?;
    Ok(gap)
}

fn put(bytes: &mut [u8], at: usize, text: &str) -> Result<(), SealingError> {
    bytes
        .get_mut(at..at + text.len())
        .ok_or(SealingError::NotSignable { what: "place for the signature" })?
        .copy_from_slice(text.as_bytes());
    Ok(())
}

/// Where the needle stands, if it stands exactly once.
pub(crate) fn find(bytes: &[u8], needle: &[u8]) -> Option<usize> {
    let mut places = memmem::find_iter(bytes, needle);
    let place = places.next()?;
    places.next().is_none().then_some(place)
}
