//! The embedded faces, and text as glyphs: each word is shaped once.
//!
//! One sans family for text and tables, whose figures are tabular; signs that it lacks are taken from a second one. A character
//! that neither has is shown as unknown, so that no text of a model can bring a missing glyph into the file.
//!
//! Widths and places of glyphs are in parts of the size. This module does not know about lines and pages.

use super::words::{WordId, Words};
use krilla::Data;
use krilla::geom::Point;
use krilla::surface::{Location, Surface};
use krilla::text::{Font, Glyph, GlyphId};
use rustybuzz::ttf_parser::Tag;
use rustybuzz::{Direction, Feature, ShapePlan, UnicodeBuffer, script, shape_with_plan};
use std::ops::Range;

/// A face that text is set in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Face {
    /// Text and tables.
    Regular,
    /// Headings, names of rows.
    Bold,
    /// What is stressed.
    Italic,
    /// What is stressed in a heading.
    BoldItalic,
    /// Signs that the family lacks.
    Signs,
    /// The same beside bold text.
    BoldSigns,
}

/// How many faces there are.
const FACES: usize = 6;

impl Face {
    fn bytes(self) -> &'static [u8] {
        match self {
            Self::Regular => notosans::REGULAR_TTF,
            Self::Bold => notosans::BOLD_TTF,
            Self::Italic => notosans::ITALIC_TTF,
            Self::BoldItalic => notosans::BOLD_ITALIC_TTF,
            Self::Signs => dejavu::sans::regular(),
            Self::BoldSigns => dejavu::sans::bold(),
        }
    }

    /// Where signs come from that this face lacks.
    fn signs(self) -> Self {
        match self {
            Self::Regular | Self::Italic | Self::Signs => Self::Signs,
            Self::Bold | Self::BoldItalic | Self::BoldSigns => Self::BoldSigns,
        }
    }

    /// The bold face beside this one.
    #[must_use]
    pub fn bold(self) -> Self {
        match self {
            Self::Italic | Self::BoldItalic => Self::BoldItalic,
            _ => Self::Bold,
        }
    }

    /// The slanted face beside this one.
    #[must_use]
    pub fn italic(self) -> Self {
        match self {
            Self::Bold | Self::BoldItalic => Self::BoldItalic,
            _ => Self::Italic,
        }
    }
}

/// One glyph of a shaped text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placed {
    /// Which glyph of its face.
    pub id: u16,
    /// How far on the next one begins.
    pub advance: f32,
    /// How far it is moved to the right.
    pub right: f32,
    /// How far it is moved up.
    pub up: f32,
    /// Where its part of the text begins, bytes.
    pub start: u32,
    /// Where its part of the text ends.
    pub end: u32,
}

impl Glyph for Placed {
    fn glyph_id(&self) -> GlyphId {
        GlyphId::new(u32::from(self.id))
    }

    fn text_range(&self) -> Range<usize> {
        self.start as usize..self.end as usize
    }

    fn x_advance(&self, size: f32) -> f32 {
        self.advance * size
    }

    fn x_offset(&self, size: f32) -> f32 {
        self.right * size
    }

    fn y_offset(&self, size: f32) -> f32 {
        self.up * size
    }

    fn y_advance(&self, _size: f32) -> f32 {
        0.0
    }

    fn location(&self) -> Option<Location> {
        None
    }
}

/// Glyphs of one face that stand beside one another.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Their face.
    pub face: Face,
    /// The glyphs from left to right; their ranges are of the whole shaped text.
    pub glyphs: Vec<Placed>,
}

/// A shaped text.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Shaped {
    /// What it says: the text that was asked for, with what cannot be shown replaced.
    pub text: String,
    /// Its glyphs.
    pub runs: Vec<Run>,
    /// Its width, in parts of the size.
    pub width: f32,
}

/// One face as both libraries read it.
struct Loaded {
    shaping: rustybuzz::Face<'static>,
    plan: ShapePlan,
    embedding: Font,
    units: f32,
}

impl Loaded {
    fn read(bytes: &'static [u8]) -> Option<Self> {
        let shaping = rustybuzz::Face::from_slice(bytes, 0)?;
        let plain = [Feature::new(Tag::from_bytes(b"liga"), 0, ..)]; // text is found again letter by letter
        let plan = ShapePlan::new(&shaping, Direction::LeftToRight, Some(script::LATIN), None, &plain);
        let embedding = Font::new(Data::from(bytes), 0)?;
        let units = embedding.units_per_em();
        Some(Self { shaping, plan, embedding, units })
    }

