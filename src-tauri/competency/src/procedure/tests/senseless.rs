//! Files whose names are right and whose sense is not: order, values, responses, forbidden acts.

use super::{SOUND, changed, check_changed as check, compare};
use crate::procedure::read;

#[test]
fn order() {
    check(
        "\"when\": \"wears-apron\", \"source\"",
        "\"after\": [\"clean-hands\"], \"when\": \"wears-apron\", \"source\"",
        &[(
            "{",
            "These steps wait for one another: \"apron-off\" before \"gown-off\" before \"clean-hands\" before \
         \"apron-off\"; take one of these orders out.",
        )],
    );
    check(
        "\"immediately_after\": \"gown-off\"",
        "\"immediately_after\": \"clean-hands\"",
        &[(
            "{",
            "These steps wait for one another: \"clean-hands\" before \"clean-hands\"; take one of these orders out.",
        )],
    );
    check(
        "\"why\": \"The apron is on top.\"",
        "\"why\": \" \"",
        &[(
            "{ \"step\"",
            "It is a danger to do \"gown-off\" before \"apron-off\", but not said why; add \"why\".",
        )],
    );
    check(
        "\"immediately_after\": \"gown-off\"",
        "\"after\": [\"gown-off\"], \"immediately_after\": \"gloves-off\"",
        &[(
            "\"gloves-off\"",
            "\"clean-hands\" cannot come immediately after \"gloves-off\", since \"gown-off\" must come between them.",
        )],
    );
    let step = |id: &str| {
        format!(
            "{{ \"id\": \"{id}\", \"section\": \"x\", \"acts\": [\"remove-apron\"], \"text\": \"x\", \
             \"immediately_after\": \"gown-off\" }}"
        )
    };
    let end = "    }\n  ],\n  \"responses\"";
    check(
        end,
        &format!("    }},\n{},\n{}\n  ],\n  \"responses\"", step("one"), step("two")),
        &[(
            "\"gown-off\"",
            "\"one\" and \"two\" cannot both come immediately after \"gown-off\"; let one follow the other.",
        )],
    );
}

#[test]
fn two_knots_are_two_cycles() {
    let text = SOUND
        .replace(
            "\"when\": \"wears-apron\", \"source\"",
            "\"after\": [\"apron-off\"], \"when\": \"wears-apron\", \"source\"",
        )
        .replace(
            "\"critical\": true, \"why\": \"Their",
            "\"after\": [\"gown-off\"], \"critical\": true, \"why\": \"Their",
        );
    let flaws = read(&text).expect_err("the file is flawed");
    compare(
        &text,
        &flaws,
        &[
            (
                "{",
                "These steps wait for one another: \"apron-off\" before \"apron-off\"; take one of these orders out.",
            ),
            (
                "{",
                "These steps wait for one another: \"gloves-off\" before \"gown-off\" before \"gloves-off\"; take one of these orders out.",
            ),
        ],
    );
}

/// Four unordered steps with one act can be put in 4! = 24 orders, five in 120.
#[test]
fn too_many_orders_of_a_shared_act() {
    let shared = |count: usize| {
        let steps: Vec<String> = (0..count)
            .map(|n| {
                format!(
                    "    {{ \"id\": \"x{n}\", \"section\": \"x\", \"acts\": [\"hand-rub\"], \"text\": \"x\" }}"
                )
            })
            .collect();
        changed("  \"steps\": [\n", &format!("  \"steps\": [\n{},\n", steps.join(",\n")))
            .replace(
                "\"acts\": [\"hand-rub\", \"hand-wash\"], \"text\"",
                "\"acts\": [\"hand-wash\"], \"text\"",
            )
            .replace("\"min_seconds\": { \"hand-rub\": 20 }, ", "")
    };
    assert!(read(&shared(4)).is_ok());
    let text = shared(5);
    compare(
        &text,
        &read(&text).expect_err("the file is flawed"),
        &[(
            "[",
            "Steps that share an act can be done in more than 64 orders; say which of them comes first, or give \
         them acts of their own: \"x0\", \"x1\", \"x2\", \"x3\", \"x4\".",
        )],
    );
}

