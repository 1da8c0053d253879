//! The three published removal sequences.

use super::Subject;
use crate::log::Log;
use crate::model::Model;
use crate::procedure::Mode;
use crate::report::Outcome::{Competent, NotYetCompetent};
use crate::score::score_family;
use crate::testing::log_in;

fn example_1() -> Subject {
    Subject::new(
        "standard-removal-example-1",
        &["wears-respirator"],
        "remove-gloves remove-goggles remove-gown leave-room remove-respirator hand-rub=25",
    )
}

/// The poster asks for hand hygiene whenever hands become contaminated, and other authorities after
/// every item, so it may come anywhere.
#[test]
fn example_1_right() {
    example_1().right(example_1().right);
    example_1().right(
        "remove-gloves hand-rub=25 remove-face-shield hand-rub=25 remove-gown hand-rub=25 leave-room \
         hand-rub=25 remove-respirator hand-wash=45",
    );
    let masked = Subject::new("standard-removal-example-1", &[], "");
    masked.right("remove-gloves remove-face-shield remove-gown remove-mask hand-wash=45");
    example_1().changed(
        "remove-gloves",
        "remove-gloves $hands hand-rub=25",
        Competent,
        &["other contamination -"],
    );
}

#[test]
fn example_1_errors() {
    // Zellmer 2015 (from memory): 17 of 30 took the gown off out of order, 16 wore equipment into the hall.
    example_1().check(
        "remove-gown remove-gloves remove-goggles leave-room remove-respirator hand-rub=25",
        NotYetCompetent,
        &["critical out-of-order gown-off"],
    );
    example_1().changed(
        "remove-gown leave-room",
        "leave-room remove-gown",
        Competent,
        &["other out-of-order leave-room"],
    );
    // Mumma 2018: hand hygiene carried the highest risk of all steps.
    example_1().changed("hand-rub=25", "", NotYetCompetent, &["critical missed final-hand-hygiene"]);
    // Tomas 2015: glove removal contaminated the person in 52.9 percent.
    example_1().changed(
        "remove-gloves",
        "remove-gloves%bare-hand-on-outside",
        NotYetCompetent,
        &["critical technique gloves-off", "critical response-late -"],
    );
    example_1().changed(
        "remove-gloves",
        "remove-gloves%bare-hand-on-outside hand-rub=25",
        Competent,
        &["other technique gloves-off"],
    );
    example_1().changed("remove-gown", "remove-gown touch-face", NotYetCompetent, &["critical forbidden -"]);
    example_1().changed(
        "leave-room remove-respirator",
        "remove-respirator leave-room",
        NotYetCompetent,
        &["critical out-of-order mask-off"],
    );
}

fn example_2() -> Subject {
    Subject::new(
        "standard-removal-example-2",
        &["wears-respirator"],
        "gown-with-gloves remove-goggles leave-room remove-respirator hand-rub=25",
    )
}

#[test]
fn example_2_right() {
    example_2().right(example_2().right);
    example_2().right(
        "remove-gown remove-gloves hand-rub=25 remove-face-shield leave-room remove-respirator hand-wash=45",
    );
}

#[test]
fn example_2_errors() {
    example_2().check(
        "remove-goggles gown-with-gloves leave-room remove-respirator hand-rub=25",
        NotYetCompetent,
        &["critical out-of-order eyes-uncovered"],
    );
    example_2().changed("hand-rub=25", "", NotYetCompetent, &["critical missed final-hand-hygiene"]);
    example_2().changed(
        "remove-goggles leave-room remove-respirator",
        "leave-room remove-respirator remove-goggles",
        NotYetCompetent,
        &["critical out-of-order eyes-uncovered", "other not-immediate final-hand-hygiene"],
    );
    example_2().changed(
        "gown-with-gloves",
        "gown-with-gloves $$forearm",
        NotYetCompetent,
        &["critical contamination -", "critical response-late -"],
    );
    example_2().changed("leave-room", "", NotYetCompetent, &["critical missed leave-room"]);
}

fn covid() -> Subject {
    Subject::new(
        "covid-era-removal",
        &[],
        "remove-gloves remove-gown leave-room hand-rub=25 remove-goggles remove-respirator hand-rub=25",
    )
}

#[test]
fn covid_era_right() {
    covid().right(covid().right);
    covid().right(
        "remove-gloves hand-rub=25 remove-gown leave-room hand-wash=45 remove-face-shield hand-rub=25 \
         remove-mask hand-wash=45",
    );
}

#[test]
fn covid_era_errors() {
    covid().changed(
        "leave-room hand-rub=25 remove-goggles",
        "leave-room remove-goggles",
        NotYetCompetent,
        &["critical missed hand-hygiene-outside"],
    );
    covid().changed(
        "remove-gown leave-room",
        "leave-room remove-gown",
        Competent,
        &["other out-of-order leave-room"],
    );
    covid().changed(
        "remove-gloves remove-gown",
        "remove-gown remove-gloves",
        NotYetCompetent,
        &["critical out-of-order gown-off"],
    );
    covid().changed(
        "remove-goggles remove-respirator",
        "remove-respirator remove-goggles",
        NotYetCompetent,
        &["critical out-of-order mask-off"],
    );
    covid().changed(
        "remove-goggles",
        "remove-goggles%front-touched",
        NotYetCompetent,
        &["critical technique eyes-uncovered", "critical response-late -"],
    );
}

/// Three sequences of one family contradict each other; whoever keeps to one of them is right, and the
/// one that was kept is named.
#[test]
fn a_family_is_scored_against_each_and_the_best_is_kept() {
    let models: Vec<Model> = [example_1(), example_2(), covid()].map(|subject| subject.model).into();
    let best = |text: &str| {
        let log: Log = log_in(Mode::Assessed, &["wears-respirator"], text);
        let (index, report) = score_family(&models, &log).expect("there are models");
        assert_eq!(report.outcome, Competent, "{text}");
        models[index].procedure().id.clone()
    };
    assert_eq!(best(example_1().right), "standard-removal-example-1");
    assert_eq!(best(example_2().right), "standard-removal-example-2");
    assert_eq!(best(covid().right), "covid-era-removal");
}
