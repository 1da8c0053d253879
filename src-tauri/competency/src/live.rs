//! The live rule: what each tap counts as, and what may come now, while the demonstration runs.
//!
//! It is simple and forgets nothing; the exact alignment in [`crate::score`] speaks once, at the
//! review. Prefixes of the alignment are never shown.

use std::collections::BTreeSet;

use crate::bits::Bits;
use crate::log::{Observation, What};
use crate::model::Model;
use crate::procedure::{ActId, By, ConditionId, StepId};
use crate::responses::{Cause, Owed, Responses};

mod asking;
mod marks;
pub mod timing;
mod warning;

pub use marks::{ActMark, ActState, StepMark, StepState};
pub use warning::{ComesFirst, Warning};

/// The state of one demonstration, tap by tap.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Live {
    /// How many observations were taken in.
    seen: usize,
    holding: BTreeSet<usize>,
    applies: Bits,
    done: Bits,
    skipped: Bits,
    not_seen: Bits,
    /// For each step the observation that counts as it, and how it came.
    counted: Vec<Option<Came>>,
    /// For each act its last observation and how often it was seen.
    last: Vec<Option<(usize, usize)>>,
    responses: Responses,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Came {
    observation: usize,
    how: How,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum How {
    InOrder,
    Late,
    TooEarly,
}

/// What one observation counts as.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Verdict {
    /// One for each act it stands for: several for a combined act, none for what is not an act.
    pub acts: Vec<Counted>,
    /// It might come by what blocks it, but something that was skipped earlier should still have come before it, or it
    /// exposes the person.
    pub exposes: Option<Warning>,
}

impl Verdict {
    /// The warning to show, if the act came too early, or exposes the person since something was skipped.
    pub fn warning(&self) -> Option<&Warning> {
        self.too_early().or(self.exposes.as_ref())
    }

    fn too_early(&self) -> Option<&Warning> {
        self.acts.iter().find_map(|counted| match &counted.counts {
            Counts::TooEarly(warning) => Some(warning),
            Counts::InOrder(_)
            | Counts::Late(_)
            | Counts::Free
            | Counts::Answer
            | Counts::Forbidden { .. }
            | Counts::NoLongerForbidden
            | Counts::Extra => None,
        })
    }
}

/// What one act counts as.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Counted {
    /// The act; a part of the observed one where that is a combined act.
    pub act: ActId,
    /// As what.
    pub counts: Counts,
    /// It also answers a response that was due.
    pub answers: bool,
}

/// As what an act counts by the live rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Counts {
    /// As this step, which might come now.
    InOrder(StepId),
    /// As this step, which was skipped earlier.
    Late(StepId),
    /// As a step that may not come yet.
    TooEarly(Warning),
    /// As a free act, which costs nothing.
    Free,
    /// As the answer to a response, and nothing else.
    Answer,
    /// As an act that must not happen.
    Forbidden {
        /// Why not, where the procedure says so.
        why: Option<String>,
    },
    /// As an act that was forbidden until a step that is done.
    NoLongerForbidden,
    /// As nothing that the procedure still calls for.
    Extra,
}

/// The same in numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Taken {
    InOrder {
        step: usize,
        /// What was skipped and should still come before it, or it exposes the person.
        danger: Bits,
    },
    Late(usize),
    TooEarly {
        step: usize,
        first: Bits,
    },
    /// With the first of its steps that waits for something else, if any.
    Free {
        waiting: Option<usize>,
    },
    Answer,
    Forbidden,
    NoLongerForbidden,
    Extra,
}

impl Live {
    /// Before the first act, with the conditions that hold at the start. Unknown ones are passed over.
    pub fn new(model: &Model, conditions: &[ConditionId]) -> Live {
        let holding: BTreeSet<usize> =
            conditions.iter().filter_map(|id| model.condition_number(id)).collect();
        Live {
            seen: 0,
            applies: model.applying(&holding),
            holding,
            done: Bits::EMPTY,
            skipped: Bits::EMPTY,
            not_seen: Bits::EMPTY,
            counted: vec![None; model.len()],
            last: vec![None; model.act_count()],
            responses: Responses::default(),
        }
    }

    /// The state after these observations, and the verdict on each: what is shown again after an undo
    /// or a late entry.
    pub fn replay(
        model: &Model,
        conditions: &[ConditionId],
        observations: &[Observation],
    ) -> (Live, Vec<Verdict>) {
        let mut live = Live::new(model, conditions);
        let verdicts = observations.iter().map(|observation| live.observe(model, observation)).collect();
        (live, verdicts)
    }

