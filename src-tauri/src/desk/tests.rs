//! What the window's commands do to a data folder: publishing, retiring, paper forms, accepted sequences.

mod dates;
mod doubtful;
#[cfg(target_os = "linux")]
mod failure;
mod findings;
mod histories;
mod names;
mod observing;
mod paper;
mod people;
mod records;
mod renewing;
mod revoking;

use std::fs;

use chrono::{NaiveDate, TimeDelta};
use competency::{
    journal::Event,
    log::HowEnded,
    procedure::{By, Edit, FacilityValues, Mode, Procedure, edit},
    report::Outcome,
    validity::{Purpose, State},
};
use contract::{
    AddPerson, BeginDemonstration, BeginDraft, CreateFacility, DraftFrom, DropDraft, KeepDraft, ListDrafts,
    ListPeople, ListProcedures, OpenDraft, OpenHistory, OpenProcedure, PublishDraft, RetireProcedure,
    Revalidate, Review, ReviewDemonstration, SaveForm, SaveProcedure, SealDemonstration, Tap,
};
use ledger::Moment;

use super::Desk;
use crate::folder::Folder;

pub(super) const PIN: &str = "482913";
const PASSPHRASE: &str = "seven grey herons over the quay";
pub(super) const FIRST: &str = "standard-removal-example-1";
const SECOND: &str = "standard-removal-example-2";

/// A facility with an observer and a colleague, in a folder of its own.
pub(super) struct Ward {
    pub(super) desk: Desk,
    pub(super) observer: String,
    pub(super) colleague: String,
    pub(super) folder: tempfile::TempDir,
}

impl Ward {
    pub(super) fn new() -> Ward {
        let folder = tempfile::tempdir().unwrap();
        let desk = Desk::open(Folder::at(folder.path())).unwrap();
        let created = CreateFacility {
            name: "Harbour Hospital".to_owned(),
            unit: "Isolation ward".to_owned(),
            zone: Some("Europe/Berlin".to_owned()),
            observer_name: "Ines Odum".to_owned(),
            observer_number: "1001".to_owned(),
            observer_role: "Nurse".to_owned(),
            evidence: "Course certificate".to_owned(),
            passphrase: PASSPHRASE.to_owned(),
            pin: PIN.to_owned(),
        };
        desk.create_facility(&created, &at(0)).unwrap();
        let colleague = AddPerson {
            name: "Tomas Rehn".to_owned(),
            number: "1002".to_owned(),
            unit: "Isolation ward".to_owned(),
            role: "Nurse".to_owned(),
        };
        let colleague = desk.add_person(&colleague, &at(0)).unwrap().id;
        let found = desk
            .list_people(&ListPeople { search: "1001".to_owned(), left: false, first: 0, most: 1 }, &at(0))
            .unwrap();
        Ward { desk, observer: found.found[0].id.clone(), colleague, folder }
    }

    /// Begins a draft, changes it, and publishes it on a day.
    fn publish(&self, procedure: &str, change: &[Edit], revalidate: Option<Revalidate>, day: i64) {
        let draft = format!("draft-of-day-{day}");
        let from = DraftFrom::NextVersion { procedure: procedure.to_owned() };
        let begun = self.desk.begin_draft(&BeginDraft { draft: draft.clone(), from }, &at(day)).unwrap();
        let changed = change.iter().fold(begun.procedure, |draft, one| edit(&draft, one).unwrap());
        self.desk.keep_draft(&KeepDraft { draft: draft.clone(), procedure: changed }, &at(day)).unwrap();
        let request = PublishDraft {
            draft,
            approved_by: self.observer.clone(),
            passphrase: PASSPHRASE.to_owned(),
            revalidate,
        };
        self.desk.publish_draft(&request, &at(day)).unwrap();
    }

