//! Read back from the bytes: whatever is on the screen is on paper, by the audit's own reader and by readers of the system.

use super::compose::{demo as composed, report};
use super::diagram::demo;
use ribstitch::audit::{Basis, Examiner};
use ribstitch::diagram::{Drawing, Scene, draw};
use ribstitch::doc::{Block, Cell, Document, Inline, Table, plain_text};
use ribstitch::render::html::{self, Drawings};
use ribstitch::render::{Paper, pdf};
use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;
use std::sync::OnceLock;

const BOOK: &[(&str, &str)] = &[
    (
        "01-limits.md",
        "# How to use this guide\n\nRead it beside the handbook.\n\n> [!WARNING]\n> This is no handbook.\n\n> [!CAUTION]\n> A \
         model can be wrong.\n\n## Words\n\n| Word | Sense |\n| --- | --- |\n| a | one |\n| b |  |\n\n- one\n- two\n",
    ),
    (
        "02-suction.md",
        "# Suction\n\nSee [what fails](#fail/vacuum-pump).\n\n{{ figure(kind=\"system\", of=\"suction\") }}\n\n## Every item\n\n{{ \
         items(system=\"suction\") }}\n\n## If something fails\n\n{{ failures(system=\"suction\") }}\n",
    ),
    (
        "03-states.md",
        "# What works when\n\n{{ states() }}\n\n## Clocks\n\n{{ clocks(legs=\"2400:60 1200:60\") }}\n\n## Numbers\n\n{{ \
         quantities() }}\n\n{{ breakers() }}\n",
    ),
];

/// The same document as HTML, and what its pages are made from.
struct Made {
    document: Document,
    scenes: BTreeMap<String, Scene>,
    html: String,
}

fn made() -> &'static Made {
    static MADE: OnceLock<Made> = OnceLock::new();
    MADE.get_or_init(|| {
        let (composed, sources) = composed(BOOK);
        let document = composed.document.unwrap_or_else(|| panic!("{}", report(&composed.diagnostics, &sources)));
        let model = demo();
        let blocks = document.chapters.iter().flat_map(|c| &c.blocks);
        let figures = blocks.filter_map(|b| if let Block::Figure(f) = b { Some(f) } else { None });
        let scenes: BTreeMap<String, Scene> = figures.map(|f| (f.id.clone(), draw(f, &model))).collect();
        let drawings: Drawings = scenes.iter().map(|(id, s)| (id.clone(), Drawing::from(s))).collect();
        let html = html::write(&document, &drawings);
        Made { document, scenes, html }
    })
}

fn pages(document: &Document, paper: Paper) -> Vec<u8> {
    pdf::write(document, &made().scenes, paper).unwrap()
}

/// Findings of printed pages against the page on the screen.
fn codes(bytes: &[u8]) -> Vec<String> {
    let source = Basis::read(&made().document.meta.canonical).unwrap();
    Examiner::new(&source).pages(&made().html, bytes).findings.iter().map(ToString::to_string).collect()
}

#[test]
fn pages_of_every_paper_say_what_the_screen_says() {
    for paper in [Paper::A4, Paper::Letter, Paper::A5] {
        let found = codes(&pages(&made().document, paper));
        assert!(found.is_empty(), "{paper:?}: {found:#?}");
    }
}

/// Folded or not, the same is read, in the same order.
#[test]
fn booklets_say_what_the_screen_says_on_half_as_many_sides() {
    for (paper, size) in [(Paper::A4, "839.06 x 595.28"), (Paper::Letter, "792 x 612")] {
        let bytes = pdf::write_booklet(&made().document, &made().scenes, paper).unwrap();
        let found = codes(&bytes);
        assert!(found.is_empty(), "{paper:?}: {found:#?}");
        if let Some((_, info)) = read_by("pdfinfo", &[], &bytes) {
            assert!(info.contains(size), "{info}");
            let sides = info.lines().find_map(|l| l.strip_prefix("Pages:")?.trim().parse::<usize>().ok());
            assert!(sides.is_some_and(|n| n % 2 == 0), "{info}");
        }
        if let Some((sound, said)) = read_by("qpdf", &["--check"], &bytes) {
            assert!(sound && said.is_empty(), "{said}");
        }
    }
}

fn tables(document: &mut Document) -> impl Iterator<Item = &mut Table> {
    let blocks = document.chapters.iter_mut().flat_map(|c| &mut c.blocks);
    blocks.filter_map(|b| if let Block::Table(t) = b { Some(t) } else { None })
}

