use chrono::{DateTime, FixedOffset};
use competency::sentence;
use contract::{History, HistoryLine};
use lopdf::Document;
use picture::Role;

use crate::{
    PaperError,
    anew::drawn_anew,
    archive::{About, Attachment},
    faces::Faces,
    record::paragraph,
    sheet::{Format, Sheet, Style, Tag},
    table::{Cell, Column, Row, pairs, table},
    words,
};

/// What a history needs besides what it says.
#[derive(Debug, Clone, Copy)]
pub struct HistoryOrigin<'a> {
    /// The moment that it says it was drawn at.
    pub drawn: DateTime<FixedOffset>,
    /// Name and version of the program.
    pub program: &'a str,
    /// The signed records that are attached: their file names, and their bytes.
    pub records: &'a [(String, Vec<u8>)],
}

/// One person's history as a PDF to be signed: how they stand, and every record, observation by observation, who
/// observed and how they stood themselves, and what was put right, with the signed records attached.
///
/// The same history gives the same document.
///
/// # Errors
/// When a text has a character that no font of the program has.
pub fn history(history: &History, origin: &HistoryOrigin<'_>) -> Result<Document, PaperError> {
    let mut sheet = Sheet::new(Faces::load()?, Format::UPRIGHT);
    let person = &history.person;
    let title = format!("History of {}", person.name);
    paragraph(&mut sheet, &history.facility, Style::QUIET);
    let (x, width) = (sheet.format.margin, sheet.format.text_width());
    sheet.paragraph(Tag::Title, &title, x, width, Style::TITLE);
    let about: Vec<&str> = [&person.number, &person.role, &person.unit_name]
        .into_iter()
        .map(String::as_str)
        .filter(|part| !part.is_empty())
        .collect();
    paragraph(&mut sheet, &about.join(" · "), Style::BODY);
    let as_of = format!(
        "As of {}, by what was known by the end of {}",
        words::date(history.as_of),
        words::date(history.known_at)
    );
    paragraph(&mut sheet, &as_of, Style::STRONG);
    if let Some((count, latest)) = history.ahead {
        paragraph(&mut sheet, &sentence::ahead(count, latest), Style::BODY);
    }
    sheet.space(4.0);
    paragraph(
        &mut sheet,
        "Drawn from the ledger by the device that signed this file, without anybody’s judgement. The records \
         themselves are attached, each signed by its observer; rely on them, not on this summary.",
        Style::SMALL,
    );
    standings(&mut sheet, history);
    if history.demonstrations.is_empty() {
        sheet.heading("Records", 30.0);
        paragraph(&mut sheet, "No record up to that date.", Style::BODY);
    }
    for line in &history.demonstrations {
        let file = origin.records.iter().find(|(name, _)| line.digest.starts_with(short(name)));
        record(&mut sheet, line, file.map(|(name, _)| name.as_str()));
    }
    let attachments = origin.records.iter().map(|(name, bytes)| Attachment {
        name,
        said: "A record, signed by its observer",
        kind: "application/pdf",
        belongs: "Supplement",
        bytes,
    });
    let about = About {
        title: &title,
        subject: &history.facility,
        when: origin.drawn,
        program: origin.program,
        layout: "History, layout 2",
        attachments: attachments.collect(),
    };
    drawn_anew(sheet, &about)
}

/// The beginning of a record's digest, as it stands in the name of its file.
fn short(name: &str) -> &str {
    let stem = name.strip_suffix(".pdf").unwrap_or(name);
    let stem = stem.strip_suffix("-second").unwrap_or(stem);
    stem.rsplit('-').next().unwrap_or(stem)
}

fn standings(sheet: &mut Sheet, history: &History) {
    sheet.heading("How this person stands", 40.0);
    if history.standings.is_empty() {
        paragraph(sheet, "Nothing is required of this person, and nothing was demonstrated.", Style::BODY);
        return;
    }
    let width = sheet.format.text_width();
    let columns = columns(&[("Procedure", 0.32), ("Standing", 0.2), ("Because", 0.48)], width);
    let rows: Vec<Row> = history
        .standings
        .iter()
        .map(|(procedure, standing)| {
            Row::Cells(vec![
                Cell::text(procedure.title.clone(), Style::BODY),
                Cell::text(words::standing(standing.state), Style::STRONG),
                Cell::text(standing.because.clone(), Style::BODY),
            ])
        })
        .collect();
    table(sheet, &columns, &rows);
}

