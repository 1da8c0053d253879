//! Corrections: what is put right counts from then on, conflicting ones both stand, and nothing vanishes.

use chrono::NaiveDate;
use competency::{report::Outcome, validity::State};
use uuid::Uuid;

use super::{
    standings::{facts, sealed},
    tests::{accepted, day},
};
use crate::{Body, Correction, Dates, Facts, PutRight, RecordCorrected, RecordVoided};

/// The first entry after those of the facility: a sealed demonstration of day 5.
const SEALED: u128 = 10;

fn corrected(correction: Correction, reason: &str) -> Body {
    let (person, reason) = ("p".to_owned(), reason.to_owned());
    RecordCorrected { entry: Uuid::from_u128(SEALED), person, correction, reason }.into()
}

fn date(on: u32, valid_until: Option<NaiveDate>) -> Correction {
    Correction::Date { on: day(on), valid_until }
}

fn voided(entry: u128) -> Body {
    let (person, reason) = ("p".to_owned(), "it was right as it was".to_owned());
    RecordVoided { entry: Uuid::from_u128(entry), person, reason }.into()
}

fn next_year(on: u32) -> Option<NaiveDate> {
    NaiveDate::from_ymd_opt(2027, 11, on)
}

/// A demonstration of day 5 was sealed, then these were written from entry 11 on, on day 12 and after.
fn after(bodies: Vec<Body>, known_at: Option<u32>) -> Facts {
    let mut entries = vec![(5, sealed(5, Outcome::Competent).into())];
    entries.extend((12..).zip(bodies));
    Facts::fold(facts(entries), known_at.map(day))
}

fn state(facts: &Facts, on: u32) -> State {
    facts.standing("p", "doffing", day(on)).state
}

#[test]
fn a_corrected_date_counts_and_the_sealed_one_stays() {
    let clock = || vec![corrected(date(7, next_year(7)), "the clock was two days behind")];
    let facts = after(clock(), None);
    assert_eq!(
        [5, 6, 7].map(|on| state(&facts, on)),
        [State::NeverValidated, State::NeverValidated, State::Current]
    );
    let attempt = &facts.people["p"].attempts[0];
    assert_eq!(facts.dates(attempt), Dates { on: day(7), valid_until: next_year(7) });
    assert_eq!((attempt.sealed.on, attempt.sealed.valid_until), (day(5), next_year(5)), "as it was sealed");
    assert_eq!(state(&after(clock(), Some(11)), 5), State::Current, "as it was known then");
}

#[test]
fn a_correction_says_who_why_and_when() {
    let facts = after(vec![corrected(date(7, next_year(7)), "the clock was behind")], None);
    let one = facts.corrections(Uuid::from_u128(SEALED)).next().unwrap();
    assert_eq!(
        (one.reason.as_str(), one.known_on, one.at.date_naive()),
        ("the clock was behind", day(12), day(12))
    );
    assert_eq!(one.author, super::tests::stated(1, 1, voided(1)).author);
    assert_eq!(one.entry, Uuid::from_u128(11));
}

#[test]
fn conflicting_corrections_both_stand_and_the_one_that_grants_the_least_counts() {
    let (longer, shorter) = (date(8, next_year(8)), date(3, next_year(3)));
    let both = [longer, shorter.clone()].map(|correction| corrected(correction, "as I remember it"));
    for bodies in [both.to_vec(), both.iter().rev().cloned().collect()] {
        let facts = after(bodies, None);
        let entry = Uuid::from_u128(SEALED);
        assert_eq!(facts.corrections(entry).count(), 2, "both stand and show");
        assert!(facts.disputed(entry));
        assert_eq!(facts.dates(&facts.people["p"].attempts[0]).valid_until, next_year(3));
    }
    let nothing = corrected(date(5, None), "this mode grants nothing");
    let facts = after(vec![both[0].clone(), nothing], None);
    assert_eq!(facts.dates(&facts.people["p"].attempts[0]).valid_until, None, "nothing is the least");
    let agreeing = after(vec![both[1].clone(), corrected(shorter, "I remember it so too")], None);
    assert!(!agreeing.disputed(Uuid::from_u128(SEALED)), "two who say the same do not conflict");
}