    fn has(&self, c: char) -> bool {
        self.shaping.glyph_index(c).is_some_and(|g| g.0 != 0)
    }
}

/// The faces, and every word that was shaped so far.
pub struct Fonts {
    faces: Vec<Option<Loaded>>,
    buffer: Option<UnicodeBuffer>,
    words: Words,
}

impl Default for Fonts {
    fn default() -> Self {
        Self::new()
    }
}

impl Fonts {
    /// The faces; each is read when it is wanted first.
    pub fn new() -> Self {
        Self { faces: (0..FACES).map(|_| None).collect(), buffer: None, words: Words::default() }
    }

    /// How wide a text is at a size, pt.
    pub fn width(&mut self, text: &str, face: Face, size: f32) -> f32 {
        let word = self.word(text, face);
        self.words.shaped(word).width * size
    }

    /// A text as glyphs.
    pub fn shape(&mut self, text: &str, face: Face) -> &Shaped {
        let word = self.word(text, face);
        self.words.shaped(word)
    }

    /// The number of a text among those that were shaped; it is shaped if it is new.
    pub fn word(&mut self, text: &str, face: Face) -> WordId {
        if let Some(known) = self.words.find(text, face) {
            return known;
        }
        let shaped = self.shape_anew(text, face);
        self.words.enter(text, face, shaped)
    }

    /// The hyphen at the end of a line: it looks like one, and reads as a soft one.
    pub fn hyphen(&mut self, face: Face) -> WordId {
        if let Some(known) = self.words.find(SOFT_HYPHEN, face) {
            return known;
        }
        let mut shaped = self.shape_anew("-", face);
        SOFT_HYPHEN.clone_into(&mut shaped.text);
        shaped.runs.iter_mut().flat_map(|r| &mut r.glyphs).for_each(|g| g.end = SOFT_HYPHEN.len() as u32);
        self.words.enter(SOFT_HYPHEN, face, shaped)
    }

    /// The text of that number as glyphs.
    pub fn shaped(&self, word: WordId) -> &Shaped {
        self.words.shaped(word)
    }

    /// Draws a text with the fill of the surface; its base line begins at `at`, pt.
    pub fn draw(&mut self, surface: &mut Surface<'_>, at: (f32, f32), text: &str, (face, size): (Face, f32)) {
        let word = self.word(text, face);
        let (mut x, shaped) = (at.0, self.words.shaped(word));
        for run in &shaped.runs {
            self.draw_run(surface, (x, at.1), run, (&shaped.text, size));
            x += run.glyphs.iter().map(|g| g.advance).sum::<f32>() * size;
        }
    }

    /// Draws glyphs of one face, whose ranges are of `text`.
    pub fn draw_run(&self, surface: &mut Surface<'_>, at: (f32, f32), run: &Run, (text, size): (&str, f32)) {
        self.draw_glyphs(surface, at, (run.face, &run.glyphs), (text, size));
    }

    /// The same for glyphs that stand alone.
    pub fn draw_glyphs(
        &self,
        surface: &mut Surface<'_>,
        (x, y): (f32, f32),
        (face, glyphs): (Face, &[Placed]),
        (text, size): (&str, f32),
    ) {
        if let Some(loaded) = &self.faces[face as usize] {
            surface.draw_glyphs(Point::from_xy(x, y), glyphs, loaded.embedding.clone(), text, size, false);
        }
    }

    fn load(&mut self, face: Face) -> Option<&Loaded> {
        let place = &mut self.faces[face as usize];
        if place.is_none() {
            *place = Loaded::read(face.bytes());
        }
        place.as_ref()
    }

    /// The face that has this character, and the character as it is shown.
    fn face_of(&mut self, c: char, face: Face) -> (Face, char) {
        let c = shown(c);
        let signs = face.signs();
        if self.load(face).is_some_and(|f| f.has(c)) {
            (face, c)
        } else if self.load(signs).is_some_and(|f| f.has(c)) {
            (signs, c)
        } else {
            (signs, UNKNOWN)
        }
    }

    fn shape_anew(&mut self, text: &str, face: Face) -> Shaped {
        let mut shaped = Shaped::default();
        let mut parts: Vec<(Face, usize)> = Vec::new();
        for c in text.chars() {
            let (of, c) = self.face_of(c, face);
            if parts.last().is_none_or(|(last, _)| *last != of) {
                parts.push((of, shaped.text.len()));
            }
            shaped.text.push(c);
        }
        for (at, (of, from)) in parts.iter().enumerate() {
            let to = parts.get(at + 1).map_or(shaped.text.len(), |p| p.1);
            let glyphs = self.shape_part(&shaped.text, *from..to, *of);
            shaped.width += glyphs.iter().map(|g| g.advance).sum::<f32>();
            shaped.runs.push(Run { face: *of, glyphs });
        }
        shaped
    }

