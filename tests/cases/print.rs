//! The demo on paper: what was promised of its pages, held in numbers, at every size.

use ribstitch::base::Sources;
use ribstitch::diagram::{Scene, draw};
use ribstitch::doc::{Block, Document, Figure, Inline};
use ribstitch::pipeline::{Request, Until, compile};
use ribstitch::render::Paper;
use ribstitch::render::pdf::geometry::{Corners, Kind, Measured, measure, places};
use ribstitch::render::pdf::write;
use ribstitch::resolve;
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::OnceLock;

type Printed = (Document, BTreeMap<String, Scene>);

/// The demo with its drawings, made once.
fn demo() -> &'static Printed {
    static MADE: OnceLock<Printed> = OnceLock::new();
    MADE.get_or_init(|| {
        let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
        let (aircraft, book) = (root.join("aircraft/sandling"), Some(root.join("book")));
        let (only, paper, until) = (None, Paper::A4, Until::Proved);
        let request = Request {
            aircraft: aircraft.clone(),
            book,
            only,
            paper,
            pdf: false,
            card: false,
            booklet: false,
            strict: false,
            until,
        };
        let document = compile(&request).unwrap().document.unwrap();
        let model = resolve::load(&aircraft, &mut Sources::default()).0.unwrap();
        let mut figures = Vec::new();
        document.chapters.iter().for_each(|c| collect(&c.blocks, &mut figures));
        let scenes = figures.iter().map(|f| (f.id.clone(), draw(f, &model))).collect();
        (document, scenes)
    })
}

fn collect<'d>(blocks: &'d [Block], found: &mut Vec<&'d Figure>) {
    for block in blocks {
        match block {
            Block::Figure(figure) => found.push(figure),
            Block::List { items, .. } => items.iter().for_each(|b| collect(b, found)),
            Block::Notice { body, .. } => collect(body, found),
            _ => {}
        }
    }
}

fn pages(paper: Paper) -> Vec<Measured> {
    let (document, scenes) = demo();
    measure(document, scenes, paper)
}

fn within(inner: &Corners, outer: &Corners) -> bool {
    let near = 0.5;
    inner[0] >= outer[0] - near
        && inner[1] >= outer[1] - near
        && inner[2] <= outer[2] + near
        && inner[3] <= outer[3] + near
}

fn collide(a: &Corners, b: &Corners) -> bool {
    let near = 0.3;
    a[0] < b[2] - near && b[0] < a[2] - near && a[1] < b[3] - near && b[1] < a[3] - near
}

/// What is wrong on the pages of any paper.
fn faults(pages: &[Measured]) -> Vec<String> {
    let mut wrong = Vec::new();
    for page in pages {
        let mut say = |what: String| wrong.push(format!("{}: {what}", page.label));
        for (size, at) in &page.letters {
            if !within(at, &page.text) {
                say(format!("letters outside the margins: {at:?}"));
            }
            if *size < 8.0 {
                say(format!("letters of {size} pt"));
            }
        }
        for (_, at) in page.drawings.iter().filter(|(_, at)| !within(at, &page.text)) {
            say(format!("a drawing outside the margins: {at:?}"));
        }
        for (nr, (kind, at)) in page.blocks.iter().enumerate() {
            if let Some((other, _)) = page.blocks[nr + 1..].iter().find(|(_, b)| collide(at, b)) {
                say(format!("{kind:?} and {other:?} overlap"));
            }
        }
        for (nr, (_, at)) in page.letters.iter().enumerate() {
            if let Some((_, other)) = page.letters[nr + 1..].iter().find(|(_, b)| collide(at, b)) {
                say(format!("lines overlap: {at:?} {other:?}"));
            }
        }
        if page.filled < 1.0 / 3.0 && !page.last && page.chapter.is_some() {
            say(format!("filled by {:.2}", page.filled));
        }
        let high = page.text[3] - page.text[1];
        if let Some((Kind::Row | Kind::PartOfRow, at)) = page.blocks.first()
            && at[3] - at[1] < high * 0.99
        {
            say("rows without their head".to_owned());
        }
        if let Some((kind @ (Kind::Heading | Kind::Head), _)) = page.blocks.last() {
            say(format!("a {kind:?} stands last"));
        }
    }
    wrong
}

fn parted_rows(pages: &[Measured]) -> usize {
    pages.iter().filter(|p| p.blocks.iter().any(|(k, _)| *k == Kind::PartOfRow)).count()
}

fn smallest_drawing(pages: &[Measured]) -> f32 {
    pages.iter().filter(|p| p.chapter.is_some()).flat_map(|p| &p.drawings).map(|d| d.0).fold(1.0, f32::min)
}

