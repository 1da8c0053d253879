use std::{
    cell::RefCell,
    collections::{BTreeMap, HashMap},
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
};
use picture::Weight;

use crate::{
    PaperError,
    direction::{in_sight, turned, turns_unseen},
    scripts::{ARABIC, HAN, scripts},
};

/// A font of the program. Han has one weight; what is bold is drawn with an outline round its letters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum FaceId {
    Regular,
    Bold,
    ArabicRegular,
    ArabicBold,
    Han,
}

impl FaceId {
    pub(crate) const ALL: [FaceId; 5] =
        [FaceId::Regular, FaceId::Bold, FaceId::ArabicRegular, FaceId::ArabicBold, FaceId::Han];

    fn of(script: u32, weight: Weight) -> FaceId {
        match (script, weight) {
            (HAN, _) => FaceId::Han,
            (ARABIC, Weight::Regular) => FaceId::ArabicRegular,
            (ARABIC, Weight::Bold) => FaceId::ArabicBold,
            (_, Weight::Regular) => FaceId::Regular,
            (_, Weight::Bold) => FaceId::Bold,
        }
    }

    fn file(self) -> &'static [u8] {
        match self {
            FaceId::Regular => include_bytes!("../fonts/NotoSans-Regular.ttf"),
            FaceId::Bold => include_bytes!("../fonts/NotoSans-Bold.ttf"),
            FaceId::ArabicRegular => include_bytes!("../fonts/NotoSansArabic-Regular.ttf"),
            FaceId::ArabicBold => include_bytes!("../fonts/NotoSansArabic-Bold.ttf"),
            FaceId::Han => include_bytes!("../fonts/DroidSansFallbackFull.ttf"),
        }
    }
}

/// The most words whose shapes a thread keeps: more than all records of a facility have together.
const MOST_WORDS: usize = 20_000;

thread_local! {
    /// The fonts take longer to read than a page to draw, and most words of one record are in the next.
    static LOADED: RefCell<Option<Rc<Faces>>> = const { RefCell::new(None) };
}

/// The fonts that everything is written in, with what was shaped so far.
pub(crate) struct Faces {
    faces: BTreeMap<FaceId, Face>,
    /// Widths in thousandths of the size, of texts in the regular weight and in the bold one.
    measured: RefCell<(ByText<f64>, ByText<f64>)>,
}

struct Face {
    font: RefCell<Font<DynamicFontTableProvider<'static>>>,
    units_per_em: f64,
    /// By script and whether it runs leftwards, then by the text.
    shaped: RefCell<BTreeMap<(u32, bool), Words>>,
}

type ByText<T> = HashMap<String, T>;
type Words = ByText<Rc<Word>>;

/// A text as glyphs of the whole fonts, in the order in which they stand from left to right.
///
/// Arabic is written in that order, too, as nearly every program does: readers turn it round when they copy or
/// search. Told what it says (`ActualText`), poppler turns that round as well, and gives it backwards.
#[derive(Debug, Default)]
pub(crate) struct Run {
    words: Vec<(FaceId, Rc<Word>)>,
    /// In thousandths of the size.
    pub(crate) width: f64,
    /// The first character that no font has.
    pub(crate) missing: Option<char>,
}

/// One word in one script, or the space after it, its glyphs from left to right. Nothing is shaped across a space, so that a text is as wide as
/// its words and spaces, and a word is shaped once.
#[derive(Debug, Default)]
struct Word {
    glyphs: Vec<Placed>,
    width: f64,
    missing: Option<char>,
}

impl Run {
    /// Its words and spaces, each in one font.
    pub(crate) fn words(&self) -> impl Iterator<Item = (FaceId, &[Placed])> {
        self.words.iter().map(|(face, word)| (*face, word.glyphs.as_slice()))
    }