    fn shape_part(&mut self, text: &str, part: Range<usize>, face: Face) -> Vec<Placed> {
        let mut buffer = self.buffer.take().unwrap_or_default();
        let (from, to) = (part.start as u32, part.end as u32);
        buffer.push_str(text.get(part).unwrap_or_default());
        buffer.set_direction(Direction::LeftToRight);
        buffer.set_script(script::LATIN);
        let Some(loaded) = self.load(face) else { return Vec::new() };
        let done = shape_with_plan(&loaded.shaping, &loaded.plan, buffer);
        let infos = done.glyph_infos();
        let unit = |n: i32| n as f32 / loaded.units;
        let end = |at: usize| {
            let here = infos[at].cluster;
            infos[at..].iter().map(|i| i.cluster).find(|c| *c != here).map_or(to, |c| c + from)
        };
        let glyph = |(at, place): (usize, &rustybuzz::GlyphPosition)| Placed {
            id: infos[at].glyph_id as u16,
            advance: unit(place.x_advance),
            right: unit(place.x_offset),
            up: unit(place.y_offset),
            start: infos[at].cluster + from,
            end: end(at),
        };
        let glyphs = done.glyph_positions().iter().enumerate().map(glyph).collect();
        self.buffer = Some(done.clear());
        glyphs
    }
}

/// What a hyphen at the end of a line reads as.
const SOFT_HYPHEN: &str = "\u{ad}";
/// What stands where a character cannot be shown.
const UNKNOWN: char = '\u{fffd}';

/// Spaces of all sorts are one glyph; what turns the text around or cannot be seen is shown as unknown.
fn shown(c: char) -> char {
    match c {
        '\u{a0}' | '\u{202f}' | '\u{2009}' | '\n' | '\t' => ' ',
        '\u{2011}' | '\u{ad}' => '-',
        '\u{200b}'..='\u{200f}'
        | '\u{202a}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}'
        | '\u{feff}'
        | '\u{e000}'..='\u{f8ff}'
        | '\u{f0000}'.. => UNKNOWN,
        c if c.is_control() => UNKNOWN,
        c => c,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_tabular() {
        let mut fonts = Fonts::new();
        for face in [Face::Regular, Face::Bold, Face::Italic] {
            let one = fonts.width("1", face, 10.0);
            for digit in ["0", "2", "3", "4", "5", "6", "7", "8", "9"] {
                assert!((fonts.width(digit, face, 10.0) - one).abs() < 1e-4, "{face:?} {digit}");
            }
        }
    }

    #[test]
    fn signs_that_the_family_lacks_come_from_the_other_one() {
        let mut fonts = Fonts::new();
        let shaped = fonts.shape("a ☐ b", Face::Regular).clone();
        let faces: Vec<Face> = shaped.runs.iter().map(|r| r.face).collect();
        assert_eq!(faces, [Face::Regular, Face::Signs, Face::Regular]);
        assert!(shaped.runs.iter().flat_map(|r| &r.glyphs).all(|g| g.id != 0 && g.advance > 0.0));
        let covered: String =
            shaped.runs.iter().flat_map(|r| &r.glyphs).map(|g| &shaped.text[g.text_range()]).collect();
        assert_eq!(covered, "a ☐ b");
    }

    #[test]
    fn what_no_face_has_is_shown_as_unknown() {
        let mut fonts = Fonts::new();
        for wrong in ["\u{10ffff}", "\u{e000}", "\u{0}", "\u{202e}", "\u{feff}", "\u{1d11e}"] {
            let shaped = fonts.shape(wrong, Face::Bold);
            assert_eq!(shaped.text, "\u{fffd}", "{wrong:?}");
            assert!(shaped.runs.iter().flat_map(|r| &r.glyphs).all(|g| g.id != 0));
        }
    }

    #[test]
    fn a_word_is_shaped_once() {
        let mut fonts = Fonts::new();
        let (first, again) = (fonts.word("vacuum", Face::Regular), fonts.word("vacuum", Face::Regular));
        assert_eq!(first, again);
        assert_ne!(first, fonts.word("vacuum", Face::Bold));
        assert_ne!(first, fonts.word("vacuums", Face::Regular));
    }
}
