use crate::ExportError;

/// Writes a table as CSV: RFC 4180 with CRLF, UTF-8 with a byte order mark, by which spreadsheet programs
/// know the encoding; a script reads it as `utf-8-sig`. The first row names the columns.
///
/// No cell is taken for a formula: see [`harmless`].
pub(crate) fn csv(
    names: &[&str],
    rows: impl IntoIterator<Item = Vec<String>>,
) -> Result<Vec<u8>, ExportError> {
    let bytes = "\u{feff}".as_bytes().to_vec();
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(bytes);
    writer.write_record(names).map_err(ExportError::Csv)?;
    for row in rows {
        writer.write_record(row.iter().map(|cell| harmless(cell))).map_err(ExportError::Csv)?;
    }
    writer.into_inner().map_err(|error| ExportError::CsvEnd(error.into_error()))
}

/// A cell that a spreadsheet program takes for text: where it begins as a formula might, an apostrophe goes
/// before it, and that is how such a name reads in the file.
///
/// The beginnings are those of the OWASP page on CSV injection (from memory): `=`, `+`, `-`, `@`, tab,
/// carriage return and line feed, and the full-width forms of the first four.
pub(crate) fn harmless(cell: &str) -> String {
    let risky = ['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];
    if cell.starts_with(risky) { format!("'{cell}") } else { cell.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_begins_like_a_formula_is_made_text() {
        for (cell, expected) in [
            ("=1+1", "'=1+1"),
            ("+49 30", "'+49 30"),
            ("-1", "'-1"),
            ("@SUM(A1)", "'@SUM(A1)"),
            ("\t=1", "'\t=1"),
            ("\r=1", "'\r=1"),
            ("＝1", "'＝1"),
            ("Ada-Marie = 1", "Ada-Marie = 1"),
            ("", ""),
        ] {
            assert_eq!(harmless(cell), expected);
        }
    }

    #[test]
    fn rows_end_in_crlf_and_quotes_are_doubled() {
        let bytes = csv(&["a", "b"], [vec!["x, \"y\"".to_owned(), "1\n2".to_owned()]]).unwrap();
        assert_eq!(String::from_utf8(bytes).unwrap(), "\u{feff}a,b\r\n\"x, \"\"y\"\"\",\"1\n2\"\r\n");
    }
}
