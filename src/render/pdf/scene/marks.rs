//! Each mark of a scene as paths and lettering, in the order in which the SVG has them.

use super::letters::{coloured, write};
use super::look::{Colour, Look, colour};
use super::outlines::{self, near};
use super::sheet::{Manner, Sheet};
use crate::diagram::colour::checked;
use crate::diagram::geometry::{Point, Rect};
use crate::diagram::outline;
use crate::diagram::scene::{BoxMark, Lettering, Mark, Scene, SceneMedium};
use crate::diagram::symbol::{Symbol, stalk};
use crate::render::pdf::fonts::{Face, Fonts};
use krilla::graphic::Graphic;

/// Draws marks of a scene.
pub(super) fn draw(
    sheet: &mut Sheet<'_, '_>,
    fonts: &mut Fonts,
    (scene, marks): (&Scene, &[Mark]),
    shared: Option<&Graphic>,
) {
    let dots = marks.iter().filter_map(|m| if let Mark::Dot(p) = m { Some(*p) } else { None }).collect();
    let mut hand = Hand { sheet, fonts, scene, dots, shared };
    marks.iter().for_each(|m| hand.mark(m));
}

/// Draws one mark after another.
struct Hand<'h, 's, 'd> {
    sheet: &'h mut Sheet<'s, 'd>,
    fonts: &'h mut Fonts,
    scene: &'h Scene,
    /// Where lines are joined.
    dots: Vec<Point>,
    shared: Option<&'h Graphic>,
}

impl Hand<'_, '_, '_> {
    fn mark(&mut self, mark: &Mark) {
        match mark {
            Mark::Box(mark) => self.item(mark),
            Mark::Bar { rect, name, .. } => {
                self.rect("bar", rect, (0.0, 0.0));
                self.words(name);
            }
            Mark::Feed { medium, points, wedge } => self.of(*medium, |hand, m| hand.feed(m, points, *wedge)),
            Mark::Tag { medium, at } => self.of(*medium, |hand, m| hand.tag(m, *at)),
            Mark::Dot(at) => self.circle("dot", *at, outline::DOT, 0.0),
            Mark::Device { symbol, at, down, reached, name, .. } => {
                self.symbol(*symbol, *at, *down);
                if *reached {
                    stalk(*symbol, *at, *down).iter().for_each(|s| self.sheet.shape(s));
                }
                self.words(name);
            }
            Mark::Bracket { x, span, word } => self.bracket(*x, *span, word),
            Mark::Flag { rect, words } => {
                self.line("flag", 0.8, &outline::flag(rect, words));
                self.words(words);
            }
            Mark::Port { rect, name, .. } => {
                let manner = self.manner("port", 0.8);
                self.sheet.path(manner, |path| outlines::polygon(path, &outline::port(rect)));
                self.words(name);
            }
            Mark::Key { medium, at } => self.of(*medium, |hand, m| hand.key(m, *at)),
            Mark::Curve { class, weight, dashes, points } => self.curve(class, (*weight, dashes), points),
            Mark::Shape(shape) => self.sheet.shape(shape),
            Mark::Callout { at, number, .. } => self.callout(*at, *number),
            Mark::Words(words) => self.words(words),
            Mark::Shared(at, scale) => {
                if let Some(form) = self.shared {
                    self.sheet.form(form, (near(at.x), near(at.y)), *scale as f32);
                }
            }
        }
    }

    /// Draws what needs a medium of the scene.
    fn of(&mut self, medium: usize, draw: impl FnOnce(&mut Self, &SceneMedium)) {
        if let Some(medium) = self.scene.media.get(medium) {
            draw(self, medium);
        }
    }

    fn manner(&mut self, class: &'static str, width: f64) -> Manner {
        Manner::new(self.sheet.look(class), width)
    }

    fn words(&mut self, words: &Lettering) {
        write(self.sheet, self.fonts, words, Face::Regular);
    }

    fn line(&mut self, class: &'static str, width: f64, points: &[Point]) {
        let manner = self.manner(class, width);
        self.sheet.path(manner, |path| outlines::line(path, points));
    }

    fn rect(&mut self, class: &'static str, rect: &Rect, (width, round): (f64, f64)) {
        let manner = self.manner(class, width);
        self.sheet.path(manner, |path| outlines::rounded(path, rect, round));
    }

    fn circle(&mut self, class: &'static str, at: Point, radius: f64, width: f64) {
        let manner = self.manner(class, width);
        self.sheet.path(manner, |path| outlines::circle(path, at, radius));
    }

    fn symbol(&mut self, symbol: Symbol, at: Point, down: bool) {
        symbol.shapes(at, down).iter().for_each(|s| self.sheet.shape(s));
    }

    fn item(&mut self, mark: &BoxMark) {
        self.rect("box", &mark.rect, (1.0, 2.5));
        if let Some((symbol, at)) = mark.holds {
            self.symbol(symbol, at, false);
        }
        write(self.sheet, self.fonts, &mark.name, Face::Bold);
        mark.small.iter().for_each(|t| self.words(t));
    }

    /// A line; one with gaps has a thin thread under it, so that the eye can follow it round a bend.
    fn feed(&mut self, medium: &SceneMedium, points: &[Point], wedge: bool) {
        let Some(tip) = points.last() else { return };
        let bent = outline::bent(&outline::feed_line(points, wedge), &self.dots);
        let (look, dashes) = (Look::line(of(medium)), outline::dashes(medium));
        if !dashes.is_empty() {
            self.sheet.path(Manner::new(look, outline::THREAD), |path| outlines::steps(path, &bent));
        }
        self.sheet.path(Manner::new(look, outline::FEED).dashed(&dashes), |path| outlines::steps(path, &bent));
        if wedge {
            let manner = Manner::new(Look::filled(of(medium)), 0.0);
            self.sheet.path(manner, |path| outlines::polygon(path, &outline::wedge(*tip)));
        }
    }

    fn tag(&mut self, medium: &SceneMedium, at: Point) {
        let (under, words) = outline::tag(medium, at);
        self.rect("under", &under, (0.0, 0.0));
        coloured(self.sheet, self.fonts, (&words, Face::Bold), of(medium));
    }

    fn key(&mut self, medium: &SceneMedium, at: Point) {
        let (line, tag, name) = outline::key(medium, at);
        let dots = std::mem::take(&mut self.dots);
        self.feed(medium, &line, false);
        self.dots = dots;
        coloured(self.sheet, self.fonts, (&tag, Face::Bold), of(medium));
        self.words(&name);
    }

    fn bracket(&mut self, x: f64, span: (f64, f64), word: &Lettering) {
        self.line("bracket", 1.2, &outline::bracket(x, span));
        self.rect("under", &outline::bracket_paper(word), (0.0, 0.0));
        self.words(word);
    }

    fn curve(&mut self, class: &'static str, (weight, dashes): (f64, &[f64]), points: &[Point]) {
        let [all, own] = ["curve", class].map(|c| self.sheet.look(c));
        let look = Look { line: own.line, ..all };
        self.sheet.path(Manner::new(look, weight).dashed(dashes), |path| outlines::line(path, points));
    }

    fn callout(&mut self, at: Point, number: usize) {
        self.circle("call", at, outline::call_radius(number), 0.8);
        let (words, ink) = (outline::call_number(at, number), self.sheet.ink("call-number"));
        coloured(self.sheet, self.fonts, (&words, Face::Bold), ink);
    }
}

/// The colour of a medium on light paper.
fn of(medium: &SceneMedium) -> Colour {
    colour(&checked(&medium.colour)).unwrap_or_default()
}
