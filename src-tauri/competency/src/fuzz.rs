//! The two parsers against texts that nobody would write: whatever the bytes, a text reads or is refused with
//! sentences that have a place, and what reads can be scored.
//!
//! The same cases in every run. Far more of them by hand, about ten minutes:
//! `FUZZ_CASES=1000000 cargo test --release -p competency fuzz`.

use serde_json::{Value, json};

use crate::flaw::Flaw;
use crate::live::Live;
use crate::log::{self, Call, Held, Log, Observation, What};
use crate::model::Model;
use crate::procedure::{self, By, Mode, Procedure, library, odd};
use crate::score::score;
use crate::testing::chance::{self, Chance};

fn cases() -> usize {
    option_env!("FUZZ_CASES").map_or(3000, |cases| cases.parse().expect("FUZZ_CASES is a number"))
}

#[test]
fn any_procedure_reads_or_is_refused_with_a_place() {
    let mut chance = Chance(1);
    let (mut read, mut refused) = (0, 0);
    for _ in 0..cases() {
        let (_, sound) = library()[chance.below(library().len())];
        let text = spoilt(&mut chance, sound);
        match procedure::read(&text) {
            Ok(procedure) => {
                read += 1;
                try_out(&mut chance, procedure);
            }
            Err(flaws) => {
                refused += 1;
                told_with_a_place(&text, &flaws);
            }
        }
    }
    assert!(read > cases() / 50 && refused > cases() / 2, "{read} read, {refused} refused");
}

#[test]
fn any_log_reads_or_is_refused_with_a_place() {
    let mut chance = Chance(2);
    let (mut read, mut refused) = (0, 0);
    for _ in 0..cases() {
        let procedure = chance::procedure(&mut chance, 4);
        let log = chance::log(&mut chance, &procedure, Mode::Assessed);
        let sound = serde_json::to_string(&richer(&mut chance, log)).unwrap();
        let text = spoilt(&mut chance, &sound);
        match log::read(&text) {
            Ok(log) => {
                read += 1;
                assert!(score(&Model::new(procedure), &log).score_permille <= 1000);
            }
            Err(flaws) => {
                refused += 1;
                told_with_a_place(&text, &flaws);
            }
        }
    }
    assert!(read > cases() / 50 && refused > cases() / 2, "{read} read, {refused} refused");
}

/// The same log with everything that a log can have and scoring alone does not need.
fn richer(chance: &mut Chance, mut log: Log) -> Log {
    for seen in &mut log.observations {
        match chance.below(8) {
            0 => seen.until_ms = seen.at_ms,
            1 => (seen.at_ms, seen.late) = (None, true),
            2 => seen.call = Some(Call::Wrong),
            _ => {}
        }
    }
    let at_ms = log.observations.iter().filter_map(|seen| seen.at_ms).max();
    if let Some(last) = log.observations.last().cloned() {
        let what = What::TeamError("Stood in the way".to_owned());
        let by = By::Observer;
        log.observations.push(Observation { what, by, at_ms, until_ms: None, faults: Vec::new(), ..last });
    }
    log.held.push(Held { from_ms: 1, until_ms: 2 });
    log.transcribed = chance.one_in(4);
    log
}

/// What was read can be written, read again, wondered at, watched and scored.
fn try_out(chance: &mut Chance, procedure: Procedure) {
    let written = serde_json::to_string(&procedure).unwrap();
    assert_eq!(procedure::read(&written).as_ref(), Ok(&procedure), "of {written}");
    odd(&procedure);
    let log = chance::log(chance, &procedure, Mode::Guided);
    let model = Model::new(procedure);
    Live::replay(&model, &log.conditions, &log.observations);
    assert!(score(&model, &log).score_permille <= 1000);
}

