//! The alignment against exhaustive search: the cost, and every tie level.
//!
//! What is exact and why: Dilworth 1950 (antichains and chains), Koenig 1931 (matching and cover, on
//! which the minimum cut rests), Adriansyah, van Dongen and van der Aalst 2011 (alignments).

use std::cmp::Reverse;
use std::convert::Infallible;

use super::super::Case;
use crate::bits::Bits;
use crate::log::Log;
use crate::model::Model;
use crate::procedure::{Mode, Procedure};
use crate::testing::chance::{self, Chance};
use crate::testing::{log, procedure};

/// The levels of one choice, best first: cost, matched acts that were warned about, credit, pairs, pairs
/// as the live rule had them. Counted from the definition, without the packed weights.
type Levels = (usize, usize, Reverse<usize>, Reverse<usize>, Reverse<usize>);

fn levels(case: &Case<'_>, pairs: &[(usize, usize)]) -> Levels {
    let worth = |&(step, event): &(usize, usize)| case.watched.worth(case.model, case.log, step, event);
    let matched: Bits = pairs.iter().map(|&(step, _)| step).collect();
    let missing = case.watched.required.without(matched).iter().count();
    let events = case.watched.events.iter().enumerate();
    let idle = events.filter(|(e, event)| event.costs && !pairs.iter().any(|(_, used)| used == e)).count();
    (
        missing + idle,
        pairs.iter().filter(|pair| worth(pair).warned).count(),
        Reverse(pairs.iter().map(|pair| usize::from(worth(pair).credit)).sum()),
        Reverse(pairs.len()),
        Reverse(pairs.iter().filter(|pair| worth(pair).as_live).count()),
    )
}

/// Every legal choice from this event on.
fn choices(
    case: &Case<'_>,
    event: usize,
    chosen: &mut Vec<(usize, usize)>,
    found: &mut Vec<Vec<(usize, usize)>>,
) {
    let Some(seen) = case.watched.events.get(event) else {
        found.push(chosen.clone());
        return;
    };
    choices(case, event + 1, chosen, found);
    for step in seen.steps.iter() {
        // The event is later than all chosen ones, so its step must not come before any of theirs.
        if chosen.iter().all(|&(earlier, _)| earlier != step && !case.model.must_precede(step, earlier)) {
            chosen.push((step, event));
            choices(case, event + 1, chosen, found);
            chosen.pop();
        }
    }
}

/// Compares one case with exhaustive search. Says of each level whether it parted choices that were equal before.
#[track_caller]
fn check(model: &Model, log: &Log) -> [bool; 5] {
    let clock = |_: i64| String::new();
    let Ok(case) = Case::new(model, log, &clock, &|| Ok::<(), Infallible>(()));
    let mut ours: Vec<(usize, usize)> =
        (0..model.len()).filter_map(|step| Some((step, case.event_of(step)?))).collect();
    ours.sort_by_key(|&(_, event)| event);
    let mut all = Vec::new();
    choices(&case, 0, &mut Vec::new(), &mut all);
    let at = || format!("{:?}\n{:?}\nours {ours:?}", model.procedure().steps, log.observations);
    assert!(all.contains(&ours), "not a legal choice: {}", at());
    let best = all.iter().map(|pairs| levels(&case, pairs)).min().unwrap();
    assert_eq!(levels(&case, &ours), best, "of {}", at());
    assert_eq!(case.cost(), u32::try_from(best.0).unwrap());
    let events = |pairs: &[(usize, usize)]| pairs.iter().map(|&(_, event)| event).collect::<Vec<_>>();
    let of_all: Vec<Levels> = all.iter().map(|pairs| levels(&case, pairs)).collect();
    let parts = |kept: &dyn Fn(&Levels) -> bool, level: &dyn Fn(&Levels) -> bool| {
        of_all.iter().any(|levels| kept(levels) && !level(levels))
    };
    let decided = [
        parts(&|_| true, &|l| l.0 == best.0),
        parts(&|l| l.0 == best.0, &|l| l.1 == best.1),
        parts(&|l| (l.0, l.1) == (best.0, best.1), &|l| l.2 == best.2),
        parts(&|l| (l.0, l.1, l.2) == (best.0, best.1, best.2), &|l| l.3 == best.3),
        parts(&|l| (l.0, l.1, l.2, l.3) == (best.0, best.1, best.2, best.3), &|l| l.4 == best.4),
    ];
    let ties: Vec<_> = all.into_iter().filter(|pairs| levels(&case, pairs) == best).collect();
    let ordered = crate::model::orders_of_shared_acts(model, 2) == 1;
    for tie in ties {
        let (theirs, own) = (events(&tie), events(&ours));
        assert!(own <= theirs, "another one comes earlier: {tie:?} of {}", at());
        if ordered {
            // The greatest: every pair of any other has one of ours at or above it.
            let above = |&(step, event): &(usize, usize)| {
                ours.iter().any(|&(s, e)| (s == step || model.must_precede(step, s)) && e <= event)
            };
            assert!(tie.iter().all(above), "{tie:?} is not below of {}", at());
        }
    }
    decided
}

