use std::collections::BTreeMap;

use super::*;

#[derive(Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Sheet {
    title: String,
    #[serde(default)]
    colour: Colour,
    #[serde(default)]
    count: Option<u8>,
    #[serde(default)]
    rows: Vec<Row>,
    #[serde(default)]
    labels: BTreeMap<String, String>,
}

#[derive(Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    name: String,
    done: bool,
    #[serde(default)]
    tags: Vec<String>,
}

#[derive(Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Colour {
    #[default]
    Red,
    DarkGreen,
}

/// Reads the text as a sheet and compares every flaw: pointer, line, column, text.
#[track_caller]
fn check(text: &str, expected: &[(&str, u32, u32, &str)]) {
    let flaws = read_json::<Sheet>(text).expect_err("the text has flaws");
    let told: Vec<_> =
        flaws.iter().map(|flaw| (&*flaw.pointer, flaw.line, flaw.column, &*flaw.text)).collect();
    assert_eq!(told, expected);
}

#[test]
fn a_sound_file_is_read() {
    let text = "\u{feff}{\"title\": \"a \\ud83d\\ude00\", \"colour\": \"dark-green\", \"count\": null,\n \
                \"rows\": [{\"name\": \"r\", \"done\": true}], \"labels\": {\"x/y\": \"z\"}}";
    let sheet: Sheet = read_json(text).expect("it is sound");
    assert_eq!(sheet.title, "a 😀");
    assert_eq!(sheet.colour, Colour::DarkGreen);
    assert_eq!(sheet.rows, [Row { name: "r".to_owned(), done: true, tags: Vec::new() }]);
    assert_eq!(sheet.labels["x/y"], "z");
}

#[test]
fn every_flaw_is_told_at_once_with_its_place() {
    check(
        "{\n  \"titel\": \"a\",\n  \"colour\": \"dark-gren\",\n  \"count\": 300,\n  \"rows\": [\n    \
         {\"name\": 1, \"done\": \"yes\", \"extra\": {}},\n    5,\n    \
         {\"name\": \"é\", \"done\": true, \"tags\": [\"é\", null, true]}\n  ],\n  \
         \"labels\": {\"a/b\": 2, \"c\": \"d\", \"c\": \"e\"}\n}\n",
        &[
            ("/title", 1, 1, "The field \"title\" is missing here; add it."),
            ("/titel", 2, 3, "There is no field \"titel\" here; did you mean \"title\"?"),
            ("/colour", 3, 13, "\"dark-gren\" is not allowed here; did you mean \"dark-green\"?"),
            ("/count", 4, 12, "Expected a whole number from 0 to 255, but found 300."),
            ("/rows/0/name", 6, 14, "Expected a text in quotation marks, but found 1."),
            ("/rows/0/done", 6, 25, "Expected true or false, but found a text."),
            (
                "/rows/0/extra",
                6,
                32,
                "There is no field \"extra\" here; take it out. The fields are: name, done, tags.",
            ),
            ("/rows/1", 7, 5, "Expected an object in braces, but found 5."),
            ("/rows/2/tags/1", 8, 47, "Expected a text in quotation marks, but found null."),
            ("/rows/2/tags/2", 8, 53, "Expected a text in quotation marks, but found true or false."),
            ("/labels/a~1b", 10, 21, "Expected a text in quotation marks, but found 2."),
            ("/labels/c", 10, 34, "\"c\" stands twice in the same object; keep one of them."),
        ],
    );
}

#[test]
fn the_whole_file_of_the_wrong_type_is_one_flaw() {
    check("[]", &[("", 1, 1, "Expected an object in braces, but found a list.")]);
    check(" null ", &[("", 1, 2, "Expected an object in braces, but found null.")]);
}

#[test]
fn what_is_not_json_is_told_where_it_stops() {
    let empty = "The file is empty; write a JSON object into it.";
    check("", &[("", 1, 1, empty)]);
    check(" \n ", &[("", 1, 1, empty)]);
    check(
        "{\n  \"title\": \"é\" // why\n}",
        &[(
            "",
            2,
            16,
            "This is not JSON: expected `,` or `}`. Nothing after this place could be read; mend it and check again.",
        )],
    );
    check(
        "{\"title\": \"a\",}",
        &[(
            "",
            1,
            15,
            "This is not JSON: trailing comma. Nothing after this place could be read; mend it and check again.",
        )],
    );
    check(
        "{\"title\": \"a\"",
        &[(
            "",
            1,
            13,
            "The file ends too early: a bracket or a quotation mark is never closed. Was it cut off?",
        )],
    );
}

