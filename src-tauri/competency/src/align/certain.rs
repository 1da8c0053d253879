//! What every best choice holds, found without a flow: in most logs that is all of it.
//!
//! Nodes in conflict are neighbours. Two rules, repeated until neither applies:
//!
//! - A node whose neighbours are all in conflict with each other, and that weighs more than any of them, is
//!   in every best choice: a choice holds one of them at most, and putting the node in its place makes it
//!   better.
//! - A node that weighs less than those of its neighbours together that have no other neighbour is in none.
//!
//! Both only settle what no tie can touch, so the choice is the very one that the cut alone would give.

use super::nodes::Node;
use crate::bits::Bits;
use crate::model::Order;

/// The most nodes that are looked at: as many as fit into one row.
const MOST: usize = 128;

/// Parts the nodes that every best choice holds from those that are still open.
pub(super) fn certain(order: &Order, nodes: Vec<Node>, weights: &[i64]) -> (Vec<Node>, Vec<Node>) {
    if nodes.len() > MOST {
        return (Vec::new(), nodes);
    }
    let near = neighbours(order, &nodes);
    let row = |node: usize| near.get(node).copied().unwrap_or_default();
    let weight = |node: usize| weights.get(node).copied().unwrap_or_default();
    let (mut chosen, mut open) = (Bits::EMPTY, Bits::first(nodes.len()));
    loop {
        let before = open;
        for node in before.iter() {
            let around = row(node).and(open);
            if !open.has(node) {
                continue;
            }
            let lighter = around.iter().all(|other| weight(other) < weight(node));
            let in_conflict = |other| around.without(row(other)).without(Bits::one(other)).is_empty();
            if lighter && around.iter().all(in_conflict) {
                chosen.insert(node);
                open = open.without(around).without(Bits::one(node));
                continue;
            }
            let only_here = |&other: &usize| row(other).and(open) == Bits::one(node);
            if around.iter().filter(only_here).map(weight).sum::<i64>() > weight(node) {
                open.remove(node);
            }
        }
        if open == before {
            break;
        }
    }
    let of = |set: Bits| set.iter().filter_map(|node| nodes.get(node).copied()).collect();
    (of(chosen), of(open))
}

/// For each node the nodes that it is in conflict with. The nodes are by rising event and step.
fn neighbours(order: &Order, nodes: &[Node]) -> Vec<Bits> {
    let mut of_step = vec![Bits::EMPTY; order.len()];
    let mut steps = Bits::EMPTY;
    for (number, node) in nodes.iter().enumerate() {
        steps.insert(node.step);
        if let Some(row) = of_step.get_mut(node.step) {
            row.insert(number);
        }
    }
    let all = |steps: Bits| {
        steps.iter().filter_map(|step| of_step.get(step)).fold(Bits::EMPTY, |all, &row| all.or(row))
    };
    // For each step the nodes of its own and of the steps before it, and of its own and of those after it.
    let mut sides = vec![(Bits::EMPTY, Bits::EMPTY); order.len()];
    for step in steps.iter() {
        let own = Bits::one(step);
        if let Some(sides) = sides.get_mut(step) {
            let (before, after) = (order.before(step).and(steps), order.after(step).and(steps));
            *sides = (all(before.or(own)), all(after.or(own)));
        }
    }
    let mut near = Vec::with_capacity(nodes.len());
    let (mut begun, mut place) = (Bits::EMPTY, 0);
    for group in nodes.chunk_by(|one, other| one.event == other.event) {
        let ended = Bits::first(place + group.len());
        for node in group {
            let (before, after) = sides.get(node.step).copied().unwrap_or_default();
            let same = ended.without(begun);
            let around = before.without(begun).or(after.and(begun)).or(after.and(same));
            near.push(around.without(Bits::one(place)));
            place += 1;
        }
        begun = ended;
    }
    near
}
