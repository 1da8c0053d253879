//! Edits of a draft.

mod properties;

use super::SOUND;
use crate::procedure::{
    Condition, ContactTime, Edit, FacilityValues, Predecessor, Procedure, Step, compare, edit, fresh_id,
    kept_in_order, precedes, read,
};
use crate::testing;

fn require(before: &str, after: &str) -> Edit {
    Edit::Require { before: before.to_owned(), after: after.to_owned(), danger: false, why: None }
}

fn free(before: &str, after: &str) -> Edit {
    Edit::Free { before: before.to_owned(), after: after.to_owned() }
}

/// The declared order of a draft: `step<predecessor,...`.
fn order(procedure: &Procedure) -> String {
    let one = |step: &Step| {
        let after: Vec<&str> = step.after.iter().map(Predecessor::step).collect();
        if after.is_empty() { step.id.clone() } else { format!("{}<{}", step.id, after.join(",")) }
    };
    procedure.steps.iter().map(one).collect::<Vec<_>>().join(" ")
}

#[track_caller]
fn check_order(draft: &str, change: &Edit, expected: &str) {
    match edit(&testing::procedure(draft), change) {
        Ok(edited) => assert_eq!(order(&edited), expected, "{draft}: {change:?}"),
        Err(refusal) => assert_eq!(refusal.to_string(), expected, "{draft}: {change:?}"),
    }
}

#[test]
fn order_is_set_and_freed_pair_by_pair() {
    check_order("a b c", &require("a", "b"), "a b<a c");
    check_order("a b<a c<b", &free("a", "b"), "a b c<b,a");
    check_order("a b<a c<b", &free("b", "c"), "a b<a c<a");
    check_order("a b c<a,b", &require("a", "b"), "a b<a c<b");
    check_order("a b<a c<b", &require("a", "c"), "“a” comes before “c” already, through “b”.");
    check_order(
        "a b<a c<b",
        &free("a", "c"),
        "“a” comes before “c” only through “b”; free one of those orders instead.",
    );
    check_order("a b", &free("a", "b"), "“a” and “b” are free of one another already.");
    check_order("a", &require("a", "a"), "“a” cannot wait for itself.");
    check_order("a b", &require("a", "z"), "There is no step “z” in this draft any more.");
    check_order("a b<!a", &require("a", "b"), "a b<a");
}

#[test]
fn what_stays_in_order_is_told() {
    let told = |draft: &str, change: &Edit| {
        let before = testing::procedure(draft);
        kept_in_order(&before, change, &edit(&before, change).expect("it can be done"))
    };
    let kept = "Still in order, and now said directly: “a” before “c”.";
    assert_eq!(told("a b<a c<b", &free("a", "b")).as_deref(), Some(kept));
    assert_eq!(told("a b<a c<b", &Edit::RemoveStep("b".to_owned())).as_deref(), Some(kept));
    assert_eq!(told("a b<a c<b,a", &free("a", "b")), None, "it was said before");
    assert_eq!(told("a b c", &require("a", "b")), None);
}

#[test]
fn a_circle_is_refused_at_once_and_named() {
    check_order("a b<a", &require("b", "a"), "“b” cannot come before “a”: “a” comes before “b” already.");
    check_order(
        "a b<a c<b d<c",
        &require("d", "a"),
        "“d” cannot come before “a”: “a” comes before “b”, which comes before “c”, which comes before “d” already.",
    );
    check_order(
        "a b<a",
        &Edit::SetAtOnce { step: "a".to_owned(), lead: Some("b".to_owned()) },
        "“b” cannot come before “a”: “a” comes before “b” already.",
    );
}

#[test]
fn a_danger_needs_a_reason() {
    let danger = |why: Option<&str>| Edit::Require {
        before: "a".to_owned(),
        after: "b".to_owned(),
        danger: true,
        why: why.map(str::to_owned),
    };
    check_order("a b", &danger(None), "Say why it is a danger to do “b” before “a”.");
    check_order("a b", &danger(Some("  ")), "Say why it is a danger to do “b” before “a”.");
    let edited = edit(&testing::procedure("a b"), &danger(Some("It drips."))).expect("it has a reason");
    assert_eq!(
        (edited.steps[1].after[0].danger(), edited.steps[1].after[0].why()),
        (true, Some("It drips."))
    );
}

#[test]
fn what_a_step_kept_in_order_stays_in_order() {
    check_order("a b<a c<b", &Edit::RemoveStep("b".to_owned()), "a c<a");
    check_order(
        "a b^a",
        &Edit::RemoveStep("a".to_owned()),
        "“b” must come right after “a”; change that first.",
    );
    check_order(
        "a b #x:b",
        &Edit::RemoveStep("b".to_owned()),
        "“x” is forbidden until “b” is done; change that first.",
    );
    check_order("a b^a", &Edit::SetAtOnce { step: "b".to_owned(), lead: None }, "a b<a");
    check_order("a b", &Edit::MoveStep { step: "b".to_owned(), before: Some("a".to_owned()) }, "b a");
}

