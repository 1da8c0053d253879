/// What can go wrong while writing a file for another program, or reading one of its own.
#[derive(Debug, thiserror::Error)]
pub enum ExportError {
    /// CSV.
    #[error("the table could not be written as CSV")]
    Csv(#[source] csv::Error),
    /// CSV, at its end.
    #[error("the CSV table could not be finished")]
    CsvEnd(#[source] std::io::Error),
    /// XLSX.
    #[error("the spreadsheet could not be written")]
    Sheet(#[source] rust_xlsxwriter::XlsxError),
    /// JSON.
    #[error("the roster could not be written as JSON")]
    Json(#[source] serde_json::Error),
    /// The day after a due date lies beyond the calendar.
    #[error("the due date {0} is too late for a calendar file")]
    DateTooLate(chrono::NaiveDate),
    /// A file of people is not text in this encoding.
    #[error("the file is not text in the encoding {0}; choose the one it was saved in")]
    NotText(&'static str),
    /// A file of people is a spreadsheet program's own.
    #[error(
        "it is a spreadsheet; open it in the program that made it and save it as CSV, then choose that file"
    )]
    Spreadsheet,
    /// A file of people has no columns.
    #[error(
        "the file has no table: its first row must name at least two columns, separated by commas, semicolons, tabs or bars"
    )]
    NoTable,
}
