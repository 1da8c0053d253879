//! References: every act, condition, source and step that is named must be there.

use std::collections::BTreeSet;

use super::super::{Procedure, Step};
use super::Flaws;
use crate::flaw::{below, nearest};

/// What may be referred to.
struct Known<'p> {
    acts: BTreeSet<&'p str>,
    combined: BTreeSet<&'p str>,
    conditions: BTreeSet<&'p str>,
    sources: BTreeSet<&'p str>,
    steps: BTreeSet<&'p str>,
}

pub(super) fn check(procedure: &Procedure, flaws: &mut Flaws) {
    let known = Known {
        acts: procedure.acts.keys().map(|id| &**id).collect(),
        combined: procedure.combined_acts.keys().map(|id| &**id).collect(),
        conditions: procedure.conditions.iter().map(|condition| &*condition.id).collect(),
        sources: procedure.sources.iter().map(|source| &*source.id).collect(),
        steps: procedure.steps.iter().map(|step| &*step.id).collect(),
    };
    for (id, combined) in &procedure.combined_acts {
        acts(&known, &below(&below("/combined_acts", id), "counts_as"), &combined.counts_as, flaws);
    }
    for (index, step) in procedure.steps.iter().enumerate() {
        check_step(&known, &format!("/steps/{index}"), step, flaws);
    }
    for (index, response) in procedure.responses.iter().enumerate() {
        let pointer = format!("/responses/{index}");
        named(&known.conditions, &below(&pointer, "to"), "condition", &response.to, flaws);
        groups(&known, &below(&pointer, "acts"), &response.acts, flaws);
        source(&known, &pointer, response.source.as_deref(), flaws);
    }
    let equipment = &procedure.equipment;
    for (index, time) in equipment.contact_times.iter().enumerate() {
        act(&known, &format!("/equipment/contact_times/{index}/act"), &time.act, flaws);
    }
    for (index, product) in equipment.glove_products.iter().enumerate() {
        acts(&known, &format!("/equipment/glove_products/{index}/acts"), &product.acts, flaws);
    }
    for (index, product) in equipment.respirator_models.iter().enumerate() {
        acts(&known, &format!("/equipment/respirator_models/{index}/acts"), &product.acts, flaws);
    }
    groups(&known, "/contamination_response", &procedure.contamination_response, flaws);
    acts(&known, "/free_acts", &procedure.free_acts, flaws);
    for (index, forbidden) in procedure.forbidden_acts.iter().enumerate() {
        let pointer = format!("/forbidden_acts/{index}");
        act(&known, &below(&pointer, "act"), &forbidden.act, flaws);
        if let Some(until) = &forbidden.until {
            named(&known.steps, &below(&pointer, "until"), "step", until, flaws);
        }
    }
}

fn check_step(known: &Known<'_>, pointer: &str, step: &Step, flaws: &mut Flaws) {
    acts(known, &below(pointer, "acts"), &step.acts, flaws);
    for timed in step.min_seconds.keys() {
        let place = below(&below(pointer, "min_seconds"), timed);
        if !known.acts.contains(&**timed) {
            act(known, &place, timed, flaws);
        } else if !step.acts.contains(timed) {
            let text = format!(
                "\"{timed}\" has a least duration here but is not among the acts of the step \"{}\"; add it \
                 to \"acts\" or take it out.",
                step.id
            );
            flaws.add(place, text);
        }
    }
    for (index, predecessor) in step.after.iter().enumerate() {
        let place = format!("{pointer}/after/{index}");
        named(&known.steps, &place, "step", predecessor.step(), flaws);
        if step.after.iter().take(index).any(|earlier| earlier.step() == predecessor.step()) {
            let text = format!(
                "\"{}\" stands twice in \"after\" of the step \"{}\"; keep one of them.",
                predecessor.step(),
                step.id
            );
            flaws.add(place, text);
        }
    }
    if let Some(predecessor) = &step.immediately_after {
        named(&known.steps, &below(pointer, "immediately_after"), "step", predecessor, flaws);
    }
    if let Some(condition) = &step.when {
        named(&known.conditions, &below(pointer, "when"), "condition", condition, flaws);
    }
    if let Some(condition) = &step.unless {
        named(&known.conditions, &below(pointer, "unless"), "condition", condition, flaws);
    }
    source(known, pointer, step.source.as_deref(), flaws);
}

fn source(known: &Known<'_>, pointer: &str, source: Option<&str>, flaws: &mut Flaws) {
    if let Some(source) = source {
        named(&known.sources, &below(pointer, "source"), "source", source, flaws);
    }
}

fn groups(known: &Known<'_>, pointer: &str, groups: &[Vec<String>], flaws: &mut Flaws) {
    for (index, group) in groups.iter().enumerate() {
        acts(known, &below(pointer, index), group, flaws);
    }
}

fn acts(known: &Known<'_>, pointer: &str, list: &[String], flaws: &mut Flaws) {
    for (index, id) in list.iter().enumerate() {
        act(known, &below(pointer, index), id, flaws);
    }
}

fn act(known: &Known<'_>, pointer: &str, id: &str, flaws: &mut Flaws) {
    if known.combined.contains(id) && !known.acts.contains(id) {
        let text = format!("\"{id}\" is a combined act; name the acts it counts as instead.");
        flaws.add(pointer, text);
    } else {
        named(&known.acts, pointer, "act", id, flaws);
    }
}

fn named(known: &BTreeSet<&str>, pointer: &str, what: &str, id: &str, flaws: &mut Flaws) {
    if known.contains(id) {
        return;
    }
    let advice = match nearest(id, known.iter().copied()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => format!("add it to \"{what}s\" or name another."),
    };
    flaws.add(pointer, format!("There is no {what} \"{id}\"; {advice}"));
}