#[test]
fn hostile_files_are_refused_with_a_sentence() {
    let deep = "[".repeat(1_000_000);
    check(&deep, &[("", 1, 128, "Brackets are nested too deeply here; at most 127 levels are read.")]);
    let deep = format!("{{\"title\":{}1{}}}", "[".repeat(126), "]".repeat(126));
    check(&deep, &[("/title", 1, 10, "Expected a text in quotation marks, but found a list.")]);
    let long = format!("{{\"title\":\"{}\"}}", "a".repeat(100 * 1024 * 1024));
    check(
        &long,
        &[(
            "",
            1,
            1,
            "The file is 100 MiB long and at most 4 MiB are read; check that it is the right file.",
        )],
    );
}

#[test]
fn no_more_than_a_hundred_flaws_are_told() {
    let text = format!("{{\"title\":\"t\",\"rows\":[{}]}}", vec!["1"; 5_000].join(","));
    let flaws = read_json::<Sheet>(&text).expect_err("every row is wrong");
    assert_eq!(flaws.len(), MOST_FLAWS + 1);
    assert_eq!(flaws[MOST_FLAWS].text, "There are more flaws than these 100; mend them and check again.");
}

#[test]
fn what_could_be_read_of_a_flawed_file_keeps_its_shape() {
    let reading =
        read_leniently::<Sheet>("{\"title\":\"t\",\"rows\":[1,{\"name\":\"b\",\"done\":0}],\"count\":\"x\"}");
    let sheet = reading.value.expect("it could be read");
    assert_eq!(sheet.rows.iter().map(|row| &*row.name).collect::<Vec<_>>(), ["", "b"]);
    assert_eq!((sheet.count, reading.flaws.len()), (None, 3));
}

/// Types that check themselves while they are read, as a log's observation does.
#[test]
fn a_value_that_refuses_itself_is_told_once_and_the_rest_is_read() {
    let text = "{\"mode\":\"assessed\",\"observations\":[{\"at_ms\":1},{\"at_ms\":2,\"act\":\"a\"},\n\
                {\"act\":\"b\",\"condition\":\"c\"},{\"act\":\"d\",\"by\":\"nobody\"}]}";
    let reading = read_leniently::<crate::log::Log>(text);
    let told: Vec<_> =
        reading.flaws.iter().map(|flaw| (&*flaw.pointer, flaw.line, flaw.column, &*flaw.text)).collect();
    let refused = "An observation needs exactly one of act, contamination, condition, not_seen, team_error.";
    assert_eq!(
        told,
        [
            ("/observations/0", 1, 36, refused),
            ("/observations/2", 2, 1, refused),
            (
                "/observations/3/by",
                2,
                45,
                "\"nobody\" is not allowed here; write one of: wearer, assistant, observer.",
            ),
        ]
    );
    assert_eq!(reading.value.expect("the rest is read").observations.len(), 2);
}

#[test]
fn flaws_of_a_value_are_located_in_its_text() {
    let text =
        "{\n  \"rows\": [\n    {\"name\": \"a\"},\n    {\"name\": \"b\"}\n  ],\n  \"a/b\": {\"~\": 1}\n}";
    let mut flaws =
        ["/a~1b/~0", "/rows/1/name", "/rows/1/absent", "/rows/7", "/rows/0", "", "/absent/further"]
            .map(|pointer| Flaw::new(pointer, "x"));
    locate(text, &mut flaws);
    let places: Vec<_> = flaws.iter().map(|flaw| (&*flaw.pointer, flaw.line, flaw.column)).collect();
    assert_eq!(
        places,
        [
            ("", 1, 1),
            ("/absent/further", 1, 1),
            ("/rows/7", 2, 11),
            ("/rows/0", 3, 5),
            ("/rows/1/absent", 4, 5),
            ("/rows/1/name", 4, 14),
            ("/a~1b/~0", 6, 16),
        ]
    );
}

#[test]
fn only_a_near_name_is_proposed() {
    let names = ["remove-gown", "remove-gloves"];
    assert_eq!(nearest("remove-glove", names), Some("remove-gloves"));
    assert_eq!(nearest("hand-rub", names), None);
    assert_eq!(nearest("", names), None);
}
