//! What is legal but odd.

use super::{changed, compare};
use crate::flaw::locate;
use crate::procedure::{odd, read};

/// Changes one passage; the file stays without a flaw, and these warnings are given.
#[track_caller]
fn check(from: &str, to: &str, expected: &[(&str, &str)]) {
    let text = changed(from, to);
    let procedure = read(&text).unwrap_or_else(|flaws| panic!("no flaw was expected: {flaws:#?}"));
    let mut warnings = odd(&procedure);
    locate(&text, &mut warnings);
    compare(&text, &warnings, expected);
}

#[test]
fn head() {
    check(
        "\"valid_months\": 12",
        "\"validates_in\": []",
        &[("[]", "No mode is named in which this procedure validates, so it can only be practised.")],
    );
    check(
        "\"valid_months\": 12",
        "\"validates_in\": [\"guided\"]",
        &[(
            "[\"guided\"]",
            "It validates in guided mode, which published guidance asks for under high-consequence precautions \
         only; elsewhere the person works unaided.",
        )],
    );
    check("[\"contact\"]", "[]", &[("[]", "It belongs to no precautions, so no clearance will ask for it.")]);
}

/// A finding is one sentence, so what it says in the middle is no more than one.
#[test]
fn reasons_of_several_sentences() {
    let said = "This is more than one sentence; a finding says it in the middle of one.";
    for why in [
        "Their outside is contaminated.",
        "The apron is on top.",
        "Skin is exposed.",
        "Hands carry it to the face.",
    ] {
        let more = format!("\"{why} Nothing else is.\"");
        check(&format!("\"{why}\""), &more, &[(&more, said)]);
    }
}

#[test]
fn labels() {
    check(
        "\"Apron off\"",
        "\"The plastic apron is taken off\"",
        &[(
            "\"The plastic",
            "\"The plastic apron is taken off\" has more than 28 characters and may not fit its button.",
        )],
    );
    check(
        "\"Apron off\"",
        "\"Gown off\"",
        &[("\"Gown off\"", "Two acts are called \"Gown off\"; the observer cannot tell them apart.")],
    );
}

#[test]
fn unused() {
    check(
        "\"remove-apron\": \"Apron off\"",
        "\"remove-apron\": \"Apron off\", \"wave\": \"Waved\"",
        &[(
            "\"Waved\"",
            "No step calls for \"wave\" and it is neither free nor forbidden: it is always extra.",
        )],
    );
    check(
        "\"when\": \"wears-apron\", ",
        "",
        &[("{ \"id\"", "Nothing depends on the condition \"wears-apron\".")],
    );
    check(
        "\"anytime\"",
        "\"start\"",
        &[(
            "{ \"id\"",
            "\"glove-torn\" is asked at the start only, so its response never falls due; ask for it anytime.",
        )],
    );
    check(
        "\"memory\" }\n",
        "\"memory\" },\n    { \"id\": \"s2\", \"title\": \"Another\", \"publisher\": \"P\", \"year\": 1, \"locator\": \"l\", \"footing\": \"read\" }\n",
        &[("{ \"id\": \"s2\"", "Nothing cites the source \"s2\".")],
    );
}

#[test]
fn reasons() {
    check(
        "\"when\": \"wears-apron\", \"source\": \"s1\"",
        "\"when\": \"wears-apron\"",
        &[("{", "The step \"apron-off\" cites no source.")],
    );
    check(
        "\"why\": \"Skin is exposed.\", ",
        "",
        &[("{ \"to\"", "The response to \"glove-torn\" is critical, but not said why.")],
    );
    check(
        ", \"why\": \"Hands carry it to the face.\"",
        "",
        &[("{ \"act\"", "\"touch-face\" is forbidden, but not said why.")],
    );
}

#[test]
fn order() {
    check(
        ", \"gloves-off\"],",
        "],",
        &[(
            "{",
            "Nothing comes after \"gloves-off\", so it may be done at the very end; say what must wait for it, if \
         anything must.",
        )],
    );
    // What the observer has to say is for the wearer, and too late at the very end.
    check(
        "\"steps\": [\n",
        "\"steps\": [ { \"id\": \"told\", \"section\": \"Apron\", \"acts\": [\"change-gloves\"], \"text\": \"Tell.\", \
         \"by\": \"observer\", \"source\": \"s1\" },\n",
        &[(
            "{ \"id\": \"told\"",
            "Nothing comes after \"told\", so it may be done at the very end; say what must wait for it, if anything must.",
        )],
    );
    check(
        "\"immediately_after\": \"gown-off\"",
        "\"after\": [\"gloves-off\"], \"immediately_after\": \"gown-off\"",
        &[(
            "\"gloves-off\"]",
            "\"gloves-off\" comes before \"clean-hands\" anyway, through \"gown-off\"; it can be left out.",
        )],
    );
    check(
        "\"critical\": true, \"why\": \"Their",
        "\"after\": [\"apron-off\"], \"critical\": true, \"why\": \"Their",
        &[(
            "[",
            "Every step waits for the one before it, and not every order has a reason; what guidance leaves free \
         should be free here, or it fails people who did it right.",
        )],
    );
}
