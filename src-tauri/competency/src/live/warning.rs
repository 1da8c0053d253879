//! The one warning of the live form: this came too early.

use std::cmp::Reverse;

use crate::bits::Bits;
use crate::model::Model;
use crate::procedure::{ActId, StepId};

/// An act came before something that must come first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Warning {
    /// The act.
    pub act: ActId,
    /// The step that it counts as.
    pub step: StepId,
    /// The required steps that should have come first, nearest first.
    pub first: Vec<ComesFirst>,
}

/// A step that should have come first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ComesFirst {
    /// The step.
    pub step: StepId,
    /// Breaking this order exposes the person.
    pub danger: bool,
    /// Why it matters, where the procedure says so.
    pub why: Option<String>,
}

impl Warning {
    pub(super) fn new(model: &Model, act: &str, step: usize, first: Bits) -> Warning {
        let mut near: Vec<(usize, Reverse<usize>, ComesFirst)> = first
            .iter()
            .filter_map(|number| {
                let path = model.path(number, step);
                let comes_first = model.step(number)?;
                let dangerous = path.iter().find(|&&(before, after)| model.danger(before, after));
                let why = dangerous
                    .into_iter()
                    .chain(path.iter().rev())
                    .find_map(|&(before, after)| model.why(before, after));
                let comes_first = ComesFirst {
                    step: comes_first.id.clone(),
                    danger: dangerous.is_some(),
                    why: why.or(comes_first.why.as_deref()).map(str::to_owned),
                };
                // Among equally near ones the last printed is the nearest.
                Some((path.len(), Reverse(number), comes_first))
            })
            .collect();
        near.sort_by_key(|&(distance, number, _)| (distance, number));
        let step = model.step(step).map(|step| step.id.clone()).unwrap_or_default();
        Warning { act: act.to_owned(), step, first: near.into_iter().map(|(_, _, first)| first).collect() }
    }
}
