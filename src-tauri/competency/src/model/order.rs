//! The order of the steps: its closure, its paths, and the orders that steps sharing an act may take.

use super::{Model, Row};
use crate::bits::Bits;

/// One closed order of the steps: for each the steps before it, and the steps after it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Order {
    before: Vec<Bits>,
    after: Vec<Bits>,
}

impl Order {
    pub(crate) fn before(&self, step: usize) -> Bits {
        self.before.get(step).copied().unwrap_or_default()
    }

    pub(crate) fn after(&self, step: usize) -> Bits {
        self.after.get(step).copied().unwrap_or_default()
    }

    pub(crate) fn len(&self) -> usize {
        self.before.len()
    }

    /// The same with one more pair in order.
    fn with(&self, first: usize, second: usize) -> Order {
        let earlier = self.before(first).or(Bits::one(first));
        let later = self.after(second).or(Bits::one(second));
        let mut order = self.clone();
        for (step, (before, after)) in order.before.iter_mut().zip(&mut order.after).enumerate() {
            if later.has(step) {
                *before = before.or(earlier);
            }
            if earlier.has(step) {
                *after = after.or(later);
            }
        }
        order
    }
}

#[cfg(test)]
impl From<Vec<Bits>> for Order {
    fn from(before: Vec<Bits>) -> Order {
        let after = |step: usize| (0..before.len()).filter(|&later| before[later].has(step)).collect();
        Order { after: (0..before.len()).map(after).collect(), before }
    }
}

/// Closes the order: fills in `before` and `after` from the declared predecessors. A cycle, which
/// checking refuses, puts its steps before themselves.
pub(super) fn close(rows: &mut [Row]) {
    let mut before: Vec<Bits> =
        rows.iter().map(|row| row.declared.iter().map(|edge| edge.before).collect()).collect();
    for middle in 0..before.len() {
        let Some(&through) = before.get(middle) else { continue };
        for row in &mut before {
            if row.has(middle) {
                *row = row.or(through);
            }
        }
    }
    for (step, &row) in before.iter().enumerate() {
        for first in row.iter() {
            if let Some(first) = rows.get_mut(first) {
                first.after.insert(step);
            }
        }
    }
    for (row, before) in rows.iter_mut().zip(before) {
        row.before = before;
    }
}

impl Model {
    /// The shortest chain of declared precedences from one step to a later one, as pairs (before,
    /// after); among equally short ones the one with a danger, then the first in file order. Empty
    /// where the order does not lead from one to the other.
    pub(crate) fn path(&self, first: usize, last: usize) -> Vec<(usize, usize)> {
        #[derive(Clone, Copy)]
        struct Best {
            length: usize,
            safe: bool,
            next: usize,
        }
        if !self.must_precede(first, last) {
            return Vec::new();
        }
        // Breadth first from the last step backwards; what lies between is in both closures.
        let between = self.after(first).and(self.before(last)).or(Bits::one(first));
        let mut best: Vec<Option<Best>> = vec![None; self.len()];
        let mut layer = vec![last];
        let mut length = 0;
        while !layer.is_empty() && best.get(first).is_none_or(Option::is_none) {
            length += 1;
            let mut reached = Bits::EMPTY;
            for &step in &layer {
                let onward_safe = best.get(step).copied().flatten().is_none_or(|onward| onward.safe);
                for edge in self.declared(step).iter().filter(|edge| between.has(edge.before)) {
                    let offer = Best { length, safe: onward_safe && !edge.danger, next: step };
                    let Some(slot) = best.get_mut(edge.before) else { continue };
                    let better = slot.is_none_or(|held| {
                        held.length == length && (offer.safe, offer.next) < (held.safe, held.next)
                    });
                    if better {
                        *slot = Some(offer);
                        reached.insert(edge.before);
                    }
                }
            }
            layer = reached.iter().collect();
        }
        let mut pairs = Vec::new();
        let mut step = first;
        while step != last {
            let Some(onward) = best.get(step).copied().flatten() else { return Vec::new() };
            pairs.push((step, onward.next));
            step = onward.next;
        }
        pairs
    }

    /// Whether the declared precedence between two steps is a danger.
    pub(crate) fn danger(&self, before: usize, after: usize) -> bool {
        self.declared(after).iter().any(|edge| edge.before == before && edge.danger)
    }

    /// Why the declared precedence between two steps matters, where the file says so.
    pub(crate) fn why(&self, before: usize, after: usize) -> Option<&str> {
        self.declared(after).iter().find(|edge| edge.before == before).and_then(|edge| edge.why.as_deref())
    }

    /// Among these steps, every order in which the pairs that share one of these acts and are not yet
    /// ordered may be put without a cycle; at most `limit` of them.
    pub(crate) fn orders(&self, among: Bits, acts: impl Fn(usize) -> bool, limit: usize) -> Vec<Order> {
        let mut sharing = vec![Bits::EMPTY; self.len()];
        for (_, act) in self.act_rows.iter().enumerate().filter(|(number, _)| acts(*number)) {
            let steps = act.steps.and(among);
            for step in steps.iter() {
                if let Some(row) = sharing.get_mut(step) {
                    *row = row.or(steps).without(Bits::one(step));
                }
            }
        }
        let mut orders = Vec::new();
        let mut open = vec![Order {
            before: self.rows.iter().map(|row| row.before).collect(),
            after: self.rows.iter().map(|row| row.after).collect(),
        }];
        while let Some(order) = open.pop() {
            match unordered_pair(&order, &sharing) {
                None => orders.push(order),
                Some((first, second)) => {
                    // The branch in file order is looked at first.
                    open.push(order.with(second, first));
                    open.push(order.with(first, second));
                }
            }
            if orders.len() == limit {
                break;
            }
        }
        orders
    }
}

/// In how many orders the unordered steps that share an act may be put, counted up to `limit`.
///
/// Scoring tries each of them, so a procedure may have [`super::MAX_SHARED_ORDERS`] at most: call it
/// with one more than that as the limit.
pub fn orders_of_shared_acts(model: &Model, limit: usize) -> usize {
    model.orders(Bits::first(model.len()), |_| true, limit).len()
}

fn unordered_pair(order: &Order, sharing: &[Bits]) -> Option<(usize, usize)> {
    sharing.iter().enumerate().find_map(|(step, &others)| {
        let open = others.without(order.before(step)).without(order.after(step));
        open.iter().find(|&other| other > step).map(|other| (step, other))
    })
}
