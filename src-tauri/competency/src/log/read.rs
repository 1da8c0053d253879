//! Reading a log file.

use super::{Log, Observation, What, names};
use crate::flaw::{Flaw, Reading, below, locate, read_leniently};
use crate::model::Model;

/// The same, and every name that this procedure does not have, acts aside: they are scored as what they are, an
/// act that nothing called for, while a condition or a fault under another name would be passed over unseen.
pub fn read_for(text: &str, model: &Model) -> Result<Log, Vec<Flaw>> {
    let log = read(text)?;
    let mut flaws = names::unknown(&log, model);
    locate(text, &mut flaws);
    if flaws.is_empty() { Ok(log) } else { Err(flaws) }
}

/// Reads a log, or tells every flaw with its place: not JSON, fields that are unknown, missing or of the
/// wrong type, observations that are not exactly one thing, times that run backwards. Acts, steps and
/// conditions that a procedure does not know are no flaw here: scoring takes them as they are.
pub fn read(text: &str) -> Result<Log, Vec<Flaw>> {
    let Reading { value, mut flaws } = read_leniently::<Log>(text);
    let Some(log) = value else { return Err(flaws) };
    if flaws.is_empty() {
        flaws = check(&log);
        locate(text, &mut flaws);
    }
    if flaws.is_empty() { Ok(log) } else { Err(flaws) }
}

fn check(log: &Log) -> Vec<Flaw> {
    let mut flaws = Vec::new();
    // The beginning is 0 ms.
    let mut latest = 0;
    for (index, seen) in log.observations.iter().enumerate() {
        let pointer = below("/observations", index);
        check_times(seen, &pointer, latest, &mut flaws);
        if let (Some(until), Some(ended)) = (seen.until_ms, log.ended.at_ms)
            && until > ended
        {
            let text =
                format!("It ends at {until} ms, after the demonstration at {ended} ms; correct one of them.");
            flaws.push(Flaw::new(below(&pointer, "until_ms"), text));
        }
        if names::written(seen).any(|text| text.chars().any(char::is_control)) {
            let text =
                "A name in it has a character that cannot be seen, such as a line break; write it without.";
            flaws.push(Flaw::new(&pointer, text));
        }
        latest = latest.max(seen.at_ms.unwrap_or(latest));
    }
    if let Some(ended) = log.ended.at_ms
        && ended < latest
    {
        let text = format!(
            "It ended at {ended} ms, before the last observation at {latest} ms; correct one of them."
        );
        flaws.push(Flaw::new("/ended/at_ms", text));
    }
    let mut free_from = 0;
    for (index, span) in log.held.iter().enumerate() {
        if span.from_ms < free_from || span.until_ms < span.from_ms {
            let text =
                "Spans that were held must be in order, must not overlap and must not end before they begin.";
            flaws.push(Flaw::new(below("/held", index), text));
        }
        free_from = free_from.max(span.until_ms);
    }
    flaws
}

fn check_times(seen: &Observation, pointer: &str, latest: i64, flaws: &mut Vec<Flaw>) {
    if seen.lasted_ms.is_some_and(|lasted| lasted < 0 || seen.until_ms.is_some()) {
        let text =
            "A duration of its own must not be below 0 and stands only where there is no \"until_ms\".";
        flaws.push(Flaw::new(below(pointer, "lasted_ms"), text));
    }
    let Some(at) = seen.at_ms else {
        if !seen.late && !matches!(seen.what, What::NotSeen(_)) {
            let text = "This observation has no time; give it \"at_ms\", or \"late\": true where it was entered afterwards.";
            flaws.push(Flaw::new(pointer, text));
        }
        return;
    };
    if at < 0 {
        let text = format!("The time {at} ms is before the beginning; times count from 0.");
        flaws.push(Flaw::new(below(pointer, "at_ms"), text));
    } else if at < latest {
        let text = format!(
            "The time {at} ms is earlier than {latest} ms before it; list observations in the order they happened."
        );
        flaws.push(Flaw::new(below(pointer, "at_ms"), text));
    }
    if let Some(until) = seen.until_ms
        && until < at
    {
        let text = format!("It ends at {until} ms, before it begins at {at} ms; correct one of them.");
        flaws.push(Flaw::new(below(pointer, "until_ms"), text));
    }
}

