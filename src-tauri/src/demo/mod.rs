//! The demo: an invented facility with a year behind it, and one demonstration played through to its
//! signed record, all by the methods that the window's commands call.

mod cast;

use chrono::{DateTime, FixedOffset, TimeDelta};
use competency::{
    journal::Event,
    log::HowEnded,
    procedure::{By, Mode},
    sentence,
    validity::Purpose,
};
use contract::{
    AddPerson, AppointObserver, BeginDemonstration, CreateFacility, Fault, ListPeople, OpenHome, OpenRoster,
    Person, ReviewDemonstration, RosterFormat, SaveReminders, SaveRoster, SealDemonstration, ShowRecord, Tap,
};
use evidence::ReminderForm;
use ledger::Moment;

use crate::{clock, desk::Desk, folder::Folder};
use cast::{Carried, PASSPHRASE, PEOPLE, PIN};

/// Names the demonstration that is played, so that a second run finds it.
const PLAYED: &str = "demo-played";
/// How far ahead the calendar looks, in days.
const CALENDAR_DAYS: u32 = 365;

/// Creates the demo facility where it is not there yet, plays one demonstration where it is not sealed
/// yet, and tells `say` what came of it and where things are.
pub(crate) fn play(folder: &Folder, say: &mut dyn FnMut(&str)) -> Result<(), Fault> {
    // What was invented leaves nothing outside its folder, so no key store is asked.
    let desk = Desk::open(Folder::at(folder.root()))?;
    let now = clock::now();
    if desk.open_home(&OpenHome {}, &now)?.facility.is_some() {
        say("The demo facility is there already.");
    } else {
        say("Creating the demo facility and a year of sealed demonstrations ...");
        fill(&desk, &now, say)?;
    }
    let record = match desk.show_record(&ShowRecord { record: PLAYED.to_owned() }) {
        Ok(shown) => {
            say("The demonstration was played already.");
            shown.path
        }
        Err(_absent) => play_one(&desk, &now, say)?,
    };
    tell(&desk, &record, &now, say)
}

fn tell(desk: &Desk, record: &str, now: &Moment, say: &mut dyn FnMut(&str)) -> Result<(), Fault> {
    let review = desk.review_demonstration(
        &ReviewDemonstration { demonstration: PLAYED.to_owned(), review: PLAYED.to_owned() },
        now,
    )?;
    let seen = &review.demonstration;
    say("");
    say(&format!("{}: {}, observed by {}", seen.procedure.title, seen.person, seen.observer));
    for finding in &review.report.findings {
        say(&format!("  {}: {}", sentence::severity(finding.severity), finding.text));
    }
    say(&format!("Score:   {}", sentence::headline(&review.report)));
    say(&format!("Outcome: {}", sentence::outcome(review.report.outcome)));
    let today = desk.open_home(&OpenHome {}, now)?.today;
    let roster = OpenRoster { unit: None, as_of: None, known_at: None };
    let whole = SaveRoster { roster, format: RosterFormat::Csv };
    let roster = saved_once(desk, &format!("roster-{today}.csv"), || desk.save_roster(&whole, now))?;
    let calendar = saved_once(desk, &format!("due-{today}.ics"), || {
        desk.save_reminders(&SaveReminders { within_days: CALENDAR_DAYS, form: ReminderForm::Calendar }, now)
    })?;
    let trust = desk.save_authority_certificate()?;
    say("");
    say(&format!("Signed record:  {record}"));
    say(&format!("Roster:         {roster}"));
    say(&format!("Calendar:       {calendar}"));
    say(&format!(
        "Authority:      {trust} (trust it in a PDF reader, or with doorside record verify --trust)"
    ));
    say(&format!("The demo's observers sign with the PIN {PIN}; its authority opens with \"{PASSPHRASE}\"."));
    Ok(())
}

/// Where an export of today is; made only where there is none, so that a second run changes nothing.
fn saved_once(
    desk: &Desk,
    name: &str,
    save: impl FnOnce() -> Result<contract::Shown, Fault>,
) -> Result<String, Fault> {
    let path = desk.folder().exports().join(name);
    if path.exists() { Ok(path.display().to_string()) } else { save().map(|shown| shown.path) }
}

/// A moment of the demo: some time before now, by a clock that runs evenly.
fn staged(now: &Moment, before: TimeDelta) -> Moment {
    let wall: DateTime<FixedOffset> = now.wall - before;
    Moment {
        wall,
        zone: now.zone.clone(),
        boot_ms: wall.timestamp_millis(),
        boot_id: "the demo's own clock".to_owned(),
    }
}

