//! The demo from its files to the finished page, and the audit of that page: processor time of each stage, beside a plain
//! Markdown parser on the same chapters.

use ribstitch::analyse::network::Analysis;
use ribstitch::audit;
use ribstitch::base::Sources;
use ribstitch::diagram::{self, Scene};
use ribstitch::doc::{Block, Document};
use ribstitch::model::Model;
use ribstitch::pipeline::{self, Request, Until};
use ribstitch::render::html::{self, Drawings, Paper};
use ribstitch::resolve;
use rustix::time::{ClockId, clock_gettime};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// Of so many runs the quickest counts: what else the machine does only adds.
const RUNS: usize = 10;

fn home() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn folder() -> PathBuf {
    home().join("aircraft/sandling")
}

/// The model of the demo.
pub fn model() -> Model {
    let (model, diagnostics) = resolve::load(&folder(), &mut Sources::default());
    model.unwrap_or_else(|| panic!("the demo does not load: {diagnostics:?}"))
}

/// The demo with its chapters, proved: all but drawing and writing.
pub fn proved() -> Document {
    let book = Some(home().join("book"));
    let (only, paper, strict) = (None, Paper::default(), false);
    let request = Request {
        aircraft: folder(),
        book,
        only,
        paper,
        pdf: false,
        card: false,
        booklet: false,
        strict,
        until: Until::Proved,
    };
    let compiled = pipeline::compile(&request).expect("the chapters are there");
    compiled.document.expect("the demo is proved")
}

/// The drawings of its figures.
pub fn drawn(document: &Document, model: &Model) -> BTreeMap<String, Scene> {
    let figure = |block: &Block| match block {
        Block::Figure(figure) => Some((figure.id.clone(), diagram::draw(figure, model))),
        _ => None,
    };
    document.chapters.iter().flat_map(|c| &c.blocks).filter_map(figure).collect()
}

/// The finished page.
pub fn written(document: &Document, scenes: &BTreeMap<String, Scene>) -> String {
    let drawings: Drawings = scenes.iter().map(|(id, scene)| (id.clone(), scene.into())).collect();
    html::write_for(document, &drawings, Paper::default())
}

/// From the files to the page.
pub fn compiled() -> String {
    let document = proved();
    written(&document, &drawn(&document, &model()))
}

/// Processor time of this process so far, in ms.
fn now() -> f64 {
    let time = clock_gettime(ClockId::ProcessCPUTime);
    time.tv_sec as f64 * 1e3 + time.tv_nsec as f64 / 1e6
}

/// Processor time of the quickest run, in ms.
fn quickest<T>(mut work: impl FnMut() -> T) -> f64 {
    let run = |_| {
        let begin = now();
        std::hint::black_box(work());
        now() - begin
    };
    (0..RUNS).map(run).fold(f64::INFINITY, f64::min)
}

/// Prints processor time by stages, and what the audit costs beside the making.
pub fn print_stages() {
    let model = model();
    let document = proved();
    let scenes = drawn(&document, &model);
    let page = written(&document, &scenes);
    let found = audit::report(&page, &document.meta.canonical);
    assert!(found.findings.is_empty(), "the demo does not agree with its model");
    let load = quickest(self::model);
    let analyse = quickest(|| Analysis::new(&model));
    let compose = quickest(proved) - load - analyse;
    let draw = quickest(|| drawn(&document, &model));
    let render = quickest(|| written(&document, &scenes));
    let making = load + analyse + compose + draw + render;
    let audited = quickest(|| audit::report(&page, &document.meta.canonical));
    println!("\nthe demo, {} kB, processor time in ms", page.len() / 1000);
    println!(
        "{making:>7.1} from the files to the page: load {load:.1}, analyse {analyse:.1}, compose with claims and checks"
    );
    println!("        {compose:.1}, draw {draw:.1}, render {render:.1}");
    println!("{audited:>7.1} audit: {:.2} of that again", audited / making);
    let plain = quickest(plain_markdown);
    println!("{plain:>7.2} the chapters alone by a plain Markdown parser: ratio {:.0}", making / plain);
}

/// The chapters read as Markdown, with no model at all: the floor.
fn plain_markdown() -> usize {
    let files = fs::read_dir(home().join("book")).expect("the chapters are there");
    let texts = files.filter_map(|file| fs::read_to_string(file.ok()?.path()).ok());
    texts.map(|text| pulldown_cmark::Parser::new(&text).count()).sum()
}
