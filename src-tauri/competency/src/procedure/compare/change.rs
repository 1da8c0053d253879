//! One change: what it is about, which way, and what it asks of people.

use serde::{Deserialize, Serialize};

use crate::procedure::StepId;

/// What a change is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Subject {
    /// A step.
    Step,
    /// The order of two steps, directly or through others.
    Order,
    /// That a step must follow another at once.
    AtOnce,
    /// That breaking an order exposes the wearer.
    Danger,
    /// That a step is critical.
    Critical,
    /// That a step must be done.
    Obligation,
    /// In which cases a step is required.
    Applies,
    /// Who carries a step out.
    DoneBy,
    /// The least duration of an act.
    LeastDuration,
    /// An act that satisfies a step.
    Alternative,
    /// A technique fault.
    Fault,
    /// That a technique fault contaminates.
    Contaminating,
    /// A condition.
    Condition,
    /// What must follow a condition.
    Response,
    /// That a response is critical.
    CriticalResponse,
    /// What must follow a contamination event.
    ContaminationResponse,
    /// An act that may be repeated anywhere.
    FreeAct,
    /// An act that must not happen.
    ForbiddenAct,
    /// An act that stands for several.
    CombinedAct,
    /// An item of the ensemble.
    Ensemble,
    /// The precautions it belongs to.
    Precautions,
    /// Putting on or taking off.
    Phase,
    /// The accepted alternatives it belongs with.
    Family,
    /// A mode in which it validates.
    Mode,
    /// The pass rule.
    PassRule,
    /// How long a validation holds.
    Months,
    /// The contact time of a product.
    ContactTime,
    /// A glove product in use.
    GloveProduct,
    /// A respirator model in use.
    RespiratorModel,
    /// A source.
    Source,
    /// The printed order, which binds nobody.
    PrintedOrder,
    /// Words only.
    Words,
    /// How the file is arranged, and nothing that anybody reads.
    Arrangement,
}

impl Subject {
    /// The smaller, the more it matters as the reason to show a procedure again: what exposes somebody first.
    pub(super) fn gravity(self) -> (usize, Subject) {
        let first = [
            Subject::Danger,
            Subject::Critical,
            Subject::CriticalResponse,
            Subject::Contaminating,
            Subject::Step,
            Subject::Order,
            Subject::AtOnce,
            Subject::Response,
        ];
        (first.iter().position(|one| *one == self).unwrap_or(first.len()), self)
    }
}

/// Which way it changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Turn {
    /// There now and not before: added, tightened, raised.
    More,
    /// There before and not now: removed, loosened, lowered.
    Less,
    /// Something else in its place.
    Other,
}

impl Turn {
    /// The same change looked at from the other end.
    #[must_use]
    pub fn opposite(self) -> Turn {
        match self {
            Turn::More => Turn::Less,
            Turn::Less => Turn::More,
            Turn::Other => Turn::Other,
        }
    }

    pub(super) fn by<T: Ord>(old: &T, new: &T) -> Turn {
        if new > old { Turn::More } else { Turn::Less }
    }
}

/// What a change asks of the people who hold a validation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Asks {
    /// Nothing: what they do stays the same.
    Nothing,
    /// That they are told.
    Telling,
    /// That they show it again: what they learnt no longer does.
    Demonstration,
}

/// One change.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Change {
    /// What it is about.
    pub subject: Subject,
    /// Which way.
    pub turn: Turn,
    /// The step it belongs to, where it belongs to one.
    pub step: Option<StepId>,
    /// One plain sentence.
    pub text: String,
    /// Where words changed, each passage as it was and as it is.
    pub words: Vec<Reworded>,
}

/// A passage that reads otherwise than before; empty where there was none, or is none.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Reworded {
    /// As it was.
    pub was: String,
    /// As it is.
    pub is: String,
}

impl Reworded {
    /// What differs of these passages, each as it was and as it is.
    pub(super) fn among(pairs: &[(&str, &str)]) -> Vec<Reworded> {
        let differ = pairs.iter().filter(|(was, is)| was != is);
        differ.map(|&(was, is)| Reworded { was: was.to_owned(), is: is.to_owned() }).collect()
    }
}

impl Change {
    /// What it asks of the people who hold a validation.
    pub fn asks(&self) -> Asks {
        let stricter_asks = match self.turn {
            Turn::More | Turn::Other => Asks::Demonstration,
            Turn::Less => Asks::Telling,
        };
        match self.subject {
            Subject::Step
            | Subject::Order
            | Subject::AtOnce
            | Subject::Danger
            | Subject::Critical
            | Subject::Obligation
            | Subject::Applies
            | Subject::LeastDuration
            | Subject::Contaminating
            | Subject::Response
            | Subject::CriticalResponse
            | Subject::ContaminationResponse
            | Subject::ForbiddenAct
            | Subject::Precautions
            | Subject::ContactTime
            | Subject::GloveProduct
            | Subject::RespiratorModel => stricter_asks,
            // What was allowed and no longer is.
            Subject::Alternative | Subject::FreeAct | Subject::CombinedAct => match self.turn {
                Turn::More => Asks::Telling,
                Turn::Less | Turn::Other => Asks::Demonstration,
            },
            Subject::DoneBy | Subject::Ensemble | Subject::Phase => Asks::Demonstration,
            Subject::Fault
            | Subject::Condition
            | Subject::Family
            | Subject::Mode
            | Subject::PassRule
            | Subject::Months => Asks::Telling,
            Subject::Source | Subject::PrintedOrder | Subject::Words | Subject::Arrangement => Asks::Nothing,
        }
    }
}
