//! Files that no educator means to hand in as a procedure.

use std::fs;

use crate::place;

/// Each file by its name, what is in it, and what must be said of it. The last of them is 100 MiB long.
///
/// # Panics
///
/// Where the library is not there.
pub fn procedures() -> Vec<(&'static str, String, &'static [&'static str])> {
    let file = place::root().join("procedures/standard-donning.json");
    let sound = fs::read_to_string(file).expect("the library is there");
    let circle = sound.replacen(
        "\"acts\": [\"hand-rub\", \"hand-wash\"],",
        "\"acts\": [\"hand-rub\", \"hand-wash\"], \"after\": [\"gloves-on\"],",
        1,
    );
    vec![
        ("prose.json", "Gloves first, then the gown.".to_owned(), &["not JSON"]),
        ("field.json", sound.replacen("\"title\":", "\"titel\":", 1), &["\"titel\"", "\"title\"", "5"]),
        (
            "type.json",
            sound.replacen("\"valid_months\": 12", "\"valid_months\": \"twelve\"", 1),
            &["whole number"],
        ),
        ("circle.json", circle, &["wait for one another"]),
        (
            "sign.json",
            sound.replacen("Standard donning", "Standard donning \u{1f600}", 1),
            &["U+1F600", "cannot be printed", "5"],
        ),
        ("nested.json", "[".repeat(100_000), &["128"]),
        ("huge.json", " ".repeat(100 << 20), &["The file ", "100 "]),
    ]
}
