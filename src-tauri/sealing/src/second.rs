//! The second signature: an addition to the file that leaves every byte of the first revision where it is.
//!
//! Reading is strict in the same simple way as that of the signature block: what was read is written anew, and
//! must give the same bytes. So nothing but a second signature, in exactly this form, may follow the first.

use std::ops::Range;

use chrono::{DateTime, FixedOffset, Utc};
use lopdf::{Dictionary, Object, ObjectId};

use crate::{
    Facts, SealingError, Signer,
    cms::{self, Block},
    sign::{FIRST_FIELD, SECOND_FIELD, digest, pdf_date},
    vault::hex,
};

/// Adds the second signature to a record that carries the first: whoever signs here has seen what the first
/// revision says, and the first signature holds as before.
///
/// The same file, signer and facts give the same bytes.
///
/// # Errors
/// When the file is no record with an empty second field, and when the signer's certificate does not hold at
/// `facts.when`.
pub fn countersign(pdf: &[u8], signer: &Signer, facts: &Facts<'_>) -> Result<Vec<u8>, SealingError> {
    signer.check_moment(facts.when.with_timezone(&Utc))?;
    let first = First::read(pdf).ok_or(SealingError::NotSignable { what: "empty second field" })?;
    let trial = cms::assemble(&[0; 32], signer.certificate(), signer.authority(), &[0xff; 72])?;
    let said = Said {
        when: facts.when,
        name: facts.name.to_owned(),
        reason: facts.reason.to_owned(),
        place: facts.place.to_owned(),
    };
    let (mut whole, gap) = first.with(&said, trial.len() + 8);
    let digest = digest(&whole, &gap);
    let signature = signer.sign_message(&cms::attributes(&digest, signer.certificate())?)?;
    let block = cms::assemble(&digest, signer.certificate(), signer.authority(), &signature)?;
    fill(&mut whole, &gap, &block)?;
    Ok(whole)
}

/// What the second signature says, and its block.
pub(crate) struct Second {
    pub(crate) said: Said,
    pub(crate) block: Block,
    /// The digest of the whole file without the block.
    pub(crate) digest: [u8; 32],
}

/// What the signature dictionary says.
pub(crate) struct Said {
    pub(crate) when: DateTime<FixedOffset>,
    pub(crate) name: String,
    pub(crate) reason: String,
    pub(crate) place: String,
}

/// `None` unless what follows the first `end` bytes is exactly what [`countersign`] adds.
pub(crate) fn read(pdf: &[u8], end: usize) -> Option<Second> {
    let (first, added) = pdf.split_at_checked(end)?;
    let text = std::str::from_utf8(added).ok()?;
    let between = |from: &str, until: &str| {
        let (_, rest) = text.split_once(from)?;
        Some(rest.split_once(until)?.0)
    };
    let contents = between("/Contents <", ">")?;
    let said = Said {
        when: moment(between("/M (", ")")?)?,
        name: words(between("/Name <", ">")?)?,
        reason: words(between("/Reason <", ">")?)?,
        place: words(between("/Location <", ">")?)?,
    };
    let bytes = base16ct::lower::decode_vec(contents).ok()?;
    let length = crate::verify::der_length(&bytes)?;
    let block = cms::read(bytes.get(..length)?)?;
    let (mut again, gap) = First::read(first)?.with(&said, bytes.len());
    fill(&mut again, &gap, bytes.get(..length)?).ok()?;
    (again == pdf).then(|| Second { said, block, digest: digest(pdf, &gap) })
}

/// What is needed of the first revision to add to it.
struct First<'a> {
    pdf: &'a [u8],
    /// Objects it has, the free one at the beginning included.
    size: u32,
    root: ObjectId,
    /// What the trailer says besides: the information dictionary and the file's id, where there are any.
    besides: String,
    /// Where its cross-reference table begins.
    table: usize,
    field: ObjectId,
    page: ObjectId,
}

impl<'a> First<'a> {
    fn read(pdf: &'a [u8]) -> Option<Self> {
        let document = crate::verify::load(pdf)?;
        let trailer = &document.trailer;
        let form = document.get_dict_in_dict(document.catalog().ok()?, b"AcroForm").ok()?;
        let fields = form.get(b"Fields").and_then(Object::as_array).ok()?;
        let [first, second] = fields.as_slice() else { return None };
        let field = second.as_reference().ok()?;
        let dictionary = |id: ObjectId| document.get_dictionary(id).ok();
        let named = |field: &Dictionary, name: &str| {
            field.get(b"T").and_then(Object::as_str).is_ok_and(|found| found == name.as_bytes())
        };
        let (first, second) = (dictionary(first.as_reference().ok()?)?, dictionary(field)?);
        let empty = named(first, FIRST_FIELD) && named(second, SECOND_FIELD) && !second.has(b"V");
        let info = trailer.get(b"Info").and_then(Object::as_reference);
        let info = info.map(|(number, generation)| format!(" /Info {number} {generation} R"));
        let mut besides = info.unwrap_or_default();
        if let Ok(ids) = trailer.get(b"ID").and_then(Object::as_array) {
            let ids: Option<Vec<String>> =
                ids.iter().map(|one| Some(format!("<{}>", hex(one.as_str().ok()?)))).collect();
            besides = [besides.as_str(), " /ID [", &ids?.join(" "), "]"].concat();
        }
        empty.then_some(First {
            pdf,
            size: u32::try_from(trailer.get(b"Size").and_then(Object::as_i64).ok()?)
                .ok()?
                .max(document.max_id + 1),
            root: trailer.get(b"Root").and_then(Object::as_reference).ok()?,
            besides,
            table: table(pdf)?,
            field,
            page: second.get(b"P").and_then(Object::as_reference).ok()?,
        })
    }