#[test]
fn too_many_steps() {
    let steps: Vec<String> = (0..129)
        .map(|n| {
            format!(
                "{{ \"id\": \"x{n}\", \"section\": \"x\", \"acts\": [\"remove-apron\"], \"text\": \"x\" }}"
            )
        })
        .collect();
    let (head, rest) = SOUND.split_once("\"steps\": [").expect("there are steps");
    let (_, tail) = rest.split_once("  ],\n  \"responses\"").expect("there are responses");
    let text = format!("{head}\"steps\": [{}],\n  \"responses\"{tail}", steps.join(","))
        .replace("\"until\": \"clean-hands\"", "\"until\": \"x0\"");
    let flaws = read(&text).expect_err("the file is flawed");
    compare(
        &text,
        &flaws,
        &[("[{", "There are 129 steps and at most 128 can be scored; divide the procedure.")],
    );
}

#[test]
fn nothing_required() {
    let text = SOUND
        .replace("\"critical\": true, \"why\": \"Their", "\"optional\": true, \"why\": \"Their")
        .replace(
            "\"text\": \"Take off the gown.\"",
            "\"text\": \"Take off the gown.\", \"by\": \"assistant\"",
        )
        .replace("\"text\": \"Clean your hands.\"", "\"text\": \"Clean your hands.\", \"optional\": true");
    let flaws = read(&text).expect_err("the file is flawed");
    compare(
        &text,
        &flaws,
        &[(
            "[",
            "No step is always required of the wearer, so a demonstration without a single act would be a good \
         one; add a step without \"optional\", \"when\" and \"unless\".",
        )],
    );
}

#[test]
fn too_long() {
    let long = "a".repeat(2001);
    let text = SOUND.replace("\"A small removal\"", &format!("\"{long}\""));
    let flaws = read(&text).expect_err("the file is flawed");
    compare(&text, &flaws, &[("\"aaa", "This text has 2001 characters; write it in 2000 at most.")]);
}

#[test]
fn unless() {
    check(
        "\"when\": \"wears-apron\"",
        "\"when\": \"wears-apron\", \"unless\": \"wears-apron\"",
        &[(
            "\"wears-apron\", \"source",
            "The step \"apron-off\" has both \"when\" and \"unless\"; keep one, and make two steps where both are needed.",
        )],
    );
    let text = SOUND
        .replace("\"when\": \"wears-apron\"", "\"unless\": \"wears-apron\"")
        .replace("\"ask\": \"start\"", "\"ask\": \"anytime\"");
    let flaws = read(&text).expect_err("the file is flawed");
    compare(
        &text,
        &flaws,
        &[(
            "\"wears-apron\", \"source",
            "\"unless\" needs a condition that is asked at the start, and \"wears-apron\" is not.",
        )],
    );
}

#[test]
fn values() {
    check(
        "\"1.0.0\"",
        "\"1.0\"",
        &[("\"1.0\"", "\"1.0\" is not a semantic version; write three numbers with dots, such as 1.0.0.")],
    );
    check(
        "\"valid_months\": 12",
        "\"valid_months\": 0",
        &[("0,", "A validation holds for 1 to 120 months, not 0.")],
    );
    check(
        "\"valid_months\": 12",
        "\"pass\": { \"min_percent\": 101 }",
        &[("101", "A share is at most 100 percent, not 101.")],
    );
    check("\"A small removal\"", "\" \"", &[("\" \"", "This title is empty, but it is shown; write one.")]);
    check("\"Apron off\"", "\"\"", &[("\"\"", "This label is empty, but it is shown; write one.")]);
    check(
        "\"Gown and gloves in one\"",
        "\"\"",
        &[("\"\"", "This label is empty, but it is shown; write one.")],
    );
    check("\"An apron is worn\"", "\"\"", &[("\"\"", "This text is empty, but it is shown; write one.")]);
    check("\"A poster\"", "\"\"", &[("\"\"", "This title is empty, but it is shown; write one.")]);
    check(
        "\"section\": \"Apron\"",
        "\"section\": \"\"",
        &[("\"\"", "This section is empty, but it is shown; write one.")],
    );
    check("\"Take off the apron.\"", "\"\"", &[("\"\"", "This text is empty, but it is shown; write one.")]);
    check(
        "\"A bare hand on the outside\"",
        "\"\"",
        &[("\"\"", "This text is empty, but it is shown; write one.")],
    );
    check(
        "[\"remove-gown\", \"remove-gloves\"]",
        "[\"remove-gown\"]",
        &[(
            "[\"remove-gown\"]",
            "The combined act \"gown-with-gloves\" must count as two to 4 acts, each of them once.",
        )],
    );
    check(
        "\"acts\": [\"remove-gown\"]",
        "\"acts\": []",
        &[("[]", "The step \"gown-off\" has no acts, so it can never be observed; name one at least.")],
    );
    check(
        "\"acts\": [\"remove-gown\"]",
        "\"acts\": [\"remove-gown\", \"remove-gown\"]",
        &[("\"remove-gown\"]", "\"remove-gown\" stands twice here; keep one of them.")],
    );
    check(
        "{ \"hand-rub\": 20 }",
        "{ \"hand-rub\": 0 }",
        &[("0 }", "The least duration of \"hand-rub\" is 0 seconds; leave it out.")],
    );
    check(
        "\"critical\": true, \"why\": \"Their",
        "\"critical\": true, \"optional\": true, \"why\": \"Their",
        &[("{", "The step \"gloves-off\" is critical and optional; it cannot be both.")],
    );
    check(
        "\"why\": \"Their outside is contaminated.\", ",
        "",
        &[("{", "The step \"gloves-off\" is critical, but not said why; add \"why\".")],
    );
}

