//! The partial order as bit rows, for the checks.

use std::collections::{BTreeMap, VecDeque};

use super::Procedure;

/// Most steps of one procedure; as many as a bit row has places.
pub const MOST_STEPS: usize = 128;

/// Which step comes before which, as far as the file's predecessors can be found.
pub(super) struct Order {
    /// For each step, the steps that are declared to come directly before it.
    pub(super) direct: Vec<u128>,
    /// For each step, all the steps that come before it.
    pub(super) before: Vec<u128>,
}

/// The bit of one step; no bit for a step beyond the most.
pub(super) fn bit(step: usize) -> u128 {
    u32::try_from(step).ok().and_then(|step| 1_u128.checked_shl(step)).unwrap_or(0)
}

impl Order {
    /// `None` for more than [`MOST_STEPS`] steps.
    pub(super) fn of(procedure: &Procedure) -> Option<Self> {
        if procedure.steps.len() > MOST_STEPS {
            return None;
        }
        let indices: BTreeMap<&str, usize> =
            procedure.steps.iter().enumerate().map(|(index, step)| (&*step.id, index)).collect();
        let direct: Vec<u128> = procedure
            .steps
            .iter()
            .map(|step| {
                let declared = step.after.iter().map(super::Predecessor::step);
                declared
                    .chain(step.immediately_after.as_deref())
                    .filter_map(|id| indices.get(id))
                    .fold(0, |row, index| row | bit(*index))
            })
            .collect();
        let mut before = direct.clone();
        for middle in 0..before.len() {
            let through = before.get(middle).copied().unwrap_or(0);
            for row in &mut before {
                if *row & bit(middle) != 0 {
                    *row |= through;
                }
            }
        }
        Some(Order { direct, before })
    }

    pub(super) fn is_before(&self, first: usize, then: usize) -> bool {
        self.before.get(then).is_some_and(|row| row & bit(first) != 0)
    }

    pub(super) fn has_cycle(&self) -> bool {
        (0..self.before.len()).any(|step| self.is_before(step, step))
    }

    /// One shortest cycle for every knot of steps that wait for one another, each from its first step
    /// of the file back to it, in the order the steps are to be done.
    pub(super) fn cycles(&self) -> Vec<Vec<usize>> {
        let mut told = 0;
        let mut cycles = Vec::new();
        for step in (0..self.before.len()).filter(|step| self.is_before(*step, *step)) {
            if told & bit(step) != 0 {
                continue;
            }
            let knot = (0..self.before.len())
                .filter(|other| self.is_before(*other, step) && self.is_before(step, *other))
                .fold(0, |row, other| row | bit(other));
            told |= knot;
            cycles.push(self.shortest_cycle(step));
        }
        cycles
    }

    /// Goes back from predecessor to predecessor until the step is met again.
    fn shortest_cycle(&self, start: usize) -> Vec<usize> {
        let mut follower = BTreeMap::new();
        let mut queue = VecDeque::from([start]);
        let mut seen = 0;
        while let Some(step) = queue.pop_front() {
            let row = self.direct.get(step).copied().unwrap_or(0);
            for earlier in (0..self.direct.len()).filter(|earlier| row & bit(*earlier) != 0) {
                if earlier == start {
                    let mut cycle = vec![start, step];
                    let mut last = step;
                    while let Some(next) = follower.get(&last) {
                        last = *next;
                        cycle.push(last);
                    }
                    return cycle;
                }
                if seen & bit(earlier) == 0 {
                    seen |= bit(earlier);
                    follower.insert(earlier, step);
                    queue.push_back(earlier);
                }
            }
        }
        vec![start]
    }
}
