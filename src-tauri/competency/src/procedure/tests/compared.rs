//! What changed between two versions, read aloud.

mod properties;

use super::{SOUND, changed};
use crate::procedure::{ContactTime, Procedure, Product, compare, read};
use crate::testing;

fn sound() -> Procedure {
    read(SOUND).expect("it is sound")
}

/// What is told from one version to the other, as `subject turn: sentence`.
fn told(old: &Procedure, new: &Procedure) -> Vec<String> {
    let word = |value: serde_json::Value| value.as_str().unwrap_or_default().to_owned();
    let one = |change: &crate::procedure::Change| {
        let subject = word(serde_json::to_value(change.subject).unwrap());
        let turn = word(serde_json::to_value(change.turn).unwrap());
        format!("{subject} {turn}: {}", change.text)
    };
    compare(old, new).changes.iter().map(one).collect()
}

/// Changes one passage of the sound file; what is told, and the version that is proposed.
#[track_caller]
fn check(from: &str, to: &str, version: &str, expected: &[&str]) {
    let (old, new) = (sound(), read(&changed(from, to)).expect("the new version is sound"));
    assert_eq!(told(&old, &new), expected);
    let comparison = compare(&old, &new);
    assert_eq!(comparison.next_version("1.0.0").as_deref(), Some(version));
    assert_eq!(comparison.proposal().revalidate, version == "2.0.0");
}

#[test]
fn words_are_told_as_they_were_and_as_they_are() {
    let new = read(&changed("Take off the gown.", "Take off the gown, inside out.")).expect("it is sound");
    let changes = compare(&sound(), &new).changes;
    let words: Vec<_> = changes.iter().flat_map(|change| &change.words).collect();
    let told: Vec<_> = words.iter().map(|passage| (passage.was.as_str(), passage.is.as_str())).collect();
    assert_eq!(told, [("Take off the gown.", "Take off the gown, inside out.")]);
}

/// Edits the procedures in the notation of the tests.
#[track_caller]
fn check_order(old: &str, new: &str, expected: &[&str]) {
    assert_eq!(told(&testing::procedure(old), &testing::procedure(new)), expected, "{old} -> {new}");
}

#[test]
fn steps() {
    check(
        "\"critical\": true, \"why\": \"Their",
        "\"why\": \"Their",
        "1.1.0",
        &["critical less: “Gloves off” is no longer critical."],
    );
    check(
        "\"text\": \"Take off the gown.\"",
        "\"text\": \"Take off the gown.\", \"critical\": true, \"why\": \"It is soiled.\"",
        "2.0.0",
        &["critical more: “Gown off” became critical.", "words other: Only words changed in “Gown off”."],
    );
    check(
        "\"when\": \"wears-apron\"",
        "\"optional\": true",
        "2.0.0",
        &[
            "applies more: “Apron off” now applies in every case.",
            "obligation less: “Apron off” may now be left out.",
        ],
    );
    check(
        "\"when\": \"wears-apron\"",
        "\"unless\": \"wears-apron\"",
        "2.0.0",
        &[
            "applies other: “Apron off” now applies where “An apron is worn” does not hold, no longer where “An apron is worn” holds.",
        ],
    );
    check(
        "{ \"hand-rub\": 20 }",
        "{ \"hand-rub\": 30 }",
        "2.0.0",
        &[
            "least-duration more: The least duration of “Hand rub” in “Hand rub” or “Soap and water” was raised from 20 to 30 seconds.",
        ],
    );
    check(
        "{ \"hand-rub\": 20 }",
        "{ \"hand-rub\": 20, \"hand-wash\": 40 }",
        "2.0.0",
        &[
            "least-duration more: “Soap and water” in “Hand rub” or “Soap and water” now takes 40 seconds at least.",
        ],
    );
    check(
        "\"min_seconds\": { \"hand-rub\": 20 }, ",
        "",
        "1.1.0",
        &[
            "least-duration less: “Hand rub” in “Hand rub” or “Soap and water” no longer has a least duration; it was 20 seconds.",
        ],
    );
    check(
        "\"acts\": [\"hand-rub\", \"hand-wash\"], \"text\"",
        "\"acts\": [\"hand-rub\"], \"text\"",
        "2.0.0",
        &["alternative less: “Soap and water” no longer does for “Hand rub”."],
    );
    check(
        "\"text\": \"Take off the apron.\"",
        "\"by\": \"assistant\", \"text\": \"Take off the apron.\"",
        "2.0.0",
        &["done-by other: “Apron off” is now done by the assistant, no longer by the wearer."],
    );
    check(
        "\"text\": \"A bare hand on the outside\", \"contaminates\": true",
        "\"text\": \"A bare hand outside\"",
        "1.1.0",
        &[
            "contaminating less: “A bare hand outside” in “Gloves off” no longer counts as contamination.",
            "words other: Only words changed in a technique fault of “Gloves off”.",
        ],
    );
    check(
        "\"Take off the gloves.\"",
        "\"Take the gloves off.\"",
        "1.0.1",
        &["words other: Only words changed in “Gloves off”."],
    );
    check(
        "\"Gloves off\"",
        "\"Both gloves off\"",
        "1.0.1",
        &["words other: “Gloves off” is now called “Both gloves off”."],
    );
}

