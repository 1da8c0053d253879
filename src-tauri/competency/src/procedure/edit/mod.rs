//! Editing a draft: one edit at a time, each a new procedure or a sentence that says why not.
//!
//! A draft may be unfinished in many ways, which [`super::check`] tells; but no edit makes an order that
//! cannot be kept or a reference that leads nowhere. An edit can be written down and done again, so that
//! a draft is its beginning and its edits.

mod lists;
mod order;
mod steps;

use serde::{Deserialize, Serialize};

pub use order::{Precedes, kept_in_order, precedes};
pub use steps::fresh_id;

use super::{
    ActId, CombinedAct, Condition, ConditionId, FacilityValues, ForbiddenAct, Mode, Phase, Precaution,
    Procedure, Response, Source, SourceId, Step, StepId, check,
};
use crate::model::Model;

/// One edit. What is *set* is added, or takes the place of the one with the same name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Edit {
    /// What stands at its head.
    SetHead(Head),
    /// The version, as [`super::Comparison::next_version`] proposes it.
    SetVersion(String),
    /// Everything the facility sets.
    SetFacilityValues(FacilityValues),
    /// A source.
    SetSource(Source),
    /// Takes a source out.
    RemoveSource(SourceId),
    /// An act with its label.
    SetAct {
        /// The act.
        id: ActId,
        /// What the observer reads.
        label: String,
    },
    /// Takes an act out.
    RemoveAct(ActId),
    /// An act that stands for several.
    SetCombinedAct {
        /// The act.
        id: ActId,
        /// What it stands for.
        act: CombinedAct,
    },
    /// Takes a combined act out.
    RemoveCombinedAct(ActId),
    /// A new step, with the order that it brings.
    AddStep {
        /// The step; its id is new.
        step: Step,
        /// Printed before this one; at the end where none is named.
        before: Option<StepId>,
    },
    /// Everything of a step but its order, which has edits of its own.
    ChangeStep(Step),
    /// Takes a step out; what it kept in order stays in order.
    RemoveStep(StepId),
    /// Prints a step in another place; binds nobody.
    MoveStep {
        /// The step.
        step: StepId,
        /// Printed before this one; at the end where none is named.
        before: Option<StepId>,
    },
    /// One step must come before another.
    Require {
        /// The earlier step.
        before: StepId,
        /// The later step.
        after: StepId,
        /// Breaking this very order exposes the wearer.
        danger: bool,
        /// Why; needed with a danger.
        why: Option<String>,
    },
    /// Two steps become free of one another; every other order stays.
    Free {
        /// The step that came earlier.
        before: StepId,
        /// The step that came later.
        after: StepId,
    },
    /// A step must come right after another, or need no longer; it stays after it then.
    SetAtOnce {
        /// The step.
        step: StepId,
        /// The step it follows.
        lead: Option<StepId>,
    },
    /// A condition.
    SetCondition(Condition),
    /// Takes a condition out.
    RemoveCondition(ConditionId),
    /// What must follow a condition.
    SetResponse(Response),
    /// Nothing must follow the condition any more.
    RemoveResponse(ConditionId),
    /// What must follow contamination.
    SetContaminationResponse(Vec<Vec<ActId>>),
    /// The acts that may be done anywhere.
    SetFreeActs(Vec<ActId>),
    /// An act that must not happen.
    SetForbidden(ForbiddenAct),
    /// The act is no longer forbidden.
    RemoveForbidden(ActId),
}

/// What stands at the head of a procedure and is nobody else's.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Head {
    /// What people call it.
    pub title: String,
    /// Putting on or taking off.
    pub phase: Phase,
    /// The accepted alternatives it belongs with.
    pub family: Option<String>,
    /// The precautions it belongs to.
    pub precautions: Vec<Precaution>,
    /// The equipment, item by item.
    pub ensemble: Vec<String>,
    /// The modes in which it validates.
    pub validates_in: Vec<Mode>,
}

