//! Every kind of finding in the words an observer would say. Read them aloud.

use super::super::{score, score_as_told};
use super::table::{gloves_first, observed};
use crate::log::Call;
use crate::model::Model;
use crate::procedure::{Mode, Procedure};
use crate::report::FindingKind;
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
    ] {
        procedure.acts.insert(act.to_owned(), label.to_owned());
    }
    for step in &mut procedure.steps {
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

#[track_caller]
fn check(kind: FindingKind, text: &str, expected: &str) {
    let report = score(&Model::new(labelled()), &observed(Mode::Assessed, &[], text));
    let told: Vec<&str> =
        report.findings.iter().filter(|finding| finding.kind == kind).map(|f| f.text.as_str()).collect();
    assert_eq!(told.join("\n"), expected);
}

#[test]
fn order() {
    check(
        FindingKind::OutOfOrder,
        "START mask-off goggles-off gown-off left-off right-off rub=20",
        "“Mask off” at 0:40 came too early: “Goggles off” at 0:50, “Gown off” at 1:00, “left-off” at 1:10 and \
         “right-off” at 1:20 should have come first. It carries what is on it.",
    );
    check(
        FindingKind::OutOfOrder,
        "tape+ gloves-off inspect rub=20 goggles-off gown-off END",
        "“Equipment inspected” at 0:20 came too late: it should have come before “Tape cut” at 0:00 and \
         “Gloves off” at 0:10.",
    );
    // Only implied, through the hygiene between them, which is missing.
    check(
        FindingKind::OutOfOrder,
        "inspect tape+ gown-off gloves-off& goggles-off END",
        "“Gown off” at 0:20 came too early: “Gloves off” (entered afterwards) should have come first. It \
         carries what is on it.",
    );
    check(
        FindingKind::NotImmediate,
        "START goggles-off gown-off left-off right-off mask-off phone rub=20",
        "“Alcohol hand rub” at 1:40 should have followed directly on “Mask off” at 1:20, but “phone” at 1:30 \
         came between.",
    );
}

#[test]
fn undone() {
    check(
        FindingKind::Missed,
        "inspect tape+ gloves-off goggles-off rub=20 gown-off END",
        "“Alcohol hand rub” or “Soap and water” was not done before “Goggles off” at 0:30; “Alcohol hand rub” \
         at 0:40 came too late for it. The step: Clean your hands after the gloves. Gloves leak.",
    );
    check(
        FindingKind::Missed,
        "START gown-off END",
        "“Goggles off” was not done; it should have come before “Mask off” at 1:10. The step: Do goggles-off.",
    );
    check(
        FindingKind::Missed,
        "START goggles-off gown-off left-off right-off mask-off",
        "“Alcohol hand rub” or “Soap and water” was not done. The step: Do h2.",
    );
    check(
        FindingKind::ResponseMissed,
        "inspect tape+ :torn gloves-off rub=20 goggles-off gown-off END",
        "After “Glove torn” at 0:20, “Inner glove changed” should have come next; “Gloves off” at 0:30 came \
         instead and it was not done. A torn glove protects no more.",
    );
    check(
        FindingKind::ResponseMissed,
        "PERFECT $hand",
        "After the contamination at 1:40 (hand), “Alcohol hand rub” or “Soap and water” should have come next; \
         it was not done.",
    );
    check(
        FindingKind::ResponseLate,
        "inspect tape+ :torn gloves-off change rub=20 goggles-off gown-off END",
        "After “Glove torn” at 0:20, “Alcohol hand rub” at 0:50 should have come next, but “Gloves off” at 0:30 \
         came first. A torn glove protects no more.",
    );
}

#[test]
fn observed_acts() {
    check(
        FindingKind::Extra,
        "START goggles-off gown-off gown-off END",
        "“Gown off” at 1:00 was done once more than the procedure asks for.",
    );
    check(
        FindingKind::Extra,
        "START phone goggles-off gown-off END",
        "“phone” at 0:40 is not part of this procedure as it was carried out.",
    );
    check(
        FindingKind::Forbidden,
        "START face goggles-off gown-off END",
        "“Touched the face” at 0:40 must not happen before “Alcohol hand rub” or “Soap and water”. Hands reach \
         the eyes and mouth.",
    );
    check(
        FindingKind::TooShort,
        "inspect tape+ gloves-off rub=12 goggles-off gown-off END",
        "“Alcohol hand rub” at 0:30 took 12 s; it needs at least 20 s.",
    );
    check(
        FindingKind::TooShort,
        "inspect tape+ gloves-off rub goggles-off gown-off END",
        "“Alcohol hand rub” at 0:30 took at most 10 s; it needs at least 20 s.",
    );
    check(
        FindingKind::Technique,
        "START goggles-off gown-off%clumsy END",
        "“Gown off” at 0:50: pulled by the front.",
    );
    check(
        FindingKind::Technique,
        "START goggles-off gown-off%dirty rub END",
        "“Gown off” at 0:50: bare hand on the outside. That carries contamination to the person; it was dealt \
         with at once.",
    );
    check(
        FindingKind::Technique,
        "START goggles-off gown-off%dirty END",
        "“Gown off” at 0:50: bare hand on the outside. That carries contamination to the person, and it was not \
         dealt with at once.",
    );
    check(
        FindingKind::Prompted,
        "inspect tape+ gloves-off rub=20! goggles-off gown-off END",
        "“Alcohol hand rub” at 0:30 had to be prompted. Gloves leak.",
    );
    check(
        FindingKind::Contamination,
        "START goggles-off $$wrist rub gown-off END",
        "Contamination at 0:50 (wrist, from gloves): recognised by nobody at the time and dealt with at once.",
    );
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
    assert_eq!(
        report.findings[0].text,
        "“phone” at 10:02:40 is not part of this procedure as it was carried out."
    );
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
    check("START gown-off END", None, "Competent: no critical finding, and 1 other finding of at most 2.");
    check("START gown-off END", Some(95), "Not yet competent: a score below 95 percent.");
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
        let report = score(&Model::new(procedure), &observed(Mode::Assessed, &[], "START gown-off END"));
        assert_eq!((report.steps_well, report.steps_counted, report.score_permille), (8, 9, 888));
        assert_eq!(sentence::outcome(report.outcome), outcome);
        assert_eq!(sentence::headline(&report), "8 of 9 steps as they should be");
    }
}
