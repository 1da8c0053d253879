//! The fold: one line of taps a case.

use super::{Event, Line, fold};
use crate::log::{Contamination, Held, HowEnded, What};
use crate::procedure::{By, Mode};

/// Lines `0`, `1`, ... one second apart: `act`, `undo 0`, `late act 0`, `end-of 0`, `prompt 0`,
/// `fault 0`, `hold`, `resume`, `end`, `note`, `not-done s`, `not-seen s`, parted by commas.
fn lines(taps: &str) -> Vec<Line> {
    let event = |tap: &str| {
        let words: Vec<&str> = tap.split_whitespace().collect();
        match words.as_slice() {
            ["undo", of] => Event::Undo { of: (*of).to_owned() },
            ["late", act] => Event::LateAct { act: (*act).to_owned(), by: By::Wearer, before: None },
            ["late", act, before] => {
                Event::LateAct { act: (*act).to_owned(), by: By::Wearer, before: Some((*before).to_owned()) }
            }
            ["end-of", of] => Event::ActEnded { of: (*of).to_owned() },
            ["prompt", of] => Event::Prompted { of: (*of).to_owned() },
            ["fault", of] => Event::Fault { of: (*of).to_owned(), code: "clumsy".to_owned() },
            ["not-done", step] => Event::NotDone { step: (*step).to_owned() },
            ["not-seen", step] => Event::NotSeen { step: (*step).to_owned() },
            ["note", of] => Event::Note { of: Some((*of).to_owned()), text: "noted".to_owned() },
            ["correct", of, act] => {
                Event::Corrected { of: (*of).to_owned(), act: (*act).to_owned(), by: By::Wearer }
            }
            ["error", what] => Event::TeamError { by: By::Observer, what: (*what).to_owned() },
            ["over", to] => Event::HandedOver { to: (*to).to_owned() },
            ["settled"] => Event::Settled,
            ["because", of] => Event::Because { of: (*of).to_owned(), why: " a reason ".to_owned() },
            ["stricter"] => Event::StricterDecision { why: "unsafe".to_owned() },
            ["hold"] => Event::Hold,
            ["resume"] => Event::Resume,
            ["end"] => Event::End { how: HowEnded::Completed },
            [act] => Event::Act { act: (*act).to_owned(), by: By::Wearer },
            other => panic!("{other:?}?"),
        }
    };
    (0..)
        .zip(taps.split(','))
        .map(|(index, tap)| Line { id: format!("{index}"), at_ms: 1000 * index, event: event(tap) })
        .collect()
}

/// The observations as `act` with `!` prompted, `%` faulty, `&` late, and what was taken back.
#[track_caller]
fn check(taps: &str, expected: &str, taken_back: &str) {
    let folded = fold(&lines(taps), Mode::Assessed, &[]);
    let said: Vec<String> = folded
        .log
        .observations
        .iter()
        .map(|seen| {
            let what = match &seen.what {
                What::Act(act) => act.clone(),
                What::NotSeen(step) => format!("-{step}"),
                What::TeamError(what) => format!("?{what}"),
                What::Condition(id) => format!(":{id}"),
                What::Contamination(event) => format!("${}", event.site),
            };
            let mark = |set: bool, mark: &'static str| if set { mark } else { "" };
            let (prompted, faulty) = (mark(seen.prompted, "!"), mark(!seen.faults.is_empty(), "%"));
            format!("{what}{prompted}{faulty}{}", mark(seen.late, "&"))
        })
        .collect();
    assert_eq!(said.join(" "), expected, "of {taps}");
    assert_eq!(folded.taken_back.join(" "), taken_back, "of {taps}");
    assert_eq!(folded.tap_of.len(), folded.log.observations.len());
}

#[test]
fn what_lines_amount_to() {
    check("a,b", "a b", "");
    check("a,b,undo 1", "a", "1");
    check("a,undo 0,undo 1", "a", "1");
    check("a,undo 0,undo 1,undo 2", "", "0 2");
    check("a,undo 7", "a", "");
    // An undo cannot reach forward, not even to itself.
    check("undo 0,a,undo 2", "a", "");
    check("a,b,late c 1", "a c& b", "");
    check("a,b,late c 1,late d 1", "a c& d& b", "");
    check("a,b,late c 1,late d 2", "a d& c& b", "");
    check("a,b,late c", "a b c&", "");
    // The place of a line that was taken back is still a place.
    check("a,b,undo 1,late c 1,x", "a c& x", "1");
    check("a,late b 9", "a b&", "");
    check("a,late b 0,undo 1", "a", "1");
    check("a,prompt 0,fault 0,fault 0", "a!%", "");
    check("a,prompt 0,undo 1,undo 0", "", "0 1");
    check("a,prompt 0,undo 1", "a", "1");
    check("not-seen s,note 0,not-done t", "-s", "");
    check("a,fault 0,correct 0 b", "b", "");
    check("a,correct 0 b,undo 1", "a", "1");
    check("a,correct 0 b,correct 0 c", "c", "");
    check("not-seen s,correct 0 b", "-s", "");
    check("a,error misread,b", "a ?misread b", "");
}