#[test]
fn a_correction_that_is_wrong_is_voided_and_shows_still() {
    let facts = after(vec![corrected(date(8, next_year(8)), "a slip"), voided(11)], None);
    let entry = Uuid::from_u128(SEALED);
    assert_eq!(state(&facts, 5), State::Current, "the sealed date counts again");
    assert_eq!(facts.corrections(entry).count(), 0);
    assert_eq!(facts.corrected[&entry].len(), 1, "nothing vanishes");
    assert!(facts.counts(entry) && !facts.disputed(entry));
}

#[test]
fn a_record_that_is_both_corrected_and_voided_does_not_count() {
    for bodies in [
        vec![corrected(date(8, next_year(8)), "the clock was wrong"), voided(SEALED)],
        vec![voided(SEALED), corrected(date(8, next_year(8)), "the clock was wrong")],
    ] {
        let facts = after(bodies, None);
        assert_eq!(state(&facts, 9), State::NeverValidated);
        assert_eq!(facts.corrections(Uuid::from_u128(SEALED)).count(), 1, "both show");
    }
}

#[test]
fn a_note_changes_nobodys_standing() {
    let note = Correction::Note { text: "the assistant was somebody else".to_owned() };
    let facts = after(vec![corrected(note.clone(), "the wrong name was chosen")], None);
    let entry = Uuid::from_u128(SEALED);
    assert_eq!(state(&facts, 5), State::Current);
    assert_eq!(facts.corrections(entry).map(|one| &one.correction).collect::<Vec<_>>(), [&note]);
    assert!(!facts.disputed(entry));
}

#[test]
fn accepted_evidence_is_corrected_alike() {
    let bodies = vec![(3, accepted().into()), (12, corrected(date(1, Some(day(20))), "read wrongly"))];
    let facts = Facts::fold(facts(bodies), None);
    assert_eq!([20, 21].map(|on| state(&facts, on)), [State::DueSoon, State::Overdue]);
}

#[test]
fn a_correction_is_written_and_read_back() {
    for correction in [date(7, None), Correction::Note { text: "€".to_owned() }] {
        let entry = super::tests::stated(1, 1, corrected(correction, "why"));
        assert_eq!(crate::Entry::read(&entry.to_bytes().unwrap()).unwrap(), entry);
    }
}

/// Of a demonstration of day 5, what the roster says under its state.
fn told(bodies: Vec<Body>, known_at: Option<u32>) -> Vec<(PutRight, String)> {
    after(bodies, known_at).put_right("p", "doffing", day(20))
}

#[test]
fn a_roster_tells_what_was_voided_or_corrected_and_since_when_it_is_known() {
    assert_eq!(told(vec![], None), []);
    let void = || vec![voided(SEALED)];
    let said = "The record of 5 November 2026 was voided on 12 November 2026.";
    assert_eq!(told(void(), None), [(PutRight::Voided, said.to_owned())]);
    assert_eq!(told(void(), Some(11)), [], "as it was known then");
    let standing = after(void(), None).standing("p", "doffing", day(20));
    assert!(standing.because.ends_with(said), "{}", standing.because);
    let clock = corrected(date(7, next_year(7)), "the clock was two days behind");
    let said =
        "The date of the record of 5 November 2026 was corrected to 7 November 2026 on 12 November 2026.";
    assert_eq!(told(vec![clock.clone()], None), [(PutRight::Corrected, said.to_owned())]);
    // A note changes no date, and what was taken back is none.
    let note = Correction::Note { text: "said aloud".to_owned() };
    assert_eq!(told(vec![corrected(note, "forgotten")], None), []);
    assert_eq!(told(vec![clock.clone(), voided(11)], None), []);
    let both = vec![clock, corrected(date(8, next_year(8)), "as I remember it")];
    assert_eq!(told(both, None).into_iter().map(|(what, _)| what).collect::<Vec<_>>(), [PutRight::Disputed]);
}
