//! Lines of text: words with their styles, broken where the whole paragraph comes out best, ragged at the right.
//!
//! Words are hyphenated only where lines would stick out or gape otherwise. This module does not know what the text means.

use super::fonts::{Face, Fonts};
use super::strip::Tone;
use super::tags::NodeIx;
use super::words::WordId;
use hypher::Lang;
use textwrap::core::Fragment;
use textwrap::wrap_algorithms::{Penalties, wrap_optimal_fit};

/// How a stretch of text is set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Style {
    /// Its face.
    pub face: Face,
    /// Its colour.
    pub tone: Tone,
    /// Where it stands in the reading order; nothing if it is no content.
    pub node: Option<NodeIx>,
    /// The link that it is of.
    pub link: Option<u32>,
    /// It is an engraving and stands in a frame.
    pub framed: bool,
}

impl Style {
    /// Room on each side of a word, pt.
    pub fn pad(&self) -> f32 {
        if self.framed { 1.9 } else { 0.0 }
    }
}

/// One word at its place in the text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Item {
    /// The word.
    pub word: WordId,
    /// Number of its style.
    pub style: u32,
    /// A space stands before it.
    pub space: bool,
    /// A line may end before it, without a space.
    pub may_break: bool,
    /// It stands for the page that a link leads to.
    pub late: Option<u32>,
}

/// A line: some items of the store.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// The first one.
    pub from: u32,
    /// After the last one.
    pub to: u32,
    /// Its width, pt; what stands for pages is counted as wide as it can be.
    pub width: f32,
}

/// All lines, and all that they have in common.
#[derive(Default)]
pub struct Store {
    /// Items of all lines.
    pub items: Vec<Item>,
    /// Styles by number.
    pub styles: Vec<Style>,
}

impl Store {
    /// The number of a style.
    pub fn style(&mut self, style: Style) -> u32 {
        if self.styles.last() != Some(&style) {
            self.styles.push(style);
        }
        self.styles.len() as u32 - 1
    }

    /// The items of a line.
    pub fn of(&self, line: &Line) -> &[Item] {
        self.items.get(line.from as usize..line.to as usize).unwrap_or_default()
    }

    fn enter(&mut self, items: &[Item], width: f32) -> Line {
        let from = self.items.len() as u32;
        self.items.extend_from_slice(items);
        Line { from, to: self.items.len() as u32, width }
    }

    /// Breaks a text into lines of a width.
    pub fn broken(&mut self, items: &[Item], fonts: &mut Fonts, (size, width): (f32, f32)) -> Vec<Line> {
        let mut set = Breaking { store: self, fonts, size, width };
        let whole = set.width_of(items);
        if items.is_empty() {
            return Vec::new();
        }
        if whole <= width {
            return vec![self.enter(items, whole)];
        }
        let plain = set.fragments(items);
        let lines = set.lines(&plain);
        if set.fits(&lines) {
            return set.entered(&lines);
        }
        let finer = set.hyphenated(&plain);
        let lines = set.lines(&finer);
        set.entered(&lines)
    }

    /// The widest part that is not broken, and the width of the text on one line, pt.
    pub fn widths(&self, items: &[Item], fonts: &mut Fonts, size: f32) -> (f32, f32) {
        let (mut widest, mut here, mut all) = (0.0_f32, 0.0, 0.0);
        for (at, item) in items.iter().enumerate() {
            let style = self.styles[item.style as usize];
            let wide = fonts.shaped(item.word).width * size + 2.0 * style.pad();
            if at > 0 && (item.space || item.may_break) {
                here = 0.0;
            }
            if at > 0 && item.space {
                all += fonts.width(" ", style.face, size);
            }
            here += wide;
            all += wide;
            widest = widest.max(here);
        }
        (widest, all)
    }
}

/// A part that is not broken.
#[derive(Debug)]
struct Part {
    items: Vec<Item>,
    width: f32,
    space: f32,
    hyphen: Option<(WordId, f32)>,
}

