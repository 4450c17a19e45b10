//! Boxes in the sense of flight manuals, and sums that are worked line by line.

use super::fonts::Face;
use super::setter::{Frame, Setter};
use super::strip::{Ink, Keep, Kind, Paint, Put, Strip, Tone, stacked};
use super::tags::Role;
use crate::doc::{Block, Inline, NoticeLevel, Step};

/// From the edge of a box to what is in it, pt.
const PAD: f32 = 9.0;
/// From the left edge of a worked sum to its text, pt.
const SUM_PAD: f32 = 12.0;

impl Setter<'_> {
    /// A box: its word, its sign and its frame differ. One that fits a page is not divided.
    pub(super) fn notice(&mut self, level: NoticeLevel, body: &[Block], frame: Frame) -> Vec<Strip> {
        let node = self.tags.block(Some(frame.node), Role::Group);
        let wide = frame.width.min(frame.measure + 2.0 * PAD);
        let set_in = if level == NoticeLevel::Note { 0.0 } else { PAD };
        let inside = Frame { x: frame.x + set_in, width: wide - 2.0 * set_in, node, ..frame };
        let word = self.notice_word(level, inside);
        let mut strips = vec![word];
        strips.extend(self.blocks(body, inside));
        let between: f32 = strips.iter().skip(1).map(|s| s.above).sum();
        let high = strips.iter().map(|s| s.height).sum::<f32>() + between + PAD;
        if high > self.sheet.high() {
            return strips;
        }
        let mut all = stacked(Kind::Box, (frame.x, wide), strips);
        all.height += if level == NoticeLevel::Note { 5.0 } else { 7.0 };
        all.above = frame.size.leading * 0.9;
        edge(&mut all, level, self.sheet.text.leading);
        vec![all]
    }

    fn notice_word(&mut self, level: NoticeLevel, frame: Frame) -> Strip {
        let node = self.tags.block(Some(frame.node), Role::Para);
        let size = frame.size;
        let tone = match level {
            NoticeLevel::Warning => Tone::Paper,
            NoticeLevel::Caution => Tone::Ink,
            NoticeLevel::Note => Tone::Soft,
        };
        let top = if level == NoticeLevel::Warning { 2.0 } else { 6.5 };
        let mut strip = Strip::new(Kind::Box, (frame.x, frame.width), size.leading + 2.0 + top);
        strip.keep = Keep::Hard;
        let (line, _) = self.one_line(level.word(), Self::style(Face::Bold, tone, Some(node)), size.letters);
        strip.put(frame.x + size.letters * 1.5, size.rise() + top, Ink::Text(line, size.letters));
        sign(&mut strip, level, (frame.x, size.leading / 2.0 + top), size.letters);
        strip
    }

    /// A sum: each line is not divided, and the title stands with the first.
    pub(super) fn worked(&mut self, (id, title): (&str, &[Inline]), steps: &[Step], frame: Frame) -> Vec<Strip> {
        let node = self.tags.block(Some(frame.node), Role::Group);
        let wide = frame.width.min(frame.measure);
        let inside = Frame { x: frame.x + SUM_PAD, width: wide - 2.0 * SUM_PAD, node, ..frame };
        let mut strips = vec![self.worked_title(id, title, inside)];
        let list = self.tags.block(Some(node), Role::List(true));
        for (at, step) in steps.iter().enumerate() {
            strips.push(self.step(at, step, Frame { node: list, ..inside }));
        }
        let last = strips.len() - 1;
        for (at, strip) in strips.iter_mut().enumerate() {
            if at == 0 {
                (strip.above, strip.height) = (frame.size.leading * 0.9, strip.height + 6.0);
                strip.puts.iter_mut().for_each(|p| p.y += 6.0);
            }
            strip.height += if at == last { 7.0 } else { 0.0 };
            strip.keep = if (at == 0 || at + 2 == last) && at != last { Keep::Hard } else { Keep::Free };
            (strip.x, strip.width) = (frame.x, wide);
            let (x, y) = (frame.x, 0.0);
            strip.puts.insert(0, Put { x, y, ink: Ink::Ground(2.4, strip.height, Tone::Accent) });
            strip.puts.insert(0, Put { x, y, ink: Ink::Ground(wide, strip.height, Tone::Tint) });
        }
        strips
    }

    fn worked_title(&mut self, id: &str, title: &[Inline], frame: Frame) -> Strip {
        let node = self.tags.block(Some(frame.node), Role::Para);
        let items = self.words(title, Self::style(Face::Bold, Tone::Ink, Some(node)), false);
        let strips = self.lines(&items, frame.size, (frame.x, frame.width));
        let mut strip = stacked(Kind::Box, (frame.x, frame.width), strips);
        strip.puts.insert(0, Put { x: 0.0, y: 0.0, ink: Ink::Anchor(id.to_owned()) });
        strip
    }

    /// A line of a sum: what it works out, under it the sum with its result.
    fn step(&mut self, at: usize, step: &Step, frame: Frame) -> Strip {
        let size = frame.size;
        let entry = self.tags.block(Some(frame.node), Role::Entry);
        let label = self.tags.block(Some(entry), Role::Label);
        let body = self.tags.block(Some(entry), Role::Body);
        let soft = Self::style(Face::Regular, Tone::Soft, Some(label));
        let (number, _) = self.one_line(&format!("{}.", at + 1), soft, size.letters);
        let style = Self::style(Face::Regular, Tone::Ink, Some(body));
        let mut working = step.sum.clone();
        working.push(Inline::text(" = "));
        working.push(Inline::Strong(step.result.clone()));
        let (x, width) = (frame.x + size.letters * 1.6, frame.width - size.letters * 1.6);
        let says = self.words(&step.says, style, false);
        let mut strips = self.lines(&says, size, (x, width));
        let sums = self.words(&working, style, false);
        strips.extend(self.lines(&sums, size, (x, width)));
        let mut strip = stacked(Kind::Box, (frame.x, frame.width), strips);
        strip.puts.insert(0, Put { x: frame.x, y: size.rise(), ink: Ink::Text(number, size.letters) });
        strip.height += 2.5;
        strip
    }
}

