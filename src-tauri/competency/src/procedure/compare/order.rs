//! What must come before what: compared on the whole order, told by the pairs from which the rest
//! follows.

use std::collections::BTreeSet;

use super::{Side, Subject, Told, Turn};

pub(super) fn compare(old: &Side<'_>, new: &Side<'_>, told: &mut Told) {
    let common: Vec<&str> =
        new.procedure.steps.iter().map(|step| &*step.id).filter(|step| old.has(step)).collect();
    orders(old, new, &common, told);
    at_once(old, new, &common, told);
    dangers(old, new, &common, told);
}

fn precedes(side: &Side<'_>, first: &str, second: &str) -> bool {
    let number = |step| side.model.step_number(step);
    number(first).zip(number(second)).is_some_and(|(first, second)| side.model.must_precede(first, second))
}

/// The pairs in order among these steps that do not follow from other pairs among them.
fn covering<'s>(side: &Side<'_>, among: &[&'s str]) -> Vec<(&'s str, &'s str)> {
    let mut pairs = Vec::new();
    for &second in among {
        let before: Vec<&str> = among.iter().copied().filter(|first| precedes(side, first, second)).collect();
        let covered = |first: &str| before.iter().any(|between| precedes(side, first, between));
        pairs.extend(before.iter().filter(|first| !covered(first)).map(|first| (*first, second)));
    }
    pairs
}

fn orders(old: &Side<'_>, new: &Side<'_>, common: &[&str], told: &mut Told) {
    let mut turned = BTreeSet::new();
    for (first, second) in covering(new, common) {
        if precedes(old, second, first) {
            turned.insert((first, second));
        } else if !precedes(old, first, second) {
            let text = format!("{} must now come before {}.", new.name(first), new.name(second));
            told.add(Subject::Order, Turn::More, Some(second), text);
        }
    }
    for (first, second) in covering(old, common) {
        if precedes(new, second, first) {
            turned.insert((second, first));
        } else if !precedes(new, first, second) {
            let text = format!("{} need no longer come before {}.", new.name(first), new.name(second));
            told.add(Subject::Order, Turn::Less, Some(second), text);
        }
    }
    for (first, second) in turned {
        let (first_name, second_name) = (new.name(first), new.name(second));
        let text = format!("{first_name} must now come before {second_name}; it was the other way round.");
        told.add(Subject::Order, Turn::Other, Some(second), text);
    }
}

fn at_once(old: &Side<'_>, new: &Side<'_>, common: &[&str], told: &mut Told) {
    let lead = |side: &Side<'_>, step: &str| {
        let step = side.model.step_number(step).and_then(|number| side.model.step(number));
        step.and_then(|step| step.immediately_after.clone())
    };
    for &step in common {
        let (turn, text) = match (lead(old, step), lead(new, step)) {
            (None, Some(lead)) => {
                (Turn::More, format!("{} must now come right after {}.", new.name(step), new.name(&lead)))
            }
            (Some(lead), None) => (
                Turn::Less,
                format!("{} need no longer come right after {}.", new.name(step), old.name(&lead)),
            ),
            (Some(before), Some(now)) if before != now => (
                Turn::Other,
                format!(
                    "{} must now come right after {}, no longer after {}.",
                    new.name(step),
                    new.name(&now),
                    old.name(&before)
                ),
            ),
            (Some(_), Some(_)) | (None, None) => continue,
        };
        told.add(Subject::AtOnce, turn, Some(step), text);
    }
}

/// Only between steps that both versions have: what an added step brings comes with it.
fn dangers(old: &Side<'_>, new: &Side<'_>, common: &[&str], told: &mut Told) {
    let pairs = |side: &Side<'_>| -> Vec<(String, String)> {
        let dangerous = side.procedure.steps.iter().flat_map(|step| {
            step.after
                .iter()
                .filter(|predecessor| predecessor.danger())
                .map(|predecessor| (predecessor.step().to_owned(), step.id.clone()))
        });
        dangerous
            .filter(|(first, second)| common.contains(&&**first) && common.contains(&&**second))
            .collect()
    };
    for (before, second, turn) in differences(&pairs(old), &pairs(new)) {
        let (first_name, second_name) = (new.name(&before), new.name(&second));
        let text = match turn {
            Turn::More => {
                format!("Doing {second_name} before {first_name} now counts as a danger to the wearer.")
            }
            Turn::Less | Turn::Other => {
                format!("Doing {second_name} before {first_name} no longer counts as a danger.")
            }
        };
        told.add(Subject::Danger, turn, Some(&second), text);
    }
}

fn differences(old: &[(String, String)], new: &[(String, String)]) -> Vec<(String, String, Turn)> {
    let only = |list: &[(String, String)], other: &[(String, String)], turn: Turn| {
        let kept = list.iter().filter(|pair| !other.contains(pair)).cloned();
        kept.map(|(first, second)| (first, second, turn)).collect::<Vec<_>>()
    };
    [only(new, old, Turn::More), only(old, new, Turn::Less)].concat()
}
