//! Who is seen in which session, so that the fewest lapse and then the least validity is given away.

use chrono::{Days, NaiveDate};
use serde::{Deserialize, Serialize};

use crate::validity::{State, long_date};

mod assign;
#[cfg(test)]
mod tests;

use assign::assign;

/// An observer's session.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Session {
    /// On this civil date.
    pub on: NaiveDate,
    /// How many demonstrations there is time for.
    pub places: usize,
    /// The procedures that its observer may observe; every one where it is `None`.
    pub procedures: Option<Vec<String>>,
    /// Id of the observer, who is not seen in it: nobody observes themselves. `None` where that is open.
    pub observer: Option<String>,
}

/// One validation that is to be renewed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Due {
    /// The person's id.
    pub person: String,
    /// The procedure's id.
    pub procedure: String,
    /// From this date on it may be renewed.
    pub opens: NaiveDate,
    /// Valid through this date. Someone who never held it, or whose validation has ended, lapses in any case: give the
    /// day before today, as [`window`] does.
    pub until: NaiveDate,
    /// When their turn comes among those for whom no session is in time.
    pub turn: Turn,
    /// The session that somebody chose by hand, by its place in the list. It stands whatever it costs.
    pub chosen: Option<usize>,
}

/// Whose turn comes first among those who lapse all the same, the first first: whoever held it has gone in by it,
/// and the longer that is over the more they may have forgotten. Common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Turn {
    /// A validation held, or still holds, through this date.
    HeldThrough(NaiveDate),
    /// The latest attempt was not yet competent.
    NotYetCompetent,
    /// Nothing was ever shown.
    NeverValidated,
}

impl Turn {
    /// The turn of whoever stands like this.
    pub fn of(state: State, valid_until: Option<NaiveDate>) -> Turn {
        match valid_until.filter(|_until| state.runs_out()) {
            Some(until) => Turn::HeldThrough(until),
            None if state == State::NotYetCompetent => Turn::NotYetCompetent,
            None => Turn::NeverValidated,
        }
    }
}

/// From when and through when somebody may be seen so that they do not lapse.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Window {
    /// From this date on.
    pub opens: NaiveDate,
    /// Valid through this date; the day before today of whoever has lapsed.
    pub until: NaiveDate,
}

/// When somebody may be seen who stands like this today: from the longest lead time ahead, and at once where it
/// is due soon or nothing holds. `None` of whoever need not be seen, and of those suspended, who are seen once that is
/// lifted.
pub fn window(
    state: State,
    valid_until: Option<NaiveDate>,
    lead_days: &[u32],
    today: NaiveDate,
) -> Option<Window> {
    if state.lapsed() {
        return Some(Window { opens: today, until: today.pred_opt().unwrap_or(today) });
    }
    let until = valid_until.filter(|_| state.holds())?;
    if state == State::DueSoon {
        return Some(Window { opens: today, until });
    }
    let lead = lead_days.iter().copied().max().unwrap_or(0);
    let opens = until.checked_sub_days(Days::new(u64::from(lead))).unwrap_or(today);
    Some(Window { opens: opens.max(today), until })
}

/// Where one of them is placed, in the order in which they were given.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Placed {
    /// The session, by its place in the list; `None` where there is none left.
    pub session: Option<usize>,
    /// Whether the validation runs out before it is renewed.
    pub lapses: bool,
    /// Why so, in one sentence.
    pub because: String,
}

/// A plan, with what it costs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Plan {
    /// One per validation, in the order in which they were given.
    pub placed: Vec<Placed>,
    /// How many run out before they are renewed, or are not renewed at all.
    pub lapsing: usize,
    /// Days of validity given away by those who are seen before theirs runs out.
    pub days_given_away: i64,
    /// How it was made, in one sentence.
    pub because: String,
}

