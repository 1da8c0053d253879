//! Steps done out of their order: unmatched steps paired with the unmatched acts that were them.

use std::collections::BTreeMap;

use super::watched::Watched;
use crate::bits::Bits;
use crate::model::Model;

/// A maximum pairing; among those the one with the earliest acts.
#[derive(Debug, Default)]
pub(super) struct Paired {
    step_of: BTreeMap<usize, usize>,
    event_of: BTreeMap<usize, usize>,
}

impl Paired {
    /// Pairs by augmenting paths (Berge 1957), act by act as they came, so that the earliest acts are
    /// kept. Required steps go first: an optional one never takes the act of a step that had to be done.
    pub(super) fn new(
        model: &Model,
        watched: &Watched,
        event_of: &[Option<usize>],
        step_of: &[Option<usize>],
    ) -> Paired {
        let unmatched: Bits =
            event_of.iter().enumerate().filter(|(_, event)| event.is_none()).map(|(step, _)| step).collect();
        // A step said to be out of sight is paired too: its act was logged, so that it was seen.
        let open = unmatched.and(watched.applies);
        let mut paired = Paired::default();
        for steps in [open.without(model.optional()), open] {
            for (number, event) in watched.events.iter().enumerate() {
                let unused = step_of.get(number).copied().flatten().is_none();
                if event.costs && unused && !paired.step_of.contains_key(&number) {
                    paired.augment(watched, steps, number, &mut Bits::EMPTY.clone());
                }
            }
        }
        paired
    }

    fn augment(&mut self, watched: &Watched, open: Bits, event: usize, tried: &mut Bits) -> bool {
        let Some(seen) = watched.events.get(event) else { return false };
        while let Some(step) = seen.steps.and(open).without(*tried).least() {
            tried.insert(step);
            let moves = match self.event_of.get(&step) {
                None => true,
                Some(&held) => self.augment(watched, open, held, tried),
            };
            if moves {
                self.event_of.insert(step, event);
                self.step_of.insert(event, step);
                return true;
            }
        }
        false
    }

    pub(super) fn event_of(&self, step: usize) -> Option<usize> {
        self.event_of.get(&step).copied()
    }

    pub(super) fn step_of(&self, event: usize) -> Option<usize> {
        self.step_of.get(&event).copied()
    }

    /// The pairs (step, event) in the order in which they came.
    pub(super) fn iter(&self) -> impl Iterator<Item = (usize, usize)> {
        self.step_of.iter().map(|(&event, &step)| (step, event))
    }
}
