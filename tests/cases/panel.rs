//! The panel in parts: everything engraved can be read, and numbers stand at their things and on nothing else.

use super::diagram::figure;
use ribstitch::diagram::geometry::{Point, Rect};
use ribstitch::diagram::scene::{Form, Lettering, Shape};
use ribstitch::diagram::{Mark, Scene, draw};
use ribstitch::doc::FigureKind;
use ribstitch::model::Model;

fn panel(model: &Model) -> Scene {
    draw(&figure(FigureKind::Panel, ""), model)
}

/// The marks of each enlarged part: those between two folds, after the whole panel.
fn parts(scene: &Scene) -> Vec<&[Mark]> {
    scene.folds.windows(2).map(|pair| &scene.marks[pair[0].marks..pair[1].marks]).collect()
}

fn callouts(part: &[Mark]) -> Vec<(Point, usize, &str)> {
    let callout = |m| match m {
        &Mark::Callout { ref of, at, number } => Some((at, number, of.as_str())),
        _ => None,
    };
    part.iter().filter_map(callout).collect()
}

fn words(part: &[Mark]) -> Vec<&Lettering> {
    part.iter().filter_map(|m| if let Mark::Words(words) = m { Some(words) } else { None }).collect()
}

fn faces(part: &[Mark]) -> Vec<&Form> {
    shapes(part, &["face"])
}

fn shapes<'p>(part: &'p [Mark], classes: &[&str]) -> Vec<&'p Form> {
    let shape = |m: &'p Mark| match m {
        Mark::Shape(shape) if classes.contains(&shape.class) => Some(&shape.form),
        _ => None,
    };
    part.iter().filter_map(shape).collect()
}

fn radius(number: usize) -> f64 {
    if number > 99 { 8.0 } else { 6.6 }
}

/// From the middle of a callout to the edge of a rectangle; less than nothing inside.
fn to_rect(at: Point, rect: &Rect) -> f64 {
    let (x, y) = ((rect.x - at.x).max(at.x - rect.right()), (rect.y - at.y).max(at.y - rect.bottom()));
    if x > 0.0 && y > 0.0 { libm::hypot(x, y) } else { x.max(y) }
}

fn to_face(at: Point, form: &Form) -> f64 {
    match form {
        Form::Circle(middle, r) => libm::hypot(at.x - middle.x, at.y - middle.y) - r,
        Form::Rect(rect, _) => to_rect(at, rect),
        _ => f64::MAX,
    }
}

#[test]
fn numbers_cover_no_lettering_and_no_other_number() {
    let model = super::diagram::demo();
    for part in parts(&panel(&model)) {
        let all = callouts(part);
        for (n, (at, number, of)) in all.iter().enumerate() {
            for words in words(part) {
                assert!(to_rect(*at, &words.rect()) >= radius(*number) - 0.01, "{of}: {:?}", words.lines);
            }
            for (other, second, _) in all.iter().skip(n + 1) {
                assert!(libm::hypot(at.x - other.x, at.y - other.y) >= radius(*number) + radius(*second), "{of}");
            }
        }
    }
}

#[test]
fn a_number_touches_its_thing_or_has_a_leader_and_covers_no_other() {
    let model = super::diagram::demo();
    for part in parts(&panel(&model)) {
        for (at, number, of) in callouts(part) {
            let near: Vec<f64> = faces(part).into_iter().map(|f| to_face(at, f) - radius(number)).collect();
            let covered = near.iter().filter(|far| **far < -0.01).count();
            let item = model.items.iter().find(|i| i.id.as_str() == of).unwrap();
            let blank = matches!(item.panel.as_ref().unwrap().face.word(), "radio" | "window");
            assert!(covered <= usize::from(blank), "{of} covers {covered} faces");
            let led = part.iter().any(|m| {
                matches!(m, Mark::Shape(Shape { class: "lead", form: Form::Line(points), .. })
                    if points.iter().any(|p| (libm::hypot(p.x - at.x, p.y - at.y) - radius(number)).abs() < 0.1))
            });
            let touches =
                shapes(part, &["face", "part-soft"]).into_iter().any(|f| to_face(at, f) - radius(number) < 1.0);
            assert!(led || touches, "{of} stands alone");
        }
    }
}

#[test]
fn every_engraving_of_the_model_stands_in_its_part_and_can_be_read() {
    let model = super::diagram::demo();
    let scene = panel(&model);
    for item in &model.items {
        let Some(label) = item.panel.as_ref().and_then(|p| p.label.as_ref()) else { continue };
        let of_item = |p: &&[Mark]| callouts(p).iter().any(|(_, _, of)| *of == item.id.as_str());
        let part = parts(&scene).into_iter().find(of_item).unwrap();
        let engraved = words(part).into_iter().find(|w| w.lines.join(" ") == *label);
        assert!(engraved.is_some_and(|w| w.size >= 8.0), "{label} of {}", item.id);
    }
}

#[test]
fn lettering_of_a_part_overlaps_no_other_lettering() {
    let scene = panel(&super::diagram::demo());
    for part in parts(&scene) {
        let all = words(part);
        for (n, one) in all.iter().enumerate() {
            for other in all.iter().skip(n + 1) {
                assert!(!one.rect().overlaps(&other.rect()), "{:?} and {:?}", one.lines, other.lines);
            }
        }
    }
}

#[test]
fn a_part_fits_its_page_beside_its_list() {
    let scene = panel(&super::diagram::demo());
    let mut top = 0.0;
    for fold in &scene.folds {
        assert!(fold.bottom - top <= 637.0, "225 mm is the most that a page takes: {}", fold.bottom - top);
        top = fold.bottom;
    }
}