/// The lines that changed the log after everything had its answer, with `!` where a reason was given.
#[track_caller]
fn check_changes(taps: &str, expected: &str) {
    let folded = fold(&lines(taps), Mode::Assessed, &[]);
    let mark = |why: &str| if why.is_empty() { "" } else { "!" };
    let said: Vec<String> =
        folded.changes.iter().map(|change| format!("{}{}", change.line, mark(&change.why))).collect();
    assert_eq!(said.join(" "), expected, "of {taps}");
}

#[test]
fn what_changes_after_the_answers_needs_a_reason() {
    check_changes("a,end,not-done s", "");
    check_changes("a,end,not-done s,settled", "");
    check_changes("a,end,settled,not-done s", "3");
    check_changes("a,end,settled,not-done s,because 3", "3!");
    // Taking back what stood before is a change; taking back what came after it undoes one.
    check_changes("a,end,settled,undo 0,because 3", "3!");
    check_changes("a,end,settled,not-done s,undo 3", "");
    check_changes("a,end,settled,undo 0,undo 3", "");
    check_changes("a,undo 0,end,settled,undo 1", "4");
    check_changes("a,end,settled,correct 0 b,fault 0", "3 4");
    check_changes("a,end,settled,note 0,stricter,over x", "");
}

#[test]
fn what_is_said_beside_the_acts() {
    let folded = fold(&lines("a,over ines,b,over tom,undo 3,end,settled,stricter"), Mode::Assessed, &[]);
    let to: Vec<(i64, &str)> = folded.hand_overs.iter().map(|over| (over.at_ms, over.to.as_str())).collect();
    assert_eq!(to, [(1000, "ines")], "a hand-over that was taken back is none");
    assert_eq!(folded.stricter.as_deref(), Some("unsafe"));
    assert!(folded.settled);
}

#[test]
fn a_decision_is_stricter_and_never_milder() {
    use super::decided;
    use crate::report::Outcome::{Competent, NotAssessed, NotYetCompetent};

    for by_the_rule in [Competent, NotYetCompetent, NotAssessed] {
        assert_eq!(decided(by_the_rule, false), by_the_rule);
        assert_eq!(decided(by_the_rule, true), NotYetCompetent);
    }
}

#[test]
fn times_holds_and_ends() {
    let folded = fold(&lines("a,hold,b,resume,end-of 0,end,late c 2"), Mode::Guided, &["worn".to_owned()]);
    assert_eq!(folded.log.held, [Held { from_ms: 1000, until_ms: 3000 }]);
    assert_eq!(folded.log.observations[0].at_ms, Some(0));
    assert_eq!(folded.log.observations[0].until_ms, Some(4000));
    assert_eq!(folded.log.observations[1].at_ms, None, "a late act has no time of its own");
    assert_eq!(folded.log.ended.at_ms, Some(5000));
    assert_eq!((folded.ended, folded.on_hold), (true, false));
    assert_eq!(folded.log.conditions, ["worn"]);
    assert_eq!(folded.observation_of("2"), Some(2));

    let folded = fold(&lines("a,end,undo 1,hold,b"), Mode::Assessed, &[]);
    assert_eq!((folded.ended, folded.on_hold), (false, true));
    assert_eq!(folded.log.held, [Held { from_ms: 3000, until_ms: 4000 }]);
}

#[test]
fn a_contamination_event_happened_when_it_was_reached_for() {
    let line = |id: &str, at_ms: i64, event: Event| Line { id: id.to_owned(), at_ms, event };
    let act = || Event::Act { act: "a".to_owned(), by: By::Wearer };
    let happened = |ago_ms: u32| {
        let event = Contamination { site: "face".to_owned(), from: "gloves".to_owned(), recognised_by: None };
        let lines = [
            line("1", 5_000, act()),
            line("2", 30_000, Event::Contamination { event, ago_ms }),
            line("3", 31_000, act()),
        ];
        let log = fold(&lines, Mode::Assessed, &[]).log;
        log.observations.iter().map(|seen| seen.at_ms.unwrap()).collect::<Vec<_>>()
    };
    assert_eq!(happened(0), [5_000, 30_000, 31_000]);
    assert_eq!(happened(12_000), [5_000, 18_000, 31_000]);
    assert_eq!(happened(60_000), [5_000, 5_000, 31_000], "never before what was logged earlier");
}
