//! Strips to pages.
//!
//! One pass over the strips, in the order of the document. What must not be parted stays together; a drawing that does not fit
//! stands at the top of the next page, while what comes after it fills this one.

use super::setter::Setter;
use super::sheet::Sheet;
use super::strip::{HeadIx, Ink, Keep, Strip};
use std::collections::BTreeMap;

/// A strip at its place on a page.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// From the top of the text.
    pub y: f32,
    /// What stands there.
    pub strip: Strip,
}

/// One page.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Page {
    /// `3-12`, or `iv`.
    pub label: String,
    /// The number that the label ends with, from 1.
    pub number: usize,
    /// Number of the chapter; nothing before the first.
    pub chapter: Option<usize>,
    /// What stands in the running head.
    pub head: String,
    /// It is the last page of its chapter.
    pub last: bool,
    /// Strips from top to bottom.
    pub laid: Vec<Laid>,
}

impl Page {
    /// How far down the page is filled.
    pub fn filled(&self) -> f32 {
        self.laid.iter().map(|l| l.y + l.strip.height).fold(0.0, f32::max)
    }
}

/// Parts strips into pages.
pub(super) struct Paginator<'a> {
    high: f32,
    heads: &'a [Strip],
    pages: Vec<Page>,
    page: Page,
    y: f32,
    waiting: Vec<Strip>,
}

/// Less than this share of a page is not much.
const LITTLE: f32 = 1.0 / 3.0;

impl<'a> Paginator<'a> {
    /// For a paper and the heads of all tables.
    pub fn new(sheet: &Sheet, heads: &'a [Strip]) -> Self {
        Self { high: sheet.high(), heads, pages: Vec::new(), page: Page::default(), y: 0.0, waiting: Vec::new() }
    }

    /// The pages of one chapter.
    pub fn pages(mut self, strips: Vec<Strip>) -> Vec<Page> {
        let mut clump = Vec::new();
        for strip in strips {
            let ends = strip.keep == Keep::Free;
            clump.push(strip);
            if ends {
                self.place(std::mem::take(&mut clump));
            }
        }
        self.place(clump);
        self.close();
        while !self.waiting.is_empty() {
            self.open_with_waiting();
            self.close();
        }
        if let Some(last) = self.pages.last_mut() {
            last.last = true;
        }
        self.pages
    }

    fn is_empty(&self) -> bool {
        self.page.laid.is_empty()
    }

    fn close(&mut self) {
        if !self.is_empty() {
            self.pages.push(std::mem::take(&mut self.page));
        }
        self.y = 0.0;
    }

    /// Drawings that wait stand at the top, as many as fit.
    fn open_with_waiting(&mut self) {
        let waiting = std::mem::take(&mut self.waiting);
        for strip in waiting {
            if self.is_empty() || self.y + strip.above + strip.height <= self.high {
                self.lay(strip);
            } else {
                self.waiting.push(strip);
            }
        }
    }

    /// Height of strips as they would stand from here on.
    fn needed(&self, clump: &[Strip]) -> f32 {
        let head = clump.first().and_then(|s| self.head_before(s)).map_or(0.0, |h| h.height);
        let between = |(at, s): (usize, &Strip)| if at == 0 && self.is_empty() { 0.0 } else { s.above };
        head + clump.iter().enumerate().map(|(at, s)| s.height + between((at, s))).sum::<f32>()
    }

