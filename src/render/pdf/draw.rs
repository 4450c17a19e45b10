//! Strips onto the surface of a page.
//!
//! Letters of one style are written in one go. What is drawn belongs to a node of the reading order or is an artifact; the
//! places of links are gathered, since they are added once the surface is done.

use super::fonts::{Face, Fonts, Placed};
use super::inline::Link;
use super::lines::{Item, Line, Store, Style};
use super::scene::{Pen, Place};
use super::strip::{Drawn, Ink, Paint, Put, Strip, Tone};
use super::tags::{NodeIx, Tags};
use crate::diagram::Scene;
use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Rect, Transform};
use krilla::paint::{Fill, Stroke};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, SpanTag};
use std::collections::BTreeMap;

/// What all pages are drawn with.
pub(super) struct Tools<'a> {
    /// The faces.
    pub fonts: Fonts,
    /// Lines with their items.
    pub store: Store,
    /// Links by number.
    pub links: Vec<Link>,
    /// For each link the label of the page that it leads to; nothing where it leads nowhere.
    pub labels: Vec<Option<String>>,
    /// The reading order.
    pub tags: Tags,
    /// For scenes.
    pub pen: Pen,
    /// Scenes by the id of their figure.
    pub scenes: &'a BTreeMap<String, Scene>,
}

/// Where a link stands on a page.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LinkAt {
    /// Number of the link.
    pub link: u32,
    /// Left, top, right, bottom on the page.
    pub corners: [f32; 4],
}

impl LinkAt {
    /// The same so far to the right.
    pub fn moved(self, by: f32) -> Self {
        let [left, top, right, bottom] = self.corners;
        Self { corners: [left + by, top, right + by, bottom], ..self }
    }
}

/// What is being drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Open {
    Nothing,
    Artifact(ArtifactType),
    Node(NodeIx),
}

/// Where ink is turned: the place of its page, and the width before it was turned.
#[derive(Debug, Clone, Copy)]
struct Turn {
    x: f32,
    y: f32,
    wide: f32,
}

/// Draws on one page.
pub(super) struct Artist<'s, 'k, 'a> {
    surface: &'s mut Surface<'k>,
    tools: &'s mut Tools<'a>,
    open: Open,
    tone: Option<Tone>,
    turn: Option<Turn>,
    links: Vec<LinkAt>,
    run: Run,
    /// What letters are that do not take part in the reading.
    unread: ArtifactType,
    /// Number of the side of paper from the first.
    page: usize,
    /// From its left edge to the page, pt.
    left: f32,
}

/// Letters of one style and face that are gathered before they are written.
#[derive(Default)]
struct Run {
    text: String,
    glyphs: Vec<Placed>,
    face: Option<Face>,
    x: f32,
    width: f32,
}

/// For whatever does not take part in the reading.
const LAYOUT: Open = Open::Artifact(ArtifactType::Other);

impl<'s, 'k, 'a> Artist<'s, 'k, 'a> {
    /// For the surface of a side of paper, counted from the first, and how far from its left edge the page stands.
    pub fn new(surface: &'s mut Surface<'k>, tools: &'s mut Tools<'a>, (page, left): (usize, f32)) -> Self {
        let (open, links, run) = (Open::Nothing, Vec::new(), Run::default());
        Self { surface, tools, open, tone: None, turn: None, links, run, unread: ArtifactType::Other, page, left }
    }

    /// Ends what is open, and gives the places of links.
    pub fn finish(mut self) -> Vec<LinkAt> {
        self.begin(Open::Nothing);
        self.links
    }

    /// Draws a strip whose upper left corner is there. What stands there `again` belongs to the page and not to the text.
    pub fn strip(&mut self, strip: &Strip, (x, y): (f32, f32), again: bool) {
        self.unread = if again { ArtifactType::PaginationOther } else { ArtifactType::Other };
        self.puts(&strip.puts, (x, y));
    }

