//! The order of a draft: what must come before what, and what follows from it.

use serde::{Deserialize, Serialize};

use super::{Edit, Procedure, Refusal, StepId, known};
use crate::model::Model;
use crate::procedure::{Precedence, Predecessor};

/// A step that must come before another, as a workbench shows it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Precedes {
    /// The earlier step.
    pub step: StepId,
    /// It is declared, not only implied by other orders.
    pub declared: bool,
    /// Breaking this very order exposes the wearer.
    pub danger: bool,
    /// Why, where it is said.
    pub why: Option<String>,
    /// The steps between the two that imply it, in their order; none where it is declared.
    pub through: Vec<StepId>,
}

/// Everything that must come before a step, in printed order: what is declared, and what follows from it.
pub fn precedes(procedure: &Procedure, step: &str) -> Vec<Precedes> {
    let model = Model::new(procedure.clone());
    let Some(number) = model.step_number(step) else { return Vec::new() };
    let id = |number: usize| model.step(number).map(|step| step.id.clone());
    let one = |before: usize| {
        let edge = model.declared(number).iter().find(|edge| edge.before == before);
        let path = model.path(before, number);
        let between = path.iter().skip(1).filter_map(|(between, _)| id(*between));
        Some(Precedes {
            step: id(before)?,
            declared: edge.is_some(),
            danger: edge.is_some_and(|edge| edge.danger),
            why: edge.and_then(|edge| edge.why.clone()),
            through: if edge.is_some() { Vec::new() } else { between.collect() },
        })
    };
    model.before(number).iter().filter_map(one).collect()
}

/// What an edit that took something out kept in order by saying it directly, in one sentence; `None`
/// where nothing had to be. Setting an order says nothing that was not asked for.
pub fn kept_in_order(before: &Procedure, change: &Edit, after: &Procedure) -> Option<String> {
    if matches!(change, Edit::Require { .. }) {
        return None;
    }
    let (was, is) = (Model::new(before.clone()), Model::new(after.clone()));
    let followed = |first: &str, second: &str| {
        let (first, second) = (was.step_number(first)?, was.step_number(second)?);
        let declared = was.declared(second).iter().any(|edge| edge.before == first);
        (!declared && was.must_precede(first, second)).then_some(())
    };
    let mut kept = Vec::new();
    for step in &after.steps {
        for first in step.after.iter().map(Predecessor::step) {
            if followed(first, &step.id).is_some() {
                kept.push(format!("{} before {}", is.step_name(first), is.step_name(&step.id)));
            }
        }
    }
    (!kept.is_empty()).then(|| format!("Still in order, and now said directly: {}.", kept.join("; ")))
}

/// The whole order of a draft before an edit, by ids.
pub(super) struct Closure {
    model: Model,
}

impl Closure {
    pub(super) fn of(draft: &Procedure) -> Self {
        Closure { model: Model::new(draft.clone()) }
    }

    fn has(&self, first: &str, second: &str) -> bool {
        let number = |step| self.model.step_number(step);
        number(first).zip(number(second)).is_some_and(|(one, two)| self.model.must_precede(one, two))
    }

    /// Declares again, plainly, whatever the draft lost of this order among the pairs to be kept.
    pub(super) fn restore(&self, draft: &mut Procedure, keeps: impl Fn(&str, &str) -> bool) {
        let ids: Vec<StepId> = draft.steps.iter().map(|step| step.id.clone()).collect();
        let kept = |first: &str, second: &str| self.has(first, second) && keeps(first, second);
        let now = Closure::of(draft);
        for step in &mut draft.steps {
            let before: Vec<&StepId> = ids.iter().filter(|first| kept(first, &step.id)).collect();
            let implied = |first: &str| before.iter().any(|between| kept(first, between));
            let lost = before.iter().filter(|first| !implied(first) && !now.has(first, &step.id));
            step.after.extend(lost.map(|first| Predecessor::Plain((*first).clone())));
        }
        tidy(draft);
    }
}

/// Takes out plain predecessors that follow from the others.
fn tidy(draft: &mut Procedure) {
    let order = Closure::of(draft);
    for step in &mut draft.steps {
        let others: Vec<StepId> = step
            .after
            .iter()
            .map(|predecessor| predecessor.step().to_owned())
            .chain(step.immediately_after.clone())
            .collect();
        step.after.retain(|predecessor| {
            predecessor.danger()
                || predecessor.why().is_some()
                || !others.iter().any(|between| order.has(predecessor.step(), between))
        });
    }
}