#[test]
fn implied_orders_are_told_with_what_they_go_through() {
    let draft = testing::procedure("a b<!a c<b");
    let told: Vec<(String, bool, bool, Vec<String>)> = precedes(&draft, "c")
        .into_iter()
        .map(|one| (one.step, one.declared, one.danger, one.through))
        .collect();
    assert_eq!(
        told,
        [("a".to_owned(), false, false, vec!["b".to_owned()]), ("b".to_owned(), true, false, Vec::new()),]
    );
    assert!(precedes(&draft, "b")[0].danger);
}

#[test]
fn nothing_is_taken_out_that_others_need() {
    let draft = read(SOUND).expect("it is sound");
    let refused = |change: &Edit| edit(&draft, change).expect_err("it is refused").to_string();
    assert_eq!(
        refused(&Edit::RemoveCondition("wears-apron".to_owned())),
        "This condition decides about “Apron off”; change that first."
    );
    assert_eq!(
        refused(&Edit::RemoveCondition("glove-torn".to_owned())),
        "This condition has a response; take that out first."
    );
    assert_eq!(
        refused(&Edit::RemoveAct("remove-gown".to_owned())),
        "This act does for “Gown off”; change that first."
    );
    assert_eq!(
        refused(&Edit::RemoveAct("change-gloves".to_owned())),
        "This act is still needed: a response calls for it; change that first."
    );
    assert!(
        refused(&Edit::RemoveSource("s1".to_owned())).starts_with("This source is cited by “Apron off”,")
    );
    let mut clash = draft.steps[0].clone();
    clash.text = "Again.".to_owned();
    assert_eq!(
        refused(&Edit::AddStep { step: clash, before: None }),
        "There is a step “apron-off” already; give this one another name."
    );
}

#[test]
fn a_step_is_changed_and_keeps_its_order() {
    let draft = read(SOUND).expect("it is sound");
    let changed = Step { text: "Peel it off.".to_owned(), after: Vec::new(), ..draft.steps[2].clone() };
    let edited = edit(&draft, &Edit::ChangeStep(changed)).expect("it is there");
    assert_eq!(edited.steps[2].text, "Peel it off.");
    assert_eq!(edited.steps[2].after, draft.steps[2].after);
    assert_eq!(compare(&draft, &edited).next_version(&draft.version).as_deref(), Some("1.0.1"));
}

#[test]
fn conditions_and_facility_values_are_set_in_one_place() {
    let draft = read(SOUND).expect("it is sound");
    let mut values = FacilityValues::of(&draft);
    values.valid_months = 6;
    values.equipment.contact_times = vec![ContactTime {
        act: "hand-rub".to_owned(),
        product: Some("Rub A".to_owned()),
        seconds: Some(30),
    }];
    let edited = edit(&draft, &Edit::SetFacilityValues(values.clone())).expect("the act is there");
    assert_eq!(FacilityValues::of(&edited), values);
    let hands = &edited.steps[3];
    assert_eq!(edited.least_seconds(hands, "hand-rub"), Some(30));
    assert_eq!(edited.least_seconds(hands, "hand-wash"), None);
    assert_eq!(edited.least_seconds(&edited.steps[1], "hand-rub"), None);
    assert_eq!(edited.facility_notes(hands), ["Contact time of Rub A: 30 seconds."]);
    values.equipment.contact_times[0].act = "nothing".to_owned();
    let refusal = edit(&draft, &Edit::SetFacilityValues(values)).expect_err("there is no such act");
    assert_eq!(refusal.to_string(), "There is no act \"nothing\"; add it to \"acts\" or name another.");

    let condition: Condition =
        serde_json::from_str(r#"{ "id": "wears-apron", "ask": "start", "text": "A long apron is worn" }"#)
            .unwrap();
    let edited = edit(&draft, &Edit::SetCondition(condition)).expect("it takes the place of the other");
    assert_eq!((edited.conditions.len(), &*edited.conditions[0].text), (2, "A long apron is worn"));
}

#[test]
fn fresh_names_are_plain_and_free() {
    for (called, taken, expected) in [
        ("Take off the apron", vec![], "take-off-the-apron"),
        ("Hände (2×) säubern!", vec![], "h-nde-2-s-ubern"),
        ("手", vec![], "new"),
        ("Gown", vec!["gown", "gown-2"], "gown-3"),
    ] {
        assert_eq!(fresh_id(called, taken), expected);
    }
    assert!(fresh_id(&"word ".repeat(40), []).len() <= 48);
    assert!(fresh_id(&"w".repeat(400), []).len() <= 48);
}
