//! Changes whose effect is known beforehand. Why each holds stands beside it.

use super::super::score;
use super::optimum::{orders, steps};
use super::rules::told;
use crate::log::{Log, Observation, What};
use crate::model::Model;
use crate::procedure::{By, Mode, Precedence, Predecessor, Procedure};
use crate::report::{FindingKind, Outcome, Report};
use crate::testing::chance::{self, Chance, in_some_order};
use crate::testing::{log, log_in};

const CASES: usize = 300;

/// A procedure and a perfect log of it, in some order that it allows.
fn perfect(chance: &mut Chance) -> (Procedure, Log) {
    let steps = 2 + chance.below(9);
    let mut procedure = chance::procedure(chance, steps);
    // Every step by an act of its own: an act that serves several steps may count as another of them.
    for (number, step) in procedure.steps.iter_mut().enumerate() {
        step.acts = vec![format!("own {number}")];
        (step.when, step.unless) = (None, None);
    }
    procedure.free_acts = vec!["hygiene".to_owned()];
    let order = in_some_order(chance, &procedure);
    let mut log = log_in(Mode::Assessed, &[], "");
    for (step, at_ms) in order.into_iter().zip((0..).step_by(10_000)) {
        let step = &procedure.steps[step];
        log.observations.push(Observation { by: step.by, ..seen(&step.acts[0], at_ms) });
    }
    (procedure, log)
}

fn seen(act: &str, at_ms: i64) -> Observation {
    Observation {
        at_ms: Some(at_ms),
        until_ms: None,
        lasted_ms: None,
        what: What::Act(act.to_owned()),
        prompted: false,
        faults: Vec::new(),
        by: By::Wearer,
        late: false,
        call: None,
    }
}

fn scored(procedure: &Procedure, log: &Log) -> Report {
    score(&Model::new(procedure.clone()), log)
}

fn rank(outcome: Outcome) -> u8 {
    match outcome {
        Outcome::Competent => 2,
        Outcome::NotAssessed => 1,
        Outcome::NotYetCompetent => 0,
    }
}

/// Any order that the precedences allow is right: that is what a partial order means.
#[test]
fn every_order_that_is_allowed_is_perfect() {
    let mut chance = Chance(1);
    for _ in 0..CASES {
        let (procedure, log) = perfect(&mut chance);
        let report = scored(&procedure, &log);
        assert_eq!((told(&report).as_str(), report.alignment_cost), ("", 0));
        let required = procedure.steps.iter().any(|step| !step.optional && step.by.is_wearer());
        assert_eq!(report.score_permille, if required { 1000 } else { 0 });
    }
}

/// Two unordered steps may be done in either order.
#[test]
fn unordered_neighbours_may_be_swapped() {
    let mut chance = Chance(2);
    for _ in 0..CASES {
        let (procedure, mut log) = perfect(&mut chance);
        let model = Model::new(procedure.clone());
        let step_at = |log: &Log, at: usize| {
            let acts =
                |step: &crate::procedure::Step| What::Act(step.acts[0].clone()) == log.observations[at].what;
            procedure.steps.iter().position(acts).unwrap()
        };
        for at in 1..log.observations.len() {
            if !model.must_precede(step_at(&log, at - 1), step_at(&log, at)) {
                log.observations.swap(at - 1, at);
                for (seen, at_ms) in log.observations.iter_mut().zip((0..).step_by(10_000)) {
                    seen.at_ms = Some(at_ms);
                }
                assert_eq!(told(&score(&model, &log)), "");
            }
        }
    }
}

/// Names carry no meaning. The new ones keep their order, since ties are settled in file order only.
#[test]
fn renaming_acts_changes_nothing() {
    let mut chance = Chance(3);
    for _ in 0..CASES {
        let steps = 2 + chance.below(6);
        let procedure = chance::procedure(&mut chance, steps);
        let log = chance::log(&mut chance, &procedure, Mode::Assessed);
        let renamed = |text: String| {
            let text = text.replace("\"a", "\"z").replace("\"hygiene\"", "\"y-hygiene\"");
            text.replace("\"zcts\"", "\"acts\"")
                .replace("\"zct\"", "\"act\"")
                .replace("\"zfter\"", "\"after\"")
        };
        let text = renamed(serde_json::to_string(&procedure).unwrap());
        let text = text.replace("\"zsk\"", "\"ask\"").replace("\"znytime\"", "\"anytime\"");
        let text = text.replace("\"zssessed\"", "\"assessed\"").replace("\"zssistant\"", "\"assistant\"");
        let other: Procedure = serde_json::from_str(&text).unwrap();
        let text = renamed(serde_json::to_string(&log).unwrap());
        let text = text.replace("\"zt_ms\"", "\"at_ms\"").replace("\"zssessed\"", "\"assessed\"");
        let text = text.replace("\"zssistant\"", "\"assistant\"").replace("\"zbandoned\"", "\"abandoned\"");
        let other_log: Log = serde_json::from_str(&text).unwrap();
        let (one, other) = (scored(&procedure, &log), scored(&other, &other_log));
        assert_eq!(
            (one.steps.clone(), told(&one), one.outcome),
            (other.steps.clone(), told(&other), other.outcome)
        );
    }
}