/// The sign beside the word: a triangle, a lozenge, or an i in a circle.
fn sign(strip: &mut Strip, level: NoticeLevel, (x, middle): (f32, f32), letters: f32) {
    let r = letters * 0.46;
    let centre = x + r;
    let filled = |tone: Tone| Paint { fill: Some(tone), edge: None };
    match level {
        NoticeLevel::Warning => {
            let (wide, low) = (r * 1.1, middle + r * 0.85);
            let points = vec![(centre, middle - r), (centre + wide, low), (centre - wide, low)];
            strip.put(0.0, 0.0, Ink::Outline(points, filled(Tone::Paper)));
        }
        NoticeLevel::Caution => {
            let points = vec![(centre, middle - r), (centre + r, middle), (centre, middle + r), (centre - r, middle)];
            strip.put(0.0, 0.0, Ink::Outline(points, filled(Tone::Ink)));
        }
        NoticeLevel::Note => {
            strip.put(centre, middle, Ink::Circle(r, Paint { fill: None, edge: Some((0.8, Tone::Soft)) }));
            strip.put(centre - 0.5, middle - r * 0.15, Ink::Ground(1.0, r * 0.75, Tone::Soft));
            strip.put(centre, middle - r * 0.5, Ink::Circle(0.7, filled(Tone::Soft)));
        }
    }
}

/// The frame: thick with a dark head, double, or a line above and below.
fn edge(strip: &mut Strip, level: NoticeLevel, leading: f32) {
    let (x, wide, high) = (strip.x, strip.width, strip.height);
    let frame = |inset: f32, weight: f32| {
        let (left, right, low) = (x + inset, x + wide - inset, high - inset);
        let paint = Paint { fill: None, edge: Some((weight, Tone::Ink)) };
        let corners = vec![(left, inset), (right, inset), (right, low), (left, low)];
        Put { x: 0.0, y: 0.0, ink: Ink::Outline(corners, paint) }
    };
    let mut ink = match level {
        NoticeLevel::Warning => {
            let head = Ink::Ground(wide, leading + 4.0, Tone::Ink);
            vec![Put { x, y: 0.0, ink: head }, frame(1.25, 2.5)]
        }
        NoticeLevel::Caution => vec![frame(0.4, 0.8), frame(2.8, 0.8)],
        NoticeLevel::Note => {
            let line = |y: f32| Put { x, y, ink: Ink::Rule(wide, 0.0, 0.6, Tone::Soft) };
            vec![line(0.3), line(high - 0.3)]
        }
    };
    ink.append(&mut strip.puts);
    strip.puts = ink;
}