#[test]
fn pages_that_say_something_else_are_found_out() {
    let cases: [(&str, &dyn Fn(&mut Document)); 8] = [
        ("print-apart", &|d| tables(d).last().unwrap().rows[2].cells[1] = Cell::line(vec![Inline::text("6 A")])),
        ("print-apart", &|d| drop(tables(d).last().unwrap().rows.remove(1))),
        ("print-apart", &|d| tables(d).last().unwrap().rows.swap(0, 1)),
        ("print-missing", &|d| tables(d).last().unwrap().caption = vec![Inline::text("Something else")]),
        ("print-missing", &|d| {
            let heading = d.chapters[2].blocks.iter_mut().find(|b| matches!(b, Block::Heading { .. }));
            if let Some(Block::Heading { text, .. }) = heading {
                *text = vec![Inline::text("Watches")];
            }
        }),
        ("print-missing", &|d| d.chapters[0].blocks.retain(|b| !matches!(b, Block::Notice { .. }))),
        ("copy-wrong", &|d| d.meta.canonical.push('\n')),
        ("fingerprint-wrong", &|d| d.meta.facts_fingerprint = "0".repeat(64)),
    ];
    for (at, (code, change)) in cases.iter().enumerate() {
        let mut document = made().document.clone();
        change(&mut document);
        let found = codes(&pages(&document, Paper::A4));
        assert!(found.iter().any(|f| f.starts_with(code)), "change {at}: {found:?} instead of {code}");
    }
}

/// A program of the system that reads a file; nothing where it is not installed, which is said.
fn read_by(program: &str, arguments: &[&str], bytes: &[u8]) -> Option<(bool, String)> {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("guide.pdf");
    std::fs::write(&file, bytes).unwrap();
    let mut command = Command::new(program);
    command.args(arguments).arg(&file);
    if program == "pdftotext" {
        command.arg(Path::new("-"));
    }
    let Ok(done) = command.output() else {
        eprintln!("{program} is not installed: the pages are not read by it");
        return None;
    };
    let said = if program == "qpdf" { &done.stderr } else { &done.stdout };
    Some((done.status.success(), String::from_utf8_lossy(said).into_owned()))
}

/// Letters and signs alone, without the pages that links lead to.
fn squeezed(text: &str) -> String {
    let mut out: String = text.chars().filter(|c| !c.is_whitespace() && *c != '\u{ad}').collect();
    while let Some(at) = out.find("(page") {
        let end = out[at..].find(')').map_or(out.len(), |e| at + e + 1);
        out.replace_range(at..end, "");
    }
    out
}

/// Every text of a document that a reader has to find: cells, headings, captions, cautions, numbers.
fn texts(document: &Document) -> Vec<String> {
    fn gather(block: &Block, into: &mut Vec<String>) {
        match block {
            Block::Heading { text, .. } | Block::Para(text) => into.push(plain_text(text)),
            Block::List { items, .. } => items.iter().flatten().for_each(|b| gather(b, into)),
            Block::Table(table) => {
                into.push(plain_text(&table.caption));
                into.extend(table.columns.iter().map(|c| c.heading().to_owned()));
                for cell in table.rows.iter().flat_map(|r| &r.cells) {
                    into.extend(cell.mark.map(|m| m.word().to_owned()));
                    into.extend(cell.lines.iter().map(|l| plain_text(l)));
                }
            }
            Block::Notice { level, body, .. } => {
                into.push(level.word().to_owned());
                body.iter().for_each(|b| gather(b, into));
            }
            Block::Figure(figure) => into.push(plain_text(&figure.caption)),
            Block::Worked { title, steps, .. } => {
                into.push(plain_text(title));
                for step in steps {
                    into.extend([&step.says, &step.sum, &step.result].map(|i| plain_text(i)));
                }
            }
        }
    }
    let mut all: Vec<String> = document.chapters.iter().map(|c| plain_text(&c.title)).collect();
    document.chapters.iter().flat_map(|c| &c.blocks).for_each(|b| gather(b, &mut all));
    all.into_iter().filter(|t| !t.trim().is_empty()).collect()
}

/// Poppler finds every text in the pages, and in the HTML it stands too.
#[test]
fn a_reader_of_the_system_finds_every_text() {
    let Some((_, text)) = read_by("pdftotext", &["-raw"], &pages(&made().document, Paper::A4)) else { return };
    // The running foot and head stand between what goes on from page to page.
    let lines = text.lines().filter(|l| !l.contains(" · ") && !l.starts_with("Training aid.") && !l.trim().is_empty());
    let printed = squeezed(&lines.collect::<String>());
    let screen = squeezed(&scraper::Html::parse_document(&made().html).root_element().text().collect::<String>());
    let wanted = texts(&made().document);
    assert!(wanted.len() > 1_000, "{}", wanted.len());
    for text in &wanted {
        let bare = squeezed(text);
        assert!(screen.contains(&bare), "not on the screen: {text}");
        assert!(printed.contains(&bare), "not on paper: {text}");
    }
}

#[test]
fn readers_of_the_system_find_a_sound_tagged_file() {
    let sizes = [(Paper::A4, "595.28 x 841.89"), (Paper::Letter, "612 x 792"), (Paper::A5, "419.53 x 595.28")];
    for (paper, size) in sizes {
        let bytes = pages(&made().document, paper);
        if let Some((sound, said)) = read_by("qpdf", &["--check"], &bytes) {
            assert!(sound && said.is_empty(), "{said}");
        }
        if let Some((_, info)) = read_by("pdfinfo", &[], &bytes) {
            let title = format!("Title:           {}", made().document.meta.title);
            for line in ["Tagged:          yes", "Encrypted:       no", &title, &format!("Page size:       {size}")] {
                assert!(info.contains(line), "{paper:?}: no `{line}` in {info}");
            }
        }
    }
}
