//! A scene as SVG.
//!
//! There are no ids, scripts or style attributes in it: colours are classes, so that a page may show it in light and in dark.
//! Every text says how wide it is. All text is escaped.

use super::colour;
use super::geometry::{Point, Rect};
use super::outline::{self, Step, on_circle};
use super::scene::{Anchor, BoxMark, Form, Lettering, Mark, Scene, SceneMedium, Shape, Shared};
use super::symbol::{Symbol, stalk};

/// What each class looks like on light paper; other formats read it too. A later rule goes before an earlier one.
pub const STYLE: &str = "text{font-family:Helvetica,Arial,sans-serif;fill:#16202a}.box,.face{fill:#ffffff;stroke:#16202a}\
    .bar,.dot,.sign-solid,.part-solid{fill:#16202a}.feed,.arc,.part,.sign,.flag,.bracket,.port{fill:none}\
    .part,.sign,.flag,.bracket,.port,.arc-edge{stroke:#16202a}.under,.sign-face{fill:#ffffff}.sign-face{stroke:#16202a}\
    .small{fill:#4a5661}.plate-edge{fill:#e9edee;stroke:#16202a}.part-soft{fill:none;stroke:#4a5661}.arc-edge{fill:none}\
    .ground{fill:#aab5bc}.arc-white{stroke:#ffffff}.arc-green{stroke:#2f9e4f}.arc-yellow{stroke:#e0b000}\
    .arc-red{stroke:#cc2b2b}.arc-blue{stroke:#2f6fd0}.call{fill:#16202a;stroke:#ffffff}.call-number{fill:#ffffff}\
    .lead,.gone,.in-part,.false,.rays{fill:none;stroke:#16202a}.still{fill:none;stroke:#0b5fae}.false-face{fill:#ffffff;stroke:#a33b00}\
    .false{stroke:#a33b00}.lit{fill:#f2c200;stroke:#16202a}.opened,.set{fill:#16202a}.shows{fill:#16202a;stroke:#ffffff}.before{fill:#aab5bc}.needle{stroke:#16202a}.zone{fill:none;stroke:#4a5661}\
    .glass{fill:#dfe5e8;stroke:#4a5661}.veil{fill:#ffffff;fill-opacity:.72}\
    .chart,.level,.span,.bound{fill:none;stroke:#16202a}.grid{fill:none;stroke:#aab5bc}.curve{fill:none;stroke-linejoin:round}\
    .curve-plain{stroke:#16202a}.curve-broken{stroke:#0b5fae}.plot-bar{fill:#dfe5e8;stroke:#16202a}";

/// A file of its own, in light colours, with its style.
pub fn write(scene: &Scene) -> String {
    let head = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}pt\" height=\"{h}pt\" viewBox=\"0 0 {w} {h}\" role=\"img\">\n",
        w = number(scene.width),
        h = number(scene.height)
    );
    let paper = "<rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n";
    format!(
        "{head}{}<style>{}</style>\n{}{paper}{}</svg>\n",
        words(scene),
        style(&scene.media),
        scene.shared.as_deref().map_or(String::new(), write_shared),
        marks_svg(scene, &scene.marks)
    )
}

/// For a page that brings the classes: one SVG for each band, so that a long drawing can go on on the next page.
pub fn write_inline(scene: &Scene) -> Vec<String> {
    let mut pieces = Vec::new();
    let (mut marks_done, mut top) = (0, 0.0);
    let mut ends: Vec<(usize, f64)> = scene.folds.iter().map(|f| (f.marks, f.bottom)).collect();
    ends.pop();
    ends.push((scene.marks.len(), scene.height));
    for (at, (end, bottom)) in ends.iter().enumerate() {
        let marks = scene.marks.get(marks_done..*end).unwrap_or_default();
        pieces.push(piece(scene, marks, (top, *bottom), at));
        (marks_done, top) = (*end, *bottom);
    }
    pieces
}

