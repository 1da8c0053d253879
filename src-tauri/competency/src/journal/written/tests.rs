//! One line of taps a case: acts, the times written of them, and what is refused. The rules are our own
//! (common practice, no source); times of the day are read as in ISO 8601-1:2019, 5.3.1.2.

use super::*;
use crate::log::HowEnded;
use crate::procedure::Mode;
use crate::report::{FindingKind, Outcome};
use crate::score::score;

fn model() -> Model {
    let procedure = serde_json::json!({
        "id": "p", "version": "1.0.0", "title": "P", "phase": "doffing", "precautions": ["contact"],
        "ensemble": ["gloves"], "sources": [],
        "acts": { "gloves": "Gloves off", "gown": "Gown off", "rub": "Hand rub" },
        "steps": [
            { "id": "gloves-off", "section": "Hands", "acts": ["gloves"], "text": "Gloves off." },
            { "id": "gown-off", "section": "Body", "acts": ["gown"], "text": "Gown off.",
              "after": [{ "step": "gloves-off", "danger": true, "why": "gloves carry most" }] },
            { "id": "rubbed", "section": "Hands", "acts": ["rub"], "text": "Rub.", "after": ["gown-off"],
              "min_seconds": { "rub": 20 } },
        ],
    });
    Model::new(serde_json::from_value(procedure).unwrap())
}

/// `gloves@10:02 rub@10:04/25 #1 begun@9:58 ended@10:10`, each written as soon as it was tapped, and
/// `#1` takes back line 1; the lines, or the first refusal.
fn entered(taps: &str, now: Option<&str>) -> Result<Vec<Line>, String> {
    let now = now.map(|now| TimeOfDay::read(now).unwrap());
    let mut lines: Vec<Line> = Vec::new();
    let (mut begun, mut ended) = (None, None);
    for tap in taps.split_whitespace() {
        let (what, said) = tap.split_once('@').unwrap_or((tap, ""));
        let (at, lasted) = said.split_once('/').unwrap_or((said, ""));
        let at = if at.is_empty() { None } else { Some(TimeOfDay::read(at)?) };
        let lasted_s = if lasted.is_empty() { None } else { Some(read_lasted(lasted)?) };
        let add = |lines: &mut Vec<Line>, event: Event| {
            let id = lines.len().to_string();
            check(&model(), lines, &id, &event, now)?;
            lines.push(Line { id: id.clone(), at_ms: 0, event });
            Ok::<TapId, String>(id)
        };
        match what {
            "begun" | "ended" => {
                let which = if what == "begun" { &mut begun } else { &mut ended };
                *which = at;
                add(&mut lines, Event::WrittenSpan { begun, ended })?;
            }
            act if act.starts_with('#') => {
                add(&mut lines, Event::Undo { of: act.replace('#', "") })?;
            }
            act => {
                let of = add(&mut lines, Event::Act { act: act.to_owned(), by: By::Wearer })?;
                if at.is_some() || lasted_s.is_some() {
                    add(&mut lines, Event::Written { of, at, lasted_s })?;
                }
            }
        }
    }
    Ok(lines)
}

fn form(taps: &str) -> Log {
    let mut lines = entered(taps, None).unwrap();
    lines.push(Line { id: "end".to_owned(), at_ms: 0, event: Event::End { how: HowEnded::Completed } });
    fold(&lines, Mode::Assessed, &[]).transcribed().log
}

#[track_caller]
fn times(taps: &str, expected: &str) {
    let said: Vec<String> = form(taps)
        .observations
        .iter()
        .map(|seen| {
            let at = seen.at_ms.map(sentence::time_of_day).unwrap_or_default();
            seen.lasted_ms.map_or(at.clone(), |ms| format!("{at}/{}", ms / 1000))
        })
        .collect();
    assert_eq!(said.join(" "), expected, "{taps}");
}

#[track_caller]
fn refused(taps: &str, now: Option<&str>, expected: &str) {
    assert_eq!(entered(taps, now).unwrap_err(), expected, "{taps}");
}

