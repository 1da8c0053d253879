use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthChar;

use crate::{Weight, Words};

/// Width of a text in points, at a size in points. Paper gives the real one of its font; the screen,
/// whose font is not known here, uses [`typical_width`].
pub type Measure<'a> = &'a dyn Fn(&str, f64, Weight) -> f64;

/// How a drawing writes: its words and the width of its letters.
#[derive(Clone, Copy)]
pub struct Lettering<'a> {
    /// The words that a drawing adds to the data.
    pub words: &'a Words,
    /// The width of a text.
    pub measure: Measure<'a>,
}

impl Lettering<'static> {
    /// English, for a font that is not known.
    pub const PLAIN: Lettering<'static> = Lettering { words: &Words::ENGLISH, measure: &typical_width };
}

impl std::fmt::Debug for Lettering<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Lettering").field("words", &self.words).finish_non_exhaustive()
    }
}

/// Widths of the printable ASCII characters in thousandths of the size: those of Noto Sans Bold, read
/// from its horizontal metrics, so that the regular weight of any usual sans serif is not wider.
const ASCII: [u16; 95] = [
    260, 286, 472, 646, 572, 901, 750, 266, 339, 339, 545, 572, 285, 322, 285, 413, 572, 572, 572, 572, 572,
    572, 572, 572, 572, 572, 285, 285, 572, 572, 572, 477, 897, 690, 672, 637, 740, 560, 549, 724, 765, 389,
    331, 664, 565, 943, 813, 796, 628, 796, 660, 551, 579, 756, 650, 967, 667, 624, 579, 331, 413, 331, 572,
    411, 362, 604, 633, 514, 633, 591, 387, 633, 657, 305, 305, 620, 305, 982, 657, 619, 633, 633, 454, 497,
    434, 657, 569, 856, 578, 569, 488, 394, 551, 394, 572,
];

/// A width that is rather too large than too small, for a font that is not known, in points.
pub fn typical_width(text: &str, size: f64, weight: Weight) -> f64 {
    let per_mille: u32 = text.chars().map(typical).sum();
    let margin = match weight {
        Weight::Regular => 1.03,
        Weight::Bold => 1.09,
    };
    f64::from(per_mille) / 1000.0 * size * margin
}

fn typical(c: char) -> u32 {
    let ascii = u32::from(c).checked_sub(32).and_then(|i| ASCII.get(usize::try_from(i).ok()?));
    match (ascii, c.width()) {
        (Some(width), _) => u32::from(*width),
        (None, None | Some(0)) => 0,
        (None, Some(1)) if c.is_uppercase() => 1000,
        (None, Some(1)) => 800,
        (None, Some(_)) => 1050,
    }
}

/// The text on one line no wider than `width`, ended by `…` where it does not fit.
pub fn fit(text: &str, width: f64, size: f64, weight: Weight, measure: Measure<'_>) -> String {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if measure(&text, size, weight) <= width {
        return text;
    }
    shortened(&text, width, size, weight, measure)
}

/// The longest beginning that fits with `…` after it, whether or not the whole would fit; empty where
/// not even that fits.
fn shortened(text: &str, width: f64, size: f64, weight: Weight, measure: Measure<'_>) -> String {
    let ends = text.grapheme_indices(true).map(|(start, _)| start).rev();
    ends.filter_map(|end| text.get(..end))
        .map(|beginning| format!("{}…", beginning.trim_end_matches([' ', ',', ';', ':', '.', '(', '-'])))
        .find(|line| measure(line, size, weight) <= width)
        .unwrap_or_default()
}

/// The text on at most `lines` lines, none wider than `width`; the last ends in `…` where there is more.
///
/// Lines break at white space, and within a word only where that word alone is too wide. A line is as wide as
/// its words and the spaces between them: each word is measured once, however long the text.
pub fn wrap(
    text: &str,
    width: f64,
    lines: usize,
    size: f64,
    weight: Weight,
    measure: Measure<'_>,
) -> Vec<String> {
    let wide = |text: &str| measure(text, size, weight);
    let space = wide(" ");
    let mut done: Vec<String> = Vec::new();
    let (mut line, mut line_wide) = (String::new(), 0.0);
    let mut pieces: Vec<&str> = text.split_whitespace().rev().collect();
    while let Some(word) = pieces.pop() {
        let gap = if line.is_empty() { 0.0 } else { space };
        let longer = line_wide + gap + wide(word);
        if longer <= width {
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
            line_wide = longer;
        } else if done.len() + 1 == lines {
            pieces.push(word);
            let rest = pieces.iter().rev().copied().collect::<Vec<_>>().join(" ");
            let all = if line.is_empty() { rest } else { format!("{line} {rest}") };
            line = shortened(&all, width, size, weight, measure);
            pieces.clear();
        } else if line.is_empty() {
            let (head, tail) = broken(word, &|head: &str| wide(head) <= width);
            done.push(head.to_owned());
            if !tail.is_empty() {
                pieces.push(tail);
            }
        } else {
            done.push(std::mem::take(&mut line));
            line_wide = 0.0;
            pieces.push(word);
        }
    }
    if !line.is_empty() {
        done.push(line);
    }
    done.truncate(lines);
    done
}

/// The longest beginning of a word that fits, at least one character, and the rest.
fn broken<'w>(word: &'w str, fits: &impl Fn(&str) -> bool) -> (&'w str, &'w str) {
    let mut best = word.graphemes(true).next().map_or(0, str::len);
    for (start, piece) in word.grapheme_indices(true) {
        let end = start + piece.len();
        match word.get(..end) {
            Some(head) if fits(head) => best = end.max(best),
            Some(_) | None => break,
        }
    }
    word.split_at_checked(best).unwrap_or((word, ""))
}