fn piece(scene: &Scene, marks: &[Mark], (top, bottom): (f64, f64), at: usize) -> String {
    let (wide, high) = (number(scene.width), number(bottom - top));
    let about = if at == 0 { words(scene) } else { format!("<title>{}, continued</title>\n", escape(&scene.title)) };
    let marks = marks_svg(scene, marks);
    format!("<svg role=\"img\" viewBox=\"0 {} {wide} {high}\">\n{about}{marks}</svg>\n", number(top))
}

/// Title and text alternative.
fn words(scene: &Scene) -> String {
    let lines: Vec<String> = scene.alternative.iter().map(|l| format!("{}.", escape(l))).collect();
    let lines = lines.join("\n");
    format!("<title>{}</title>\n<desc>{}\n{lines}</desc>\n", escape(&scene.title), escape(&scene.reading))
}

fn style(media: &[SceneMedium]) -> String {
    let mut css = STYLE.to_owned();
    for medium in media {
        let (class, colour) = (&medium.class, colour::checked(&medium.colour));
        css.push_str(&format!(".feed.{class}{{stroke:{colour}}}.wedge.{class},.tag.{class}{{fill:{colour}}}"));
    }
    css
}

fn marks_svg(scene: &Scene, marks: &[Mark]) -> String {
    let dots: Vec<Point> = marks.iter().filter_map(|m| if let Mark::Dot(p) = m { Some(*p) } else { None }).collect();
    marks.iter().map(|mark| mark_svg(scene, mark, &dots)).collect()
}

fn mark_svg(scene: &Scene, mark: &Mark, dots: &[Point]) -> String {
    match mark {
        Mark::Box(mark) => box_svg(mark),
        Mark::Bar { rect, name, .. } => format!("<rect class=\"bar\" {}/>\n{}", place(rect), text(name, "")),
        Mark::Feed { medium, points, wedge } => {
            scene.media.get(*medium).map_or(String::new(), |m| feed_svg(m, points, *wedge, dots))
        }
        Mark::Tag { medium, at } => scene.media.get(*medium).map_or(String::new(), |m| tag_svg(m, *at)),
        Mark::Dot(at) => circle("dot", *at, outline::DOT, 0.0),
        Mark::Device { symbol, at, down, reached, name, .. } => {
            let stalk: String =
                if *reached { stalk(*symbol, *at, *down).iter().map(shape_svg).collect() } else { String::new() };
            format!("{}{stalk}{}", symbol_svg(*symbol, *at, *down), text(name, ""))
        }
        Mark::Bracket { x, span, word } => bracket_svg(*x, *span, word),
        Mark::Flag { rect, words } => flag_svg(rect, words),
        Mark::Port { rect, name, .. } => format!("{}{}", port_svg(rect), text(name, "")),
        Mark::Key { medium, at } => scene.media.get(*medium).map_or(String::new(), |m| key_svg(m, *at)),
        Mark::Curve { class, weight, dashes, points } => curve_svg(class, *weight, dashes, points),
        Mark::Shape(shape) => shape_svg(shape),
        Mark::Callout { at, number, .. } => call_svg(*at, *number),
        Mark::Words(words) => text(words, ""),
        Mark::Shared(at, scale) => scene.shared.as_ref().map_or(String::new(), |s| use_svg(&s.id, *at, *scale)),
    }
}

fn box_svg(mark: &BoxMark) -> String {
    let outline = format!("<rect class=\"box\" stroke-width=\"1\" rx=\"2.5\" {}/>\n", place(&mark.rect));
    let small: String = mark.small.iter().map(|t| text(t, "")).collect();
    let held = mark.holds.map_or(String::new(), |(symbol, at)| symbol_svg(symbol, at, false));
    format!("{outline}{held}{}{small}", text(&mark.name, " font-weight=\"600\""))
}

