//! Alignment costs against three other ways of finding them.

use crate::cases::{Case, Chance};
use serde_json::json;

#[track_caller]
fn check(cases: &[Case], expected: &[u32]) {
    assert_eq!(cases.len(), expected.len());
    let spoilt = expected.iter().filter(|cost| **cost > 0).count();
    assert!(2 * spoilt > cases.len(), "too few of the cases cost anything: {spoilt}");
    for (case, &expected) in cases.iter().zip(expected) {
        assert_eq!(case.cost(), expected, "of {case:?}");
    }
}

/// r4pm 0.6.2: optimal alignments on Petri nets (Adriansyah, van Dongen and van der Aalst 2011).
#[test]
fn r4pm_finds_the_same_costs() {
    let mut chance = Chance(1);
    let cases: Vec<Case> =
        (0..500).map(|number| Case::random(&mut chance, 1 + number * 40 / 500, 5, false)).collect();
    check(&cases, &suite::python::ask::<Vec<u32>>(include_str!("alignment.py"), &cases));
}

/// `SciPy`'s `milp` (HiGHS): the choice of pairs as a whole-number program.
#[test]
fn a_whole_number_program_finds_the_same_costs() {
    let mut chance = Chance(2);
    let cases: Vec<Case> =
        (0..200).map(|number| Case::random(&mut chance, 2 + number * 24 / 200, 2, false)).collect();
    let question = json!({ "by": "milp", "cases": cases });
    check(&cases, &suite::python::ask::<Vec<u32>>(include_str!("antichain.py"), &question));
}

/// `SciPy`'s `maximum_flow`: the maximum antichain by Dilworth 1950.
#[test]
fn a_maximum_flow_finds_the_same_costs() {
    let mut chance = Chance(3);
    let cases: Vec<Case> =
        (0..200).map(|number| Case::random(&mut chance, 2 + number * 40 / 200, 2, true)).collect();
    let question = json!({ "by": "flow", "cases": cases });
    check(&cases, &suite::python::ask::<Vec<u32>>(include_str!("antichain.py"), &question));
}
