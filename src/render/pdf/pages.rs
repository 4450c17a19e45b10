//! Strips to pages.
//!
//! One pass over the strips, in the order of the document. What must not be parted stays together; a drawing that does not fit
//! stands at the top of the next page, while what comes after it fills this one.

use super::setter::Setter;
use super::sheet::Sheet;
use super::strip::{HeadIx, Ink, Keep, Kind, Strip};
use std::collections::BTreeMap;

/// A strip at its place on a page.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// From the top of the text.
    pub y: f32,
    /// It is the head of a table again, and no content.
    pub again: bool,
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
    pages: Vec<Open>,
    page: Open,
    y: f32,
    waiting: Vec<Strip>,
}

/// A page to which more can be added.
#[derive(Default)]
struct Open {
    laid: Vec<Laid>,
    /// At which strips something begins that is not parted.
    begins: Vec<usize>,
}

/// Less than this share of a page is not much.
const LITTLE: f32 = 1.0 / 3.0;

impl<'a> Paginator<'a> {
    /// For a paper and the heads of all tables.
    pub fn new(sheet: &Sheet, heads: &'a [Strip]) -> Self {
        let (pages, page, waiting) = (Vec::new(), Open::default(), Vec::new());
        Self { high: sheet.high(), heads, pages, page, y: 0.0, waiting }
    }

    /// The pages of one chapter.
    pub fn pages(mut self, strips: Vec<Strip>) -> Vec<Page> {
        let mut clump = Vec::new();
        for strip in strips {
            if strip.floats && !clump.is_empty() && !self.fits_with(&clump, &strip) && self.may_wait() {
                self.waiting.push(strip); // its heading stands with what comes after it
                continue;
            }
            let ends = strip.keep == Keep::Free;
            clump.push(strip);
            if ends {
                self.place(std::mem::take(&mut clump));
            }
        }
        self.place(clump);
        self.end();
        let mut pages: Vec<Page> = self.pages.into_iter().map(|p| Page { laid: p.laid, ..Page::default() }).collect();
        pages.last_mut().into_iter().for_each(|p| p.last = true);
        pages
    }

    /// What still waits stands on pages of its own; a page that holds little is the last one all the same.
    fn end(&mut self) {
        let little = self.y < self.high * LITTLE && !self.waiting.is_empty();
        let last = if little { std::mem::take(&mut self.page) } else { Open::default() };
        self.close();
        while !self.waiting.is_empty() {
            self.open_with_waiting();
            self.close();
        }
        self.page = last;
        self.close();
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

    /// Closes the page because something does not fit; what waits stands on the next. A page that holds little takes over what
    /// stands last on the page before, as long as that one keeps enough.
    fn turn(&mut self) {
        while !self.is_empty() && self.y < self.high * LITTLE && self.takes_over() {}
        self.close();
        self.open_with_waiting();
    }

    fn takes_over(&mut self) -> bool {
        let Some(before) = self.pages.last_mut() else { return false };
        let Some(begin) = before.begins.last().copied().filter(|b| *b > 0) else { return false };
        let kept = before.laid[..begin].iter().map(|l| l.y + l.strip.height).fold(0.0, f32::max);
        let moved = before.laid[begin..].iter().map(|l| l.y + l.strip.height).fold(0.0, f32::max) - kept;
        if kept < self.high * LITTLE || self.y + moved + 30.0 > self.high {
            return false;
        }
        let mut strips: Vec<(bool, Strip)> = Vec::new();
        let begins_at = |nr: usize, begins: &[usize]| begins.contains(&nr);
        for (nr, laid) in before.laid.iter().enumerate().skip(begin).filter(|(_, l)| !l.again) {
            strips.push((nr == begin || begins_at(nr, &before.begins), laid.strip.clone()));
        }
        before.laid.truncate(begin);
        before.begins.pop();
        let page = std::mem::take(&mut self.page);
        for (nr, laid) in page.laid.into_iter().enumerate().filter(|(_, l)| !l.again) {
            strips.push((begins_at(nr, &page.begins), laid.strip));
        }
        self.y = 0.0;
        for (begins, strip) in strips {
            if begins {
                self.page.begins.push(self.page.laid.len());
            }
            self.lay(strip);
        }
        true
    }

    /// Drawings that wait stand at the top, as many as fit.
    fn open_with_waiting(&mut self) {
        for strip in std::mem::take(&mut self.waiting) {
            if self.is_empty() || self.y + strip.above + strip.height <= self.high {
                self.lay_all(vec![strip]);
            } else {
                self.waiting.push(strip);
            }
        }
    }

    /// Height of strips as they would stand from here on.
    fn needed(&self, clump: &[Strip]) -> f32 {
        let head = clump.first().and_then(|s| self.head_before(s)).map_or(0.0, |h| h.height);
        let above = |at: usize, s: &Strip| if at == 0 { self.above(s) } else { s.above };
        head + clump.iter().enumerate().map(|(at, s)| s.height + above(at, s)).sum::<f32>()
    }

    /// The space over a strip that stands next: none at the top of a page, and some under a figure that went ahead.
    fn above(&self, strip: &Strip) -> f32 {
        match self.page.laid.last() {
            None => 0.0,
            Some(last) if last.strip.floats => strip.above.max(UNDER_FIGURE),
            Some(_) => strip.above,
        }
    }

    /// The head that has to be repeated before a strip that stands next.
    fn head_before(&self, strip: &Strip) -> Option<&'a Strip> {
        let HeadIx(ix) = strip.head.filter(|_| strip.kind != Kind::Head)?;
        let before = self.page.laid.last().and_then(|l| l.strip.head);
        if before == strip.head { None } else { self.heads.get(ix as usize) }
    }

