//! What is legal in a procedure but makes one wonder whether it is meant.

use std::collections::BTreeSet;

use super::cycles::has_cycle;
use super::{Ask, By, Mode, Precaution, Predecessor, Procedure, Step};
use crate::flaw::{Flaw, below};
use crate::model::{MAX_STEPS, Model};

/// Longest label that fits the button of the live form, in characters (common practice, no source: it
/// was measured on the form).
pub const LONGEST_LABEL: usize = 28;

/// Fewest steps of which it is odd that every one waits for the one before it.
const LONG_CHAIN: usize = 4;

/// Warnings about a procedure that has no flaw; none of them keeps it from being used. Not yet located
/// in a text, see [`crate::flaw::locate`].
pub fn odd(procedure: &Procedure) -> Vec<Flaw> {
    let mut flaws = Vec::new();
    head(procedure, &mut flaws);
    labels(procedure, &mut flaws);
    unused(procedure, &mut flaws);
    reasons(procedure, &mut flaws);
    let model = Model::new(procedure.clone());
    if procedure.steps.len() <= MAX_STEPS && !has_cycle(&model) {
        loose_ends(procedure, &model, &mut flaws);
        implied(procedure, &model, &mut flaws);
        chain(procedure, &model, &mut flaws);
    }
    flaws
}

fn head(procedure: &Procedure, flaws: &mut Vec<Flaw>) {
    if procedure.validates_in.is_empty() {
        let text = "No mode is named in which this procedure validates, so it can only be practised.";
        flaws.push(Flaw::new("/validates_in", text));
    }
    let high = procedure.precautions.contains(&Precaution::HighConsequence);
    if procedure.validates_in.contains(&Mode::Guided) && !high {
        let text = "It validates in guided mode, which published guidance asks for under high-consequence \
                    precautions only; elsewhere the person works unaided.";
        flaws.push(Flaw::new("/validates_in", text));
    }
    if procedure.precautions.is_empty() {
        flaws.push(Flaw::new(
            "/precautions",
            "It belongs to no precautions, so no clearance will ask for it.",
        ));
    }
}

fn labels(procedure: &Procedure, flaws: &mut Vec<Flaw>) {
    let acts = procedure.acts.iter().map(|(id, label)| (below("/acts", id), label));
    let combined = procedure
        .combined_acts
        .iter()
        .map(|(id, combined)| (below(&below("/combined_acts", id), "label"), &combined.label));
    let mut seen = BTreeSet::new();
    for (pointer, label) in acts.chain(combined) {
        if label.chars().count() > LONGEST_LABEL {
            let text =
                format!("\"{label}\" has more than {LONGEST_LABEL} characters and may not fit its button.");
            flaws.push(Flaw::new(pointer.clone(), text));
        }
        if !seen.insert(label) {
            let text = format!("Two acts are called \"{label}\"; the observer cannot tell them apart.");
            flaws.push(Flaw::new(pointer, text));
        }
    }
}

fn unused(procedure: &Procedure, flaws: &mut Vec<Flaw>) {
    let steps = || procedure.steps.iter();
    let responses = || procedure.responses.iter();
    let mut acts: BTreeSet<&str> = steps().flat_map(|step| &step.acts).map(|act| &**act).collect();
    acts.extend(responses().flat_map(|response| response.acts.iter().flatten()).map(|act| &**act));
    acts.extend(procedure.contamination_response.iter().flatten().map(|act| &**act));
    acts.extend(procedure.free_acts.iter().map(|act| &**act));
    acts.extend(procedure.forbidden_acts.iter().map(|forbidden| &*forbidden.act));
    for act in procedure.acts.keys().filter(|act| !acts.contains(&***act)) {
        let text =
            format!("No step calls for \"{act}\" and it is neither free nor forbidden: it is always extra.");
        flaws.push(Flaw::new(below("/acts", act), text));
    }
    for (index, condition) in procedure.conditions.iter().enumerate() {
        let id = &condition.id;
        let answered = responses().any(|response| response.to == *id);
        let asked = steps().any(|step| step.applies().condition() == Some(id));
        let pointer = format!("/conditions/{index}");
        if !answered && !asked {
            flaws.push(Flaw::new(&*pointer, format!("Nothing depends on the condition \"{id}\".")));
        }
        if answered && condition.ask == Ask::Start {
            let text = format!(
                "\"{id}\" is asked at the start only, so its response never falls due; ask for it anytime."
            );
            flaws.push(Flaw::new(pointer, text));
        }
    }
    let cited: BTreeSet<&str> = steps()
        .filter_map(|step| step.source.as_deref())
        .chain(responses().filter_map(|response| response.source.as_deref()))
        .collect();
    for (index, source) in procedure.sources.iter().enumerate() {
        if !cited.contains(&*source.id) && !named_in_a_reason(procedure, &source.id) {
            let text = format!("Nothing cites the source \"{}\".", source.id);
            flaws.push(Flaw::new(format!("/sources/{index}"), text));
        }
    }
}

