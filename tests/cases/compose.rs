//! Model, answers and chapters to the document tree.

use ribstitch::analyse::network::Analysis;
use ribstitch::base::{Diagnostics, Sources};
use ribstitch::compose::{Composed, Prints, compose_with_prose};
use ribstitch::doc::{Block, Cell, Document, Inline, plain_text};
use ribstitch::model::Model;
use ribstitch::parse::book;
use ribstitch::resolve;
use std::path::Path;

/// The demo aircraft, with these chapters.
pub fn demo(chapters: &[(&str, &str)]) -> (Composed, Sources) {
    let mut sources = Sources::default();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("aircraft/sandling");
    let (model, diagnostics) = resolve::load(&folder, &mut sources);
    let model = model.unwrap_or_else(|| panic!("{}", report(&diagnostics, &sources)));
    composed(&model, chapters, sources)
}

/// A model from text, with these chapters.
pub fn small(model: &str, chapters: &[(&str, &str)]) -> (Composed, Sources) {
    let mut sources = Sources::default();
    let (found, diagnostics) = resolve::load_texts(vec![("model.toml".to_owned(), model.to_owned())], &mut sources);
    let found = found.unwrap_or_else(|| panic!("{}", report(&diagnostics, &sources)));
    composed(&found, chapters, sources)
}

fn composed(model: &Model, chapters: &[(&str, &str)], mut sources: Sources) -> (Composed, Sources) {
    let analysis = Analysis::new(model);
    let files = chapters.iter().map(|(n, t)| ((*n).to_owned(), t.as_bytes().to_vec())).collect();
    let (book, wrong) = book::read(files, &mut sources);
    assert!(wrong.is_empty(), "{}", report(&wrong, &sources));
    let prints = Prints::new(&resolve::canonical_model(model), &book, &sources, &[]);
    (compose_with_prose(model, &analysis, &book, &sources, prints), sources)
}

/// Diagnostics as text.
pub fn report(diagnostics: &Diagnostics, sources: &Sources) -> String {
    let line = |d: &ribstitch::base::Diagnostic| {
        let (line, column) = sources.line_column(d.primary.span);
        let mut text = format!("{}:{line}:{column} {} {}", sources.name(d.primary.span.file), d.code, d.message);
        text.push_str(&format!(" [{}]", sources.slice(d.primary.span)));
        for label in &d.secondary {
            let (line, column) = sources.line_column(label.span);
            text.push_str(&format!("\n    {}:{line}:{column} {}", sources.name(label.span.file), label.text));
        }
        text.push_str(&format!("\n    help: {}\n", d.help.as_deref().unwrap_or("")));
        text
    };
    diagnostics.iter().map(line).collect()
}

/// A document as plain text.
pub fn dump(document: &Document) -> String {
    let mut text = String::new();
    for chapter in &document.chapters {
        text.push_str(&format!("# {} [{}]\n\n", plain_text(&chapter.title), chapter.id));
        chapter.blocks.iter().for_each(|b| dump_block(b, "", &mut text));
    }
    text
}

fn dump_block(block: &Block, indent: &str, text: &mut String) {
    match block {
        Block::Heading { level, id, text: line } => {
            text.push_str(&format!("{indent}{} {} [{id}]\n\n", "#".repeat(usize::from(*level)), plain_text(line)));
        }
        Block::Para(line) => text.push_str(&format!("{indent}{}\n\n", plain_text(line))),
        Block::List { items, .. } => {
            for item in items {
                text.push_str(&format!("{indent}-\n"));
                item.iter().for_each(|b| dump_block(b, &format!("{indent}  "), text));
            }
        }
        Block::Notice { level, body, .. } => {
            text.push_str(&format!("{indent}{}\n", level.word()));
            body.iter().for_each(|b| dump_block(b, &format!("{indent}  "), text));
        }
        Block::Figure(figure) => text.push_str(&format!("{indent}[{}] {}\n\n", figure.id, plain_text(&figure.caption))),
        Block::Worked { title, steps, id } => {
            text.push_str(&format!("{indent}[{id}] {}\n", plain_text(title)));
            for step in steps {
                let (sum, result) = (plain_text(&step.sum), plain_text(&step.result));
                text.push_str(&format!("{indent}  {} {sum} = {result}\n\n", plain_text(&step.says)));
            }
        }
        Block::Table(table) => {
            text.push_str(&format!("{indent}[{}] {}\n", table.id, plain_text(&table.caption)));
            let heads: Vec<&str> = table.columns.iter().map(|c| c.heading()).collect();
            text.push_str(&format!("{indent}| {}\n", heads.join(" | ")));
            for row in &table.rows {
                let cells: Vec<String> = row.cells.iter().map(dump_cell).collect();
                text.push_str(&format!("{indent}| {}\n", cells.join(" | ")));
            }
            text.push('\n');
        }
    }
}

fn dump_cell(cell: &Cell) -> String {
    let mark = cell.mark.iter().map(|m| m.word().to_owned());
    let lines = cell.lines.iter().map(|l| plain_text(l));
    mark.chain(lines).collect::<Vec<_>>().join(" / ")
}

const EVERYTHING: &str = "# Everything\n\n\
    {{ failures(system=\"suction\") }}\n\n{{ failures(system=\"electrical\") }}\n\n{{ failures(system=\"pitot-static\") }}\n\n\
    {{ failures(system=\"ignition\") }}\n\n{{ failures(system=\"oil\") }}\n\n{{ failures(system=\"fuel\") }}\n\n\
    {{ failures(system=\"engine\") }}\n\n{{ failures(system=\"communications\") }}\n\n{{ failures(system=\"starting\") }}\n\n\
    {{ failures(system=\"navigation\") }}\n\n\
    {{ nothing_lost() }}\n\n{{ states() }}\n\n{{ controls() }}\n\n{{ items(system=\"electrical\") }}\n\n\
    {{ items(system=\"suction\") }}\n\n{{ items(system=\"ignition\") }}\n\n{{ items(system=\"communications\") }}\n\n{{ breakers() }}\n\n{{ alerts() }}\n\n{{ quantities() }}\n\n\
    {{ clocks(legs=\"2400:60 1200:60 2000:50\") }}\n\n{{ inspections() }}\n\n{{ walk() }}\n\n{{ changes() }}\n";

#[test]
fn scratch() {
    let start = std::time::Instant::now();
    let (composed, sources) = demo(&[("01-everything.md", EVERYTHING)]);
    eprintln!("{:?}", start.elapsed());
    eprintln!("{}", report(&composed.diagnostics, &sources));
    std::fs::write("/tmp/rs/compose/target/dump.txt", dump(&composed.document.unwrap())).unwrap();
    let _ = Inline::text("");
}
