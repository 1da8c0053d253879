//! Which way a line runs. The papers are written left to right in English, and names in Arabic letters stand in
//! them; so a line is a left-to-right paragraph by the rules of Unicode (UAX #9), in which each stretch of Arabic
//! is set apart as if between isolates (its clause HL3). Without that, the date or the number after a name
//! would be drawn on its other side.

use std::ops::Range;

use unicode_bidi::{BidiClass, BidiInfo, Level, bidi_class};

/// Part of a line, all of which runs one way.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Part<'line> {
    pub(crate) text: &'line str,
    /// From right to left.
    pub(crate) leftwards: bool,
}

/// The parts of a line in the order in which they stand from left to right.
pub(crate) fn in_sight(line: &str) -> Vec<Part<'_>> {
    let mut parts = Vec::new();
    let mut done = 0;
    let mut add = |range: Range<usize>, leftwards| {
        if let Some(text) = line.get(range).filter(|text| !text.is_empty()) {
            parts.push(Part { text, leftwards });
        }
    };
    for stretch in stretches(line) {
        add(done..stretch.start, false);
        done = stretch.end;
        let order = BidiInfo::new(line.get(stretch.clone()).unwrap_or_default(), Some(Level::rtl()));
        for paragraph in &order.paragraphs {
            let (levels, runs) = order.visual_runs(paragraph, paragraph.range.clone());
            for run in runs {
                let leftwards = levels.get(run.start).is_some_and(Level::is_rtl);
                add(stretch.start + run.start..stretch.start + run.end, leftwards);
            }
        }
    }
    add(done..line.len(), false);
    parts
}

/// From the first letter that runs leftwards to the last one before a letter that runs the other way, with a
/// bracket that closes round one of them.
fn stretches(line: &str) -> Vec<Range<usize>> {
    let mut stretches: Vec<Range<usize>> = Vec::new();
    // No letter before Hebrew runs leftwards.
    if line.chars().all(|character| character < '\u{590}') {
        return stretches;
    }
    let mut stretch: Option<Range<usize>> = None;
    let mut brackets: Vec<usize> = Vec::new();
    for (place, character) in line.char_indices() {
        let after = place + character.len_utf8();
        match (bidi_class(character), stretch.as_mut()) {
            (BidiClass::R | BidiClass::AL | BidiClass::AN, None) => stretch = Some(place..after),
            (BidiClass::R | BidiClass::AL | BidiClass::AN, Some(stretch)) => stretch.end = after,
            (BidiClass::NSM | BidiClass::BN, Some(stretch)) if stretch.end == place => stretch.end = after,
            (BidiClass::L, Some(_)) => {
                stretches.extend(stretch.take());
                brackets.clear();
            }
            (_, Some(stretch)) if is_opening(character) => {
                brackets.push(stretch.end);
            }
            // It closes round something that runs leftwards.
            (_, Some(stretch))
                if is_opening(mirrored(character)) && brackets.pop().is_some_and(|end| end < stretch.end) =>
            {
                stretch.end = after;
            }
            _ => {}
        }
    }
    stretches.extend(stretch);
    stretches
}

fn is_opening(character: char) -> bool {
    matches!(character, '(' | '[' | '{' | '<' | '«' | '‹')
}

/// What it looks like where it runs leftwards (UAX #9, rule L4), for the brackets that names and comments have.
fn mirrored(character: char) -> char {
    match character {
        '(' => ')',
        ')' => '(',
        '[' => ']',
        ']' => '[',
        '{' => '}',
        '}' => '{',
        '<' => '>',
        '>' => '<',
        '«' => '»',
        '»' => '«',
        '‹' => '›',
        '›' => '‹',
        other => other,
    }
}

/// What is not Arabic in a part that runs leftwards, such as a hyphen, as it is written from left to right.
pub(crate) fn turned(text: &str) -> String {
    text.chars().rev().map(mirrored).collect()
}

/// Whether a character turns the direction of what follows without being seen: a name with one would not look
/// like what is stored (UAX #9, 2.0).
pub(crate) fn turns_unseen(character: char) -> bool {
    matches!(character, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

#[cfg(test)]
mod tests {
    use super::{in_sight, turned};

    /// The parts from left to right, those that run leftwards with an arrow before them.
    #[track_caller]
    fn check(line: &str, expected: &[&str]) {
        let parts: Vec<String> = in_sight(line)
            .into_iter()
            .map(|part| format!("{}{}", if part.leftwards { "<" } else { "" }, part.text))
            .collect();
        assert_eq!(parts, expected, "{line}");
    }

    // By the rules of UAX #9 in a paragraph from left to right, each stretch isolated; letters of Arabic stand here
    // for themselves, in the order in which they are stored.
    #[test]
    fn a_line_is_one_part_where_nothing_runs_leftwards() {
        check("Ada Lovelace, 3 May", &["Ada Lovelace, 3 May"]);
        check("王秀英 1042", &["王秀英 1042"]);
        check("", &[]);
    }

    #[test]
    fn what_follows_a_name_stays_on_its_right() {
        check("علي, 3 May", &["<علي", ", 3 May"]);
        check("علي 1042", &["<علي", " 1042"]);
        check("Seen: محمد علي.", &["Seen: ", "<محمد علي", "."]);
        check("علي (no. 7)", &["<علي", " (no. 7)"]);
    }

    #[test]
    fn numbers_inside_a_name_run_rightwards() {
        check("محمد 42 علي", &["< علي", "42", "<محمد "]);
        // Arabic digits are part of it, also at its end.
        check("محمد ٤٢", &["٤٢", "<محمد "]);
    }

    #[test]
    fn a_bracket_closes_round_the_name_it_opened_before() {
        check("محمد (علي) 7", &["<محمد (علي)", " 7"]);
        check("(علي)", &["(", "<علي", ")"]);
        assert_eq!(turned(" ("), ") ");
        assert_eq!(turned("-"), "-");
    }

    #[test]
    fn two_names_with_latin_between_stand_in_the_order_of_the_sentence() {
        check("علي and محمد", &["<علي", " and ", "<محمد"]);
    }
}
