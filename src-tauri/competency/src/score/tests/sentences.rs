//! Every kind of finding in the words an observer would say. Read them aloud.

use std::collections::BTreeSet;

use super::super::{score, score_as_told};
use super::table::{gloves_first, observed};
use crate::log::Call;
use crate::model::Model;
use crate::procedure::{Mode, Procedure};
use crate::report::Finding;
use crate::sentence;

/// The procedure of the table with labels, reasons and texts as a facility writes them.
fn labelled() -> Procedure {
    let mut procedure = gloves_first();
    for (act, label) in [
        ("inspect", "Equipment inspected"),
        ("tape", "Tape cut"),
        ("gloves-off", "Gloves off"),
        ("rub", "Alcohol hand rub"),
        ("wash", "Soap and water"),
        ("goggles-off", "Goggles off"),
        ("gown-off", "Gown off"),
        ("mask-off", "Mask off"),
        ("face", "Touched the face"),
        ("change", "Inner glove changed"),
        ("bin", "Apron binned"),
        ("left-off", "Left boot cover off"),
        ("right-off", "Right boot cover off"),
        ("phone", "Phone used"),
    ] {
        procedure.acts.insert(act.to_owned(), label.to_owned());
    }
    for step in &mut procedure.steps {
        let text = match step.id.as_str() {
            "tape" => "Cut the tape at the cuffs",
            "goggles-off" => "Take the goggles off by the strap behind the head",
            "h2" => "Clean your hands before you touch anything else",
            _ => step.text.as_str(),
        };
        step.text = text.to_owned();
        if step.id == "h1" {
            step.text = "Clean your hands after the gloves".to_owned();
            step.why = Some("Gloves leak".to_owned());
        }
        for fault in &mut step.technique_faults {
            fault.text = if fault.contaminates { "bare hand on the outside" } else { "pulled by the front" }
                .to_owned();
        }
    }
    procedure.forbidden_acts[0].why = Some("Hands reach the eyes and mouth".to_owned());
    procedure.responses[0].why = Some("A torn glove protects no more".to_owned());
    procedure
}

/// Every row of the table: what is told of that kind and severity, in the order it is told.
#[test]
fn every_kind_in_every_severity() {
    let mut told = BTreeSet::new();
    for row in include_str!("sentences.txt").lines().filter(|row| !row.is_empty() && !row.starts_with('#')) {
        let cells: Vec<&str> = row.split('|').map(str::trim).collect();
        let [what, text, expected] = cells.as_slice() else { panic!("not three cells: {row}") };
        let report = score(&Model::new(labelled()), &observed(Mode::Assessed, &[], text));
        let said: Vec<&str> = report
            .findings
            .iter()
            .filter(|finding| named(finding) == *what)
            .map(|f| f.text.as_str())
            .collect();
        assert_eq!(said.join(" / "), *expected, "{what} of {text}");
        // One plain sentence: nothing that is told has a full stop before its end.
        assert!(said.iter().all(|said| said.find(". ").is_none() && said.ends_with('.')), "{text}");
        told.insert((*what).to_owned());
    }
    // Only what is forbidden has no middle: it is critical or somebody else's. What is extra, too short or
    // not at once is never critical. Calls are guided mode's, below.
    for kind in [
        "out-of-order",
        "missed",
        "technique",
        "prompted",
        "contamination",
        "response-missed",
        "response-late",
    ] {
        for severity in ["critical", "other", "team"] {
            assert!(told.remove(&format!("{kind} {severity}")), "no sentence of {kind} {severity}");
        }
    }
    let rest = [
        "extra other",
        "extra team",
        "forbidden critical",
        "forbidden team",
        "not-immediate other",
        "too-short other",
    ];
    assert_eq!(told.iter().map(String::as_str).collect::<Vec<_>>(), rest);
}

/// `kind severity`, as in the files.
fn named(finding: &Finding) -> String {
    let word = |value: serde_json::Value| value.as_str().unwrap().to_owned();
    let kind = word(serde_json::to_value(finding.kind).unwrap());
    format!("{kind} {}", word(serde_json::to_value(finding.severity).unwrap()))
}

#[test]
fn calls() {
    for (call, expected) in [
        (Call::Before, "“Gloves off” at 0:20 came before it was called; wait for each call."),
        (
            Call::Wrong,
            "“Gloves off” at 0:20 followed a wrong call: that is the observer's, not the wearer's.",
        ),
    ] {
        let mut log = observed(Mode::Guided, &[], "PERFECT");
        log.observations[2].call = Some(call);
        assert_eq!(score(&Model::new(labelled()), &log).findings[0].text, expected);
    }
}

#[test]
fn times_are_told_in_the_caller_s_form() {
    let log = observed(Mode::Assessed, &[], "START phone goggles-off gown-off END");
    let wall = |at_ms: i64| format!("10:02:{:02}", at_ms / 1000);
    let report = score_as_told(&Model::new(labelled()), &log, &wall);
    assert_eq!(report.findings[0].text, "No step called for “Phone used” at 10:02:40.");
    assert_eq!(sentence::minutes(754_999), "12:34");
}

#[test]
fn outcomes() {
    let check = |text: &str, least: Option<u32>, expected: &str| {
        let mut procedure = labelled();
        procedure.pass.min_percent = least;
        let model = Model::new(procedure);
        let log = observed(Mode::Assessed, &[], text);
        assert_eq!(sentence::outcome_reason(&model, &log, &score(&model, &log)), expected);
    };
    check("PERFECT", None, "Competent: nothing was found.");
    check(
        "inspect gloves-off rub=20 goggles-off gown-off END",
        None,
        "Competent: nothing was found against the person; 1 finding is the team's.",
    );
    check(
        "START goggles-off gown-off left-off mask-off rub=20",
        None,
        "Competent: no critical finding, and 1 other finding of at most 2.",
    );
    check(
        "START goggles-off gown-off left-off mask-off rub=20",
        Some(95),
        "Not yet competent: a score below 95 percent.",
    );
    check("START face goggles-off gown-off END", None, "Not yet competent: 1 critical finding.");
    check(
        "START x x x goggles-off gown-off END",
        None,
        "Not yet competent: 3 other findings, at most 2 allowed.",
    );
    check("START .exposure", None, "Not yet competent: it was stopped because of a suspected exposure.");
    check("START .safety", None, "Not assessed: it was stopped for safety before it was complete.");
    check("START .abandoned", None, "Not assessed: it was broken off before it was complete.");
    check(
        "START goggles-off -gown-off END",
        None,
        "Not assessed: a step that decides was out of the observer's sight.",
    );
}

/// 8 of 9 steps are 88.9 percent: 88 is reached, 89 is not, though it would be if it were rounded.
#[test]
fn the_share_is_compared_without_rounding() {
    for (least, outcome) in [(88, "competent"), (89, "not yet competent"), (90, "not yet competent")] {
        let mut procedure = gloves_first();
        procedure.pass.min_percent = Some(least);
        let report = score(
            &Model::new(procedure),
            &observed(Mode::Assessed, &[], "START goggles-off gown-off left-off mask-off rub=20"),
        );
        assert_eq!((report.steps_well, report.steps_counted, report.score_permille), (8, 9, 888));
        assert_eq!(sentence::outcome(report.outcome), outcome);
        assert_eq!(sentence::headline(&report), "8 of 9 steps as they should be");
    }
}
