//! Part of pass 7: the marks of one band, lines under boxes.

use super::build::Stock;
use super::layers::{BAR, BRACKET, Bracket, CHAIN_INSET, Edge, Layers, PENNANT, Slot, Stands, TAG, Vertex, WEDGE};
use super::parts::Parts;
use super::route::is_tagged;
use super::sizes::{Shown, bus_again, head_height, row_spans, step_height, step_width};
use crate::diagram::geometry::{Point, Rect};
use crate::diagram::lettering::{SIZE, width};
use crate::diagram::plan::{Form, Label, Part, Row, Step};
use crate::diagram::scene::{Anchor, BoxMark, Form as Outline, Lettering, Mark, Shape};
use crate::diagram::symbol::{HALF_HEIGHT, REACH, Symbol};

/// Draws one band: lines under boxes.
pub(super) struct Pen<'a> {
    stock: &'a Stock<'a>,
    idle: &'a Parts,
    band: &'a Layers,
    origin: Point,
    under: Vec<Mark>,
    over: Vec<Mark>,
}

impl<'a> Pen<'a> {
    /// A pen for one band, whose upper left corner is there.
    pub fn new(stock: &'a Stock<'a>, idle: &'a Parts, band: &'a Layers, origin: Point) -> Self {
        Self { stock, idle, band, origin, under: Vec::new(), over: Vec::new() }
    }

    /// The marks of the band.
    pub fn draw(mut self) -> Vec<Mark> {
        for edge in &self.band.edges {
            self.edge(edge);
        }
        self.dots();
        for (at, vertex) in self.band.vertices.iter().enumerate() {
            match &vertex.stands {
                Stands::Part(part) => self.part(at, vertex, self.stock.shown(*part, self.idle)),
                Stands::Bus(part, continued) => self.bar(vertex, &bus_again(&self.stock.plan.parts[*part], *continued)),
                Stands::Port(part) => self.port(vertex, &self.stock.plan.parts[*part], false),
                Stands::Chain(steps, down) => self.chain(at, vertex, steps, *down),
                Stands::Passing => self.passing(at, vertex),
                Stands::Plain => self.plain(at, vertex),
            }
            if is_tagged(self.band, at) {
                self.tags(at);
            }
        }
        self.under.extend(self.over);
        self.under
    }

    fn at(&self, x: f64, y: f64) -> Point {
        Point::new(self.origin.x + x, self.origin.y + y)
    }

    fn column(&self, vertex: &Vertex) -> (f64, f64) {
        self.band.places[vertex.column]
    }

    /// The body of a vertex. Boxes of a column are equally wide.
    fn body(&self, vertex: &Vertex) -> Rect {
        let (x, wide) = self.column(vertex);
        let form = match vertex.stands {
            Stands::Part(part) | Stands::Bus(part, _) => Some(self.stock.plan.parts[part].form),
            _ => None,
        };
        let corner = self.at(x, vertex.y);
        match form {
            Some(Form::Box | Form::Device(_)) => Rect::new(corner.x, corner.y, wide, vertex.height),
            Some(Form::Bar) => Rect::new(corner.x + (wide - BAR) / 2.0, corner.y, BAR, vertex.height),
            _ => Rect::new(corner.x, corner.y, vertex.body, vertex.height),
        }
    }

    fn edge(&mut self, edge: &Edge) {
        let (from, to) = (&self.band.vertices[edge.from], &self.band.vertices[edge.to]);
        let (start, end) = (self.out_x(from), self.body(to).x);
        let (leaves, enters) = (edge.leaves + self.origin.y, self.band.enters(edge) + self.origin.y);
        let mut points = vec![Point::new(start, leaves)];
        if let Some(track) = edge.track.map(|t| t + self.origin.x) {
            points.extend([Point::new(track, leaves), Point::new(track, enters)]);
        }
        points.push(Point::new(end, enters));
        points.dedup_by(|a, b| a.meets(*b));
        self.under.push(Mark::Feed { medium: edge.medium, points, wedge: edge.wedge });
    }

    /// Where the line of a vertex leaves.
    fn out_x(&self, vertex: &Vertex) -> f64 {
        let (x, wide) = self.column(vertex);
        match vertex.stands {
            Stands::Passing => x + wide + self.origin.x,
            _ => self.body(vertex).right(),
        }
    }

