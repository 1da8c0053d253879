use competency::{
    journal,
    log::What,
    report::{Outcome, Severity},
    sentence,
};
use evidence::{Party, Record};
use picture::{Anchor, Mark, Paint, Pen, Point, Role, Shape};

use super::changed;
use crate::{
    sheet::{Sheet, Style, Tag, moved, set},
    table::pairs,
    words,
};

/// Facility and title, the outcome, large, and who, what, when.
pub(super) fn draw(sheet: &mut Sheet, record: &Record) {
    let (x, width) = (sheet.format.margin, sheet.format.text_width());
    let above = format!("{} · {}", record.facility.name, record.unit.name);
    sheet.paragraph(Tag::Paragraph, &above, x, width, Style::QUIET);
    sheet.paragraph(Tag::Title, "Competency record", x, width, Style::TITLE);
    sheet.space(8.0);
    outcome(sheet, record);
    sheet.space(14.0);
    pairs(sheet, 2, &facts(record));
}

/// The outcome in a frame, with its mark, what it rests on and what it means.
fn outcome(sheet: &mut Sheet, record: &Record) {
    const PAD: f64 = 12.0;
    const MARK: f64 = 22.0;
    const BAR: f64 = 4.0;
    let (x, width) = (sheet.format.margin, sheet.format.text_width());
    let report = &record.report;
    let outcome = record.outcome();
    let mark = match outcome {
        Outcome::Competent => Mark::Well,
        Outcome::NotYetCompetent => Mark::Danger,
        Outcome::NotAssessed => Mark::Open,
    };
    let critical = report.findings.iter().filter(|finding| finding.severity == Severity::Critical).count();
    let other = report.findings.iter().filter(|finding| finding.severity == Severity::Other).count();
    let counted = format!(
        "{} of {} steps as they should be · {} · {}",
        report.steps_well,
        report.steps_counted,
        words::count(critical, "critical finding", "critical findings"),
        words::count(other, "other finding", "other findings"),
    );
    let score = format!("Score {}.{} %", report.score_permille / 10, report.score_permille % 10);
    let means = words::validity(record.purpose, outcome, record.valid_until);
    let left = x + BAR + PAD + MARK + 10.0;
    let inner = x + width - PAD - left;
    let means = sheet.lines(&means, inner, Style::STRONG);
    let counted = sheet.lines(&format!("{counted} · {score}"), inner, Style::BODY);
    let lines = f64::from(u32::try_from(means.len() + counted.len()).unwrap_or(u32::MAX));
    let height = 2.0 * PAD + Style::BIG.leading + 2.0 + lines * Style::BODY.leading;
    let y = sheet.y;
    sheet.decorate([
        Shape::Rect {
            at: Point { x, y },
            width,
            height,
            radius: 0.0,
            paint: Paint::both(Role::Raised, Pen::solid(Role::Line, 0.6)),
        },
        crate::sheet::panel(Point { x, y }, BAR, height, mark.role()),
    ]);
    let centre = Point { x: x + BAR + PAD + MARK / 2.0, y: y + PAD + Style::BIG.leading / 2.0 };
    let drawn = mark.shapes(Point { x: 0.0, y: 0.0 }, MARK);
    sheet.decorate(drawn.iter().map(|shape| moved(shape, centre, 1.0)));
    let word = [words::outcome(outcome).to_owned()];
    let mut top = y + PAD;
    for (lines, style) in [(word.as_slice(), Style::BIG), (&means, Style::STRONG), (&counted, Style::BODY)] {
        sheet.element(Tag::Paragraph, |sheet| {
            sheet.put(set(lines, Point { x: left, y: top }, Anchor::Start, style));
        });
        top += f64::from(u32::try_from(lines.len()).unwrap_or(u32::MAX)) * style.leading;
        top += if style.size > Style::BODY.size { 2.0 } else { 0.0 };
    }
    sheet.space(height);
}

fn facts(record: &Record) -> Vec<(&'static str, String)> {
    let procedure = &record.procedure;
    let held: Vec<&str> = record.log.conditions.iter().map(|id| procedure.condition_text(id)).collect();
    let precautions: Vec<&str> =
        procedure.precautions.iter().map(|precaution| words::precaution(*precaution)).collect();
    let clock = |at: chrono::DateTime<chrono::FixedOffset>| at.format("%H:%M:%S").to_string();
    let time = if record.log.transcribed {
        let entered = words::date(record.begun.date_naive());
        let from = format!(
            "From a paper form of {}, transcribed on {entered} by {}",
            words::date(record.on),
            record.observer.name
        );
        [Some(from), written_span(record)].into_iter().flatten().collect::<Vec<_>>().join("\n")
    } else {
        format!("{} to {} ({})", clock(record.begun), clock(record.ended), record.zone)
    };
    let mut facts = vec![
        ("Person", party(&record.person)),
        ("Procedure", format!("{}, version {}", procedure.title, procedure.version)),
        ("Observer", party(&record.observer)),
        ("Mode", words::mode(record.mode).to_owned()),
        ("Date", words::date(record.on)),
        ("Purpose", words::purpose(record.purpose).to_owned()),
        ("Time", time),
        ("Precautions", precautions.join(", ")),
        ("Ended", words::ended(record.log.ended.how).to_owned()),
    ];
    if !procedure.ensemble.is_empty() {
        facts.push(("Ensemble", procedure.ensemble.join(", ")));
    }
    if let Some(assistant) = &record.assistant {
        facts.push(("Assistant", party(assistant)));
    }
    facts.extend(changed::rows(record));
    if !held.is_empty() {
        facts.push(("At the start", held.join("; ")));
    }
    // What comes from a form was all entered afterwards, and is said once.
    let late = if record.log.transcribed { Vec::new() } else { entered_late(record) };
    if !late.is_empty() {
        facts.push(("Entered late", late.join("; ")));
    }
    let back = record.folded().taken_back.len();
    if back > 0 {
        facts.push((
            "Taken back",
            words::count(back, "line, kept in record.json", "lines, kept in record.json"),
        ));
    }
    if let Some(first) = &record.first_attempt {
        facts.push(("Repeats", format!("demonstration {first}")));
    }
    facts
}

/// When the form says that it began and ended; `None` where it does not.
fn written_span(record: &Record) -> Option<String> {
    let span = record.folded().span;
    let told = |time: journal::written::TimeOfDay| sentence::time_of_day(time.ms());
    match (span.begun.map(told), span.ended.map(told)) {
        (Some(begun), Some(ended)) => Some(format!("As written: {begun} to {ended}")),
        (Some(begun), None) => Some(format!("As written: begun at {begun}")),
        (None, Some(ended)) => Some(format!("As written: ended at {ended}")),
        (None, None) => None,
    }
}

/// What was entered after the demonstration, from memory.
fn entered_late(record: &Record) -> Vec<&str> {
    let label = |act: &'_ String| {
        let combined = record.procedure.combined_acts.get(act).map(|combined| combined.label.as_str());
        record.procedure.acts.get(act).map(String::as_str).or(combined)
    };
    record
        .log
        .observations
        .iter()
        .filter(|seen| seen.late)
        .filter_map(|seen| match &seen.what {
            What::Act(act) => label(act),
            What::Contamination(_) | What::Condition(_) | What::NotSeen(_) | What::TeamError(_) => None,
        })
        .collect()
}

fn party(party: &Party) -> String {
    format!("{}\n{}, staff number {}", party.name, party.role, party.number)
}
