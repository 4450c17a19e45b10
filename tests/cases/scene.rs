//! Scenes on pages: they look as in the SVG, their words are text, and what is shared stands once in the file.

use super::diagram::{demo, figure};
use krilla::Document;
use krilla::page::PageSettings;
use resvg::tiny_skia::Pixmap;
use ribstitch::diagram::scene::{Mark, Scene};
use ribstitch::diagram::{draw, svg};
use ribstitch::doc::{Block, FigureKind};
use ribstitch::pipeline::{Request, Until, compile};
use ribstitch::render::html::Paper;
use ribstitch::render::pdf::fonts::Fonts;
use ribstitch::render::pdf::scene::{Pen, Piece, Place, pieces};
use ribstitch::render::png::{Density, Painter};
use std::path::Path;
use std::process::Command;

/// Dots an inch of the comparison.
const DOTS: u32 = 100;

/// A file with a page for each scene, as large as the scene.
fn printed(scenes: &[Scene]) -> Vec<u8> {
    let (mut document, mut fonts, mut pen) = (Document::new(), Fonts::new(), Pen::new());
    for scene in scenes {
        let size = PageSettings::from_wh(scene.width as f32, scene.height as f32).unwrap();
        let mut page = document.start_page_with(size);
        let mut surface = page.surface();
        let whole = Piece { marks: 0..scene.marks.len(), top: 0.0, bottom: scene.height };
        pen.draw(&mut surface, &mut fonts, (scene, &whole), Place { x: 0.0, y: 0.0, scale: 1.0 });
        surface.finish();
        page.finish();
    }
    document.finish().unwrap()
}

/// The pages of a file as pictures, by the program of the system; nothing where it is not installed.
fn seen(pdf: &[u8]) -> Option<Vec<Pixmap>> {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("scenes.pdf");
    std::fs::write(&file, pdf).unwrap();
    let run = Command::new("pdftoppm")
        .args(["-r", &DOTS.to_string(), "-png"])
        .args([file.as_path(), &home.path().join("page")])
        .status();
    let Ok(status) = run else {
        eprintln!("pdftoppm is not installed: not compared");
        return None;
    };
    assert!(status.success());
    let mut names: Vec<_> = std::fs::read_dir(home.path()).unwrap().map(|e| e.unwrap().path()).collect();
    names.retain(|p| p.extension().is_some_and(|e| e == "png"));
    names.sort();
    Some(names.iter().map(|p| Pixmap::load_png(p).unwrap()).collect())
}

fn painted(scene: &Scene) -> Pixmap {
    let png = Painter::new(Density::new(DOTS).unwrap()).paint("scene", &svg::write(scene)).unwrap();
    Pixmap::decode_png(&png).unwrap()
}

/// The share of places where one picture has ink and the other has none within a dot of it.
fn apart(a: &Pixmap, b: &Pixmap) -> f64 {
    let (wide, high) = (a.width().min(b.width()), a.height().min(b.height()));
    let at = |of: &Pixmap, x: i64, y: i64| {
        let (x, y) = (u32::try_from(x).ok()?, u32::try_from(y).ok()?);
        of.pixel(x, y).map(|p| [p.red(), p.green(), p.blue()].map(i32::from))
    };
    let unlike = |one: &Pixmap, other: &Pixmap, x: u32, y: u32| {
        let (x, y) = (i64::from(x), i64::from(y));
        let Some(here) = at(one, x, y) else { return false };
        let near = |(dx, dy): (i64, i64)| {
            let there = at(other, x + dx, y + dy).unwrap_or([255; 3]);
            here.iter().zip(there).all(|(a, b)| (a - b).abs() <= 96)
        };
        !(-1..=1).flat_map(|dx| (-1..=1).map(move |dy| (dx, dy))).any(near)
    };
    let count = (0..high).flat_map(|y| (0..wide).map(move |x| (x, y)));
    let wrong = count.filter(|(x, y)| unlike(a, b, *x, *y) || unlike(b, a, *x, *y)).count();
    wrong as f64 / f64::from(wide * high)
}

fn samples() -> Vec<Scene> {
    let model = demo();
    let of = |kind, system| draw(&figure(kind, system), &model);
    vec![
        of(FigureKind::System, "suction"),
        of(FigureKind::System, "electrical"),
        of(FigureKind::Overview, ""),
        of(FigureKind::Panel, ""),
    ]
}

#[test]
fn scenes_look_the_same_on_paper_and_on_screen() {
    let scenes = samples();
    let Some(pages) = seen(&printed(&scenes)) else { return };
    assert_eq!(pages.len(), scenes.len());
    for (scene, page) in scenes.iter().zip(&pages) {
        let share = apart(&painted(scene), page);
        assert!(share < 0.004, "{}: {:.2} % is not the same", scene.title, share * 100.0);
    }
}