impl Fragment for Part {
    fn width(&self) -> f64 {
        f64::from(self.width)
    }

    fn whitespace_width(&self) -> f64 {
        f64::from(self.space)
    }

    fn penalty_width(&self) -> f64 {
        self.hyphen.map_or(0.0, |(_, wide)| f64::from(wide))
    }
}

/// One text that is broken.
struct Breaking<'a> {
    store: &'a mut Store,
    fonts: &'a mut Fonts,
    size: f32,
    width: f32,
}

impl Breaking<'_> {
    fn face(&self, item: &Item) -> Face {
        self.store.styles[item.style as usize].face
    }

    fn word_width(&self, word: WordId) -> f32 {
        self.fonts.shaped(word).width * self.size
    }

    fn item_width(&self, item: &Item) -> f32 {
        self.word_width(item.word) + 2.0 * self.store.styles[item.style as usize].pad()
    }

    fn space_before(&mut self, item: &Item) -> f32 {
        if item.space { self.fonts.width(" ", self.face(item), self.size) } else { 0.0 }
    }

    fn width_of(&mut self, items: &[Item]) -> f32 {
        let mut all = 0.0;
        for (at, item) in items.iter().enumerate() {
            if at > 0 {
                all += self.space_before(item);
            }
            all += self.item_width(item);
        }
        all
    }

    fn fragments(&mut self, items: &[Item]) -> Vec<Part> {
        let mut parts: Vec<Part> = Vec::new();
        for item in items {
            let (space, wide) = (self.space_before(item), self.item_width(item));
            match parts.last_mut() {
                Some(part) if !item.space && !item.may_break => {
                    part.items.push(*item);
                    part.width += wide;
                }
                last => {
                    if let Some(part) = last {
                        part.space = space;
                    }
                    parts.push(Part { items: vec![*item], width: wide, space: 0.0, hyphen: None });
                }
            }
        }
        parts
    }

    fn lines<'p>(&self, parts: &'p [Part]) -> Vec<&'p [Part]> {
        let unit = f64::from(self.size * 0.5);
        let (flat, square) = (|n: f64| (n * unit) as usize, |n: f64| (n * unit * unit) as usize);
        let penalties = Penalties {
            nline_penalty: square(1000.0),
            overflow_penalty: flat(20000.0),
            short_last_line_fraction: 5,
            short_last_line_penalty: square(100.0),
            hyphen_penalty: square(60.0),
        };
        wrap_optimal_fit(parts, &[f64::from(self.width)], &penalties).unwrap_or_else(|_| vec![parts])
    }

    fn line_width(parts: &[Part]) -> f32 {
        let inner: f32 = parts.iter().map(|p| p.width + p.space).sum();
        inner + parts.last().map_or(0.0, |p| p.hyphen.map_or(0.0, |h| h.1) - p.space)
    }

    /// No line sticks out, and none but the last gapes by more than a third.
    fn fits(&self, lines: &[&[Part]]) -> bool {
        let gapes = |wide: f32| self.width < 300.0 && wide < self.width * 0.6;
        lines.iter().enumerate().all(|(at, line)| {
            let wide = Self::line_width(line);
            wide <= self.width + 0.05 && (at + 1 == lines.len() || !gapes(wide))
        })
    }

    fn entered(&mut self, lines: &[&[Part]]) -> Vec<Line> {
        let mut done = Vec::with_capacity(lines.len());
        for (at, line) in lines.iter().enumerate() {
            let mut items: Vec<Item> = line.iter().flat_map(|p| &p.items).copied().collect();
            if at + 1 < lines.len() {
                let hyphen = line.last().and_then(|p| p.hyphen).zip(items.last().copied());
                items.extend(hyphen.map(|((word, _), last)| Item { word, space: false, ..last }));
            }
            done.push(self.store.enter(&items, Self::line_width(line)));
        }
        done
    }

    /// The same parts, those of one long word parted by syllables, and those that are wider than the line anywhere.
    fn hyphenated(&mut self, parts: &[Part]) -> Vec<Part> {
        let mut finer = Vec::new();
        for part in parts {
            let first = finer.len();
            for (at, item) in part.items.iter().enumerate() {
                let joined = at > 0;
                self.add_syllables(*item, joined, &mut finer);
            }
            if let Some(last) = finer.last_mut() {
                last.space = part.space;
            }
            if finer[first..].iter().any(|p| p.width > self.width) {
                let wide: Vec<Part> = finer.split_off(first);
                wide.into_iter().for_each(|p| self.add_pieces(p, &mut finer));
            }
        }
        finer
    }

    fn add_syllables(&mut self, item: Item, joined: bool, into: &mut Vec<Part>) {
        let text = self.fonts.shaped(item.word).text.clone();
        let cuts = if item.late.is_some() { Vec::new() } else { syllables(&text) };
        let (mut from, face) = (0, self.face(&item));
        for (nr, to) in cuts.iter().copied().chain([text.len()]).enumerate() {
            let word = self.fonts.word(text.get(from..to).unwrap_or_default(), face);
            let wide = self.word_width(word);
            let part_of = Item { word, space: item.space && nr == 0, may_break: false, ..item };
            let wide = self.item_width(&part_of).max(wide);
            match into.last_mut() {
                Some(last) if nr == 0 && joined => {
                    last.items.push(part_of);
                    last.width += wide;
                    last.hyphen = None;
                }
                _ => into.push(Part { items: vec![part_of], width: wide, space: 0.0, hyphen: None }),
            }
            if to < text.len() {
                let hyphen = self.fonts.hyphen(face);
                let wide = self.word_width(hyphen);
                into.last_mut().into_iter().for_each(|p| p.hyphen = Some((hyphen, wide)));
            }
            from = to;
        }
    }

    /// A part that is wider than the line, in pieces of as many characters as a line holds.
    fn add_pieces(&mut self, part: Part, into: &mut Vec<Part>) {
        if part.width <= self.width {
            into.push(part);
            return;
        }
        let (mut pieces, most): (Vec<Part>, f32) = (Vec::new(), self.width);
        for item in &part.items {
            let (text, face) = (self.fonts.shaped(item.word).text.clone(), self.face(item));
            for (nr, c) in text.chars().enumerate() {
                let word = self.fonts.word(c.encode_utf8(&mut [0; 4]), face);
                let wide = self.word_width(word);
                let one = Item { word, space: item.space && nr == 0, may_break: false, late: None, ..*item };
                let wide = self.item_width(&one).max(wide);
                match pieces.last_mut() {
                    Some(last) if last.width + wide <= most => {
                        last.items.push(one);
                        last.width += wide;
                    }
                    _ => pieces.push(Part { items: vec![one], width: wide, space: 0.0, hyphen: None }),
                }
            }
        }
        if let Some(last) = pieces.last_mut() {
            last.space = part.space;
        }
        into.append(&mut pieces);
    }
}

/// Words of so many letters are hyphenated; longer ones are no words.
const LONG: std::ops::RangeInclusive<usize> = 7..=60;

/// Where a word may be hyphenated, bytes; only plain words are.
fn syllables(text: &str) -> Vec<usize> {
    let begin = text.find(|c: char| c.is_ascii_alphabetic()).unwrap_or(text.len());
    let core = text.get(begin..).unwrap_or_default();
    let length = core.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(core.len());
    let (core, rest) = core.split_at(length);
    if !LONG.contains(&length)
        || rest.chars().any(char::is_alphanumeric)
        || core.chars().skip(1).any(|c| c.is_ascii_uppercase())
    {
        return Vec::new();
    }
    let mut at = begin;
    let mut cuts: Vec<usize> = hypher::hyphenate(core, Lang::English)
        .map(|s| {
            at += s.len();
            at
        })
        .collect();
    cuts.pop();
    cuts.retain(|cut| *cut >= begin + 3 && *cut + 3 <= begin + length);
    cuts
}
