use super::seen::{Seen, drawn, severity_mark};
use crate::{
    sheet::{Sheet, Style, Tag},
    table::{Cell, Column, Row, table},
    words,
};

/// The findings as scoring tells them, critical first; each sentence has its reason in it.
pub(super) fn draw(sheet: &mut Sheet, seen: &Seen<'_>) {
    let findings = &seen.record.report.findings;
    sheet.heading("Findings", 40.0);
    if findings.is_empty() {
        let (x, width) = (sheet.format.margin, sheet.format.text_width());
        sheet.paragraph(Tag::Paragraph, "There are no findings.", x, width, Style::BODY);
        return;
    }
    let width = sheet.format.text_width();
    let columns = [
        Column { heading: "Severity".to_owned(), width: 70.0 },
        Column { heading: "Time".to_owned(), width: 54.0 },
        Column { heading: "What was found, and why it matters".to_owned(), width: width - 124.0 },
    ];
    let rows: Vec<Row> = findings
        .iter()
        .map(|finding| {
            let mark = severity_mark(finding.severity);
            let severity = Style::STRONG.in_role(mark.role());
            let time = finding.observation.and_then(|index| seen.observation(index));
            Row::Cells(vec![
                Cell::text(words::severity(finding.severity), severity).marked(drawn(mark)),
                Cell::text(time.map_or_else(String::new, |observation| seen.time(observation)), Style::BODY),
                Cell::text(finding.text.clone(), Style::BODY),
            ])
        })
        .collect();
    table(sheet, &columns, &rows);
    sheet.space(4.0);
    let clocks = if seen.record.log.transcribed {
        "Times are those written on the paper form.".to_owned()
    } else {
        let begun = seen.record.begun.format("%H:%M:%S");
        format!(
            "Times in columns are those of the wall clock; times in sentences are minutes and seconds since the \
             beginning at {begun}."
        )
    };
    let (x, width) = (sheet.format.margin, sheet.format.text_width());
    sheet.paragraph(Tag::Paragraph, &clocks, x, width, Style::SMALL);
}
