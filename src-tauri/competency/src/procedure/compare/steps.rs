//! Steps, one by one.

use std::collections::{BTreeMap, BTreeSet};

use super::{Side, Subject, Told, Turn};
use crate::procedure::{Applies, Predecessor, Step, StepId, TechniqueFault};
use crate::sentence;

pub(super) fn compare(old: &Side<'_>, new: &Side<'_>, told: &mut Told) {
    for step in new.procedure.steps.iter().filter(|step| !old.has(&step.id)) {
        told.add(Subject::Step, Turn::More, Some(&step.id), added(old, new, step));
    }
    for step in old.procedure.steps.iter().filter(|step| !new.has(&step.id)) {
        let text = format!("The step {} was taken out.", old.name(&step.id));
        told.add(Subject::Step, Turn::Less, Some(&step.id), text);
    }
    let before = |id: &str| old.procedure.steps.iter().find(|step| step.id == id);
    for step in &new.procedure.steps {
        if let Some(before) = before(&step.id) {
            one(&Pair { old, new, before, now: step }, told);
        }
    }
    let printed = |side: &Side<'_>, other: &Side<'_>| -> Vec<StepId> {
        side.procedure.steps.iter().map(|step| step.id.clone()).filter(|step| other.has(step)).collect()
    };
    if printed(old, new) != printed(new, old) {
        let text =
            "The steps are printed in another order; what must come before what is told apart from it.";
        told.add(Subject::PrintedOrder, Turn::Other, None, text.to_owned());
    }
}

/// An added step with what it comes between, among the steps that were there.
fn added(old: &Side<'_>, new: &Side<'_>, step: &Step) -> String {
    let number = new.model.step_number(&step.id).unwrap_or(usize::MAX);
    let known = |number: &usize| new.model.step(*number).is_some_and(|step| old.has(&step.id));
    let precedes = |first: usize, second: usize| new.model.must_precede(first, second);
    let before: Vec<usize> = new.model.before(number).iter().filter(known).collect();
    let after: Vec<usize> = new.model.after(number).iter().filter(known).collect();
    let nearest_before =
        before.iter().filter(|first| !before.iter().any(|between| precedes(**first, *between)));
    let nearest_after = after.iter().filter(|last| !after.iter().any(|between| precedes(*between, **last)));
    let named = |numbers: Vec<&usize>| -> String {
        let names: Vec<String> = numbers
            .into_iter()
            .filter_map(|number| new.model.step(*number))
            .map(|step| new.name(&step.id))
            .collect();
        names.join(" and ")
    };
    let (before, after) = (named(nearest_before.collect()), named(nearest_after.collect()));
    let what = if step.critical { "The critical step" } else { "The step" };
    let name = new.name(&step.id);
    match (before.is_empty(), after.is_empty()) {
        (true, true) => format!("{what} {name} was added, free in order."),
        (false, true) => format!("{what} {name} was added, after {before}."),
        (true, false) => format!("{what} {name} was added, before {after}."),
        (false, false) => format!("{what} {name} was added, after {before} and before {after}."),
    }
}

/// The same step in both versions.
struct Pair<'a, 'p> {
    old: &'a Side<'p>,
    new: &'a Side<'p>,
    before: &'a Step,
    now: &'a Step,
}

fn one(pair: &Pair<'_, '_>, told: &mut Told) {
    let (before, now) = (pair.before, pair.now);
    // Taken apart, so that a field that comes later cannot be forgotten here.
    let Step {
        id,
        section,
        acts,
        text,
        look_for,
        after,
        immediately_after: _,
        critical,
        optional,
        when: _,
        unless: _,
        by,
        min_seconds,
        technique_faults,
        why,
        source,
    } = now;
    let name = pair.new.name(id);
    let step = Some(&**id);
    if before.critical != *critical {
        let turn = Turn::by(&before.critical, critical);
        let text = match turn {
            Turn::More => format!("{name} became critical."),
            Turn::Less | Turn::Other => format!("{name} is no longer critical."),
        };
        told.add(Subject::Critical, turn, step, text);
    }
    if before.optional != *optional {
        let (turn, text) = if *optional {
            (Turn::Less, format!("{name} may now be left out."))
        } else {
            (Turn::More, format!("{name} may no longer be left out."))
        };
        told.add(Subject::Obligation, turn, step, text);
    }
    applies(pair, &name, told);
    if before.by != *by {
        let text = format!(
            "{name} is now done by the {}, no longer by the {}.",
            sentence::by(*by),
            sentence::by(before.by)
        );
        told.add(Subject::DoneBy, Turn::Other, step, text);
    }
    durations(pair, &name, &before.min_seconds, min_seconds, told);
    told.lists((&before.acts, acts), Subject::Alternative, step, |act, turn| match turn {
        Turn::More => format!("{} now does for {name} too.", pair.new.act(act)),
        Turn::Less | Turn::Other => format!("{} no longer does for {name}.", pair.old.act(act)),
    });
    faults(&before.technique_faults, technique_faults, &name, id, told);
    // Alternatives have no order of their own that anybody is held to.
    let rearranged = before.acts != *acts && set(&before.acts) == set(acts);
    let other = before.source != *source || rearranged;
    let (was, is) = (before.look_for.join(" · "), look_for.join(" · "));
    let mut passages = vec![
        (before.section.as_str(), section.as_str()),
        (&before.text, text),
        (&was, &is),
        (before.why.as_deref().unwrap_or_default(), why.as_deref().unwrap_or_default()),
    ];
    passages.extend(other_reasons(&before.after, after));
    told.words(other, step, &name, &passages);
}