    fn puts(&mut self, puts: &[Put], (x, y): (f32, f32)) {
        for put in puts {
            let (x, y) = (x + put.x, y + put.y);
            match &put.ink {
                Ink::Text(line, size) => self.line(line, *size, (x, y)),
                Ink::Rule(wide, high, weight, tone) => self.rule((x, y), (*wide, *high), (*weight, *tone)),
                Ink::Ground(wide, high, tone) => self.ground((x, y), (*wide, *high), *tone),
                Ink::Outline(points, paint) => self.outline(points, (x, y), *paint),
                Ink::Circle(radius, paint) => self.circle((x, y), *radius, *paint),
                Ink::Scene(drawn) => self.scene(drawn, (x, y)),
                Ink::Turned(wide, down, puts) => self.turned(puts, (x + down, y), *wide),
                Ink::Anchor(_) => {}
            }
        }
    }

    /// Draws a text in the margin: head or foot of the page.
    pub fn margin(&mut self, line: &Line, size: f32, at: (f32, f32), foot: bool) {
        self.begin(Open::Artifact(if foot { ArtifactType::Footer } else { ArtifactType::Header }));
        self.line(line, size, at);
    }

    /// A line in the margin.
    pub fn margin_rule(&mut self, at: (f32, f32), wide: f32) {
        self.rule(at, (wide, 0.0), (0.5, Tone::Rule));
    }