/// A line; one with gaps has a thin thread under it, so that the eye can follow it round a bend.
fn feed_svg(medium: &SceneMedium, points: &[Point], wedge: bool, dots: &[Point]) -> String {
    let Some(tip) = points.last() else { return String::new() };
    let line = outline::feed_line(points, wedge);
    let (class, bent) = (&medium.class, path(&outline::bent(&line, dots)));
    let thread = format!("<path class=\"feed {class}\" stroke-width=\"{}\" d=\"{bent}\"/>\n", number(outline::THREAD));
    let dashes = dashes(&outline::dashes(medium));
    let path = format!(
        "{}<path class=\"feed {class}\" stroke-width=\"{}\"{dashes} d=\"{bent}\"/>\n",
        if dashes.is_empty() { "" } else { &thread },
        number(outline::FEED)
    );
    if !wedge {
        return path;
    }
    format!("{path}<polygon class=\"wedge {class}\" points=\"{}\"/>\n", list(&outline::wedge(*tip)))
}

fn curve_svg(class: &str, weight: f64, lengths: &[f64], points: &[Point]) -> String {
    let (weight, dashes, points) = (number(weight), dashes(lengths), list(points));
    format!("<polyline class=\"curve {class}\" stroke-width=\"{weight}\"{dashes} points=\"{points}\"/>\n")
}

fn dashes(lengths: &[f64]) -> String {
    if lengths.is_empty() {
        return String::new();
    }
    let lengths: Vec<String> = lengths.iter().copied().map(number).collect();
    format!(" stroke-dasharray=\"{}\"", lengths.join(" "))
}

fn path(steps: &[Step]) -> String {
    let step = |step: &Step| match step {
        Step::Begin(to) => format!("M{}", pair(*to)),
        Step::Line(to) => format!("L{}", pair(*to)),
        Step::Bend(corner, to) => format!("Q{} {}", pair(*corner), pair(*to)),
    };
    steps.iter().map(step).collect()
}

fn tag_svg(medium: &SceneMedium, at: Point) -> String {
    let (under, words) = outline::tag(medium, at);
    let class = format!(" class=\"tag {}\" font-weight=\"700\"", medium.class);
    format!("<rect class=\"under\" {}/>\n{}", place(&under), lettering(&words, &class))
}

fn key_svg(medium: &SceneMedium, at: Point) -> String {
    let (line, tag, name) = outline::key(medium, at);
    let class = format!(" class=\"tag {}\" font-weight=\"700\"", medium.class);
    format!("{}{}{}", feed_svg(medium, &line, false, &[]), lettering(&tag, &class), text(&name, ""))
}

fn bracket_svg(x: f64, span: (f64, f64), word: &Lettering) -> String {
    format!(
        "<polyline class=\"bracket\" stroke-width=\"1.2\" points=\"{}\"/>\n<rect class=\"under\" {}/>\n{}",
        list(&outline::bracket(x, span)),
        place(&outline::bracket_paper(word)),
        text(word, "")
    )
}

fn flag_svg(rect: &Rect, words: &Lettering) -> String {
    let points = list(&outline::flag(rect, words));
    format!("<polyline class=\"flag\" stroke-width=\"0.8\" points=\"{points}\"/>\n{}", text(words, ""))
}

fn port_svg(rect: &Rect) -> String {
    format!("<polygon class=\"port\" stroke-width=\"0.8\" points=\"{}\"/>\n", list(&outline::port(rect)))
}

fn call_svg(at: Point, number: usize) -> String {
    let words = outline::call_number(at, number);
    format!(
        "{}{}",
        circle("call", at, outline::call_radius(number), 0.8),
        lettering(&words, " class=\"call-number\" font-weight=\"700\"")
    )
}

fn symbol_svg(symbol: Symbol, at: Point, down: bool) -> String {
    symbol.shapes(at, down).iter().map(shape_svg).collect()
}