    fn fits(&self, clump: &[Strip]) -> bool {
        self.y + self.needed(clump) <= self.high + 0.01
    }

    fn fits_with(&self, clump: &[Strip], strip: &Strip) -> bool {
        self.y + self.needed(clump) + strip.above + strip.height <= self.high
    }

    fn may_wait(&self) -> bool {
        self.waiting.is_empty() || self.y < self.high * LITTLE
    }

    fn place(&mut self, mut clump: Vec<Strip>) {
        while !clump.is_empty() {
            if clump.len() == 1 && clump[0].turned.is_some() {
                clump = self.waits_turned(clump);
                continue;
            }
            if self.fits(&clump) {
                return self.lay_all(clump);
            }
            if clump.len() == 1 && clump[0].floats && !self.is_empty() && self.may_wait() {
                self.waiting.append(&mut clump);
                return;
            }
            clump = self.place_part(clump);
        }
    }

    /// Turned ink stands on the next page, beside other turned ink where there is room; what cannot wait yet is given back.
    fn waits_turned(&mut self, clump: Vec<Strip>) -> Vec<Strip> {
        let mut left = Vec::new();
        for strip in clump {
            let strip = match self.waiting.last_mut() {
                Some(last) => last.take_beside(strip),
                None => Some(strip),
            };
            left.extend(strip);
        }
        if self.may_wait() {
            self.waiting.append(&mut left);
        } else if !left.is_empty() {
            self.turn();
        }
        left
    }

    /// Lays what can be laid of something that does not fit, on this page or on a new one; gives back the rest.
    fn place_part(&mut self, clump: Vec<Strip>) -> Vec<Strip> {
        let too_high = clump.iter().map(|s| s.height + s.above).sum::<f32>() > self.high;
        let little = self.y < self.high * LITTLE;
        if !self.is_empty() && !little && !starts_with_long_row(&clump, self.high) {
            self.turn();
            return clump;
        }
        let whole = clump.len();
        let mut rest = self.lay_up_to(Keep::Soft, clump);
        if rest.len() == whole && too_high && self.is_empty() {
            rest = self.lay_up_to(Keep::Hard, rest);
        }
        let still_little = self.y < self.high * LITTLE && !self.could_take_over();
        if still_little || starts_with_long_row(&rest, self.high) {
            rest = self.lay_part_of_row(rest);
        }
        if rest.len() == whole && self.is_empty() {
            let after = rest.split_off(1.min(whole));
            self.lay_all(rest);
            rest = after;
        }
        if !rest.is_empty() {
            self.turn();
        }
        rest
    }

