//! Room on a drawing: what is taken, and where a thing touches nothing.

use crate::diagram::geometry::{Point, Rect};

/// Something that takes room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Blob {
    /// Middle and radius.
    Disc(Point, f64),
    /// A rectangle.
    Board(Rect),
}

impl Blob {
    /// What encloses it.
    pub(super) fn rect(&self) -> Rect {
        match self {
            Self::Disc(at, r) => Rect::new(at.x - r, at.y - r, 2.0 * r, 2.0 * r),
            Self::Board(rect) => *rect,
        }
    }

    /// How far apart two are; less than nothing where they overlap.
    pub(super) fn apart(&self, other: &Self) -> f64 {
        match (self, other) {
            (Self::Disc(a, r), Self::Disc(b, s)) => libm::hypot(a.x - b.x, a.y - b.y) - r - s,
            (Self::Disc(at, r), Self::Board(rect)) | (Self::Board(rect), Self::Disc(at, r)) => outside(rect, *at) - r,
            (Self::Board(a), Self::Board(b)) => {
                let across = (a.x - b.right()).max(b.x - a.right());
                let down = (a.y - b.bottom()).max(b.y - a.bottom());
                if across > 0.0 && down > 0.0 { libm::hypot(across, down) } else { across.max(down) }
            }
        }
    }

    /// The place on its edge in this direction from its middle, which points to the right for 90 degrees.
    pub(super) fn edge(&self, degrees: f64) -> Point {
        let (x, y) = (libm::sin(degrees.to_radians()), -libm::cos(degrees.to_radians()));
        match self {
            Self::Disc(at, r) => Point::new(at.x + x * r, at.y + y * r),
            Self::Board(rect) => {
                let along = |half: f64, way: f64| if way.abs() < 1e-6 { f64::MAX } else { half / way.abs() };
                let reach = along(rect.width / 2.0, x).min(along(rect.height / 2.0, y));
                let middle = rect.centre();
                Point::new(middle.x + x * reach, middle.y + y * reach)
            }
        }
    }

    /// The place on it that is nearest to a point outside.
    pub(super) fn nearest(&self, to: Point) -> Point {
        match self {
            Self::Disc(at, r) => {
                let long = libm::hypot(to.x - at.x, to.y - at.y).max(1e-6);
                Point::new(at.x + (to.x - at.x) * r / long, at.y + (to.y - at.y) * r / long)
            }
            Self::Board(rect) => Point::new(to.x.clamp(rect.x, rect.right()), to.y.clamp(rect.y, rect.bottom())),
        }
    }
}

fn outside(rect: &Rect, at: Point) -> f64 {
    let (across, down) = ((rect.x - at.x).max(at.x - rect.right()), (rect.y - at.y).max(at.y - rect.bottom()));
    if across > 0.0 && down > 0.0 { libm::hypot(across, down) } else { across.max(down) }
}

/// What is taken on one drawing.
#[derive(Debug, Clone, Default)]
pub(super) struct Room {
    /// The edge of the drawing.
    pub(super) edge: Rect,
    /// What is there, by turns.
    pub(super) taken: Vec<Blob>,
}

impl Room {
    /// True if it stays inside the edge and that far from everything but `but`.
    pub(super) fn is_free(&self, blob: &Blob, far: f64, but: Option<usize>) -> bool {
        let rect = blob.rect();
        let inside = rect.x >= self.edge.x
            && rect.y >= self.edge.y
            && rect.right() <= self.edge.right()
            && rect.bottom() <= self.edge.bottom();
        inside && self.taken.iter().enumerate().all(|(at, other)| Some(at) == but || other.apart(blob) >= far)
    }

    /// True if a thin straight line touches nothing but `but`.
    pub(super) fn is_clear(&self, from: Point, to: Point, but: usize) -> bool {
        let steps = (libm::hypot(to.x - from.x, to.y - from.y) / 1.5).ceil().clamp(1.0, 400.0) as i32;
        (0..=steps).all(|n| {
            let part = f64::from(n) / f64::from(steps);
            let at = Point::new(from.x + (to.x - from.x) * part, from.y + (to.y - from.y) * part);
            self.is_free(&Blob::Disc(at, 0.5), 0.6, Some(but))
        })
    }
}