fn columns(shares: &[(&str, f64)], width: f64) -> Vec<Column> {
    shares
        .iter()
        .map(|(heading, share)| Column { heading: (*heading).to_owned(), width: width * share })
        .collect()
}

fn record(sheet: &mut Sheet, line: &HistoryLine, file: Option<&str>) {
    let on = if line.sealed_on == line.on {
        words::date(line.on)
    } else {
        format!("{}, put right to {}", words::date(line.sealed_on), words::date(line.on))
    };
    sheet.heading(&format!("{on}: {}", line.procedure), 120.0);
    if !line.counts {
        paragraph(sheet, "This record does not count any more.", Style::STRONG.in_role(Role::Danger));
        sheet.space(2.0);
    }
    if line.disputed {
        let said =
            "Two corrections give different dates; the one that grants the least counts until one is voided.";
        paragraph(sheet, said, Style::STRONG.in_role(Role::Warning));
        sheet.space(2.0);
    }
    for amendment in &line.amendments {
        paragraph(sheet, &amendment.told(words::date), Style::BODY);
        sheet.space(2.0);
    }
    if !line.amendments.is_empty() {
        sheet.space(4.0);
    }
    let (current, why) = &line.observer_then;
    let observer = if *current { why.clone() } else { format!("NOT entitled to observe: {why}") };
    let rows = [
        ("Outcome", words::outcome(line.outcome).to_owned()),
        ("Steps", format!("{} of {} as they should be", line.steps_well, line.steps_counted)),
        ("Holds", holds(line)),
        ("Mode", words::mode(line.mode).to_owned()),
        ("Procedure", format!("version {}, {} (SHA-256)", line.version, line.procedure_hash)),
        ("Observer", format!("{}, {observer}", line.observer)),
        ("Second signature", second(line)),
        ("Record", format!("{} (SHA-256 of the file as it was signed)", line.digest)),
        ("Attached as", file.unwrap_or("not attached").to_owned()),
    ];
    pairs(sheet, 1, &rows);
    under(sheet, "Findings");
    if line.findings.is_empty() {
        paragraph(sheet, "There are no findings.", Style::BODY);
    }
    for (severity, text) in &line.findings {
        paragraph(sheet, &format!("{}: {text}", words::severity(*severity)), Style::BODY);
        sheet.space(2.0);
    }
    under(sheet, "Observations");
    if line.observations.is_empty() {
        paragraph(sheet, "No observation was logged.", Style::QUIET);
        return;
    }
    let width = sheet.format.text_width();
    let columns = columns(&[("Time", 0.16), ("Observation", 0.84)], width);
    let rows: Vec<Row> = line
        .observations
        .iter()
        .map(|(time, what)| {
            Row::Cells(vec![Cell::text(time.clone(), Style::BODY), Cell::text(what.clone(), Style::BODY)])
        })
        .collect();
    table(sheet, &columns, &rows);
}

/// A heading within a record, kept with what follows.
fn under(sheet: &mut Sheet, text: &str) {
    sheet.space(6.0);
    sheet.room(4.0 * Style::BODY.leading);
    paragraph(sheet, text, Style::STRONG);
    sheet.space(2.0);
}

/// Until when it counts, as things stand; what was voided holds nothing and ends nothing.
fn holds(line: &HistoryLine) -> String {
    if !line.counts {
        return "Nothing: it does not count any more".to_owned();
    }
    let validity = words::validity(line.purpose, line.outcome, line.valid_until);
    match line.ended_on.filter(|_ended| line.valid_until.is_some()) {
        Some(ended) => format!("{validity}; ended on {} by a later one", words::date(ended)),
        None => validity,
    }
}

fn second(line: &HistoryLine) -> String {
    match line.second {
        None => "none".to_owned(),
        Some((declined, on)) => sentence::second_signature(declined, on),
    }
}