#[test]
fn responses_and_free_acts() {
    check(
        "\"acts\": [[\"change-gloves\"]]",
        "\"acts\": []",
        &[("[]", "The response to \"glove-torn\" has no acts; name what must come next.")],
    );
    check(
        "\"acts\": [[\"change-gloves\"]]",
        "\"acts\": [[], [\"change-gloves\"]]",
        &[("[], ", "This group of acts is empty; name one act at least, or take it out.")],
    );
    check(
        "\"source\": \"s1\" }\n  ],\n  \"contamination",
        "\"source\": \"s1\" },\n    { \"to\": \"glove-torn\", \"acts\": [[\"hand-rub\"]] }\n  ],\n  \"contamination",
        &[(
            "\"glove-torn\"",
            "The condition \"glove-torn\" has a response already, number 1; put them together.",
        )],
    );
    check(
        "\"contamination_response\": [[\"hand-rub\", \"hand-wash\"]]",
        "\"contamination_response\": [[]]",
        &[("[]]", "This group of acts is empty; name one act at least, or take it out.")],
    );
    check(
        "\"free_acts\": [\"hand-rub\", \"hand-wash\"]",
        "\"free_acts\": [\"hand-rub\", \"hand-rub\"]",
        &[("\"hand-rub\"]", "\"hand-rub\" stands twice here; keep one of them.")],
    );
}

#[test]
fn forbidden_acts() {
    let forbidden = |act: &str, because: &str| {
        check(
            "\"act\": \"touch-face\"",
            &format!("\"act\": \"{act}\""),
            &[(
                &*format!("\"{act}\""),
                &*format!("\"{act}\" cannot be forbidden: {because}; use an act of its own."),
            )],
        );
    };
    forbidden("remove-apron", "the step \"apron-off\" calls for it");
    forbidden("hand-wash", "the step \"clean-hands\" calls for it");
    forbidden("change-gloves", "a response calls for it");
    check(
        "\"why\": \"Hands carry it to the face.\" }",
        "\"why\": \"x\" }, { \"act\": \"touch-face\", \"why\": \"x\" }",
        &[("\"touch-face\", \"why\"", "\"touch-face\" is forbidden already; keep one of the two.")],
    );
    let text = SOUND.replace("\"remove-gown\", \"remove-gloves\"]", "\"remove-gown\", \"touch-face\"]");
    compare(
        &text,
        &read(&text).expect_err("the file is flawed"),
        &[(
            "\"touch-face\"",
            "\"touch-face\" cannot be forbidden: a combined act counts as it; use an act of its own.",
        )],
    );
    let text = SOUND.replace("\"free_acts\": [", "\"free_acts\": [\"touch-face\", ");
    compare(
        &text,
        &read(&text).expect_err("the file is flawed"),
        &[(
            "\"touch-face\"",
            "\"touch-face\" cannot be forbidden: it is a free act as well; use an act of its own.",
        )],
    );
}