/// Makes a plan. It is exact: no other keeps more from lapsing, and none that keeps as many gives away fewer
/// days. Whoever lapses all the same then takes the places that are left: as many of them as can, those whose
/// [`Turn`] comes first before the others, then with the fewest days in between, and the earlier days for the earlier
/// turns.
///
/// What was chosen by hand comes first and keeps its place. Of equally good plans the same one is always
/// found. It takes about the number of people times the square of the number of sessions.
pub fn plan(sessions: &[Session], due: &[Due]) -> Plan {
    let mut free: Vec<usize> = sessions.iter().map(|session| session.places).collect();
    let mut placed: Vec<Option<usize>> = vec![None; due.len()];
    for (place, one) in placed.iter_mut().zip(due) {
        *place = one.chosen.filter(|chosen| *chosen < sessions.len());
        if let Some(free) = place.and_then(|chosen| free.get_mut(chosen)) {
            *free = free.saturating_sub(1);
        }
    }
    fill(sessions, due, &mut free, &mut placed, in_time, alike);
    fill(sessions, due, &mut free, &mut placed, too_late, in_turn);
    let full: Vec<bool> = free.iter().map(|free| *free == 0).collect();
    let told: Vec<Placed> =
        due.iter().zip(placed).map(|(one, session)| tell(sessions, one, session, &full)).collect();
    let lapsing = told.iter().filter(|one| one.lapses).count();
    let given_away = told.iter().zip(due).filter(|(one, _)| !one.lapses).filter_map(|(one, due)| {
        let on = sessions.get(one.session?)?.on;
        Some((due.until - on).num_days())
    });
    let days_given_away = given_away.sum();
    let mut because = format!(
        "{} of {} renewed before they run out, with {days_given_away} days of validity given away; no plan for these sessions keeps more, or as many for fewer days.",
        told.len() - lapsing,
        told.len()
    );
    if lapsing > 0 {
        because.push_str(
            " The other places go first to whoever is overdue, the longest first, then to whoever is not yet competent, then to whoever was never validated.",
        );
    }
    Plan { placed: told, lapsing, days_given_away, because }
}

/// Days of validity given away by whoever is seen on a day, where they do not lapse before.
fn in_time(one: &Due, on: NaiveDate) -> Option<i64> {
    (one.opens <= on && on <= one.until).then(|| (one.until - on).num_days())
}

/// Days without validity of whoever is seen on a day, where they do.
fn too_late(one: &Due, on: NaiveDate) -> Option<i64> {
    (one.until < on).then(|| (on - one.until).num_days())
}

/// How many days each of some people gives away, or goes without, in each session; `None` where it is not theirs.
type DaysOf = [Vec<Option<i64>>];

/// What it costs to see each of some people in each session, `None` where it is not theirs, and to leave them out.
struct Prices {
    seen: Vec<Vec<Option<i128>>>,
    left_out: Vec<i128>,
}

/// A day costs the same whoever gives it away, and to leave anybody out costs more than all days together.
fn alike(days: &DaysOf, _people: &[&Due]) -> Prices {
    let left_out = of(days.len()) * (most(days) + 1) + 1;
    let seen = days.iter().map(|row| row.iter().map(|days| days.map(i128::from)).collect()).collect();
    Prices { seen, left_out: vec![left_out; days.len()] }
}

/// To leave out somebody whose turn is earlier costs more than all days together; a day costs more than whose day it
/// is, and that costs more the earlier the turn. As many are seen as can be all the same: whoever can be seen beside
/// those of earlier turns is, by the exchange of paths (the sets that can be seen are a matroid).
fn in_turn(days: &DaysOf, people: &[&Due]) -> Prices {
    let mut turns: Vec<Turn> = people.iter().map(|one| one.turn).collect();
    turns.sort_unstable();
    turns.dedup();
    let weight = |one: &Due| of(turns.len() - turns.partition_point(|turn| *turn < one.turn));
    let all_days = of(days.len()) * most(days);
    let day = all_days * of(turns.len()) + 1;
    let seen = days.iter().zip(people).map(|(row, one)| {
        let price = day + weight(one);
        row.iter().map(|days| days.map(|days| i128::from(days) * price)).collect()
    });
    let more_than_all = all_days * (day + of(turns.len())) + 1;
    let left_out = people.iter().map(|one| more_than_all * (1 + weight(one)));
    Prices { seen: seen.collect(), left_out: left_out.collect() }
}

