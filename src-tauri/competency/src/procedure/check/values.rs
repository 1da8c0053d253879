//! Values: nothing empty that is shown, nothing out of range, nothing that contradicts itself.

use std::collections::{BTreeMap, BTreeSet};

use super::super::{ActId, Applies, Ask, Equipment, Procedure, Step, texts};
use super::{Flaws, is_blank, lacks_reason};
use crate::flaw::below;

/// Longest time a validation may hold, in months.
const MOST_MONTHS: u32 = 120;

/// The most acts that are done in one: nobody does more, and each is scored like an observation of its own.
const MOST_PARTS: usize = 4;

/// Characters in one text; more does not fit into a cell of a form.
const LONGEST_TEXT: usize = 2000;

pub(super) fn check(procedure: &Procedure, flaws: &mut Flaws) {
    head(procedure, flaws);
    for (id, label) in &procedure.acts {
        shown(below("/acts", id), "label", label, flaws);
    }
    for (id, combined) in &procedure.combined_acts {
        let pointer = below("/combined_acts", id);
        shown(below(&pointer, "label"), "label", &combined.label, flaws);
        let parts: BTreeSet<&ActId> = combined.counts_as.iter().collect();
        if parts.len() < 2 || parts.len() < combined.counts_as.len() || parts.len() > MOST_PARTS {
            let text = format!(
                "The combined act \"{id}\" must count as two to {MOST_PARTS} acts, each of them once."
            );
            flaws.add(below(&pointer, "counts_as"), text);
        }
    }
    for (index, condition) in procedure.conditions.iter().enumerate() {
        shown(format!("/conditions/{index}/text"), "text", &condition.text, flaws);
    }
    for (index, source) in procedure.sources.iter().enumerate() {
        shown(format!("/sources/{index}/title"), "title", &source.title, flaws);
    }
    for (index, each) in procedure.steps.iter().enumerate() {
        step(&format!("/steps/{index}"), each, flaws);
        applies(&format!("/steps/{index}/unless"), each, procedure, flaws);
    }
    if !procedure
        .steps
        .iter()
        .any(|step| !step.optional && step.applies() == Applies::Always && step.by.is_wearer())
    {
        let text = "No step is always required of the wearer, so a demonstration without a single act \
                    would be a good one; add a step without \"optional\", \"when\" and \"unless\".";
        flaws.add("/steps", text);
    }
    lengths(procedure, flaws);
    equipment(&procedure.equipment, flaws);
    responses(procedure, flaws);
    forbidden(procedure, flaws);
}

/// Every text stands on a screen and on a page.
fn lengths(procedure: &Procedure, flaws: &mut Flaws) {
    for (pointer, text) in texts(procedure) {
        let long = text.chars().count();
        if long > LONGEST_TEXT {
            let told = format!("This text has {long} characters; write it in {LONGEST_TEXT} at most.");
            flaws.add(pointer, told);
        }
    }
}

/// What a step that does not apply under a condition may say.
fn applies(pointer: &str, step: &Step, procedure: &Procedure, flaws: &mut Flaws) {
    let Some(id) = &step.unless else { return };
    if step.when.is_some() {
        let text = format!(
            "The step \"{}\" has both \"when\" and \"unless\"; keep one, and make two steps where both are needed.",
            step.id
        );
        flaws.add(pointer, text);
    }
    // One that comes about later would take back a step that was required, and may be done, already.
    if procedure.conditions.iter().any(|condition| condition.id == *id && condition.ask != Ask::Start) {
        let text = format!("\"unless\" needs a condition that is asked at the start, and \"{id}\" is not.");
        flaws.add(pointer, text);
    }
}

fn head(procedure: &Procedure, flaws: &mut Flaws) {
    shown("/title".to_owned(), "title", &procedure.title, flaws);
    if semver::Version::parse(&procedure.version).is_err() {
        let text = format!(
            "\"{}\" is not a semantic version; write three numbers with dots, such as 1.0.0.",
            procedure.version
        );
        flaws.add("/version", text);
    }
    if !(1..=MOST_MONTHS).contains(&procedure.valid_months) {
        let months = procedure.valid_months;
        let text = format!("A validation holds for 1 to {MOST_MONTHS} months, not {months}.");
        flaws.add("/valid_months", text);
    }
    if let Some(percent) = procedure.pass.min_percent.filter(|percent| *percent > 100) {
        flaws.add("/pass/min_percent", format!("A share is at most 100 percent, not {percent}."));
    }
}

