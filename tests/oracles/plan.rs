//! Plans of sessions against `SciPy` in two ways: as many people as can be kept from lapsing, and then the fewest
//! days of validity given away.

use chrono::{Days, NaiveDate};
use competency::plan::{Due, Plan, Session, plan};
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
            Due {
                person: format!("person-{number}"),
                procedure: format!("procedure-{}", chance.below(2)),
                opens: day(opens),
                until: day(opens + day_of(chance) / 2),
                chosen: None,
            }
        })
        .collect();
    (sessions, people)
}

fn asked(sessions: &[Session], people: &[Due]) -> Value {
    let number = |date: NaiveDate| (date - first()).num_days();
    json!({
        "sessions": sessions.iter().map(|session| json!({
            "on": number(session.on), "places": session.places, "procedures": session.procedures,
            "observer": session.observer,
        })).collect::<Vec<_>>(),
        "people": people.iter().map(|due| json!({
            "id": due.person, "procedure": due.procedure, "opens": number(due.opens), "until": number(due.until),
        })).collect::<Vec<_>>(),
    })
}

#[track_caller]
fn check(by: &str, cases: &[(Vec<Session>, Vec<Due>)]) {
    let asked: Vec<Value> = cases.iter().map(|(sessions, people)| asked(sessions, people)).collect();
    let question = json!({ "by": by, "cases": asked });
    let answers: Vec<(usize, i64)> = suite::python::ask(include_str!("plan.py"), &question);
    assert_eq!(answers.len(), cases.len());
    for ((sessions, people), expected) in cases.iter().zip(answers) {
        let Plan { lapsing, days_given_away, .. } = plan(sessions, people);
        assert_eq!((lapsing, days_given_away), expected, "{by}: {sessions:?} {people:?}");
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
