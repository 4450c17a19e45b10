//! The sides of the card as a PDF file, with the structure that a page reader follows.

use super::grid::{GAP, PAD, SetRow};
use super::set::Line;
use super::sides::{Placed, Sides};
use super::structure::Structure;
use super::{CardError, HEIGHT, MARGIN, WIDTH, file};
use crate::doc::{Document, Meta, TRAINING_AID, plain_text};
use crate::render::pdf::fonts::{Face, Fonts};
use krilla::color::rgb;
use krilla::geom::{PathBuilder, Rect};
use krilla::num::NormalizedF32;
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, Identifier, SpanTag};

/// Letters and bars.
const INK: [u8; 3] = [0x10, 0x18, 0x20];
/// Thin lines; dark enough to be seen on a copy.
const RULE: [u8; 3] = [0x70, 0x7a, 0x82];
/// Letters on bars.
const PAPER: [u8; 3] = [0xff, 0xff, 0xff];
/// Letters of head and foot, pt.
const SMALL: f32 = 7.5;

/// Writes the file.
pub(super) fn write(document: &Document, sides: &Sides, fonts: &mut Fonts) -> Result<Vec<u8>, CardError> {
    let mut out = file::begin().map_err(CardError::Refused)?;
    let title = document.chapters.first().map_or_else(String::new, |c| plain_text(&c.title));
    let mut structure = Structure::new(&title, sides.grids.iter().map(|g| g.caption.as_str()));
    let size = PageSettings::from_wh(WIDTH, HEIGHT).ok_or_else(|| CardError::Refused("the paper".to_owned()))?;
    for side in 0..sides.pages.len() {
        let mut page = out.start_page_with(size.clone());
        let mut surface = page.surface();
        let mut press = Press { surface: &mut surface, fonts, sides, structure: &mut structure };
        press.over(&document.meta, &title, side);
        press.side(side);
        press.under(&document.meta, side);
        surface.finish();
        page.finish();
    }
    let tree = structure.build(&document.meta.language);
    file::finish(out, &document.meta, &title, tree).map_err(CardError::Refused)
}

/// Draws one side after another.
struct Press<'p, 'd> {
    surface: &'p mut Surface<'d>,
    fonts: &'p mut Fonts,
    sides: &'p Sides,
    structure: &'p mut Structure,
}

impl Press<'_, '_> {
    /// Title and type; what is true of the whole card is content once.
    fn over(&mut self, meta: &Meta, title: &str, side: usize) {
        let y = MARGIN + 11.0;
        let draft = format!("DRAFT: {} of {} items confirmed", meta.confirmed, meta.items);
        let right = if meta.is_draft() { draft } else { meta.type_name.clone() };
        let wide = self.fonts.width(&right, Face::Bold, 8.5);
        let x = WIDTH - MARGIN - wide;
        let heading = self.words(side == 0, (MARGIN, y), title, (Face::Bold, 13.0));
        let note = self.words(side == 0, (x, y), &right, (Face::Bold, 8.5));
        self.structure.title(heading, note);
        self.rule((MARGIN, MARGIN + 15.5), (WIDTH - 2.0 * MARGIN, 1.2), INK);
    }

    /// The sentence of every page, and which edition it is.
    fn under(&mut self, meta: &Meta, side: usize) {
        let y = HEIGHT - MARGIN - 14.0;
        self.rule((MARGIN, y - 8.0), (WIDTH - 2.0 * MARGIN, 0.6), INK);
        let sentence = self.words(true, (MARGIN, y), TRAINING_AID, (Face::Bold, SMALL));
        let print: String = meta.facts_fingerprint.chars().take(12).collect();
        let edition = format!(
            "{} · Revision {} · {} · {print} · side {} of {}",
            meta.registration.as_deref().unwrap_or(&meta.type_name),
            meta.revision,
            meta.date,
            side + 1,
            self.sides.pages.len()
        );
        let edition = self.words(true, (MARGIN, y + 9.5), &edition, (Face::Regular, SMALL));
        self.structure.foot(sentence, edition);
    }

    fn side(&mut self, side: usize) {
        let sides = self.sides;
        for placed in sides.pages.get(side).into_iter().flatten() {
            match *placed {
                Placed::Caption { table, y, again } => self.caption(table, y, again),
                Placed::Head { table, x, y, again } => self.head(table, (x, y), again),
                Placed::Row { table, row, x, y } => self.row(table, row, (x, y)),
            }
        }
    }

