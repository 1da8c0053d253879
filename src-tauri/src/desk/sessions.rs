//! Sessions, the plan of who is seen in which, the places that were given, and invitations.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{DateTime, FixedOffset, NaiveDate, NaiveTime, TimeZone, Utc};
use competency::{
    plan::{self, Due, Plan, Turn, Window},
    validity::{due_soon_through, due_weeks, long_date},
};
use contract::{
    Chosen, Fault, GivePlaces, InvitationForm, Next, OpenSessions, PlanLine, RosterColumn, SaveInvitations,
    SessionLine, Sessions, SetSession, Shown,
};
use evidence::{ActingAs, Facts, PlaceGiven, SessionSet};
use ledger::{Deed, Moment};

use super::{
    Desk, Required, absent, author, civil_date,
    facility::count,
    invitations::{invitations, sheets},
    names::{shown_name, sort_key},
    person_file::observers,
    procedures::title,
    requirements::MOST_DAYS,
    typed::filled,
};
use crate::{fault::ledger_fault, saved};

/// How many weeks ahead the load is shown: a year.
const WEEKS: u32 = 52;
/// Most places of one session.
const MOST_PLACES: u32 = 200;

/// Everything that a plan is made of, and the plan.
struct Planned {
    today: NaiveDate,
    sessions: Vec<SessionSet>,
    due: Vec<Required>,
    placed: Vec<Due>,
    plan: Plan,
}

impl Desk {
    /// The sessions, how much falls due in each week, and the plan.
    pub(crate) fn open_sessions(&self, request: &OpenSessions, now: &Moment) -> Result<Sessions, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let names = self.named()?;
        let planned = self.planned(&facts, &request.chosen, now)?;
        let today = planned.today;
        let held = self.books().required_held(today)?;
        let holding = held.iter().filter(|one| one.state.holds());
        let weeks = due_weeks(holding.filter_map(|one| one.valid_until), today, WEEKS);
        let overdue = held.iter().filter(|one| one.state.lapsed()).count();
        let lines = lines(&facts, &planned);
        let required = facts.required_procedures(today).into_iter();
        let sessions = planned.sessions.iter().map(|session| SessionLine {
            session: session.session.clone(),
            on: session.on,
            at: session.at.map(|(from, to)| (clock(from), clock(to))),
            place: session.place.clone(),
            observer: (session.observer.clone(), shown_name(names.get(&session.observer))),
            places: session.places,
            filled: count(
                lines.iter().filter(|line| line.session.as_ref() == Some(&session.session)).count(),
            ),
            procedures: session.procedures.iter().flatten().map(|id| title(&facts, id)).collect(),
        });
        Ok(Sessions {
            today,
            weeks,
            overdue: count(overdue),
            sessions: sessions.collect(),
            lapsing: count(planned.plan.lapsing),
            because: planned.plan.because.clone(),
            changed: count(changes(&facts, &planned, &lines).len()),
            plan: lines,
            observers: observers(&facts, &names, today),
            procedures: required
                .map(|id| RosterColumn { id: id.clone(), title: title(&facts, id) })
                .collect(),
        })
    }

    /// Sets a session, or takes it back.
    pub(crate) fn set_session(&self, request: &SetSession, now: &Moment) -> Result<Sessions, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        let mend = |sentence: &str| Fault::new(Next::MendInput, sentence);
        if request.held && request.on < today {
            return Err(mend("The day of the session has passed; enter today or a later day."));
        }
        if !(1..=MOST_PLACES).contains(&request.places) {
            return Err(mend(
                "A session has 1 to 200 places; enter how many demonstrations there is time for.",
            ));
        }
        if facts.membership(&request.observer, today).is_none() {
            return Err(absent("observer"));
        }
        let at = match &request.at {
            None => None,
            Some((from, to)) => {
                let (from, to) = (moment(&facts, request.on, from)?, moment(&facts, request.on, to)?);
                if to <= from {
                    return Err(mend("The session ends before it begins; enter the times in their order."));
                }
                Some((from, to))
            }
        };
        let set = SessionSet {
            session: request.session.clone(),
            on: request.on,
            at,
            place: filled(&request.place, "place")?.to_owned(),
            observer: request.observer.clone(),
            places: request.places,
            procedures: (!request.procedures.is_empty()).then(|| request.procedures.clone()),
            held: request.held,
        };
        let known = facts.sessions.get(&request.session).and_then(|sets| sets.last());
        if known != Some(&set) {
            self.write(&[Deed::new(author(ActingAs::Manager), set)], now)?;
        }
        self.open_sessions(&OpenSessions { chosen: Vec::new() }, now)
    }

    /// Gives the places as the plan has them; what stays as it was is not written again.
    pub(crate) fn give_places(&self, request: &GivePlaces, now: &Moment) -> Result<Sessions, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let planned = self.planned(&facts, &request.chosen, now)?;
        let changes = changes(&facts, &planned, &lines(&facts, &planned)).into_iter();
        let deeds: Vec<Deed> = changes.map(|given| Deed::new(author(ActingAs::Manager), given)).collect();
        if !deeds.is_empty() {
            self.write(&deeds, now)?;
        }
        self.open_sessions(&OpenSessions { chosen: Vec::new() }, now)
    }

    /// Saves the places that were given, in the folder of exports.
    pub(crate) fn save_invitations(&self, request: &SaveInvitations, now: &Moment) -> Result<Shown, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        let names = self.named()?;
        let (id, facility) =
            facts.facility.as_ref().ok_or_else(|| ledger_fault(ledger::LedgerError::NoFacility))?;
        let invited = invitations(&facts, &names, today, &id.to_string());
        let (name, bytes) = match request.form {
            InvitationForm::Calendar => ("ics", saved::invitations_ics(&invited, now)?),
            InvitationForm::Table => ("csv", saved::invitations_csv(&invited)?),
            InvitationForm::List => {
                ("pdf", saved::sessions_pdf(&sheets(&facts, &names, today), &facility.name, now)?)
            }
        };
        self.save(&format!("sessions-{today}.{name}"), &bytes)
    }

    /// Makes the plan anew; the places that were chosen by hand stand.
    fn planned(&self, facts: &Facts, chosen: &[Chosen], now: &Moment) -> Result<Planned, Fault> {
        let today = civil_date(facts, now);
        let mut sessions: Vec<SessionSet> = facts
            .sessions
            .values()
            .filter_map(|sets| sets.last())
            .filter(|session| session.held && session.on >= today)
            .cloned()
            .collect();
        sessions.sort_by(|one, other| {
            (one.on, one.at.map(|at| at.0), &one.session).cmp(&(
                other.on,
                other.at.map(|at| at.0),
                &other.session,
            ))
        });
        let last = sessions.last().map_or(today, |session| session.on);
        // No lead time is longer: whatever runs out later cannot be renewed in a session yet.
        let farthest = due_soon_through(MOST_DAYS, last);
        let mut due = self.books().required_standings(today, |held| {
            held.state.lapsed()
                || (held.state.holds() && held.valid_until.is_some_and(|until| until <= farthest))
        })?;
        // Whoever may not be seen before the last session is not planned for yet.
        due.retain(|one| window(one, today).is_some_and(|window| window.opens <= last));
        due.sort_by_cached_key(|one| {
            (one.standing.valid_until, sort_key(&one.person.name), one.person.number.clone())
        });
        let by_hand = by_hand(facts, chosen);
        let placed: Vec<Due> = due
            .iter()
            .filter_map(|one| Some(as_due(one, window(one, today)?, &sessions, &by_hand)))
            .collect();
        let required: Vec<String> = facts.required_procedures(today).into_iter().cloned().collect();
        let offered: Vec<plan::Session> =
            sessions.iter().map(|session| offered(facts, session, &required)).collect();
        let plan = plan::plan(&offered, &placed);
        Ok(Planned { today, sessions, due, placed, plan })
    }
}

