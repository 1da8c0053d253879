//! Chance edits of chance drafts.

use std::collections::{BTreeMap, BTreeSet};

use proptest::prelude::*;

use super::{free, require};
use crate::model::{MAX_SHARED_ORDERS, Model, orders_of_shared_acts};
use crate::procedure::{Edit, Predecessor, Procedure, edit};
use crate::testing;
use crate::testing::chance::{Chance, procedure as random};

/// Looks for a circle without the model: takes away steps that wait for nobody until none is left.
fn can_be_kept(procedure: &Procedure) -> bool {
    let mut waits: BTreeMap<&str, BTreeSet<&str>> = procedure
        .steps
        .iter()
        .map(|step| {
            let after = step.after.iter().map(Predecessor::step);
            (&*step.id, after.chain(step.immediately_after.as_deref()).collect())
        })
        .collect();
    while let Some(ready) = waits.iter().find(|(_, after)| after.is_empty()).map(|(step, _)| *step) {
        waits.remove(ready);
        for after in waits.values_mut() {
            after.remove(ready);
        }
    }
    waits.is_empty()
}

fn pairs(procedure: &Procedure) -> BTreeSet<(String, String)> {
    let model = Model::new(procedure.clone());
    let ids: Vec<&String> = procedure.steps.iter().map(|step| &step.id).collect();
    let mut pairs = BTreeSet::new();
    for (first, one) in ids.iter().enumerate() {
        for (second, two) in ids.iter().enumerate() {
            if model.must_precede(first, second) {
                pairs.insert(((*one).clone(), (*two).clone()));
            }
        }
    }
    pairs
}

fn chance_edit(chance: &mut Chance, draft: &Procedure) -> Edit {
    let step = |chance: &mut Chance| format!("s{}", chance.below(draft.steps.len() + 2));
    let (one, two) = (step(chance), step(chance));
    match chance.below(9) {
        0 | 1 => require(&one, &two),
        2 => free(&one, &two),
        3 => Edit::Require { before: one, after: two, danger: true, why: Some("Because.".to_owned()) },
        4 => Edit::SetAtOnce { step: one, lead: (!chance.one_in(3)).then_some(two) },
        5 => Edit::RemoveStep(one),
        6 => Edit::MoveStep { step: one, before: Some(two) },
        7 => {
            let mut new = testing::procedure(&format!("{one}[a0]<{two}")).steps.remove(0);
            new.immediately_after = chance.one_in(4).then(|| step(chance));
            Edit::AddStep { step: new, before: None }
        }
        _ => Edit::RemoveCondition("torn".to_owned()),
    }
}

proptest! {
    #[test]
    fn no_edit_makes_an_order_that_cannot_be_kept(seed in any::<u64>(), steps in 2_usize..8) {
        let mut chance = Chance(seed);
        let mut draft = random(&mut chance, steps);
        for _ in 0..24 {
            let change = chance_edit(&mut chance, &draft);
            let before = pairs(&draft);
            let Ok(edited) = edit(&draft, &change) else { continue };
            prop_assert!(can_be_kept(&edited), "{:?}", change);
            let ids: BTreeSet<&str> = edited.steps.iter().map(|step| &*step.id).collect();
            prop_assert_eq!(ids.len(), edited.steps.len());
            for step in &edited.steps {
                prop_assert!(step.after.iter().all(|one| ids.contains(one.step())));
                prop_assert!(step.immediately_after.iter().all(|lead| ids.contains(&**lead)));
            }
            let model = Model::new(edited.clone());
            prop_assert!(orders_of_shared_acts(&model, MAX_SHARED_ORDERS + 1) <= MAX_SHARED_ORDERS);
            let after = pairs(&edited);
            if let Edit::Require { before: first, after: second, .. } = &change {
                // Exactly this order and what follows from it.
                let of = |pick: fn(&(String, String)) -> (&String, &String), end: &String| -> BTreeSet<String> {
                    let others = before.iter().map(pick).filter(|(at, _)| *at == end);
                    others.map(|(_, other)| other.clone()).chain([end.clone()]).collect()
                };
                let early = of(|(from, to)| (to, from), first);
                let late = of(|(from, to)| (from, to), second);
                let mut expected = before.clone();
                for one in early {
                    expected.extend(late.iter().map(|two| (one.clone(), two.clone())));
                }
                prop_assert_eq!(&after, &expected);
            }
            if let Edit::Free { before: first, after: second } = &change {
                // This order and no other, or none where others imply it.
                let gone: Vec<_> = before.difference(&after).cloned().collect();
                prop_assert!(after.is_subset(&before));
                prop_assert!(gone.is_empty() || gone == [(first.clone(), second.clone())], "{:?}", gone);
            }
            if let Edit::RemoveStep(step) = &change {
                let kept: BTreeSet<_> =
                    before.iter().filter(|(from, to)| from != step && to != step).cloned().collect();
                prop_assert_eq!(&after, &kept);
            }
            if matches!(change, Edit::MoveStep { .. }) {
                prop_assert_eq!(&after, &before);
            }
            if matches!(change, Edit::SetAtOnce { .. }) {
                prop_assert!(before.is_subset(&after));
            }
            draft = edited;
        }
    }
}
