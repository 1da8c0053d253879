//! What holds or happens beside the steps: conditions, responses, free, forbidden and combined acts.

use super::{Side, Subject, Told, Turn};
use crate::procedure::{ActId, Ask, CombinedAct, ForbiddenAct, Response};
use crate::sentence;

pub(super) fn compare(old: &Side<'_>, new: &Side<'_>, told: &mut Told) {
    conditions(old, new, told);
    responses(old, new, told);
    let (was, is) = (&old.procedure.contamination_response, &new.procedure.contamination_response);
    if was != is {
        let (turn, text) = if was.is_empty() {
            (Turn::More, format!("After contamination, {} must now come next.", in_turn(new, is)))
        } else if is.is_empty() {
            (Turn::Less, format!("After contamination, {} need no longer come next.", in_turn(old, was)))
        } else {
            let (is, was) = (in_turn(new, is), in_turn(old, was));
            (Turn::Other, format!("After contamination, {is} must now come next; it was {was}."))
        };
        told.add(Subject::ContaminationResponse, turn, None, text);
    }
    let (was, is) = (&old.procedure.free_acts, &new.procedure.free_acts);
    told.lists((was, is), Subject::FreeAct, None, |act, turn| match turn {
        Turn::More => format!("{} may now be done anywhere at no cost.", new.act(act)),
        Turn::Less | Turn::Other => format!("{} may no longer be done just anywhere.", old.act(act)),
    });
    forbidden(old, new, told);
    combined(old, new, told);
}

fn in_turn(side: &Side<'_>, groups: &[Vec<String>]) -> String {
    sentence::in_turn(groups, |act| side.act(act))
}

fn conditions(old: &Side<'_>, new: &Side<'_>, told: &mut Told) {
    let ids = |side: &Side<'_>| -> Vec<String> {
        side.procedure.conditions.iter().map(|condition| condition.id.clone()).collect()
    };
    told.lists((&ids(old), &ids(new)), Subject::Condition, None, |id, turn| match turn {
        Turn::More => format!("The condition {} was added.", new.condition(id)),
        Turn::Less | Turn::Other => format!("The condition {} was taken out.", old.condition(id)),
    });
    for was in &old.procedure.conditions {
        let Some(is) = new.procedure.conditions.iter().find(|is| is.id == was.id) else { continue };
        let name = new.condition(&is.id);
        if was.ask != is.ask {
            let when = match is.ask {
                Ask::Start => "only before the first act",
                Ask::Anytime => "at any time",
            };
            told.add(Subject::Condition, Turn::Other, None, format!("{name} is now asked {when}."));
        }
        told.words(false, None, &format!("the condition {name}"), &[(&was.text, &is.text)]);
    }
}

fn reason(why: Option<&String>) -> &str {
    why.map_or("", String::as_str)
}

fn responses(old: &Side<'_>, new: &Side<'_>, told: &mut Told) {
    let to = |side: &Side<'_>| -> Vec<String> {
        side.procedure.responses.iter().map(|response| response.to.clone()).collect()
    };
    let of = |side: &Side<'_>, to: &str| side.procedure.responses.iter().find(|one| one.to == to).cloned();
    let acts = |side: &Side<'_>, to: &str| in_turn(side, &of(side, to).map_or_else(Vec::new, |one| one.acts));
    told.lists((&to(old), &to(new)), Subject::Response, None, |to, turn| match turn {
        Turn::More => format!("After {}, {} must now come next.", new.condition(to), acts(new, to)),
        Turn::Less | Turn::Other => {
            format!("After {}, {} need no longer come next.", old.condition(to), acts(old, to))
        }
    });
    for was in &old.procedure.responses {
        let Some(is) = of(new, &was.to) else { continue };
        let Response { to, acts: is_acts, critical, why, source } = &is;
        let name = new.condition(to);
        if was.acts != *is_acts {
            let (is, was) = (acts(new, to), acts(old, to));
            let text = format!("After {name}, {is} must now come next; it was {was}.");
            told.add(Subject::Response, Turn::Other, None, text);
        }
        if was.critical != *critical {
            let turn = Turn::by(&was.critical, critical);
            let text = match turn {
                Turn::More => format!("The response to {name} became critical."),
                Turn::Less | Turn::Other => format!("The response to {name} is no longer critical."),
            };
            told.add(Subject::CriticalResponse, turn, None, text);
        }
        let reason = [(reason(was.why.as_ref()), reason(why.as_ref()))];
        told.words(was.source != *source, None, &format!("the response to {name}"), &reason);
    }
}

fn forbidden(old: &Side<'_>, new: &Side<'_>, told: &mut Told) {
    let acts = |side: &Side<'_>| -> Vec<String> {
        side.procedure.forbidden_acts.iter().map(|forbidden| forbidden.act.clone()).collect()
    };
    let until = |side: &Side<'_>, forbidden: &ForbiddenAct| match &forbidden.until {
        Some(step) => format!("until {}", side.name(step)),
        None => "throughout".to_owned(),
    };
    let of = |side: &Side<'_>, act: &str| {
        side.procedure.forbidden_acts.iter().find(|forbidden| forbidden.act == act).cloned()
    };
    told.lists((&acts(old), &acts(new)), Subject::ForbiddenAct, None, |act, turn| match turn {
        Turn::More => {
            let until = of(new, act).map(|forbidden| until(new, &forbidden)).unwrap_or_default();
            format!("{} is now forbidden {until}.", new.act(act))
        }
        Turn::Less | Turn::Other => format!("{} is no longer forbidden.", old.act(act)),
    });
    for was in &old.procedure.forbidden_acts {
        let Some(is) = of(new, &was.act) else { continue };
        let name = new.act(&is.act);
        if was.until != is.until {
            let text = format!("{name} is now forbidden {}, no longer {}.", until(new, &is), until(old, was));
            told.add(Subject::ForbiddenAct, Turn::Other, None, text);
        }
        told.words(
            false,
            None,
            &format!("why {name} is forbidden"),
            &[(reason(was.why.as_ref()), reason(is.why.as_ref()))],
        );
    }
}

fn combined(old: &Side<'_>, new: &Side<'_>, told: &mut Told) {
    let (was, is) = (&old.procedure.combined_acts, &new.procedure.combined_acts);
    let ids = |acts: &std::collections::BTreeMap<ActId, CombinedAct>| -> Vec<ActId> {
        acts.keys().cloned().collect()
    };
    told.lists((&ids(was), &ids(is)), Subject::CombinedAct, None, |act, turn| match turn {
        Turn::More => format!("{} may now be done in one.", new.act(act)),
        Turn::Less | Turn::Other => format!("{} no longer counts as done in one.", old.act(act)),
    });
    for (act, was) in was {
        let Some(is) = is.get(act) else { continue };
        if was.counts_as != is.counts_as {
            let acts: Vec<String> = is.counts_as.iter().map(|act| new.act(act)).collect();
            let text = format!("{} now counts as {}.", new.act(act), acts.join(", then "));
            told.add(Subject::CombinedAct, Turn::Other, None, text);
        }
        told.words(false, None, &format!("the label of {}", new.act(act)), &[(&was.label, &is.label)]);
    }
}