    /// Carries a demonstration of these acts through to its review.
    pub(super) fn carry_out(
        &self,
        id: &str,
        procedure: &str,
        form: Option<NaiveDate>,
        acts: &[&str],
        day: i64,
    ) -> Review {
        let begin = self.beginning(id, procedure, form, day);
        self.desk.begin_demonstration(&begin, &at(day)).unwrap();
        let acts = acts.iter().map(|act| Event::Act { act: (*act).to_owned(), by: By::Wearer });
        let events = acts.chain([Event::End { how: HowEnded::Completed }]);
        for (n, event) in events.enumerate() {
            let mut now = at(day);
            let later = i64::try_from(n).unwrap() * 25_000;
            now.wall += TimeDelta::milliseconds(later);
            now.boot_ms += later;
            let tap = Tap { demonstration: id.to_owned(), id: format!("{id}-{n}"), event };
            self.desk.tap(&tap, &now).unwrap();
        }
        let review = ReviewDemonstration { demonstration: id.to_owned(), review: id.to_owned() };
        self.desk.review_demonstration(&review, &at(day)).unwrap()
    }

    /// Somebody else of the same unit is the colleague who is observed from now on.
    pub(super) fn another_colleague(&mut self, number: u32) {
        let person = AddPerson {
            name: format!("Person {number}"),
            number: format!("300{number}"),
            unit: "Isolation ward".to_owned(),
            role: "Nurse".to_owned(),
        };
        self.colleague = self.desk.add_person(&person, &at(1)).unwrap().id;
    }

    fn beginning(&self, id: &str, procedure: &str, form: Option<NaiveDate>, day: i64) -> BeginDemonstration {
        let open = OpenProcedure { id: procedure.to_owned(), version: None };
        BeginDemonstration {
            demonstration: id.to_owned(),
            person: self.colleague.clone(),
            observer: self.observer.clone(),
            assistant: None,
            procedure: procedure.to_owned(),
            version: self.desk.open_procedure(&open, &at(day)).unwrap().procedure.version,
            purpose: Purpose::Validation,
            mode: Mode::Assessed,
            conditions: Vec::new(),
            paper_form: form,
            second_of: None,
        }
    }

    pub(super) fn seal(&self, id: &str, day: i64) -> contract::Sealed {
        let request =
            SealDemonstration { demonstration: id.to_owned(), pin: PIN.to_owned(), remark: String::new() };
        self.desk.seal_demonstration(&request, &noon(day)).unwrap()
    }

    pub(super) fn standing(&self, procedure: &str, day: i64) -> competency::validity::Standing {
        let request = OpenHistory { person: self.colleague.clone(), as_of: None, known_at: None };
        let history = self.desk.open_history(&request, &at(day)).unwrap();
        let found = history.standings.into_iter().find(|(column, _)| column.id == procedure);
        found.map(|(_, standing)| standing).unwrap()
    }
}

/// A morning, so many days after the first of the story.
pub(super) fn at(day: i64) -> Moment {
    let first: chrono::DateTime<chrono::FixedOffset> = "2026-03-02T09:00:00+01:00".parse().unwrap();
    Moment {
        wall: first + TimeDelta::days(day),
        zone: "Europe/Berlin".to_owned(),
        boot_ms: day * 86_400_000,
        boot_id: "one boot".to_owned(),
    }
}

/// Three hours later, when whatever began in the morning has ended.
pub(super) fn noon(day: i64) -> Moment {
    let morning = at(day);
    Moment { wall: morning.wall + TimeDelta::hours(3), boot_ms: morning.boot_ms + 3 * 3_600_000, ..morning }
}

pub(super) fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// Example 1 as it is printed; the rub lasts long enough by the time to the end.
pub(super) const AS_PRINTED: [&str; 5] =
    ["remove-gloves", "remove-goggles", "remove-gown", "remove-mask", "hand-rub"];

fn stricter() -> Edit {
    Edit::SetFacilityValues(FacilityValues { valid_months: 6, ..values(FIRST) })
}

fn values(file: &str) -> FacilityValues {
    FacilityValues::of(&of_library(file))
}

fn of_library(id: &str) -> Procedure {
    let (_, text) = competency::procedure::library()
        .iter()
        .find(|(name, _)| name.strip_suffix(".json") == Some(id))
        .unwrap();
    competency::procedure::read(text).unwrap()
}

