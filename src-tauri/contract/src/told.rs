//! What the window, the pages and the tables say in the same words.

use chrono::NaiveDate;

use crate::{Amended, Amendment};

impl Amendment {
    /// What was said about a record afterwards, in one sentence or two; `date` writes a date as the reader is used to.
    pub fn told(&self, date: impl Fn(NaiveDate) -> String) -> String {
        let what = match &self.what {
            Amended::Voided => "voided".to_owned(),
            Amended::Date { from, on, valid_until } => {
                let holds = match valid_until {
                    Some(until) => format!("holds through {}", date(*until)),
                    None => "grants nothing".to_owned(),
                };
                format!("date put right from {}, as it was sealed, to {}; {holds}", date(*from), date(*on))
            }
            Amended::Note(text) => format!("note: {}", text.trim()),
            Amended::NotAccepted => {
                "not accepted: it was sealed after its signer’s certificate was revoked".to_owned()
            }
        };
        let by = if self.by.is_empty() { String::new() } else { format!(", {}", self.by) };
        let said = stopped(&format!("{}{by}: {what}", date(self.on)));
        let taken_back = if self.counts { "" } else { " This correction was voided." };
        format!("{said} Reason: {}{taken_back}", stopped(&self.reason))
    }
}

/// With one full stop at its end, whatever somebody typed there.
fn stopped(text: &str) -> String {
    let text = text.trim();
    if text.ends_with(['.', '!', '?', '…', '。']) { text.to_owned() } else { format!("{text}.") }
}

/// The beginning of an id or a fingerprint: enough to tell one device, certificate or file from another.
pub fn beginning(id: &str) -> String {
    id.chars().take(8).collect()
}

/// A fingerprint in groups of four, as people read it out.
pub fn grouped(fingerprint: &str) -> String {
    let letters: Vec<char> = fingerprint.chars().collect();
    letters.chunks(4).map(|group| group.iter().collect::<String>()).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 11, day).unwrap()
    }

    fn said(what: Amended, reason: &str, counts: bool) -> String {
        let (entry, by) = (String::new(), "Ines Odum".to_owned());
        let amendment = Amendment { entry, on: day(27), by, what, reason: reason.to_owned(), counts };
        amendment.told(|date| date.to_string())
    }

    #[test]
    fn every_sentence_ends_once_however_it_was_typed() {
        let note = Amended::Note("It was at the other door.".to_owned());
        assert_eq!(
            said(note.clone(), "written down wrongly", true),
            "2026-11-27, Ines Odum: note: It was at the other door. Reason: written down wrongly."
        );
        let voided = said(note, "Never happened!", false);
        assert!(voided.ends_with("Reason: Never happened! This correction was voided."), "{voided}");
    }

    #[test]
    fn a_date_that_was_put_right_says_from_what() {
        let date = Amended::Date { from: day(26), on: day(25), valid_until: Some(day(30)) };
        let said = said(date, "by the duty roster", true);
        assert!(said.contains("from 2026-11-26, as it was sealed, to 2026-11-25; holds through"), "{said}");
    }

    #[test]
    fn a_fingerprint_is_grouped_in_fours() {
        assert_eq!(grouped("0123456789"), "0123 4567 89");
    }
}
