use allsorts::tag;

/// The script of Han, kana and their punctuation, in the one font that has them (OpenType's tag).
pub(crate) const HAN: u32 = u32::from_be_bytes(*b"hani");
/// The script of Arabic letters.
pub(crate) const ARABIC: u32 = tag::ARAB;

/// The text in parts of one script each; what belongs to all scripts stays with what is before it, as long as
/// the same font has it.
pub(crate) fn scripts(text: &str) -> Vec<(u32, &str)> {
    let mut parts: Vec<(u32, usize)> = Vec::new();
    for (place, character) in text.char_indices() {
        match (script(character), parts.last_mut()) {
            (Some(script), Some((last, _))) if *last == tag::DFLT && !has_own_font(script) => *last = script,
            (Some(script), Some((last, _))) if *last == script => {}
            (Some(script), _) => parts.push((script, place)),
            (None, Some((last, _))) if has_own_font(*last) && !stays(character) => {
                parts.push((tag::DFLT, place));
            }
            (None, Some(_)) => {}
            (None, None) => parts.push((tag::DFLT, place)),
        }
    }
    let ends = parts.iter().skip(1).map(|(_, start)| *start).chain([text.len()]);
    parts
        .iter()
        .zip(ends)
        .filter_map(|((script, start), end)| Some((*script, text.get(*start..end)?)))
        .collect()
}

fn has_own_font(script: u32) -> bool {
    script == ARABIC || script == HAN
}

/// What is nothing without the letter before it: joiners, which many Persian names need, marks and variants.
fn stays(character: char) -> bool {
    matches!(character, '\u{300}'..='\u{36f}' | '\u{200c}' | '\u{200d}' | '\u{fe00}'..='\u{fe0f}')
}

/// The scripts of the fonts, by their blocks in Unicode; `None` for digits, punctuation and combining marks.
fn script(character: char) -> Option<u32> {
    match character {
        'A'..='Z' | 'a'..='z' | '\u{aa}' | '\u{ba}' | '\u{c0}'..='\u{2af}' | '\u{1e00}'..='\u{1eff}' => {
            Some(tag::LATN)
        }
        '\u{370}'..='\u{3ff}' | '\u{1f00}'..='\u{1fff}' => Some(tag::GREK),
        '\u{400}'..='\u{52f}' | '\u{1c80}'..='\u{1c8f}' | '\u{2de0}'..='\u{2dff}' => Some(tag::CYRL),
        '\u{600}'..='\u{6ff}'
        | '\u{750}'..='\u{77f}'
        | '\u{870}'..='\u{8ff}'
        | '\u{fb50}'..='\u{fdff}'
        | '\u{fe70}'..='\u{fefc}' => Some(ARABIC),
        '\u{2e80}'..='\u{312f}'
        | '\u{31a0}'..='\u{31ff}'
        | '\u{3400}'..='\u{9fff}'
        | '\u{f900}'..='\u{faff}'
        | '\u{fe30}'..='\u{fe4f}'
        | '\u{ff00}'..='\u{ffef}'
        | '\u{20000}'..='\u{3ffff}' => Some(HAN),
        _ => None,
    }
}