#[test]
fn on_a4_nothing_overflows_collides_or_stands_alone_and_every_row_is_whole() {
    let pages = pages(Paper::A4);
    assert!(faults(&pages).is_empty(), "{:#?}", faults(&pages));
    assert!(pages.len() > 200 && parted_rows(&pages) == 0 && smallest_drawing(&pages) >= 0.98);
}

#[test]
fn on_letter_nothing_overflows_collides_or_stands_alone() {
    let pages = pages(Paper::Letter);
    assert!(faults(&pages).is_empty(), "{:#?}", faults(&pages));
    assert!(parted_rows(&pages) <= 2 && smallest_drawing(&pages) >= 0.98, "{}", parted_rows(&pages));
}

/// On the small paper a row can be higher than a page, and the large drawings of systems do not fit in their true size.
#[test]
fn on_a5_nothing_overflows_collides_or_stands_alone() {
    let pages = pages(Paper::A5);
    assert!(faults(&pages).is_empty(), "{:#?}", faults(&pages));
    assert!(parted_rows(&pages) <= 20 && smallest_drawing(&pages) >= 0.7, "{}", parted_rows(&pages));
}

/// Every link leads to a page, and the pages of a chapter are numbered from one on.
#[test]
fn every_reference_leads_to_a_page() {
    let (document, scenes) = demo();
    let places = places(document, scenes, Paper::A4);
    let mut links = 0;
    let text = format!("{document:?}");
    for (at, _) in text.match_indices("Ref { to: \"") {
        let to: String = text[at + 11..].chars().take_while(|c| *c != '"').collect();
        assert!(places.contains_key(&to), "{to}");
        links += 1;
    }
    assert!(links > 100, "{links}");
    for chapter in &document.chapters {
        assert_eq!(places[&chapter.id], format!("{}-1", chapter.number));
    }
}

#[test]
fn the_same_document_gives_the_same_bytes_and_is_as_the_standards_want_it() {
    let (document, scenes) = demo();
    let first = write(document, scenes, Paper::A4).unwrap();
    assert!(first.starts_with(b"%PDF-1.7"));
    assert!(first == write(document, scenes, Paper::A4).unwrap(), "two runs differ");
    assert!(first.len() < 8_000 * pages(Paper::A4).len(), "{} bytes", first.len());
}

/// A document of one chapter with these blocks.
fn document_of(blocks: Vec<Block>) -> Document {
    let (demo, _) = demo();
    let mut document = demo.clone();
    let chapter = ribstitch::doc::Chapter { id: "one".to_owned(), number: 1, title: vec![Inline::text("One")], blocks };
    document.chapters = vec![chapter];
    document
}

/// Text as nobody would write it: what turns letters around, what no face has, words without end, nothing at all.
const ODD: &[&str] = &[
    "",
    " ",
    "\u{202e}\u{0}\u{feff}\u{e000}\u{10ffff}\u{1d11e}",
    "שלום مرحبا 你好 नमस्ते",
    "a\u{300}\u{301}\u{302}\u{303}",
    "\u{ad}\u{200b}\u{a0}\u{2028}",
];

#[test]
fn odd_text_comes_through_at_every_size() {
    let long = "x".repeat(1_500);
    let many = "word ".repeat(600);
    let texts = ODD.iter().map(|t| (*t).to_owned()).chain([long, many]);
    for text in texts {
        let inline = || vec![Inline::Quoted { of: String::new(), text: text.clone() }, Inline::Code(text.clone())];
        let deep = (0..12)
            .fold(vec![Block::Para(inline())], |inner, _| vec![Block::List { ordered: true, items: vec![inner] }]);
        let cell = || ribstitch::doc::Cell { mark: Some(ribstitch::doc::Mark::Dead), lines: vec![inline(), inline()] };
        let table = ribstitch::doc::Table {
            id: "t".to_owned(),
            kind: ribstitch::doc::TableKind::Plain,
            subject: ribstitch::doc::Subject::Aircraft,
            caption: inline(),
            columns: vec![ribstitch::doc::Column::Item; 9],
            rows: vec![ribstitch::doc::Row { about: String::new(), cells: (0..9).map(|_| cell()).collect() }; 2],
        };
        let note = |body: Vec<Block>| Block::Notice {
            level: ribstitch::doc::NoticeLevel::Warning,
            subject: ribstitch::doc::Subject::Aircraft,
            body,
        };
        let mut blocks = vec![Block::Heading { level: 2, id: "h".to_owned(), text: inline() }, Block::Para(inline())];
        blocks.extend(deep);
        blocks.extend([note(vec![Block::Para(inline())]), Block::Table(table)]);
        let document = document_of(blocks);
        for paper in [Paper::A4, Paper::A5] {
            let written = write(&document, &BTreeMap::new(), paper);
            assert!(written.is_ok(), "{:?}: {:?}", text.chars().take(20).collect::<String>(), written.err());
        }
    }
}