/// Every partial order of so many steps, up to names: closed relations between earlier and later steps,
/// the least of each class under renaming. `sizes_of_the_enumeration` counts them.
pub(super) fn orders(steps: usize) -> Vec<Vec<(usize, usize)>> {
    let pairs: Vec<(usize, usize)> = (0..steps).flat_map(|b| (0..b).map(move |a| (a, b))).collect();
    let mut names: Vec<Vec<usize>> = vec![Vec::new()];
    for _ in 0..steps {
        let longer = |name: Vec<usize>| {
            (0..steps)
                .filter(|n| !name.contains(n))
                .map(|n| [name.clone(), vec![n]].concat())
                .collect::<Vec<_>>()
        };
        names = names.into_iter().flat_map(longer).collect();
    }
    let mut classes = std::collections::BTreeSet::new();
    for choice in 0..1_u32 << pairs.len() {
        let relation: Vec<(usize, usize)> = pairs
            .iter()
            .enumerate()
            .filter(|(bit, _)| choice >> bit & 1 == 1)
            .map(|(_, &pair)| pair)
            .collect();
        let closed = relation.iter().all(|&(a, b)| {
            relation.iter().filter(|&&(c, _)| c == b).all(|&(_, d)| relation.contains(&(a, d)))
        });
        if closed {
            let renamed = names.iter().map(|name| {
                let mut renamed: Vec<_> = relation.iter().map(|&(a, b)| (name[a], name[b])).collect();
                renamed.sort_unstable();
                renamed
            });
            // Kept only where it is written from earlier to later steps.
            classes.extend(renamed.filter(|r| r.iter().all(|(a, b)| a < b)).min());
        }
    }
    classes.into_iter().collect()
}

/// The steps of an order in the notation of the tests, each with these acts.
pub(super) fn steps(order: &[(usize, usize)], acts: &[usize]) -> Procedure {
    let words: Vec<String> = acts
        .iter()
        .enumerate()
        .map(|(step, act)| {
            let before: Vec<String> = order
                .iter()
                .filter(|&&(_, after)| after == step)
                .map(|(before, _)| format!("s{before}"))
                .collect();
            let after = if before.is_empty() { String::new() } else { format!("<{}", before.join(",")) };
            format!("s{step}[{act}]{after}")
        })
        .collect();
    procedure(&words.join(" "))
}

/// Every log over so many acts, up to a length.
fn logs(acts: usize, longest: usize) -> Vec<String> {
    let mut all = vec![String::new()];
    let mut last = all.clone();
    for _ in 0..longest {
        last = last.iter().flat_map(|log| (0..acts).map(move |act| format!("{log} {act}"))).collect();
        all.extend(last.iter().cloned());
    }
    all
}

/// All orders of two to so many steps that share two acts, in every way.
fn sharing_two_acts(most: usize) -> impl Iterator<Item = Procedure> {
    let sized = |size: usize| orders(size).into_iter().map(move |order| (size, order));
    (2..=most).flat_map(sized).flat_map(|(size, order)| {
        (0..1_usize << size).map(move |sharing| {
            let acts: Vec<usize> = (0..size).map(|step| sharing >> step & 1).collect();
            steps(&order, &acts)
        })
    })
}

/// Numbers of partial orders up to names: OEIS A000112.
#[test]
fn sizes_of_the_enumeration() {
    assert_eq!([1, 2, 3, 4, 5].map(|steps| orders(steps).len()), [1, 2, 5, 16, 63]);
}

/// All orders of up to four steps, distinct acts and one unknown act; all logs of up to four acts.
#[test]
fn all_small_orders_with_distinct_acts() {
    for size in 1..=4 {
        let all = logs(size + 1, 4);
        for order in orders(size) {
            let model = Model::new(steps(&order, &(0..size).collect::<Vec<_>>()));
            for text in &all {
                check(&model, &log(text));
            }
        }
    }
}

/// All orders of five steps with distinct acts; all logs in which each act comes once or is left out, and all of
/// up to three acts, one of them unknown.
#[test]
fn all_orders_of_five_steps() {
    let once = |text: &&String| {
        let mut acts: Vec<&str> = text.split_whitespace().collect();
        let length = acts.len();
        acts.sort_unstable();
        acts.dedup();
        acts.len() == length
    };
    let (all, short) = (logs(5, 5), logs(6, 3));
    for order in orders(5) {
        let model = Model::new(steps(&order, &[0, 1, 2, 3, 4]));
        for text in all.iter().filter(once).chain(&short) {
            check(&model, &log(text));
        }
    }
}

/// All orders of up to three steps that share two acts in every way, one of them free or none; all logs of up to
/// four acts, each done well or prompted. Here every level has something to decide.
#[test]
fn every_level_of_a_tie_decides() {
    let all: Vec<String> =
        logs(4, 4).into_iter().map(|text| text.replace('2', "0!").replace('3', "1!")).collect();
    let mut decided = [0; 5];
    for mut procedure in sharing_two_acts(3) {
        for _ in 0..2 {
            let model = Model::new(procedure.clone());
            for text in &all {
                for (count, level) in decided.iter_mut().zip(check(&model, &log(text))) {
                    *count += usize::from(level);
                }
            }
            procedure.free_acts = vec!["0".to_owned()];
        }
    }
    assert!(decided.iter().all(|&count| count > 10), "how often each level decided: {decided:?}");
}

/// All orders of up to four steps that share two acts in every way, ordered or not, plain and with the
/// first act free and the last step optional; all logs of up to five acts.
#[test]
fn all_small_orders_with_repeated_acts() {
    let all = logs(2, 5);
    for mut procedure in sharing_two_acts(4) {
        for _ in 0..2 {
            let model = Model::new(procedure.clone());
            for text in &all {
                check(&model, &log(text));
            }
            procedure.free_acts = vec!["0".to_owned()];
            procedure.steps.last_mut().unwrap().optional = true;
        }
    }
}

/// Random procedures with everything that the alignment depends on.
#[test]
fn random_procedures() {
    let mut chance = Chance(20_261_125);
    for case in 0..1500 {
        let steps = 2 + chance.below(5);
        let procedure = chance::procedure(&mut chance, steps);
        let mode = if case % 3 == 0 { Mode::Guided } else { Mode::Assessed };
        let log = chance::log(&mut chance, &procedure, mode);
        check(&Model::new(procedure), &log);
    }
}
