//! Drawings: what they show is what the model says, and nothing stands on anything else.

use ribstitch::base::Sources;
use ribstitch::diagram::geometry::{Point, Rect};
use ribstitch::diagram::scene::{Form, Lettering, Shape};
use ribstitch::diagram::symbol::REACH;
use ribstitch::diagram::{Mark, Scene, draw, svg};
use ribstitch::doc::{Figure, FigureKind, Inline, Subject};
use ribstitch::model::{Model, Need, NodeIx};
use std::path::Path;

/// The demo's model.
pub fn demo() -> Model {
    let mut sources = Sources::default();
    let (model, diagnostics) = ribstitch::resolve::load(Path::new("aircraft/sandling"), &mut sources);
    model.unwrap_or_else(|| panic!("{diagnostics:?}"))
}

/// A figure of one system, of the whole aircraft, of the panel.
pub fn figure(kind: FigureKind, system: &str) -> Figure {
    let subject = if system.is_empty() { Subject::Aircraft } else { Subject::One(system.to_owned()) };
    let caption =
        vec![Inline::text(if system.is_empty() { format!("{kind:?}") } else { format!("The {system} system") })];
    Figure {
        id: format!("figure/{kind:?}/{system}").to_lowercase(),
        kind,
        subject,
        caption,
        panels: Vec::new(),
        plot: None,
    }
}

/// Every drawing of the demo.
pub fn all_figures(model: &Model) -> Vec<Figure> {
    let systems = model.systems.iter().map(|s| figure(FigureKind::System, s.id.as_str()));
    let whole = [figure(FigureKind::Overview, ""), figure(FigureKind::Panel, "")];
    systems.chain(whole).collect()
}

#[test]
#[ignore = "writes pictures to look at"]
fn pictures_of_the_demo() {
    let model = demo();
    std::fs::create_dir_all("target/look").unwrap();
    for figure in all_figures(&model) {
        let scene: Scene = draw(&figure, &model);
        let name = figure.id.replace('/', "-");
        std::fs::write(format!("target/look/{name}.svg"), svg::write(&scene)).unwrap();
        println!("{name}: {:.0} x {:.0} pt", scene.width, scene.height);
    }
}

/// Every connection that a drawing of a system has to show: from, through, to.
pub fn connections(model: &Model, system: &str) -> Vec<Connection> {
    let name = |n: NodeIx| model.item_of(n).map_or(model[n].id.clone(), |i| model[i].id.to_string());
    let own = |n: &NodeIx| model.item_of(*n).is_some_and(|i| model[model[i].system].id.as_str() == system);
    let mut all = Vec::new();
    for to in model.node_indices() {
        for feed in model[to].needs.iter().chain(&model[to].senses).flat_map(Need::feeds) {
            if own(&to) || own(&feed.from) || feed.through.iter().any(own) {
                let through = feed.through.iter().map(|n| model[*n].id.clone()).collect();
                all.push((name(feed.from), through, name(to)));
            }
        }
    }
    all.sort();
    all
}

pub type Connection = (String, Vec<String>, String);