    /// Lines that part are joined by a dot.
    fn dots(&mut self) {
        let edges = &self.band.edges;
        for vertex in 0..self.band.vertices.len() {
            let out: Vec<&Edge> = self.band.out_of(vertex).map(|e| &edges[e]).collect();
            for (at, edge) in out.iter().enumerate() {
                let Some(track) = edge.track else { continue };
                let same = |e: &&&Edge| e.track == Some(track) && (e.leaves - edge.leaves).abs() < 0.05;
                if out.iter().take(at).any(|e| same(&e)) {
                    continue;
                }
                let ends: Vec<f64> = out.iter().filter(same).map(|e| self.band.enters(e)).collect();
                for y in joints(edge.leaves, &ends) {
                    self.over.push(Mark::Dot(self.at(track, y)));
                }
            }
        }
    }

    fn tags(&mut self, vertex: usize) {
        let (x, wide) = self.column(&self.band.vertices[vertex]);
        let mut done: Vec<f64> = Vec::new();
        for edge in self.band.out_of(vertex).map(|e| &self.band.edges[e]) {
            if done.iter().all(|y| (y - edge.leaves).abs() > SIZE) {
                let at = self.at(x + wide + TAG / 2.0, edge.leaves);
                self.over.push(Mark::Tag { medium: edge.medium, at });
                done.push(edge.leaves);
            }
        }
    }

    fn part(&mut self, at: usize, vertex: &Vertex, shown: Shown<'_>) {
        match shown.form {
            Form::Bar => self.bar(vertex, shown.part),
            Form::Taker | Form::Outside => self.port(vertex, shown.part, true),
            Form::Box | Form::Device(_) => self.boxed(at, vertex, shown),
        }
        let border = self.body(vertex).x;
        for bracket in &vertex.brackets {
            self.bracket(vertex, bracket, border);
        }
        for (slot, dy) in &vertex.slots {
            if let Slot::Flag(words) = slot {
                self.lone_flag(words, border, self.origin.y + vertex.y + dy, vertex);
            }
        }
    }

    fn bar(&mut self, vertex: &Vertex, part: &Part) {
        let body = self.body(vertex);
        let lines = [part.name.lines.as_slice(), &part.detail.lines].concat();
        let head = head_height(Shown::own(part));
        let name = Lettering::new(lines, Point::new(body.centre().x, body.y + 7.0), Anchor::Middle);
        let rect = Rect::new(body.x, body.y + head, body.width, body.height - head);
        self.over.push(Mark::Bar { of: part.of.clone(), rect, name });
    }

    fn boxed(&mut self, at: usize, vertex: &Vertex, shown: Shown<'_>) {
        let (rect, part) = (self.body(vertex), shown.part);
        let middle = rect.centre().x;
        let spans = row_spans(shown);
        let text = part.name.height() + part.detail.height();
        let room = match (shown.form, part.rows.as_slice()) {
            (Form::Device(_), _) => text + 6.0,
            (_, [] | [Row { .. }]) if part.rows.iter().all(|r| r.name.text.is_empty()) => vertex.height,
            (_, [row, ..]) if row.name.text.is_empty() => spans.first().map_or(head_height(shown), |s| s.1),
            _ => head_height(shown),
        };
        let base = rect.y + (room - text) / 2.0 + SIZE * 0.86;
        let lettering =
            |label: &Label, y: f64| Lettering::new(label.lines.clone(), Point::new(middle, y), Anchor::Middle);
        let mut small = Vec::new();
        if !part.detail.lines.is_empty() {
            small.push(lettering(&part.detail, base + part.name.height()).small());
        }
        for (row, (top, height)) in part.rows.iter().zip(&spans).filter(|(r, _)| !r.name.text.is_empty()) {
            let y = rect.y + top + (height - row.name.height()) / 2.0 + SIZE * 0.86;
            small.push(lettering(&row.name, y).small());
        }
        let name = lettering(&part.name, base);
        let holds = if let Form::Device(symbol) = shown.form { self.held(at, vertex, symbol, rect) } else { None };
        self.over.push(Mark::Box(BoxMark { of: part.of.clone(), rect, name, small, holds }));
    }

