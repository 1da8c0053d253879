//! Random procedures and logs for the tests, the same from the same seed.

use crate::log::{Contamination, Ended, HowEnded, Log, Observation, What};
use crate::model::{MAX_SHARED_ORDERS, Model, orders_of_shared_acts};
use crate::procedure::{Ask, By, CombinedAct, Condition, Mode, Predecessor, Procedure, Response};

/// `SplitMix64` (Steele, Lea and Flood 2014).
pub(crate) struct Chance(pub(crate) u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below `bound`.
    pub(crate) fn below(&mut self, bound: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(bound.max(1)).unwrap()).unwrap()
    }

    /// True once in so many times.
    pub(crate) fn one_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }

    fn pick<'a, T>(&mut self, of: &'a [T]) -> &'a T {
        &of[self.below(of.len())]
    }

    pub(crate) fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            items.swap(last, self.below(last + 1));
        }
    }
}

/// A procedure that checking would accept, with everything that the alignment depends on: repeated acts,
/// alternatives, optional and conditional steps, free and combined acts, responses.
pub(crate) fn procedure(chance: &mut Chance, steps: usize) -> Procedure {
    loop {
        let names: Vec<String> = (0..steps).map(|step| step_in_notation(chance, step)).collect();
        let mut procedure = super::procedure(&names.join(" "));
        if chance.one_in(2) {
            procedure.free_acts.push("hygiene".to_owned());
        }
        procedure.acts.insert("hygiene".to_owned(), "Hygiene".to_owned());
        procedure.acts.insert("change".to_owned(), "Change".to_owned());
        procedure.contamination_response = vec![vec!["hygiene".to_owned()]];
        if !procedure.conditions.iter().any(|condition| condition.id == "torn") {
            let text = "Torn".to_owned();
            procedure.conditions.push(Condition { id: "torn".to_owned(), ask: Ask::Anytime, text });
        }
        procedure.responses.push(Response {
            to: "torn".to_owned(),
            acts: vec![vec!["change".to_owned()], vec!["hygiene".to_owned(), "a0".to_owned()]],
            critical: true,
            why: None,
            source: None,
        });
        let first = chance.below(steps);
        let counts_as = [first, (first + 1 + chance.below(steps - 1)) % steps].map(|act| format!("a{act}"));
        let counts_as = counts_as.to_vec();
        procedure
            .combined_acts
            .insert("both".to_owned(), CombinedAct { label: "Both".to_owned(), counts_as });
        let model = Model::new(procedure.clone());
        if orders_of_shared_acts(&model, MAX_SHARED_ORDERS + 1) <= MAX_SHARED_ORDERS {
            return procedure;
        }
    }
}

/// Step so-and-so in the notation of the tests.
fn step_in_notation(chance: &mut Chance, step: usize) -> String {
    let density = 2 + chance.below(4);
    let before: Vec<String> =
        (0..step).filter(|_| chance.one_in(density)).map(|before| format!("s{before}")).collect();
    let acts = match chance.below(6) {
        0 => "hygiene".to_owned(),
        1 => format!("a{step}|shared"),
        2 if step > 0 => format!("a{}", chance.below(step)),
        _ => format!("a{step}"),
    };
    let mark = match chance.below(8) {
        0 => "?",
        1 | 2 => "*",
        3 => "+",
        _ => "",
    };
    let when = match chance.below(16) {
        0 | 1 => "@torn",
        2 | 3 => "@!torn",
        _ => "",
    };
    let after = if before.is_empty() { String::new() } else { format!("<{}", before.join(",")) };
    format!("s{step}[{acts}]{mark}{when}{after}")
}

/// A log of the procedure: the steps in an order that respects it, then spoilt.
pub(crate) fn log(chance: &mut Chance, procedure: &Procedure, mode: Mode) -> Log {
    let mut acts: Vec<String> = in_some_order(chance, procedure)
        .into_iter()
        .map(|step| chance.pick(&procedure.steps[step].acts).clone())
        .collect();
    for _ in 0..chance.below(acts.len() + 1) {
        let at = chance.below(acts.len());
        match chance.below(6) {
            0 if acts.len() > 1 => drop(acts.remove(at)),
            1 if at + 1 < acts.len() => acts.swap(at, at + 1),
            2 => {
                let moved = acts.remove(at);
                acts.insert(chance.below(acts.len() + 1), moved);
            }
            3 => acts.insert(at, chance.pick(&["nonsense", "hygiene", "both", "change"]).to_string()),
            4 => acts.insert(at, acts[at].clone()),
            _ => {}
        }
    }
    let mut observations = Vec::new();
    for (act, at_ms) in acts.into_iter().zip((0..).step_by(10_000)) {
        let seen = Observation {
            at_ms: Some(at_ms),
            until_ms: None,
            lasted_ms: None,
            what: What::Act(act),
            prompted: chance.one_in(8),
            faults: match chance.below(16) {
                0 => vec!["clumsy".to_owned()],
                1 => vec!["dirty".to_owned()],
                _ => Vec::new(),
            },
            by: if chance.one_in(12) { By::Assistant } else { By::Wearer },
            late: false,
            call: None,
        };
        let with = |what: What| Observation { what, faults: Vec::new(), prompted: false, ..seen.clone() };
        if chance.one_in(12) {
            observations.push(with(What::Condition("torn".to_owned())));
        }
        if chance.one_in(16) {
            let recognised_by = chance.one_in(2).then_some(By::Observer);
            let event = Contamination { site: "face".to_owned(), from: "gloves".to_owned(), recognised_by };
            observations.push(with(What::Contamination(event)));
        }
        if chance.one_in(16) {
            observations.push(with(What::NotSeen(chance.pick(&procedure.steps).id.clone())));
        }
        observations.push(seen);
    }
    let how = if chance.one_in(5) { HowEnded::Abandoned } else { HowEnded::Completed };
    let conditions = if chance.one_in(3) { vec!["torn".to_owned()] } else { Vec::new() };
    Log {
        mode,
        conditions,
        ended: Ended { how, at_ms: None },
        held: Vec::new(),
        transcribed: false,
        observations,
    }
}

/// The numbers of all steps in an order that the procedure allows.
pub(crate) fn in_some_order(chance: &mut Chance, procedure: &Procedure) -> Vec<usize> {
    let mut order = Vec::new();
    let mut open: Vec<usize> = (0..procedure.steps.len()).collect();
    while !open.is_empty() {
        let free: Vec<usize> = (0..open.len())
            .filter(|&at| {
                let waits = |before: &Predecessor| {
                    open.iter().any(|&other| procedure.steps[other].id == before.step())
                };
                !procedure.steps[open[at]].after.iter().any(waits)
            })
            .collect();
        order.push(open.remove(*chance.pick(&free)));
    }
    order
}