/// The drawing as a reader sees it: lines, and what stands at their ends.
pub struct Reader<'a> {
    feeds: Vec<(&'a [Point], bool)>,
    pub things: Vec<(&'a str, Rect, bool)>,
    devices: Vec<(&'a str, Point, Point)>,
    held: Vec<(&'a str, Rect)>,
}

impl<'a> Reader<'a> {
    pub fn new(scene: &'a Scene) -> Self {
        let mut reader = Self { feeds: Vec::new(), things: Vec::new(), devices: Vec::new(), held: Vec::new() };
        for mark in &scene.marks {
            match mark {
                Mark::Feed { points, wedge, .. } => reader.feeds.push((points, *wedge)),
                Mark::Box(b) => {
                    reader.things.push((&b.of, b.rect, true));
                    if let Some((_, at)) = b.holds {
                        reader.devices.push((&b.of, Point::new(at.x - REACH, at.y), Point::new(at.x + REACH, at.y)));
                        reader.held.push((&b.of, b.rect));
                    }
                }
                Mark::Bar { of, rect, .. } => reader.things.push((of, *rect, true)),
                Mark::Port { of, rect, takes, .. } => reader.things.push((of, *rect, !takes)),
                Mark::Device { of, at, down: false, .. } => {
                    reader.devices.push((of, Point::new(at.x - REACH, at.y), Point::new(at.x + REACH, at.y)));
                }
                Mark::Device { of, at, down: true, .. } => {
                    reader.devices.push((of, Point::new(at.x, at.y - REACH), Point::new(at.x, at.y + REACH)));
                }
                _ => {}
            }
        }
        reader
    }

    /// What a line ends at, seen from its wedge, back to its source.
    pub fn connections(&self) -> Vec<Connection> {
        let mut all = Vec::new();
        for (points, _) in self.feeds.iter().filter(|(_, wedge)| *wedge) {
            let tip = points[points.len() - 1];
            let to: Vec<&str> =
                self.things.iter().filter(|(_, r, _)| r.holds(tip) && (r.x - tip.x).abs() < 0.1).map(|t| t.0).collect();
            assert_eq!(to.len(), 1, "a wedge touches one thing: {tip:?} {to:?}");
            let (from, through) = self.back(points[0]);
            all.push((from, through, to[0].to_owned()));
        }
        all.sort();
        all
    }

    fn back(&self, start: Point) -> (String, Vec<String>) {
        let mut at = start;
        let mut through = Vec::new();
        for _ in 0..100 {
            if let Some(device) = self.devices.iter().find(|d| d.2.meets(at)) {
                through.insert(0, device.0.to_owned());
                at = device.1;
                if !self.feeds.iter().any(|(p, _)| p[p.len() - 1].meets(at)) {
                    let before = self.devices.iter().find(|d| d.2.meets(at));
                    assert!(before.is_some(), "nothing comes to {} at {at:?}", device.0);
                    continue;
                }
            }
            if let Some((points, _)) = self.feeds.iter().find(|(p, wedge)| !wedge && p[p.len() - 1].meets(at)) {
                at = points[0];
                continue;
            }
            let source =
                self.things.iter().find(|(_, r, gives)| *gives && (r.right() - at.x).abs() < 0.1 && r.holds(at));
            return (
                source.unwrap_or_else(|| panic!("a line begins at {at:?}, where nothing is")).0.to_owned(),
                through,
            );
        }
        panic!("a line without end from {start:?}");
    }
}

/// The demo, and the four small aircraft that are wired otherwise.
fn models() -> Vec<Model> {
    let small = ["hand-start", "essential-bus", "twin", "display"].map(|name| {
        let mut sources = Sources::default();
        let (model, wrong) = ribstitch::resolve::load(&Path::new("tests/fixtures/wiring").join(name), &mut sources);
        model.unwrap_or_else(|| panic!("{name}: {wrong:?}"))
    });
    std::iter::once(demo()).chain(small).collect()
}

fn systems(model: &Model) -> Vec<(String, Scene)> {
    let ids = model.systems.iter().map(|s| s.id.to_string());
    ids.map(|id| (id.clone(), draw(&figure(FigureKind::System, &id), model))).collect()
}

#[test]
fn what_is_drawn_is_what_the_model_says_and_nothing_more() {
    let mut count = 0;
    for model in models() {
        for (id, scene) in systems(&model) {
            let (drawn, wanted) = (Reader::new(&scene).connections(), connections(&model, &id));
            count += wanted.len();
            assert_eq!(drawn, wanted, "{}: {id}", model.aircraft.name);
            assert_eq!(scene.alternative.len(), wanted.len(), "{id}: every connection in words");
        }
    }
    assert!(count > 200, "only {count} connections were drawn");
}

#[test]
fn every_item_of_a_system_is_in_its_drawing() {
    for model in models() {
        for (id, scene) in systems(&model) {
            let reader = Reader::new(&scene);
            let seen: Vec<&str> = reader.things.iter().map(|t| t.0).chain(reader.devices.iter().map(|d| d.0)).collect();
            for item in model.items.iter().filter(|i| model[i.system].id.as_str() == id) {
                let functions = item.functions.iter().map(|n| model[*n].id.as_str());
                let names: Vec<&str> = functions.chain([item.id.as_str()]).collect();
                assert!(names.iter().any(|n| seen.contains(n)), "{id}: {}", item.id);
            }
        }
    }
}

#[test]
fn the_overview_shows_what_is_missed_only_in_time_and_not_what_keeps_on() {
    let scene = draw(&figure(FigureKind::Overview, ""), &demo());
    let line = |wanted: &str| scene.alternative.iter().any(|line| line == wanted);
    assert!(line("oil → engine, in time (oil pressure)"), "{:#?}", scene.alternative);
    assert!(line("engine → ignition (rotation)") && !line("engine → ignition (power)"));
    let drawn = Reader::new(&scene).connections();
    assert!(drawn.iter().any(|(from, _, to)| from == "oil" && to == "engine"));
    assert_eq!(drawn.len(), scene.alternative.len());
}

#[test]
fn alternatives_of_what_takes_from_a_drawing_stand_in_a_bracket() {
    let scene = draw(&figure(FigureKind::System, "electrical"), &demo());
    let reader = Reader::new(&scene);
    let (_, port, _) = reader.things.iter().find(|(of, _, gives)| *of == "low-suction-light" && !gives).unwrap();
    let stands = |m: &Mark| {
        matches!(m, Mark::Bracket { x, span, word } if word.lines == ["either"] && *x < port.x && *x > port.x - 60.0
            && span.0 > port.y && span.1 < port.bottom())
    };
    assert!(scene.marks.iter().any(stands), "two feeds of which one is enough");
}

/// Straight pieces of every line.
fn pieces(scene: &Scene) -> impl Iterator<Item = (Point, Point, Point)> + '_ {
    let feeds = scene.marks.iter().filter_map(|m| if let Mark::Feed { points, .. } = m { Some(points) } else { None });
    feeds.flat_map(|points| points.windows(2).map(move |w| (w[0], w[1], points[0])))
}

/// Drawings of connections: every system, and the whole aircraft.
fn connected(model: &Model) -> Vec<(String, Scene)> {
    let whole = ("overview".to_owned(), draw(&figure(FigureKind::Overview, ""), model));
    systems(model).into_iter().chain([whole]).collect()
}

#[test]
fn boxes_do_not_overlap_and_no_feed_runs_through_one() {
    models().iter().flat_map(connected).for_each(|(id, scene)| boxes_stand_free(&id, &scene));
}

pub fn boxes_stand_free(id: &str, scene: &Scene) {
    let reader = Reader::new(scene);
    for (at, (name, a, _)) in reader.things.iter().enumerate() {
        for (other, b, _) in reader.things.iter().skip(at + 1) {
            assert!(!a.overlaps(b), "{id}: {name} and {other}");
        }
        for (start, end, _) in pieces(scene) {
            let inner = a.inset(0.6);
            let inside = reader.held.iter().any(|(_, r)| r.holds(start) && r.holds(end));
            let line = span(start, end);
            assert!(inside || !inner.overlaps(&line), "{id}: a feed runs through {name}: {start:?} {end:?}");
        }
    }
}

/// A straight piece as a thin rectangle.
fn span(a: Point, b: Point) -> Rect {
    let (x, y) = (a.x.min(b.x), a.y.min(b.y));
    Rect::new(x - 0.1, y - 0.1, (a.x - b.x).abs() + 0.2, (a.y - b.y).abs() + 0.2)
}

#[test]
fn feeds_run_level_or_upright_and_never_along_another() {
    models().iter().flat_map(connected).for_each(|(id, scene)| feeds_keep_apart(&id, &scene));
}

pub fn feeds_keep_apart(id: &str, scene: &Scene) {
    let all: Vec<_> = pieces(scene).collect();
    for (at, (a, b, start)) in all.iter().enumerate() {
        assert!((a.x - b.x).abs() < 0.06 || (a.y - b.y).abs() < 0.06, "{id}: {a:?} {b:?}");
        for (c, d, other) in all.iter().skip(at + 1).filter(|o| !o.2.meets(*start)) {
            let level = |p: &Point, q: &Point| (p.y - q.y).abs() < 0.06;
            let same_y = level(a, b) && level(c, d) && (a.y - c.y).abs() < 1.5;
            let same_x = !level(a, b) && !level(c, d) && (a.x - c.x).abs() < 1.5;
            let shared = |p: f64, q: f64, r: f64, s: f64| p.max(q).min(r.max(s)) - p.min(q).max(r.min(s));
            let along = (same_y && shared(a.x, b.x, c.x, d.x) > 1.0) || (same_x && shared(a.y, b.y, c.y, d.y) > 1.0);
            assert!(!along, "{id}: {a:?}-{b:?} from {start:?} along {c:?}-{d:?} from {other:?}");
        }
    }
}

fn words(scene: &Scene) -> Vec<&Lettering> {
    let mut all = Vec::new();
    for mark in &scene.marks {
        match mark {
            Mark::Box(b) => all.extend(std::iter::once(&b.name).chain(&b.small)),
            Mark::Bar { name, .. } | Mark::Device { name, .. } | Mark::Port { name, .. } => all.push(name),
            Mark::Bracket { word, .. } => all.push(word),
            Mark::Flag { words, .. } | Mark::Words(words) => all.push(words),
            _ => {}
        }
    }
    all.into_iter().filter(|w| w.lines.iter().any(|l| !l.is_empty())).collect()
}

#[test]
fn lettering_stays_on_the_page_is_large_enough_and_overlaps_nothing() {
    for model in models() {
        for figure in all_figures(&model) {
            lettering_stands_free(&figure.id, &draw(&figure, &model));
        }
    }
}

pub fn lettering_stands_free(id: &str, scene: &Scene) {
    assert!(scene.width <= 510.3, "{id}: 180 mm at most, is {}", scene.width);
    let page = Rect::new(0.0, 0.0, scene.width, scene.height);
    let words = words(scene);
    for (at, one) in words.iter().enumerate() {
        let rect = one.rect();
        assert!(one.size >= 8.0);
        let corners = [Point::new(rect.x, rect.y), Point::new(rect.right(), rect.bottom())];
        assert!(corners.into_iter().all(|c| page.holds(c)), "{id}: {one:?}");
        for other in words.iter().skip(at + 1) {
            assert!(!rect.overlaps(&other.rect().inset(0.3)), "{id}: {:?} and {:?}", one.lines, other.lines);
        }
        for (a, b, _) in pieces(scene) {
            assert!(!rect.inset(0.5).overlaps(&span(a, b)), "{id}: a line runs through {:?}", one.lines);
        }
    }
}

#[test]
fn three_or_more_lines_meet_at_every_dot() {
    for model in models() {
        for (id, scene) in systems(&model) {
            for mark in &scene.marks {
                let Mark::Dot(dot) = mark else { continue };
                let mut arms: Vec<(i8, i8)> = Vec::new();
                for (a, b, _) in pieces(&scene).filter(|(a, b, _)| span(*a, *b).holds(*dot)) {
                    let ends = [a, b].into_iter().filter(|p| !p.meets(*dot));
                    arms.extend(ends.map(|p| (sign(p.x - dot.x), sign(p.y - dot.y))));
                }
                arms.sort_unstable();
                arms.dedup();
                assert!(arms.len() >= 3, "{id}: {dot:?} joins {arms:?}");
            }
        }
    }
}

fn sign(n: f64) -> i8 {
    if n > 0.1 {
        1
    } else if n < -0.1 {
        -1
    } else {
        0
    }
}

#[test]
fn the_same_bytes_twice() {
    let model = demo();
    for figure in all_figures(&model) {
        assert_eq!(svg::write(&draw(&figure, &model)), svg::write(&draw(&figure, &demo())));
    }
}

#[test]
fn the_panel_is_to_scale_and_numbers_everything_that_has_a_place() {
    let model = demo();
    let scene = draw(&figure(FigureKind::Panel, ""), &model);
    let placed = model.items.iter().filter(|i| i.panel.is_some()).count();
    let mut numbers: Vec<usize> = scene
        .marks
        .iter()
        .filter_map(|m| if let Mark::Callout { number, .. } = m { Some(*number) } else { None })
        .collect();
    numbers.sort_unstable();
    assert_eq!(numbers, (1..=placed).collect::<Vec<_>>());
    let panel = model.panel.as_ref().unwrap();
    let plate = scene.marks.iter().find_map(|m| match m {
        Mark::Shape(Shape { class: "plate-edge", form: Form::Rect(rect, _), .. }) => Some(*rect),
        _ => None,
    });
    let plate = plate.unwrap();
    let scale = plate.width / panel.width_mm;
    assert!((plate.height / panel.height_mm - scale).abs() < 1e-9);
    let dial =
        model.items.iter().find(|i| i.id.as_str() == "airspeed-indicator").and_then(|i| i.panel.as_ref()).unwrap();
    let middle = Point::new(plate.x + dial.x_mm * scale, plate.y + dial.y_mm * scale);
    let is_it = |m: &Mark| {
        matches!(m, Mark::Shape(Shape { class: "face", form: Form::Circle(at, r), .. })
        if at.meets(middle) && (r - dial.width_mm * scale / 2.0).abs() < 1e-9)
    };
    assert!(scene.marks.iter().any(is_it), "the airspeed indicator stands where the model says, as large as it says");
}

#[test]
fn hostile_names_stay_text_in_a_picture() {
    let mut model = demo();
    model.nodes.iter_mut().for_each(|n| n.noun.name = "</text><script>alert(1)</script>".to_owned());
    model.media.iter_mut().for_each(|m| m.colour = "red}*{fill:url(javascript:x)".to_owned());
    for figure in all_figures(&model) {
        let text = svg::write(&draw(&figure, &model));
        assert!(!text.contains("<script") && !text.contains("javascript:"), "{}", figure.id);
    }
}

#[test]
fn names_of_any_length_are_drawn_without_end_of_time_or_page() {
    let mut model = demo();
    model.nodes.iter_mut().for_each(|n| n.noun.name = "very long name ".repeat(2000));
    for figure in all_figures(&model) {
        let scene = draw(&figure, &model);
        let page = Rect::new(0.0, 0.0, scene.width, scene.height);
        for one in words(&scene) {
            let rect = one.rect();
            assert!(
                page.holds(Point::new(rect.x, rect.y)) && page.holds(Point::new(rect.right(), rect.bottom())),
                "{rect:?}"
            );
        }
    }
}