    /// The symbol inside a device that needs something itself, and the line that passes it.
    fn held(&mut self, at: usize, vertex: &Vertex, symbol: Symbol, rect: Rect) -> Option<(Symbol, Point)> {
        let middle = Point::new(rect.centre().x, rect.y + vertex.out);
        let passing = self.band.ins(at).map(|e| &self.band.edges[e]).find(|e| e.slot == 0)?;
        let medium = passing.medium;
        self.piece(medium, rect.x, middle.x - REACH, middle.y);
        self.piece(medium, middle.x + REACH, rect.right(), middle.y);
        Some((symbol, middle))
    }

    /// A level piece of line, over the boxes.
    fn piece(&mut self, medium: usize, from: f64, to: f64, y: f64) {
        if to - from > 0.05 {
            self.over.push(Mark::Feed { medium, points: vec![Point::new(from, y), Point::new(to, y)], wedge: false });
        }
    }

    fn port(&mut self, vertex: &Vertex, part: &Part, takes: bool) {
        let rect = self.body(vertex);
        let [name, detail] = &part.port;
        let top = rect.y + (rect.height - name.height() - detail.height()) / 2.0 + SIZE * 0.86;
        let x = rect.x + 5.0;
        let small = Lettering::new(detail.lines.clone(), Point::new(x, top + name.height()), Anchor::Start).small();
        let name = Lettering::new(name.lines.clone(), Point::new(x, top), Anchor::Start);
        self.over.push(Mark::Port { of: part.of.clone(), rect, takes, name });
        self.over.push(Mark::Words(small));
    }

    fn plain(&mut self, at: usize, vertex: &Vertex) {
        let (of, name, holds) = (at.to_string(), Lettering::default(), None);
        self.over.push(Mark::Box(BoxMark { of, rect: self.body(vertex), name, small: Vec::new(), holds }));
    }

    fn passing(&mut self, at: usize, vertex: &Vertex) {
        let (x, wide) = self.column(vertex);
        let y = self.origin.y + vertex.y + vertex.out;
        if let Some(medium) = self.band.ins(at).next().map(|e| self.band.edges[e].medium) {
            let line = vec![Point::new(self.origin.x + x, y), Point::new(self.origin.x + x + wide, y)];
            self.under.push(Mark::Feed { medium, points: line, wedge: false });
        }
    }

    fn chain(&mut self, at: usize, vertex: &Vertex, steps: &[usize], down: bool) {
        let steps: Vec<&'a Step> = steps.iter().filter_map(|step| self.stock.plan.steps.get(*step)).collect();
        let Some(medium) = self.band.ins(at).next().map(|e| self.band.edges[e].medium) else { return };
        if down {
            self.chain_down(vertex, &steps, medium);
        } else {
            self.chain_across(vertex, &steps, medium);
        }
    }

    fn chain_across(&mut self, vertex: &Vertex, steps: &[&Step], medium: usize) {
        let rect = self.body(vertex);
        let y = rect.y + vertex.out;
        let (mut x, mut done) = (rect.x, rect.x);
        for step in steps {
            let wide = step_width(step);
            let middle = x + wide / 2.0;
            let (lines, height) = (step.label().lines.clone(), step.label().height());
            match step {
                Step::Device { of, symbol, reached, .. } => {
                    self.piece(medium, done, middle - REACH, y);
                    done = middle + REACH;
                    let base = y - HALF_HEIGHT - height + SIZE * 0.7;
                    let name = Lettering::new(lines, Point::new(middle, base), Anchor::Middle);
                    self.over.push(Mark::Device {
                        of: of.clone(),
                        symbol: *symbol,
                        at: Point::new(middle, y),
                        down: false,
                        reached: *reached,
                        name,
                    });
                }
                Step::Flag(_) => {
                    let rect = Rect::new(x + 3.0, y - height - 4.0, wide - 6.0, height + 1.0);
                    self.over.push(flag(rect, lines, Some(y)));
                }
            }
            x += wide;
        }
        self.piece(medium, done, rect.right(), y);
    }

