use super::{pdf_of, sample::record};
use crate::PaperError;

#[track_caller]
fn printed(name: &str) -> Result<Vec<u8>, PaperError> {
    let mut record = record();
    record.person.name = name.to_owned();
    pdf_of(&record)
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
        "Seán Ó Briain",
        "李小龙",
        "王秀英 Wang Xiuying",
    ] {
        let pdf = printed(name).unwrap_or_else(|error| panic!("{name}: {error}"));
        let text = super::text_of(&pdf);
        assert!(text.contains(name), "{name} must be readable in: {text}");
    }
}

#[test]
fn a_character_that_no_font_has_is_named() {
    for (name, missing) in [
        ("김민준", '김'),
        ("Anna 😀", '😀'),
        ("דוד", 'ד'),
        ("a\u{e000}b", '\u{e000}'),
        ("Anna\u{202e}nhoJ", '\u{202e}'),
    ] {
        match printed(name) {
            Err(PaperError::NoGlyph { character }) => assert_eq!(character, missing, "{name}"),
            other => panic!("{name} must be refused, was {:?}", other.map(|pdf| pdf.len())),
        }
    }
    let error = printed("김").unwrap_err().to_string();
    assert_eq!(error, "the character “김” (U+AE40) cannot be printed: write it another way");
}

#[test]
fn what_would_not_print_is_known_beforehand() {
    for (name, missing) in
        [("Zoë Łukasz Δημήτρης Ёлкин Nguyễn 李 علي", None), ("Anna 김", Some('김')), ("דוד", Some('ד'))]
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

/// Arabic stands on the page from left to right, so this simple reader gives the letters of a line turned round;
/// the test with `pdftotext` holds what a real one gives.
#[test]
fn arabic_is_joined_and_runs_leftwards() {
    for name in ["محمد علي", "فاطمة الزهراء", "علی\u{200c}رضا پهلوانی", "لؤي علاء"]
    {
        let pdf = printed(name).unwrap_or_else(|error| panic!("{name}: {error}"));
        // Lam and alef are one glyph, and one character; the joiner only shapes what is around it.
        let turned: String = name.replace("لا", "\u{fefb}").replace('\u{200c}', "").chars().rev().collect();
        let text = super::text_of(&pdf);
        assert!(text.contains(&turned), "{name} must be readable in: {text}");
    }
}

#[test]
fn a_line_is_as_wide_as_its_words_in_any_script() {
    let faces = crate::faces::Faces::load().unwrap();
    let wide = |text: &str| faces.measure(text, 10.0, picture::Weight::Bold);
    for (text, words) in [("محمد علي 7", ["محمد", "علي", "7"]), ("李 小龙 Bruce", ["李", "小龙", "Bruce"])]
    {
        let sum = words.iter().map(|word| wide(word)).sum::<f64>() + 2.0 * wide(" ");
        assert!((wide(text) - sum).abs() < 0.001, "{text}: {} and {sum}", wide(text));
    }
}