#[test]
fn a_published_version_stays_and_the_next_one_is_approved_by_name() {
    let ward = Ward::new();
    ward.publish(FIRST, &[stricter(), Edit::SetVersion("1.1.0".to_owned())], None, 10);
    let opened = |version: Option<&str>, day| {
        let version = version.map(str::to_owned);
        ward.desk.open_procedure(&OpenProcedure { id: FIRST.to_owned(), version }, &at(day)).unwrap()
    };
    assert_eq!(opened(None, 9).procedure.version, "1.0.0");
    let now = opened(None, 10);
    assert_eq!((now.procedure.version.as_str(), now.procedure.valid_months), ("1.1.0", 6));
    assert_eq!(now.versions[0].approved, Some(("Ines Odum".to_owned(), date("2026-03-12"))));
    assert_eq!(opened(Some("1.0.0"), 10).procedure.valid_months, 12, "what was published never changes");
    assert_eq!(ward.desk.list_drafts(&ListDrafts {}).unwrap(), Vec::new(), "the draft became a version");
}

#[test]
fn a_draft_that_must_not_be_published_is_refused_and_kept() {
    let ward = Ward::new();
    let draft = || "d".to_owned();
    let from = DraftFrom::NextVersion { procedure: FIRST.to_owned() };
    let begun = ward.desk.begin_draft(&BeginDraft { draft: draft(), from }, &at(1)).unwrap();
    let refused_with = |passphrase: &str, procedure: Procedure, approved_by: &str| {
        ward.desk.keep_draft(&KeepDraft { draft: draft(), procedure }, &at(1)).unwrap();
        let (approved_by, passphrase) = (approved_by.to_owned(), passphrase.to_owned());
        let request = PublishDraft { draft: draft(), approved_by, passphrase, revalidate: None };
        ward.desk.publish_draft(&request, &at(1)).unwrap_err().text
    };
    let refused = |procedure: Procedure, approved_by: &str| refused_with(PASSPHRASE, procedure, approved_by);
    let same = refused(begun.procedure.clone(), &ward.observer);
    assert!(same.starts_with("Nothing differs"), "{same}");
    let changed = edit(&begun.procedure, &stricter()).unwrap();
    let version = refused(changed.clone(), &ward.observer);
    assert!(version.contains("Version 1.0.0 does not come after 1.0.0"), "{version}");
    assert!(version.contains("use 1.1.0"), "{version}");
    let mut later = changed;
    later.version = "1.1.0".to_owned();
    assert!(refused(later.clone(), "nobody").starts_with("Nobody who works here"), "an approver is needed");
    let anybody = refused_with("not the passphrase", later.clone(), &ward.observer);
    assert!(anybody.contains("passphrase"), "whoever approves shows that they may: {anybody}");
    later.steps.clear();
    let flawed = refused(later, &ward.observer);
    assert!(flawed.starts_with("The procedure cannot be used as it is."), "{flawed}");
    assert!(ward.desk.open_draft(&OpenDraft { draft: draft() }, &at(1)).is_ok(), "the draft is still there");
    assert_eq!(ward.desk.drop_draft(&DropDraft { draft: draft() }).unwrap(), Vec::new());
}

#[test]
fn a_file_that_is_no_procedure_changes_nothing_and_one_that_is_becomes_a_draft() {
    let ward = Ward::new();
    let bring = |id: &str, text: &str| {
        let from = DraftFrom::File { text: text.to_owned() };
        ward.desk.begin_draft(&BeginDraft { draft: id.to_owned(), from }, &at(1))
    };
    for bad in ["", "[", "{}", "{\"id\": 1}", &"[".repeat(100_000)] {
        let fault = bring("bad", bad).unwrap_err();
        assert!(fault.text.starts_with("The procedure cannot be used as it is."), "{}", fault.text);
    }
    assert_eq!(ward.desk.list_drafts(&ListDrafts {}).unwrap(), Vec::new());
    let saved = ward.desk.save_procedure(&SaveProcedure { procedure: FIRST.to_owned() }, &at(1)).unwrap();
    let again = bring("good", &fs::read_to_string(saved.path).unwrap()).unwrap();
    assert_eq!(again.procedure, of_library(FIRST), "what was saved comes back as it was");
    let from = DraftFrom::Copy { procedure: FIRST.to_owned() };
    let copy = ward.desk.begin_draft(&BeginDraft { draft: "copy".to_owned(), from }, &at(1)).unwrap();
    assert!(copy.published.is_none() && copy.procedure.id != FIRST, "a copy is a procedure of its own");
}

