//! The cover: the panel of the aircraft, what edition this is, how far it was confirmed, and what it is not.

use super::super::fonts::Face;
use super::super::scene::pieces;
use super::super::setter::{Frame, Setter};
use super::super::sheet::Size;
use super::super::strip::{Drawn, Ink, Keep, Kind, Paint, Strip, Tone};
use super::super::tags::{NodeIx, Role};
use super::confirmed;
use crate::doc::{Block, Document, Figure, FigureKind, Meta};
use crate::render::html::AGREES;

/// Inside the plate, pt.
const PAD: f32 = 11.0;

impl<'a> Setter<'a> {
    /// The cover, on one page.
    pub(super) fn cover(&mut self, document: &'a Document, node: NodeIx) -> Vec<Strip> {
        let meta = &document.meta;
        let mut strips = self.cover_title(meta, node);
        if meta.is_draft() {
            strips.push(self.draft(meta, node));
        }
        strips.extend(self.cover_panel(document, node));
        strips.push(self.plate(meta, node));
        let agrees = [crate::doc::Inline::Strong(vec![crate::doc::Inline::text(AGREES)])];
        let mut sentence = self.paragraph(&agrees, self.front_frame(node));
        sentence.first_mut().into_iter().for_each(|s| s.above = 14.0);
        strips.append(&mut sentence);
        strips.iter_mut().for_each(|s| s.keep = Keep::Hard);
        strips.last_mut().into_iter().for_each(|s| s.keep = Keep::Free);
        strips
    }

    fn cover_title(&mut self, meta: &Meta, node: NodeIx) -> Vec<Strip> {
        let letters = self.sheet.headings[0].letters * 1.36;
        let size = Size { letters, leading: letters * 1.16 };
        let wide = self.sheet.wide();
        let heading = self.tags.block(Some(node), Role::Heading(1, meta.title.clone()));
        let items = self.plain_words(&meta.title, Self::style(Face::Bold, Tone::Ink, Some(heading)));
        let mut strips = self.lines(&items, size, (0.0, wide));
        strips.first_mut().into_iter().for_each(|s| s.put(0.0, 0.0, Ink::Anchor("page/cover".to_owned())));
        if let Some(registration) = meta.registration.as_ref().filter(|r| !meta.title.contains(r.as_str())) {
            let para = self.tags.block(Some(node), Role::Para);
            let items = self.plain_words(registration, Self::style(Face::Bold, Tone::Accent, Some(para)));
            strips.extend(self.lines(&items, size, (0.0, wide)));
        }
        strips.iter_mut().for_each(|s| s.kind = Kind::Heading);
        strips
    }

    /// The mark of a draft: a word on ink, and beside it how far the aircraft was confirmed.
    fn draft(&mut self, meta: &Meta, node: NodeIx) -> Strip {
        let size = self.sheet.text;
        let para = self.tags.block(Some(node), Role::Para);
        let (word, word_wide) = self.one_line("DRAFT", Self::style(Face::Bold, Tone::Paper, Some(para)), size.letters);
        let (count, count_wide) =
            self.one_line(&confirmed(meta), Self::style(Face::Regular, Tone::Ink, Some(para)), size.letters);
        let (dark, high) = (word_wide + 18.0, size.leading + 7.0);
        let wide = dark + count_wide + 20.0;
        let mut strip = Strip::new(Kind::Box, (0.0, wide), high);
        strip.above = 10.0;
        let edge = Paint { fill: None, edge: Some((1.4, Tone::Ink)) };
        strip.put(0.0, 0.0, Ink::Ground(dark, high, Tone::Ink));
        strip.put(0.0, 0.0, Ink::Outline(vec![(0.7, 0.7), (wide, 0.7), (wide, high - 0.7), (0.7, high - 0.7)], edge));
        strip.put(9.0, size.rise() + 3.5, Ink::Text(word, size.letters));
        strip.put(dark + 10.0, size.rise() + 3.5, Ink::Text(count, size.letters));
        strip
    }

