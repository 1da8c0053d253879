use encoding_rs::{UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

use super::{PeopleFile, Row};
use crate::ExportError;

/// How the bytes of a file are text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Encoding {
    /// UTF-8, with or without a byte order mark.
    Utf8,
    /// UTF-16, little end first.
    Utf16Le,
    /// UTF-16, big end first.
    Utf16Be,
    /// The usual one of western Windows systems; Latin-1 is read as it, too.
    Windows1252,
    /// Any other that the Encoding Standard (encoding.spec.whatwg.org) has a name for.
    Other(&'static encoding_rs::Encoding),
}

impl Encoding {
    /// By a name of the Encoding Standard, such as `iso-8859-2` or `windows-1251`; `None` for no such name.
    pub fn named(name: &str) -> Option<Self> {
        let found = encoding_rs::Encoding::for_label(name.as_bytes())?;
        let own = [Encoding::Utf8, Encoding::Utf16Le, Encoding::Utf16Be, Encoding::Windows1252];
        Some(own.into_iter().find(|one| one.standard() == found).unwrap_or(Encoding::Other(found)))
    }

    /// Its name in the Encoding Standard.
    pub fn name(self) -> &'static str {
        self.standard().name()
    }

    fn standard(self) -> &'static encoding_rs::Encoding {
        match self {
            Encoding::Utf8 => UTF_8,
            Encoding::Utf16Le => UTF_16LE,
            Encoding::Utf16Be => UTF_16BE,
            Encoding::Windows1252 => WINDOWS_1252,
            Encoding::Other(other) => other,
        }
    }

    /// A byte order mark tells; else what is UTF-8 is taken for it, since other text hardly ever is by
    /// chance; else zeros in every other byte are UTF-16; else it is the usual one of Windows.
    fn of(bytes: &[u8]) -> Self {
        if let Some((found, _)) = encoding_rs::Encoding::for_bom(bytes) {
            return Encoding::named(found.name()).unwrap_or(Encoding::Other(found));
        }
        let zeros = |odd: usize| bytes.iter().skip(odd).step_by(2).filter(|byte| **byte == 0).count();
        let (even, odd) = (zeros(0), zeros(1));
        // Western text in UTF-16 has a zero in nearly every other byte; CSV text has none at all.
        if even.max(odd) * 4 > bytes.len() {
            return if odd > even { Encoding::Utf16Le } else { Encoding::Utf16Be };
        }
        if std::str::from_utf8(bytes).is_ok() { Encoding::Utf8 } else { Encoding::Windows1252 }
    }
}

/// What may separate cells, the likelier first where nothing else tells.
const SEPARATORS: [u8; 4] = *b";,\t|";

/// How the files of spreadsheet programs begin: a ZIP archive (XLSX, ODS; PKWARE's note on the format, 4.3.7), and the
/// compound file before it (XLS; [MS-CFB], 2.2), both from memory.
const SPREADSHEETS: [&[u8]; 2] = [b"PK\x03\x04", b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"];

/// Reads a file of people. Where no encoding is told, it is found; the separator always is: the one with which
/// most rows have as many cells as the first, and then the one that makes most cells. A first line such as
/// `sep=;`, which spreadsheet programs write, is heeded.
///
/// # Errors
/// Where it is a spreadsheet, there is no row of at least two cells, or the bytes are not text in that encoding.
pub fn read_people(bytes: &[u8], encoding: Option<Encoding>) -> Result<PeopleFile, ExportError> {
    if SPREADSHEETS.iter().any(|begins| bytes.starts_with(begins)) {
        return Err(ExportError::Spreadsheet);
    }
    let encoding = encoding.unwrap_or_else(|| Encoding::of(bytes));
    let (text, _, damaged) = encoding.standard().decode(bytes);
    if damaged {
        return Err(ExportError::NotText(encoding.name()));
    }
    let (told, text, skipped) = match text.split_once('\n') {
        Some((first, rest)) if first.to_ascii_lowercase().starts_with("sep=") => {
            (first.trim_end_matches('\r').as_bytes().get(4).copied(), rest, 1)
        }
        Some(_) | None => (None, text.as_ref(), 0),
    };
    let candidates = told.map_or(SEPARATORS.to_vec(), |told| vec![told]);
    let read = candidates.into_iter().map(|separator| (separator, rows(text, separator, skipped)));
    // Of equal ones `max_by_key` takes the last.
    let (separator, mut rows) = read
        .rev()
        .max_by_key(|(_, rows)| {
            let width = rows.first().map_or(0, |first| first.cells.len());
            let alike = rows.iter().filter(|row| row.cells.len() == width).count();
            if width < 2 { (0, 0) } else { (alike, width) }
        })
        .ok_or(ExportError::NoTable)?;
    if rows.first().is_none_or(|header| header.cells.len() < 2) {
        return Err(ExportError::NoTable);
    }
    let header = rows.remove(0).cells;
    Ok(PeopleFile { encoding, separator: char::from(separator), header, rows })
}

fn rows(text: &str, separator: u8, skipped: u64) -> Vec<Row> {
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator)
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let records = reader.records().filter_map(Result::ok);
    let (mut counted, mut line) = (0, 1 + skipped);
    records
        .map(|record| {
            let at =
                record.position().and_then(|position| usize::try_from(position.byte()).ok()).unwrap_or(0);
            // The reader places a row before the line breaks that end the one before it.
            let breaks = text
                .as_bytes()
                .get(at..)
                .unwrap_or_default()
                .iter()
                .take_while(|byte| matches!(byte, b'\r' | b'\n'))
                .count();
            let begins = at + breaks;
            let between = text.as_bytes().get(counted..begins).unwrap_or_default();
            line += between.iter().fold(0, |lines, byte| lines + u64::from(*byte == b'\n'));
            counted = begins;
            Row { line, cells: record.iter().map(str::to_owned).collect() }
        })
        .filter(|row| row.cells.iter().any(|cell| !cell.is_empty()))
        .collect()
}
