use competency::{journal::Line, log::HowEnded};

use super::*;

/// Three steps: gloves, then gown, then a hand rub of at least 20 seconds.
fn opened() -> OpenedDemonstration {
    let procedure = serde_json::json!({
        "id": "p", "version": "1.0.0", "title": "P", "phase": "doffing", "precautions": ["contact"],
        "ensemble": ["gown", "gloves"], "sources": [],
        "acts": { "gloves": "Gloves off", "gown": "Gown off", "rub": "Hand rub" },
        "steps": [
            { "id": "gloves-off", "section": "Hands", "acts": ["gloves"], "text": "Gloves off." },
            { "id": "gown-off", "section": "Gown", "acts": ["gown"], "text": "Gown off.", "after": ["gloves-off"] },
            { "id": "rubbed", "section": "Hands", "acts": ["rub"], "text": "Rub.", "after": ["gown-off"],
              "by": "assistant", "min_seconds": { "rub": 20 } },
        ],
    });
    OpenedDemonstration {
        demonstration: "d".into(),
        person: "A".into(),
        person_id: "a".into(),
        observer: "B".into(),
        assistant: None,
        procedure: serde_json::from_value(procedure).unwrap(),
        purpose: competency::validity::Purpose::Practice,
        mode: Mode::Assessed,
        conditions: Vec::new(),
        begun: "2026-11-25T10:02:03+01:00".into(),
        elapsed_ms: 5_000,
        lines: Vec::new(),
        took_over: std::collections::BTreeMap::new(),
        paper_form: None,
        sealed: false,
        second_of: None,
    }
}

fn act(act: &str) -> Event {
    Event::Act { act: act.into(), by: By::Wearer }
}

/// Sends the next waiting tap and has it acknowledged at that time.
fn acknowledge(form: &mut Form, at_ms: i64) {
    let tap = form.next_to_send().unwrap();
    let line = Line { id: tap.id, at_ms, event: tap.event };
    form.acknowledged(Acknowledged { line }, 0);
}

fn states(form: &Form) -> Vec<StepState> {
    form.steps().map(|(_, state)| state).collect()
}

fn state_of(form: &Form, step: &str) -> Option<StepState> {
    form.steps().find(|(one, _)| one.id == step).map(|(_, state)| state)
}

#[test]
fn a_mark_changes_only_once_the_tap_is_acknowledged() {
    let mut form = Form::new(opened(), 0);
    form.tap("1".into(), act("gloves"));
    assert_eq!(state_of(&form, "gloves-off"), Some(StepState::MayCome), "it is not durable yet");
    assert!(form.act_waits("gloves"), "but the tile says that it is on its way");
    acknowledge(&mut form, 6_000);
    assert_eq!(state_of(&form, "gloves-off"), Some(StepState::Done));
    assert!(!form.act_waits("gloves"));
}

#[test]
fn taps_go_one_at_a_time_and_in_order_and_the_same_one_again_after_a_failure() {
    let mut form = Form::new(opened(), 0);
    form.tap("1".into(), act("gloves"));
    form.tap("2".into(), act("gown"));
    assert_eq!(form.next_to_send().unwrap().id, "1");
    assert!(form.next_to_send().is_none(), "one is on its way");
    assert!(form.failed(Fault::new(Next::MakeRoom, "full")), "it is worth asking again");
    assert_eq!(form.next_to_send().unwrap().id, "1", "the same tap, with the same id");
    let line = Line { id: "1".into(), at_ms: 6_000, event: act("gloves") };
    form.acknowledged(Acknowledged { line }, 0);
    assert!(form.trouble().is_none());
    assert_eq!(form.next_to_send().unwrap().id, "2");
}

#[test]
fn a_tap_acknowledged_twice_is_one_line() {
    let mut form = Form::new(opened(), 0);
    let line = Line { id: "1".into(), at_ms: 6_000, event: act("gloves") };
    form.acknowledged(Acknowledged { line: line.clone() }, 0);
    form.acknowledged(Acknowledged { line }, 0);
    assert_eq!(form.opened().lines.len(), 1);
}

#[test]
fn a_refused_tap_stays_until_it_is_set_aside() {
    let mut form = Form::new(opened(), 0);
    form.tap("1".into(), act("gloves"));
    form.tap("2".into(), act("gown"));
    form.next_to_send().unwrap();
    assert!(!form.failed(Fault::new(Next::MendInput, "sealed")), "asking again cannot help");
    assert_eq!(form.waiting().len(), 2, "nothing is dropped by itself");
    form.set_aside();
    assert_eq!(form.waiting().map(|tap| tap.id.as_str()).collect::<Vec<_>>(), ["2"]);
    form.set_aside();
    assert_eq!(form.waiting().len(), 1, "only what was refused can be set aside");
}

#[test]
fn what_came_too_early_is_warned_of_until_the_next_act() {
    let mut form = Form::new(opened(), 0);
    form.tap("1".into(), act("gown"));
    acknowledge(&mut form, 6_000);
    let (of, warning) = form.warning().unwrap();
    assert_eq!((of.as_str(), warning.first[0].step.as_str()), ("1", "gloves-off"));
    assert_eq!(states(&form), [StepState::Skipped, StepState::DoneTooEarly, StepState::MayCome]);
    form.tap("2".into(), act("gloves"));
    acknowledge(&mut form, 8_000);
    assert!(form.warning().is_none());
}