/// Refuses an order that would close a circle, and says which.
fn not_the_other_way(draft: &Procedure, before: &str, after: &str) -> Result<(), Refusal> {
    let (first, second) = (known(draft, before)?, known(draft, after)?);
    let model = Model::new(draft.clone());
    if first == second {
        return Err(Refusal::new(format!("{} cannot wait for itself.", model.step_name(before))));
    }
    let name = |number: usize| model.step(number).map(|step| model.step_name(&step.id)).unwrap_or_default();
    let path = model.path(second, first);
    let Some((start, rest)) = path.split_first() else { return Ok(()) };
    let onward: Vec<String> =
        rest.iter().map(|(_, next)| format!(", which comes before {}", name(*next))).collect();
    let way = format!("{} comes before {}{}", name(start.0), name(start.1), onward.concat());
    Err(Refusal::new(format!("{} cannot come before {}: {way} already.", name(first), name(second))))
}

pub(super) fn require(
    draft: &mut Procedure,
    before: &str,
    after: &str,
    danger: bool,
    why: Option<String>,
) -> Result<(), Refusal> {
    not_the_other_way(draft, before, after)?;
    let why = why.filter(|why| !why.trim().is_empty());
    let model = Model::new(draft.clone());
    let names = || (model.step_name(before), model.step_name(after));
    if danger && why.is_none() {
        let (before, after) = names();
        return Err(Refusal::new(format!("Say why it is a danger to do {after} before {before}.")));
    }
    let declared = draft.steps.iter().find(|step| step.id == after);
    let declared = declared.is_some_and(|step| step.after.iter().any(|one| one.step() == before));
    if let Some(known) = precedes(draft, after).into_iter().find(|known| known.step == before)
        && why.is_none()
        && !declared
    {
        let (before, after) = names();
        let through: Vec<String> = known.through.iter().map(|step| model.step_name(step)).collect();
        let through =
            if through.is_empty() { String::new() } else { format!(", through {}", through.join(", ")) };
        return Err(Refusal::new(format!("{before} comes before {after} already{through}.")));
    }
    let predecessor = match (danger, why) {
        (false, None) => Predecessor::Plain(before.to_owned()),
        (danger, why) => Predecessor::Explained(Precedence { step: before.to_owned(), danger, why }),
    };
    if let Some(step) = draft.steps.iter_mut().find(|step| step.id == after) {
        match step.after.iter_mut().find(|one| one.step() == before) {
            Some(one) => *one = predecessor,
            None => step.after.push(predecessor),
        }
    }
    tidy(draft);
    Ok(())
}

pub(super) fn free(draft: &mut Procedure, before: &str, after: &str) -> Result<(), Refusal> {
    known(draft, before)?;
    let place = known(draft, after)?;
    let order = Closure::of(draft);
    let names = || (order.model.step_name(before), order.model.step_name(after));
    let Some(known) = precedes(draft, after).into_iter().find(|known| known.step == before) else {
        let (before, after) = names();
        return Err(Refusal::new(format!("{before} and {after} are free of one another already.")));
    };
    if !known.declared {
        let (before, after) = names();
        let through: Vec<String> = known.through.iter().map(|step| order.model.step_name(step)).collect();
        return Err(Refusal::new(format!(
            "{before} comes before {after} only through {}; free one of those orders instead.",
            through.join(", ")
        )));
    }
    if let Some(step) = draft.steps.get_mut(place) {
        step.after.retain(|one| one.step() != before);
        step.immediately_after.take_if(|lead| lead == before);
    }
    order.restore(draft, |first, second| (first, second) != (before, after));
    Ok(())
}

pub(super) fn set_at_once(draft: &mut Procedure, step: &str, lead: Option<StepId>) -> Result<(), Refusal> {
    if let Some(lead) = &lead {
        not_the_other_way(draft, lead, step)?;
    }
    let place = known(draft, step)?;
    let order = Closure::of(draft);
    if let Some(step) = draft.steps.get_mut(place) {
        step.immediately_after = lead;
    }
    order.restore(draft, |_, _| true);
    Ok(())
}
