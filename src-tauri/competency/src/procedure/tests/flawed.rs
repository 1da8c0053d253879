//! Files that are flawed in their form, their names or their references.

use super::{SOUND, check_changed as check, compare};
use crate::procedure::read;

#[test]
fn form() {
    check(
        "\"phase\"",
        "\"fase\"",
        &[
            ("{", "The field \"phase\" is missing here; add it."),
            ("\"fase\"", "There is no field \"fase\" here; did you mean \"phase\"?"),
        ],
    );
    check(
        "\"doffing\",",
        "\"dofing\",",
        &[("\"dofing\"", "\"dofing\" is not allowed here; did you mean \"doffing\"?")],
    );
    check(
        "\"why\": \"The apron is on top.\"",
        "\"wy\": \"The apron is on top.\"",
        &[
            (
                "{ \"step\"",
                "It is a danger to do \"gown-off\" before \"apron-off\", but not said why; add \"why\".",
            ),
            ("\"wy\"", "There is no field \"wy\" here; did you mean \"why\"?"),
        ],
    );
    check(
        ", \"gloves-off\"],\n",
        ", 7],\n",
        &[(
            "7]",
            "Expected the id of a step, or an object with \"step\", \"danger\" and \"why\", but found a number.",
        )],
    );
}

#[test]
fn flaws_in_several_steps_are_all_told_with_those_of_sense() {
    let text = SOUND
        .replace("\"text\": \"Take off the apron.\"", "\"txt\": \"Take off the apron.\"")
        .replace("\"critical\": true, \"why\": \"Their", "\"critical\": \"yes\", \"why\": \"Their")
        .replace("\"acts\": [\"remove-gown\"]", "\"acts\": [\"remove-gwn\"]");
    let flaws = read(&text).expect_err("the file is flawed");
    compare(
        &text,
        &flaws,
        &[
            ("{", "The field \"text\" is missing here; add it."),
            ("\"txt\"", "There is no field \"txt\" here; did you mean \"text\"?"),
            ("\"yes\"", "Expected true or false, but found a text."),
            ("\"remove-gwn\"", "There is no act \"remove-gwn\"; did you mean \"remove-gown\"?"),
        ],
    );
}

#[test]
fn a_broken_definition_does_not_repeat_itself_at_every_reference() {
    check("{ \"id\": \"s1\"", "{ \"id\": 1", &[("1,", "Expected a text in quotation marks, but found 1.")]);
    check("{ \"id\": \"wears-apron\", ", "{ ", &[("{ \"ask\"", "The field \"id\" is missing here; add it.")]);
}

#[test]
fn names() {
    check(
        "\"small-doffing\"",
        "\"Small doffing\"",
        &[(
            "\"Small",
            "A procedure's id has small letters, digits and hyphens only, at most 64 of them; \"Small doffing\" is \
         not such a name.",
        )],
    );
    check(
        "\"family\": \"small\"",
        "\"family\": \"\"",
        &[(
            "\"\"",
            "A family's name has small letters, digits and hyphens only, at most 64 of them; \"\" is not such a \
         name.",
        )],
    );
    check(
        "\"id\": \"clean-hands\"",
        "\"id\": \"gown-off\"",
        &[
            (
                "{",
                "These steps wait for one another: \"gown-off\" before \"gown-off\"; take one of these orders out.",
            ),
            ("\"gown-off\"", "The step number 3 is called \"gown-off\" already; give this one another id."),
            ("\"clean-hands\"", "There is no step \"clean-hands\"; add it to \"steps\" or name another."),
        ],
    );
    check(
        "{ \"id\": \"glove-torn\"",
        "{ \"id\": \"wears-apron\"",
        &[
            (
                "\"wears-apron\"",
                "The condition number 1 is called \"wears-apron\" already; give this one another id.",
            ),
            (
                "\"glove-torn\"",
                "There is no condition \"glove-torn\"; add it to \"conditions\" or name another.",
            ),
        ],
    );
    check(
        "\"memory\" }\n",
        "\"memory\" },\n    { \"id\": \"s1\", \"title\": \"Another\", \"publisher\": \"P\", \"year\": 1, \"locator\": \"l\", \"footing\": \"read\" }\n",
        &[("\"s1\"", "The source number 1 is called \"s1\" already; give this one another id.")],
    );
    check(
        "\"contaminates\": true }",
        "\"contaminates\": true }, { \"code\": \"bare-hand\", \"text\": \"Again\" }",
        &[(
            "\"bare-hand\"",
            "The technique fault number 1 is called \"bare-hand\" already; give this one another code.",
        )],
    );
    check(
        "\"touch-face\": \"Touched",
        "\" touch-face\": \"Touched",
        &[
            (
                "\"Touched",
                "The name \" touch-face\" of this act is empty, longer than 64 characters, or has a space at an end; give it another.",
            ),
            ("\"touch-face\"", "There is no act \"touch-face\"; did you mean \" touch-face\"?"),
        ],
    );
    check(
        "\"gown-with-gloves\": {",
        "\"remove-apron\": {",
        &[("{ \"label\"", "\"remove-apron\" is the id of an act and of a combined act; rename one of them.")],
    );
    check(
        "\"hand-wash\": \"Soap",
        "\"hand-rub\": \"Soap",
        &[
            ("\"hand-rub\"", "\"hand-rub\" stands twice in the same object; keep one of them."),
            ("\"hand-wash\"]", "There is no act \"hand-wash\"; add it to \"acts\" or name another."),
            ("\"hand-wash\"]", "There is no act \"hand-wash\"; add it to \"acts\" or name another."),
            ("\"hand-wash\"]", "There is no act \"hand-wash\"; add it to \"acts\" or name another."),
        ],
    );
}

