//! The subcommands that read the books: roster, history, reminders.

use chrono::NaiveDate;
use contract::{History, HistoryLine, OpenHistory, OpenRoster};
use ledger::Reader;
use sealing::DeviceKey;

use super::{Complaint, Ending, HistoryFormat, RemindersFormat, RosterFormat, print, print_bytes};
use crate::{
    clock,
    desk::Books,
    device_secret,
    fault::{ledger_fault, sealing_fault},
    folder::Folder,
    saved,
};

/// Prints a roster.
pub(super) fn roster(
    folder: &Folder,
    as_of: Option<NaiveDate>,
    known_at: Option<NaiveDate>,
    unit: Option<String>,
    format: RosterFormat,
) -> Result<Ending, Complaint> {
    let now = clock::now();
    let reader = Reader::open(folder.root()).map_err(ledger_fault)?;
    let roster = Books::of(&reader).roster(&OpenRoster { unit, as_of, known_at }, &now)?;
    let bytes = match format {
        RosterFormat::Csv => saved::roster_csv(&roster)?,
        RosterFormat::Xlsx => saved::roster_xlsx(&roster, &now)?,
        RosterFormat::Pdf => saved::roster_pdf(&roster, &now)?,
        RosterFormat::Json => saved::roster_json(&roster)?,
    };
    print_bytes(&bytes)?;
    Ok(Ending::Done)
}

/// Prints one person's history.
pub(super) fn history(
    folder: &Folder,
    person: &str,
    as_of: Option<NaiveDate>,
    known_at: Option<NaiveDate>,
    format: HistoryFormat,
) -> Result<Ending, Complaint> {
    let now = clock::now();
    let reader = Reader::open(folder.root()).map_err(ledger_fault)?;
    let books = Books::of(&reader);
    let history = books.history(&OpenHistory { person: person.to_owned(), as_of, known_at }, &now)?;
    match format {
        HistoryFormat::Text => told(&history),
        HistoryFormat::Csv => print_bytes(&saved::history_csv(&history)?)?,
        HistoryFormat::Pdf => {
            let secret = device_secret::known(folder)?;
            let device = DeviceKey::of(&secret.bytes).map_err(sealing_fault)?;
            let signer = books.device_signer(&device)?;
            print_bytes(&books.history_bundle(&history, &signer, &now)?)?;
        }
    }
    Ok(Ending::Done)
}

fn told(history: &History) {
    let who = &history.person;
    let about = [who.role.as_str(), who.unit_name.as_str()].into_iter().filter(|part| !part.is_empty());
    let about: String = about.flat_map(|part| [", ", part]).collect();
    print(&format!(
        "{} ({}){about}, as of {}, as it was known by the end of {}",
        who.name, who.number, history.as_of, history.known_at
    ));
    print("");
    for (procedure, standing) in &history.standings {
        print(&format!("{}: {}. {}", procedure.title, standing.state.words(), standing.because));
    }
    print("");
    if history.demonstrations.is_empty() {
        print("No sealed demonstration up to that date.");
    }
    if let Some((count, latest)) = history.ahead {
        print(&competency::sentence::ahead(count, latest));
    }
    for line in &history.demonstrations {
        demonstration(line);
    }
}

fn demonstration(line: &HistoryLine) {
    let sealed = if line.sealed_on == line.on {
        String::new()
    } else {
        format!(" (sealed as {}, put right since)", line.sealed_on)
    };
    print(&format!(
        "{}{sealed}  {} {}, {}, {}: {}, {} of {} steps as they should be; observed by {}",
        line.on,
        line.procedure,
        line.version,
        competency::sentence::purpose(line.purpose),
        competency::sentence::mode(line.mode),
        competency::sentence::outcome(line.outcome),
        line.steps_well,
        line.steps_counted,
        line.observer
    ));
    let (entitled, why) = &line.observer_then;
    print(&format!("    observer {}: {why}", if *entitled { "entitled" } else { "NOT entitled" }));
    if !line.counts {
        print("    does NOT count any more");
    }
    for amendment in &line.amendments {
        print(&format!("    {}", amendment.told(|date| date.to_string())));
    }
    for (severity, text) in &line.findings {
        print(&format!("    {}: {text}", competency::sentence::severity(*severity)));
    }
    for (time, what) in &line.observations {
        print(&format!("      {time}  {what}"));
    }
    match (line.valid_until.filter(|_until| line.counts), line.ended_on) {
        (Some(until), Some(ended)) => print(&format!("    valid through {until}, ended on {ended}")),
        (Some(until), None) => print(&format!("    valid through {until}")),
        (None, _) => {}
    }
    print(&format!("    procedure {}", line.procedure_hash));
    print(&format!("    record {}", line.digest));
}

/// Prints what falls due.
pub(super) fn reminders(
    folder: &Folder,
    as_of: Option<NaiveDate>,
    within: u32,
    format: RemindersFormat,
) -> Result<Ending, Complaint> {
    let now = clock::now();
    let reader = Reader::open(folder.root()).map_err(ledger_fault)?;
    let due = Books::of(&reader).due_within(as_of, within, &now)?;
    print_bytes(&match format {
        RemindersFormat::Ics => saved::reminders_ics(&due, &[], &now)?,
        RemindersFormat::Csv => saved::reminders_csv(&due)?,
    })?;
    Ok(Ending::Done)
}