    /// The upper band of the panel drawing.
    fn cover_panel(&mut self, document: &Document, node: NodeIx) -> Option<Strip> {
        let figure = panel(document)?;
        let scene = self.scenes.get(&figure.id).filter(|s| s.width > 0.0)?;
        let piece = pieces(scene).into_iter().next()?;
        let scale = (self.sheet.wide() / scene.width as f32).min(1.0);
        let words = format!("{}. {}", scene.title, scene.reading);
        let node = self.tags.block(Some(node), Role::Figure(words));
        let high = (piece.height() as f32 * scale).min(self.sheet.high() * 0.5);
        let scale = scale.min(high / (piece.height() as f32).max(1.0));
        let mut strip = Strip::new(Kind::Figure, (0.0, self.sheet.wide()), high);
        strip.above = 18.0;
        strip.put(0.0, 0.0, Ink::Scene(Drawn { figure: figure.id.clone(), piece, scale, node }));
        Some(strip)
    }

    /// The data plate: what is said in pairs, in a double frame.
    fn plate(&mut self, meta: &Meta, node: NodeIx) -> Strip {
        let list = self.tags.block(Some(node), Role::List(false));
        let wide = self.sheet.wide();
        let columns = if wide > 450.0 { 3 } else { 2 };
        let column = (wide - 2.0 * PAD) / columns as f32;
        let mut strip = Strip::new(Kind::Box, (0.0, wide), 0.0);
        let (mut y, mut row_high, mut at) = (PAD, 0.0_f32, 0);
        for (term, value) in pairs(meta) {
            let long = matches!(term, "Fingerprint of the facts" | "Made by" | "Governing handbook");
            if long && at > 0 || at == columns {
                (y, row_high, at) = (y + row_high, 0.0, 0);
            }
            let x = PAD + at as f32 * column;
            let frame =
                Frame { x, width: if long { wide - 2.0 * PAD } else { column - 10.0 }, ..self.front_frame(list) };
            row_high = row_high.max(self.pair((term, &value), frame, (&mut strip, y)));
            at = if long { columns } else { at + 1 };
        }
        strip.height = y + row_high + PAD - 4.0;
        strip.above = 16.0;
        for (inset, weight, tone) in [(0.6, 1.2, Tone::Ink), (4.0, 0.5, Tone::Rule)] {
            let (far, low) = (wide - inset, strip.height - inset);
            let corners = vec![(inset, inset), (far, inset), (far, low), (inset, low)];
            strip.put(0.0, 0.0, Ink::Outline(corners, Paint { fill: None, edge: Some((weight, tone)) }));
        }
        strip
    }

    /// One pair of the plate; gives its height.
    fn pair(&mut self, (term, value): (&str, &str), frame: Frame, (strip, y): (&mut Strip, f32)) -> f32 {
        let entry = self.tags.block(Some(frame.node), Role::Entry);
        let (label, body) = (self.tags.block(Some(entry), Role::Label), self.tags.block(Some(entry), Role::Body));
        let small = self.sheet.small;
        let print = matches!(term, "Fingerprint of the facts" | "Made by");
        let (face, size) = if print { (Face::Regular, small) } else { (Face::Bold, self.sheet.text) };
        let (line, _) = self.one_line(term, Self::style(Face::Regular, Tone::Soft, Some(label)), small.letters);
        strip.put(frame.x, y + small.rise(), Ink::Text(line, small.letters));
        let items = self.plain_words(value, Self::style(face, Tone::Ink, Some(body)));
        let mut down = small.leading;
        for line in self.store.broken(&items, &mut self.fonts, (size.letters, frame.width)) {
            strip.put(frame.x, y + down + size.rise(), Ink::Text(line, size.letters));
            down += size.leading;
        }
        down + 4.0
    }
}

fn pairs(meta: &Meta) -> [(&'static str, String); 9] {
    let registration = meta.registration.as_deref().unwrap_or("any of this type");
    [
        ("Type", meta.type_name.clone()),
        ("Maker", meta.maker.clone()),
        ("Registration", registration.to_owned()),
        ("Revision", meta.revision.to_string()),
        ("Date", meta.date.clone()),
        ("At the aircraft", confirmed(meta)),
        ("Governing handbook", meta.handbook.clone()),
        ("Fingerprint of the facts", meta.facts_fingerprint.clone()),
        ("Made by", meta.made_by.clone()),
    ]
}

/// The panel, if the guide has a drawing of it.
fn panel(document: &Document) -> Option<&Figure> {
    document.chapters.iter().flat_map(|c| &c.blocks).find_map(|block| match block {
        Block::Figure(figure) if figure.kind == FigureKind::Panel => Some(figure),
        _ => None,
    })
}
