//! What a unit manager does to a data folder: requirements, clearance, early triggers, rosters.

use std::fs;

use competency::{clearance::Clearance, procedure::Precaution, report::Outcome, validity::State};
use contract::{
    About, AddPerson, AskAgain, CheckPrerequisites, FacilityRules, FitResult, OpenPerson, OpenRequirements,
    OpenRoster, OpenRosterPage, OpenUnitFindings, RosterFormat, RosterSort, SaveRoster, SetFacilityRules,
    SetRequirement, SignedBy, StateAbout, WhoMayGoIn,
};

use super::tests::{AS_PRINTED, FIRST, PIN, Ward, at, date};

impl Ward {
    pub(super) fn state(
        &self,
        what: About,
        signed: bool,
        day: i64,
    ) -> Result<contract::PersonFile, contract::Fault> {
        let signed = signed.then(|| SignedBy { observer: self.observer.clone(), pin: PIN.to_owned() });
        let request = StateAbout { person: self.colleague.clone(), what, signed };
        self.desk.state_about(&request, &at(day))
    }

    pub(super) fn competent_on(&self, id: &str, day: i64) {
        assert_eq!(self.carry_out(id, FIRST, None, &AS_PRINTED, day).report.outcome, Outcome::Competent);
        self.seal(id, day);
    }
}

fn require(months: Option<u32>, required: bool) -> SetRequirement {
    SetRequirement {
        procedure: FIRST.to_owned(),
        unit: None,
        role: None,
        required,
        months,
        lead_days: vec![7, 60, 7],
    }
}

#[test]
fn a_requirement_is_set_explained_and_taken_back() {
    let ward = Ward::new();
    ward.competent_on("a", 1);
    let set = ward.desk.set_requirement(&require(Some(6), true), &at(2)).unwrap();
    let line = set.lines.iter().find(|line| line.procedure == FIRST).unwrap();
    assert_eq!(
        (line.months, line.lead_days.as_slice()),
        (Some(6), [60, 7].as_slice()),
        "the most days first"
    );
    assert_eq!((line.means, line.hold), (2, 1));
    assert_eq!(ward.standing(FIRST, 125).state, State::DueSoon);
    let over = ward.standing(FIRST, 190);
    assert_eq!(
        over.because,
        "Overdue since 4 September 2026: last competent on 3 March 2026, valid through 3 September 2026; required here every 6 months."
    );
    let file = ward.desk.open_person(&OpenPerson { person: ward.colleague.clone() }, &at(190)).unwrap();
    let (_, _, required) = file.standings.iter().find(|(column, _, _)| column.id == FIRST).unwrap();
    assert_eq!((required[0].months, required[0].unit.as_ref()), (6, None));
    let back = ward.desk.set_requirement(&require(None, false), &at(200)).unwrap();
    assert!(back.lines.iter().all(|line| line.procedure != FIRST));
    let none = ward.desk.set_requirement(&require(Some(0), true), &at(200)).unwrap_err();
    assert!(none.text.contains("every 1 to 120 months"), "{}", none.text);
}

#[test]
fn the_facility_s_rules_hold_from_the_day_they_are_chosen() {
    let ward = Ward::new();
    let opened = ward.desk.open_requirements(&OpenRequirements {}, &at(1)).unwrap();
    assert!(opened.rules.medical_clearance, "the safer reading where nothing was chosen");
    ward.competent_on("a", 1);
    let leave = About::Leave { from: date("2026-04-01"), through: None };
    ward.state(leave, false, 30).unwrap();
    assert_eq!(ward.standing(FIRST, 60).state, State::Current);
    let rules = FacilityRules { leave_limit_days: Some(10), strict_year: false, medical_clearance: false };
    let set = ward.desk.set_facility_rules(&SetFacilityRules { rules }, &at(60)).unwrap();
    assert_eq!(set.rules, rules);
    let away = ward.standing(FIRST, 60);
    assert_eq!(away.state, State::Overdue);
    assert!(
        away.because.contains("away since 1 April 2026, longer than the 10 days allowed"),
        "{}",
        away.because
    );
    let rules = FacilityRules { leave_limit_days: Some(0), ..rules };
    assert!(ward.desk.set_facility_rules(&SetFacilityRules { rules }, &at(61)).is_err());
}

#[test]
fn new_equipment_asks_everyone_who_showed_it_with_the_old_one() {
    let ward = Ward::new();
    ward.competent_on("a", 1);
    let ask = |procedures: Vec<String>, by: &str| {
        let (what, by) = ("Respirator model 7".to_owned(), date(by));
        ward.desk.ask_again(&AskAgain { unit: None, procedures, what, by }, &at(5))
    };
    assert!(ask(vec![FIRST.to_owned()], "2026-03-01").is_err(), "a date that has passed");
    assert!(ask(vec![], "2026-04-01").is_err(), "no procedure");
    ask(vec![FIRST.to_owned()], "2026-04-01").unwrap();
    let over = ward.standing(FIRST, 31).because;
    assert!(over.contains("new equipment since 7 March 2026: Respirator model 7"), "{over}");
}

