//! The nodes of an alignment and the direct edges of their order.

use crate::bits::Bits;
use crate::model::Order;

/// A step with an event that may count as it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Node {
    pub(crate) step: usize,
    pub(crate) event: usize,
}

/// Parts the nodes that are in conflict with none, and for each event leaves the steps of the others. Two
/// sweeps over the events: most acts of most logs need nothing more.
pub(crate) fn part(order: &Order, steps_of: &[Bits]) -> (Vec<Node>, Vec<Bits>) {
    let mut open: Vec<Bits> = vec![Bits::EMPTY; steps_of.len()];
    let mut sweep = |event: usize, steps: Bits, seen: Bits, wrong: &dyn Fn(usize) -> Bits| {
        let conflicts = |&step: &usize| {
            let same = steps.and(order.before(step).or(order.after(step)));
            !same.or(seen.and(wrong(step).or(Bits::one(step)))).is_empty()
        };
        if let Some(open) = open.get_mut(event) {
            *open = open.or(steps.iter().filter(conflicts).collect());
        }
    };
    let mut seen = Bits::EMPTY;
    for (event, &steps) in steps_of.iter().enumerate() {
        sweep(event, steps, seen, &|step| order.after(step));
        seen = seen.or(steps);
    }
    seen = Bits::EMPTY;
    for (event, &steps) in steps_of.iter().enumerate().rev() {
        sweep(event, steps, seen, &|step| order.before(step));
        seen = seen.or(steps);
    }
    let alone: Vec<Bits> = steps_of.iter().zip(&open).map(|(&steps, &open)| steps.without(open)).collect();
    (each(&alone).collect(), open)
}

/// The nodes of all events, by rising event and step.
pub(crate) fn each(steps_of: &[Bits]) -> impl Iterator<Item = Node> {
    let events = steps_of.iter().enumerate();
    events.flat_map(|(event, steps)| steps.iter().map(move |step| Node { step, event }))
}

/// The steps of these nodes for each of so many events.
pub(crate) fn steps_by_event(nodes: &[Node], events: usize) -> Vec<Bits> {
    let mut steps_of = vec![Bits::EMPTY; events];
    for node in nodes {
        if let Some(steps) = steps_of.get_mut(node.event) {
            steps.insert(node.step);
        }
    }
    steps_of
}

/// All nodes, by rising event and step, with edges to what is directly greater. The edges generate the
/// whole order; there are at most as many as events times steps, and far fewer in most logs.
pub(crate) struct Nodes {
    all: Vec<Node>,
    /// For each node where its edges start in `edges`; one more at the end.
    starts: Vec<usize>,
    edges: Vec<usize>,
}

impl Nodes {
    pub(crate) fn new(order: &Order, steps_of: &[Bits]) -> Nodes {
        let mut found = Nodes { all: Vec::new(), starts: Vec::new(), edges: Vec::new() };
        // For each step its latest node; and the steps by the event of that node, latest last.
        let mut latest: Vec<Option<usize>> = vec![None; order.len()];
        let mut recent: Vec<(usize, Bits)> = Vec::new();
        for (event, &steps) in steps_of.iter().enumerate() {
            if steps.is_empty() {
                continue;
            }
            let previous: Vec<Option<usize>> =
                steps.iter().map(|step| latest.get(step).copied().flatten()).collect();
            for (step, node) in steps.iter().zip(found.all.len()..) {
                if let Some(latest) = latest.get_mut(step) {
                    *latest = Some(node);
                }
                found.all.push(Node { step, event });
            }
            recent.retain_mut(|(_, held)| {
                *held = held.without(steps);
                !held.is_empty()
            });
            recent.push((event, steps));
            for (step, previous) in steps.iter().zip(previous) {
                found.starts.push(found.edges.len());
                let own = previous.and_then(|node| found.all.get(node)).map(|node| node.event);
                found.edges.extend(previous);
                let mut open = order.after(step);
                for &(at, held) in recent.iter().rev() {
                    // What is not later than this step's own previous node is reached through that.
                    if open.is_empty() || own.is_some_and(|own| at <= own) {
                        break;
                    }
                    let here = open.and(held);
                    for least in here.iter().filter(|&least| order.before(least).and(here).is_empty()) {
                        found.edges.extend(latest.get(least).copied().flatten());
                        open = open.without(order.after(least)).without(Bits::one(least));
                    }
                }
            }
        }
        found.starts.push(found.edges.len());
        found
    }

    pub(crate) fn all(&self) -> &[Node] {
        &self.all
    }

    /// What is directly greater than a node.
    pub(crate) fn above(&self, node: usize) -> &[usize] {
        let bounds = self.starts.get(node).zip(self.starts.get(node + 1));
        bounds.and_then(|(&from, &to)| self.edges.get(from..to)).unwrap_or(&[])
    }

    /// The nodes in groups that no edge joins, each by rising number.
    pub(crate) fn groups(&self) -> Vec<Vec<usize>> {
        let mut root: Vec<usize> = (0..self.all.len()).collect();
        for node in 0..self.all.len() {
            for &above in self.above(node) {
                let (one, other) = (find(&mut root, node), find(&mut root, above));
                if let Some(slot) = root.get_mut(one.max(other)) {
                    *slot = one.min(other);
                }
            }
        }
        let mut members: Vec<Vec<usize>> = vec![Vec::new(); self.all.len()];
        for node in 0..self.all.len() {
            let root = find(&mut root, node);
            if let Some(members) = members.get_mut(root) {
                members.push(node);
            }
        }
        members.retain(|group| !group.is_empty());
        members
    }
}

fn find(root: &mut [usize], node: usize) -> usize {
    let mut here = node;
    while let Some(&up) = root.get(here)
        && up != here
    {
        let next = root.get(up).copied().unwrap_or(up);
        if let Some(slot) = root.get_mut(here) {
            *slot = next;
        }
        here = next;
    }
    here
}