    /// Takes in the next observation.
    pub fn observe(&mut self, model: &Model, observation: &Observation) -> Verdict {
        let (mut acts, mut exposes) = (Vec::new(), None);
        self.take(model, observation, |act, taken, answers| {
            let act = act.and_then(|act| model.act(act));
            let id = act.map_or_else(|| observed_act(observation), |act| act.id.clone());
            let step = |step: usize| model.step(step).map(|step| step.id.clone()).unwrap_or_default();
            let counts = match taken {
                Taken::InOrder { step: number, danger } => {
                    if !danger.is_empty() {
                        exposes = Some(Warning::new(model, &id, number, danger));
                    }
                    Counts::InOrder(step(number))
                }
                Taken::Late(number) => Counts::Late(step(number)),
                Taken::TooEarly { step, first } => Counts::TooEarly(Warning::new(model, &id, step, first)),
                Taken::Free { .. } => Counts::Free,
                Taken::Answer => Counts::Answer,
                Taken::Forbidden => Counts::Forbidden {
                    why: act
                        .and_then(|act| act.forbidden)
                        .and_then(|(index, _)| model.procedure().forbidden_acts.get(index))
                        .and_then(|forbidden| forbidden.why.clone()),
                },
                Taken::NoLongerForbidden => Counts::NoLongerForbidden,
                Taken::Extra => Counts::Extra,
            };
            acts.push(Counted { act: id, counts, answers });
        });
        Verdict { acts, exposes }
    }

    /// Takes in the next observation and reports on each act it stands for, by number, in order; on one
    /// that the procedure does not know without.
    pub(crate) fn take(
        &mut self,
        model: &Model,
        observation: &Observation,
        mut report: impl FnMut(Option<usize>, Taken, bool),
    ) {
        let index = self.seen;
        self.seen += 1;
        match &observation.what {
            What::Act(id) => {
                let whole = model.act_number(id);
                let parts = whole.map_or(&[][..], |act| model.parts_of(act));
                if parts.is_empty() {
                    if observation.by.is_wearer() {
                        self.responses.act(model, None, index);
                    }
                    report(None, Taken::Extra, false);
                }
                for &part in parts {
                    // What somebody else does answers nothing that the wearer owes, and holds nothing up.
                    let answers = observation.by.is_wearer() && self.responses.act(model, Some(part), index);
                    let taken = self.count(model, part, (index, Some(observation.by)), answers);
                    report(Some(part), taken, answers);
                    self.note_seen(part, index);
                }
                // A combined act keeps its own time too, for its own place on the form.
                if let Some(whole) = whole
                    && !parts.contains(&whole)
                {
                    self.note_seen(whole, index);
                }
                if observation.faults.iter().any(|code| model.fault_contaminates(id, code)) {
                    self.responses.contamination(model, Cause::Fault, index);
                }
            }
            What::Contamination(_) => self.responses.contamination(model, Cause::Contamination, index),
            What::Condition(id) => {
                if let Some(condition) = model.condition_number(id) {
                    if self.holding.insert(condition) {
                        self.applies = model.applying(&self.holding);
                    }
                    self.responses.condition(model, condition, index);
                }
            }
            What::NotSeen(id) => {
                if let Some(step) = model.step_number(id)
                    && !self.done.has(step)
                {
                    self.not_seen.insert(step);
                }
            }
            // It is nobody's act: the person observed owes nothing for it.
            What::TeamError(_) => {}
        }
    }

    fn note_seen(&mut self, act: usize, observation: usize) {
        if let Some(last) = self.last.get_mut(act) {
            *last = Some((observation, last.map_or(1, |(_, times)| times + 1)));
        }
    }

    /// `by` is `None` where it is whoever the step asks for.
    fn count(
        &mut self,
        model: &Model,
        part: usize,
        (observation, by): (usize, Option<By>),
        answers: bool,
    ) -> Taken {
        let taken = self.foretell(model, part, by, answers);
        match taken {
            Taken::InOrder { step, .. } => self.settle(model, step, Came { observation, how: How::InOrder }),
            Taken::Late(step) => self.settle(model, step, Came { observation, how: How::Late }),
            Taken::TooEarly { step, .. } => {
                self.settle(model, step, Came { observation, how: How::TooEarly });
            }
            Taken::Free { .. }
            | Taken::Answer
            | Taken::Forbidden
            | Taken::NoLongerForbidden
            | Taken::Extra => {}
        }
        taken
    }