/// What is seen in practice counts as well: the mask comes off first, with everything else still on.
#[test]
fn a_contamination_that_nobody_dealt_with_is_written_with_the_seal() {
    use competency::{
        journal::Event,
        log::{Contamination, HowEnded},
        procedure::{By, Mode},
        validity::Purpose,
    };
    use contract::{BeginDemonstration, OpenProcedure, Tap};
    let ward = Ward::new();
    ward.competent_on("a", 1);
    let open = OpenProcedure { id: FIRST.to_owned(), version: None };
    let begin = BeginDemonstration {
        demonstration: "practice".to_owned(),
        person: ward.colleague.clone(),
        observer: ward.observer.clone(),
        assistant: None,
        procedure: FIRST.to_owned(),
        version: ward.desk.open_procedure(&open, &at(9)).unwrap().procedure.version,
        purpose: Purpose::Practice,
        mode: Mode::Assessed,
        conditions: Vec::new(),
        paper_form: None,
        second_of: None,
    };
    ward.desk.begin_demonstration(&begin, &at(9)).unwrap();
    let event = Contamination { site: "face".to_owned(), from: "gloves".to_owned(), recognised_by: None };
    let acts = AS_PRINTED.iter().map(|act| Event::Act { act: (*act).to_owned(), by: By::Wearer });
    let events = std::iter::once(Event::Contamination { event, ago_ms: 0 }).chain(acts);
    for (n, event) in events.chain([Event::End { how: HowEnded::Completed }]).enumerate() {
        let tap = Tap { demonstration: "practice".to_owned(), id: format!("p-{n}"), event };
        ward.desk.tap(&tap, &at(9)).unwrap();
    }
    ward.seal("practice", 9);
    let ended = ward.standing(FIRST, 10);
    assert_eq!(ended.state, State::Overdue);
    let why = "a contamination event on 11 March 2026 was not recognised or not dealt with";
    assert!(ended.because.contains(why), "{}", ended.because);
    ward.competent_on("again", 11);
    assert_eq!(ward.standing(FIRST, 12).state, State::Current);
}

#[test]
fn what_grants_or_takes_away_is_signed_by_somebody_else() {
    let ward = Ward::new();
    ward.competent_on("a", 1);
    let suspend = || About::Suspended {
        procedure: None,
        why: "Unsafe at the door.".to_owned(),
        from: date("2026-03-05"),
    };
    assert!(ward.state(suspend(), false, 3).unwrap_err().text.contains("has to be signed"));
    let own = StateAbout {
        person: ward.observer.clone(),
        what: suspend(),
        signed: Some(SignedBy { observer: ward.observer.clone(), pin: PIN.to_owned() }),
    };
    assert!(
        ward.desk.state_about(&own, &at(3)).unwrap_err().text.contains("Nobody signs this about themselves")
    );
    let held = ward.state(suspend(), true, 3).unwrap();
    assert_eq!(held.suspensions[0].text, "Suspended since 5 March 2026: Unsafe at the door.");
    assert_eq!(held.stated[0].signed_by.as_deref(), Some("Ines Odum"));
    assert_eq!(ward.standing(FIRST, 3).state, State::Suspended);
    let suspension = held.suspensions[0].suspension.clone();
    let lifted = ward.state(About::Lifted { suspension, why: "Coached.".to_owned() }, true, 8).unwrap();
    assert!(lifted.suspensions.is_empty());
    assert_eq!(ward.standing(FIRST, 8).state, State::Current);
    ward.state(
        About::LossOfSkill { procedure: Some(FIRST.to_owned()), noted: "Gloves last.".to_owned() },
        true,
        9,
    )
    .unwrap();
    let lost = ward.standing(FIRST, 9).because;
    assert!(lost.contains("loss of skill noted on 11 March 2026: Gloves last"), "{lost}");
    // Two years on the observer's certificate has run out.
    let run_out = ward.state(suspend(), true, 730).unwrap_err().text;
    assert!(run_out.contains("holds no signing certificate that is valid now"), "{run_out}");
}