#[test]
fn the_educator_decides_whether_earlier_validations_end() {
    let ward = Ward::new();
    assert_eq!(ward.carry_out("a", FIRST, None, &AS_PRINTED, 1).report.outcome, Outcome::Competent);
    ward.seal("a", 1);
    ward.publish(FIRST, &[stricter(), Edit::SetVersion("1.1.0".to_owned())], None, 10);
    assert_eq!(ward.standing(FIRST, 11).state, State::Current);
    let again = Revalidate { by: date("2026-04-01"), why: "The gown is a new model.".to_owned() };
    let change = Edit::SetFacilityValues(FacilityValues { valid_months: 3, ..values(FIRST) });
    ward.publish(FIRST, &[change, Edit::SetVersion("2.0.0".to_owned())], Some(again), 20);
    assert_eq!(ward.standing(FIRST, 30).state, State::DueSoon);
    let over = ward.standing(FIRST, 31);
    assert_eq!(over.state, State::Overdue);
    assert!(
        over.because.contains("version 2.0.0 asks for re-validation: The gown is a new model."),
        "{}",
        over.because
    );
}

#[test]
fn what_is_retired_is_out_of_the_list_and_its_records_stay() {
    let ward = Ward::new();
    ward.carry_out("a", FIRST, None, &AS_PRINTED, 1);
    ward.seal("a", 1);
    let request = |why: &str| RetireProcedure {
        procedure: FIRST.to_owned(),
        why: why.to_owned(),
        passphrase: PASSPHRASE.to_owned(),
    };
    let stranger = RetireProcedure { passphrase: "not the passphrase".to_owned(), ..request("replaced") };
    assert!(ward.desk.retire_procedure(&stranger, &at(5)).is_err(), "and the facility's word");
    assert!(ward.desk.retire_procedure(&request(" "), &at(5)).is_err(), "a reason is needed");
    let left = ward.desk.retire_procedure(&request("replaced"), &at(5)).unwrap();
    assert!(left.iter().all(|line| line.id != FIRST));
    let retired = ward.desk.list_procedures(&ListProcedures { retired: true }, &at(5)).unwrap();
    assert_eq!(
        retired.iter().map(|line| &*line.id).collect::<Vec<_>>(),
        [FIRST],
        "it is found among the retired"
    );
    let before = ward.desk.list_procedures(&ListProcedures { retired: false }, &at(4)).unwrap();
    assert!(before.iter().any(|line| line.id == FIRST), "it was in force the day before");
    assert_eq!(ward.standing(FIRST, 6).state, State::Current, "what was shown still holds");
    let opened =
        ward.desk.open_procedure(&OpenProcedure { id: FIRST.to_owned(), version: None }, &at(6)).unwrap();
    assert_eq!(opened.retired, Some((date("2026-03-07"), "replaced".to_owned())));
}

