use super::*;
use crate::procedure::{Product, library, read};
use crate::validity::{Origin, State};

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn whole_library() -> impl Iterator<Item = Procedure> {
    library().iter().map(|(_, text)| read(text).expect("the library has no flaw"))
}

fn procedure(id: &str) -> Procedure {
    let mut procedure = whole_library().find(|one| one.id == id).expect("it is in the library");
    if Breathing::Tight.worn_in(&procedure, Precaution::Airborne) {
        let product = Product { name: "Acme 9".to_owned(), acts: Vec::new() };
        procedure.equipment.respirator_models = vec![product];
    }
    procedure
}

fn held(until: Option<&str>) -> Standing {
    Standing {
        state: if until.is_some() { State::Current } else { State::NeverValidated },
        valid_until: until.map(date),
        decided_on: until.map(|_| date("2026-01-01")),
        evidence: until.map(|_| Origin::Here),
        suspended_since: None,
        because: "Never validated: no completed attempt counts.".to_owned(),
    }
}

fn test(model: &str, on: &str, passed: bool) -> FitTest {
    FitTest { model: model.to_owned(), size: "M".to_owned(), on: date(on), passed }
}

/// A person who holds donning and doffing through 2026, asked about on 1 June 2026.
fn asked(pair: &[Procedure; 2], precaution: Precaution) -> Question<'_> {
    let accepted = pair
        .iter()
        .zip(["2026-12-31", "2026-11-30"])
        .map(|(procedure, until)| Accepted { procedure, standing: held(Some(until)) })
        .collect();
    Question {
        precaution,
        accepted,
        wearer: Wearer {
            fit_tests: vec![test("Acme 9", "2026-01-31", true)],
            medical: vec![Medical { on: date("2020-01-01"), cleared: true, until: None }],
            medical_required: true,
            strict_year: false,
        },
        suspended: None,
        as_of: date("2026-06-01"),
    }
}

#[track_caller]
fn check(question: &Question<'_>, expected: Result<&str, &[&str]>) {
    let answer = clearance(question);
    match (&answer, expected) {
        (Clearance::Cleared { because, .. }, Ok(expected)) => assert_eq!(because, expected),
        (Clearance::Missing(missing), Err(expected)) => assert_eq!(missing, expected),
        _ => panic!("{answer:?} is not {expected:?}"),
    }
}

fn n95() -> [Procedure; 2] {
    [procedure("airborne-contact-donning"), procedure("standard-removal-example-1")]
}

#[test]
fn it_holds_through_the_earliest_of_its_parts_and_names_it() {
    let pair = n95();
    let mut question = asked(&pair, Precaution::Airborne);
    let title = &pair[1].title;
    let doffing = format!("Cleared through 30 November 2026: \"{title}\" runs out then.");
    check(&question, Ok(&doffing));
    question.wearer.fit_tests = vec![test("Acme 9", "2025-07-15", true)];
    check(&question, Ok("Cleared through 15 July 2026: the fit test with Acme 9 runs out then."));
    question.wearer.medical =
        vec![Medical { on: date("2025-07-01"), cleared: true, until: Some(date("2026-07-01")) }];
    check(&question, Ok("Cleared through 1 July 2026: the medical clearance runs out then."));
}

#[test]
fn everything_missing_is_told() {
    let pair = n95();
    let mut question = asked(&pair, Precaution::Airborne);
    question.accepted[0].standing = held(None);
    question.wearer.fit_tests = vec![test("Other 1", "2026-05-01", true)];
    question.wearer.medical = Vec::new();
    let donning = format!("{}: Never validated: no completed attempt counts.", pair[0].title);
    check(&question, Err(&[&donning, "No fit test with Acme 9.", "No medical clearance for a respirator."]));
    question.wearer.medical = vec![Medical { on: date("2026-05-01"), cleared: false, until: None }];
    question.accepted.remove(0);
    check(
        &question,
        Err(&[
            "No procedure for putting on is accepted for these precautions.",
            "No respirator model is set in the procedure, so that no fit test can be for it: set it under Procedures, in the workbench, among the facility values.",
            "Not medically cleared for a respirator on 1 May 2026.",
        ]),
    );
    question.precaution = Precaution::HighConsequence;
    check(&question, Err(&["No accepted procedure is for these precautions."]));
    let why = "by the ward sister".to_owned();
    question.suspended = Some(Suspension { since: date("2026-06-01"), why });
    check(&question, Err(&["Suspended since 1 June 2026: by the ward sister."]));
}

