use proptest::prelude::*;

use super::*;

fn day(n: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 5, n).unwrap()
}

fn session(on: u32, places: usize) -> Session {
    Session { on: day(on), places, procedures: None, observer: None }
}

fn due(opens: u32, until: u32) -> Due {
    Due {
        person: "p".to_owned(),
        procedure: "doffing".to_owned(),
        opens: day(opens),
        until: day(until),
        turn: Turn::HeldThrough(day(until)),
        chosen: None,
    }
}

fn chosen(plan: &Plan) -> Vec<Option<usize>> {
    plan.placed.iter().map(|one| one.session).collect()
}

/// The day before, on and after the longest lead time. Lead times are the facility's, common practice, no source.
#[test]
fn whoever_holds_it_is_seen_from_the_longest_lead_time_on() {
    let at = |today: u32, until: u32| window(State::Current, Some(day(until)), &[3, 7], day(today));
    for (today, opens) in [(12, 13), (13, 13), (14, 14)] {
        assert_eq!(at(today, 20), Some(Window { opens: day(opens), until: day(20) }), "on {today} May");
    }
    assert_eq!(window(State::Current, Some(day(20)), &[], day(2)).map(|one| one.opens), Some(day(20)));
    let due_soon = window(State::DueSoon, Some(day(20)), &[3], day(2));
    assert_eq!(due_soon, Some(Window { opens: day(2), until: day(20) }), "another requirement says so");
    for state in [State::Overdue, State::NotYetCompetent, State::NeverValidated] {
        let at_once = Some(Window { opens: day(9), until: day(8) });
        assert_eq!(window(state, Some(day(20)), &[7], day(9)), at_once, "{state:?}");
    }
    for state in [State::Suspended, State::NotRequired] {
        assert_eq!(window(state, Some(day(20)), &[7], day(9)), None, "{state:?}");
    }
}

#[test]
fn whoever_can_wait_gives_way_to_whoever_would_lapse() {
    let sessions = [session(4, 1), session(10, 1)];
    let people = [due(1, 12), due(5, 11), due(1, 3)];
    let plan = plan(&sessions, &people);
    assert_eq!(chosen(&plan), [Some(0), Some(1), None]);
    assert_eq!((plan.lapsing, plan.days_given_away), (1, 9));
    let because: Vec<_> = plan.placed.iter().map(|one| one.because.as_str()).collect();
    assert_eq!(
        because,
        [
            "On 4 May 2026, 8 days before it runs out on 12 May 2026; every later session in time is full.",
            "On 10 May 2026, 1 day before it runs out on 11 May 2026.",
            "Lapses after 3 May 2026: there is no session from 1 May 2026 through 3 May 2026, and none after it has a place.",
        ]
    );
    assert_eq!(
        plan.because,
        "2 of 3 renewed before they run out, with 9 days of validity given away; no plan for these sessions keeps more, or as many for fewer days. The other places go first to whoever is overdue, the longest first, then to whoever is not yet competent, then to whoever was never validated."
    );
}

#[test]
fn whoever_has_lapsed_takes_what_is_left_soonest() {
    let sessions = [session(4, 1), session(10, 2), session(11, 1)];
    let plan = plan(&sessions, &[due(1, 3), due(1, 2), due(4, 12)]);
    assert_eq!(chosen(&plan), [Some(1), Some(0), Some(2)], "the longer overdue before the other");
    assert_eq!(plan.lapsing, 2);
    assert_eq!(
        plan.placed[0].because,
        "On 10 May 2026, 7 days after 3 May 2026, when it runs out: there is no session from 1 May 2026 through 3 May 2026."
    );
}

/// Whoever has lapsed, in a turn; today is the fourth.
fn lapsed(state: State, held_through: Option<u32>) -> Due {
    Due { turn: Turn::of(state, held_through.map(day)), ..due(4, 3) }
}

