use std::ops::Range;

use memchr::memmem;

/// Where the first signature of a file says it stands, read from the bytes alone.
///
/// It comes before any parsing of the document, so a damaged file is called changed rather than unreadable, and no
/// reader of PDF meets bytes that nobody signed. What a PDF reader takes for the signature is compared with
/// it afterwards.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Layout {
    /// The byte range as it stands in the file.
    pub(super) range: [usize; 4],
    /// The signature block with its brackets.
    pub(super) gap: Range<usize>,
    /// Where the signed part ends.
    pub(super) end: usize,
    /// The signature block, decoded and without its padding; `None` where it is not hexadecimal.
    pub(super) block: Option<Vec<u8>>,
    pub(super) tail: Tail,
}

/// What follows the signed part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Tail {
    Nothing,
    Added,
    CutOff,
}

const KEY: &[u8] = b"/ByteRange";

impl Layout {
    /// `None` where there is no byte range, or one that leaves out anything but a bracketed block.
    pub(super) fn find(pdf: &[u8]) -> Option<Layout> {
        let key = memmem::find(pdf, KEY)?;
        let range = numbers(pdf.get(key + KEY.len()..)?)?;
        let [zero, start, after, rest] = range;
        let end = after.checked_add(rest)?;
        let inside = pdf.get(start.checked_add(1)?..after.checked_sub(1)?)?;
        if zero != 0 || pdf.get(start) != Some(&b'<') || pdf.get(after - 1) != Some(&b'>') {
            return None;
        }
        let tail = match end.cmp(&pdf.len()) {
            std::cmp::Ordering::Less => Tail::Added,
            std::cmp::Ordering::Equal => Tail::Nothing,
            std::cmp::Ordering::Greater => Tail::CutOff,
        };
        Some(Layout { range, gap: start..after, end, block: block(inside), tail })
    }
}

/// Four numbers in brackets, as `[0 1 2 3]`, blanks allowed.
fn numbers(text: &[u8]) -> Option<[usize; 4]> {
    let text = text.trim_ascii_start().strip_prefix(b"[")?;
    let close = text.iter().position(|&byte| byte == b']')?;
    let inside = std::str::from_utf8(text.get(..close)?).ok()?;
    let numbers: Option<Vec<usize>> = inside
        .split_ascii_whitespace()
        .map(|number| if number.starts_with('+') { None } else { number.parse().ok() })
        .collect();
    numbers?.try_into().ok()
}

/// Decodes the block and drops the padding, which must be zero.
fn block(inside: &[u8]) -> Option<Vec<u8>> {
    // Small digits only, as they are written: the case of a digit is not covered by any signature.
    let mut bytes = base16ct::lower::decode_vec(inside).ok()?;
    let length = der_length(&bytes)?;
    if bytes.get(length..)?.iter().any(|&byte| byte != 0) {
        return None;
    }
    bytes.truncate(length);
    Some(bytes)
}

/// Length of the outermost DER value, header included.
pub(crate) fn der_length(bytes: &[u8]) -> Option<usize> {
    let (&first, rest) = bytes.get(1..)?.split_first()?;
    if first < 0x80 {
        return Some(2 + usize::from(first));
    }
    let count = usize::from(first & 0x7f);
    if count > 4 {
        return None;
    }
    let length = rest.get(..count)?.iter().fold(0, |length, &byte| length << 8 | usize::from(byte));
    Some(2 + count + length)
}
