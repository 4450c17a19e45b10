//! Symbols of devices on a feed.
//!
//! # Source
//! IEC 60617 (fuse, circuit breaker, switch, contactor contact, connection) and ISO 14617 / ISO 1219-1 (valve, filter), drawn
//! from memory of the general forms; what has no symbol there is a plain small frame.

use super::geometry::{Point, Rect};
use super::scene::{Form, Shape};
use crate::model::Kind;

/// What a device on a feed is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Symbol {
    Breaker,
    Fuse,
    Switch,
    Contact,
    Connector,
    Valve,
    Filter,
    Line,
    Plain,
}

/// From the middle to where the line goes on, pt.
pub const REACH: f64 = 9.0;
/// From the middle to the edge across, pt.
pub const HALF_HEIGHT: f64 = 6.5;

impl Symbol {
    /// The symbol of a kind.
    pub fn of(kind: Kind) -> Self {
        match kind {
            Kind::Breaker => Self::Breaker,
            Kind::Fuse => Self::Fuse,
            Kind::Switch | Kind::KeySwitch | Kind::Button => Self::Switch,
            Kind::Contactor | Kind::Relay => Self::Contact,
            Kind::Connector | Kind::Outlet => Self::Connector,
            Kind::Valve | Kind::Selector => Self::Valve,
            Kind::Filter | Kind::Strainer => Self::Filter,
            Kind::Line | Kind::Lead | Kind::Shaft | Kind::Mast | Kind::Port => Self::Line,
            _ => Self::Plain,
        }
    }

    /// Its shapes about a middle, along the line or turned down.
    pub fn shapes(self, middle: Point, down: bool) -> Vec<Shape> {
        let turn = |p: &mut Point| {
            let (x, y) = if down { (-p.y, p.x) } else { (p.x, p.y) };
            *p = Point::new(middle.x + x, middle.y + y);
        };
        let mut shapes = self.upright();
        for shape in &mut shapes {
            shape.form.each_point(turn);
        }
        shapes
    }

    fn upright(self) -> Vec<Shape> {
        let blade = || line(&[(-REACH, 0.0), (-5.0, 0.0), (5.0, -5.5)]);
        let rest = || line(&[(5.0, 0.0), (REACH, 0.0)]);
        let through = || line(&[(-REACH, 0.0), (REACH, 0.0)]);
        match self {
            Self::Breaker => {
                vec![blade(), rest(), line(&[(3.0, -2.0), (7.0, 2.0)]), line(&[(3.0, 2.0), (7.0, -2.0)])]
            }
            Self::Switch => vec![blade(), rest(), knob(-5.0), knob(5.0)],
            Self::Contact => vec![blade(), rest(), half_moon()],
            Self::Fuse => vec![frame(7.0, 3.2), through()],
            Self::Connector => vec![line(&[(-REACH, 0.0), (-2.2, 0.0)]), line(&[(2.2, 0.0), (REACH, 0.0)]), ring(2.2)],
            Self::Valve => vec![
                polygon(&[(-7.0, -4.5), (-7.0, 4.5), (7.0, -4.5), (7.0, 4.5)]),
                line(&[(-REACH, 0.0), (-7.0, 0.0)]),
                line(&[(7.0, 0.0), (REACH, 0.0)]),
            ],
            Self::Filter => vec![
                polygon(&[(-6.0, 0.0), (0.0, -6.0), (6.0, 0.0), (0.0, 6.0)]),
                line(&[(0.0, -6.0), (0.0, -3.5)]),
                line(&[(0.0, -1.25), (0.0, 1.25)]),
                line(&[(0.0, 3.5), (0.0, 6.0)]),
                line(&[(-REACH, 0.0), (-6.0, 0.0)]),
                line(&[(6.0, 0.0), (REACH, 0.0)]),
            ],
            Self::Line => {
                vec![frame(REACH, 2.4)]
            }
            Self::Plain => vec![frame(REACH, 5.0)],
        }
    }
}

/// The sign of a control that the pilot can reach: a stalk with a bar, on the side away from the name, clear of the symbol.
///
/// # Source
/// IEC 60617, actuating device, manually operated, from memory of the general form.
pub fn stalk(symbol: Symbol, middle: Point, down: bool) -> Vec<Shape> {
    let begin = match symbol {
        Symbol::Plain => 5.6,
        Symbol::Filter => 6.6,
        Symbol::Fuse | Symbol::Line => 3.4,
        _ => 1.6,
    };
    let along = |from: f64, to: f64| line(&[(0.0, begin + from), (0.0, begin + to)]);
    let bar = line(&[(-3.0, begin + 4.6), (3.0, begin + 4.6)]);
    let mut shapes = if begin > 5.0 {
        vec![along(0.0, 2.0), line(&[(-3.0, begin + 2.0), (3.0, begin + 2.0)])]
    } else {
        vec![along(0.0, 1.4), along(2.6, 4.6), bar]
    };
    for shape in &mut shapes {
        shape.form.each_point(|p| {
            let (x, y) = if down { (-p.y, p.x) } else { (p.x, p.y) };
            *p = Point::new(middle.x + x, middle.y + y);
        });
    }
    shapes
}

fn points(at: &[(f64, f64)]) -> Vec<Point> {
    at.iter().map(|(x, y)| Point::new(*x, *y)).collect()
}

fn line(at: &[(f64, f64)]) -> Shape {
    Shape { class: "sign", weight: 1.1, form: Form::Line(points(at)) }
}

fn polygon(at: &[(f64, f64)]) -> Shape {
    Shape { class: "sign-face", weight: 1.1, form: Form::Polygon(points(at)) }
}

fn frame(half_width: f64, half_height: f64) -> Shape {
    polygon(&[
        (-half_width, -half_height),
        (half_width, -half_height),
        (half_width, half_height),
        (-half_width, half_height),
    ])
}

fn knob(x: f64) -> Shape {
    Shape { class: "sign-face", weight: 1.0, form: Form::Circle(Point::new(x, 0.0), 1.4) }
}

fn ring(radius: f64) -> Shape {
    Shape { class: "sign-face", weight: 1.1, form: Form::Circle(Point::default(), radius) }
}

/// The half circle at the fixed contact of a contactor, as short straight lines, so that it can be turned.
fn half_moon() -> Shape {
    line(&[(5.0, 0.0), (5.4, 1.7), (6.8, 2.4), (8.2, 1.7), (8.6, 0.0)])
}

impl Form {
    /// Changes every point of a form that is made of points.
    pub fn each_point(&mut self, mut change: impl FnMut(&mut Point)) {
        match self {
            Self::Line(points) | Self::Polygon(points) => points.iter_mut().for_each(change),
            Self::Circle(middle, _) | Self::Arc(middle, ..) => change(middle),
            Self::Strokes(strokes) => strokes.iter_mut().flat_map(|(a, b)| [a, b]).for_each(change),
            Self::Rect(rect, _) => {
                let mut corner = Point::new(rect.x, rect.y);
                change(&mut corner);
                *rect = Rect::new(corner.x, corner.y, rect.width, rect.height);
            }
        }
    }
}
