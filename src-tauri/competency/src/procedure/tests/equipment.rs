//! What the facility sets: flaws, and where it is shown.

use super::{changed, check_changed as check};
use crate::procedure::{ContactTime, Equipment, Product, library, read};
use crate::testing;

/// The sound file with equipment put in.
#[track_caller]
fn flawed(equipment: &str, expected: &[(&str, &str)]) {
    let to = format!("\"valid_months\": 12, \"equipment\": {equipment}");
    check("\"valid_months\": 12", &to, expected);
}

#[test]
fn flaws() {
    flawed(
        r#"{ "contact_times": [{ "act": "hand-rb" }] }"#,
        &[("\"hand-rb\"", "There is no act \"hand-rb\"; did you mean \"hand-rub\"?")],
    );
    flawed(
        r#"{ "contact_times": [{ "act": "hand-rub", "seconds": 0 }, { "act": "hand-rub", "product": " " }] }"#,
        &[
            ("0", "The contact time of \"hand-rub\" is 0 seconds; leave it out until it is set."),
            ("\"hand-rub\", \"product\"", "\"hand-rub\" has a contact time already; keep one of the two."),
            ("\" \"", "This product is empty, but it is shown; write one."),
        ],
    );
    flawed(
        r#"{ "glove_products": [{ "name": "A", "acts": ["change-gloves"] }, { "name": "A", "acts": [] }] }"#,
        &[
            ("\"A\", \"acts\": []", "\"A\" stands in this list already; keep one of the two."),
            ("[]", "\"A\" belongs to no act, so it is shown nowhere; name one act at least."),
        ],
    );
    flawed(
        r#"{ "respirator_models": [{ "name": "A", "acts": ["gown-with-gloves"] }], "masks": [] }"#,
        &[
            (
                "\"gown-with-gloves\"",
                "\"gown-with-gloves\" is a combined act; name the acts it counts as instead.",
            ),
            (
                "\"masks\"",
                "There is no field \"masks\" here; take it out. The fields are: contact_times, glove_products, \
                 respirator_models.",
            ),
        ],
    );
}

#[test]
fn values_are_shown_with_the_steps_that_use_them() {
    let equipment = r#""equipment": {
        "contact_times": [{ "act": "hand-rub", "product": "Rub A" }],
        "glove_products": [{ "name": "Glove B", "acts": ["remove-gloves"] }, { "name": "Glove C", "acts": ["remove-gloves"] }],
        "respirator_models": [{ "name": "Model 7", "acts": ["remove-gown"] }]
    }, "valid_months": 12"#;
    let procedure = read(&changed("\"valid_months\": 12", equipment)).expect("it is sound");
    let notes: Vec<Vec<String>> = procedure.steps.iter().map(|step| procedure.facility_notes(step)).collect();
    assert_eq!(
        notes,
        [
            vec![],
            vec!["Gloves in use here: Glove B or Glove C.".to_owned()],
            vec!["Respirator in use here: Model 7.".to_owned()],
            vec!["Contact time of Rub A: not set yet; take it from the product’s label.".to_owned()],
        ]
    );
}

/// Label contact times are the product's own (EPA master labels, from memory), so the library sets none.
#[test]
fn the_library_leaves_contact_times_to_the_facility() {
    let mut open = 0;
    for (name, text) in library() {
        for time in read(text).expect("it reads").equipment.contact_times {
            assert_eq!((time.product, time.seconds), (None, None), "{name}");
            open += 1;
        }
    }
    assert!(open > 0, "the reprocessing of eye protection asks for one");
}

#[test]
fn values_of_one_procedure_are_carried_into_another_as_far_as_it_has_the_acts() {
    let product = |name: &str, acts: &[&str]| Product {
        name: name.to_owned(),
        acts: acts.iter().map(|act| (*act).to_owned()).collect(),
    };
    let time = |act: &str, seconds: u32| ContactTime {
        act: act.to_owned(),
        product: Some("Wipe A".to_owned()),
        seconds: Some(seconds),
    };
    let mut other = testing::procedure("rub gloves<rub gown<rub");
    other.equipment.contact_times = vec![time("rub", 30), time("gown", 60)];
    other.equipment.respirator_models = vec![product("Model 7", &["gown"])];
    let set = Equipment {
        contact_times: vec![time("rub", 90), time("wipe", 120)],
        glove_products: vec![product("Long cuff", &["gloves", "outer"]), product("Inner", &["outer"])],
        respirator_models: vec![product("Model 8", &["mask"])],
    };
    let carried = set.carried_into(&other);
    assert_eq!(carried.contact_times, [time("rub", 90), time("gown", 60)], "it times no wipe");
    assert_eq!(carried.glove_products, [product("Long cuff", &["gloves"])]);
    assert_eq!(carried.respirator_models, [product("Model 7", &["gown"])], "it has no act with a mask");
    other.equipment = carried.clone();
    assert_eq!(set.carried_into(&other), carried, "once is enough");
}
