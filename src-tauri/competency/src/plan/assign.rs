//! A minimum-cost flow from items through places, by shortest augmenting paths.

/// Assigns items to sessions with `free` places at the least total cost, given what each costs each (`None` where it
/// may not) and what it costs to leave each of them out.
///
/// Items are added one by one, each along the shortest path of the residual graph: it enters a session, an
/// item there moves to another, and so on, until a place is free or one item is left out. The assignment is
/// then of least cost among all of the items so far, so that no path has a negative circle and the last one
/// makes it exact. A path is a path over sessions, since of the items of a session
/// only the cheapest to move matters: `sessions` squared for each item.
pub(super) fn assign(costs: &[Vec<Option<i128>>], left_out: &[i128], free: &[usize]) -> Vec<Option<usize>> {
    let mut flow = Flow {
        costs,
        left_out,
        free: free.to_vec(),
        of: vec![None; costs.len()],
        moves: vec![vec![None; free.len()]; free.len()],
        out: vec![None; free.len()],
        members: vec![Vec::new(); free.len()],
    };
    for item in 0..costs.len() {
        flow.add(item);
    }
    flow.of
}

struct Flow<'c> {
    costs: &'c [Vec<Option<i128>>],
    /// What leaving each item out costs.
    left_out: &'c [i128],
    free: Vec<usize>,
    /// The session of each item.
    of: Vec<Option<usize>>,
    members: Vec<Vec<usize>>,
    /// The least cost of moving an item from one session to another, with the item.
    moves: Vec<Vec<Option<(i128, usize)>>>,
    /// The least cost of leaving out an item of a session, with the item.
    out: Vec<Option<(i128, usize)>>,
}

/// How a path ends.
#[derive(Clone, Copy)]
enum End {
    /// In a session with a free place.
    Free(usize),
    /// In a session, with this item of it left out.
    Out(usize, usize),
    /// With the new item left out.
    Never,
}

#[expect(clippy::indexing_slicing, reason = "every index is below the number of items or of sessions")]
impl Flow<'_> {
    fn add(&mut self, item: usize) {
        let count = self.free.len();
        let mut distance = self.costs[item].clone();
        let mut before: Vec<Option<usize>> = vec![None; count];
        let mut changed = true;
        // Bellman and Ford: moves may have negative costs, but no circle of them has.
        while changed {
            changed = false;
            for from in 0..count {
                let Some(so_far) = distance[from] else { continue };
                for to in 0..count {
                    let Some((cost, _)) = self.moves[from][to] else { continue };
                    if distance[to].is_none_or(|known| so_far + cost < known) {
                        distance[to] = Some(so_far + cost);
                        before[to] = Some(from);
                        changed = true;
                    }
                }
            }
        }
        let (mut best, mut end) = (self.left_out[item], End::Never);
        for (at, so_far) in distance.iter().enumerate() {
            let Some(so_far) = *so_far else { continue };
            if self.free[at] > 0 && so_far < best {
                (best, end) = (so_far, End::Free(at));
            }
            if let Some((cost, member)) = self.out[at]
                && so_far + cost < best
            {
                (best, end) = (so_far + cost, End::Out(at, member));
            }
        }
        let mut at = match end {
            End::Never => return,
            End::Free(at) => {
                self.free[at] -= 1;
                at
            }
            End::Out(at, member) => {
                self.take(member, None);
                at
            }
        };
        // Back along the path: each session gets the item that the one before gives up for it.
        let mut touched = vec![at];
        while let Some(from) = before[at] {
            if let Some((_, member)) = self.moves[from][at] {
                self.take(member, Some(at));
            }
            touched.push(from);
            at = from;
        }
        self.take(item, Some(at));
        for session in touched {
            self.reckon(session);
        }
    }

    fn take(&mut self, item: usize, to: Option<usize>) {
        if let Some(from) = self.of[item] {
            self.members[from].retain(|member| *member != item);
        }
        if let Some(to) = to {
            self.members[to].push(item);
        }
        self.of[item] = to;
    }

    /// Anew, what leaving this session costs.
    fn reckon(&mut self, session: usize) {
        let members = &self.members[session];
        let leaving = |cost_there: &dyn Fn(usize) -> Option<i128>| {
            let cost = |item: usize| Some((cost_there(item)? - self.costs[item][session]?, item));
            members.iter().filter_map(|item| cost(*item)).min()
        };
        let moves = (0..self.free.len())
            .map(|to| if to == session { None } else { leaving(&|item| self.costs[item][to]) })
            .collect();
        let out = leaving(&|item| Some(self.left_out[item]));
        self.moves[session] = moves;
        self.out[session] = out;
    }
}
