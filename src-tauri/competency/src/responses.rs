//! What must come next after a condition, a contamination event or a contaminating fault, and whether
//! it did.

use crate::model::Model;

/// What a response is owed to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cause {
    /// A condition was observed; the number of the entry in the procedure's `responses`.
    Condition(usize),
    /// A contamination event.
    Contamination,
    /// A technique fault that carries contamination.
    Fault,
}

/// One response that is owed, or was.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Owed {
    /// To what.
    pub cause: Cause,
    /// Index of the observation that it answers.
    pub since: usize,
    /// Indices of the observations that answered, one for each group that was answered.
    pub answered_by: Vec<usize>,
    /// Index of the first observation that came between, though the response had to come next.
    pub interrupted_by: Option<usize>,
    groups: usize,
}

impl Owed {
    /// Whether every group was answered.
    pub fn is_answered(&self) -> bool {
        self.answered_by.len() >= self.groups
    }

    /// Whether it was answered before anything else but free acts came.
    pub fn is_followed(&self) -> bool {
        self.is_answered() && self.interrupted_by.is_none()
    }
}

/// The responses of one demonstration so far, in the order in which they came to be owed.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Responses {
    owed: Vec<Owed>,
}

impl Responses {
    pub(crate) fn all(&self) -> &[Owed] {
        &self.owed
    }

    /// A condition was observed.
    pub(crate) fn condition(&mut self, model: &Model, condition: usize, observation: usize) {
        for (number, expected) in model.responses().iter().enumerate() {
            if expected.condition == condition {
                self.open(Cause::Condition(number), observation, expected.groups.len());
            }
        }
    }

    /// Contamination reached the person.
    pub(crate) fn contamination(&mut self, model: &Model, cause: Cause, observation: usize) {
        self.open(cause, observation, model.contamination_response().len());
    }

    fn open(&mut self, cause: Cause, since: usize, groups: usize) {
        if groups > 0 {
            self.owed.push(Owed { cause, since, answered_by: Vec::new(), interrupted_by: None, groups });
        }
    }

    /// The groups that must come next, each any act of a group; one for each response still owed.
    pub(crate) fn due<'a>(&'a self, model: &'a Model) -> impl Iterator<Item = (&'a Owed, &'a [usize])> {
        self.owed.iter().filter_map(|owed| next_group(model, owed).map(|group| (owed, group)))
    }

    /// Whether this act would answer a response that is due now.
    pub(crate) fn would_answer(&self, model: &Model, act: usize) -> bool {
        self.due(model).any(|(_, group)| group.contains(&act))
    }

    /// An act was observed; `act` is `None` where the procedure does not know it. Says whether it
    /// answers. One act may answer several responses, and what answers one does not come between
    /// another and its answer.
    pub(crate) fn act(&mut self, model: &Model, act: Option<usize>, observation: usize) -> bool {
        let mut answers = false;
        for owed in &mut self.owed {
            if act.is_some_and(|act| next_group(model, owed).is_some_and(|group| group.contains(&act))) {
                owed.answered_by.push(observation);
                answers = true;
            }
        }
        let free = act.and_then(|act| model.act(act)).is_some_and(|act| act.free);
        if !answers && !free {
            for owed in self.owed.iter_mut().filter(|owed| !owed.is_answered()) {
                owed.interrupted_by.get_or_insert(observation);
            }
        }
        answers
    }
}

fn next_group<'a>(model: &'a Model, owed: &Owed) -> Option<&'a [usize]> {
    let groups = match owed.cause {
        Cause::Condition(number) => {
            model.responses().get(number).map(|expected| expected.groups.as_slice())?
        }
        Cause::Contamination | Cause::Fault => model.contamination_response(),
    };
    groups.get(owed.answered_by.len()).map(Vec::as_slice)
}