#[test]
fn evidence_from_elsewhere_counts_and_says_who_accepted_it() {
    let ward = Ward::new();
    let evidence = |on: &str, until: &str| About::OutsideEvidence {
        procedure: FIRST.to_owned(),
        source: "Agency letter of 2 February".to_owned(),
        on: date(on),
        valid_until: date(until),
    };
    assert!(ward.state(evidence("2026-03-09", "2027-02-01"), true, 3).is_err(), "it lies ahead");
    assert!(ward.state(evidence("2026-02-01", "2026-01-01"), true, 3).is_err(), "it ends before it begins");
    let file = ward.state(evidence("2026-02-01", "2027-02-01"), true, 3).unwrap();
    assert_eq!(file.stated[0].signed_by.as_deref(), Some("Ines Odum"));
    assert_eq!(ward.standing(FIRST, 3).state, State::Current);
}

/// 29 CFR 1910.134(e)(1) and (f)(2) (from memory): evaluated and fit tested before a respirator is used.
#[test]
fn what_a_respirator_asks_for_is_told_before_a_demonstration_and_for_the_door() {
    let ward = Ward::new();
    let asked = |procedure: &str, day| {
        let request = CheckPrerequisites { person: ward.colleague.clone(), procedure: procedure.to_owned() };
        ward.desk.check_prerequisites(&request, &at(day)).unwrap().missing
    };
    assert_eq!(asked(FIRST, 1), Vec::<String>::new(), "a mask needs neither");
    let missing = asked("airborne-contact-donning", 1);
    assert!(missing.iter().any(|one| one.contains("occupational health")), "{missing:?}");
    let medical = About::Medical {
        cleared: true,
        on: date("2026-03-02"),
        until: None,
        source: "Occupational health".to_owned(),
    };
    ward.state(medical, false, 1).unwrap();
    assert!(!asked("airborne-contact-donning", 1).iter().any(|one| one.contains("occupational health")));
    let fit = About::FitTest {
        model: "Acme 9".to_owned(),
        style: "half facepiece".to_owned(),
        size: "M".to_owned(),
        result: FitResult::Quantitative { fit_factor: 120, full_facepiece: false },
        on: date("2026-03-02"),
        tester: "Rosa Lind".to_owned(),
    };
    let file = ward.state(fit, false, 1).unwrap();
    assert_eq!(file.stated.len(), 2);
    let request = WhoMayGoIn {
        unit: None,
        precaution: Precaution::Airborne,
        on: None,
        search: String::new(),
        first: 0,
        most: 9,
    };
    let answer = ward.desk.who_may_go_in(&request, &at(1)).unwrap();
    assert_eq!(answer.lines.len(), 2);
    assert!(answer.lines.iter().all(|(_, one)| matches!(one, Clearance::Missing(all) if !all.is_empty())));
    assert!(answer.covers.contains("from 1 device"), "{}", answer.covers);
}

fn page(most: u32, first: u32, sort: RosterSort) -> OpenRosterPage {
    let roster = OpenRoster { unit: None, as_of: None, known_at: None };
    OpenRosterPage { roster, search: String::new(), state: None, sort, first, most }
}

#[test]
fn a_roster_comes_in_pages_with_totals_of_everyone_found() {
    let ward = Ward::new();
    ward.competent_on("a", 1);
    for (number, unit) in [("2001", "Emergency"), ("2002", "Emergency"), ("2003", "Isolation ward")] {
        let person = AddPerson {
            name: format!("Person {number}"),
            number: number.to_owned(),
            unit: unit.to_owned(),
            role: "Nurse".to_owned(),
        };
        ward.desk.add_person(&person, &at(1)).unwrap();
    }
    let names = |request: &OpenRosterPage| {
        let page = ward.desk.open_roster(request, &at(2)).unwrap();
        let names: Vec<String> = page.roster.rows.iter().map(|row| row.person.name.clone()).collect();
        (page.found, names)
    };
    assert_eq!(
        names(&page(2, 0, RosterSort::Name)),
        (5, vec!["Ines Odum".to_owned(), "Person 2001".to_owned()])
    );
    assert_eq!(names(&page(2, 4, RosterSort::Name)), (5, vec!["Tomas Rehn".to_owned()]));
    assert_eq!(
        names(&page(1, 4, RosterSort::RunsOut)).1,
        ["Tomas Rehn"],
        "whoever holds nothing comes first"
    );
    assert_eq!(names(&page(1, 0, RosterSort::Unit)).1, ["Person 2001"]);
    let current = OpenRosterPage { state: Some(State::Current), ..page(9, 0, RosterSort::Name) };
    assert_eq!(names(&current), (1, vec!["Tomas Rehn".to_owned()]));
    let searched = OpenRosterPage { search: "200".to_owned(), ..page(9, 0, RosterSort::Name) };
    assert_eq!(names(&searched).0, 3);
    let whole = ward.desk.open_roster(&page(1, 0, RosterSort::Name), &at(2)).unwrap();
    let column = whole.roster.procedures.iter().position(|column| column.id == FIRST).unwrap();
    let total = &whole.totals[column];
    assert_eq!(total.counts, [(State::Current, 1), (State::NeverValidated, 4)]);
    // Wilson's interval of 1 of 5, computed with scipy.
    assert_eq!(total.hold.unwrap().words(), "1 of 5 (95 % interval: 4 % to 62 %)");
    assert_eq!((whole.roster.standings, whole.roster.rules), (10, competency::RULES_VERSION));
    for format in [RosterFormat::Csv, RosterFormat::Xlsx, RosterFormat::Pdf, RosterFormat::Json] {
        let roster = OpenRoster { unit: None, as_of: None, known_at: None };
        let saved = ward.desk.save_roster(&SaveRoster { roster, format }, &at(2)).unwrap();
        assert!(fs::metadata(saved.path).unwrap().len() > 100, "{format:?}");
    }
}

