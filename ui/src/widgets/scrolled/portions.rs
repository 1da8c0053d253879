//! The rows of a long list, a portion at a time, each asked for once.

use std::{collections::BTreeMap, ops::Range, pin::Pin, sync::Arc};

use contract::Fault;
use leptos::{prelude::*, task::spawn_local};

use super::heights::BLOCK;

/// How many rows are asked for at once: more than one block, so that scrolling asks seldom, and few, so that reading the
/// answer takes no longer than a frame.
pub(crate) const PORTION: u32 = 3 * BLOCK;

/// How many portions before and after the one asked for last are kept; those further away are asked for again.
const KEPT: u32 = 20;

/// The rows that were asked for, once they are here.
pub(crate) type Answer<T> = Pin<Box<dyn Future<Output = Result<Vec<T>, Fault>>>>;

/// Asks for rows: how many to pass over, and at most how many.
type Ask<T> = Arc<dyn Fn(u32, u32) -> Answer<T> + Send + Sync>;

/// Where the rows of a portion are put.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Rows<T> {
    /// Nobody asked for them yet.
    Unasked,
    /// They are on their way.
    Asked,
    /// They are here.
    Here(Vec<T>),
    /// They did not come.
    Failed(Fault),
}

/// All portions of one list.
pub(super) struct Portions<T: Send + Sync + 'static> {
    each: StoredValue<BTreeMap<u32, ArcRwSignal<Rows<T>>>>,
    ask: StoredValue<Ask<T>>,
}

// Derived, both would ask that a row can be copied.
impl<T: Send + Sync> Clone for Portions<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T: Send + Sync> Copy for Portions<T> {}

impl<T: Clone + Send + Sync + 'static> Portions<T> {
    /// Those that are here already, from the first row on; all others are asked for when they come near.
    pub(super) fn new(
        here: &[T],
        ask: impl Fn(u32, u32) -> Answer<T> + Send + Sync + 'static,
    ) -> Portions<T> {
        let rows = usize::try_from(PORTION).unwrap_or(usize::MAX);
        let each = here.chunks(rows).map(|rows| ArcRwSignal::new(Rows::Here(rows.to_vec())));
        Portions { each: StoredValue::new((0..).zip(each).collect()), ask: StoredValue::new(Arc::new(ask)) }
    }

    /// The portion that a row is in, and which rows of it a block is.
    pub(super) fn place(rows: &Range<u32>) -> (u32, Range<usize>) {
        let portion = rows.start / PORTION;
        let within = |row: u32| usize::try_from(row - portion * PORTION).unwrap_or(usize::MAX);
        (portion, within(rows.start)..within(rows.end))
    }

    /// Where the rows of a portion are put.
    pub(super) fn slot(self, portion: u32) -> ArcRwSignal<Rows<T>> {
        let slot = self.each.try_update_value(|each| {
            each.entry(portion).or_insert_with(|| ArcRwSignal::new(Rows::Unasked)).clone()
        });
        slot.unwrap_or_else(|| ArcRwSignal::new(Rows::Unasked))
    }

    /// Asks for the rows of a portion and of those beside it, of `rows` in all.
    pub(super) fn ask_around(self, portion: u32, rows: u32) {
        let last = rows.saturating_sub(1) / PORTION;
        for near in portion.saturating_sub(1)..=portion.saturating_add(1).min(last) {
            self.ask(near);
        }
    }

    /// Asks for the rows of a portion, where nobody did or they did not come.
    pub(super) fn ask(self, portion: u32) {
        let slot = self.slot(portion);
        let waits = slot.with_untracked(|rows| matches!(rows, Rows::Unasked | Rows::Failed(_)));
        let Some(ask) = waits.then(|| self.ask.try_get_value()).flatten() else { return };
        slot.set(Rows::Asked);
        let near = portion.saturating_sub(KEPT)..=portion.saturating_add(KEPT);
        self.each.try_update_value(|each| each.retain(|other, _| near.contains(other)));
        spawn_local(async move {
            slot.set(match ask(portion * PORTION, PORTION).await {
                Ok(rows) => Rows::Here(rows),
                Err(fault) => Rows::Failed(fault),
            });
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_block_is_found_in_its_portion() {
        for (rows, place) in
            [(0..10, (0, 0..10)), (20..30, (0, 20..30)), (30..40, (1, 0..10)), (9_990..9_993, (333, 0..3))]
        {
            assert_eq!(Portions::<u32>::place(&rows), place, "{rows:?}");
        }
    }
}