#[test]
fn order() {
    check(
        "\"danger\": true, ",
        "",
        "1.1.0",
        &["danger less: Doing “Gown off” before “Apron off” no longer counts as a danger."],
    );
    check(
        ", \"gloves-off\"],\n",
        ", { \"step\": \"gloves-off\", \"danger\": true, \"why\": \"Gloves are worst.\" }],\n",
        "2.0.0",
        &["danger more: Doing “Gown off” before “Gloves off” now counts as a danger to the wearer."],
    );
    check(
        ", \"gloves-off\"],\n",
        "],\n",
        "1.1.0",
        &["order less: “Gloves off” need no longer come before “Gown off”."],
    );
    check(
        "\"immediately_after\": \"gown-off\"",
        "\"after\": [\"gown-off\"]",
        "1.1.0",
        &["at-once less: “Hand rub” or “Soap and water” need no longer come right after “Gown off”."],
    );
}

/// Told by the pairs from which the rest follows, however the file declares them.
#[test]
fn order_through_others() {
    check_order(
        "a b<a c<b",
        "a b<a c<b,a",
        &["arrangement other: Only the arrangement of the file changed; what it says is the same."],
    );
    check_order("a b c<b", "a b<a c<b", &["order more: “a” must now come before “b”."]);
    check_order("a b<a c<b", "a b c<a,b", &["order less: “a” need no longer come before “b”."]);
    check_order(
        "a b<a",
        "b a<b",
        &[
            "order other: “b” must now come before “a”; it was the other way round.",
            "printed-order other: The steps are printed in another order; what must come before what is told apart from it.",
        ],
    );
    check_order(
        "a c",
        "a b<a c<b",
        &[
            "step more: The step “b” was added, after “a” and before “c”.",
            "order more: “a” must now come before “c”.",
        ],
    );
    check_order("a b<a c<b", "a c<a", &["step less: The step “b” was taken out."]);
    check_order(
        "a b<a c<b",
        "a c",
        &["step less: The step “b” was taken out.", "order less: “a” need no longer come before “c”."],
    );
    check_order("a", "a b*", &["step more: The critical step “b” was added, free in order."]);
}

#[test]
fn what_holds_and_happens() {
    check(
        "[[\"change-gloves\"]], \"critical\": true",
        "[[\"hand-rub\"], [\"change-gloves\"]]",
        "2.0.0",
        &[
            "response other: After “A glove is torn”, “Hand rub”, then “Gloves changed” must now come next; it was “Gloves changed”.",
            "critical-response less: The response to “A glove is torn” is no longer critical.",
        ],
    );
    check(
        "\"contamination_response\": [[\"hand-rub\", \"hand-wash\"]]",
        "\"contamination_response\": []",
        "1.1.0",
        &[
            "contamination-response less: After contamination, “Hand rub” or “Soap and water” need no longer come next.",
        ],
    );
    check(
        "\"free_acts\": [\"hand-rub\", \"hand-wash\"]",
        "\"free_acts\": [\"hand-rub\"]",
        "2.0.0",
        &["free-act less: “Soap and water” may no longer be done just anywhere."],
    );
    check(
        "\"act\": \"touch-face\", \"until\": \"clean-hands\"",
        "\"act\": \"touch-face\"",
        "2.0.0",
        &[
            "forbidden-act other: “Touched the face” is now forbidden throughout, no longer until “Hand rub” or “Soap and water”.",
        ],
    );
    check(
        "\"counts_as\": [\"remove-gown\", \"remove-gloves\"]",
        "\"counts_as\": [\"remove-gloves\", \"remove-gown\"]",
        "2.0.0",
        &["combined-act other: “Gown and gloves in one” now counts as “Gloves off”, then “Gown off”."],
    );
    check(
        "\"ask\": \"start\"",
        "\"ask\": \"anytime\"",
        "1.1.0",
        &["condition other: “An apron is worn” is now asked at any time."],
    );
}