#[test]
fn a_paper_form_is_transcribed_and_counts_from_its_own_day() {
    let ward = Ward::new();
    let form = ward.desk.save_form(&SaveForm { procedure: FIRST.to_owned() }, &at(3)).unwrap();
    assert!(fs::read(form.path).unwrap().starts_with(b"%PDF-"));
    let review = ward.carry_out("a", FIRST, Some(date("2026-03-05")), &AS_PRINTED, 8);
    assert!(review.log.transcribed);
    assert!(
        review.log.observations.iter().all(|seen| seen.late && seen.at_ms.is_none()),
        "no time is made up"
    );
    assert_eq!(review.report.outcome, Outcome::Competent);
    assert_eq!(review.would_hold_until, Some(date("2027-03-05")));
    assert_eq!(ward.seal("a", 8).valid_until, Some(date("2027-03-05")));
    assert_eq!(ward.standing(FIRST, 9).decided_on, Some(date("2026-03-05")));
    // A form of the day before a new version came into force is entered by the version it was filled in for.
    ward.publish(FIRST, &[stricter(), Edit::SetVersion("1.1.0".to_owned())], None, 10);
    let older = ward.carry_out("older", FIRST, Some(date("2026-03-11")), &AS_PRINTED, 12);
    assert_eq!(older.demonstration.procedure.version, "1.0.0");
    // Tomorrow's form cannot have been filled in.
    let open = OpenProcedure { id: FIRST.to_owned(), version: None };
    let begin = BeginDemonstration {
        demonstration: "b".to_owned(),
        person: ward.colleague.clone(),
        observer: ward.observer.clone(),
        assistant: None,
        procedure: FIRST.to_owned(),
        version: ward.desk.open_procedure(&open, &at(13)).unwrap().procedure.version,
        purpose: Purpose::Validation,
        mode: Mode::Assessed,
        conditions: Vec::new(),
        paper_form: Some(date("2026-03-16")),
        second_of: None,
    };
    let ahead = ward.desk.begin_demonstration(&begin, &at(13)).unwrap_err();
    assert!(ahead.text.contains("lies ahead"), "{}", ahead.text);
}

/// Example 2 takes the gown off with the gloves on, which example 1 calls a danger.
#[test]
fn another_sequence_of_the_family_is_kept_and_named_where_the_facility_accepts_it() {
    let ward = Ward::new();
    let acts = ["remove-gown", "remove-gloves", "remove-goggles", "remove-mask", "hand-rub"];
    let second = of_library(SECOND);
    assert_eq!(second.family, of_library(FIRST).family);
    let strict = ward.carry_out("a", FIRST, None, &acts, 1);
    assert_eq!((strict.kept_as, strict.report.outcome), (None, Outcome::NotYetCompetent));
    let accept = Edit::SetFacilityValues(FacilityValues { accepts_family: true, ..values(FIRST) });
    ward.publish(FIRST, &[accept, Edit::SetVersion("1.1.0".to_owned())], None, 5);
    let kept = ward.carry_out("b", FIRST, None, &acts, 6);
    assert_eq!(kept.report.outcome, Outcome::Competent, "{:?}", kept.report.findings);
    assert_eq!(kept.kept_as.as_deref(), Some(second.title.as_str()));
    assert_eq!(kept.demonstration.procedure.id, SECOND);
    ward.seal("b", 6);
    assert_eq!(ward.standing(FIRST, 7).state, State::Current, "it counts for what is required");
    let lines = ward
        .desk
        .open_history(&OpenHistory { person: ward.colleague.clone(), as_of: None, known_at: None }, &at(7));
    assert_eq!(lines.unwrap().demonstrations[0].procedure, second.title, "under its own name");
    drop(ward.folder);
}

#[test]
fn wrong_pins_make_the_next_try_wait() {
    let ward = Ward::new();
    ward.carry_out("a", FIRST, None, &AS_PRINTED, 1);
    let sign = |pin: &str, after_s: i64| {
        let mut now = noon(1);
        now.boot_ms += after_s * 1000;
        let request =
            SealDemonstration { demonstration: "a".to_owned(), pin: pin.to_owned(), remark: String::new() };
        ward.desk.seal_demonstration(&request, &now)
    };
    for _free in 0..3 {
        assert!(sign("000000", 0).unwrap_err().text.contains("PIN is wrong"));
    }
    let locked = sign(PIN, 10).unwrap_err().text;
    assert!(locked.contains("wait 20 seconds"), "even the right one waits: {locked}");
    assert!(sign(PIN, 30).is_ok());
}
