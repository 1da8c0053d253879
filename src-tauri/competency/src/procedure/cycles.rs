//! Cycles in an order that cannot be kept.

use std::collections::{BTreeMap, VecDeque};

use crate::bits::Bits;
use crate::model::Model;

/// Whether some steps wait for one another.
pub(super) fn has_cycle(model: &Model) -> bool {
    (0..model.len()).any(|step| model.must_precede(step, step))
}

/// One shortest cycle for every knot of steps that wait for one another, each from its first step of
/// the file back to it, in the order the steps are to be done.
pub(super) fn cycles(model: &Model) -> Vec<Vec<usize>> {
    let mut told = Bits::EMPTY;
    let mut cycles = Vec::new();
    for step in (0..model.len()).filter(|step| model.must_precede(*step, *step)) {
        if !told.has(step) {
            told = told.or(model.before(step).and(model.after(step)));
            cycles.push(shortest_cycle(model, step));
        }
    }
    cycles
}

/// Goes back from predecessor to predecessor until the step is met again.
fn shortest_cycle(model: &Model, start: usize) -> Vec<usize> {
    let mut follower = BTreeMap::new();
    let mut seen = Bits::EMPTY;
    let mut queue = VecDeque::from([start]);
    while let Some(step) = queue.pop_front() {
        for earlier in model.declared(step).iter().map(|edge| edge.before) {
            if earlier == start {
                let mut cycle = vec![start, step];
                let mut last = step;
                while let Some(next) = follower.get(&last) {
                    last = *next;
                    cycle.push(last);
                }
                return cycle;
            }
            if !seen.has(earlier) {
                seen.insert(earlier);
                follower.insert(earlier, step);
                queue.push_back(earlier);
            }
        }
    }
    vec![start]
}
