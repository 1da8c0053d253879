//! The nodes of an alignment and the direct edges of their order.

use crate::bits::Bits;

/// A step with an event that may count as it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Node {
    pub(crate) step: usize,
    pub(crate) event: usize,
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
    pub(crate) fn new(before: &[Bits], steps_of: &[Bits]) -> Nodes {
        let mut after = vec![Bits::EMPTY; before.len()];
        for (step, row) in before.iter().enumerate() {
            for first in row.iter() {
                if let Some(row) = after.get_mut(first) {
                    row.insert(step);
                }
            }
        }
        let row = |rows: &[Bits], step: usize| rows.get(step).copied().unwrap_or_default();
        let mut found = Nodes { all: Vec::new(), starts: Vec::new(), edges: Vec::new() };
        // For each step its latest node; and the steps by the event of that node, latest last.
        let mut latest: Vec<Option<usize>> = vec![None; before.len()];
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
                let mut open = row(&after, step);
                for &(at, held) in recent.iter().rev() {
                    // What is not later than this step's own previous node is reached through that.
                    if open.is_empty() || own.is_some_and(|own| at <= own) {
                        break;
                    }
                    let here = open.and(held);
                    for least in here.iter().filter(|&least| row(before, least).and(here).is_empty()) {
                        found.edges.extend(latest.get(least).copied().flatten());
                        open = open.without(row(&after, least)).without(Bits::one(least));
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

    /// The nodes that are in conflict with none.
    pub(crate) fn unconflicted(&self) -> impl Iterator<Item = usize> {
        let mut in_conflict = vec![false; self.all.len()];
        for node in 0..self.all.len() {
            for &end in self.above(node).iter().chain((!self.above(node).is_empty()).then_some(&node)) {
                if let Some(flag) = in_conflict.get_mut(end) {
                    *flag = true;
                }
            }
        }
        in_conflict.into_iter().enumerate().filter(|(_, conflict)| !conflict).map(|(node, _)| node)
    }

    /// The other nodes in groups that no edge joins, each by rising number.
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
        members.retain(|group| group.len() > 1);
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