#[test]
fn references() {
    check(
        "\"acts\": [\"remove-gown\"]",
        "\"acts\": [\"gown\"]",
        &[("\"gown\"", "There is no act \"gown\"; add it to \"acts\" or name another.")],
    );
    check(
        "\"acts\": [\"remove-gown\"]",
        "\"acts\": [\"gown-with-gloves\"]",
        &[(
            "\"gown-with-gloves\"",
            "\"gown-with-gloves\" is a combined act; name the acts it counts as instead.",
        )],
    );
    check(
        "\"remove-gown\", \"remove-gloves\"]",
        "\"remove-gown\", \"remove-glove\"]",
        &[("\"remove-glove\"", "There is no act \"remove-glove\"; did you mean \"remove-gloves\"?")],
    );
    check(
        "\"acts\": [[\"change-gloves\"]]",
        "\"acts\": [[\"change-glove\"]]",
        &[("\"change-glove\"", "There is no act \"change-glove\"; did you mean \"change-gloves\"?")],
    );
    check(
        "\"contamination_response\": [[\"hand-rub\"",
        "\"contamination_response\": [[\"hand-rob\"",
        &[("\"hand-rob\"", "There is no act \"hand-rob\"; did you mean \"hand-rub\"?")],
    );
    check(
        "\"free_acts\": [\"hand-rub\"",
        "\"free_acts\": [\"hand-rob\"",
        &[("\"hand-rob\"", "There is no act \"hand-rob\"; did you mean \"hand-rub\"?")],
    );
    check(
        "\"act\": \"touch-face\"",
        "\"act\": \"touch-fase\"",
        &[("\"touch-fase\"", "There is no act \"touch-fase\"; did you mean \"touch-face\"?")],
    );
    check(
        "\"until\": \"clean-hands\"",
        "\"until\": \"clean-hand\"",
        &[("\"clean-hand\"", "There is no step \"clean-hand\"; did you mean \"clean-hands\"?")],
    );
    check(
        "\"when\": \"wears-apron\"",
        "\"when\": \"apron\"",
        &[("\"apron\"", "There is no condition \"apron\"; add it to \"conditions\" or name another.")],
    );
    check(
        "\"to\": \"glove-torn\"",
        "\"to\": \"glove-tron\"",
        &[("\"glove-tron\"", "There is no condition \"glove-tron\"; did you mean \"glove-torn\"?")],
    );
    check(
        "\"when\": \"wears-apron\", \"source\": \"s1\"",
        "\"when\": \"wears-apron\", \"source\": \"s2\"",
        &[("\"s2\"", "There is no source \"s2\"; did you mean \"s1\"?")],
    );
    check(
        "\"Skin is exposed.\", \"source\": \"s1\"",
        "\"Skin is exposed.\", \"source\": \"x\"",
        &[("\"x\"", "There is no source \"x\"; add it to \"sources\" or name another.")],
    );
    check(
        "\"step\": \"apron-off\"",
        "\"step\": \"apron-of\"",
        &[("{ \"step\"", "There is no step \"apron-of\"; did you mean \"apron-off\"?")],
    );
    check(
        ", \"gloves-off\"],",
        ", \"gloves\"],",
        &[("\"gloves\"", "There is no step \"gloves\"; add it to \"steps\" or name another.")],
    );
    check(
        ", \"gloves-off\"],",
        ", \"gloves-off\", \"gloves-off\"],",
        &[(
            "\"gloves-off\"]",
            "\"gloves-off\" stands twice in \"after\" of the step \"gown-off\"; keep one of them.",
        )],
    );
    check(
        "\"immediately_after\": \"gown-off\"",
        "\"immediately_after\": \"gown-of\"",
        &[("\"gown-of\"", "There is no step \"gown-of\"; did you mean \"gown-off\"?")],
    );
    check(
        "{ \"hand-rub\": 20 }",
        "{ \"hand-rubb\": 20 }",
        &[("20", "There is no act \"hand-rubb\"; did you mean \"hand-rub\"?")],
    );
    check(
        "{ \"hand-rub\": 20 }",
        "{ \"remove-gown\": 20 }",
        &[(
            "20",
            "\"remove-gown\" has a least duration here but is not among the acts of the step \"clean-hands\"; add \
         it to \"acts\" or take it out.",
        )],
    );
}
