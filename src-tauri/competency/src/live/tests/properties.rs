//! Properties of the live rule over random procedures and logs.

use proptest::prelude::*;

use super::super::{ActState, Counts, Live, StepState};
use crate::journal::{Event, Line, fold};
use crate::log::What;
use crate::model::Model;
use crate::procedure::{By, Mode};
use crate::testing::chance::{self, Chance};

/// A random procedure and the taps of a random log of it, with some taken back, some undone again and
/// some entered late or corrected, technique faults added afterwards, and holds.
fn taps(seed: u64) -> (Model, Vec<Line>) {
    let mut chance = Chance(seed);
    let steps = 2 + chance.below(8);
    let procedure = chance::procedure(&mut chance, steps);
    let log = chance::log(&mut chance, &procedure, Mode::Assessed);
    let mut lines: Vec<Line> = Vec::new();
    for (seen, at_ms) in log.observations.into_iter().zip((0..).step_by(1000)) {
        let mut tap = |chance: &mut Chance, event: Event| {
            let earlier = format!("{}", chance.below(lines.len() + 1));
            let event = match (event, chance.below(8)) {
                (Event::Act { act, by }, 0) => Event::LateAct { act, by, before: Some(earlier) },
                (_, 1) if !lines.is_empty() => Event::Undo { of: earlier },
                (Event::Act { act, by }, 2) if !lines.is_empty() => Event::Corrected { of: earlier, act, by },
                (_, 3) if !lines.is_empty() => Event::Fault { of: earlier, code: "dirty".to_owned() },
                (Event::Contamination { .. }, 4) => Event::Hold,
                (event, _) => event,
            };
            lines.push(Line { id: format!("{}", lines.len()), at_ms, event });
        };
        let event = match seen.what {
            What::Act(act) => Event::Act { act, by: By::Wearer },
            What::Condition(condition) => Event::Condition { condition },
            What::NotSeen(step) => Event::NotSeen { step },
            What::Contamination(event) => Event::Contamination { event, ago_ms: 0 },
            What::TeamError(what) => Event::TeamError { by: By::Observer, what },
        };
        tap(&mut chance, event);
    }
    (Model::new(procedure), lines)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(400) })]

    /// After every tap the state, kept tap by tap where the log only grew, is that of a replay.
    #[test]
    fn tap_by_tap_is_the_same_as_from_the_start(seed: u64) {
        let (model, lines) = taps(seed);
        let mut live = Live::new(&model, &[]);
        let mut taken = Vec::new();
        for upto in 1..=lines.len() {
            let log = fold(&lines[..upto], Mode::Assessed, &[]).log;
            if log.observations.starts_with(&taken) {
                for seen in &log.observations[taken.len()..] {
                    live.observe(&model, seen);
                }
            } else {
                live = Live::replay(&model, &[], &log.observations).0;
            }
            taken = log.observations;
            prop_assert_eq!(&live, &Live::replay(&model, &[], &taken).0);
        }
    }

    /// What may come now draws no warning, what may not yet does, and the mark of the act says so before.
    #[test]
    fn marks_foretell_the_verdict(seed: u64) {
        let (model, lines) = taps(seed);
        let log = fold(&lines, Mode::Assessed, &[]).log;
        let mut live = Live::new(&model, &[]);
        for seen in &log.observations {
            let before = live.clone();
            let verdict = live.observe(&model, seen);
            let What::Act(act) = &seen.what else { continue };
            // Of an act that both the wearer and the assistant have a step for, the form says whose it is.
            let of = |wearer| model.procedure().steps.iter().any(|step| {
                step.acts.contains(act) && step.by.is_wearer() == wearer
            });
            if of(true) && of(false) {
                continue;
            }
            let mark = before.act_mark(&model, act);
            if mark.state != ActState::NotYet {
                prop_assert!(verdict.warning().is_none());
            }
            let [counted] = verdict.acts.as_slice() else { continue };
            prop_assert_eq!(counted.answers, mark.due);
            let foretold = match mark.state {
                ActState::MayCome => matches!(counted.counts, Counts::InOrder(_)),
                ActState::Skipped => matches!(counted.counts, Counts::Late(_)),
                ActState::NotYet => match counted.counts {
                    Counts::InOrder(_) => verdict.exposes.is_some(),
                    Counts::TooEarly(_) | Counts::Free | Counts::Answer => true,
                    Counts::Late(_)
                    | Counts::Forbidden { .. }
                    | Counts::NoLongerForbidden
                    | Counts::Extra => false,
                },
                ActState::Free => matches!(counted.counts, Counts::Free | Counts::Answer),
                ActState::Forbidden => matches!(counted.counts, Counts::Forbidden { .. }),
                ActState::Allowed => matches!(counted.counts, Counts::NoLongerForbidden),
                ActState::Done => {
                    matches!(counted.counts, Counts::Extra | Counts::NoLongerForbidden)
                }
                ActState::NotCalledFor => matches!(counted.counts, Counts::Extra),
            };
            prop_assert!(foretold, "{:?} and then {:?}", mark, counted);
            if let Counts::InOrder(step) = &counted.counts {
                let step = model.step_number(step).unwrap();
                prop_assert_eq!(live.step_mark(&model, step).state, StepState::Done);
            }
        }
    }

    /// A warning names exactly the required steps before it that were neither done, skipped nor out of
    /// sight, the nearest first; afterwards they block nothing.
    #[test]
    fn a_warning_names_what_should_have_come_first(seed: u64) {
        let (model, lines) = taps(seed);
        let log = fold(&lines, Mode::Assessed, &[]).log;
        let mut live = Live::new(&model, &[]);
        for seen in &log.observations {
            let before = live.clone();
            let verdict = live.observe(&model, seen);
            let Some(warning) = verdict.warning() else { continue };
            let step = model.step_number(&warning.step).unwrap();
            if verdict.exposes.as_ref() == Some(warning) {
                // It was skipped, still is, and is a danger to the very step that was done.
                for first in &warning.first {
                    let number = model.step_number(&first.step).unwrap();
                    prop_assert!(first.danger && model.danger(number, step));
                    prop_assert_eq!(live.step_mark(&model, number).state, StepState::Skipped);
                }
                prop_assert!(!warning.first.is_empty());
                continue;
            }
            let mut distance = 0;
            for first in &warning.first {
                let first = model.step_number(&first.step).unwrap();
                prop_assert!(model.must_precede(first, step));
                let path = model.path(first, step).len();
                prop_assert!(path >= distance);
                distance = path;
                if verdict.acts.len() == 1 {
                    let state = before.step_mark(&model, first).state;
                    prop_assert!(matches!(state, StepState::MayCome | StepState::NotYet));
                    prop_assert_eq!(live.step_mark(&model, first).state, StepState::Skipped);
                }
            }
            prop_assert!(!warning.first.is_empty());
            if verdict.acts.len() == 1 {
                let open = (0..model.len()).filter(|&first| {
                    let state = before.step_mark(&model, first).state;
                    let required = !model.step(first).unwrap().optional;
                    required
                        && model.must_precede(first, step)
                        && matches!(state, StepState::MayCome | StepState::NotYet)
                });
                prop_assert_eq!(open.count(), warning.first.len(), "none is left out");
            }
        }
    }

    /// Followed step by step, the step to read aloud next leads through to the end without a warning.
    #[test]
    fn the_next_step_leads_to_the_end(seed: u64) {
        let (model, _) = taps(seed);
        let mut live = Live::new(&model, &[]);
        for _ in 0..model.len() {
            let Some(step) = live.next(&model).and_then(|id| model.step_number(id)) else { break };
            let step = model.step(step).unwrap();
            let mut log = crate::testing::log("x");
            log.observations[0].what = What::Act(step.acts[0].clone());
            log.observations[0].by = step.by;
            let verdict = live.observe(&model, &log.observations[0]);
            prop_assert!(verdict.warning().is_none());
        }
        prop_assert_eq!(live.next(&model), None);
        for step in 0..model.len() {
            let state = live.step_mark(&model, step).state;
            prop_assert!(!matches!(state, StepState::NotYet), "{} is left", step);
        }
    }
}
