//! Acts, conditions and sources: taken out only where nothing needs them.

use super::{Procedure, Refusal, name};
use crate::procedure::Step;

/// Adds it, or puts it in the place of the one with the same name.
pub(super) fn put<T>(list: &mut Vec<T>, item: T, id: impl Fn(&T) -> &String) {
    match list.iter_mut().find(|listed| id(listed) == id(&item)) {
        Some(listed) => *listed = item,
        None => list.push(item),
    }
}

pub(super) fn remove_source(draft: &mut Procedure, id: &str) -> Result<(), Refusal> {
    needed_by_steps(draft, "This source is cited by", |step| step.source.as_deref() == Some(id))?;
    draft.sources.retain(|source| source.id != id);
    Ok(())
}

pub(super) fn remove_act(draft: &mut Procedure, id: &str) -> Result<(), Refusal> {
    needed_by_steps(draft, "This act does for", |step| step.acts.iter().any(|act| act == id))?;
    let is_it = |act: &String| act == id;
    let groups = |groups: &[Vec<String>]| groups.iter().flatten().any(is_it);
    let equipment = &draft.equipment;
    let mut products = equipment.glove_products.iter().chain(&equipment.respirator_models);
    let users = [
        ("a response calls for it", draft.responses.iter().any(|response| groups(&response.acts))),
        ("it must follow contamination", groups(&draft.contamination_response)),
        (
            "a combined act counts as it",
            draft.combined_acts.values().any(|act| act.counts_as.iter().any(is_it)),
        ),
        ("it is a free act", draft.free_acts.iter().any(is_it)),
        ("it is forbidden", draft.forbidden_acts.iter().any(|forbidden| forbidden.act == id)),
        ("it has a contact time", equipment.contact_times.iter().any(|time| time.act == id)),
        ("a product is shown with it", products.any(|product| product.acts.iter().any(is_it))),
    ];
    if let Some((needed, _)) = users.iter().find(|(_, needs)| *needs) {
        return Err(Refusal::new(format!("This act is still needed: {needed}; change that first.")));
    }
    draft.acts.remove(id);
    Ok(())
}

pub(super) fn remove_condition(draft: &mut Procedure, id: &str) -> Result<(), Refusal> {
    needed_by_steps(draft, "This condition decides about", |step| step.applies().condition() == Some(id))?;
    if draft.responses.iter().any(|response| response.to == id) {
        return Err(Refusal::new("This condition has a response; take that out first."));
    }
    draft.conditions.retain(|condition| condition.id != id);
    Ok(())
}

fn needed_by_steps(draft: &Procedure, what: &str, by: impl Fn(&Step) -> bool) -> Result<(), Refusal> {
    let names: Vec<String> =
        draft.steps.iter().filter(|step| by(step)).map(|step| name(draft, &step.id)).collect();
    if names.is_empty() {
        return Ok(());
    }
    Err(Refusal::new(format!("{what} {}; change that first.", names.join(", "))))
}