    /// The head that has to be repeated before a strip that stands next.
    fn head_before(&self, strip: &Strip) -> Option<&'a Strip> {
        let HeadIx(ix) = strip.head.filter(|_| strip.kind != super::strip::Kind::Head)?;
        let before = self.page.laid.last().and_then(|l| l.strip.head);
        if before == strip.head { None } else { self.heads.get(ix as usize) }
    }

    fn fits(&self, clump: &[Strip]) -> bool {
        self.y + self.needed(clump) <= self.high + 0.01
    }

    fn place(&mut self, mut clump: Vec<Strip>) {
        if clump.is_empty() {
            return;
        }
        if self.fits(&clump) {
            clump.into_iter().for_each(|s| self.lay(s));
            return;
        }
        if clump.len() == 1 && clump[0].floats && !self.is_empty() {
            if self.waiting.is_empty() {
                self.waiting.append(&mut clump);
                return;
            }
            self.close();
            self.open_with_waiting();
            return self.place(clump);
        }
        if self.y < self.high * LITTLE && !self.is_empty() && self.waiting.is_empty() {
            clump = self.fill(clump);
        }
        self.turn();
        self.place_on_new(clump);
    }

    /// Closes the page, and what waits stands on the next.
    fn turn(&mut self) {
        self.close();
        self.open_with_waiting();
    }

    fn place_on_new(&mut self, clump: Vec<Strip>) {
        if self.fits(&clump) {
            return clump.into_iter().for_each(|s| self.lay(s));
        }
        if !self.is_empty() {
            self.turn();
            return self.place_on_new(clump);
        }
        // Higher than a page: parted where it hurts least.
        let rest = self.fill(clump);
        let rest = if self.is_empty() { self.force(rest) } else { rest };
        if !rest.is_empty() {
            self.turn();
            self.place_on_new(rest);
        }
    }

    /// Lays as much of a clump as fits, parted at its last soft place, or at a line; gives back the rest.
    fn fill(&mut self, mut clump: Vec<Strip>) -> Vec<Strip> {
        let ends = |keep: Keep, clump: &[Strip]| {
            (1..clump.len()).rev().find(|n| clump[*n - 1].keep <= keep && self.fits(&clump[..*n]))
        };
        let soft = ends(Keep::Soft, &clump);
        let too_high = clump.iter().map(|s| s.height + s.above).sum::<f32>() > self.high;
        let at = soft.or_else(|| if too_high && self.is_empty() { ends(Keep::Hard, &clump) } else { None });
        let Some(at) = at else { return clump };
        let rest = clump.split_off(at);
        clump.into_iter().for_each(|s| self.lay(s));
        rest
    }

    /// Lays the first strip though it does not fit.
    fn force(&mut self, mut clump: Vec<Strip>) -> Vec<Strip> {
        let rest = clump.split_off(1.min(clump.len()));
        clump.into_iter().for_each(|s| self.lay(s));
        rest
    }

    fn lay(&mut self, strip: Strip) {
        if let Some(head) = self.head_before(&strip) {
            let head = head.clone();
            let y = self.y;
            self.y += head.height;
            self.page.laid.push(Laid { y, strip: head });
        } else if !self.is_empty() {
            self.y += strip.above;
        }
        let y = self.y;
        self.y += strip.height;
        self.page.laid.push(Laid { y, strip });
    }
}

/// Where every id stands: number of the page from the first, and how far down.
pub(super) fn anchors(pages: &[Page]) -> BTreeMap<String, (usize, f32)> {
    let mut found = BTreeMap::new();
    for (nr, page) in pages.iter().enumerate() {
        for laid in &page.laid {
            for put in &laid.strip.puts {
                if let Ink::Anchor(id) = &put.ink {
                    found.entry(id.clone()).or_insert((nr, laid.y));
                }
            }
        }
    }
    found
}

impl Setter<'_> {
    /// Strips of one chapter as pages that are numbered and headed.
    pub(super) fn paginated(&self, strips: Vec<Strip>, chapter: Option<usize>, head: &str) -> Vec<Page> {
        let mut pages = Paginator::new(&self.sheet, &self.heads).pages(strips);
        for (at, page) in pages.iter_mut().enumerate() {
            page.number = at + 1;
            page.chapter = chapter;
            head.clone_into(&mut page.head);
            page.label = chapter.map_or_else(|| roman(at + 1), |c| format!("{c}-{}", at + 1));
        }
        pages
    }
}

/// A number in small Roman numerals.
pub(super) fn roman(number: usize) -> String {
    let signs = [(100, "c"), (90, "xc"), (50, "l"), (40, "xl"), (10, "x"), (9, "ix"), (5, "v"), (4, "iv"), (1, "i")];
    let (mut left, mut text) = (number, String::new());
    for (value, sign) in signs {
        while left >= value {
            text.push_str(sign);
            left -= value;
        }
    }
    text
}
