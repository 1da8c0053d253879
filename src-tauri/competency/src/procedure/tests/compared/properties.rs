//! Chance procedures, and those of the library, against one another.

use proptest::prelude::*;

use crate::model::Model;
use crate::procedure::{Asks, Procedure, Subject, Turn, compare, library, read};
use crate::testing::chance::{Chance, procedure as random};

#[test]
fn every_procedure_of_the_library_is_as_it_is() {
    let procedures: Vec<Procedure> =
        library().iter().map(|(_, text)| read(text).expect("it reads")).collect();
    for procedure in &procedures {
        let again = Procedure { version: "9.9.9".to_owned(), schema: None, ..procedure.clone() };
        assert!(compare(procedure, &again).is_empty(), "{}", procedure.id);
    }
    for (one, other) in procedures.iter().zip(procedures.iter().skip(1)) {
        symmetric(one, other);
    }
}

/// The kinds of change told one way are those told the other way, turned round.
#[track_caller]
fn symmetric(one: &Procedure, other: &Procedure) {
    let kinds = |from: &Procedure, to: &Procedure, turn: fn(Turn) -> Turn| {
        let mut kinds: Vec<(Subject, Turn)> =
            compare(from, to).changes.iter().map(|change| (change.subject, turn(change.turn))).collect();
        kinds.sort_unstable();
        kinds
    };
    assert_eq!(kinds(one, other, |turn| turn), kinds(other, one, Turn::opposite));
}

proptest! {
    #[test]
    fn nothing_changed_is_nothing_told_and_there_is_back(seed in any::<u64>(), steps in 1_usize..9) {
        let mut chance = Chance(seed);
        let one = random(&mut chance, steps);
        let other = random(&mut chance, steps);
        prop_assert!(compare(&one, &one).is_empty());
        symmetric(&one, &other);
        prop_assert_eq!(compare(&one, &other).is_empty(), one == other);
    }

    /// Told orders, put on top of the old closure less the loosened ones, explain the new one: a pair is
    /// told as tightened only if it is new, and every new pair follows from old ones and told ones.
    #[test]
    fn the_order_told_is_the_order_that_changed(seed in any::<u64>(), steps in 2_usize..9) {
        let mut chance = Chance(seed);
        let (one, other) = (random(&mut chance, steps), random(&mut chance, steps));
        let comparison = compare(&one, &other);
        let asks = comparison.changes.iter().any(|change| {
            change.subject == Subject::Order && change.turn != Turn::Less
        });
        let (old, new) = (Model::new(one), Model::new(other));
        let tightened = (0..steps).any(|first| {
            (0..steps).any(|second| new.must_precede(first, second) && !old.must_precede(first, second))
        });
        prop_assert_eq!(asks, tightened);
        if tightened {
            prop_assert_eq!(comparison.asks(), Asks::Demonstration);
        }
    }
}