/// A free act may be repeated anywhere at no cost, so one more at the end finds nothing new.
#[test]
fn a_free_act_at_the_end_changes_nothing() {
    let mut chance = Chance(4);
    for _ in 0..CASES {
        let (procedure, mut log) = perfect(&mut chance);
        let before = scored(&procedure, &log);
        log.observations.push(seen("hygiene", 1_000_000));
        assert_eq!(scored(&procedure, &log), before);
    }
}

/// Criticality and danger play no part in the alignment, and only ever make findings weigh more.
#[test]
fn more_critical_or_dangerous_is_never_better() {
    let mut chance = Chance(5);
    for _ in 0..CASES {
        let steps = 2 + chance.below(6);
        let procedure = chance::procedure(&mut chance, steps);
        let log = chance::log(&mut chance, &procedure, Mode::Assessed);
        let before = scored(&procedure, &log);
        let mut stricter = procedure.clone();
        let step = chance.below(steps);
        if chance.one_in(2) && !stricter.steps[step].optional {
            stricter.steps[step].critical = true;
        }
        for predecessor in &mut stricter.steps[step].after {
            let before = predecessor.step().to_owned();
            *predecessor = Predecessor::Explained(Precedence {
                step: before,
                danger: true,
                why: Some("Why.".to_owned()),
            });
        }
        let after = scored(&stricter, &log);
        assert!(rank(after.outcome) <= rank(before.outcome));
        assert_eq!(after.steps, before.steps);
        assert_eq!(after.alignment_cost, before.alignment_cost);
    }
}

/// A perfect log is the best there is.
#[test]
fn leaving_a_required_step_out_of_a_perfect_log_is_never_better() {
    let mut chance = Chance(6);
    for _ in 0..CASES {
        let (procedure, log) = perfect(&mut chance);
        let before = scored(&procedure, &log);
        for left_out in 0..log.observations.len() {
            let mut log = log.clone();
            log.observations.remove(left_out);
            let after = scored(&procedure, &log);
            assert!(rank(after.outcome) <= rank(before.outcome));
            assert!(after.score_permille <= before.score_permille);
        }
    }
}

/// With distinct acts, all required, the moved act is the only one that need be given up, wherever it went:
/// exactly one order finding if it crossed a step that it is ordered with, none otherwise. Every move of
/// every act of every order of up to five steps.
#[test]
fn one_act_moved_is_exactly_one_order_finding() {
    let mut moves = [0, 0];
    for size in 2..=5 {
        for order in orders(size) {
            let model = Model::new(steps(&order, &(0..size).collect::<Vec<_>>()));
            for (from, to) in (0..size).flat_map(|from| (0..size).map(move |to| (from, to))) {
                // The steps are printed in an order that is allowed.
                let mut acts: Vec<String> = (0..size).map(|act| act.to_string()).collect();
                let moved = acts.remove(from);
                acts.insert(to, moved);
                let report = score(&model, &log(&acts.join(" ")));
                let crossed = order.iter().any(|&(before, after)| {
                    (before == from && after <= to) || (after == from && before >= to)
                });
                let kinds: Vec<FindingKind> = report.findings.iter().map(|finding| finding.kind).collect();
                let expected = if crossed { vec![FindingKind::OutOfOrder] } else { Vec::new() };
                assert_eq!(kinds, expected, "{from} moved to {to} in {order:?}");
                assert!(report.findings.iter().all(|finding| !finding.because.is_empty()));
                moves[usize::from(crossed)] += 1;
            }
        }
    }
    assert!(moves.iter().all(|&moves| moves > 500), "{moves:?}");
}