/// 29 CFR 1910.134(f)(2): at least annually, and OSHA's letter of 23 December 1998: on or before the
/// anniversary.
#[test]
fn a_fit_test_holds_through_its_anniversary_for_the_very_model() {
    let pair = n95();
    let mut question = asked(&pair, Precaution::Airborne);
    question.as_of = date("2026-06-01");
    let mut on = |tests: Vec<FitTest>| {
        question.wearer.fit_tests = tests;
        clearance(&question)
    };
    let missing = |sentence: &str| Clearance::Missing(vec![sentence.to_owned()]);
    assert!(on(vec![test("Acme 9", "2025-06-01", true)]).is_cleared(), "on the anniversary");
    let out = on(vec![test("Acme 9", "2025-05-31", true)]);
    assert_eq!(out, missing("The fit test with Acme 9 ran out on 31 May 2026."));
    assert_eq!(on(vec![test("Acme 9", "2026-06-02", true)]), missing("No fit test with Acme 9."), "ahead");
    assert!(on(vec![test(" acme 9", "2026-01-01", true)]).is_cleared(), "the same name");
    assert_eq!(on(vec![test("Acme 9S", "2026-01-01", true)]), missing("No fit test with Acme 9."));
    let failed = vec![test("Acme 9", "2026-01-01", true), test("Acme 9", "2026-02-01", false)];
    assert_eq!(on(failed.clone()), missing("The fit test with Acme 9 on 1 February 2026 was not passed."));
    let other_size = FitTest { size: "S".to_owned(), ..test("Acme 9", "2026-02-01", true) };
    assert!(on(vec![failed[1].clone(), other_size]).is_cleared(), "another size was passed");
    question.wearer.strict_year = true;
    question.as_of = date("2024-06-15");
    question.wearer.fit_tests = vec![test("Acme 9", "2023-06-15", true)];
    let strict = missing("The fit test with Acme 9 ran out on 14 June 2024.");
    assert_eq!(clearance(&question), strict, "the 366th day, where the facility counts 365");
    question.wearer.strict_year = false;
    assert!(clearance(&question).is_cleared());
}

#[test]
fn a_loose_fitting_hood_needs_no_fit_test_and_a_mask_nothing() {
    let hood = [procedure("high-consequence-papr-donning"), procedure("high-consequence-papr-doffing")];
    let mut question = asked(&hood, Precaution::HighConsequence);
    question.wearer.fit_tests = Vec::new();
    assert!(clearance(&question).is_cleared());
    question.wearer.medical = Vec::new();
    check(&question, Err(&["No medical clearance for a respirator."]));
    question.wearer.medical_required = false;
    assert!(clearance(&question).is_cleared());
    let mask = [procedure("droplet-contact-donning"), procedure("standard-removal-example-1")];
    let mut question = asked(&mask, Precaution::Droplet);
    (question.wearer.fit_tests, question.wearer.medical) = (Vec::new(), Vec::new());
    assert!(clearance(&question).is_cleared());
}

#[test]
fn a_facepiece_put_on_and_a_hood_taken_off_are_no_pair() {
    let mixed = [procedure("high-consequence-n95-donning"), procedure("high-consequence-papr-doffing")];
    let question = asked(&mixed, Precaution::HighConsequence);
    assert!(!clearance(&question).is_cleared());
}