    /// The whole file with the second signature, its block still empty, and where the block goes.
    fn with(&self, said: &Said, room: usize) -> (Vec<u8>, Range<usize>) {
        let mut whole = self.pdf.to_vec();
        if !whole.ends_with(b"\n") {
            whole.push(b'\n');
        }
        let signature = self.size;
        let signature_at = whole.len();
        let head = format!(
            "{signature} 0 obj\n<< /Type /Sig /Filter /Adobe.PPKLite /SubFilter /ETSI.CAdES.detached /M ({}) /Name <{}> /Reason <{}> /Location <{}> /ByteRange [0 ",
            pdf_date(said.when),
            coded(&said.name),
            coded(&said.reason),
            coded(&said.place),
        );
        whole.extend_from_slice(head.as_bytes());
        // Three numbers of ten digits each, so that their place is known before they are.
        let range_at = whole.len();
        whole.extend_from_slice(format!("{:10} {:10} {:10}] /Contents ", "", "", "").as_bytes());
        let gap = whole.len()..whole.len() + room * 2 + 2;
        whole.extend_from_slice(format!("<{}>", "00".repeat(room)).as_bytes());
        whole.extend_from_slice(b" >>\nendobj\n");
        let field_at = whole.len();
        let ((number, generation), page) = (self.field, self.page);
        let field = format!(
            "{number} {generation} obj\n<< /Type /Annot /Subtype /Widget /FT /Sig /T ({SECOND_FIELD}) /Rect [0 0 0 0] /F 132 /P {} {} R /V {signature} 0 R >>\nendobj\n",
            page.0, page.1
        );
        whole.extend_from_slice(field.as_bytes());
        let places = [(number, generation, field_at), (signature, 0, signature_at)];
        whole.extend_from_slice(self.references(places, whole.len()).as_bytes());
        let numbers = format!("{:10} {:10} {:10}", gap.start, gap.end, whole.len() - gap.end);
        if let Some(place) = whole.get_mut(range_at..range_at + numbers.len()) {
            place.copy_from_slice(numbers.as_bytes());
        }
        (whole, gap)
    }
}

impl First<'_> {
    /// The cross-reference section of the addition, in the form that the first revision has: a file has one form
    /// (ISO 32000-1, 7.5.8). A stream is written in hexadecimal, so that the addition is text throughout.
    fn references(&self, places: [(u32, u16, usize); 2], at: usize) -> String {
        let [(field, ..), (signature, ..)] = places;
        let (root, besides, before) = (self.root, &self.besides, self.table);
        if self.pdf.get(before..).is_some_and(|section| section.starts_with(b"xref")) {
            let rows: Vec<String> = places
                .iter()
                .map(|(number, generation, at)| format!("{number} 1\n{at:010} {generation:05} n \n"))
                .collect();
            return format!(
                "xref\n{}trailer\n<< /Size {} /Root {} {} R{besides} /Prev {before} >>\nstartxref\n{at}\n%%EOF\n",
                rows.concat(),
                signature + 1,
                root.0,
                root.1,
            );
        }
        let stream = signature + 1;
        let [one, two] = places;
        let rows: Vec<String> = [one, two, (stream, 0, at)]
            .iter()
            .map(|(_, generation, at)| format!("01{at:08x}{generation:04x}"))
            .collect();
        let rows = format!("{}>", rows.concat());
        format!(
            "{stream} 0 obj\n<< /Type /XRef /Size {} /W [1 4 2] /Index [{field} 1 {signature} 2] /Root {} {} R{besides} /Prev {before} /Filter /ASCIIHexDecode /Length {} >>\nstream\n{rows}\nendstream\nendobj\nstartxref\n{at}\n%%EOF\n",
            stream + 1,
            root.0,
            root.1,
            rows.len(),
        )
    }
}

fn fill(whole: &mut [u8], gap: &Range<usize>, block: &[u8]) -> Result<(), SealingError> {
    const LOST: SealingError = SealingError::NotSignable { what: "place for the signature" };
    let text = hex(block);
    let place = whole.get_mut(gap.start + 1..gap.end - 1).ok_or(LOST)?;
    place.get_mut(..text.len()).ok_or(LOST)?.copy_from_slice(text.as_bytes());
    Ok(())
}

/// Where the file says that its cross-reference table begins.
fn table(pdf: &[u8]) -> Option<usize> {
    let tail = pdf.get(pdf.len().saturating_sub(64)..)?;
    let tail = String::from_utf8_lossy(tail);
    let (_, number) = tail.rsplit_once("startxref")?;
    number.split_whitespace().next()?.parse().ok()
}

/// UTF-16 with its mark, in hexadecimal: any text, and no character that ends it.
fn coded(text: &str) -> String {
    let units = std::iter::once(0xfeff).chain(text.encode_utf16());
    hex(&units.flat_map(u16::to_be_bytes).collect::<Vec<u8>>())
}

fn words(coded: &str) -> Option<String> {
    let bytes = base16ct::lower::decode_vec(coded).ok()?;
    let (pairs, rest) = bytes.as_chunks::<2>();
    let mut units = pairs.iter().map(|pair| u16::from_be_bytes(*pair));
    if units.next()? != 0xfeff || !rest.is_empty() {
        return None;
    }
    String::from_utf16(&units.collect::<Vec<_>>()).ok()
}

fn moment(text: &str) -> Option<DateTime<FixedOffset>> {
    let text = text.strip_prefix("D:")?.replace('\'', "");
    DateTime::parse_from_str(&text, "%Y%m%d%H%M%S%z").ok()
}