/// When somebody may be seen, by how they stand.
fn window(one: &Required, today: NaiveDate) -> Option<Window> {
    plan::window(one.standing.state, one.standing.valid_until, &one.lead_days, today)
}

fn as_due(
    one: &Required,
    Window { opens, until }: Window,
    sessions: &[SessionSet],
    by_hand: &BTreeMap<(String, String), String>,
) -> Due {
    let chosen = by_hand.get(&(one.person.id.clone(), one.procedure.id.clone()));
    Due {
        person: one.person.id.clone(),
        procedure: one.procedure.id.clone(),
        opens,
        until,
        turn: Turn::of(one.standing.state, one.standing.valid_until),
        chosen: chosen.and_then(|chosen| {
            let is_it =
                |session: &SessionSet| session.session == *chosen && session.observer != one.person.id;
            sessions.iter().position(is_it)
        }),
    }
}

/// What was chosen by hand: now, and with the places that were given.
fn by_hand(facts: &Facts, chosen: &[Chosen]) -> BTreeMap<(String, String), String> {
    let mut all = BTreeMap::new();
    for ((person, procedure), given) in given(facts) {
        if let (true, Some(session)) = (given.by_hand, &given.session) {
            all.insert((person, procedure), session.clone());
        }
    }
    for one in chosen {
        let key = (one.person.clone(), one.procedure.clone());
        match &one.session {
            Some(session) => all.insert(key, session.clone()),
            None => all.remove(&key),
        };
    }
    all
}

/// The place of each person and procedure, as it was given last.
pub(super) fn given(facts: &Facts) -> BTreeMap<(String, String), &PlaceGiven> {
    let places = facts.people.values().flat_map(|person| &person.places);
    places.map(|given| ((given.person.clone(), given.procedure.clone()), given)).collect()
}