    /// White on a bar, so that it is found at arm's length.
    fn caption(&mut self, table: usize, y: f32, again: bool) {
        let Some(grid) = self.sides.grids.get(table) else { return };
        let size = self.sides.size;
        self.rule((MARGIN, y), (WIDTH - 2.0 * MARGIN, size.leading + 1.0), INK);
        let text = if again { format!("{}, continued", grid.caption) } else { grid.caption.clone() };
        self.fill(PAPER);
        let at = (MARGIN + 3.0, y + size.leading * 0.82);
        let caption = self.tagged(!again, |press| {
            press.fonts.draw(press.surface, at, &text, (Face::Bold, size.letters));
        });
        self.structure.caption(table, caption);
    }

    fn head(&mut self, table: usize, (x, y): (f32, f32), again: bool) {
        let Some(grid) = self.sides.grids.get(table) else { return };
        let cells = self.cells(&grid.head, (x, y), (&grid.lefts, !again));
        if !again {
            self.structure.head(table, cells);
        }
        self.rule((x, y + grid.head.height), (grid.width, 0.7), INK);
    }

    fn row(&mut self, table: usize, row: usize, (x, y): (f32, f32)) {
        let Some(grid) = self.sides.grids.get(table) else { return };
        let Some(set) = grid.rows.get(row) else { return };
        let cells = self.cells(set, (x, y), (&grid.lefts, true));
        self.structure.row(table, cells);
        self.rule((x, y + set.height), (grid.width, 0.35), RULE);
        for left in grid.lefts.iter().skip(1) {
            self.rule((x + left - GAP / 2.0, y), (0.35, set.height), RULE);
        }
    }

    /// The cells of a row: for each the things that it says, for each of these its lines.
    fn cells(
        &mut self,
        row: &SetRow,
        (x, y): (f32, f32),
        (lefts, content): (&[f32], bool),
    ) -> Vec<Vec<Vec<Identifier>>> {
        self.fill(INK);
        let size = self.sides.size;
        let mut cells = Vec::new();
        for (said, left) in row.cells.iter().zip(lefts) {
            let mut base = y + PAD + size.leading * 0.8;
            let mut things = Vec::new();
            for thing in said {
                let mut lines = Vec::new();
                for line in thing {
                    let at = (x + left, base);
                    lines.extend(self.tagged(content, |press| press.line(line, at)));
                    base += size.leading;
                }
                things.push(lines);
            }
            cells.push(things);
        }
        cells
    }

    fn line(&mut self, line: &Line, (x, y): (f32, f32)) {
        for stretch in line {
            let set = (stretch.face, self.sides.size.letters);
            self.fonts.draw(self.surface, (x + stretch.x, y), &stretch.text, set);
        }
    }

    fn words(&mut self, content: bool, at: (f32, f32), text: &str, set: (Face, f32)) -> Option<Identifier> {
        self.fill(INK);
        self.tagged(content, |press| press.fonts.draw(press.surface, at, text, set))
    }

    /// Draws content, or what is no content.
    fn tagged(&mut self, content: bool, draw: impl FnOnce(&mut Self)) -> Option<Identifier> {
        let pagination = ContentTag::Artifact(Artifact::with_kind(ArtifactType::PaginationOther));
        let tag = if content { ContentTag::Span(SpanTag::empty()) } else { pagination };
        let identifier = self.surface.start_tagged(tag);
        draw(self);
        self.surface.end_tagged();
        content.then_some(identifier)
    }

    fn fill(&mut self, [red, green, blue]: [u8; 3]) {
        let paint = rgb::Color::new(red, green, blue).into();
        self.surface.set_stroke(None);
        self.surface.set_fill(Some(Fill { paint, opacity: NormalizedF32::ONE, rule: FillRule::NonZero }));
    }

    /// A filled bar that is no content.
    fn rule(&mut self, (x, y): (f32, f32), (wide, high): (f32, f32), colour: [u8; 3]) {
        self.fill(colour);
        let mut path = PathBuilder::new();
        if let Some(rect) = Rect::from_xywh(x, y, wide, high) {
            path.push_rect(rect);
        }
        if let Some(path) = path.finish() {
            self.surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)));
            self.surface.draw_path(&path);
            self.surface.end_tagged();
        }
    }
}