/// Why an edit was not made, in plain sentences; the draft is as it was.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct Refusal(String);

impl Refusal {
    fn new(text: impl Into<String>) -> Self {
        Refusal(text.into())
    }
}

/// Makes one edit.
///
/// # Errors
/// When it names what is not there, takes out what others need, or makes an order that cannot be kept.
pub fn edit(procedure: &Procedure, edit: &Edit) -> Result<Procedure, Refusal> {
    let mut draft = procedure.clone();
    match edit.clone() {
        Edit::SetHead(Head { title, phase, family, precautions, ensemble, validates_in }) => {
            draft = Procedure { title, phase, family, precautions, ensemble, validates_in, ..draft };
        }
        Edit::SetVersion(version) => draft.version = version,
        Edit::SetFacilityValues(values) => values.put(&mut draft),
        Edit::SetSource(source) => lists::put(&mut draft.sources, source, |source| &source.id),
        Edit::RemoveSource(id) => lists::remove_source(&mut draft, &id)?,
        Edit::SetAct { id, label } => drop(draft.acts.insert(id, label)),
        Edit::RemoveAct(id) => lists::remove_act(&mut draft, &id)?,
        Edit::SetCombinedAct { id, act } => drop(draft.combined_acts.insert(id, act)),
        Edit::RemoveCombinedAct(id) => drop(draft.combined_acts.remove(&id)),
        Edit::AddStep { step, before } => steps::add(&mut draft, step, before.as_deref())?,
        Edit::ChangeStep(step) => steps::change(&mut draft, step)?,
        Edit::RemoveStep(id) => steps::remove(&mut draft, &id)?,
        Edit::MoveStep { step, before } => steps::print_before(&mut draft, &step, before.as_deref())?,
        Edit::Require { before, after, danger, why } => {
            order::require(&mut draft, &before, &after, danger, why)?;
        }
        Edit::Free { before, after } => order::free(&mut draft, &before, &after)?,
        Edit::SetAtOnce { step, lead } => order::set_at_once(&mut draft, &step, lead)?,
        Edit::SetCondition(condition) => {
            lists::put(&mut draft.conditions, condition, |condition| &condition.id);
        }
        Edit::RemoveCondition(id) => lists::remove_condition(&mut draft, &id)?,
        Edit::SetResponse(response) => lists::put(&mut draft.responses, response, |response| &response.to),
        Edit::RemoveResponse(to) => draft.responses.retain(|response| response.to != to),
        Edit::SetContaminationResponse(groups) => draft.contamination_response = groups,
        Edit::SetFreeActs(acts) => draft.free_acts = acts,
        Edit::SetForbidden(forbidden) => {
            lists::put(&mut draft.forbidden_acts, forbidden, |forbidden| &forbidden.act);
        }
        Edit::RemoveForbidden(act) => draft.forbidden_acts.retain(|forbidden| forbidden.act != act),
    }
    sound(procedure, &draft)?;
    Ok(draft)
}

/// Refuses what made an order that cannot be kept, or a reference that leads nowhere.
fn sound(before: &Procedure, after: &Procedure) -> Result<(), Refusal> {
    let had = check::unkeepable(before);
    let worse = |text: &str| !had.iter().any(|flaw| flaw.text == text);
    check::unkeepable(after)
        .into_iter()
        .find(|flaw| worse(&flaw.text))
        .map_or(Ok(()), |flaw| Err(Refusal(flaw.text)))
}

fn known(procedure: &Procedure, step: &str) -> Result<usize, Refusal> {
    procedure
        .steps
        .iter()
        .position(|listed| listed.id == step)
        .ok_or_else(|| Refusal::new(format!("There is no step “{step}” in this draft any more.")))
}

fn name(procedure: &Procedure, step: &str) -> String {
    Model::new(procedure.clone()).step_name(step)
}
