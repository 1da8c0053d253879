//! Every word of the window that is not data: a second set of these files is a translation.
//!
//! Findings, warnings, states and cautions are worded in `competency`, since paper and command line say the same.
//! Matches are exhaustive, so that a new variant cannot go unworded.

pub(crate) mod beside;
pub(crate) mod door;
pub(crate) mod evidence;
pub(crate) mod facility;
pub(crate) mod manager;
pub(crate) mod outcome;
pub(crate) mod paper;
pub(crate) mod person;
pub(crate) mod standing;
pub(crate) mod workbench;

use chrono::{Datelike, NaiveDate};
use competency::{
    log::{HowEnded, Log, Observation},
    procedure::{By, Footing, Mode, Phase, Precaution},
    report::{Outcome, Severity, StepState},
    sentence,
    validity::{self, Purpose, State},
};
use contract::Next;

pub(crate) const NAME: &str = "Doorside";
pub(crate) const SKIP: &str = "Skip to the content";
pub(crate) const NAVIGATION: &str = "Main";
pub(crate) const WAITING: &str = "One moment";
pub(crate) const NOT_SENT: &str = "The window could not put the request together; close Doorside, open it again, and ask for help if it stays.";
pub(crate) const NOT_UNDERSTOOD: &str = "The window does not understand the answer it got; its parts are of different versions and must be installed anew.";
pub(crate) const NO_ANSWER: &str = "The part of Doorside that stores and signs does not answer; close it and open it again, nothing saved is lost.";
pub(crate) const BACK_HOME: &str = "Back to Today";
pub(crate) const TRY_AGAIN: &str = "Try again";
pub(crate) const CANCEL: &str = "Cancel";
pub(crate) const TODAY: &str = "today";
/// In a list where nothing is chosen yet.
pub(crate) const CHOOSE: &str = "Choose";
pub(crate) const BAD_DATE: &str = "Write the date as year-month-day, for example 2026-11-25.";
/// Under a field whose day is wrong: which one stays.
pub(crate) fn still_shown(date: &str) -> String {
    format!("Until then it stays as of {date}.")
}

pub(crate) const DATE_HINT: &str = "Year-month-day, such as 2026-11-25.";

/// What kind of trouble a fault is, above its sentence.
pub(crate) fn trouble(next: Next) -> &'static str {
    match next {
        Next::MendInput => "Something needs changing",
        Next::ChooseAgain => "That is no longer there",
        Next::TryAgain => "That did not work",
        Next::MakeRoom => "The device is full",
        Next::AskForHelp => "This needs whoever looks after Doorside",
    }
}

/// The same word at the beginning of a label.
fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// A person's state with a procedure, as a label; the word is that of paper and command line.
pub(crate) fn state(state: State) -> String {
    capital(state.words())
}

pub(crate) fn outcome(outcome: Outcome) -> String {
    capital(sentence::outcome(outcome))
}

pub(crate) fn severity(severity: Severity) -> String {
    capital(sentence::severity(severity))
}

pub(crate) fn step_state(state: StepState) -> String {
    capital(sentence::step_state(state))
}

pub(crate) fn purpose(purpose: Purpose) -> String {
    capital(sentence::purpose(purpose))
}

pub(crate) fn mode(mode: Mode) -> String {
    capital(sentence::mode(mode))
}

pub(crate) fn phase(phase: Phase) -> &'static str {
    match phase {
        Phase::Donning => "Putting on",
        Phase::Doffing => "Taking off",
        Phase::Other => "Other",
    }
}

pub(crate) fn precaution(precaution: Precaution) -> &'static str {
    match precaution {
        Precaution::Standard => "Standard",
        Precaution::Contact => "Contact",
        Precaution::Droplet => "Droplet",
        Precaution::Airborne => "Airborne",
        Precaution::HighConsequence => "High-consequence",
    }
}

/// Precautions in one line.
pub(crate) fn precautions(all: &[Precaution]) -> String {
    all.iter().map(|one| precaution(*one)).collect::<Vec<_>>().join(", ")
}

pub(crate) fn by(by: By) -> &'static str {
    match by {
        By::Wearer => "Person observed",
        By::Assistant => "Assistant",
        By::Observer => "Observer",
    }
}

pub(crate) fn footing(footing: Footing) -> &'static str {
    match footing {
        Footing::Read => "Read in the issuing body's own text",
        Footing::Secondary => "Read in a secondary copy",
        Footing::Memory => "From memory: check it against the current source before use",
        Footing::CommonPractice => "Common practice, no source",
    }
}

pub(crate) fn how_ended(how: HowEnded) -> &'static str {
    match how {
        HowEnded::Completed => "Completed",
        HowEnded::StoppedExposure => "Stopped: suspected exposure",
        HowEnded::StoppedSafety => "Stopped for safety",
        HowEnded::Abandoned => "Broken off",
    }
}

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

fn month(date: NaiveDate) -> &'static str {
    usize::try_from(date.month0()).ok().and_then(|month| MONTHS.get(month)).copied().unwrap_or_default()
}

/// `25 November 2026`.
pub(crate) fn date(date: NaiveDate) -> String {
    validity::long_date(date)
}

/// `25 Nov 2026`, where room is short.
pub(crate) fn short_date(date: NaiveDate) -> String {
    let short: String = month(date).chars().take(3).collect();
    format!("{} {short} {}", date.day(), date.year())
}

/// `Nov`, and `Jan 27` where a year begins.
pub(crate) fn short_month(date: NaiveDate) -> String {
    let short: String = month(date).chars().take(3).collect();
    if date.month() == 1 { format!("{short} {}", date.year() % 100) } else { short }
}

/// Time since a demonstration began: `0:07`, `12:34`, `1:02:03`.
pub(crate) fn clock(ms: i64) -> String {
    let seconds = ms.max(0) / 1000;
    let (hours, minutes, seconds) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    if hours > 0 { format!("{hours}:{minutes:02}:{seconds:02}") } else { format!("{minutes}:{seconds:02}") }
}

/// When something was seen: since the beginning, or the time that the paper form has.
pub(crate) fn when(log: &Log, seen: &Observation) -> String {
    match seen.at_ms {
        Some(ms) if log.transcribed => sentence::time_of_day(ms),
        Some(ms) => clock(ms),
        None if log.transcribed => paper::ON_PAPER.to_owned(),
        None => outcome::ENTERED_LATE.to_owned(),
    }
}

/// A count with its noun.
pub(crate) fn counted(count: usize, one: &str, many: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {many}") }
}

/// Things in a row, the last one joined by `word`: `a, b or c`.
pub(crate) fn listed(all: &[String], word: &str) -> String {
    match all {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} {word} {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clock_shows_hours_only_once_there_are_any() {
        for (ms, shown) in
            [(-5, "0:00"), (0, "0:00"), (7_999, "0:07"), (754_000, "12:34"), (3_723_000, "1:02:03")]
        {
            assert_eq!(clock(ms), shown, "{ms} ms");
        }
    }

    #[test]
    fn dates_are_written_out() {
        let day = NaiveDate::from_ymd_opt(2027, 1, 5).unwrap();
        assert_eq!(date(day), "5 January 2027");
        assert_eq!(short_date(day), "5 Jan 2027");
        assert_eq!(short_month(day), "Jan 27", "a new year names itself");
    }

    #[test]
    fn a_list_reads_as_a_sentence_does() {
        let all = ["a".to_owned(), "b".to_owned(), "c".to_owned()];
        assert_eq!(listed(&all, "or"), "a, b or c");
        assert_eq!(listed(&all[..1], "or"), "a");
        assert_eq!(listed(&[], "or"), "");
    }
}