    fn could_take_over(&self) -> bool {
        let Some(before) = self.pages.last() else { return false };
        let Some(begin) = before.begins.last().copied().filter(|b| *b > 0) else { return false };
        let kept = before.laid[..begin].iter().map(|l| l.y + l.strip.height).fold(0.0, f32::max);
        let all = before.laid.iter().map(|l| l.y + l.strip.height).fold(0.0, f32::max);
        kept >= self.high * LITTLE
            && self.y + all - kept >= self.high * LITTLE
            && self.y + all - kept + 30.0 < self.high
    }

    /// Lays as much as fits, parted at its last place of that strength; gives back the rest.
    fn lay_up_to(&mut self, keep: Keep, mut clump: Vec<Strip>) -> Vec<Strip> {
        let ends = (1..clump.len()).rev().find(|n| clump[*n - 1].keep <= keep && self.fits(&clump[..*n]));
        let Some(at) = ends else { return clump };
        let rest = clump.split_off(at);
        self.lay_all(clump);
        rest
    }

    /// Lays as many lines of a row as fit, where the row is higher than a page, or the page would hold little; what must stand
    /// before the row goes with it.
    fn lay_part_of_row(&mut self, mut clump: Vec<Strip>) -> Vec<Strip> {
        let is_row = |s: &Strip| matches!(s.kind, Kind::Row | Kind::PartOfRow) && s.head.is_some();
        let Some(at) = clump.iter().position(is_row) else { return clump };
        if clump[..at].iter().any(|s| s.kind == Kind::Row) || !self.fits(&clump[..at]) && at > 0 {
            return clump;
        }
        let before = if at == 0 { self.needed(&clump[..1]) - clump[0].height } else { self.needed(&clump[..at]) };
        let room = self.high - self.y - before;
        let Some((part, rest)) = super::table::parted(&clump[at], room) else { return clump };
        let mut after = clump.split_off(at + 1);
        clump.pop();
        clump.push(part);
        self.lay_all(clump);
        after.insert(0, rest);
        after
    }

    /// Lays strips that are not parted.
    fn lay_all(&mut self, clump: Vec<Strip>) {
        self.page.begins.push(self.page.laid.len());
        clump.into_iter().for_each(|s| self.lay(s));
    }

    fn lay(&mut self, strip: Strip) {
        self.y += self.above(&strip);
        if let Some(head) = self.head_before(&strip) {
            let (y, strip) = (self.y, head.clone());
            self.y += head.height;
            self.page.laid.push(Laid { y, strip, again: true });
        }
        let y = self.y;
        self.y += strip.height;
        self.page.laid.push(Laid { y, strip, again: false });
    }
}

/// Space under a figure that went ahead of what it stands beside, pt.
const UNDER_FIGURE: f32 = 13.0;