fn most(days: &DaysOf) -> i128 {
    days.iter().flatten().flatten().copied().max().unwrap_or(0).into()
}

fn of(number: usize) -> i128 {
    i128::try_from(number).unwrap_or(i128::MAX)
}

/// Places those who have no session yet, where `days` says how many days each gives away or goes without; `None` where
/// it is not theirs.
fn fill(
    sessions: &[Session],
    due: &[Due],
    free: &mut [usize],
    placed: &mut [Option<usize>],
    days: fn(&Due, NaiveDate) -> Option<i64>,
    prices: fn(&DaysOf, &[&Due]) -> Prices,
) {
    let open: Vec<(usize, &Due)> =
        due.iter().enumerate().filter(|(at, _)| placed.get(*at) == Some(&None)).collect();
    let people: Vec<&Due> = open.iter().map(|(_, one)| *one).collect();
    let days: Vec<Vec<Option<i64>>> = people
        .iter()
        .map(|one| {
            let theirs = |session: &Session| days(one, session.on).filter(|_| observed(session, one));
            sessions.iter().map(theirs).collect()
        })
        .collect();
    let Prices { seen, left_out } = prices(&days, &people);
    for ((at, _), session) in open.into_iter().zip(assign(&seen, &left_out, free)) {
        if let (Some(place), Some(session)) = (placed.get_mut(at), session) {
            *place = Some(session);
            if let Some(free) = free.get_mut(session) {
                *free -= 1;
            }
        }
    }
}

fn observed(session: &Session, one: &Due) -> bool {
    session.observer.as_ref() != Some(&one.person)
        && session.procedures.as_ref().is_none_or(|procedures| procedures.contains(&one.procedure))
}

fn tell(sessions: &[Session], one: &Due, placed: Option<usize>, full: &[bool]) -> Placed {
    let until = long_date(one.until);
    let in_window =
        |session: &&Session| observed(session, one) && one.opens <= session.on && session.on <= one.until;
    let any = sessions.iter().any(|session| in_window(&session));
    let short = if any {
        format!("every session from {} through {until} is full", long_date(one.opens))
    } else {
        format!("there is no session from {} through {until}", long_date(one.opens))
    };
    let Some((at, session)) = placed.and_then(|at| Some((at, sessions.get(at)?))) else {
        let because = format!("Lapses after {until}: {short}, and none after it has a place.");
        return Placed { session: None, lapses: true, because };
    };
    let on = long_date(session.on);
    let by_hand = one.chosen == Some(at);
    let lapses = session.on > one.until;
    let days = (one.until - session.on).num_days().abs();
    let away = format!("{days} {}", if days == 1 { "day" } else { "days" });
    let later_free =
        sessions.iter().zip(full).any(|(later, full)| in_window(&later) && later.on > session.on && !full);
    let because = match (by_hand, lapses) {
        (true, true) => format!("On {on}, as chosen by hand: {away} after {until}, when it runs out."),
        (true, false) => format!("On {on}, as chosen by hand: {away} before it runs out on {until}."),
        (false, true) => format!("On {on}, {away} after {until}, when it runs out: {short}."),
        (false, false) => {
            let later = sessions.iter().filter(in_window).any(|later| later.on > session.on);
            let why = if later && !later_free { "; every later session in time is full" } else { "" };
            format!("On {on}, {away} before it runs out on {until}{why}.")
        }
    };
    Placed { session: Some(at), lapses, because }
}
