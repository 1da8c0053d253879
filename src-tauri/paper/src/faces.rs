use std::{
    cell::RefCell,
    collections::{BTreeMap, BTreeSet},
    rc::Rc,
};

use allsorts::{
    Font,
    binary::read::ReadScope,
    font::MatchingPresentation,
    font_data::{DynamicFontTableProvider, FontData},
    glyph_position::{GlyphLayout, TextDirection},
    gsub::{FeatureMask, FeatureMaskExt},
    subset::{CmapTarget, SubsetProfile, subset},
    tag,
};
use picture::Weight;

use crate::PaperError;

const REGULAR: &[u8] = include_bytes!("../fonts/NotoSans-Regular.ttf");
const BOLD: &[u8] = include_bytes!("../fonts/NotoSans-Bold.ttf");

/// The most words whose shapes a thread keeps: more than all records of a facility have together.
const MOST_WORDS: usize = 20_000;

thread_local! {
    /// The fonts take longer to read than a page to draw, and most words of one record are in the next.
    static LOADED: RefCell<Option<Rc<Faces>>> = const { RefCell::new(None) };
}

/// The fonts that everything is written in, with what was shaped so far.
pub(crate) struct Faces {
    regular: Face,
    bold: Face,
}

struct Face {
    font: RefCell<Font<DynamicFontTableProvider<'static>>>,
    units_per_em: f64,
    shaped: RefCell<BTreeMap<(u32, String), Rc<Word>>>,
}

/// A text as glyphs of the whole font, left to right.
#[derive(Debug, Default)]
pub(crate) struct Run {
    words: Vec<Rc<Word>>,
    /// In thousandths of the size.
    pub(crate) width: f64,
    /// The first character that the font does not have.
    pub(crate) missing: Option<char>,
}

/// One word in one script, or the space after it. Nothing is shaped across a space, so that a text is as wide as
/// its words and spaces, and a word is shaped once.
#[derive(Debug, Default)]
struct Word {
    glyphs: Vec<Placed>,
    width: f64,
    missing: Option<char>,
}

impl Run {
    pub(crate) fn glyphs(&self) -> impl Iterator<Item = &Placed> {
        self.words.iter().flat_map(|word| &word.glyphs)
    }
}

/// One glyph; lengths are in thousandths of the size.
#[derive(Debug)]
pub(crate) struct Placed {
    pub(crate) glyph: u16,
    /// What it stands for, so that text can be copied and searched.
    pub(crate) text: String,
    /// From the pen to the pen after it.
    pub(crate) advance: f64,
    /// What the font says its advance is, before kerning.
    pub(crate) natural: f64,
    /// Where it is drawn, from the pen: accents sit on what is before them.
    pub(crate) offset: (f64, f64),
}

impl Faces {
    /// Those of this thread, read when they are first asked for.
    pub(crate) fn load() -> Result<Rc<Self>, PaperError> {
        LOADED.with_borrow_mut(|loaded| {
            if let Some(faces) = loaded {
                return Ok(Rc::clone(faces));
            }
            let faces = Rc::new(Faces { regular: Face::load(REGULAR)?, bold: Face::load(BOLD)? });
            *loaded = Some(Rc::clone(&faces));
            Ok(faces)
        })
    }

    fn face(&self, weight: Weight) -> &Face {
        match weight {
            Weight::Regular => &self.regular,
            Weight::Bold => &self.bold,
        }
    }

    /// Width of one line of text, in points.
    pub(crate) fn measure(&self, text: &str, size: f64, weight: Weight) -> f64 {
        self.run(text, weight).width * size / 1000.0
    }

    pub(crate) fn run(&self, text: &str, weight: Weight) -> Run {
        self.face(weight).run(text)
    }

    /// The font with these glyphs alone, renumbered in their order from 1 on.
    pub(crate) fn subset(&self, weight: Weight, glyphs: &BTreeSet<u16>) -> Result<Vec<u8>, PaperError> {
        let kept: Vec<u16> =
            std::iter::once(0).chain(glyphs.iter().copied().filter(|glyph| *glyph != 0)).collect();
        let font = self.face(weight).font.borrow();
        subset(&font.font_table_provider, &kept, &SubsetProfile::Pdf, CmapTarget::Unrestricted)
            .map_err(broken)
    }
}