/// A study stands beside the guidance that a step is taken from: its reason names it, as "Tomas 2015" names
/// `tomas-2015`.
fn named_in_a_reason(procedure: &Procedure, source: &str) -> bool {
    let name = source.replace('-', " ");
    let orders = procedure.steps.iter().flat_map(|step| step.after.iter().filter_map(Predecessor::why));
    let reasons = procedure.steps.iter().filter_map(|step| step.why.as_deref()).chain(orders);
    let answers = procedure.responses.iter().filter_map(|response| response.why.as_deref());
    reasons.chain(answers).any(|why| why.to_lowercase().contains(&name))
}

fn reasons(procedure: &Procedure, flaws: &mut Vec<Flaw>) {
    for (index, step) in procedure.steps.iter().enumerate() {
        for (place, after) in step.after.iter().enumerate() {
            one_sentence(&format!("/steps/{index}/after/{place}/why"), after.why(), flaws);
        }
        for (place, fault) in step.technique_faults.iter().enumerate() {
            one_sentence(&format!("/steps/{index}/technique_faults/{place}/text"), Some(&fault.text), flaws);
        }
        one_sentence(&format!("/steps/{index}/why"), step.why.as_deref(), flaws);
        if step.source.is_none() {
            let text = format!("The step \"{}\" cites no source.", step.id);
            flaws.push(Flaw::new(format!("/steps/{index}"), text));
        }
    }
    for (index, response) in procedure.responses.iter().enumerate() {
        one_sentence(&format!("/responses/{index}/why"), response.why.as_deref(), flaws);
        if response.critical && response.why.is_none() {
            let text = format!("The response to \"{}\" is critical, but not said why.", response.to);
            flaws.push(Flaw::new(format!("/responses/{index}"), text));
        }
    }
    for (index, forbidden) in procedure.forbidden_acts.iter().enumerate() {
        one_sentence(&format!("/forbidden_acts/{index}/why"), forbidden.why.as_deref(), flaws);
        if forbidden.why.is_none() {
            let text = format!("\"{}\" is forbidden, but not said why.", forbidden.act);
            flaws.push(Flaw::new(format!("/forbidden_acts/{index}"), text));
        }
    }
}

/// What a finding says in the middle of its one sentence.
fn one_sentence(place: &str, text: Option<&str>, flaws: &mut Vec<Flaw>) {
    let more = text.into_iter().flat_map(|text| text.split(". ").skip(1));
    if more.into_iter().any(|next| next.starts_with(char::is_uppercase)) {
        let said = "This is more than one sentence; a finding says it in the middle of one.";
        flaws.push(Flaw::new(place, said));
    }
}

/// A step that must be done and that nothing waits for, other than the last. What an assistant does for themselves,
/// such as disinfecting their gloves, is often the end of it; what the observer says is for what comes next.
fn loose_ends(procedure: &Procedure, model: &Model, flaws: &mut Vec<Flaw>) {
    let ends = |index: usize, step: &Step| {
        step.by != By::Assistant && !step.optional && model.after(index).is_empty()
    };
    let last = procedure.steps.len().saturating_sub(1);
    for (index, step) in procedure.steps.iter().enumerate().take(last).filter(|(i, step)| ends(*i, step)) {
        let text = format!(
            "Nothing comes after \"{}\", so it may be done at the very end; say what must wait for it, if \
             anything must.",
            step.id
        );
        flaws.push(Flaw::new(format!("/steps/{index}"), text));
    }
}

/// A predecessor that follows from the others says nothing new, unless it carries a danger or a reason.
fn implied(procedure: &Procedure, model: &Model, flaws: &mut Vec<Flaw>) {
    for (index, step) in procedure.steps.iter().enumerate() {
        for (place, predecessor) in step.after.iter().enumerate() {
            if predecessor.danger() || predecessor.why().is_some() {
                continue;
            }
            let Some(first) = model.step_number(predecessor.step()) else { continue };
            let through = model
                .declared(index)
                .iter()
                .find(|edge| model.must_precede(first, edge.before))
                .and_then(|edge| model.step(edge.before));
            if let Some(through) = through {
                let text = format!(
                    "\"{}\" comes before \"{}\" anyway, through \"{}\"; it can be left out.",
                    predecessor.step(),
                    step.id,
                    through.id
                );
                flaws.push(Flaw::new(format!("/steps/{index}/after/{place}"), text));
            }
        }
    }
}

fn chain(procedure: &Procedure, model: &Model, flaws: &mut Vec<Flaw>) {
    let count = procedure.steps.len();
    let total = (0..count).all(|step| {
        (0..count)
            .all(|other| step == other || model.must_precede(step, other) || model.must_precede(other, step))
    });
    let explained =
        procedure.steps.iter().flat_map(|step| &step.after).all(|predecessor| predecessor.why().is_some());
    if total && !explained && count >= LONG_CHAIN {
        let text = "Every step waits for the one before it, and not every order has a reason; what guidance \
                    leaves free should be free here, or it fails people who did it right.";
        flaws.push(Flaw::new("/steps", text));
    }
}