fn offered(facts: &Facts, session: &SessionSet, required: &[String]) -> plan::Session {
    let may = |procedure: &&String| facts.may_observe(&session.observer, procedure, session.on);
    let asked = session.procedures.as_deref().unwrap_or(required);
    plan::Session {
        on: session.on,
        places: usize::try_from(session.places).unwrap_or(usize::MAX),
        procedures: Some(asked.iter().filter(may).cloned().collect()),
        observer: Some(session.observer.clone()),
    }
}

fn lines(facts: &Facts, planned: &Planned) -> Vec<PlanLine> {
    let given = given(facts);
    let all = planned.due.iter().zip(&planned.plan.placed).zip(&planned.placed);
    let mut all: Vec<_> = all.collect();
    // Who comes, session by session; then those for whom there is none.
    all.sort_by_key(|((_, placed), _)| (placed.session.is_none(), placed.session));
    all.into_iter()
        .map(|((one, placed), due)| {
            let session = placed.session.and_then(|at| planned.sessions.get(at));
            let key = (one.person.id.clone(), one.procedure.id.clone());
            let because = match (one.standing.state.lapsed(), session) {
                (false, _) => placed.because.clone(),
                (true, Some(session)) => format!("On {}. {}", long_date(session.on), one.standing.because),
                (true, None) => format!("No session has a place. {}", one.standing.because),
            };
            PlanLine {
                person: one.person.id.clone(),
                name: one.person.name.clone(),
                number: one.person.number.clone(),
                unit: one.person.unit_name.clone(),
                procedure: one.procedure.id.clone(),
                title: one.procedure.title.clone(),
                state: one.standing.state,
                valid_until: one.standing.valid_until,
                session: session.map(|session| session.session.clone()),
                by_hand: due.chosen.is_some() && due.chosen == placed.session,
                given: given.get(&key).and_then(|given| given.session.clone()),
                lapses: placed.lapses,
                because,
            }
        })
        .collect()
}

/// The places of the plan that differ from those that were given, and places of those who need none any more.
fn changes(facts: &Facts, planned: &Planned, lines: &[PlanLine]) -> Vec<PlaceGiven> {
    let (given, today) = (given(facts), planned.today);
    let mut changes: Vec<PlaceGiven> = lines
        .iter()
        .filter(|line| {
            let known = given.get(&(line.person.clone(), line.procedure.clone()));
            known.and_then(|known| known.session.as_ref()) != line.session.as_ref()
                || known.is_some_and(|known| known.by_hand != line.by_hand)
        })
        .map(|line| PlaceGiven {
            person: line.person.clone(),
            procedure: line.procedure.clone(),
            session: line.session.clone(),
            by_hand: line.by_hand,
            because: line.because.clone(),
        })
        .collect();
    let ahead = |session: &String| planned.sessions.iter().any(|one| one.session == *session);
    let in_plan: BTreeSet<(&str, &str)> =
        lines.iter().map(|line| (line.person.as_str(), line.procedure.as_str())).collect();
    for ((person, procedure), place) in given {
        let planned = in_plan.contains(&(person.as_str(), procedure.as_str()));
        if !planned && place.session.as_ref().is_some_and(ahead) {
            let because = gone_because(facts, &person, &procedure, today);
            changes.push(PlaceGiven { person, procedure, session: None, by_hand: false, because });
        }
    }
    changes
}

/// Why a place is taken back that was given. Why somebody is suspended is nothing for an invitation.
fn gone_because(facts: &Facts, person: &str, procedure: &str, today: NaiveDate) -> String {
    if let Some(since) = facts.standing(person, procedure, today).suspended_since {
        return format!("Suspended since {}.", long_date(since));
    }
    let asked = facts.requirement(person, procedure, today).is_some();
    if asked { "It is not due any more." } else { "It is not required any more." }.to_owned()
}

fn clock(moment: DateTime<FixedOffset>) -> String {
    moment.format("%H:%M").to_string()
}

/// A time of the facility's clock on a day; where a clock change makes it come twice, the first.
fn moment(facts: &Facts, on: NaiveDate, time: &str) -> Result<DateTime<FixedOffset>, Fault> {
    let mend = || {
        Fault::new(
            Next::MendInput,
            format!("{time} is no time of that day; enter it as hours and minutes, such as 10:30."),
        )
    };
    let time = NaiveTime::parse_from_str(time.trim(), "%H:%M").map_err(|_no_time| mend())?;
    let zone =
        facts.facility.as_ref().and_then(|(_id, facility)| facility.zone.parse::<chrono_tz::Tz>().ok());
    let local = on.and_time(time);
    match zone {
        Some(zone) => {
            zone.from_local_datetime(&local).earliest().map(|at| at.fixed_offset()).ok_or_else(mend)
        }
        None => Ok(Utc.from_utc_datetime(&local).fixed_offset()),
    }
}