#[test]
fn the_longest_overdue_come_first_and_the_never_validated_last() {
    let people = [
        lapsed(State::NeverValidated, None),
        lapsed(State::NotYetCompetent, None),
        lapsed(State::Overdue, Some(3)),
        lapsed(State::Overdue, Some(1)),
    ];
    let of = |places: [usize; 3]| {
        let [first, second, third] = places;
        let plan = plan(&[session(20, third), session(4, first), session(9, second)], &people);
        chosen(&plan).into_iter().map(|at| at.map(|at| [20, 4, 9][at])).collect::<Vec<_>>()
    };
    assert_eq!(of([1, 0, 0]), [None, None, None, Some(4)]);
    assert_eq!(of([1, 1, 0]), [None, None, Some(9), Some(4)]);
    assert_eq!(of([1, 1, 1]), [None, Some(20), Some(9), Some(4)]);
    assert_eq!(of([1, 1, 9]), [Some(20), Some(20), Some(9), Some(4)]);
    // Nobody goes without for it who can be seen beside those before them.
    let only = Session { procedures: Some(vec!["doffing".to_owned()]), ..session(20, 1) };
    let other = Due { procedure: "donning".to_owned(), ..people[0].clone() };
    assert_eq!(chosen(&plan(&[only, session(4, 1)], &[other, people[3].clone()])), [Some(1), Some(0)]);
}

#[test]
fn what_was_chosen_by_hand_stands() {
    let by_hand = |at| Due { chosen: Some(at), ..due(1, 12) };
    let plan = plan(&[session(4, 1), session(10, 1)], &[due(1, 12), by_hand(1), by_hand(9)]);
    assert_eq!(chosen(&plan), [Some(0), Some(1), None], "a session that does not exist is not chosen");
    let told = "On 10 May 2026, as chosen by hand: 2 days before it runs out on 12 May 2026.";
    assert_eq!(plan.placed[1].because, told);
    let full = "every session from 1 May 2026 through 12 May 2026 is full";
    assert!(plan.placed[2].because.contains(full), "{}", plan.placed[2].because);
}

#[test]
fn an_observer_sees_only_what_they_may() {
    let only = Session { procedures: Some(vec!["donning".to_owned()]), ..session(4, 1) };
    assert_eq!(chosen(&plan(&[only], &[due(1, 12)])), [None]);
}

#[test]
fn no_plan_lets_anybody_observe_themselves() {
    let own = Session { observer: Some("p".to_owned()), ..session(4, 1) };
    assert_eq!(chosen(&plan(&[own.clone(), session(3, 1)], &[due(1, 12)])), [Some(1)]);
    let other = Due { person: "q".to_owned(), ..due(1, 12) };
    assert_eq!(chosen(&plan(&[own], &[other])), [Some(0)]);
}

/// The least cost by trying every assignment: how many lapse, then the days given away; then for those who
/// lapse how many are left out, and the days in between.
fn least(sessions: &[Session], people: &[Due]) -> (usize, i64) {
    fn search(sessions: &[Session], people: &[Due], free: &mut [usize], cost: (usize, i64)) -> (usize, i64) {
        let Some((one, rest)) = people.split_first() else { return cost };
        let mut best = search(sessions, rest, free, (cost.0 + 1, cost.1));
        for at in 0..sessions.len() {
            let on = sessions[at].on;
            if free[at] > 0 && one.opens <= on && on <= one.until {
                free[at] -= 1;
                let days = (one.until - on).num_days();
                best = best.min(search(sessions, rest, free, (cost.0, cost.1 + days)));
                free[at] += 1;
            }
        }
        best
    }
    let mut free: Vec<_> = sessions.iter().map(|session| session.places).collect();
    search(sessions, people, &mut free, (0, 0))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]
    #[test]
    fn no_plan_is_better(
        sessions in prop::collection::vec((1_u32..20, 0_usize..3), 0..5),
        people in prop::collection::vec((1_u32..20, 0_u32..12), 0..7),
    ) {
        let sessions: Vec<_> = sessions.into_iter().map(|(on, places)| session(on, places)).collect();
        let people: Vec<_> = people.into_iter().map(|(opens, days)| due(opens, opens + days)).collect();
        let plan = plan(&sessions, &people);
        prop_assert_eq!((plan.lapsing, plan.days_given_away), least(&sessions, &people));
        for (at, session) in sessions.iter().enumerate() {
            let seen = plan.placed.iter().filter(|one| one.session == Some(at)).count();
            prop_assert!(seen <= session.places, "more people than places");
        }
        let left_out = plan.placed.iter().zip(&people).filter(|(one, _)| one.session.is_none());
        for (_, due) in left_out {
            let late = |(at, session): (usize, &Session)| {
                let seen = plan.placed.iter().filter(|one| one.session == Some(at)).count();
                session.on > due.until && seen < session.places
            };
            prop_assert!(!sessions.iter().enumerate().any(late), "a place is left, and so is a person");
        }
    }
}
