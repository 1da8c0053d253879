//! The order: it can be kept, and what stands immediately after something can stand there.

use super::super::order::{MOST_STEPS, Order};
use super::super::{Procedure, Step};
use super::{Flaws, lacks_reason};

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
    let Some(order) = Order::of(procedure) else {
        let text = format!(
            "There are {} steps and at most {MOST_STEPS} can be scored; divide the procedure.",
            procedure.steps.len()
        );
        flaws.add("/steps", text);
        return;
    };
    if order.has_cycle() {
        cycles(procedure, &order, flaws);
        return;
    }
    for (index, step) in procedure.steps.iter().enumerate() {
        if let Some(lead) = &step.immediately_after {
            immediate(procedure, &order, index, lead, flaws);
        }
    }
}

fn cycles(procedure: &Procedure, order: &Order, flaws: &mut Flaws) {
    for cycle in order.cycles() {
        let names: Vec<String> = cycle
            .iter()
            .filter_map(|step| procedure.steps.get(*step))
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

/// What must come between the two, or wants the same place, makes "immediately" impossible. Steps that
/// may be skipped, or that a free act satisfies, do not.
fn immediate(procedure: &Procedure, order: &Order, index: usize, lead: &str, flaws: &mut Flaws) {
    let position = |id: &str| procedure.steps.iter().position(|step| step.id == id);
    let (Some(step), Some(lead_index)) = (procedure.steps.get(index), position(lead)) else { return };
    let pointer = format!("/steps/{index}/immediately_after");
    let intrudes =
        |other: &Step| !other.optional && !other.acts.iter().any(|act| procedure.free_acts.contains(act));
    let between = procedure.steps.iter().enumerate().find(|(other, between)| {
        order.is_before(lead_index, *other) && order.is_before(*other, index) && intrudes(between)
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
            && (other.when.is_none() || step.when.is_none() || other.when == step.when)
    });
    if let Some(rival) = rival {
        let text = format!(
            "\"{}\" and \"{}\" cannot both come immediately after \"{lead}\"; let one follow the other.",
            rival.id, step.id
        );
        flaws.add(&pointer, text);
    }
}
