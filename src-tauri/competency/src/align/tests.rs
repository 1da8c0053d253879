//! The minimum cut itself.

use std::convert::Infallible;

use super::flow::{NO_LIMIT, Network};
use super::nodes::{Node, Nodes};
use super::{Alignment, Worth, greatest_antichain};
use crate::bits::Bits;
use crate::model::Order;
use crate::testing::chance::Chance;

/// Random closed rows `before`, and for each of some events the steps it may count as.
fn case(chance: &mut Chance) -> (Vec<Bits>, Vec<Bits>) {
    let size = 2 + chance.below(12);
    let mut before: Vec<Bits> = Vec::new();
    for step in 0..size {
        let direct: Vec<usize> = (0..step).filter(|_| chance.one_in(3)).collect();
        let row = direct.iter().fold(Bits::EMPTY, |row, &d| row.or(before[d]).or(Bits::one(d)));
        before.push(row);
    }
    let events = 2 + chance.below(18);
    let steps_of = (0..events).map(|_| (0..size).filter(|_| chance.one_in(4)).collect()).collect();
    (before, steps_of)
}

/// The nearest minimum cut is the same whichever maximum flow was found: here found over arcs added in
/// other orders.
#[test]
fn the_cut_does_not_depend_on_the_flow() {
    let mut chance = Chance(7);
    for _ in 0..300 {
        let vertices = 4 + chance.below(20);
        let mut arcs: Vec<(usize, usize, i64)> = (0..3 * vertices)
            .map(|_| {
                let capacity =
                    if chance.one_in(5) { NO_LIMIT } else { i64::try_from(chance.below(9)).unwrap() };
                (chance.below(vertices - 1), 1 + chance.below(vertices - 1), capacity)
            })
            .filter(|&(from, to, capacity)| from != to && !(from == 0 && to == vertices - 1 && capacity > 9))
            .collect();
        let side = |arcs: &[(usize, usize, i64)]| {
            let mut network = Network::new(vertices);
            // The first arcs bound the flow, so that it never reaches the capacity without limit.
            network.add(0, 1, 20);
            for &(from, to, capacity) in arcs.iter().filter(|&&(from, _, _)| from != 0) {
                network.add(from, to, capacity);
            }
            let Ok(()) = network.saturate(0, vertices - 1, &|| Ok::<(), Infallible>(()));
            network.side_of(0)
        };
        let expected = side(&arcs);
        for _ in 0..5 {
            chance.shuffle(&mut arcs);
            assert_eq!(side(&arcs), expected);
        }
    }
}

/// The direct edges generate the whole order of the nodes, and nothing else.
#[test]
fn edges_generate_the_order() {
    let mut chance = Chance(11);
    for _ in 0..200 {
        let (before, steps_of) = case(&mut chance);
        let nodes = Nodes::new(&Order::from(before.clone()), &steps_of);
        let all = nodes.all();
        for (index, node) in all.iter().enumerate() {
            let mut reached = vec![false; all.len()];
            let mut open = vec![index];
            while let Some(here) = open.pop() {
                for &above in nodes.above(here) {
                    if !std::mem::replace(&mut reached[above], true) {
                        open.push(above);
                    }
                }
            }
            for (other, reached) in all.iter().zip(reached) {
                let not_later = other.event <= node.event;
                let greater = before[other.step].has(node.step) || other.step == node.step;
                assert_eq!(reached, greater && not_later && other != node, "{node:?} to {other:?}");
            }
        }
    }
}

/// Parting off what is in conflict with nothing, and the rest into groups, changes nothing: what is chosen
/// is what the whole at once gives.
#[test]
fn groups_and_single_nodes_add_up() {
    let mut chance = Chance(13);
    let mut alone = 0;
    for _ in 0..400 {
        let (before, steps_of) = case(&mut chance);
        let order = Order::from(before);
        let values: Vec<i64> = (0..400).map(|_| 1 + i64::try_from(chance.below(5)).unwrap()).collect();
        let weight = |node: &Node| values[20 * node.step + node.event];
        alone += super::nodes::part(&order, &steps_of).0.len();
        let Ok(parted) = greatest_antichain(&order, &steps_of, weight, &|| Ok::<(), Infallible>(()));
        let nodes = Nodes::new(&order, &steps_of);
        let weights: Vec<i64> = nodes.all().iter().map(weight).collect();
        let everything: Vec<usize> = (0..nodes.all().len()).collect();
        let Ok(whole) = super::of_group(&nodes, &everything, &weights, &|| Ok::<(), Infallible>(()));
        let mut pairs: Vec<(usize, usize)> =
            whole.iter().map(|&node| (nodes.all()[node].step, nodes.all()[node].event)).collect();
        pairs.sort_unstable_by_key(|&(step, event)| (event, step));
        let weight = whole.iter().map(|&node| weights[node]).sum();
        assert_eq!(parted, Alignment { weight, pairs });
    }
    assert!(alone > 100, "some nodes are in conflict with none");
}

/// A level's unit outweighs whatever 128 pairs can bring on all lower levels.
#[test]
fn levels_never_mix() {
    let weight = |saves, warned, credit, as_live| Worth { saves, warned, credit, as_live }.weight();
    let most = 128;
    assert!(
        weight(1, false, 0, false) - weight(0, false, 0, false)
            > most * (weight(0, false, 2, true) - weight(0, true, 0, false))
    );
    assert!(weight(0, false, 0, false) - weight(0, true, 0, false) > most * weight(0, false, 2, true));
    assert!(weight(0, false, 1, false) - weight(0, false, 0, false) > most * weight(0, false, 0, true));
    assert!(weight(0, false, 0, false) > most * (weight(0, false, 0, true) - weight(0, false, 0, false)));
    assert!(weight(1, true, 0, false) > 0 && weight(2, false, 2, true) * most < NO_LIMIT);
}

/// Asked to stop, it stops.
#[test]
fn it_can_be_stopped() {
    let before: Vec<Bits> = (0..3).map(Bits::first).collect();
    let stopped = greatest_antichain(&before.into(), &[Bits::first(3); 3], |_| 1, &|| Err("stopped"));
    assert_eq!(stopped, Err("stopped"));
}