fn fill(desk: &Desk, now: &Moment, say: &mut dyn FnMut(&str)) -> Result<(), Fault> {
    let opening = staged(now, TimeDelta::days(cast::OPENED_DAYS_AGO));
    let [first, others @ ..] = &PEOPLE;
    desk.create_facility(
        &CreateFacility {
            name: cast::FACILITY.to_owned(),
            unit: first.unit.to_owned(),
            zone: None,
            observer_name: first.name.to_owned(),
            observer_number: first.number.to_owned(),
            observer_role: first.role.to_owned(),
            evidence: "Course certificate of the regional infection prevention network (invented)".to_owned(),
            passphrase: PASSPHRASE.to_owned(),
            pin: PIN.to_owned(),
        },
        &opening,
    )?;
    for person in others {
        desk.add_person(
            &AddPerson {
                name: person.name.to_owned(),
                number: person.number.to_owned(),
                unit: person.unit.to_owned(),
                role: person.role.to_owned(),
            },
            &opening,
        )?;
    }
    let observer = by_number(desk, first.number, now)?;
    // Certificates are short-lived; half a year on, the first observer's is renewed and a second one appointed.
    let mut renewals =
        vec![(cast::RENEWED_DAYS_AGO, first.number), (cast::RENEWED_DAYS_AGO, cast::SECOND_OBSERVER)];
    for carried in cast::carried() {
        while renewals.first().is_some_and(|(days_ago, _number)| *days_ago >= carried.days_ago) {
            let (days_ago, number) = renewals.remove(0);
            appoint(desk, number, &staged(now, TimeDelta::days(days_ago)))?;
        }
        let person = by_number(desk, carried.number, now)?;
        carry_out(desk, &observer, &person, &carried, now)?;
    }
    for (days_ago, number) in renewals {
        appoint(desk, number, &staged(now, TimeDelta::days(days_ago)))?;
    }
    say(&format!("  {} people, {} sealed demonstrations.", PEOPLE.len(), cast::carried().len()));
    Ok(())
}

fn appoint(desk: &Desk, number: &str, at: &Moment) -> Result<(), Fault> {
    let person = by_number(desk, number, at)?;
    desk.appoint_observer(
        &AppointObserver {
            person: person.id,
            evidence: "Yearly observer course (invented)".to_owned(),
            passphrase: PASSPHRASE.to_owned(),
            pin: PIN.to_owned(),
        },
        at,
    )?;
    Ok(())
}

fn by_number(desk: &Desk, number: &str, now: &Moment) -> Result<Person, Fault> {
    desk.list_people(&ListPeople { search: number.to_owned(), left: false, first: 0, most: 1 }, now)?
        .found
        .into_iter()
        .next()
        .ok_or_else(|| {
            Fault::new(
                contract::Next::AskForHelp,
                "The demo facility is not whole; remove its folder and run it again.",
            )
        })
}

/// Plays one demonstration of the past.
fn carry_out(
    desk: &Desk,
    observer: &Person,
    person: &Person,
    carried: &Carried,
    now: &Moment,
) -> Result<(), Fault> {
    let demonstration = format!("demo-{}-{}-{}", carried.number, carried.procedure, carried.days_ago);
    let before = TimeDelta::days(carried.days_ago);
    perform(desk, &demonstration, observer, person, carried, now, before)?;
    Ok(())
}

/// The demonstration of today: one step missed and one out of order.
fn play_one(desk: &Desk, now: &Moment, say: &mut dyn FnMut(&str)) -> Result<String, Fault> {
    say("Playing one demonstration ...");
    let today = cast::played();
    let observer = by_number(desk, cast::SECOND_OBSERVER, now)?;
    let person = by_number(desk, today.number, now)?;
    perform(desk, PLAYED, &observer, &person, &today, now, TimeDelta::minutes(10))
}

fn perform(
    desk: &Desk,
    demonstration: &str,
    observer: &Person,
    person: &Person,
    carried: &Carried,
    now: &Moment,
    before: TimeDelta,
) -> Result<String, Fault> {
    let begun = staged(now, before);
    let later = |ms: i64| staged(now, before - TimeDelta::milliseconds(ms));
    let procedure = desk.open_procedure(
        &contract::OpenProcedure { id: carried.procedure.to_owned(), version: None },
        &begun,
    )?;
    desk.begin_demonstration(
        &BeginDemonstration {
            demonstration: demonstration.to_owned(),
            person: person.id.clone(),
            observer: observer.id.clone(),
            assistant: None,
            procedure: carried.procedure.to_owned(),
            version: procedure.procedure.version,
            purpose: Purpose::Validation,
            mode: Mode::Assessed,
            conditions: Vec::new(),
            paper_form: None,
            second_of: None,
        },
        &begun,
    )?;
    let tap = |id: String, event: Event, at_ms: i64| {
        desk.tap(&Tap { demonstration: demonstration.to_owned(), id, event }, &later(at_ms))
    };
    let mut at_ms = 0;
    for (number, (act, lasts_ms)) in carried.acts.iter().enumerate() {
        let id = format!("{demonstration}-{number}");
        tap(id.clone(), Event::Act { act: (*act).to_owned(), by: By::Wearer }, at_ms)?;
        if *lasts_ms > 0 {
            at_ms += lasts_ms;
            tap(format!("{id}-ended"), Event::ActEnded { of: id }, at_ms)?;
        }
        at_ms += cast::PAUSE_MS;
    }
    tap(format!("{demonstration}-end"), Event::End { how: HowEnded::Completed }, at_ms)?;
    let sealed = desk.seal_demonstration(
        &SealDemonstration {
            demonstration: demonstration.to_owned(),
            pin: PIN.to_owned(),
            remark: carried.remark.to_owned(),
        },
        &later(at_ms + cast::PAUSE_MS),
    )?;
    Ok(sealed.path)
}