/// True if a row that is higher than a page stands first.
fn starts_with_long_row(clump: &[Strip], high: f32) -> bool {
    let row = clump.iter().find(|s| matches!(s.kind, Kind::Row | Kind::PartOfRow));
    row.is_some_and(|r| r.head.is_some() && r.height > high * 0.9)
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::Paper;

    const ROW: f32 = 40.0;

    fn sheet() -> Sheet {
        Sheet::of(Paper::A4)
    }

    fn strip(kind: Kind, height: f32, keep: Keep) -> Strip {
        Strip { keep, ..Strip::new(kind, (0.0, 100.0), height) }
    }

    fn laid(strips: Vec<Strip>, heads: &[Strip]) -> Vec<Vec<(Kind, f32)>> {
        let pages = Paginator::new(&sheet(), heads).pages(strips);
        pages.iter().map(|p| p.laid.iter().map(|l| (l.strip.kind, l.strip.height)).collect()).collect()
    }

    fn table(rows: usize, height: f32) -> (Vec<Strip>, Vec<Strip>) {
        let head = Strip { head: Some(HeadIx(0)), ..strip(Kind::Head, 20.0, Keep::Hard) };
        let mut strips = vec![head.clone()];
        for at in 0..rows {
            let alone = at == 0 || at + 2 == rows;
            let keep = if alone && at + 1 < rows { Keep::Soft } else { Keep::Free };
            strips.push(Strip { head: Some(HeadIx(0)), ..strip(Kind::Row, height, keep) });
        }
        (strips, vec![head])
    }

    #[test]
    fn a_head_stands_over_the_rows_of_each_page_and_no_row_stands_alone() {
        let (mut strips, heads) = table(40, ROW);
        let filler = sheet().high() - 20.0 - ROW - 5.0; // the head and one row would fit under it
        strips.insert(0, strip(Kind::Box, filler, Keep::Free));
        let pages = laid(strips, &heads);
        assert_eq!(pages[0].len(), 1, "one row alone would stand on the first page");
        for page in &pages[1..] {
            assert_eq!(page[0].0, Kind::Head);
            assert!(page.iter().filter(|s| s.0 == Kind::Row).count() >= 2);
        }
        let rows: usize = pages.iter().flatten().filter(|s| s.0 == Kind::Row).count();
        assert_eq!(rows, 40);
    }

    #[test]
    fn a_heading_never_stands_last() {
        let high = sheet().high();
        let strips = vec![
            strip(Kind::Box, high - 25.0, Keep::Free),
            strip(Kind::Heading, 20.0, Keep::Hard),
            strip(Kind::Line, 12.0, Keep::Free),
        ];
        let pages = laid(strips, &[]);
        assert_eq!(pages.iter().map(Vec::len).collect::<Vec<_>>(), [1, 2]);
    }

    #[test]
    fn a_drawing_that_does_not_fit_waits_while_the_text_goes_on() {
        let high = sheet().high();
        let mut drawing = strip(Kind::Figure, high * 0.5, Keep::Free);
        drawing.floats = true;
        let strips = vec![
            strip(Kind::Box, high * 0.6, Keep::Free),
            drawing,
            strip(Kind::Line, 12.0, Keep::Free),
            strip(Kind::Box, high * 0.4, Keep::Free),
        ];
        let kinds: Vec<Vec<Kind>> =
            laid(strips, &[]).into_iter().map(|p| p.into_iter().map(|s| s.0).collect()).collect();
        assert_eq!(kinds[0], [Kind::Box, Kind::Line]);
        assert_eq!(kinds[1], [Kind::Figure, Kind::Box]);
    }

    #[test]
    fn a_page_that_would_hold_little_takes_over_what_stands_last_on_the_one_before() {
        let high = sheet().high();
        let strips = vec![
            strip(Kind::Box, high * 0.5, Keep::Free),
            strip(Kind::Box, high * 0.4, Keep::Free),
            strip(Kind::Line, high * 0.2, Keep::Free),
            strip(Kind::Box, high * 0.95, Keep::Free),
        ];
        let pages = laid(strips, &[]);
        assert_eq!(pages.iter().map(Vec::len).collect::<Vec<_>>(), [1, 2, 1]);
    }

    #[test]
    fn what_is_higher_than_a_page_stands_on_one_of_its_own_and_nothing_is_lost() {
        let high = sheet().high();
        let strips = vec![
            strip(Kind::Line, 12.0, Keep::Hard),
            strip(Kind::Box, high * 1.5, Keep::Hard),
            strip(Kind::Box, high * 2.0, Keep::Free),
            strip(Kind::Line, 12.0, Keep::Free),
        ];
        assert_eq!(laid(strips, &[]).iter().map(Vec::len).sum::<usize>(), 4);
        assert!(laid(Vec::new(), &[]).is_empty());
    }

    #[test]
    fn pages_before_the_first_chapter_have_roman_numbers() {
        let known = [(1, "i"), (4, "iv"), (9, "ix"), (14, "xiv"), (40, "xl"), (99, "xcix")];
        for (number, text) in known {
            assert_eq!(roman(number), text);
        }
    }
}
