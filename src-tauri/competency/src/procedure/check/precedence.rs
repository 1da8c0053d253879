//! The order: it can be kept, and what stands immediately after something can stand there.

use std::collections::BTreeSet;

use super::super::cycles::{cycles, has_cycle};
use super::super::{Applies, Procedure, Step};
use super::{Flaws, lacks_reason};
use crate::model::{MAX_SHARED_ORDERS, MAX_STEPS, Model, orders_of_shared_acts};

pub(super) fn check(procedure: &Procedure, flaws: &mut Flaws) {
    for (index, step) in procedure.steps.iter().enumerate() {
        for (place, predecessor) in step.after.iter().enumerate() {
            if predecessor.danger() && lacks_reason(predecessor.why()) {
                let text = format!(
                    "It is a danger to do \"{}\" before \"{}\", but not said why; add \"why\".",
                    step.id,
                    predecessor.step()
                );
                flaws.add(format_args!("/steps/{index}/after/{place}"), text);
            }
        }
    }
    if procedure.steps.len() > MAX_STEPS {
        let text = format!(
            "There are {} steps and at most {MAX_STEPS} can be scored; divide the procedure.",
            procedure.steps.len()
        );
        flaws.add("/steps", text);
        return;
    }
    let model = Model::new(procedure.clone());
    if has_cycle(&model) {
        name_cycles(&model, flaws);
        return;
    }
    shared_acts(&model, flaws);
    for (index, step) in procedure.steps.iter().enumerate() {
        if let Some(lead) = &step.immediately_after {
            immediate(&model, index, step, lead, flaws);
        }
    }
}

fn name_cycles(model: &Model, flaws: &mut Flaws) {
    for cycle in cycles(model) {
        let names: Vec<String> = cycle
            .iter()
            .filter_map(|step| model.step(*step))
            .map(|step| format!("\"{}\"", step.id))
            .collect();
        let text = format!(
            "These steps wait for one another: {}; take one of these orders out.",
            names.join(" before ")
        );
        let first = cycle.first().copied().unwrap_or(0);
        flaws.add(format_args!("/steps/{first}"), text);
    }
}

/// Scoring tries every order of steps that share an act, so there may not be too many.
fn shared_acts(model: &Model, flaws: &mut Flaws) {
    if orders_of_shared_acts(model, MAX_SHARED_ORDERS + 1) <= MAX_SHARED_ORDERS {
        return;
    }
    let steps = &model.procedure().steps;
    let free = |first: usize, second: usize| {
        first != second && !model.must_precede(first, second) && !model.must_precede(second, first)
    };
    let names: BTreeSet<String> = steps
        .iter()
        .enumerate()
        .filter(|(first, step)| {
            steps.iter().enumerate().any(|(second, other)| {
                free(*first, second) && step.acts.iter().any(|act| other.acts.contains(act))
            })
        })
        .map(|(_, step)| format!("\"{}\"", step.id))
        .collect();
    let names: Vec<String> = names.into_iter().collect();
    let text = format!(
        "Steps that share an act can be done in more than {MAX_SHARED_ORDERS} orders; say which of them comes \
         first, or give them acts of their own: {}.",
        names.join(", ")
    );
    flaws.add("/steps", text);
}

/// What must come between the two, or wants the same place, makes "immediately" impossible. Steps that
/// may be skipped, or that a free act satisfies, do not.
fn immediate(model: &Model, index: usize, step: &Step, lead: &str, flaws: &mut Flaws) {
    let Some(lead_index) = model.step_number(lead) else { return };
    let procedure = model.procedure();
    let pointer = format!("/steps/{index}/immediately_after");
    let intrudes =
        |other: &Step| !other.optional && !other.acts.iter().any(|act| procedure.free_acts.contains(act));
    let between = procedure.steps.iter().enumerate().find(|(other, between)| {
        model.must_precede(lead_index, *other) && model.must_precede(*other, index) && intrudes(between)
    });
    if let Some((_, between)) = between {
        let text = format!(
            "\"{}\" cannot come immediately after \"{lead}\", since \"{}\" must come between them.",
            step.id, between.id
        );
        flaws.add(&pointer, text);
    }
    let rival = procedure.steps.iter().take(index).find(|other| {
        other.immediately_after.as_deref() == Some(lead)
            && intrudes(other)
            && intrudes(step)
            && (other.applies() == step.applies()
                || [other, step].iter().any(|one| one.applies() == Applies::Always))
    });
    if let Some(rival) = rival {
        let text = format!(
            "\"{}\" and \"{}\" cannot both come immediately after \"{lead}\"; let one follow the other.",
            rival.id, step.id
        );
        flaws.add(&pointer, text);
    }
}