    fn add(&mut self, face: FaceId, word: Rc<Word>) {
        self.width += word.width;
        self.missing = self.missing.or(word.missing);
        self.words.push((face, word));
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
            let read = |face: FaceId| Ok((face, Face::load(face.file())?));
            let faces = FaceId::ALL.into_iter().map(read).collect::<Result<_, PaperError>>()?;
            let faces = Rc::new(Faces { faces, measured: RefCell::default() });
            *loaded = Some(Rc::clone(&faces));
            Ok(faces)
        })
    }

    /// Width of one line of text, in points.
    pub(crate) fn measure(&self, text: &str, size: f64, weight: Weight) -> f64 {
        let mut measured = self.measured.borrow_mut();
        let measured = match weight {
            Weight::Regular => &mut measured.0,
            Weight::Bold => &mut measured.1,
        };
        kept(measured, text, || self.run(text, weight).width) * size / 1000.0
    }

    /// One line of text.
    pub(crate) fn run(&self, line: &str, weight: Weight) -> Run {
        let mut run =
            Run { missing: line.chars().find(|character| turns_unseen(*character)), ..Run::default() };
        for part in in_sight(line) {
            let before = run.words.len();
            for (script, text) in scripts(part.text) {
                let id = FaceId::of(script, weight);
                let Some(face) = self.faces.get(&id) else { continue };
                for piece in pieces(text) {
                    run.add(id, face.word(script, part.leftwards, piece));
                }
            }
            if let Some(added) = run.words.get_mut(before..).filter(|_| part.leftwards) {
                added.reverse();
            }
        }
        run
    }

    /// The font with these glyphs alone, which stand in order, renumbered from 1 on.
    pub(crate) fn subset(&self, face: FaceId, glyphs: &[u16]) -> Result<Vec<u8>, PaperError> {
        let kept: Vec<u16> =
            std::iter::once(0).chain(glyphs.iter().copied().filter(|glyph| *glyph != 0)).collect();
        let face = self.faces.get(&face).ok_or_else(|| broken("it was not read"))?;
        let font = face.font.borrow();
        subset(&font.font_table_provider, &kept, &SubsetProfile::Pdf, CmapTarget::Unrestricted)
            .map_err(broken)
    }
}

/// What is kept by this text, made where nothing is yet.
fn kept<T: Clone>(by_text: &mut ByText<T>, text: &str, make: impl FnOnce() -> T) -> T {
    if let Some(kept) = by_text.get(text) {
        return kept.clone();
    }
    if by_text.len() >= MOST_WORDS {
        by_text.clear();
    }
    let made = make();
    by_text.insert(text.to_owned(), made.clone());
    made
}

/// Its words and the spaces between them.
fn pieces(text: &str) -> impl Iterator<Item = &str> {
    text.split_inclusive(' ').flat_map(|word| {
        let (word, space) = word.split_at(word.trim_end_matches(' ').len());
        [word, space].into_iter().filter(|piece| !piece.is_empty())
    })
}

impl Face {
    fn load(bytes: &'static [u8]) -> Result<Self, PaperError> {
        let data = ReadScope::new(bytes).read::<FontData<'_>>().map_err(broken)?;
        let font = Font::new(data.table_provider(0).map_err(broken)?).map_err(broken)?;
        let units_per_em = f64::from(font.head_table.units_per_em);
        Ok(Face { font: RefCell::new(font), units_per_em, shaped: RefCell::default() })
    }

    fn word(&self, script: u32, leftwards: bool, text: &str) -> Rc<Word> {
        let mut shaped = self.shaped.borrow_mut();
        let shaped = shaped.entry((script, leftwards)).or_default();
        let shape = || match (leftwards, script) {
            (false, _) => self.shape(text, script, TextDirection::LeftToRight),
            (true, ARABIC) => self.shape(text, script, TextDirection::RightToLeft),
            (true, _) => self.shape(&turned(text), script, TextDirection::LeftToRight),
        };
        kept(shaped, text, || Rc::new(shape()))
    }

    /// Shaping goes on past an error and gives what it could; what is missing shows as a missing glyph.
    fn shape(&self, text: &str, script: u32, direction: TextDirection) -> Word {
        let mut word = Word::default();
        let mut font = self.font.borrow_mut();
        let glyphs = font.map_glyphs(text, script, MatchingPresentation::NotRequired);
        let shaped = font.shape(glyphs, script, None, FeatureMask::default_mask(), &[], None, true);
        let infos = shaped.unwrap_or_else(|(_, infos)| infos);
        let positions =
            GlyphLayout::new(&mut font, &infos, direction, false).glyph_positions().unwrap_or_default();
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
                text: said(&info.glyph.unicodes),
                advance: scale(position.hori_advance),
                natural: scale(i32::from(natural)),
                offset: (scale(position.x_offset), scale(position.y_offset)),
            };
            word.width += placed.advance;
            word.glyphs.push(placed);
        }
        if direction == TextDirection::RightToLeft {
            word.glyphs.reverse();
        }
        word
    }
}

/// What a glyph stands for. Lam and alef are one glyph, told as the one character that Unicode has for it: readers that
/// turn a line of Arabic round would turn two letters round once too often, and all read the one as the two (NFKC).
fn said(letters: &[char]) -> String {
    match letters {
        ['\u{644}', '\u{622}'] => "\u{fef5}".to_owned(),
        ['\u{644}', '\u{623}'] => "\u{fef7}".to_owned(),
        ['\u{644}', '\u{625}'] => "\u{fef9}".to_owned(),
        ['\u{644}', '\u{627}'] => "\u{fefb}".to_owned(),
        letters => letters.iter().collect(),
    }
}

fn broken(error: impl std::fmt::Display) -> PaperError {
    PaperError::Font(error.to_string())
}