#[cfg(test)]
mod tests {
    use super::read;

    #[track_caller]
    fn check(text: &str, expected: &[&str]) {
        let said: Vec<String> = match read(text) {
            Ok(_) => Vec::new(),
            Err(flaws) => flaws.iter().map(|flaw| format!("{}: {flaw}", flaw.pointer)).collect(),
        };
        assert_eq!(said, expected, "of {text}");
    }

    #[test]
    fn the_example_of_the_contract_reads() {
        let text = r#"{ "mode": "assessed", "conditions": ["wears-apron"],
          "ended": { "how": "completed", "at_ms": 90000 },
          "observations": [ { "at_ms": 0, "until_ms": 21000, "act": "hand-rub" },
          { "at_ms": 30000, "act": "remove-gloves", "prompted": true, "faults": ["bare-hand-on-outside"], "by": "wearer" },
          { "at_ms": 41000, "contamination": { "site": "face", "from": "gloves", "recognised_by": "observer" } },
          { "at_ms": 42000, "condition": "glove-breached" }, { "at_ms": null, "act": "inspect", "late": true },
          { "not_seen": "apron-off" } ] }"#;
        let log = read(text).unwrap();
        assert_eq!(log.observations.len(), 6);
        assert_eq!(read(&serde_json::to_string(&log).unwrap()).unwrap(), log, "written and read again");
    }

    #[test]
    fn flaws_are_told_with_their_place() {
        check(
            r#"{"mode":"assessed","observations":[{"at_ms":5,"act":"a"},{"at_ms":5,"act":"b"},{"at_ms":4,"act":"c","until_ms":3}]}"#,
            &[
                "/observations/2/at_ms: line 1, column 89: The time 4 ms is earlier than 5 ms before it; list observations in the order they happened.",
                "/observations/2/until_ms: line 1, column 112: It ends at 3 ms, before it begins at 4 ms; correct one of them.",
            ],
        );
        check(
            r#"{"mode":"assessed","ended":{"at_ms":1},"held":[{"from_ms":3,"until_ms":2}],"observations":[{"act":"a"},{"at_ms":-1,"act":"a"},{"at_ms":2,"act":"a"}]}"#,
            &[
                "/ended/at_ms: line 1, column 37: It ended at 1 ms, before the last observation at 2 ms; correct one of them.",
                "/held/0: line 1, column 48: Spans that were held must be in order, must not overlap and must not end before they begin.",
                "/observations/0: line 1, column 92: This observation has no time; give it \"at_ms\", or \"late\": true where it was entered afterwards.",
                "/observations/1/at_ms: line 1, column 113: The time -1 ms is before the beginning; times count from 0.",
            ],
        );
    }

    #[test]
    fn form_is_checked_before_sense() {
        for text in [
            "",
            "[]",
            "{}",
            r#"{"mode":"strict","observations":[]}"#,
            r#"{"mode":"assessed","observations":[{"at_ms":0}]}"#,
            r#"{"mode":"assessed","observations":[{"at_ms":0,"act":"a","condition":"b"}]}"#,
            r#"{"mode":"assessed","observations":[{"at_ms":"0","act":"a"}]}"#,
            r#"{"mode":"assessed","observations":[{"at_ms":0,"act":"a","colour":"red"}]}"#,
            r#"{"mode":"assessed","observations":[{"at_ms":1e99,"act":"a"}]}"#,
        ] {
            let flaws = read(text).expect_err(text);
            assert!(flaws.iter().all(|flaw| flaw.line > 0 && !flaw.text.is_empty()), "{text}: {flaws:?}");
            assert!(!flaws.is_empty());
        }
    }
}