#[test]
fn a_unit_s_findings_are_shown_only_from_five_people_on() {
    let mut ward = Ward::new();
    let wrong = ["remove-mask", "remove-gloves", "remove-goggles", "remove-gown", "hand-rub"];
    let asked = |ward: &Ward| {
        let request = OpenUnitFindings { unit: None, as_of: None };
        ward.desk.open_unit_findings(&request, &at(4)).unwrap()
    };
    for number in 1..=5 {
        ward.another_colleague(number);
        let acts = if number <= 2 { &wrong } else { &AS_PRINTED };
        let id = format!("d-{number}");
        ward.carry_out(&id, FIRST, None, acts, 3);
        ward.seal(&id, 3);
        let found = asked(&ward);
        assert_eq!(found.people, number);
        assert_eq!(found.lines.is_empty(), number < 5, "{found:?}");
    }
    let found = asked(&ward);
    let first = &found.lines[0];
    assert_eq!((first.share.count, first.share.of), (2, 5), "of people, however many findings each had");
    assert!(first.step.contains("mask") || first.step.contains("Mask"), "{}", first.step);
    let said = format!("{found:?}");
    assert!(!said.contains("Person 1") && !said.contains("3001"), "nobody is named: {said}");
    // Beside a unit of seven, the facility's chart would tell that of a unit of three.
    let of = |ward: &Ward, unit: &str| {
        let request = OpenUnitFindings { unit: Some(unit.to_owned()), as_of: None };
        let found = ward.desk.open_unit_findings(&request, &at(4)).unwrap();
        (found.lines.is_empty(), found.left_out)
    };
    let isolation = ward.desk.person(&ward.colleague, &at(4)).unwrap().unit;
    assert_eq!(of(&ward, &isolation), (false, 0), "everyone who was observed is of it");
    for number in 6..=10 {
        let person = AddPerson {
            name: format!("Person {number}"),
            number: format!("30{number:02}"),
            unit: "Emergency".to_owned(),
            role: "Nurse".to_owned(),
        };
        let added = ward.desk.add_person(&person, &at(1)).unwrap();
        ward.colleague = added.id;
        let id = format!("d-{number}");
        ward.carry_out(&id, FIRST, None, &wrong, 3);
        ward.seal(&id, 3);
        let hidden = number < 10;
        assert_eq!(of(&ward, &isolation), (hidden, u32::from(hidden)), "{} outside of it", number - 5);
        assert_eq!(of(&ward, &added.unit), (hidden, u32::from(hidden)));
    }
}

#[test]
fn what_was_stated_by_mistake_is_taken_back_by_a_signed_entry() {
    let ward = Ward::new();
    ward.competent_on("a", 1);
    let rules = FacilityRules { leave_limit_days: Some(10), strict_year: false, medical_clearance: false };
    ward.desk.set_facility_rules(&SetFacilityRules { rules }, &at(1)).unwrap();
    let leave = About::Leave { from: date("2026-03-05"), through: None };
    let file = ward.state(leave, false, 3).unwrap();
    assert_eq!(ward.standing(FIRST, 30).state, State::Overdue);
    let back = |entry: &str, why: &str| About::TakenBack { entry: entry.to_owned(), why: why.to_owned() };
    let entry = file.stated[0].entry.as_str();
    assert!(ward.state(back(entry, "Another person."), false, 30).is_err(), "an observer signs it");
    assert!(ward.state(back(entry, " "), true, 30).unwrap_err().text.contains("reason"));
    assert!(ward.state(back("9", "Another person."), true, 30).is_err(), "there is no such statement");
    let file = ward.state(back(entry, "Another person."), true, 30).unwrap();
    assert_eq!(file.stated, []);
    assert_eq!(ward.standing(FIRST, 30).state, State::Current);
    assert!(ward.state(back(entry, "Once more."), true, 31).is_err(), "it does not stand any more");
}