impl Face {
    fn load(bytes: &'static [u8]) -> Result<Self, PaperError> {
        let data = ReadScope::new(bytes).read::<FontData<'_>>().map_err(broken)?;
        let font = Font::new(data.table_provider(0).map_err(broken)?).map_err(broken)?;
        let units_per_em = f64::from(font.head_table.units_per_em);
        Ok(Face { font: RefCell::new(font), units_per_em, shaped: RefCell::default() })
    }

    fn run(&self, text: &str) -> Run {
        let mut run = Run::default();
        for (script, part) in scripts(text) {
            for word in part.split_inclusive(' ') {
                let (word, space) = word.split_at(word.trim_end_matches(' ').len());
                for piece in [word, space].into_iter().filter(|piece| !piece.is_empty()) {
                    let piece = self.word(script, piece);
                    run.width += piece.width;
                    run.missing = run.missing.or(piece.missing);
                    run.words.push(piece);
                }
            }
        }
        run
    }

    fn word(&self, script: u32, text: &str) -> Rc<Word> {
        let mut shaped = self.shaped.borrow_mut();
        let key = (script, text.to_owned());
        if let Some(word) = shaped.get(&key) {
            return Rc::clone(word);
        }
        if shaped.len() >= MOST_WORDS {
            shaped.clear();
        }
        let word = Rc::new(self.shape(text, script));
        shaped.insert(key, Rc::clone(&word));
        word
    }

    /// Shaping goes on past an error and gives what it could; what is missing shows as a missing glyph.
    fn shape(&self, text: &str, script: u32) -> Word {
        let mut word = Word::default();
        let mut font = self.font.borrow_mut();
        let glyphs = font.map_glyphs(text, script, MatchingPresentation::NotRequired);
        let shaped = font.shape(glyphs, script, None, FeatureMask::default_mask(), &[], None, true);
        let infos = shaped.unwrap_or_else(|(_, infos)| infos);
        let positions = GlyphLayout::new(&mut font, &infos, TextDirection::LeftToRight, false)
            .glyph_positions()
            .unwrap_or_default();
        let scale = |units: i32| f64::from(units) * 1000.0 / self.units_per_em;
        if positions.len() != infos.len() {
            word.missing = text.chars().next();
        }
        for (info, position) in infos.iter().zip(positions) {
            let glyph = info.glyph.glyph_index;
            if glyph == 0 && word.missing.is_none() {
                word.missing = info.glyph.unicodes.first().copied();
            }
            let natural = font.horizontal_advance(glyph).unwrap_or_default();
            let placed = Placed {
                glyph,
                text: info.glyph.unicodes.iter().collect(),
                advance: scale(position.hori_advance),
                natural: scale(i32::from(natural)),
                offset: (scale(position.x_offset), scale(position.y_offset)),
            };
            word.width += placed.advance;
            word.glyphs.push(placed);
        }
        word
    }
}

/// The text in parts of one script each; what belongs to all scripts stays with what is before it.
fn scripts(text: &str) -> Vec<(u32, &str)> {
    let mut parts: Vec<(u32, usize)> = Vec::new();
    for (place, character) in text.char_indices() {
        match (script(character), parts.last_mut()) {
            (Some(script), Some((last, _))) if *last == tag::DFLT => *last = script,
            (Some(script), Some((last, _))) if *last == script => {}
            (Some(script), _) => parts.push((script, place)),
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

/// The scripts of the fonts, by their blocks in Unicode; `None` for digits, punctuation and combining marks.
fn script(character: char) -> Option<u32> {
    match character {
        'A'..='Z' | 'a'..='z' | '\u{aa}' | '\u{ba}' | '\u{c0}'..='\u{2af}' | '\u{1e00}'..='\u{1eff}' => {
            Some(tag::LATN)
        }
        '\u{370}'..='\u{3ff}' | '\u{1f00}'..='\u{1fff}' => Some(tag::GREK),
        '\u{400}'..='\u{52f}' | '\u{1c80}'..='\u{1c8f}' | '\u{2de0}'..='\u{2dff}' => Some(tag::CYRL),
        _ => None,
    }
}

fn broken(error: impl std::fmt::Display) -> PaperError {
    PaperError::Font(error.to_string())
}
