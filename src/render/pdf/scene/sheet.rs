//! Paths on a surface. Lines of one look that follow one another are one path, so that the file stays small.

use super::look::{Colour, Look, Looks, paint};
use super::outlines;
use crate::diagram::scene::{Form, Shape};
use krilla::geom::{PathBuilder, Transform};
use krilla::graphic::Graphic;
use krilla::num::NormalizedF32;
use krilla::paint::{Fill, FillRule, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;

/// How SVG cuts pointed corners; the library's own is that of PDF.
const MITRE: f32 = 4.0;

/// How a path is drawn.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Manner {
    look: Look,
    /// Width of the line, pt.
    width: f32,
    /// Ink and gap in turn, pt.
    dashes: Vec<f32>,
}

impl Manner {
    /// A look with a line of this width.
    pub fn new(look: Look, width: f64) -> Self {
        Self { look, width: outlines::near(width), dashes: Vec::new() }
    }

    /// The same with gaps.
    pub fn dashed(self, dashes: &[f64]) -> Self {
        Self { dashes: dashes.iter().copied().map(outlines::near).collect(), ..self }
    }

    /// Lines can be one path with others; shapes that cover one another cannot.
    fn joins(&self) -> bool {
        self.look.fill.is_none()
    }

    fn stroke(&self) -> Option<Stroke> {
        let colour = self.look.line?;
        let dash = (!self.dashes.is_empty()).then(|| StrokeDash { array: self.dashes.clone(), offset: 0.0 });
        Some(Stroke {
            paint: paint(colour).into(),
            width: self.width,
            miter_limit: MITRE,
            line_join: if self.look.round { LineJoin::Round } else { LineJoin::Miter },
            dash,
            ..Stroke::default()
        })
    }

    fn fill(&self) -> Option<Fill> {
        let paint = paint(self.look.fill?).into();
        Some(Fill { paint, opacity: self.look.opacity(), rule: FillRule::NonZero })
    }
}

/// Straight strokes have nothing inside.
fn encloses(form: &Form) -> bool {
    match form {
        Form::Line(points) => points.len() > 2,
        Form::Strokes(_) => false,
        Form::Polygon(_) | Form::Circle(..) | Form::Arc(..) | Form::Rect(..) => true,
    }
}

/// A surface with what is still to be drawn on it.
pub(super) struct Sheet<'s, 'd> {
    surface: &'s mut Surface<'d>,
    looks: &'s mut Looks,
    pending: Option<(Manner, PathBuilder)>,
}

impl<'s, 'd> Sheet<'s, 'd> {
    pub fn new(surface: &'s mut Surface<'d>, looks: &'s mut Looks) -> Self {
        Self { surface, looks, pending: None }
    }

    /// The look of a class.
    pub fn look(&mut self, classes: &'static str) -> Look {
        self.looks.of(classes)
    }

    /// The colour of lettering of a class.
    pub fn ink(&mut self, class: &'static str) -> Colour {
        self.looks.words(class)
    }

    /// A path in this manner.
    pub fn path(&mut self, manner: Manner, build: impl FnOnce(&mut PathBuilder)) {
        match &mut self.pending {
            Some((same, path)) if *same == manner && manner.joins() => build(path),
            _ => {
                self.flush();
                let mut path = PathBuilder::new();
                build(&mut path);
                self.pending = Some((manner, path));
            }
        }
    }

    /// A shape with the look of its class.
    pub fn shape(&mut self, shape: &Shape) {
        let look = self.look(shape.class);
        let look = if encloses(&shape.form) { look } else { Look { fill: None, ..look } };
        // A circle without a weight has the line of SVG, of 1 pt, if it has any.
        let width = if shape.weight > 0.0 { shape.weight } else { 1.0 };
        self.path(Manner::new(look, width), |path| outlines::form(path, &shape.form));
    }

    /// The surface with everything drawn so far, for lettering of a colour.
    pub fn lettering(&mut self, colour: Colour) -> &mut Surface<'d> {
        self.flush();
        self.surface.set_stroke(None);
        let fill = Fill { paint: paint(colour).into(), opacity: NormalizedF32::ONE, rule: FillRule::NonZero };
        self.surface.set_fill(Some(fill));
        self.surface
    }

    /// What is shared, moved and scaled.
    pub fn form(&mut self, form: &Graphic, (x, y): (f32, f32), scale: f32) {
        self.flush();
        self.surface.push_transform(&Transform::from_row(scale, 0.0, 0.0, scale, x, y));
        self.surface.draw_graphic(form.clone());
        self.surface.pop();
    }

    /// Draws what is still to be drawn.
    pub fn finish(mut self) {
        self.flush();
        self.surface.set_fill(None);
        self.surface.set_stroke(None);
    }

    fn flush(&mut self) {
        let Some((manner, path)) = self.pending.take() else { return };
        let (fill, stroke) = (manner.fill(), manner.stroke());
        let Some(path) = path.finish().filter(|_| fill.is_some() || stroke.is_some()) else { return };
        self.surface.set_fill(fill);
        self.surface.set_stroke(stroke);
        self.surface.draw_path(&path);
    }
}