fn set(ids: &[String]) -> BTreeSet<&String> {
    ids.iter().collect()
}

/// The reasons of each order that both versions have, as dangerous as before.
fn other_reasons<'a>(
    before: &'a [Predecessor],
    now: &'a [Predecessor],
) -> impl Iterator<Item = (&'a str, &'a str)> {
    before.iter().filter_map(|was| {
        let same = |is: &&Predecessor| is.step() == was.step() && is.danger() == was.danger();
        let is = now.iter().find(same)?;
        Some((was.why().unwrap_or_default(), is.why().unwrap_or_default()))
    })
}

fn applies(pair: &Pair<'_, '_>, name: &str, told: &mut Told) {
    let (before, now) = (pair.before.applies(), pair.now.applies());
    if before == now {
        return;
    }
    let said = |applies: Applies<'_>, side: &Side<'_>| match applies {
        Applies::Always => "in every case".to_owned(),
        Applies::Where(id) => format!("where {} holds", side.condition(id)),
        Applies::NotWhere(id) => format!("where {} does not hold", side.condition(id)),
    };
    let (was, is) = (said(before, pair.old), said(now, pair.new));
    let (turn, text) = match (before, now) {
        (_, Applies::Always) => (Turn::More, format!("{name} now applies {is}.")),
        (Applies::Always, _) => (Turn::Less, format!("{name} now applies only {is}.")),
        (_, _) => (Turn::Other, format!("{name} now applies {is}, no longer {was}.")),
    };
    told.add(Subject::Applies, turn, Some(&pair.now.id), text);
}

fn durations(
    pair: &Pair<'_, '_>,
    name: &str,
    before: &BTreeMap<String, u32>,
    now: &BTreeMap<String, u32>,
    told: &mut Told,
) {
    let timed: BTreeSet<&String> = before.keys().chain(now.keys()).collect();
    for act in timed {
        let (was, is) = (before.get(act), now.get(act));
        if was == is {
            continue;
        }
        let label = pair.new.act(act);
        // An act that does for the step in one version only was told already.
        if !(pair.before.acts.contains(act) && pair.now.acts.contains(act)) {
            continue;
        }
        let turn = Turn::by(&was, &is);
        let text = match (was, is) {
            (None, Some(is)) => format!("{label} in {name} now takes {is} seconds at least."),
            (Some(was), None) => {
                format!("{label} in {name} no longer has a least duration; it was {was} seconds.")
            }
            (Some(was), Some(is)) => {
                let way = if is > was { "raised" } else { "lowered" };
                format!("The least duration of {label} in {name} was {way} from {was} to {is} seconds.")
            }
            (None, None) => continue,
        };
        told.add(Subject::LeastDuration, turn, Some(&pair.now.id), text);
    }
}

fn faults(before: &[TechniqueFault], now: &[TechniqueFault], name: &str, id: &str, told: &mut Told) {
    let step = Some(id);
    let codes = |faults: &[TechniqueFault]| -> Vec<String> {
        faults.iter().map(|fault| fault.code.clone()).collect()
    };
    let fault = |code: &str| now.iter().chain(before).find(|fault| fault.code == code);
    told.lists((&codes(before), &codes(now)), Subject::Fault, step, |code, turn| {
        let said = fault(code).map_or(&**code, |fault| &*fault.text);
        match turn {
            Turn::More => format!("The technique fault “{said}” was added to {name}."),
            Turn::Less | Turn::Other => format!("The technique fault “{said}” was taken out of {name}."),
        }
    });
    let mut passages = Vec::new();
    for was in before {
        let Some(is) = now.iter().find(|fault| fault.code == was.code) else { continue };
        passages.push((was.text.as_str(), is.text.as_str()));
        if was.contaminates != is.contaminates {
            let turn = Turn::by(&was.contaminates, &is.contaminates);
            let counts = if is.contaminates { "now counts" } else { "no longer counts" };
            let text = format!("“{}” in {name} {counts} as contamination.", is.text);
            told.add(Subject::Contaminating, turn, step, text);
        }
    }
    told.words(false, step, &format!("a technique fault of {name}"), &passages);
}
