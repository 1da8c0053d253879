//! Files with one flaw each: the sentence and the place.

mod compared;
mod edited;
mod equipment;
mod flawed;
mod library;
mod odd;
mod scored;
mod senseless;

use super::*;
use crate::flaw::Flaw;

/// A small procedure without a flaw and without anything odd.
const SOUND: &str = include_str!("sound.json");

/// The sound file with one passage put in the place of another, which must stand in it once.
#[track_caller]
fn changed(from: &str, to: &str) -> String {
    assert_eq!(SOUND.matches(from).count(), 1, "the passage must stand in the file once: {from}");
    SOUND.replace(from, to)
}

/// What stands at the place of a flaw, to the end of the line.
fn passage<'t>(text: &'t str, flaw: &Flaw) -> &'t str {
    let line = text.lines().nth(flaw.line as usize - 1).expect("the line is there");
    let offset = line.char_indices().nth(flaw.column as usize - 1).map_or(line.len(), |(offset, _)| offset);
    line.split_at(offset).1
}

/// Compares all flaws with what is expected: the beginning of the passage they stand at, and the text.
#[track_caller]
fn compare(text: &str, flaws: &[Flaw], expected: &[(&str, &str)]) {
    let told: Vec<_> = flaws.iter().map(|flaw| (passage(text, flaw), &*flaw.text)).collect();
    let agree = told.len() == expected.len()
        && told.iter().zip(expected).all(|(told, expected)| {
            told.0.starts_with(expected.0) && !expected.0.is_empty() && told.1 == expected.1
        });
    assert!(agree, "told:     {told:#?}\nexpected: {expected:#?}");
}

/// Changes one passage and compares every flaw.
#[track_caller]
fn check_changed(from: &str, to: &str, expected: &[(&str, &str)]) {
    let text = changed(from, to);
    let flaws = read(&text).expect_err("the file is flawed");
    compare(&text, &flaws, expected);
}

#[test]
fn the_sound_file_has_no_flaw_and_nothing_odd() {
    let procedure = read(SOUND).expect("it is sound");
    assert_eq!(odd(&procedure), []);
    assert_eq!(procedure.validates_in, [Mode::Assessed]);
    assert_eq!(procedure.pass, PassRule { max_other_findings: 2, min_percent: None });
    assert!(procedure.steps[2].after[0].danger());
    assert_eq!(procedure.steps[2].after[1], Predecessor::Plain("gloves-off".to_owned()));
}

#[test]
fn a_procedure_survives_being_written_and_read() {
    let procedure = read(SOUND).expect("it is sound");
    let written = serde_json::to_string_pretty(&procedure).expect("it can be written");
    assert_eq!(read(&written), Ok(procedure));
}
