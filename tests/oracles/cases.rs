//! Random cases for the outside checkers, the same in every run.

use std::collections::BTreeSet;

use competency::log::Log;
use competency::model::{Model, orders_of_shared_acts};
use competency::procedure::Procedure;
use serde::Serialize;
use serde_json::json;

/// One case as the outside checkers read it.
#[derive(Debug, Clone, Serialize)]
pub(crate) struct Case {
    pub(crate) steps: Vec<Step>,
    /// Acts that may be repeated anywhere.
    pub(crate) free: Vec<String>,
    pub(crate) trace: Vec<String>,
}

#[derive(Debug, Clone, Serialize)]
pub(crate) struct Step {
    pub(crate) acts: Vec<String>,
    pub(crate) optional: bool,
    /// Everything that must come before it, directly or not, by number.
    pub(crate) before: BTreeSet<usize>,
}

/// `SplitMix64` (Steele, Lea and Flood 2014).
pub(crate) struct Chance(pub(crate) u64);

impl Chance {
    pub(crate) fn below(&mut self, bound: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        let bound = u64::try_from(bound.max(1)).expect("a bound of 64 bits");
        usize::try_from((z ^ (z >> 31)) % bound).expect("below the bound")
    }

    fn one_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }
}

impl Case {
    /// A case with so many steps, of which at most one in `spoilt` acts of the trace is out of place.
    /// `shared_in_order` keeps steps that share an act in order.
    pub(crate) fn random(chance: &mut Chance, steps: usize, spoilt: usize, shared_in_order: bool) -> Case {
        loop {
            let case = Case::once(chance, steps, spoilt);
            let most = if shared_in_order { 1 } else { 64 };
            if orders_of_shared_acts(&case.model(), most + 1) <= most {
                return case;
            }
        }
    }

    /// The same with an act of its own for each step.
    pub(crate) fn distinct(chance: &mut Chance, steps: usize, spoilt: usize) -> Case {
        let mut case = Case::random(chance, steps, spoilt, false);
        for (number, step) in case.steps.iter_mut().enumerate() {
            step.acts = vec![format!("act {number}")];
        }
        case.free = Vec::new();
        case.trace = case.steps.iter().map(|step| step.acts[0].clone()).collect();
        case.spoil(chance, spoilt);
        case
    }

    fn once(chance: &mut Chance, size: usize, spoilt: usize) -> Case {
        let mut steps: Vec<Step> = Vec::new();
        // Between a list and steps that are nearly all free in their order.
        let density = 2 + chance.below(5);
        for number in 0..size {
            let reach = number.saturating_sub(6);
            let direct: Vec<usize> = (reach..number).filter(|_| chance.one_in(density)).collect();
            let mut before: BTreeSet<usize> = direct.iter().copied().collect();
            for first in direct {
                before.extend(steps[first].before.iter().copied());
            }
            let own = format!("act {number}");
            let acts = match chance.below(6) {
                0 => vec!["hygiene".to_owned()],
                1 => vec![own, format!("other {number}")],
                2 if !before.is_empty() => {
                    vec![format!("act {}", before.iter().next_back().expect("not empty"))]
                }
                _ => vec![own],
            };
            // A step of the free act is ordered after the last such step, as hygiene between items is.
            if acts[0] == "hygiene"
                && let Some(last) = steps.iter().rposition(|step| step.acts[0] == "hygiene")
            {
                before.extend(steps[last].before.iter().copied());
                before.insert(last);
            }
            steps.push(Step { acts, optional: chance.one_in(8), before });
        }
        let free = if chance.one_in(2) { vec!["hygiene".to_owned()] } else { Vec::new() };
        let trace = steps.iter().map(|step| step.acts[chance.below(step.acts.len())].clone()).collect();
        let mut case = Case { steps, free, trace };
        case.spoil(chance, spoilt);
        case
    }

    /// Puts at most one in so many acts out of place.
    pub(crate) fn spoil(&mut self, chance: &mut Chance, spoilt: usize) {
        let trace = &mut self.trace;
        for _ in 0..chance.below(1 + self.steps.len() / spoilt) {
            let at = chance.below(trace.len());
            match chance.below(5) {
                0 if trace.len() > 1 => drop(trace.remove(at)),
                1 => {
                    let moved = trace.remove(at);
                    trace.insert((at + chance.below(5)).min(trace.len()), moved);
                }
                2 => trace.insert(at, "nonsense".to_owned()),
                3 => trace.insert(at, "hygiene".to_owned()),
                _ => trace.insert(at, trace[at].clone()),
            }
        }
    }

    pub(crate) fn model(&self) -> Model {
        Model::new(self.procedure())
    }

    fn procedure(&self) -> Procedure {
        let steps: Vec<_> = self.steps.iter().enumerate().map(|(number, step)| {
            let after: Vec<String> = step.before.iter().map(|before| format!("s{before}")).collect();
            json!({ "id": format!("s{number}"), "section": "All", "acts": step.acts, "text": "Do it.", "after": after, "optional": step.optional })
        }).collect();
        let acts: serde_json::Map<String, serde_json::Value> = self
            .steps
            .iter()
            .flat_map(|step| &step.acts)
            .chain(&self.free)
            .map(|act| (act.clone(), json!(act)))
            .collect();
        let procedure = json!({
            "id": "case", "version": "1.0.0", "title": "Case", "phase": "doffing", "precautions": ["contact"],
            "ensemble": ["gloves"], "sources": [], "acts": acts, "steps": steps, "free_acts": self.free,
        });
        serde_json::from_value(procedure).expect("a procedure")
    }

    pub(crate) fn log(&self) -> Log {
        let observations: Vec<_> = (0_i64..)
            .zip(&self.trace)
            .map(|(place, act)| json!({ "at_ms": 1000 * place, "act": act }))
            .collect();
        serde_json::from_value(json!({ "mode": "assessed", "observations": observations })).expect("a log")
    }

    pub(crate) fn cost(&self) -> u32 {
        competency::score::score(&self.model(), &self.log()).alignment_cost
    }
}
