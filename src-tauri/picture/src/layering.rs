//! Where the boxes of a layered graph stand: ranks from the top down, as few crossings as may be.
//!
//! The work is `rust-sugiyama`'s. It does not tell how a line that passes several ranks should run, so it
//! is asked twice: once for the ranks, then again with a narrow place held in each rank such a line passes.
//! With every line as short as can be, the second answer has the ranks of the first.

use std::collections::{BTreeMap, BTreeSet};

use rust_sugiyama::{configure::Config, from_vertices_and_edges};

/// Least distance between two neighbours of a rank, in points.
const BETWEEN: f64 = 22.0;
/// Width of the place held for a line that passes a rank, in points.
const PASSAGE: f64 = 4.0;

/// One connected part of a graph, its left edge at 0.
pub(crate) struct Part {
    pub(crate) boxes: Vec<Placed>,
    pub(crate) routes: Vec<Route>,
    pub(crate) width: f64,
}

/// A box, by its index.
pub(crate) struct Placed {
    pub(crate) node: usize,
    pub(crate) rank: usize,
    /// Its middle, from the part's left edge.
    pub(crate) x: f64,
}

/// A line, by the index of its edge.
pub(crate) struct Route {
    pub(crate) edge: usize,
    /// Where it passes the ranks between its ends, from the top down.
    pub(crate) passages: Vec<f64>,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Place {
    Node(usize),
    Passage { edge: usize, rank: usize },
}

/// Lays out `nodes` boxes, all `width` wide. Edges lead from an upper box to a lower one, without doubles;
/// one that closes a circle gets no route.
pub(crate) fn layered(nodes: usize, width: f64, edges: &[(usize, usize)]) -> Vec<Part> {
    let ranks = ranks(nodes, edges);
    let rank = |node: usize| ranks.get(&Place::Node(node)).copied().unwrap_or_default();
    let mut places: Vec<Place> = (0..nodes).map(Place::Node).collect();
    let mut links: Vec<(Place, Place)> = Vec::new();
    for (edge, &(from, to)) in edges.iter().enumerate().filter(|(_, (from, to))| rank(*from) < rank(*to)) {
        let passages = (rank(from) + 1..rank(to)).map(|rank| Place::Passage { edge, rank });
        places.extend(passages.clone());
        let stops: Vec<Place> =
            [Place::Node(from)].into_iter().chain(passages).chain([Place::Node(to)]).collect();
        links.extend(stops.iter().copied().zip(stops.iter().copied().skip(1)));
    }
    let wide = |place: Place| match place {
        Place::Node(_) => width,
        Place::Passage { .. } => PASSAGE,
    };
    let rank_of = |place: Place| match place {
        Place::Node(node) => rank(node),
        Place::Passage { rank, .. } => rank,
    };
    arranged(&places, &links, wide)
        .into_iter()
        .map(|part| {
            let xs = separated(part, wide, rank_of);
            let edge = |at: usize| edges.get(at).copied().unwrap_or_default();
            let boxes: Vec<Placed> = xs
                .iter()
                .filter_map(|(place, x)| match *place {
                    Place::Node(node) => Some(Placed { node, rank: rank(node), x: *x }),
                    Place::Passage { .. } => None,
                })
                .collect();
            let here: BTreeSet<usize> = boxes.iter().map(|placed| placed.node).collect();
            let routes = (0..edges.len())
                .filter(|at| here.contains(&edge(*at).0) && rank(edge(*at).0) < rank(edge(*at).1))
                .map(|at| Route {
                    edge: at,
                    passages: (rank(edge(at).0) + 1..rank(edge(at).1))
                        .filter_map(|rank| xs.get(&Place::Passage { edge: at, rank }).copied())
                        .collect(),
                })
                .collect();
            let right = xs.iter().map(|(place, x)| x + wide(*place) / 2.0).fold(0.0, f64::max);
            Part { boxes, routes, width: right }
        })
        .collect()
}

/// The rank of each node, from 0 at the top of its part.
fn ranks(nodes: usize, edges: &[(usize, usize)]) -> BTreeMap<Place, usize> {
    let places: Vec<Place> = (0..nodes).map(Place::Node).collect();
    let links: Vec<_> = edges.iter().map(|&(from, to)| (Place::Node(from), Place::Node(to))).collect();
    let mut ranks = BTreeMap::new();
    for part in arranged(&places, &links, |_| 1.0) {
        let mut heights: Vec<f64> = part.iter().map(|(_, _, y)| *y).collect();
        heights.sort_by(f64::total_cmp);
        heights.dedup_by(|a, b| a.total_cmp(b).is_eq());
        for (place, _, y) in part {
            ranks.insert(place, heights.partition_point(|height| height.total_cmp(&y).is_lt()));
        }
    }
    ranks
}

/// Asks the library: for each connected part, every place with its x and y.
fn arranged(
    places: &[Place],
    links: &[(Place, Place)],
    wide: impl Fn(Place) -> f64,
) -> Vec<Vec<(Place, f64, f64)>> {
    let number: BTreeMap<Place, u32> = places.iter().copied().zip(0..).collect();
    let vertices: Vec<(u32, (f64, f64))> =
        number.iter().map(|(place, at)| (*at, (wide(*place), 0.0))).collect();
    let edges: Vec<(u32, u32)> =
        links.iter().filter_map(|(from, to)| Some((*number.get(from)?, *number.get(to)?))).collect();
    let config = Config { vertex_spacing: BETWEEN, ..Config::default() };
    from_vertices_and_edges(&vertices, &edges, &config)
        .into_iter()
        .map(|(part, _, _)| {
            let mut part: Vec<_> =
                part.into_iter().filter_map(|(at, (x, y))| Some((*places.get(at)?, x, y))).collect();
            part.sort_by_key(|(place, _, _)| *place);
            part
        })
        .collect()
}

/// The x of every place, moved right where neighbours stood too close, with the left edge at 0.
fn separated(
    part: Vec<(Place, f64, f64)>,
    wide: impl Fn(Place) -> f64,
    rank: impl Fn(Place) -> usize,
) -> BTreeMap<Place, f64> {
    let mut rows: BTreeMap<usize, Vec<(Place, f64)>> = BTreeMap::new();
    for (place, x, _) in part {
        rows.entry(rank(place)).or_default().push((place, x));
    }
    let mut xs = BTreeMap::new();
    for row in rows.values_mut() {
        row.sort_by(|a, b| a.1.total_cmp(&b.1));
        let mut free = f64::NEG_INFINITY;
        for &(place, x) in row.iter() {
            let x = x.max(free + wide(place) / 2.0);
            free = x + wide(place) / 2.0 + BETWEEN;
            xs.insert(place, x);
        }
    }
    let left = xs.iter().map(|(place, x)| x - wide(*place) / 2.0).fold(f64::INFINITY, f64::min);
    for x in xs.values_mut() {
        *x -= left;
    }
    xs
}
