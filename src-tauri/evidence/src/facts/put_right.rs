//! What a roster says of records that were put right: a standing alone would not tell why it is another one than it was.

use chrono::NaiveDate;
use competency::validity::long_date;
use serde::{Deserialize, Serialize};

use crate::{Attempt, Correction, Facts};

/// What was done about the records that a standing is made of, the gravest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PutRight {
    /// A date was corrected.
    Corrected,
    /// A record was voided.
    Voided,
    /// Two corrections give different dates, and both stand.
    Disputed,
}

impl PutRight {
    /// In few words, as under a state.
    pub fn words(self) -> &'static str {
        match self {
            PutRight::Corrected => "a date was corrected",
            PutRight::Voided => "a record was voided",
            PutRight::Disputed => "two corrections differ",
        }
    }
}

impl Facts {
    /// What was put right of a person's records of a procedure, or of one accepted in its place, up to a date, with a
    /// sentence for each, in the order of the demonstrations.
    pub fn put_right(&self, person: &str, procedure: &str, on: NaiveDate) -> Vec<(PutRight, String)> {
        let Some(known) = self.people.get(person) else { return Vec::new() };
        let touched = |attempt: &Attempt| {
            self.voided.contains_key(&attempt.entry) || self.corrected.contains_key(&attempt.entry)
        };
        if !known.attempts.iter().any(touched) {
            return Vec::new();
        }
        let accepted = self.accepted_sequences(procedure, on);
        let meant =
            |attempt: &&Attempt| attempt.sealed.on <= on && accepted.contains(&attempt.sealed.procedure);
        known.attempts.iter().filter(meant).flat_map(|attempt| self.put_right_of(attempt)).collect()
    }

    fn put_right_of(&self, attempt: &Attempt) -> Vec<(PutRight, String)> {
        let day = long_date(attempt.sealed.on);
        if let Some(voided) = self.voided.get(&attempt.entry).and_then(|all| all.first()) {
            let on = long_date(voided.known_on);
            return vec![(PutRight::Voided, format!("The record of {day} was voided on {on}."))];
        }
        if self.disputed(attempt.entry) {
            let said = format!("Two corrections of the record of {day} give different dates.");
            return vec![(PutRight::Disputed, said)];
        }
        let dates = self.corrections(attempt.entry).filter_map(|one| match one.correction {
            Correction::Date { on, .. } => Some((one, on)),
            Correction::Note { .. } => None,
        });
        let told = dates.map(|(one, on)| {
            let (right, known) = (long_date(on), long_date(one.known_on));
            (
                PutRight::Corrected,
                format!("The date of the record of {day} was corrected to {right} on {known}."),
            )
        });
        told.collect()
    }
}
