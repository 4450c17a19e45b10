//! Blocks to strips: paragraphs, headings, lists. Boxes, drawings and tables have files of their own.

use super::fonts::{Face, Fonts};
use super::inline::{Breaks, Link};
use super::lines::{Item, Line, Store, Style};
use super::sheet::{Sheet, Size};
use super::strip::{Ink, Keep, Kind, Paint, Put, Strip, Tone};
use super::tags::{NodeIx, Role, Tags};
use crate::diagram::Scene;
use crate::doc::{Block, Chapter, Document, Inline, plain_text};
use std::collections::BTreeMap;

/// Sets a document into strips.
pub(super) struct Setter<'a> {
    /// The paper.
    pub sheet: Sheet,
    /// The faces, and every word that was shaped.
    pub fonts: Fonts,
    /// The reading order.
    pub tags: Tags,
    /// Lines.
    pub store: Store,
    /// Links, by number.
    pub links: Vec<Link>,
    /// Heads of tables that are repeated, by number.
    pub heads: Vec<Strip>,
    /// Drawings by the id of their figure.
    pub scenes: &'a BTreeMap<String, Scene>,
    pub(super) breaks: Breaks,
    /// Number of the chapter in which an id stands.
    chapters: BTreeMap<&'a str, usize>,
}

/// Where blocks are set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Frame {
    /// Left edge.
    pub x: f32,
    /// Width for tables and drawings.
    pub width: f32,
    /// Width for running text.
    pub measure: f32,
    /// Height and leading of running text.
    pub size: Size,
    /// What the blocks are within, in the reading order.
    pub node: NodeIx,
}

impl Frame {
    /// The same, so far from the left.
    pub fn indented(self, by: f32, node: NodeIx) -> Self {
        let (width, measure) = ((self.width - by).max(20.0), (self.measure - by).max(20.0));
        Self { x: self.x + by, width, measure, node, ..self }
    }
}

/// Lists within lists are set further in up to this share of the width.
const DEEPEST: f32 = 0.6;

impl<'a> Setter<'a> {
    /// A setter for one document.
    pub fn new(document: &'a Document, scenes: &'a BTreeMap<String, Scene>, sheet: Sheet) -> Self {
        let mut chapters = BTreeMap::new();
        for chapter in &document.chapters {
            chapters.entry(chapter.id.as_str()).or_insert(chapter.number);
            for_each_id(&chapter.blocks, &mut |id| {
                chapters.entry(id).or_insert(chapter.number);
            });
        }
        Self {
            sheet,
            fonts: Fonts::new(),
            tags: Tags::default(),
            store: Store::default(),
            links: Vec::new(),
            heads: Vec::new(),
            scenes,
            breaks: Breaks::default(),
            chapters,
        }
    }

    /// The number of the chapter in which an id stands.
    pub fn chapter_of(&self, id: &str) -> Option<usize> {
        self.chapters.get(id).copied()
    }

    /// The frame of running text between the sides.
    pub fn frame(&self, node: NodeIx) -> Frame {
        Frame { x: 0.0, width: self.sheet.wide(), measure: self.sheet.measure, size: self.sheet.text, node }
    }

    /// A chapter with its title.
    pub fn chapter(&mut self, chapter: &'a Chapter) -> Vec<Strip> {
        let node = self.tags.block(None, Role::Part);
        let mut strips = self.chapter_title(chapter, node);
        let frame = self.frame(node);
        strips.extend(self.blocks(&chapter.blocks, frame));
        strips
    }

    /// Blocks under one another.
    pub fn blocks(&mut self, blocks: &[Block], frame: Frame) -> Vec<Strip> {
        blocks.iter().flat_map(|b| self.block(b, frame)).collect()
    }

    fn block(&mut self, block: &Block, frame: Frame) -> Vec<Strip> {
        match block {
            Block::Heading { level, id, text } => self.heading(*level, id, text, frame),
            Block::Para(text) => self.paragraph(text, frame),
            Block::List { ordered, items } => self.list(*ordered, items, frame),
            Block::Table(table) => self.table(table, frame),
            Block::Notice { level, body, .. } => self.notice(*level, body, frame),
            Block::Figure(figure) => self.figure(figure, frame),
            Block::Worked { id, title, steps } => self.worked((id, title), steps, frame),
        }
    }

    /// A paragraph. What ends with a colon stays with what it announces.
    pub fn paragraph(&mut self, text: &[Inline], frame: Frame) -> Vec<Strip> {
        let node = self.tags.block(Some(frame.node), Role::Para);
        let items = self.words(text, Self::style(Face::Regular, Tone::Ink, Some(node)), false);
        let mut strips = self.lines(&items, frame.size, (frame.x, frame.width.min(frame.measure)));
        if let Some(first) = strips.first_mut() {
            first.above = frame.size.leading * 0.5;
        }
        if let Some(last) = strips.last_mut().filter(|_| plain_text(text).trim_end().ends_with(':')) {
            last.keep = Keep::Hard;
        }
        strips
    }

    /// Words as strips of one line each, of which none stands alone at the end or the beginning of a page.
    pub fn lines(&mut self, items: &[Item], size: Size, (x, width): (f32, f32)) -> Vec<Strip> {
        let lines = self.store.broken(items, &mut self.fonts, (size.letters, width));
        let count = lines.len();
        let strip = |(at, line): (usize, Line)| {
            let mut strip = Strip::new(Kind::Line, (x, width), size.leading);
            strip.put(x, size.rise(), Ink::Text(line, size.letters));
            let alone = at == 0 || at + 2 == count || count <= 3;
            strip.keep = if alone && at + 1 < count { Keep::Hard } else { Keep::Free };
            strip
        };
        lines.into_iter().enumerate().map(strip).collect()
    }