/// The comparison sees a single mark that is missing.
#[test]
fn a_scene_that_lacks_a_mark_does_not_look_the_same() {
    let whole = samples().remove(0);
    let mut less = whole.clone();
    let at = less.marks.iter().position(|m| matches!(m, Mark::Box(_))).unwrap();
    less.marks.remove(at);
    let Some(pages) = seen(&printed(&[whole.clone(), less])) else { return };
    let [same, other] = [0, 1].map(|at| apart(&painted(&whole), &pages[at]));
    assert!(other > same + 0.001, "{same} of the whole, {other} of the one that lacks a box");
}

/// Every piece of lettering can be found and copied.
#[test]
fn words_of_a_scene_are_text() {
    let scenes = samples();
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("scenes.pdf");
    std::fs::write(&file, printed(&scenes)).unwrap();
    let Ok(done) = Command::new("pdftotext").args([file.as_path(), Path::new("-")]).output() else {
        eprintln!("pdftotext is not installed: not read");
        return;
    };
    let text: String = String::from_utf8(done.stdout).unwrap().split_whitespace().collect();
    let mut count = 0;
    for words in scenes.iter().flat_map(|s| &s.marks).filter_map(|m| match m {
        Mark::Box(mark) => Some(&mark.name),
        Mark::Words(words) | Mark::Port { name: words, .. } | Mark::Device { name: words, .. } => Some(words),
        _ => None,
    }) {
        for line in words.lines.iter().filter(|l| l.chars().any(char::is_alphanumeric)) {
            let bare: String = line.split_whitespace().collect();
            assert!(text.contains(&bare), "“{line}” cannot be found");
            count += 1;
        }
    }
    assert!(count > 200, "{count} lines");
}

#[test]
fn what_scenes_share_stands_once_in_the_file() {
    let scene = samples().remove(3);
    let one = printed(std::slice::from_ref(&scene)).len();
    let mut shared = scene.clone();
    shared.marks.retain(|m| matches!(m, Mark::Shared(..)));
    let many = printed(&[vec![scene], vec![shared; 20]].concat()).len();
    if one + 20 * 800 < many {
        panic!("{one} bytes with one panel, {many} with twenty-one");
    }
}

#[test]
fn the_pieces_of_a_scene_are_all_of_it() {
    for scene in samples() {
        let pieces = pieces(&scene);
        assert_eq!((pieces[0].marks.start, pieces[0].top), (0, 0.0));
        for pair in pieces.windows(2) {
            assert_eq!((pair[0].marks.end, pair[0].bottom), (pair[1].marks.start, pair[1].top));
        }
        let last = &pieces[pieces.len() - 1];
        assert_eq!((last.marks.end, last.bottom), (scene.marks.len(), scene.height));
    }
}

/// Every figure of the demo's guide, the ones that differ most at the end, as pictures to look at.
#[test]
#[ignore = "compares every figure and writes the worst to look at"]
fn every_figure_looks_the_same() {
    let model = demo();
    let request = Request {
        aircraft: "aircraft/sandling".into(),
        book: Some("book".into()),
        only: None,
        paper: Paper::A4,
        pdf: false,
        card: false,
        booklet: false,
        strict: false,
        until: Until::Proved,
    };
    let document = compile(&request).unwrap().document.unwrap();
    let blocks = document.chapters.iter().flat_map(|c| &c.blocks);
    let figures = blocks.filter_map(|b| if let Block::Figure(f) = b { Some(f) } else { None });
    let scenes: Vec<Scene> = figures.map(|f| draw(f, &model)).collect();
    let pdf = printed(&scenes);
    std::fs::create_dir_all("target/look").unwrap();
    std::fs::write("target/look/scenes.pdf", &pdf).unwrap();
    println!("{} figures, {} bytes", scenes.len(), pdf.len());
    let pages = seen(&pdf).unwrap();
    let mut worst: Vec<(f64, usize)> =
        scenes.iter().zip(&pages).enumerate().map(|(n, (s, p))| (apart(&painted(s), p), n)).collect();
    worst.sort_by(|a, b| a.0.total_cmp(&b.0));
    for (share, n) in worst.iter().rev().take(20) {
        println!("{:.3} % {}", share * 100.0, scenes[*n].title);
    }
    for (rank, (_, n)) in worst.iter().rev().take(10).enumerate() {
        painted(&scenes[*n]).save_png(format!("target/look/worst-{rank}-svg.png")).unwrap();
        pages[*n].save_png(format!("target/look/worst-{rank}-pdf.png")).unwrap();
    }
}
