//! The live rule: one line a case, then properties over random procedures and logs.

mod properties;

use super::{ActState, Counts, Live, StepState};
use crate::model::Model;
use crate::procedure::{CombinedAct, Mode};
use crate::testing::{log, log_in, model};

/// What each act counts as, in the notation `step`, `late step`, `early step (first, ...)`, `free`,
/// `answer`, `forbidden`, `allowed`, `extra`, and `+answer` where it also answers.
#[track_caller]
fn check(procedure: &str, log: &str, expected: &str) {
    check_with(procedure, &[], log, expected);
}

#[track_caller]
fn check_with(procedure: &str, conditions: &[&str], log: &str, expected: &str) {
    let model = model(procedure);
    let log = log_in(Mode::Assessed, conditions, log);
    let (_, verdicts) = Live::replay(&model, &log.conditions, &log.observations);
    let said: Vec<String> = verdicts
        .iter()
        .flat_map(|verdict| &verdict.acts)
        .map(|counted| match &counted.counts {
            Counts::InOrder(step) => step.clone(),
            Counts::Late(step) => format!("late {step}"),
            Counts::TooEarly(warning) => {
                let first: Vec<&str> = warning.first.iter().map(|first| first.step.as_str()).collect();
                format!("early {} ({})", warning.step, first.join(" "))
            }
            Counts::Free => "free".to_owned(),
            Counts::Answer => "answer".to_owned(),
            Counts::Forbidden { .. } => "forbidden".to_owned(),
            Counts::NoLongerForbidden => "allowed".to_owned(),
            Counts::Extra => "extra".to_owned(),
        })
        .collect();
    assert_eq!(said.join(", "), expected);
}

#[test]
fn a_tap_counts_by_the_rule() {
    check("a b<a c<b", "a b c", "a, b, c");
    check("a b<a c<b", "b a c", "early b (a), late a, c");
    // Nearest first: b is directly before c.
    check("a b<a c<b", "c b a", "early c (b a), late b, late a");
    check("a b<a c<b", "a a x b b c", "a, extra, extra, b, extra, c");
    check("~h h1[h] g<h1 h2[h]<g", "g h", "early g (h1), h2");
    check("~h h1[h] g<h1 h2[h]<g", "g h h h", "early g (h1), h2, late h1, free");
    check("~h h1[h] g<h1 h2[h]<g", "h h g h", "h1, free, g, h2");
    // An optional step blocks nothing, and is late once what follows it is done.
    check("a? b<a", "b a", "b, late a");
    check("#face:b a b<a", "face a b face", "forbidden, a, b, allowed");
    check("#face a", "face a face", "forbidden, a, forbidden");
    // A step that the observer could not see holds nothing up.
    check("a b<a", "-a b", "b");
    // Two that share an act, free in order: the first in file order.
    check("l[boot] r[boot] end<l,r", "boot boot end", "l, r, end");
}

#[test]
fn a_condition_brings_its_step_in() {
    check_with("a b@torn<a c<b", &[], "a c", "a, c");
    check_with("a b@torn<a c<b", &["torn"], "a c", "a, early c (b)");
    check_with("a b@torn<a c<b", &[], "a :torn c b", "a, early c (b), late b");
    // What an absent step kept in order stays in order.
    check_with("a b@torn<a c<b", &[], "c a", "early c (a), late a");
    check_with("a", &["unknown"], "a", "a");
}

/// Gloves and goggles are still on when the mask follows a gown that came too early.
#[test]
fn what_was_skipped_warns_again_where_the_order_is_a_danger() {
    let model = model("gloves goggles<gloves gown<!gloves,goggles mask<!goggles,gown hands<mask");
    let after = |taps: &str| {
        let (live, verdicts) = Live::replay(&model, &[], &log(taps).observations);
        let warning = verdicts.last().and_then(|verdict| verdict.warning());
        let first: Vec<&str> =
            warning.iter().flat_map(|warning| &warning.first).map(|first| first.step.as_str()).collect();
        let mask = model.step_number("mask").unwrap();
        let marks = (live.act_mark(&model, "mask").state, live.step_mark(&model, mask).state);
        (first.join(" "), marks, live.next(&model).cloned().unwrap_or_default())
    };
    let said = |first: &str, marks, next: &str| (first.to_owned(), marks, next.to_owned());
    let (not_yet, now) = ((ActState::NotYet, StepState::NotYet), (ActState::MayCome, StepState::MayCome));
    assert_eq!(after("gown"), said("goggles gloves", not_yet, "goggles"));
    assert_eq!(after("gown gloves"), said("", not_yet, "goggles"));
    assert_eq!(after("gown goggles"), said("", now, "mask"));
    assert_eq!(after("gown mask"), said("goggles", (ActState::Done, StepState::Done), "hands"));
    // Once it was seen that nobody saw it, it holds nothing up.
    assert_eq!(after("gown -goggles"), said("", now, "mask"));
    // The score counts it as it would have before: it was passed over once.
    check(
        "gloves goggles<gloves gown<!gloves,goggles mask<!goggles,gown",
        "gown mask",
        "early gown (goggles gloves), mask",
    );
}

#[test]
fn acts_in_one_are_not_offered_once_a_part_of_them_is_done() {
    let mut procedure = model("a b<a").procedure().clone();
    let counts_as = vec!["a".to_owned(), "b".to_owned()];
    procedure.combined_acts.insert("both".to_owned(), CombinedAct { label: "Both".to_owned(), counts_as });
    let model = Model::new(procedure);
    let mark = |taps: &str| {
        let observations = if taps.is_empty() { Vec::new() } else { log(taps).observations };
        Live::replay(&model, &[], &observations).0.act_mark(&model, "both").state
    };
    assert_eq!(mark(""), ActState::MayCome);
    assert_eq!(mark("a"), ActState::NotCalledFor);
    assert_eq!(mark("both"), ActState::Done);
}

#[test]
fn the_warning_says_why() {
    let model = model("hygiene gown<!hygiene");
    let log = log("gown");
    let (_, verdicts) = Live::replay(&model, &[], &log.observations);
    let warning = verdicts[0].warning().unwrap();
    assert!(warning.first[0].danger);
    assert_eq!(
        crate::sentence::warning(&model, warning),
        "“gown” came too early: first “hygiene”. It carries what is on it."
    );
}
