//! The places that were given, as they leave: invitations, and the list to put up.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use evidence::{Facts, PlaceGiven, SessionSet};
use export::{Invitation, Invitations};
use ledger::Name;
use paper::{Coming, SessionSheet};

use super::{
    names::{person_view, shown_name, sort_key},
    procedures::title,
    sessions::given,
};

/// Who is asked to which session from a day on, those whose place was taken back included.
pub(super) fn invitations(
    facts: &Facts,
    names: &BTreeMap<String, Name>,
    today: NaiveDate,
    facility_id: &str,
) -> Invitations {
    let mut invited: Vec<Invitation> =
        given(facts).values().filter_map(|given| invitation(facts, names, today, given)).collect();
    invited.sort_by_cached_key(|one| (one.on, one.at, sort_key(&one.name), one.number.clone()));
    Invitations {
        facility: facts.facility.as_ref().map(|(_id, facility)| facility.name.clone()).unwrap_or_default(),
        facility_id: facility_id.to_owned(),
        invited,
    }
}

fn invitation(
    facts: &Facts,
    names: &BTreeMap<String, Name>,
    today: NaiveDate,
    given: &PlaceGiven,
) -> Option<Invitation> {
    let person = facts.people.get(&given.person)?;
    let own = person.places.iter().filter(|one| one.procedure == given.procedure);
    // A place that was taken back is told for the session that it was in.
    let last = own.rev().find_map(|one| one.session.as_ref())?;
    let session = facts.sessions.get(last)?.last()?;
    if session.on < today {
        return None;
    }
    let person = person_view(facts, &given.person, names.get(&given.person), session.on);
    Some(Invitation {
        person: given.person.clone(),
        name: person.name,
        number: person.number,
        unit: person.unit_name,
        procedure: given.procedure.clone(),
        title: title(facts, &given.procedure),
        on: session.on,
        at: session.at.map(|(from, to)| (from.to_utc(), to.to_utc())),
        place: session.place.clone(),
        observer: shown_name(names.get(&session.observer)),
        because: given.because.clone(),
        revision: facts.invitation_revision(&given.person, &given.procedure),
        cancelled: given.session.is_none() || !session.held,
    })
}

/// The sessions from a day on with whoever has a place in them.
pub(super) fn sheets(facts: &Facts, names: &BTreeMap<String, Name>, today: NaiveDate) -> Vec<SessionSheet> {
    let mut sessions: Vec<&SessionSet> = facts.sessions.values().filter_map(|sets| sets.last()).collect();
    sessions.retain(|session| session.held && session.on >= today);
    sessions.sort_by_key(|session| (session.on, session.at, session.session.clone()));
    let places = given(facts);
    let sheet = |session: &SessionSet| {
        let in_it = places.values().filter(|given| given.session.as_ref() == Some(&session.session));
        let mut people: Vec<Coming> = in_it
            .map(|given| {
                let person = person_view(facts, &given.person, names.get(&given.person), session.on);
                Coming {
                    name: person.name,
                    number: person.number,
                    unit: person.unit_name,
                    procedure: title(facts, &given.procedure),
                }
            })
            .collect();
        people.sort_by_cached_key(|one| (sort_key(&one.name), one.number.clone(), one.procedure.clone()));
        let clock = |at: chrono::DateTime<chrono::FixedOffset>| at.format("%H:%M").to_string();
        SessionSheet {
            on: session.on,
            when: session
                .at
                .map_or_else(String::new, |(from, to)| format!("{} to {}", clock(from), clock(to))),
            place: session.place.clone(),
            observer: shown_name(names.get(&session.observer)),
            places: session.places,
            people,
        }
    };
    sessions.into_iter().map(sheet).collect()
}
