//! The guide on paper: how long pages and card take, how large they are, beside general-purpose peers that print the same
//! document in the same run.
//!
//! `cargo bench --bench print` prints the figures. A peer that is not installed is said to be missing: the browser is Debian's
//! `chromium`, the typesetter is the program `typst`, or the Python package of that name for the Python named by `PYTHON`.
#[path = "demo/mod.rs"]
#[allow(dead_code)]
mod demo;
#[path = "print/peers.rs"]
mod peers;

use ribstitch::diagram::Scene;
use ribstitch::doc::Document;
use ribstitch::render::Paper;
use ribstitch::render::pdf;
use rustix::time::{ClockId, clock_gettime};
use std::collections::BTreeMap;
use std::process::Command;

/// Of so many runs the quickest counts.
const RUNS: usize = 5;

fn now_ms() -> f64 {
    let time = clock_gettime(ClockId::ProcessCPUTime);
    time.tv_sec as f64 * 1e3 + time.tv_nsec as f64 / 1e6
}

fn quickest(mut work: impl FnMut() -> usize) -> (f64, usize) {
    let run = |_| {
        let begin = now_ms();
        let bytes = std::hint::black_box(work());
        (now_ms() - begin, bytes)
    };
    (0..RUNS).map(run).fold((f64::INFINITY, 0), |best, one| if one.0 < best.0 { one } else { best })
}

/// The chapters from the first on, as many as fit about fifty pages.
fn fifty_pages(whole: &Document, scenes: &BTreeMap<String, Scene>) -> (Document, Vec<u8>) {
    let mut count = whole.chapters.len();
    loop {
        let part = Document { chapters: whole.chapters.iter().take(count).cloned().collect(), ..whole.clone() };
        let bytes = pdf::write(&part, scenes, Paper::A4).expect("the pages are sound");
        let pages = pages_of(&bytes);
        if pages <= 60 || count <= 1 {
            return (part, bytes);
        }
        count = (count * 55 / pages).clamp(1, count - 1);
    }
}

/// How many pages a file has, by poppler; by its size where that is not installed.
fn pages_of(bytes: &[u8]) -> usize {
    let file = std::env::temp_dir().join("ribstitch-bench-pages.pdf");
    std::fs::write(&file, bytes).expect("there is room");
    let told = Command::new("pdfinfo").arg(&file).output().ok();
    let text = told.map(|o| String::from_utf8_lossy(&o.stdout).into_owned()).unwrap_or_default();
    let pages = text.lines().find_map(|l| l.strip_prefix("Pages:")?.trim().parse().ok());
    let _ = std::fs::remove_file(&file);
    pages.unwrap_or(bytes.len() / 6_000)
}

fn main() {
    if std::env::args().any(|a| a == "--list" || a == "--test") {
        return;
    }
    let (whole, model) = (demo::proved(), demo::model());
    let scenes = demo::drawn(&whole, &model);
    let (part, _) = fifty_pages(&whole, &scenes);
    println!("processor time in ms, the quickest of {RUNS} runs; sizes in kB");
    let making = quickest(|| demo::drawn(&demo::proved(), &model).len());
    println!("{:>8.1}  from the files to the proved document with its drawings", making.0);
    let html = quickest(|| demo::written(&whole, &scenes).len());
    println!("{:>8.1}  HTML of the whole guide, {} kB", html.0, html.1 / 1000);
    for (what, document) in [("the whole guide", &whole), ("about fifty pages", &part)] {
        let bytes = pdf::write(document, &scenes, Paper::A4).expect("the pages are sound");
        let time = quickest(|| pdf::write(document, &scenes, Paper::A4).map_or(0, |b| b.len()));
        println!("{:>8.1}  pages of {what}: {} pages, {} kB", time.0, pages_of(&bytes), bytes.len() / 1000);
    }
    let audit = quickest(|| {
        let page = demo::written(&whole, &scenes);
        ribstitch::audit::report(&page, &whole.meta.canonical).findings.len()
    });
    println!("{:>8.1}  HTML and its audit", audit.0);
    peers::print(&part, &scenes);
}