#[track_caller]
fn told_with_a_place(text: &str, flaws: &[Flaw]) {
    assert!(!flaws.is_empty(), "refused without a word: {text}");
    let lines = text.lines().count().max(1);
    for flaw in flaws {
        let inside = flaw.line >= 1 && flaw.line as usize <= lines + 1 && flaw.column >= 1;
        let sentence = flaw.text.ends_with(['.', '?']) && flaw.text.starts_with(|c: char| !c.is_lowercase());
        assert!(inside && sentence, "{flaw:?} of {text}");
    }
}

/// What stands where something else should.
fn odd_value(chance: &mut Chance) -> Value {
    let values = [
        json!(null),
        json!(true),
        json!(-1),
        json!(0),
        json!(i64::MAX),
        json!(u64::MAX),
        json!(1e99),
        json!(0.5),
        json!(""),
        json!("\u{0}"),
        json!("remove-gloves"),
        json!("手\u{301}"),
        json!([]),
        json!([[]]),
        json!({}),
        json!({ "": null }),
        json!("a".repeat(5000)),
    ];
    values[chance.below(values.len())].clone()
}

/// A sound text with one to three things changed: its bytes, or its values. One in sixteen is noise alone.
fn spoilt(chance: &mut Chance, sound: &str) -> String {
    let mut text = sound.to_owned();
    for _ in 0..=chance.below(3) {
        text = match (chance.below(16), serde_json::from_str::<Value>(&text)) {
            (0, _) => noise(chance, 200),
            (1..=6, Ok(mut value)) => {
                spoil_value(chance, &mut value);
                value.to_string()
            }
            (_, _) => spoil_bytes(chance, text.into_bytes()),
        };
    }
    text
}

fn noise(chance: &mut Chance, most: usize) -> String {
    const MARKS: &[u8] = b"{}[]\":,\\ \n\t0123456789-+.eEtrufalsn/*";
    let length = chance.below(most);
    let mut byte = || {
        if chance.one_in(4) {
            u8::try_from(chance.below(256)).unwrap()
        } else {
            MARKS[chance.below(MARKS.len())]
        }
    };
    let bytes: Vec<u8> = (0..length).map(|_| byte()).collect();
    String::from_utf8_lossy(&bytes).into_owned()
}

fn spoil_bytes(chance: &mut Chance, mut bytes: Vec<u8>) -> String {
    let from = chance.below(bytes.len());
    let until = (from + chance.below(24)).min(bytes.len());
    let passage: Vec<u8> = bytes[from..until].to_vec();
    let to = chance.below(bytes.len());
    match chance.below(4) {
        0 => drop(bytes.splice(from..until, noise(chance, 6).into_bytes())),
        1 => drop(bytes.drain(from..until)),
        2 => drop(bytes.splice(to..to, passage)),
        // So deep that a parser without a limit would run out of stack.
        _ => drop(bytes.splice(from..from, "[".repeat(chance.below(3000)).into_bytes())),
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

/// Goes down to some value and changes it: another in its place, one left out, one twice, a key renamed.
fn spoil_value(chance: &mut Chance, value: &mut Value) {
    match value {
        Value::Object(fields) if !fields.is_empty() && !chance.one_in(12) => {
            let key = fields.keys().nth(chance.below(fields.len())).unwrap().clone();
            match chance.below(10) {
                0 => drop(fields.remove(&key)),
                1 => {
                    let moved = fields.remove(&key).unwrap();
                    fields.insert(format!("{key}s"), moved);
                }
                _ => spoil_value(chance, &mut fields[&key]),
            }
        }
        Value::Array(items) if !items.is_empty() && !chance.one_in(12) => {
            let at = chance.below(items.len());
            match chance.below(10) {
                0 => drop(items.remove(at)),
                1 => items.push(items[at].clone()),
                2 => items.rotate_left(at),
                _ => spoil_value(chance, &mut items[at]),
            }
        }
        Value::Null
        | Value::Bool(_)
        | Value::Number(_)
        | Value::String(_)
        | Value::Array(_)
        | Value::Object(_) => *value = odd_value(chance),
    }
}
