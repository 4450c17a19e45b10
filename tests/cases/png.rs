//! Pictures of drawings: their size, and that all of the drawing is on them.

use super::diagram::{demo, figure};
use crate::program::{call, call_in};
use resvg::tiny_skia::Pixmap;
use ribstitch::diagram::scene::Scene;
use ribstitch::diagram::{draw, svg};
use ribstitch::doc::FigureKind;
use ribstitch::render::png::{Density, Painter, PngError};

fn suction() -> Scene {
    draw(&figure(FigureKind::System, "suction"), &demo())
}

fn painted(svg: &str, dots: u32) -> (Vec<u8>, Pixmap) {
    let png = Painter::new(Density::new(dots).unwrap()).paint("suction", svg).unwrap();
    let picture = Pixmap::decode_png(&png).unwrap();
    (png, picture)
}

fn inked(picture: &Pixmap) -> usize {
    picture.pixels().iter().filter(|p| p.red() < 128 || p.green() < 128 || p.blue() < 128).count()
}

/// The drawing with every word taken out of its texts.
fn wordless(svg: &str) -> String {
    let mut parts = svg.split("<text ");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |all, part| all + part.split_once("</text>").map_or("", |(_, rest)| rest))
}

#[test]
fn a_picture_has_the_size_of_the_drawing_at_its_density() {
    let scene = suction();
    for dots in [72, 150, 299] {
        let (png, picture) = painted(&svg::write(&scene), dots);
        for (length, count) in [(scene.width, picture.width()), (scene.height, picture.height())] {
            let exact = length * f64::from(dots) / 72.0;
            assert!((f64::from(count) - exact).abs() < 1.1, "{count} for {exact}");
        }
        // PNG specification, 11.3.5.3: pixels a metre both ways, then 1 for the metre.
        let at = png.windows(4).position(|w| w == b"pHYs").unwrap() + 4;
        let metre = ((f64::from(dots) / 0.0254).round() as u32).to_be_bytes();
        assert_eq!(png[at..at + 9], [&metre[..], &metre, &[1]].concat());
    }
}

#[test]
fn a_picture_holds_the_lines_and_the_words() {
    let svg = svg::write(&suction());
    let (_, whole) = painted(&svg, 150);
    let (_, bare) = painted(&wordless(&svg), 150);
    let (whole, bare) = (inked(&whole), inked(&bare));
    assert!(bare > 2_000, "the lines take {bare} pixels");
    assert!(whole > bare + 4_000, "the words take {} pixels", whole - bare);
}

/// A word is as wide as the drawing says, in whatever face.
#[test]
fn words_keep_the_width_that_the_drawing_gives_them() {
    let text = |length: u32| {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"200pt\" height=\"20pt\" viewBox=\"0 0 200 20\">\
             <text x=\"10\" y=\"14\" font-size=\"8\" textLength=\"{length}\" lengthAdjust=\"spacingAndGlyphs\">HHHHHHHHHH</text></svg>"
        )
    };
    for length in [60, 80, 120] {
        let (_, picture) = painted(&text(length), 720);
        let columns: Vec<u32> = (0..picture.width())
            .filter(|x| (0..picture.height()).any(|y| picture.pixel(*x, y).unwrap().red() < 128))
            .collect();
        let wide = f64::from(columns[columns.len() - 1] - columns[0]) / 10.0;
        let part = wide / f64::from(length);
        assert!((0.93..1.0).contains(&part), "{wide} pt for {length} pt"); // less the room beside the outer stems
    }
}

#[test]
fn a_density_out_of_range_or_no_number_is_refused() {
    for wrong in ["0", "35", "1201", "-5", "many", "", "150.5", "99999999999999999999"] {
        let refused = Density::read(wrong).unwrap_err();
        assert!(refused.to_string().contains(&format!("`{wrong}`")), "{refused}");
        assert!(refused.to_string().contains("36 to 1200"), "{refused}");
    }
    let called = call(&["guide", "templates/starter", "--formats", "png", "--density", "7"]);
    assert_eq!(called.status, 2);
    assert!(called.err.contains("`7`"), "{}", called.err);
    let called = call(&["guide", "templates/starter", "--formats", "html", "--density", "150"]);
    assert_eq!(called.status, 2);
    assert!(called.err.contains("--formats png"), "{}", called.err);
}

#[test]
fn a_picture_that_takes_too_much_memory_is_refused_with_a_density_that_fits() {
    let tall = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"500pt\" height=\"9000pt\" viewBox=\"0 0 500 9000\"/>";
    let painter = Painter::new(Density::new(1200).unwrap());
    let PngError::TooLarge(_, _, _, fitting) = painter.paint("tall", tall).unwrap_err() else { panic!() };
    assert!(Painter::new(Density::new(fitting).unwrap()).paint("tall", tall).is_ok());
}

#[test]
fn pictures_stand_beside_the_drawings_under_the_same_names() {
    let home = tempfile::tempdir().unwrap();
    assert_eq!(call_in(home.path(), &["new", "dinghy"]).status, 0);
    let called = call_in(home.path(), &["guide", "dinghy", "--formats", "svg,png", "--density", "96", "--out", "g"]);
    assert_eq!(called.status, 0, "{}", called.err);
    let names = |ending: &str| {
        let all = std::fs::read_dir(home.path().join("g/drawings")).unwrap();
        let mut names: Vec<String> = all
            .filter_map(|e| e.unwrap().file_name().to_str().and_then(|n| n.strip_suffix(ending)).map(str::to_owned))
            .collect();
        names.sort();
        names
    };
    assert!(!names(".png").is_empty());
    assert_eq!(names(".png"), names(".svg"));
}