    /// A text on one line, with its width.
    pub fn one_line(&mut self, text: &str, style: Style, size: f32) -> (Line, f32) {
        let items = self.plain_words(text, style);
        let line = self.store.broken(&items, &mut self.fonts, (size, f32::MAX)).first().copied();
        let line = line.unwrap_or(Line { from: 0, to: 0, width: 0.0 });
        (line, line.width)
    }

    fn heading(&mut self, level: u8, id: &str, text: &[Inline], frame: Frame) -> Vec<Strip> {
        let depth = usize::from(level.clamp(2, 4)) - 1;
        let size = self.sheet.headings[depth];
        let role = Role::Heading(depth as u16 + 2, plain_text(text));
        let node = self.tags.block(Some(frame.node), role);
        let items = self.words(text, Self::style(Face::Bold, Tone::Ink, Some(node)), false);
        let mut strips = self.lines(&items, size, (frame.x, frame.width.min(frame.measure)));
        for strip in &mut strips {
            (strip.kind, strip.keep) = (Kind::Heading, Keep::Hard);
        }
        if let Some(first) = strips.first_mut() {
            first.above = size.leading * 1.15;
            first.puts.insert(0, Put { x: 0.0, y: 0.0, ink: Ink::Anchor(id.to_owned()) });
        }
        strips
    }

    /// The number in a circle, the title, and the ticks of a scale under it.
    fn chapter_title(&mut self, chapter: &Chapter, parent: NodeIx) -> Vec<Strip> {
        let title = format!("{} {}", chapter.number, plain_text(&chapter.title));
        let node = self.tags.block(Some(parent), Role::Heading(2, title));
        let size = self.sheet.headings[0];
        let (wide, round) = (self.sheet.wide(), size.letters * 0.72);
        let number_size = size.letters * 0.62;
        let style = Self::style(Face::Bold, Tone::Ink, Some(node));
        let (number, number_wide) = self.one_line(&chapter.number.to_string(), style, number_size);
        let (text_x, middle) = (round * 2.0 + 9.0, size.leading * 0.5 + 3.0);
        let items = self.words(&chapter.title, style, false);
        let mut strips = self.lines(&items, size, (text_x, wide - text_x));
        for strip in &mut strips {
            (strip.kind, strip.keep) = (Kind::Heading, Keep::Hard);
            (strip.x, strip.width) = (0.0, wide);
        }
        if let Some(first) = strips.first_mut() {
            first.height += 6.0;
            first.puts.iter_mut().for_each(|p| p.y += 3.0);
            let edge = Paint { fill: None, edge: Some((1.2, Tone::Ink)) };
            let outer = Paint { fill: None, edge: Some((0.5, Tone::Rule)) };
            first.put(0.0, 0.0, Ink::Anchor(chapter.id.clone()));
            first.put(round, middle, Ink::Circle(round - 2.4, edge));
            first.put(round, middle, Ink::Circle(round, outer));
            let (x, y) = (round - number_wide / 2.0, middle + number_size * 0.36);
            first.puts.insert(0, Put { x, y, ink: Ink::Text(number, number_size) });
        }
        strips.push(scale(wide));
        strips
    }

    fn list(&mut self, ordered: bool, entries: &[Vec<Block>], frame: Frame) -> Vec<Strip> {
        let node = self.tags.block(Some(frame.node), Role::List(ordered));
        let set_in = if frame.x > self.sheet.wide() * DEEPEST { 0.0 } else { frame.size.letters * 1.5 };
        let mut strips = Vec::new();
        for (at, blocks) in entries.iter().enumerate() {
            let entry = self.tags.block(Some(node), Role::Entry);
            let label = self.tags.block(Some(entry), Role::Label);
            let body = self.tags.block(Some(entry), Role::Body);
            let sign = if ordered { format!("{}.", at + 1) } else { "–".to_owned() };
            let style = Self::style(Face::Regular, Tone::Soft, Some(label));
            let (line, _) = self.one_line(&sign, style, frame.size.letters);
            let mut inner = self.blocks(blocks, frame.indented(set_in, body));
            if let Some(first) = inner.first_mut() {
                let (x, y) = (frame.x, frame.size.rise());
                first.puts.insert(0, Put { x, y, ink: Ink::Text(line, frame.size.letters) });
                first.above = frame.size.leading * if at == 0 { 0.4 } else { 0.2 };
                first.width += first.x - frame.x;
                first.x = frame.x;
            }
            strips.append(&mut inner);
        }
        strips
    }
}

/// The ticks of a scale, under the title of a chapter.
fn scale(wide: f32) -> Strip {
    let mut ticks = Strip::new(Kind::Heading, (0.0, wide), 16.0);
    (ticks.keep, ticks.above) = (Keep::Hard, 7.0);
    ticks.put(0.0, 0.25, Ink::Rule(wide, 0.0, 0.5, Tone::Soft));
    for tick in 0_u8..=10 {
        let (long, at) = (tick % 5 == 0, f32::from(tick) / 10.0);
        ticks.put(at * (wide - 0.5) + 0.25, 0.0, Ink::Rule(0.0, if long { 7.0 } else { 3.5 }, 0.5, Tone::Soft));
    }
    ticks
}

/// Every id within blocks that a link may lead to.
pub(super) fn for_each_id<'a>(blocks: &'a [Block], say: &mut impl FnMut(&'a str)) {
    for block in blocks {
        match block {
            Block::Heading { id, .. } | Block::Worked { id, .. } => say(id),
            Block::Table(table) => say(&table.id),
            Block::Figure(figure) => say(&figure.id),
            Block::List { items, .. } => items.iter().for_each(|b| for_each_id(b, say)),
            Block::Notice { body, .. } => for_each_id(body, say),
            Block::Para(_) => {}
        }
    }
}