#[test]
fn what_stands_at_the_head() {
    check(
        "\"A small removal\"",
        "\"A removal\"",
        "1.0.1",
        &["words other: Only words changed in the title."],
    );
    check(
        "\"ensemble\": [\"gown\", \"gloves\"]",
        "\"ensemble\": [\"gown\", \"gloves\", \"hood\"]",
        "2.0.0",
        &["ensemble more: “hood” was added to the ensemble."],
    );
    check(
        "\"precautions\": [\"contact\"]",
        "\"precautions\": [\"droplet\"]",
        "2.0.0",
        &[
            "precautions more: It now belongs to droplet precautions.",
            "precautions less: It no longer belongs to contact precautions.",
        ],
    );
    check(
        "\"valid_months\": 12",
        "\"valid_months\": 6, \"pass\": { \"max_other_findings\": 1, \"min_percent\": 90 }",
        "1.1.0",
        &[
            "months less: A validation now holds for 6 months instead of 12; it holds from the next demonstration on.",
            "pass-rule more: The pass rule now allows 1 other findings instead of 2.",
            "pass-rule more: The pass rule now asks for a score of at least 90 percent.",
        ],
    );
    check(
        "\"footing\": \"memory\"",
        "\"footing\": \"read\"",
        "1.0.1",
        &[
            "source other: The footing of “A poster” is now “read in the publisher’s own text”; it was “from memory: check against the current source before use”.",
        ],
    );
}

#[test]
fn facility_values() {
    let old = sound();
    let mut new = sound();
    new.equipment.contact_times = vec![ContactTime {
        act: "hand-rub".to_owned(),
        product: Some("Rub A".to_owned()),
        seconds: Some(30),
    }];
    new.equipment.respirator_models =
        vec![Product { name: "Model 7".to_owned(), acts: vec!["remove-gown".to_owned()] }];
    let there = [
        "contact-time more: The contact time of “Hand rub” is now 30 seconds.",
        "respirator-model more: The respirator model “Model 7” is now in use. A fit test is for the very model.",
        "words other: Only words changed in the product of “Hand rub”.",
    ];
    assert_eq!(told(&old, &new), there);
    assert_eq!(
        told(&new, &old),
        [
            "contact-time less: The contact time of “Hand rub” is no longer set.",
            "respirator-model less: The respirator model “Model 7” is no longer in use.",
            "words other: Only words changed in the product of “Hand rub”.",
        ]
    );
}

#[test]
fn the_proposal_says_why_and_leaves_it_to_the_educator() {
    let reason = |from: &str, to: &str| {
        compare(&sound(), &read(&changed(from, to)).expect("it is sound")).proposal().reason
    };
    assert_eq!(
        reason("{ \"hand-rub\": 20 }", "{ \"hand-rub\": 30 }"),
        "Who learnt the version before would no longer do it as it should be: The least duration of “Hand rub” in \
         “Hand rub” or “Soap and water” was raised from 20 to 30 seconds."
    );
    assert_eq!(
        reason("\"valid_months\": 12", "\"valid_months\": 24"),
        "Who does it as in the version before still does it safely; people should be told what changed."
    );
    assert_eq!(
        reason("\"A small removal\"", "\"A removal\""),
        "Only words changed; what people do stays the same."
    );
    assert_eq!(compare(&sound(), &sound()).proposal().reason, "Nothing changed.");
    assert_eq!(compare(&sound(), &sound()).next_version("1.2.3").as_deref(), Some("1.2.3"));
}
