//! A second scorer that knows nothing of the first: the cost of an alignment as a shortest path.
//!
//! It is the textbook product of trace and model (Adriansyah, van Dongen and van der Aalst 2011): a state
//! is how much of the trace was read and which steps are behind, and a move reads an act, does a step, or
//! both. It reads the procedure itself, not the model made of it.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use super::super::score;
use crate::log::{Log, What};
use crate::model::Model;
use crate::procedure::{Mode, Procedure};
use crate::testing::chance::{self, Chance};

struct Step<'a> {
    acts: &'a [String],
    by_wearer: bool,
    optional: bool,
    /// Every step that must be behind first, by place among those that apply.
    before: Vec<usize>,
}

/// One act of the trace, combined ones taken apart.
struct Read<'a> {
    act: &'a str,
    /// The steps it may be: the wearer's or the team's, or either where only the team's call for it.
    of_wearer: Option<bool>,
    /// It may be passed over at no cost: it is free, or it answers a response.
    costs_nothing: bool,
}

fn trace<'a>(procedure: &'a Procedure, log: &'a Log) -> Vec<Read<'a>> {
    let asked_of_wearer = |act: &str| {
        let mut steps = procedure.steps.iter();
        steps.any(|step| step.by.is_wearer() && step.acts.iter().any(|named| named == act))
    };
    let mut owed: Vec<VecDeque<&[String]>> = Vec::new();
    let mut trace = Vec::new();
    for seen in &log.observations {
        match &seen.what {
            What::Act(act) => {
                let parts = match procedure.combined_acts.get(act) {
                    Some(combined) => combined.counts_as.iter().map(String::as_str).collect(),
                    None => vec![act.as_str()],
                };
                let mut carried = false;
                for part in parts {
                    let mut answers = false;
                    for groups in owed.iter_mut().filter(|_| seen.by.is_wearer()) {
                        if groups.front().is_some_and(|group| group.iter().any(|act| act == part)) {
                            groups.pop_front();
                            answers = true;
                        }
                    }
                    let of_wearer =
                        if seen.by.is_wearer() { asked_of_wearer(part).then_some(true) } else { Some(false) };
                    let costs_nothing = answers || procedure.free_acts.iter().any(|free| free == part);
                    trace.push(Read { act: part, of_wearer, costs_nothing });
                    let mut steps = procedure.steps.iter().filter(|step| step.acts.iter().any(|a| a == part));
                    carried |= steps.any(|step| {
                        let mut carrying = step.technique_faults.iter().filter(|fault| fault.contaminates);
                        carrying.any(|fault| seen.faults.contains(&fault.code))
                    });
                }
                if carried {
                    owed.push(procedure.contamination_response.iter().map(Vec::as_slice).collect());
                }
            }
            What::Condition(id) => {
                let to = procedure.responses.iter().filter(|response| &response.to == id);
                owed.extend(to.map(|response| response.acts.iter().map(Vec::as_slice).collect()));
            }
            What::Contamination(_) => {
                owed.push(procedure.contamination_response.iter().map(Vec::as_slice).collect());
            }
            What::NotSeen(_) | What::TeamError(_) => {}
        }
    }
    trace
}

fn steps<'a>(procedure: &'a Procedure, log: &Log) -> Vec<Step<'a>> {
    let holds = |id: &str| {
        let observed = |what: &What| matches!(what, What::Condition(seen) if seen == id);
        log.conditions.iter().any(|held| held == id)
            || log.observations.iter().any(|seen| observed(&seen.what))
    };
    let not_seen = |id: &String| {
        let mut observations = log.observations.iter();
        observations.any(|seen| matches!(&seen.what, What::NotSeen(step) if step == id))
    };
    let by_id: BTreeMap<&str, &crate::procedure::Step> =
        procedure.steps.iter().map(|step| (step.id.as_str(), step)).collect();
    let ancestors = |id: &str| {
        let mut all = BTreeSet::new();
        let mut open = vec![id];
        while let Some(here) = open.pop() {
            for before in &by_id[here].after {
                if all.insert(before.step()) {
                    open.push(before.step());
                }
            }
        }
        all
    };
    let applying: Vec<_> = procedure.steps.iter().filter(|step| step.applies().with(holds)).collect();
    applying
        .iter()
        .map(|step| {
            let ancestors = ancestors(&step.id);
            let before =
                (0..applying.len()).filter(|&o| ancestors.contains(applying[o].id.as_str())).collect();
            Step {
                acts: &step.acts,
                by_wearer: step.by.is_wearer(),
                optional: step.optional || not_seen(&step.id),
                before,
            }
        })
        .collect()
}

/// The least cost, by a search that looks at free moves first.
fn least_cost(procedure: &Procedure, log: &Log) -> u32 {
    let (steps, trace) = (steps(procedure, log), trace(procedure, log));
    let mut seen = BTreeSet::new();
    let mut open: VecDeque<(u32, usize, u32)> = VecDeque::from([(0, 0, 0)]);
    while let Some((cost, read, behind)) = open.pop_front() {
        if !seen.insert((read, behind)) {
            continue;
        }
        if read == trace.len() && behind.count_ones() as usize == steps.len() {
            return cost;
        }
        let mut go = |price: bool, read: usize, behind: u32| {
            if price {
                open.push_back((cost + 1, read, behind));
            } else {
                open.push_front((cost, read, behind));
            }
        };
        if let Some(next) = trace.get(read) {
            go(!next.costs_nothing, read + 1, behind);
        }
        for (number, step) in steps.iter().enumerate() {
            let ready = step.before.iter().all(|&before| behind >> before & 1 == 1);
            if behind >> number & 1 == 0 && ready {
                go(!step.optional, read, behind | 1 << number);
                let fits = trace.get(read).is_some_and(|next| {
                    step.acts.iter().any(|named| named == next.act)
                        && next.of_wearer.is_none_or(|of_wearer| of_wearer == step.by_wearer)
                });
                if fits {
                    go(false, read + 1, behind | 1 << number);
                }
            }
        }
    }
    unreachable!("every act can be passed over and every step be left out")
}

/// Twenty thousand random cases of 4 to 14 steps with everything that the cost depends on.
#[test]
fn the_cost_is_that_of_the_shortest_path() {
    let mut chance = Chance(90_210);
    let mut cost_something = 0;
    for case in 0..20_000 {
        // Many small ones and some of every size.
        let steps = 4 + chance.below(if case % 20 == 0 { 11 } else { 4 });
        let procedure = chance::procedure(&mut chance, steps);
        let log = chance::log(&mut chance, &procedure, Mode::Assessed);
        let expected = least_cost(&procedure, &log);
        cost_something += u32::from(expected > 0);
        let report = score(&Model::new(procedure.clone()), &log);
        assert_eq!(report.alignment_cost, expected, "of {:?}\n{:?}", procedure.steps, log.observations);
    }
    assert!(cost_something > 10_000, "too few of the logs depart from their procedure");
}
