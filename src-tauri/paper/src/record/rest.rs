use chrono::{DateTime, FixedOffset};
use competency::{
    log::What,
    procedure::{Mode, PassRule, Procedure},
    sentence::SIGNED_AS,
};
use evidence::Record;
use picture::{Pen, Point, Role, Shape};

use super::{changed, seen::Seen};
use crate::{
    sheet::{Sheet, Style, Tag},
    table::pairs,
    words,
};

pub(crate) fn paragraph(sheet: &mut Sheet, text: &str, style: Style) {
    let (x, width) = (sheet.format.margin, sheet.format.text_width());
    sheet.paragraph(Tag::Paragraph, text, x, width, style);
}

/// What the observer added, and what happened beside the acts.
pub(super) fn remark(sheet: &mut Sheet, record: &Record) {
    let seen = Seen::of(record);
    let events: Vec<String> = record
        .log
        .observations
        .iter()
        .filter(|observation| {
            matches!(observation.what, What::Contamination(_) | What::Condition(_) | What::TeamError(_))
        })
        .map(|observation| format!("{}  {}", seen.time(observation), seen.label(observation)))
        .collect();
    if !events.is_empty() {
        sheet.heading("Events", 20.0);
        for event in events {
            paragraph(sheet, &event, Style::BODY);
        }
    }
    let notes = changed::notes(record);
    if !notes.is_empty() {
        sheet.heading("Notes", 20.0);
        for note in notes {
            paragraph(sheet, &note, Style::BODY);
        }
    }
    if !record.remark.trim().is_empty() {
        sheet.heading("Remark by the observer", 20.0);
        paragraph(sheet, &record.remark, Style::BODY);
    }
}

/// When a demonstration is good enough.
pub(crate) fn pass_rule(pass: PassRule) -> String {
    let most = usize::try_from(pass.max_other_findings).unwrap_or(usize::MAX);
    let share =
        pass.min_percent.map_or_else(String::new, |percent| format!(", a score of at least {percent} %"));
    format!(
        "Competent means: no critical finding, at most {}{share}, every critical step seen. Guidance \
         publishes no pass mark; this one is common practice and the facility’s to set.",
        words::count(most, "other finding", "other findings"),
    )
}

/// How the outcome came about.
pub(super) fn rules(sheet: &mut Sheet, record: &Record) {
    let mode = match record.mode {
        Mode::Assessed => "In assessed mode a prompt counts as a finding.",
        Mode::Guided => "In guided mode a prompt is the method and no finding.",
    };
    sheet.heading("How the outcome was reached", 30.0);
    paragraph(
        sheet,
        &format!(
            "{} {mode} \
             Full credit is a step done as it should be, half credit one that was prompted, too short or \
             had a technique fault that does not contaminate. Findings of the team do not count against \
             the person. Scoring rules version {}.",
            pass_rule(record.procedure.pass),
            record.rules,
        ),
        Style::BODY,
    );
}

pub(crate) fn cautions<'a>(sheet: &mut Sheet, cautions: impl IntoIterator<Item = &'a str>) {
    let mut cautions = cautions.into_iter().peekable();
    if cautions.peek().is_none() {
        return;
    }
    sheet.heading("Cautions", 30.0);
    for caution in cautions {
        let top = sheet.y;
        let (x, width) = (sheet.format.margin, sheet.format.text_width());
        sheet.paragraph(Tag::Paragraph, caution, x + 10.0, width - 10.0, Style::BODY);
        // The bar beside a caution that went on to the next page would stand beside nothing.
        if sheet.y > top {
            sheet.decorate([Shape::Line {
                from: Point { x: x + 2.0, y: top + 1.5 },
                to: Point { x: x + 2.0, y: sheet.y - 1.5 },
                pen: Pen::solid(Role::Warning, 2.0),
            }]);
        }
        sheet.space(3.0);
    }
}

pub(crate) fn sources(sheet: &mut Sheet, procedure: &Procedure) {
    sheet.heading("Sources of the procedure", 30.0);
    for source in &procedure.sources {
        let text = format!(
            "{}, {}, {}, {} – {}.",
            source.title,
            source.publisher,
            source.year,
            source.locator,
            words::footing(source.footing),
        );
        paragraph(sheet, &text, Style::BODY);
        sheet.space(2.0);
    }
}

/// Who signed, when, and what that means; the signatures themselves are in the file, not on the page. The
/// fingerprint of a certificate is not printed: whoever forges a page prints their own beside it.
pub(super) fn signatures(sheet: &mut Sheet, record: &Record, signed: DateTime<FixedOffset>) {
    sheet.heading("Signatures", 160.0);
    let observer = &record.observer;
    let person = &record.person;
    let rows = [
        ("Signed by", format!("{}\n{}, staff number {}", observer.name, observer.role, observer.number)),
        (
            "Date and time",
            format!("{}, {}", words::date(signed.date_naive()), signed.format("%H:%M:%S (UTC%:z)")),
        ),
        ("Meaning", SIGNED_AS.to_owned()),
        (
            "How",
            "Electronically. The signature covers this whole document and the data attached to it. A PDF reader \
             shows whether it holds; Doorside does so under “Check a record” and with “doorside record verify”, \
             which also score the attached observations again and compare them with these pages."
                .to_owned(),
        ),
        (
            "Certificate",
            format!(
                "Issued by the signing authority of {}. Both fingerprints stand in the file and not on this page: \
                 a PDF reader shows them with the signature. Compare the authority’s with the page on how to trust \
                 it, or ask the facility.",
                record.facility.name
            ),
        ),
        (
            "Second signature",
            format!(
                "{} may sign this file afterwards as: seen and discussed, or decline, with a comment. These pages \
                 stay as they are then, so a print shows neither: a PDF reader and “Check a record” tell whether \
                 there is one, and what it says.",
                person.name
            ),
        ),
    ];
    pairs(sheet, 1, &rows);
}

/// Where it stands in the chain of the facility's entries.
pub(super) fn place(sheet: &mut Sheet, record: &Record, name: &str) {
    sheet.heading("Identity of this record", 60.0);
    let place = &record.place;
    let before =
        place.prev.map_or_else(|| "none: the first of its chain".to_owned(), |prev| prev.to_string());
    let rows = [
        ("Data", format!("{name} (SHA-256)")),
        (
            "Procedure",
            format!(
                "{} (SHA-256 of {} {})",
                record.procedure_hash, record.procedure.id, record.procedure.version
            ),
        ),
        ("Demonstration", record.demonstration.clone()),
        ("Chain", format!("{}, place {}", place.stream, place.seq)),
        ("Entry before", before),
        ("Program", record.program.clone()),
    ];
    pairs(sheet, 1, &rows);
}