    fn chain_down(&mut self, vertex: &Vertex, steps: &[&Step], medium: usize) {
        let rect = self.body(vertex);
        let x = rect.x + CHAIN_INSET;
        let mut start = vec![Point::new(rect.x, rect.y + 5.0), Point::new(x, rect.y + 5.0)];
        let mut top = rect.y + 8.0;
        for step in steps {
            let high = step_height(step);
            let (lines, text) = (step.label().lines.clone(), step.label().height());
            let middle = Point::new(x, top + high / 2.0);
            match step {
                Step::Device { of, symbol, reached, .. } => {
                    start.push(Point::new(x, middle.y - REACH));
                    self.over.push(Mark::Feed { medium, points: std::mem::take(&mut start), wedge: false });
                    start.push(Point::new(x, middle.y + REACH));
                    let name = Lettering::new(
                        lines,
                        Point::new(x + HALF_HEIGHT + 4.0, middle.y - text / 2.0 + SIZE * 0.86),
                        Anchor::Start,
                    );
                    self.over.push(Mark::Device {
                        of: of.clone(),
                        symbol: *symbol,
                        at: middle,
                        down: true,
                        reached: *reached,
                        name,
                    });
                }
                Step::Flag(_) => {
                    let rect = Rect::new(x, top + 1.5, step.label().wide + PENNANT, high - 3.0);
                    self.over.push(flag(rect, lines, None));
                }
            }
            top += high;
        }
        let out = rect.y + vertex.out;
        start.extend([Point::new(x, out), Point::new(rect.right(), out)]);
        self.over.push(Mark::Feed { medium, points: start, wedge: false });
    }

    fn bracket(&mut self, vertex: &Vertex, bracket: &Bracket, border: f64) {
        let slot = |at: usize| self.origin.y + vertex.y + vertex.slots.get(at).map_or(0.0, |s| s.1);
        let x = border - WEDGE - 3.0 - bracket.level as f64 * BRACKET;
        let span = (slot(bracket.slots.0) - 4.5, slot(bracket.slots.1) + 4.5);
        let middle = slot(bracket.word_between.0).midpoint(slot(bracket.word_between.1));
        let wide = width(&bracket.word, SIZE);
        let word = Lettering::new(
            vec![bracket.word.to_string()],
            Point::new(x - wide - 2.5, middle + SIZE * 0.33),
            Anchor::Start,
        );
        self.over.push(Mark::Bracket { x, span, word });
    }

    /// A condition that stands on no feed: its pole reaches the border of what it is asked of.
    fn lone_flag(&mut self, words: &Label, border: f64, y: f64, vertex: &Vertex) {
        let (lines, height, wide) = (words.lines.clone(), words.height() + 2.0, words.wide + PENNANT);
        let depth = vertex.brackets.iter().map(|b| b.level + 1).max().unwrap_or(0) as f64;
        let right = border - WEDGE - depth * BRACKET;
        let stub = Outline::Line(vec![Point::new(right, y), Point::new(border, y)]);
        self.over.push(Mark::Shape(Shape { class: "part", weight: 1.0, form: stub }));
        self.over.push(flag(Rect::new(right - wide, y - height / 2.0, wide, height), lines, None));
    }
}

fn flag(rect: Rect, lines: Vec<String>, pole_to: Option<f64>) -> Mark {
    let words = Lettering::new(lines, Point::new(rect.x + 3.5, rect.y + SIZE * 0.86 + 1.0), Anchor::Start);
    let rect = pole_to.map_or(rect, |y| Rect::new(rect.x, rect.y, rect.width, y - rect.y));
    Mark::Flag { rect, words }
}

/// Where on a track three or more lines meet: the line comes in from the left at one height and goes out to the right at others.
fn joints(leaves: f64, ends: &[f64]) -> Vec<f64> {
    let low = ends.iter().copied().fold(leaves, f64::min);
    let high = ends.iter().copied().fold(leaves, f64::max);
    let mut heights: Vec<f64> = ends.to_vec();
    heights.push(leaves);
    heights.sort_by(f64::total_cmp);
    heights.dedup_by(|a, b| (*a - *b).abs() < 0.05);
    let arms = |y: f64| {
        let near = |other: f64| (other - y).abs() < 0.05;
        usize::from(near(leaves))
            + usize::from(ends.iter().any(|e| near(*e)))
            + usize::from(y > low + 0.05)
            + usize::from(y < high - 0.05)
    };
    heights.into_iter().filter(|y| arms(*y) >= 3).collect()
}
