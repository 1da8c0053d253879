//! Where each act has its fixed place on the live form.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

use crate::procedure::{ActId, Procedure, StepId};

/// A part of the live form.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Section {
    /// As the procedure names it; `None` for the acts that belong to no one section.
    pub title: Option<String>,
    /// Its steps, in file order.
    pub steps: Vec<StepId>,
    /// Its acts, in the order of the steps they serve.
    pub tiles: Vec<Tile>,
}

/// One act at its place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Tile {
    /// The act.
    pub act: ActId,
    /// What to show.
    pub label: String,
    /// What it is here.
    pub kind: TileKind,
}

/// What an act is on the live form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TileKind {
    /// It satisfies a step.
    Step,
    /// It stands for several acts done in one.
    Combined,
    /// It may be repeated anywhere.
    Free,
    /// It answers a response and satisfies no step.
    Answer,
    /// It must not happen.
    Forbidden,
    /// The procedure lists it and asks for it nowhere.
    Other,
}

/// Places every act once. An act of one section stands there; one that several sections call for, one that
/// answers what may happen at any time, and one that is free, forbidden or asked for by no step, stands in the
/// last section, which has no title and is in reach from every page.
pub(super) fn of(procedure: &Procedure) -> Vec<Section> {
    let mut sections: Vec<Section> = Vec::new();
    let mut homes: BTreeMap<&str, BTreeSet<usize>> = BTreeMap::new();
    for step in &procedure.steps {
        let place = sections
            .iter()
            .position(|section| section.title.as_deref() == Some(step.section.as_str()))
            .unwrap_or_else(|| {
                sections.push(Section {
                    title: Some(step.section.clone()),
                    steps: Vec::new(),
                    tiles: Vec::new(),
                });
                sections.len() - 1
            });
        if let Some(section) = sections.get_mut(place) {
            section.steps.push(step.id.clone());
        }
        for act in &step.acts {
            homes.entry(act).or_default().insert(place);
        }
    }
    let mut anytime = Section { title: None, steps: Vec::new(), tiles: Vec::new() };
    for act in order_of_acts(procedure) {
        let home = match (homes.get(act), procedure.combined_acts.get(act)) {
            (Some(places), _) if places.len() == 1 && !anywhere(procedure, act) => places.first().copied(),
            (None, Some(combined)) => combined
                .counts_as
                .iter()
                .find_map(|part| homes.get(part.as_str()).and_then(|places| places.first()).copied()),
            (_, _) => None,
        };
        let tile = Tile { act: act.to_owned(), label: label(procedure, act), kind: kind(procedure, act) };
        home.and_then(|place| sections.get_mut(place)).unwrap_or(&mut anytime).tiles.push(tile);
    }
    if !anytime.tiles.is_empty() {
        sections.push(anytime);
    }
    sections
}

/// Whether an act is free, or answers something that may happen while any page is shown.
fn anywhere(procedure: &Procedure, act: &str) -> bool {
    let answers = procedure.responses.iter().flat_map(|response| &response.acts);
    let mut all = answers.chain(&procedure.contamination_response).flatten().chain(&procedure.free_acts);
    all.any(|other| other == act)
}

/// Every act once: those of steps in file order, then combined, free, answering, forbidden and other ones.
fn order_of_acts(procedure: &Procedure) -> Vec<&str> {
    let answers = procedure.responses.iter().flat_map(|response| &response.acts);
    let mut seen = BTreeSet::new();
    procedure
        .steps
        .iter()
        .flat_map(|step| &step.acts)
        .chain(procedure.combined_acts.keys())
        .chain(&procedure.free_acts)
        .chain(answers.chain(&procedure.contamination_response).flatten())
        .chain(procedure.forbidden_acts.iter().map(|forbidden| &forbidden.act))
        .chain(procedure.acts.keys())
        .map(String::as_str)
        .filter(|act| seen.insert(*act))
        .collect()
}

fn label(procedure: &Procedure, act: &str) -> String {
    let plain = procedure.acts.get(act);
    let combined = || procedure.combined_acts.get(act).map(|combined| &combined.label);
    plain.or_else(combined).cloned().unwrap_or_else(|| act.to_owned())
}

fn kind(procedure: &Procedure, act: &str) -> TileKind {
    let named = |acts: &[String]| acts.iter().any(|named| named == act);
    let mut answers = procedure.responses.iter().flat_map(|response| &response.acts);
    if procedure.forbidden_acts.iter().any(|forbidden| forbidden.act == act) {
        TileKind::Forbidden
    } else if named(&procedure.free_acts) {
        TileKind::Free
    } else if procedure.steps.iter().any(|step| named(&step.acts)) {
        TileKind::Step
    } else if procedure.combined_acts.contains_key(act) {
        TileKind::Combined
    } else if answers.any(|group| named(group)) || procedure.contamination_response.iter().any(|g| named(g)) {
        TileKind::Answer
    } else {
        TileKind::Other
    }
}
