//! Which observed acts count as which steps, in order: the exact alignment.
//!
//! A node is a step with an observed act that may count as it. Nodes are ordered: (s, i) below (t, j)
//! iff s is t or comes before t, and i is not earlier than j. What may count together is an antichain
//! of that order, so the best choice is a maximum-weight antichain: a minimum cut (Dilworth 1950;
//! Fulkerson 1956). This is the optimal alignment of Adriansyah, van Dongen and van der Aalst (2011)
//! between a log and a partial order, at unit costs.
//!
//! Steps that share an act must be in order for that to hold; where they are not, every order they may
//! take is tried ([`crate::model::orders_of_shared_acts`]).

use crate::bits::Bits;
use crate::model::Order;

mod certain;
mod flow;
mod nodes;
#[cfg(test)]
mod tests;

use flow::Network;
use nodes::{Node, Nodes};

/// One choice: pairs (step, event), by rising event, and the sum of their weights.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Alignment {
    pub(crate) weight: i64,
    pub(crate) pairs: Vec<(usize, usize)>,
}

/// The weight of one pair. The levels never mix: a sum over the most pairs there can be, 128, stays
/// below the next level's unit.
pub(crate) struct Worth {
    /// What the pair saves of the alignment cost: 0, 1 or 2.
    pub(crate) saves: u8,
    /// The live rule warned about the act.
    pub(crate) warned: bool,
    /// 0, 1 or 2.
    pub(crate) credit: u8,
    /// The live rule counted the act as this very step.
    pub(crate) as_live: bool,
}

impl Worth {
    /// Always positive: an act that costs nothing is never warned about, and every pair counts as one.
    pub(crate) fn weight(&self) -> i64 {
        (i64::from(self.saves) << 35) - (i64::from(self.warned) << 26)
            + (i64::from(self.credit) << 16)
            + (1 << 8)
            + i64::from(self.as_live)
    }
}

/// Aligns events with steps under each of these orders and keeps the best. `steps_of` gives for each
/// event the steps it may count as. Among equally good ones: the one whose events come earliest, then
/// the greatest antichain, then the one that is first in file order.
pub(crate) fn align<S>(
    orders: &[Order],
    steps_of: &[Bits],
    worth: impl Fn(usize, usize) -> Worth,
    stop: &dyn Fn() -> Result<(), S>,
) -> Result<Alignment, S> {
    let mut best: Option<Alignment> = None;
    let weight = |node: &Node| worth(node.step, node.event).weight();
    for order in orders {
        let found = greatest_antichain(order, steps_of, weight, stop)?;
        let better = best.as_ref().is_none_or(|held| {
            (found.weight, events(&held.pairs), steps(&held.pairs))
                > (held.weight, events(&found.pairs), steps(&found.pairs))
        });
        if better {
            best = Some(found);
        }
    }
    Ok(best.unwrap_or(Alignment { weight: 0, pairs: Vec::new() }))
}

fn events(pairs: &[(usize, usize)]) -> Vec<usize> {
    pairs.iter().map(|&(_, event)| event).collect()
}

fn steps(pairs: &[(usize, usize)]) -> Vec<usize> {
    pairs.iter().map(|&(step, _)| step).collect()
}

/// The greatest among the antichains of most weight: later steps, earlier events. Nodes in conflict
/// with none are taken as they are, and so is what else is certain; the others part into groups that have
/// nothing to do with each other.
fn greatest_antichain<S>(
    order: &Order,
    steps_of: &[Bits],
    weight: impl Fn(&Node) -> i64,
    stop: &dyn Fn() -> Result<(), S>,
) -> Result<Alignment, S> {
    let (mut chosen, open) = nodes::part(order, steps_of);
    let open: Vec<Node> = nodes::each(&open).collect();
    let weights: Vec<i64> = open.iter().map(&weight).collect();
    let (certain, open) = certain::certain(order, open, &weights);
    chosen.extend(certain);
    if !open.is_empty() {
        let nodes = Nodes::new(order, &nodes::steps_by_event(&open, steps_of.len()));
        let weights: Vec<i64> = nodes.all().iter().map(&weight).collect();
        for group in nodes.groups() {
            let of_group = of_group(&nodes, &group, &weights, stop)?;
            chosen.extend(of_group.into_iter().filter_map(|node| nodes.all().get(node)));
        }
    }
    chosen.sort_unstable_by_key(|node| (node.event, node.step));
    Ok(Alignment {
        weight: chosen.iter().map(weight).sum(),
        pairs: chosen.into_iter().map(|node| (node.step, node.event)).collect(),
    })
}

/// A minimum cut. Every node has a lower and an upper half. The source feeds each lower half with the
/// node's weight, each upper half drains as much; a lower half leads to the upper halves of what is
/// greater, and an upper half back to its own lower one, so that direct edges are enough. Of all
/// minimum cuts the one nearest to the source does not depend on the flow found; the nodes whose lower
/// half alone lies on its side are the greatest antichain.
fn of_group<S>(
    nodes: &Nodes,
    group: &[usize],
    weights: &[i64],
    stop: &dyn Fn() -> Result<(), S>,
) -> Result<Vec<usize>, S> {
    let (source, sink) = (2 * group.len(), 2 * group.len() + 1);
    let mut network = Network::new(2 * group.len() + 2);
    for (place, &node) in group.iter().enumerate() {
        let weight = weights.get(node).copied().unwrap_or_default();
        network.add(source, 2 * place, weight);
        network.add(2 * place + 1, sink, weight);
        network.add(2 * place + 1, 2 * place, flow::NO_LIMIT);
        for &above in nodes.above(node) {
            if let Ok(above) = group.binary_search(&above) {
                network.add(2 * place, 2 * above + 1, flow::NO_LIMIT);
            }
        }
    }
    network.saturate(source, sink, stop)?;
    let side = network.side_of(source);
    let on_side = |half: usize| side.get(half).copied().unwrap_or_default();
    let kept = group.iter().enumerate().filter(|&(place, _)| on_side(2 * place) && !on_side(2 * place + 1));
    Ok(kept.map(|(_, &node)| node).collect())
}
