//! General-purpose programs that print the same document: a browser from our HTML, a typesetter from the same tree with the same
//! drawings. Each runs as a process of its own; so does the program itself.

use super::{RUNS, demo, pages_of};
use ribstitch::diagram::{Scene, svg};
use ribstitch::doc::{Block, Document, Table, plain_text};
use ribstitch::render::Paper;
use ribstitch::render::pdf;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

/// User processor time of the programs that this one has started and that have ended, ms, in steps of ten.
fn children_ms() -> f64 {
    let text = fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let after = text.rsplit(')').next().unwrap_or("");
    after.split_whitespace().nth(13).and_then(|n| n.parse::<f64>().ok()).map_or(0.0, |ticks| ticks * 10.0)
}

/// The quickest of some runs; nothing where the program is not there or fails.
fn run(mut command: impl FnMut() -> Command) -> Option<f64> {
    let mut best: Option<f64> = None;
    for _ in 0..RUNS.min(3) {
        let before = children_ms();
        let status = command().stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).status().ok()?;
        let took = children_ms() - before;
        best = Some(best.map_or(took, |b| b.min(took)).max(10.0));
        if !status.success() {
            return None;
        }
    }
    best
}

/// Prints what each peer takes for the same document, and the ratio.
pub fn print(document: &Document, scenes: &BTreeMap<String, Scene>) {
    let home = tempfile::tempdir().expect("there is room");
    let at = |name: &str| home.path().join(name);
    fs::write(at("guide.html"), demo::written(document, scenes)).expect("there is room");
    fs::write(at("guide.typ"), typeset(document)).expect("there is room");
    for (id, scene) in scenes {
        fs::write(at(&format!("{}.svg", id.replace('/', "-"))), svg::write(scene)).expect("there is room");
    }
    let own = (0..RUNS).map(|_| own_ms(document, scenes)).fold(f64::INFINITY, f64::min);
    println!("\nthe same document by general-purpose programs, user processor time of the whole process");
    println!("{own:>8.1}  this program, from the proved document");
    let browser = || {
        let mut command = Command::new("chromium");
        command.args(["--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer"]);
        command.arg(format!("--user-data-dir={}", at("profile").display()));
        command.arg(format!("--print-to-pdf={}", at("browser.pdf").display())).arg(at("guide.html"));
        command
    };
    tell("the browser", run(browser), (own, &at("browser.pdf")));
    let compiled = || {
        let mut command = Command::new("typst");
        command.arg("compile").arg(at("guide.typ")).arg(at("typeset.pdf"));
        command
    };
    let packaged = || {
        let mut command = Command::new(std::env::var("PYTHON").unwrap_or_else(|_| "python3".to_owned()));
        let (from, to) = (at("guide.typ"), at("typeset.pdf"));
        command.arg("-c").arg(format!("import typst; typst.compile({from:?}, output={to:?})"));
        command
    };
    tell("the typesetter", run(compiled).or_else(|| run(packaged)), (own, &at("typeset.pdf")));
}

fn own_ms(document: &Document, scenes: &BTreeMap<String, Scene>) -> f64 {
    let begin = super::now_ms();
    std::hint::black_box(pdf::write(document, scenes, Paper::A4).map_or(0, |b| b.len()));
    super::now_ms() - begin
}

fn tell(who: &str, took: Option<f64>, (own, file): (f64, &Path)) {
    let Some(took) = took else {
        println!("       –  {who} is not installed");
        return;
    };
    let bytes = fs::read(file).unwrap_or_default();
    let (pages, size, ratio) = (pages_of(&bytes), bytes.len() / 1000, took / own);
    println!("{took:>8.1}  {who}: {pages} pages, {size} kB, ratio {ratio:.1}");
}

/// The document as source of the typesetter: headings, paragraphs, tables, drawings; every text as a string.
fn typeset(document: &Document) -> String {
    let mut out = String::from("#set page(paper: \"a4\")\n#set text(size: 10pt)\n#outline()\n");
    for chapter in &document.chapters {
        let _ = writeln!(out, "#pagebreak()\n#heading(level: 1, {:?})", plain_text(&chapter.title));
        chapter.blocks.iter().for_each(|b| block(b, &mut out));
    }
    out
}

fn block(of: &Block, out: &mut String) {
    match of {
        Block::Heading { level, text, .. } => {
            let _ = writeln!(out, "#heading(level: {level}, {:?})", plain_text(text));
        }
        Block::Para(text) => {
            let _ = writeln!(out, "#par({:?})", plain_text(text));
        }
        Block::List { items, .. } => items.iter().flatten().for_each(|b| block(b, out)),
        Block::Notice { level, body, .. } => {
            let _ = writeln!(out, "#strong({:?})", level.word());
            body.iter().for_each(|b| block(b, out));
        }
        Block::Table(of) => table(of, out),
        Block::Figure(figure) => {
            let file = format!("{}.svg", figure.id.replace('/', "-"));
            let _ = writeln!(
                out,
                "#figure(image({file:?}, width: 100%, height: 24cm, fit: \"contain\"), caption: {:?})",
                plain_text(&figure.caption)
            );
        }
        Block::Worked { title, steps, .. } => {
            let _ = writeln!(out, "#strong({:?})", plain_text(title));
            for step in steps {
                let [says, sum, result] = [&step.says, &step.sum, &step.result].map(|i| plain_text(i));
                let _ = writeln!(out, "#par({:?})", format!("{says} {sum} = {result}"));
            }
        }
    }
}

fn table(of: &Table, out: &mut String) {
    let columns = vec!["1fr"; of.columns.len()].join(", ");
    let _ = write!(out, "#strong({:?})\n#table(columns: ({columns},), table.header(", plain_text(&of.caption));
    for column in &of.columns {
        let _ = write!(out, "{:?}, ", column.heading());
    }
    out.push(')');
    for cell in of.rows.iter().flat_map(|r| &r.cells) {
        let mark = cell.mark.map_or("", |m| m.word());
        let lines: Vec<String> = cell.lines.iter().map(|l| plain_text(l)).collect();
        let _ = write!(out, ", {:?}", format!("{mark}{}", lines.join("\n")));
    }
    out.push_str(")\n");
}