#[test]
fn the_day_before_on_and_after() {
    let pair = n95();
    let mut question = asked(&pair, Precaution::Airborne);
    let until = Some(date("2026-07-01"));
    question.wearer.medical = vec![Medical { on: date("2026-06-01"), cleared: true, until }];
    for (on, cleared) in
        [("2026-05-31", false), ("2026-06-01", true), ("2026-07-01", true), ("2026-07-02", false)]
    {
        question.as_of = date(on);
        assert_eq!(clearance(&question).is_cleared(), cleared, "{on}");
    }
}

/// Whatever the library's ensembles say is read as one of three.
#[test]
fn every_ensemble_of_the_library_is_read() {
    let mut read = Vec::new();
    for procedure in whole_library().filter(|one| one.phase != Phase::Other) {
        for precaution in &procedure.precautions {
            let worn: Vec<_> =
                Breathing::ALL.into_iter().filter(|kind| kind.worn_in(&procedure, *precaution)).collect();
            let airborne = matches!(precaution, Precaution::Airborne | Precaution::HighConsequence);
            if airborne {
                read.push(format!("{} {worn:?}", procedure.id));
            } else {
                let all_ways: &[Breathing] = &[Breathing::Mask, Breathing::Tight];
                assert!(worn.iter().all(|kind| all_ways.contains(kind)) && !worn.is_empty());
            }
        }
    }
    assert_eq!(
        read,
        [
            "airborne-contact-donning [Tight]",
            "covid-era-removal [Tight]",
            "high-consequence-n95-doffing [Tight]",
            "high-consequence-n95-donning [Tight]",
            "high-consequence-papr-doffing [LooseHood]",
            "high-consequence-papr-donning [LooseHood]",
            "n95-redonning-limited-reuse [Tight]",
            "standard-donning [Tight]",
            "standard-removal-example-1 [Tight]",
            "standard-removal-example-2 [Tight]",
            "who-filovirus-coverall-doffing [Mask]",
        ]
    );
}

/// 29 CFR 1910.134(f)(7), from memory.
#[test]
fn a_fit_factor_passes_from_100_or_500_on() {
    let passes =
        [99, 100, 499, 500].map(|factor| (factor_passes(factor, false), factor_passes(factor, true)));
    assert_eq!(passes, [(false, false), (true, false), (true, false), (true, true)]);
}

#[test]
fn what_is_missing_before_a_demonstration_is_told_with_what_to_do() {
    let missing = |id: &str, wearer: &Wearer| prerequisites(&procedure(id), wearer, date("2026-06-01"));
    let nothing = Wearer { medical_required: true, ..Wearer::default() };
    let health =
        "No medical clearance for a respirator. Ask occupational health before a respirator is put on.";
    let fit = "No fit test with Acme 9. Arrange the fit test first, or wear a model that was fitted.";
    assert_eq!(missing("airborne-contact-donning", &nothing), [fit, health]);
    assert_eq!(missing("high-consequence-papr-doffing", &nothing), [health], "loose-fitting: no fit test");
    for none in ["standard-donning", "droplet-contact-donning", "hand-rub"] {
        assert_eq!(missing(none, &nothing), Vec::<String>::new(), "{none}");
    }
    let ready = Wearer { fit_tests: vec![test("Acme 9", "2026-01-31", true)], ..Wearer::default() };
    assert_eq!(missing("airborne-contact-donning", &ready), Vec::<String>::new());
}

/// 29 CFR 1910.134(g)(1)(iii) and Appendix B-1: a seal check each time a tight-fitting respirator is put on.
#[test]
fn every_tight_fitting_respirator_of_the_library_is_put_on_with_a_seal_check() {
    let tight = |one: &Procedure| {
        one.phase == Phase::Donning
            && one.precautions.iter().any(|precaution| Breathing::Tight.worn_in(one, *precaution))
    };
    let mut seen = 0;
    for procedure in whole_library().filter(tight) {
        let steps = procedure.steps.iter().flat_map(|step| std::iter::once(&step.text).chain(&step.look_for));
        let mut words = steps.chain(procedure.acts.values()).map(|text| text.to_lowercase());
        assert!(words.any(|text| text.contains("seal")), "{}", procedure.id);
        seen += 1;
    }
    assert_eq!(seen, 4);
}
