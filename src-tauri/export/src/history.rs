use competency::sentence;
use contract::{History, HistoryLine};

use crate::{ExportError, table::csv};

const COLUMNS: [&str; 26] = [
    "row",
    "of rows",
    "name",
    "number",
    "facility",
    "as of",
    "known by",
    "record",
    "counts",
    "on",
    "on as sealed",
    "procedure",
    "version",
    "procedure hash",
    "purpose",
    "mode",
    "observer",
    "observer current then",
    "why",
    "outcome",
    "steps well",
    "steps counted",
    "valid until",
    "put right since",
    "time",
    "observation",
];

/// A history as CSV, one line an observation; a record without observations has one line.
///
/// Every line says by itself as of when it holds and which of how many it is. Dates are `2026-11-25`. The form is
/// that of [`crate::roster_csv`].
///
/// # Errors
/// Never in practice: it is written into memory.
pub fn history_csv(history: &History) -> Result<Vec<u8>, ExportError> {
    let rows: Vec<Vec<String>> = history
        .demonstrations
        .iter()
        .flat_map(|line| {
            let nothing = (String::new(), String::new());
            let seen = if line.observations.is_empty() { vec![nothing] } else { line.observations.clone() };
            seen.into_iter().map(|(time, what)| {
                let mut row = about(history, line);
                row.extend([time, what]);
                row
            })
        })
        .collect();
    let of = rows.len().to_string();
    let numbered = rows.into_iter().zip(1_u32..).map(|(row, number)| {
        let mut whole = vec![number.to_string(), of.clone()];
        whole.extend(row);
        whole
    });
    csv(&COLUMNS, numbered)
}

fn about(history: &History, line: &HistoryLine) -> Vec<String> {
    let yes = |so: bool| if so { "yes" } else { "no" }.to_owned();
    let said: Vec<String> = line.amendments.iter().map(|one| one.told(|date| date.to_string())).collect();
    vec![
        history.person.name.clone(),
        history.person.number.clone(),
        history.facility.clone(),
        history.as_of.to_string(),
        history.known_at.to_string(),
        line.digest.clone(),
        yes(line.counts),
        line.on.to_string(),
        line.sealed_on.to_string(),
        line.procedure.clone(),
        line.version.clone(),
        line.procedure_hash.clone(),
        sentence::purpose(line.purpose).to_owned(),
        sentence::mode(line.mode).to_owned(),
        line.observer.clone(),
        yes(line.observer_then.0),
        line.observer_then.1.clone(),
        sentence::outcome(line.outcome).to_owned(),
        line.steps_well.to_string(),
        line.steps_counted.to_string(),
        line.valid_until.filter(|_until| line.counts).map(|until| until.to_string()).unwrap_or_default(),
        said.join(" | "),
    ]
}
