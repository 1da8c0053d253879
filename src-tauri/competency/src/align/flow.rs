//! Maximum flow by blocking flows (Dinitz 1970) over a network held in flat arrays.

#![expect(clippy::indexing_slicing, reason = "every index is a vertex or an arc that `new` and `add` made")]

/// A capacity that no flow reaches: the sum of all weights stays far below.
pub(super) const NO_LIMIT: i64 = i64::MAX / 4;

const NONE: u32 = u32::MAX;

/// A network. An arc and the one back are neighbours, so `arc ^ 1` is the one back.
pub(super) struct Network {
    first: Vec<u32>,
    next: Vec<u32>,
    to: Vec<u32>,
    left: Vec<i64>,
}

impl Network {
    pub(super) fn new(vertices: usize) -> Network {
        Network { first: vec![NONE; vertices], next: Vec::new(), to: Vec::new(), left: Vec::new() }
    }

    /// Adds an arc. Vertices stay below 2^32: twice 128 steps times the events that fit into memory.
    pub(super) fn add(&mut self, from: usize, to: usize, capacity: i64) {
        self.half(from, to, capacity);
        self.half(to, from, 0);
    }

    fn half(&mut self, from: usize, to: usize, capacity: i64) {
        let arc = u32::try_from(self.to.len()).unwrap_or(NONE);
        self.next.push(std::mem::replace(&mut self.first[from], arc));
        self.to.push(u32::try_from(to).unwrap_or(NONE));
        self.left.push(capacity);
    }

    /// Sends as much as possible from the source to the sink, unless it is stopped.
    pub(super) fn saturate<S>(
        &mut self,
        source: usize,
        sink: usize,
        stop: &dyn Fn() -> Result<(), S>,
    ) -> Result<(), S> {
        loop {
            stop()?;
            let level = self.levels(source);
            if level[sink] == NONE {
                return Ok(());
            }
            self.block(source, sink, level, stop)?;
        }
    }

    /// Arcs from the source to each vertex by the fewest arcs with something left.
    fn levels(&self, source: usize) -> Vec<u32> {
        let mut level = vec![NONE; self.first.len()];
        level[source] = 0;
        let mut queue = vec![source];
        let mut head = 0;
        while let Some(&vertex) = queue.get(head) {
            head += 1;
            for arc in self.arcs(vertex) {
                let to = self.to[arc] as usize;
                if self.left[arc] > 0 && level[to] == NONE {
                    level[to] = level[vertex] + 1;
                    queue.push(to);
                }
            }
        }
        level
    }

    /// Fills the shortest paths until none is left.
    fn block<S>(
        &mut self,
        source: usize,
        sink: usize,
        mut level: Vec<u32>,
        stop: &dyn Fn() -> Result<(), S>,
    ) -> Result<(), S> {
        let mut current = self.first.clone();
        let mut path: Vec<usize> = Vec::new();
        let mut filled = 0_u32;
        loop {
            let here = path.last().map_or(source, |&arc| self.to[arc] as usize);
            if here == sink {
                let least = path.iter().map(|&arc| self.left[arc]).min().unwrap_or(0);
                for &arc in &path {
                    self.left[arc] -= least;
                    self.left[arc ^ 1] += least;
                }
                let keep = path.iter().position(|&arc| self.left[arc] == 0).unwrap_or(0);
                path.truncate(keep);
                filled = filled.wrapping_add(1);
                if filled.is_multiple_of(1024) {
                    stop()?;
                }
                continue;
            }
            let mut arc = current[here];
            while arc != NONE {
                let onward = self.to[arc as usize] as usize;
                if self.left[arc as usize] > 0 && level[onward] == level[here].wrapping_add(1) {
                    break;
                }
                arc = self.next[arc as usize];
            }
            current[here] = arc;
            if arc != NONE {
                path.push(arc as usize);
            } else if path.pop().is_some() {
                // A dead end: no path of this round leads through it any more.
                level[here] = NONE;
            } else {
                return Ok(());
            }
        }
    }

    /// The vertices that can still be reached from the source: the nearest minimum cut.
    pub(super) fn side_of(&self, source: usize) -> Vec<bool> {
        self.levels(source).into_iter().map(|level| level != NONE).collect()
    }

    fn arcs(&self, vertex: usize) -> impl Iterator<Item = usize> {
        let mut arc = self.first[vertex];
        std::iter::from_fn(move || {
            (arc != NONE).then(|| {
                let here = arc as usize;
                arc = self.next[here];
                here
            })
        })
    }
}
