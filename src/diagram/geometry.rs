//! Points and rectangles, in points (1/72 in), down and to the right.

/// A place on the page.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

impl Point {
    /// The point at these places.
    pub fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// True if both are the same place, as far as ink goes.
    pub fn meets(self, other: Self) -> bool {
        (self.x - other.x).abs() < 0.05 && (self.y - other.y).abs() < 0.05
    }
}

/// An upright rectangle.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Rect {
    /// Left edge.
    pub x: f64,
    /// Upper edge.
    pub y: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

impl Rect {
    /// A rectangle from its upper left corner.
    pub fn new(x: f64, y: f64, width: f64, height: f64) -> Self {
        Self { x, y, width, height }
    }

    /// Right edge.
    pub fn right(&self) -> f64 {
        self.x + self.width
    }

    /// Lower edge.
    pub fn bottom(&self) -> f64 {
        self.y + self.height
    }

    /// The middle.
    pub fn centre(&self) -> Point {
        Point::new(self.x + self.width / 2.0, self.y + self.height / 2.0)
    }

    /// True if the two share more than an edge.
    pub fn overlaps(&self, other: &Self) -> bool {
        let slack = 0.01;
        self.x + slack < other.right()
            && other.x + slack < self.right()
            && self.y + slack < other.bottom()
            && other.y + slack < self.bottom()
    }

    /// True if the point lies in it or on its edge.
    pub fn holds(&self, point: Point) -> bool {
        let slack = 0.05;
        point.x >= self.x - slack
            && point.x <= self.right() + slack
            && point.y >= self.y - slack
            && point.y <= self.bottom() + slack
    }

    /// The rectangle made smaller on every side; a negative amount makes it larger.
    #[must_use]
    pub fn inset(&self, by: f64) -> Self {
        Self::new(self.x + by, self.y + by, self.width - 2.0 * by, self.height - 2.0 * by)
    }
}
