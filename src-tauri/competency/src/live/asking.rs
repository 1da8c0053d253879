//! What the log leaves open before it can be scored, and where an entry belongs that comes late.

use super::{Live, StepState};
use crate::{
    journal::Folded,
    log::HowEnded,
    model::Model,
    procedure::{By, Step},
};

impl Live {
    /// The required steps that no tap and no answer speaks of, before the score.
    ///
    /// Where the demonstration was broken off, only those that something later was seen after: the others were not
    /// reached.
    pub fn unanswered<'m>(&self, model: &'m Model, folded: &Folded) -> Vec<&'m Step> {
        let whole = folded.log.ended.how == HowEnded::Completed;
        self.open(model, folded, |state| match state {
            StepState::Skipped => true,
            StepState::MayCome | StepState::NotYet => whole,
            StepState::Done
            | StepState::DoneTooEarly
            | StepState::DoneLate
            | StepState::NotSeen
            | StepState::NotApplicable => false,
        })
    }

    /// The required steps that were passed over and have neither a tap nor an answer.
    pub fn passed_over<'m>(&self, model: &'m Model, folded: &Folded) -> Vec<&'m Step> {
        self.open(model, folded, |state| state == StepState::Skipped)
    }

    fn open<'m>(&self, model: &'m Model, folded: &Folded, is: impl Fn(StepState) -> bool) -> Vec<&'m Step> {
        let steps = model.procedure().steps.iter().enumerate();
        let open = steps.filter(|(number, step)| {
            is(self.step_mark(model, *number).state) && !step.optional && !folded.not_done.contains(&step.id)
        });
        open.map(|(_, step)| step).collect()
    }

    /// Who carries an act out: whoever carries out the step it would serve next.
    pub fn whose(&self, model: &Model, act: &str) -> By {
        let serves = |(_, step): &(usize, &Step)| step.acts.iter().any(|id| id == act);
        let mut steps = model.procedure().steps.iter().enumerate().filter(serves);
        let first = steps.clone().next();
        let now = steps.find(|(number, _)| self.step_mark(model, *number).state == StepState::MayCome);
        now.or(first).map_or(By::Wearer, |(_, step)| step.by)
    }

    /// Before which observation a step belongs that is entered late: the first act of a step that must come after it;
    /// last where there is none.
    pub fn place_of(&self, model: &Model, step: &str) -> Option<usize> {
        let step = model.step_number(step)?;
        let later = (0..model.len()).filter(|other| model.must_precede(step, *other));
        later.filter_map(|other| self.step_mark(model, other).observation).min()
    }
}