#[test]
fn a_form_says_as_much_of_times_as_was_written() {
    times("gloves gown rub", "  ");
    times("gloves@10:02 gown rub@10:04:30/25", "10:02  10:04:30/25");
    times("gloves gown rub@/25", "  /25");
    times("gloves@9:58 gown@9:58 rub@10:00/1:05", "09:58 09:58 10:00/65");
    // What was written and taken back is not there.
    times("gloves@10:02 #1 gown@9:00", " 09:00");
    // Past midnight the times go on.
    times("begun@23:50 gloves@23:59 gown@0:02 rub@0:03 ended@0:10", "23:59 00:02 00:03");
    assert_eq!(form("gloves@23:59 gown@0:02").observations[1].at_ms, Some((24 * 60 + 2) * 60_000));
}

#[test]
fn what_cannot_be_is_refused_with_a_sentence() {
    for typed in ["25:00", "10:60", "10:02:60", "10", "ten", "10:2a", "10:02:03:04", "-1:00", "10:002"] {
        let said = TimeOfDay::read(typed).unwrap_err();
        assert!(said.contains(typed) && said.contains("09:05"), "{typed}: {said}");
    }
    for typed in ["1:75", "3601", "twenty", "-5", ""] {
        assert!(read_lasted(typed).unwrap_err().contains("1:05"), "{typed}");
    }
    refused(
        "gloves@10:02 gown@10:01",
        None,
        "“Gown off” at 10:01 would be earlier than “Gloves off” at 10:02, which stands before it; correct the \
         time, or enter them in the order in which they happened.",
    );
    refused(
        "begun@10:05 gloves@10:02",
        None,
        "“Gloves off” at 10:02 would be earlier than the beginning at 10:05, which stands before it; correct the \
         time, or enter them in the order in which they happened.",
    );
    refused(
        "gloves@10:02 rub@10:03/90 gown@10:03",
        None,
        "“Hand rub” at 10:03 lasted 90 s and would have gone on past “Gown off” at 10:03; correct the duration \
         or one of the times.",
    );
    refused(
        "gloves@10:02 gown@10:09",
        Some("10:05"),
        "“Gown off” at 10:09 lies ahead: it is 10:05 now; correct the time, or the date of the form.",
    );
    refused(
        "gloves@7:00 gown@19:30",
        None,
        "“Gown off” at 19:30 is more than 12 hours after “Gloves off” at 07:00; correct one of them.",
    );
    // Bringing back what was taken back must not bring back a time that is no longer possible.
    refused(
        "gloves@10:02 #1 gown@9:00 #2",
        None,
        "“Gown off” at 09:00 would be earlier than “Gloves off” at 10:02, which stands before it; correct the \
         time, or enter them in the order in which they happened.",
    );
    // A time in minutes may mean any moment of its minute.
    assert!(entered("gloves@10:02 rub@10:03/50 gown@10:03 ended@10:04", Some("10:04")).is_ok());
}

#[test]
fn findings_tell_written_times_and_judge_by_no_other() {
    let told = |taps: &str| {
        let report = score(&model(), &form(taps));
        report.findings.into_iter().map(|finding| finding.text).collect::<Vec<_>>()
    };
    assert_eq!(
        told("gown@10:01 gloves@10:02 rub@10:04:30/25"),
        [
            "“Gown off” at 10:01 came too early: “Gloves off” at 10:02 should have come first, because gloves carry most."
        ]
    );
    assert_eq!(
        told("gown gloves rub"),
        ["“Gown off” came too early: “Gloves off” should have come first, because gloves carry most."]
    );
    assert_eq!(
        told("gloves gown rub@/12"),
        ["“Hand rub” took 12 s; it needs at least 20 s."],
        "a duration counts without a time"
    );
    // In the same minute, and nothing says how long: that is no short rub.
    let same_minute = form("gloves@10:02 rub@10:02 gown@10:02");
    let report = score(&model(), &same_minute);
    assert!(report.findings.iter().all(|finding| finding.kind != FindingKind::TooShort), "{report:?}");
    assert_eq!(score(&model(), &form("gloves gown rub")).outcome, Outcome::Competent);
}
