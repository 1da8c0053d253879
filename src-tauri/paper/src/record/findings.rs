use competency::{
    log::What,
    report::{Finding, FindingKind},
};

use super::seen::{Seen, drawn, severity_mark};
use crate::{
    sheet::{Sheet, Style, Tag},
    table::{Cell, Column, Row, table},
    words,
};

/// The findings as scoring tells them, critical first, each with why it matters.
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
            let mut told = Cell::text(finding.text.clone(), Style::BODY);
            for why in whys(seen, finding) {
                told = told.and(why.to_owned(), Style::QUIET);
            }
            Row::Cells(vec![
                Cell::text(words::severity(finding.severity), severity).marked(drawn(mark)),
                Cell::text(time.map_or_else(String::new, |observation| seen.time(observation)), Style::BODY),
                told,
            ])
        })
        .collect();
    table(sheet, &columns, &rows);
    sheet.space(4.0);
    let begun = seen.record.begun.format("%H:%M:%S");
    let clocks = format!(
        "Times in columns are those of the wall clock; times in sentences are minutes and seconds since the \
         beginning at {begun}."
    );
    let (x, width) = (sheet.format.margin, sheet.format.text_width());
    sheet.paragraph(Tag::Paragraph, &clocks, x, width, Style::SMALL);
}

/// Why the procedure says that it matters; each reason once.
fn whys<'a>(seen: &Seen<'a>, finding: &Finding) -> Vec<&'a str> {
    let procedure = &seen.record.procedure;
    let mut whys: Vec<&str> = finding
        .because
        .iter()
        .filter_map(|(before, after)| seen.step(after)?.after.iter().find(|one| one.step() == before)?.why())
        .collect();
    let act = finding.observation.and_then(|index| seen.observation(index)).map(|found| &found.what);
    let step = finding.step.as_deref().and_then(|id| seen.step(id));
    match finding.kind {
        FindingKind::Forbidden => whys.extend(
            procedure
                .forbidden_acts
                .iter()
                .filter(|forbidden| matches!(act, Some(What::Act(act)) if *act == forbidden.act))
                .filter_map(|forbidden| forbidden.why.as_deref()),
        ),
        FindingKind::ResponseMissed | FindingKind::ResponseLate => whys.extend(
            procedure
                .responses
                .iter()
                .filter(|response| matches!(act, Some(What::Condition(id)) if *id == response.to))
                .filter_map(|response| response.why.as_deref()),
        ),
        FindingKind::Missed
        | FindingKind::NotImmediate
        | FindingKind::TooShort
        | FindingKind::Technique
        | FindingKind::Prompted
        | FindingKind::Call => whys.extend(step.and_then(|step| step.why.as_deref())),
        FindingKind::OutOfOrder if whys.is_empty() => {
            whys.extend(step.and_then(|step| step.why.as_deref()));
        }
        FindingKind::OutOfOrder
        | FindingKind::Extra
        | FindingKind::Contamination
        | FindingKind::TeamError => {}
    }
    // The sentence may say it already.
    whys.retain(|why| !finding.text.contains(why.trim_end_matches('.')));
    let mut once: Vec<&str> = Vec::new();
    for why in whys {
        if !once.contains(&why) {
            once.push(why);
        }
    }
    once
}
