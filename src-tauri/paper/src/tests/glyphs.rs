use super::sample::record;
use crate::PaperError;

#[track_caller]
fn printed(name: &str) -> Result<Vec<u8>, PaperError> {
    let mut record = record();
    record.person.name = name.to_owned();
    crate::record(&record)
}

#[test]
fn scripts_that_print() {
    for name in [
        "Zoë Brontë-Ångström",
        "Łukasz Żółć",
        "Nguyễn Thị Ánh",
        "Δημήτρης Παπαδόπουλος",
        "Ἀλέξανδρος",
        "Дмитрий Ёлкин",
        "Їжакевич",
        "Seán Ó Briain (x̱)",
    ] {
        let pdf = printed(name).unwrap_or_else(|error| panic!("{name}: {error}"));
        let text = super::text_of(&pdf);
        assert!(text.contains(name), "{name} must be readable in: {text}");
    }
}

#[test]
fn a_character_that_no_font_has_is_named() {
    for (name, missing) in [("漢字", '漢'), ("Anna 😀", '😀'), ("علي", 'ع'), ("a\u{e000}b", '\u{e000}')]
    {
        match printed(name) {
            Err(PaperError::NoGlyph { character }) => assert_eq!(character, missing, "{name}"),
            other => panic!("{name} must be refused, was {:?}", other.map(|pdf| pdf.len())),
        }
    }
    let error = printed("漢").unwrap_err().to_string();
    assert_eq!(error, "the character “漢” (U+6F22) cannot be printed: write it another way");
}

#[test]
fn what_would_not_print_is_known_beforehand() {
    for (name, missing) in
        [("Zoë Łukasz Δημήτρης Ёлкин Nguyễn", None), ("Anna 李", Some('李')), ("علي", Some('ع'))]
    {
        assert_eq!(crate::unprintable(name).unwrap(), missing, "{name}");
    }
}

#[test]
fn accents_written_apart_print_too() {
    // NFD: the letter and its marks are characters of their own.
    let apart = "Nguye\u{302}\u{303}n";
    assert!(printed(apart).is_ok());
}
