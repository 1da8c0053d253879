//! Steps of a draft.

use super::{Procedure, Refusal, Step, StepId, known, name, order};

pub(super) fn add(draft: &mut Procedure, step: Step, before: Option<&str>) -> Result<(), Refusal> {
    if draft.steps.iter().any(|listed| listed.id == step.id) {
        return Err(Refusal::new(format!(
            "There is a step “{}” already; give this one another name.",
            step.id
        )));
    }
    let place = before.map_or(Ok(draft.steps.len()), |before| known(draft, before))?;
    draft.steps.insert(place, step);
    Ok(())
}

pub(super) fn change(draft: &mut Procedure, step: Step) -> Result<(), Refusal> {
    let place = known(draft, &step.id)?;
    if let Some(listed) = draft.steps.get_mut(place) {
        let after = std::mem::take(&mut listed.after);
        let immediately_after = listed.immediately_after.take();
        *listed = Step { after, immediately_after, ..step };
    }
    Ok(())
}

pub(super) fn remove(draft: &mut Procedure, id: &str) -> Result<(), Refusal> {
    let place = known(draft, id)?;
    let removed = name(draft, id);
    if let Some(follower) = draft.steps.iter().find(|step| step.immediately_after.as_deref() == Some(id)) {
        let follower = name(draft, &follower.id);
        return Err(Refusal::new(format!("{follower} must come right after {removed}; change that first.")));
    }
    if let Some(forbidden) = draft.forbidden_acts.iter().find(|act| act.until.as_deref() == Some(id)) {
        let act = draft.acts.get(&forbidden.act).unwrap_or(&forbidden.act);
        return Err(Refusal::new(format!(
            "“{act}” is forbidden until {removed} is done; change that first."
        )));
    }
    let kept = order::Closure::of(draft);
    draft.steps.remove(place);
    for step in &mut draft.steps {
        step.after.retain(|predecessor| predecessor.step() != id);
    }
    kept.restore(draft, |first, second| first != id && second != id);
    Ok(())
}

pub(super) fn print_before(draft: &mut Procedure, id: &str, before: Option<&str>) -> Result<(), Refusal> {
    let place = known(draft, id)?;
    if before == Some(id) {
        return Ok(());
    }
    if let Some(before) = before {
        known(draft, before)?;
    }
    let step = draft.steps.remove(place);
    let place = before.map_or(Ok(draft.steps.len()), |before| known(draft, before))?;
    draft.steps.insert(place, step);
    Ok(())
}

/// An id for a new step or act, made from what it is called, that none of these is: small letters,
/// digits and hyphens.
pub fn fresh_id<'a>(called: &str, taken: impl IntoIterator<Item = &'a str>) -> StepId {
    const LONGEST: usize = 48;
    let plain: String = called
        .chars()
        .flat_map(char::to_lowercase)
        .map(|c| if c.is_ascii_lowercase() || c.is_ascii_digit() { c } else { ' ' })
        .collect();
    let mut id = String::new();
    for word in plain.split_whitespace() {
        if !id.is_empty() && id.len() + word.len() + 1 > LONGEST {
            break;
        }
        if !id.is_empty() {
            id.push('-');
        }
        id.extend(word.chars().take(LONGEST));
    }
    if id.is_empty() {
        "new".clone_into(&mut id);
    }
    let taken: std::collections::BTreeSet<&str> = taken.into_iter().collect();
    if !taken.contains(&*id) {
        return id;
    }
    // Among one more candidates than there are names, one is free.
    let candidates = (2..taken.len() + 3).map(|number| format!("{id}-{number}"));
    candidates.filter(|candidate| !taken.contains(&**candidate)).min_by_key(String::len).unwrap_or(id.clone())
}