    fn begin(&mut self, open: Open) {
        if self.open == open {
            return;
        }
        if self.open != Open::Nothing {
            self.surface.end_tagged();
        }
        self.open = open;
        match open {
            Open::Nothing => {}
            Open::Artifact(kind) => {
                self.surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(kind)));
            }
            Open::Node(node) => {
                let leaf = self.surface.start_tagged(ContentTag::Span(SpanTag::empty()));
                self.tools.tags.fill(node, leaf);
            }
        }
    }

    fn fill(&mut self, tone: Option<Tone>) {
        if self.tone != tone || tone.is_none() {
            self.surface.set_fill(tone.map(|t| Fill { paint: colour(t).into(), ..Fill::default() }));
            self.surface.set_stroke(None);
            self.tone = tone;
        }
    }

    fn line(&mut self, line: &Line, size: f32, (x, y): (f32, f32)) {
        let items: Vec<Item> = self.tools.store.of(line).to_vec();
        let (mut at, mut style): (f32, Option<Style>) = (x, None);
        let mut frames = Vec::new();
        for (nr, item) in items.iter().enumerate() {
            let next = self.tools.store.styles[item.style as usize];
            if nr > 0 && item.space {
                at += self.space(at, size);
            }
            if style.is_some_and(|s| s != next || s.framed) {
                self.write(style, size, y);
            }
            style = Some(next);
            at += next.pad();
            let from = at;
            at += self.word(item, at, (style, size, y));
            if let Some(link) = next.link {
                self.link(link, [from, y - size * 0.95, at, y + size * 0.28]);
            }
            if next.framed {
                frames.push((from, at));
            }
            at += next.pad();
        }
        let soft = items.last().is_some_and(|i| self.tools.fonts.shaped(i.word).text == "\u{ad}");
        if style.is_some_and(|s| s.node.is_some()) && !soft {
            self.space(at, size);
        }
        self.write(style, size, y);
        for (from, to) in frames {
            self.engraving((from, to), y, size);
        }
    }

    /// Adds a word to the run; gives its width.
    fn word(&mut self, item: &Item, x: f32, (style, size, y): (Option<Style>, f32, f32)) -> f32 {
        let word = match item.late {
            Some(link) => self.late(link, style),
            None => item.word,
        };
        let mut wide = 0.0;
        for nr in 0..self.tools.fonts.shaped(word).runs.len() {
            let face = self.tools.fonts.shaped(word).runs[nr].face;
            if self.run.face.is_some_and(|f| f != face) {
                self.write(style, size, y);
            }
            let (run, shaped) = (&mut self.run, self.tools.fonts.shaped(word));
            if run.face.is_none() {
                (run.face, run.x) = (Some(face), x + wide * size);
            }
            let mut from = 0;
            if let Some(first) = shaped.runs[nr].glyphs.first() {
                from = first.start as usize;
            }
            let to = shaped.runs[nr].glyphs.iter().map(|g| g.end as usize).max().unwrap_or(from);
            let down = run.text.len() as i64 - from as i64;
            run.text.push_str(shaped.text.get(from..to).unwrap_or_default());
            for glyph in &shaped.runs[nr].glyphs {
                let moved = |n: u32| (i64::from(n) + down).max(0) as u32;
                run.glyphs.push(Placed { start: moved(glyph.start), end: moved(glyph.end), ..*glyph });
                run.width += glyph.advance;
                wide += glyph.advance;
            }
        }
        wide * size
    }

    /// A space at the end of the run; gives its width.
    fn space(&mut self, _x: f32, size: f32) -> f32 {
        let Some(face) = self.run.face else {
            return self.tools.fonts.width(" ", Face::Regular, size);
        };
        let shaped = self.tools.fonts.shape(" ", face);
        let start = self.run.text.len() as u32;
        self.run.text.push(' ');
        let glyphs = shaped.runs.iter().flat_map(|r| &r.glyphs);
        self.run.glyphs.extend(glyphs.map(|g| Placed { start, end: start + 1, ..*g }));
        self.run.width += shaped.width;
        shaped.width * size
    }

    fn late(&mut self, link: u32, style: Option<Style>) -> super::words::WordId {
        let label = self.tools.labels.get(link as usize).cloned().flatten().unwrap_or_default();
        let brief = self.tools.links.get(link as usize).is_some_and(|l| l.brief);
        let text = if brief { format!("({label})") } else { format!("{label})") };
        self.tools.fonts.word(&text, style.map_or(Face::Regular, |s| s.face))
    }

    /// Writes the run.
    fn write(&mut self, style: Option<Style>, size: f32, y: f32) {
        let (Some(face), Some(style)) = (self.run.face.take(), style) else { return };
        let in_margin = matches!(self.open, Open::Artifact(ArtifactType::Header | ArtifactType::Footer));
        match style.node {
            Some(node) => self.begin(Open::Node(node)),
            None if !in_margin => self.begin(Open::Artifact(self.unread)),
            None => {}
        }
        self.fill(Some(style.tone));
        let run = std::mem::take(&mut self.run);
        self.tools.fonts.draw_glyphs(self.surface, (run.x, y), (face, &run.glyphs), (&run.text, size));
        self.run.text = run.text;
        self.run.glyphs = run.glyphs;
        self.run.text.clear();
        self.run.glyphs.clear();
        (self.run.width, self.run.face) = (0.0, None);
    }

    fn link(&mut self, link: u32, corners: [f32; 4]) {
        let corners = self.on_paper(corners);
        let turned = self.turn.is_some();
        match self.links.last_mut().filter(|at| at.link == link && !turned && (at.corners[1] - corners[1]).abs() < 1.0)
        {
            Some(last) => last.corners[2] = corners[2].max(last.corners[2]),
            None => self.links.push(LinkAt { link, corners }),
        }
    }

    /// Where something stands on the paper, turned or not.
    fn on_paper(&self, corners: [f32; 4]) -> [f32; 4] {
        let [left, top, right, low] = corners;
        match self.turn {
            None => corners,
            Some(turn) => [turn.x + top, turn.y + turn.wide - right, turn.x + low, turn.y + turn.wide - left],
        }
    }

    fn path(&mut self, path: Option<Path>, paint: Paint) {
        let Some(path) = path else { return };
        self.begin(LAYOUT);
        self.surface.set_fill(paint.fill.map(|t| Fill { paint: colour(t).into(), ..Fill::default() }));
        let stroke = |(width, tone): (f32, Tone)| Stroke { paint: colour(tone).into(), width, ..Stroke::default() };
        self.surface.set_stroke(paint.edge.map(stroke));
        self.surface.draw_path(&path);
        self.surface.set_stroke(None);
        self.tone = None;
    }

    fn rule(&mut self, (x, y): (f32, f32), (wide, high): (f32, f32), edge: (f32, Tone)) {
        let mut path = PathBuilder::new();
        path.move_to(x, y);
        path.line_to(x + wide, y + high);
        self.path(path.finish(), Paint { fill: None, edge: Some(edge) });
    }

    fn ground(&mut self, (x, y): (f32, f32), (wide, high): (f32, f32), tone: Tone) {
        let mut path = PathBuilder::new();
        if let Some(rect) = Rect::from_xywh(x, y, wide.max(0.01), high.max(0.01)) {
            path.push_rect(rect);
        }
        self.path(path.finish(), Paint { fill: Some(tone), edge: None });
    }

    fn outline(&mut self, points: &[(f32, f32)], (x, y): (f32, f32), paint: Paint) {
        let mut path = PathBuilder::new();
        for (at, (px, py)) in points.iter().enumerate() {
            if at == 0 { path.move_to(x + px, y + py) } else { path.line_to(x + px, y + py) }
        }
        path.close();
        self.path(path.finish(), paint);
    }

    /// A circle of four curves.
    fn circle(&mut self, (x, y): (f32, f32), r: f32, paint: Paint) {
        let k = r * 0.552_284_8; // (4/3) tan(π/8), the usual approximation of a quarter
        let mut path = PathBuilder::new();
        path.move_to(x + r, y);
        path.cubic_to(x + r, y + k, x + k, y + r, x, y + r);
        path.cubic_to(x - k, y + r, x - r, y + k, x - r, y);
        path.cubic_to(x - r, y - k, x - k, y - r, x, y - r);
        path.cubic_to(x + k, y - r, x + r, y - k, x + r, y);
        path.close();
        self.path(path.finish(), paint);
    }

    /// The frame around an engraving.
    fn engraving(&mut self, (from, to): (f32, f32), y: f32, size: f32) {
        let (top, low) = (y - size * 0.9, y + size * 0.27);
        let paint = Paint { fill: None, edge: Some((0.4, Tone::Rule)) };
        let (left, right) = (from - 1.5, to + 1.5);
        self.outline(&[(left, top), (right, top), (right, low), (left, low)], (0.0, 0.0), paint);
    }

    fn scene(&mut self, drawn: &Drawn, (x, y): (f32, f32)) {
        let Some(scene) = self.tools.scenes.get(&drawn.figure) else { return };
        self.begin(Open::Node(drawn.node));
        let (wide, high) = (scene.width as f32 * drawn.scale, drawn.piece.height() as f32 * drawn.scale);
        let [l, t, r, b] = self.on_paper([x, y, x + wide, y + high]);
        let corners = [l + self.left, t, r + self.left, b];
        self.tools.tags.stands(drawn.node, self.page, corners);
        let place = Place { x, y, scale: drawn.scale };
        self.tools.pen.draw(self.surface, &mut self.tools.fonts, (scene, &drawn.piece), place);
        self.tone = None;
        self.begin(Open::Nothing);
    }

    fn turned(&mut self, puts: &[Put], (x, y): (f32, f32), wide: f32) {
        self.begin(Open::Nothing);
        self.surface.push_transform(&Transform::from_row(0.0, -1.0, 1.0, 0.0, x, y + wide));
        self.turn = Some(Turn { x, y, wide });
        self.puts(puts, (0.0, 0.0));
        self.turn = None;
        self.begin(Open::Nothing);
        self.surface.pop();
        self.tone = None;
    }
}

fn colour(tone: Tone) -> rgb::Color {
    let (r, g, b) = tone.rgb();
    rgb::Color::new(r, g, b)
}