#[test]
fn a_timed_act_runs_until_it_is_ended_or_followed() {
    let mut form = Form::new(opened(), 0);
    form.tap("1".into(), act("rub"));
    acknowledge(&mut form, 6_000);
    let running = form.running().unwrap();
    assert_eq!((running.of.as_str(), running.since_ms, running.least), ("1", 6_000, 20));
    let mut ended = form.clone();
    ended.tap("2".into(), Event::ActEnded { of: "1".into() });
    acknowledge(&mut ended, 27_000);
    assert_eq!(ended.running(), None);
    form.tap("2".into(), act("gloves"));
    acknowledge(&mut form, 9_000);
    assert_eq!(form.running(), None, "the next act ends it");
}

#[test]
fn what_was_too_short_gives_way_to_the_next_act() {
    let mut form = Form::new(opened(), 0);
    form.tap("1".into(), act("rub"));
    acknowledge(&mut form, 6_000);
    form.tap("2".into(), Event::ActEnded { of: "1".into() });
    acknowledge(&mut form, 18_000);
    form.tap("3".into(), Event::Note { of: None, text: "Rushed".into() });
    acknowledge(&mut form, 19_000);
    let short = form.short().unwrap();
    assert_eq!((short.lasted_ms, short.ended_by), (12_000, Some(("2".into(), 33_000))));
    form.tap("4".into(), act("gloves"));
    acknowledge(&mut form, 20_000);
    assert_eq!(form.short(), None, "what may come next is to be read again");
}

#[test]
fn every_step_without_a_tap_is_asked_about_until_it_is_answered() {
    let mut form = Form::new(opened(), 0);
    form.tap("1".into(), act("gown"));
    acknowledge(&mut form, 6_000);
    form.tap("2".into(), Event::End { how: HowEnded::Completed });
    acknowledge(&mut form, 9_000);
    let asked = |form: &Form| form.unanswered().iter().map(|step| step.id.clone()).collect::<Vec<_>>();
    assert_eq!(asked(&form), ["gloves-off", "rubbed"]);
    assert_eq!(form.place_of("gloves-off").as_deref(), Some("1"), "before the gown, which comes after it");
    assert_eq!(form.place_of("rubbed"), None, "nothing comes after it");
    form.tap("3".into(), Event::NotDone { step: "rubbed".into() });
    acknowledge(&mut form, 9_500);
    let late = Event::LateAct { act: "gloves".into(), by: By::Wearer, before: Some("1".into()) };
    form.tap("4".into(), late);
    acknowledge(&mut form, 9_900);
    assert_eq!(asked(&form), [""; 0]);
}

#[test]
fn a_step_that_was_passed_over_is_told_until_it_has_its_tap() {
    let mut form = Form::new(opened(), 0);
    for (n, seen) in ["gown", "rub"].into_iter().enumerate() {
        form.tap(n.to_string(), act(seen));
        acknowledge(&mut form, 6_000);
    }
    let over = |form: &Form| form.passed_over().iter().map(|step| step.id.clone()).collect::<Vec<_>>();
    assert_eq!(over(&form), ["gloves-off"]);
    form.tap("2".into(), act("gloves"));
    acknowledge(&mut form, 7_000);
    assert_eq!(over(&form), [""; 0]);
}

#[test]
fn what_was_not_reached_is_not_asked_about() {
    let mut form = Form::new(opened(), 0);
    form.tap("1".into(), act("gown"));
    acknowledge(&mut form, 6_000);
    form.tap("2".into(), Event::End { how: HowEnded::StoppedSafety });
    acknowledge(&mut form, 9_000);
    let asked: Vec<&str> = form.unanswered().iter().map(|step| step.id.as_str()).collect();
    assert_eq!(asked, ["gloves-off"], "the gown was seen, so what comes before it was reached");
}

#[test]
fn time_goes_on_from_what_the_shell_says() {
    let form = Form::new(opened(), 100_000);
    assert_eq!(form.elapsed(100_000), 5_000);
    assert_eq!(form.elapsed(102_500), 7_500);
}

#[test]
fn an_act_is_logged_for_whoever_carries_its_step_out() {
    let form = Form::new(opened(), 0);
    assert_eq!((form.by("rub"), form.by("gown")), (By::Assistant, By::Wearer));
}

#[test]
fn a_paper_form_is_entered_without_a_clock() {
    let mut form =
        Form::new(OpenedDemonstration { paper_form: Some("2026-11-24".parse().unwrap()), ..opened() }, 0);
    for (n, seen) in ["gown", "gloves", "rub"].into_iter().enumerate() {
        form.tap(n.to_string(), act(seen));
        acknowledge(&mut form, 6_000);
    }
    assert!(form.running().is_none() && form.short().is_none(), "nothing is timed");
    assert!(form.warning().is_none(), "nobody can be stopped any more");
    assert!(form.was_too_early(0), "the log says all the same that it came too early");
    let rub = form.written_of("2").unwrap();
    assert_eq!((rub.at.as_str(), rub.timed), ("", true));
    let written = |of: &str, at: &str| Event::Written {
        of: of.into(),
        at: competency::journal::written::TimeOfDay::read(at).ok(),
        lasted_s: None,
    };
    form.tap("3".into(), written("0", "23:10"));
    acknowledge(&mut form, 6_000);
    assert_eq!(form.observed_at(0).as_deref(), Some("23:10"));
    assert!(form.check_written(&written("1", "23:09"), 0).unwrap_err().contains("would be earlier"));
    assert!(
        form.check_written(&written("1", "23:11"), 0).is_ok(),
        "it is of yesterday, so late is not ahead"
    );
}
