//! A finished SVG read back as lines and boxes, whoever wrote it.

/// A place, in the units of the drawing.
pub type Point = (f64, f64);

/// What a picture shows.
#[derive(Debug, Default, Clone)]
pub struct Drawn {
    /// Every line as the corners that it passes.
    pub lines: Vec<Vec<Point>>,
    /// Every box: left, top, right, bottom.
    pub boxes: Vec<[f64; 4]>,
    /// Where lines are joined.
    pub dots: Vec<Point>,
    /// Lines are curves.
    pub curved: bool,
}

/// Value of an attribute of a tag.
pub fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    let from = tag.find(&format!(" {name}=\""))? + name.len() + 3;
    tag[from..].split('"').next()
}

fn number(tag: &str, name: &str) -> f64 {
    attribute(tag, name).and_then(|t| t.parse().ok()).unwrap_or(0.0)
}

/// The tags of a text in order.
pub fn tags(svg: &str) -> impl Iterator<Item = &str> {
    svg.split('<').skip(1).filter_map(|t| t.split('>').next())
}

/// Reads a drawing of ours.
pub fn ours(svg: &str) -> Drawn {
    let mut drawn = Drawn::default();
    for tag in tags(svg) {
        let class = attribute(tag, "class").unwrap_or("");
        if tag.starts_with("path") && class.starts_with("feed") {
            drawn.lines.push(corners(attribute(tag, "d").unwrap_or("")));
        } else if tag.starts_with("rect") && (class == "box" || class == "bar") {
            let [x, y] = [number(tag, "x"), number(tag, "y")];
            drawn.boxes.push([x, y, x + number(tag, "width"), y + number(tag, "height")]);
        } else if tag.starts_with("polygon") && class == "port" {
            drawn.boxes.push(around(&points(attribute(tag, "points").unwrap_or(""))));
        } else if tag.starts_with("circle") && class == "dot" {
            drawn.dots.push((number(tag, "cx"), number(tag, "cy")));
        }
    }
    drawn
}

/// The smallest box around some points.
pub fn around(points: &[Point]) -> [f64; 4] {
    let start = [f64::MAX, f64::MAX, f64::MIN, f64::MIN];
    points.iter().fold(start, |b, (x, y)| [b[0].min(*x), b[1].min(*y), b[2].max(*x), b[3].max(*y)])
}

/// Pairs of numbers, in whatever way they are parted.
pub fn points(text: &str) -> Vec<Point> {
    let split = |c: char| c == ',' || c == ' ' || c.is_ascii_alphabetic();
    let numbers: Vec<f64> = text.split(split).filter_map(|n| n.parse().ok()).collect();
    numbers.chunks_exact(2).map(|p| (p[0], p[1])).collect()
}

/// Corners of a path of straight lines whose corners are rounded: of `L a Q b c` only `b` is a corner.
fn corners(path: &str) -> Vec<Point> {
    let mut found = Vec::new();
    let mut from = 0;
    let starts: Vec<usize> = path.match_indices(['M', 'L', 'Q']).map(|(at, _)| at).chain([path.len()]).collect();
    for (at, end) in starts.iter().enumerate().skip(1) {
        let piece = &path[from..*end];
        from = *end;
        let next = path[*end..].chars().next();
        let here = points(piece);
        let rounded = piece.starts_with('L') && next == Some('Q') && at > 1;
        if !rounded {
            found.extend(here.first());
        }
    }
    found
}