    /// The rule itself: what one act that the procedure knows would count as now.
    fn foretell(&self, model: &Model, part: usize, by: Option<By>, answers: bool) -> Taken {
        let Some(act) = model.act(part) else { return Taken::Extra };
        if let Some((_, until)) = act.forbidden {
            let over = until.is_some_and(|step| self.done.or(self.not_seen).has(step));
            return if over { Taken::NoLongerForbidden } else { Taken::Forbidden };
        }
        let steps = by.map_or(act.steps, |by| act.steps_by(by));
        let undone = steps.and(self.applies).without(self.done);
        let pending = undone.without(self.skipped).without(self.not_seen);
        if let Some(step) = pending.iter().find(|&step| self.blockers(model, step).is_empty()) {
            return Taken::InOrder { step, danger: self.skipped_danger(model, step) };
        }
        if let Some(step) = undone.and(self.skipped.or(self.not_seen)).least() {
            return Taken::Late(step);
        }
        if act.free {
            return Taken::Free { waiting: pending.least() };
        }
        if answers {
            return Taken::Answer;
        }
        let Some(step) = pending.least() else { return Taken::Extra };
        Taken::TooEarly { step, first: self.blockers(model, step) }
    }

    /// The required steps that must still come before this one.
    fn blockers(&self, model: &Model, step: usize) -> Bits {
        self.open_before(model, step).without(model.optional())
    }

    /// What was skipped, is still to be done, and exposes the person if this comes before it. It blocks nothing: people
    /// do it all the same, and by the score it was passed over once.
    fn skipped_danger(&self, model: &Model, step: usize) -> Bits {
        let skipped = model.before(step).and(self.applies).and(self.skipped).without(self.not_seen);
        skipped.iter().filter(|&before| model.danger(before, step)).collect()
    }

    fn open_before(&self, model: &Model, step: usize) -> Bits {
        let settled = self.done.or(self.skipped).or(self.not_seen);
        model.before(step).and(self.applies).without(settled)
    }

    /// The step is done; what had to come before it and did not, optional steps too, is skipped now.
    fn settle(&mut self, model: &Model, step: usize, came: Came) {
        self.skipped = self.skipped.or(self.open_before(model, step));
        self.done.insert(step);
        self.skipped.remove(step);
        self.not_seen.remove(step);
        if let Some(counted) = self.counted.get_mut(step) {
            *counted = Some(came);
        }
    }

    /// The responses that were owed so far, answered or not, in order.
    pub fn responses(&self) -> &[Owed] {
        self.responses.all()
    }

    /// What must come next, free acts aside: for each response still owed the acts of which any one
    /// answers it.
    pub fn due<'a>(&'a self, model: &'a Model) -> impl Iterator<Item = (&'a Owed, Vec<&'a str>)> {
        self.responses.due(model).map(|(owed, group)| {
            (owed, group.iter().filter_map(|&act| model.act(act)).map(|act| act.id.as_str()).collect())
        })
    }

    /// The next step to read aloud, in guided mode: the first in file order that may come now. An
    /// optional step is passed over once a step printed after it is done. What exposes the person waits for what was
    /// skipped, which is read again then.
    pub fn next<'a>(&self, model: &'a Model) -> Option<&'a StepId> {
        let open = self.applies.without(self.done).without(self.skipped).without(self.not_seen);
        let passed = |step: usize| self.done.iter().any(|done| done > step);
        let next = open
            .iter()
            .filter(|&step| self.blockers(model, step).is_empty())
            .find(|&step| !(model.optional().has(step) && passed(step)))?;
        let first = self.skipped_danger(model, next).least().unwrap_or(next);
        model.step(first).map(|step| &step.id)
    }

    /// The steps that apply under the conditions set or observed so far.
    pub(crate) fn applies(&self) -> Bits {
        self.applies
    }
}

fn observed_act(observation: &Observation) -> ActId {
    match &observation.what {
        What::Act(act) => act.clone(),
        What::Contamination(_) | What::Condition(_) | What::NotSeen(_) | What::TeamError(_) => ActId::new(),
    }
}

#[cfg(test)]
mod tests;