fn equipment(equipment: &Equipment, flaws: &mut Flaws) {
    let mut timed = BTreeSet::new();
    for (index, time) in equipment.contact_times.iter().enumerate() {
        let pointer = format!("/equipment/contact_times/{index}");
        let act = &time.act;
        if !timed.insert(act) {
            let text = format!("\"{act}\" has a contact time already; keep one of the two.");
            flaws.add(below(&pointer, "act"), text);
        }
        if let Some(product) = &time.product {
            shown(below(&pointer, "product"), "product", product, flaws);
        }
        if time.seconds == Some(0) {
            let text = format!("The contact time of \"{act}\" is 0 seconds; leave it out until it is set.");
            flaws.add(below(&pointer, "seconds"), text);
        }
    }
    for (list, products) in
        [("glove_products", &equipment.glove_products), ("respirator_models", &equipment.respirator_models)]
    {
        let mut named = BTreeSet::new();
        for (index, product) in products.iter().enumerate() {
            let pointer = format!("/equipment/{list}/{index}");
            shown(below(&pointer, "name"), "name", &product.name, flaws);
            if !named.insert(&product.name) {
                let text = format!("\"{}\" stands in this list already; keep one of the two.", product.name);
                flaws.add(below(&pointer, "name"), text);
            }
            if product.acts.is_empty() {
                let text = format!(
                    "\"{}\" belongs to no act, so it is shown nowhere; name one act at least.",
                    product.name
                );
                flaws.add(below(&pointer, "acts"), text);
            }
            repeated(&below(&pointer, "acts"), &product.acts, flaws);
        }
    }
}

fn shown(pointer: String, what: &str, text: &str, flaws: &mut Flaws) {
    if is_blank(text) {
        flaws.add(pointer, format!("This {what} is empty, but it is shown; write one."));
    }
}

fn step(pointer: &str, step: &Step, flaws: &mut Flaws) {
    let id = &step.id;
    shown(below(pointer, "section"), "section", &step.section, flaws);
    shown(below(pointer, "text"), "text", &step.text, flaws);
    if step.acts.is_empty() {
        let text = format!("The step \"{id}\" has no acts, so it can never be observed; name one at least.");
        flaws.add(below(pointer, "acts"), text);
    }
    repeated(&below(pointer, "acts"), &step.acts, flaws);
    for (act, seconds) in &step.min_seconds {
        if *seconds == 0 {
            let text = format!("The least duration of \"{act}\" is 0 seconds; leave it out.");
            flaws.add(below(&below(pointer, "min_seconds"), act), text);
        }
    }
    if step.critical && step.optional {
        let text = format!("The step \"{id}\" is critical and optional; it cannot be both.");
        flaws.add(pointer, text);
    }
    if step.critical && lacks_reason(step.why.as_deref()) {
        flaws.add(pointer, format!("The step \"{id}\" is critical, but not said why; add \"why\"."));
    }
    for (index, fault) in step.technique_faults.iter().enumerate() {
        shown(format!("{pointer}/technique_faults/{index}/text"), "text", &fault.text, flaws);
    }
}

fn repeated(pointer: &str, acts: &[ActId], flaws: &mut Flaws) {
    for (index, act) in acts.iter().enumerate() {
        if acts.iter().take(index).any(|earlier| earlier == act) {
            flaws.add(below(pointer, index), format!("\"{act}\" stands twice here; keep one of them."));
        }
    }
}

fn responses(procedure: &Procedure, flaws: &mut Flaws) {
    let mut answered = BTreeMap::new();
    for (index, response) in procedure.responses.iter().enumerate() {
        let pointer = format!("/responses/{index}");
        let to = &response.to;
        if let Some(earlier) = answered.insert(to, index) {
            let text = format!(
                "The condition \"{to}\" has a response already, number {}; put them together.",
                earlier + 1
            );
            flaws.add(below(&pointer, "to"), text);
        }
        if response.acts.is_empty() {
            let text = format!("The response to \"{to}\" has no acts; name what must come next.");
            flaws.add(below(&pointer, "acts"), text);
        }
        groups(&below(&pointer, "acts"), &response.acts, flaws);
    }
    groups("/contamination_response", &procedure.contamination_response, flaws);
    repeated("/free_acts", &procedure.free_acts, flaws);
}

fn groups(pointer: &str, groups: &[Vec<ActId>], flaws: &mut Flaws) {
    for (index, group) in groups.iter().enumerate() {
        let pointer = below(pointer, index);
        if group.is_empty() {
            flaws.add(&pointer, "This group of acts is empty; name one act at least, or take it out.");
        }
        repeated(&pointer, group, flaws);
    }
}

/// An act that must not happen cannot be called for anywhere.
fn forbidden(procedure: &Procedure, flaws: &mut Flaws) {
    let mut seen = BTreeSet::new();
    for (index, forbidden) in procedure.forbidden_acts.iter().enumerate() {
        let pointer = format!("/forbidden_acts/{index}/act");
        let act = &forbidden.act;
        if !seen.insert(act) {
            flaws.add(&pointer, format!("\"{act}\" is forbidden already; keep one of the two."));
        }
        let wanted = if let Some(step) = procedure.steps.iter().find(|step| step.acts.contains(act)) {
            Some(format!("the step \"{}\" calls for it", step.id))
        } else if procedure.free_acts.contains(act) {
            Some("it is a free act as well".to_owned())
        } else if procedure.combined_acts.values().any(|combined| combined.counts_as.contains(act)) {
            Some("a combined act counts as it".to_owned())
        } else {
            let answers = procedure.responses.iter().map(|response| &response.acts);
            let mut groups = answers.chain([&procedure.contamination_response]).flatten();
            groups.any(|group| group.contains(act)).then(|| "a response calls for it".to_owned())
        };
        if let Some(wanted) = wanted {
            flaws.add(&pointer, format!("\"{act}\" cannot be forbidden: {wanted}; use an act of its own."));
        }
    }
}
