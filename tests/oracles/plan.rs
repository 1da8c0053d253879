//! Plans of sessions against `SciPy` in two ways: as many people as can be kept from lapsing, and then the fewest
//! days of validity given away; of those who lapse all the same as many as can, whoever's turn comes first before the
//! others, then the fewest days in between.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};
use competency::plan::{Due, Plan, Session, Turn, plan};
use serde_json::{Value, json};

use crate::cases::Chance;

const FIRST: &str = "2026-05-01";

fn first() -> NaiveDate {
    FIRST.parse().expect("a date")
}

fn day(n: u64) -> NaiveDate {
    first() + Days::new(n)
}

/// A plan to make: sessions over `days` days and people whose windows lie among them.
fn case(chance: &mut Chance, people: usize, sessions: usize, days: usize) -> (Vec<Session>, Vec<Due>) {
    let day_of = |chance: &mut Chance| u64::try_from(chance.below(days)).expect("a small number");
    let sessions = (0..sessions)
        .map(|_| Session {
            on: day(day_of(chance)),
            places: chance.below(1 + people / 3),
            procedures: (chance.below(3) == 0).then(|| vec![format!("procedure-{}", chance.below(2))]),
            observer: (chance.below(2) == 0).then(|| format!("person-{}", chance.below(people.max(1)))),
        })
        .collect();
    let people = (0..people)
        .map(|number| {
            let opens = day_of(chance);
            let until = day(opens + day_of(chance) / 2);
            // Some hold nothing today, which is the second day: whoever lapsed was seen through the first at most.
            let nothing = chance.below(2) == 0;
            let turn = match chance.below(4) {
                0 => Turn::NotYetCompetent,
                1 => Turn::NeverValidated,
                held => Turn::HeldThrough(first() - Days::new(u64::try_from(held).expect("a small number"))),
            };
            Due {
                person: format!("person-{number}"),
                procedure: format!("procedure-{}", chance.below(2)),
                opens: if nothing { day(1) } else { day(opens) },
                until: if nothing { first() } else { until },
                turn: if nothing { turn } else { Turn::HeldThrough(until) },
                chosen: None,
            }
        })
        .collect();
    (sessions, people)
}

/// What is asked, with where the plan seats those who are in time: several seatings may be as good, and each leaves
/// other places to those who lapse.
fn asked(sessions: &[Session], people: &[Due], plan: &Plan) -> Value {
    let number = |date: NaiveDate| (date - first()).num_days();
    let mut turns: Vec<Turn> = people.iter().map(|due| due.turn).collect();
    turns.sort_unstable();
    turns.dedup();
    let seats = plan.placed.iter().map(|one| one.session.filter(|_| !one.lapses));
    json!({
        "in_time": seats.collect::<Vec<_>>(),
        "sessions": sessions.iter().map(|session| json!({
            "on": number(session.on), "places": session.places, "procedures": session.procedures,
            "observer": session.observer,
        })).collect::<Vec<_>>(),
        "people": people.iter().map(|due| json!({
            "id": due.person, "procedure": due.procedure, "opens": number(due.opens), "until": number(due.until),
            "turn": turns.iter().position(|turn| *turn == due.turn),
        })).collect::<Vec<_>>(),
    })
}

/// Of those who lapse: how many of each turn are seen, the first turn first, and the days in between.
fn late(sessions: &[Session], people: &[Due], plan: &Plan) -> (BTreeMap<Turn, usize>, i64) {
    let (mut seen, mut days) = (BTreeMap::new(), 0);
    for (one, due) in plan.placed.iter().zip(people).filter(|(one, _)| one.lapses) {
        if let Some(session) = one.session {
            *seen.entry(due.turn).or_default() += 1;
            days += (sessions[session].on - due.until).num_days();
        }
    }
    (seen, days)
}

/// How many lapse and the days given away; how many of each turn are seen of those who do, and the days in between.
type Answer = ((usize, i64), (Vec<(usize, usize)>, i64));

#[track_caller]
fn check(by: &str, cases: &[(Vec<Session>, Vec<Due>)]) {
    let plans: Vec<Plan> = cases.iter().map(|(sessions, people)| plan(sessions, people)).collect();
    let both = cases.iter().zip(&plans);
    let asked: Vec<Value> = both.map(|((sessions, people), plan)| asked(sessions, people, plan)).collect();
    let question = json!({ "by": by, "cases": asked });
    let answers: Vec<Answer> = suite::python::ask(include_str!("plan.py"), &question);
    assert_eq!(answers.len(), cases.len());
    for (((sessions, people), plan), (in_time, too_late)) in cases.iter().zip(&plans).zip(answers) {
        assert_eq!((plan.lapsing, plan.days_given_away), in_time, "{by}: {sessions:?} {people:?}");
        let (seen, days) = late(sessions, people, plan);
        let mut turns: Vec<Turn> = people.iter().map(|due| due.turn).collect();
        turns.sort_unstable();
        turns.dedup();
        let numbered = seen.iter().map(|(turn, seen)| (turns.partition_point(|one| one < turn), *seen));
        assert_eq!((numbered.collect::<Vec<_>>(), days), too_late, "{by}: {sessions:?} {people:?}");
    }
}

#[test]
fn no_assignment_is_better() {
    let mut chance = Chance(20_260_501);
    let mut cases: Vec<_> = (0..400).map(|n| case(&mut chance, 1 + n % 30, n % 9, 40)).collect();
    cases.push(case(&mut chance, 300, 25, 120));
    check("assignment", &cases);
}

#[test]
fn no_whole_number_program_is_better() {
    let mut chance = Chance(20_260_502);
    let cases: Vec<_> = (0..120).map(|n| case(&mut chance, 1 + n % 25, n % 8, 40)).collect();
    check("milp", &cases);
}