fn shape_svg(shape: &Shape) -> String {
    let class = format!("class=\"{}\" stroke-width=\"{}\"", shape.class, number(shape.weight));
    match &shape.form {
        Form::Line(points) => format!("<polyline {class} points=\"{}\"/>\n", list(points)),
        Form::Polygon(points) => format!("<polygon {class} points=\"{}\"/>\n", list(points)),
        Form::Circle(at, radius) => circle(shape.class, *at, *radius, shape.weight),
        Form::Strokes(strokes) => {
            let each: Vec<String> = strokes.iter().map(|(a, b)| format!("M{}L{}", pair(*a), pair(*b))).collect();
            format!("<path {class} d=\"{}\"/>\n", each.concat())
        }
        Form::Rect(rect, round) => format!("<rect {class} rx=\"{}\" {}/>\n", number(*round), place(rect)),
        Form::Arc(middle, radius, from, to) => {
            let large = u8::from((to - from).abs() > 180.0);
            let (start, end) = (on_circle(*middle, *radius, *from), on_circle(*middle, *radius, *to));
            let r = number(*radius);
            format!("<path {class} d=\"M{}A{r} {r} 0 {large} 1 {}\"/>\n", pair(start), pair(end))
        }
    }
}

/// What many drawings share, to be used by its id.
pub fn write_shared(shared: &Shared) -> String {
    let shapes: String = shared.shapes.iter().map(shape_svg).collect();
    format!("<defs><g class=\"outlines\" id=\"{}\">\n{shapes}</g></defs>\n", escape(&shared.id))
}

fn use_svg(id: &str, at: Point, scale: f64) -> String {
    let (x, y) = (number(at.x), number(at.y));
    let scale = if (scale - 1.0).abs() < 1e-6 { String::new() } else { format!(" scale({})", finer(scale)) };
    format!("<use href=\"#{}\" transform=\"translate({x} {y}){scale}\"/>\n", escape(id))
}

/// A number with at most six decimals.
fn finer(n: f64) -> String {
    format!("{n:.6}").trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn circle(class: &str, at: Point, radius: f64, weight: f64) -> String {
    let width = if weight > 0.0 { format!(" stroke-width=\"{}\"", number(weight)) } else { String::new() };
    let (x, y, r) = (number(at.x), number(at.y), number(radius));
    format!("<circle class=\"{class}\"{width} cx=\"{x}\" cy=\"{y}\" r=\"{r}\"/>\n")
}

fn text(words: &Lettering, more: &str) -> String {
    lettering(words, &if words.small { format!(" class=\"small\"{more}") } else { more.to_owned() })
}

fn lettering(words: &Lettering, attributes: &str) -> String {
    let anchor = match words.anchor {
        Anchor::Start => "",
        Anchor::Middle => " text-anchor=\"middle\"",
        Anchor::End => " text-anchor=\"end\"",
    };
    let size = number(words.size);
    let line = |line: outline::Line<'_>| {
        let (x, y, length) = (number(line.at.x), number(line.at.y), number(line.length));
        format!(
            "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\" textLength=\"{length}\" lengthAdjust=\"spacingAndGlyphs\"{anchor}{attributes}>{}</text>\n",
            escape(line.text)
        )
    };
    outline::lines(words, attributes.contains("font-weight")).map(line).collect()
}

fn place(rect: &Rect) -> String {
    let [x, y, w, h] = [rect.x, rect.y, rect.width.max(0.0), rect.height.max(0.0)].map(number);
    format!("x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\"")
}

fn list(points: &[Point]) -> String {
    points.iter().map(|p| pair(*p)).collect::<Vec<_>>().join(" ")
}

fn pair(point: Point) -> String {
    format!("{},{}", number(point.x), number(point.y))
}

/// A number with at most two decimals, the same on every machine.
fn number(n: f64) -> String {
    let text = format!("{:.2}", if n.is_finite() { n } else { 0.0 });
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\n' | '\t' => out.push(' '),
            '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => out.push('\u{fffd}'),
            c if c.is_control() => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}
