//! The page: what is in the tree is on the page, nothing of an author becomes markup, and nothing else may run.

use super::compose::{demo as composed, report};
use super::diagram::demo;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use ribstitch::diagram::{Drawing, draw};
use ribstitch::doc::{
    Block, Cell, Chapter, Column, Document, Figure, FigureKind, Inline, Ledger, Mark, Meta, NoticeLevel, Row, Step,
    Subject, TRAINING_AID, Table, TableKind, plain_text,
};
use ribstitch::render::html::{self, Drawings};
use scraper::{ElementRef, Html, Selector};
use sha2::{Digest, Sha256};
use std::sync::OnceLock;

const BOOK: &[(&str, &str)] = &[
    (
        "01-limits.md",
        "# How to use this guide\n\nRead it beside the handbook.\n\n> [!WARNING]\n> This is no handbook.\n\n> [!CAUTION]\n> A \
         model can be wrong.\n\n> [!NOTE]\n> Names are as a pilot says them.\n\n## The panel\n\n{{ figure(kind=\"panel\") }}\n\n\
         ## The systems\n\n{{ figure(kind=\"overview\") }}\n",
    ),
    (
        "02-electrical.md",
        "# Electrical power\n\n## The picture\n\n{{ figure(kind=\"system\", of=\"electrical\") }}\n\n## Every item\n\n{{ \
         items(system=\"electrical\") }}\n\n## If something fails\n\n{{ failures(system=\"electrical\") }}\n\n## Breakers\n\n{{ \
         breakers() }}\n",
    ),
    (
        "03-states.md",
        "# What works when\n\n{{ states() }}\n\n## Clocks\n\n{{ clocks(legs=\"2400:60 1200:60\") }}\n\n## Alerts\n\n{{ alerts() \
         }}\n",
    ),
    ("04-walk.md", "# Walk this aircraft\n\n{{ walk() }}\n"),
];

/// The demo's page, made once.
fn demo_page() -> (Document, Drawings, String) {
    static PAGE: OnceLock<(Document, Drawings, String)> = OnceLock::new();
    PAGE.get_or_init(made_page).clone()
}

fn made_page() -> (Document, Drawings, String) {
    let (composed, sources) = composed(BOOK);
    let document = composed.document.unwrap_or_else(|| panic!("{}", report(&composed.diagnostics, &sources)));
    let model = demo();
    let figures = document.chapters.iter().flat_map(|c| &c.blocks).filter_map(|b| match b {
        Block::Figure(figure) => Some(figure),
        _ => None,
    });
    let drawings: Drawings = figures.map(|f| (f.id.clone(), Drawing::from(&draw(f, &model)))).collect();
    let page = html::write(&document, &drawings);
    (document, drawings, page)
}

fn select<'a>(page: &'a Html, what: &str) -> Vec<ElementRef<'a>> {
    page.select(&Selector::parse(what).unwrap()).collect()
}

fn text_of(element: ElementRef) -> String {
    element.text().collect::<String>().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Text in every place where an author's text can stand.
const HOSTILE: &str = "\"'><script>alert(1)</script><img src=x onerror=alert(1)></title></style>{{ 1 + 1 }}&amp;";

fn hostile_document() -> (Document, Drawings) {
    let text = || vec![Inline::text(HOSTILE)];
    let all = vec![
        Inline::text(HOSTILE),
        Inline::Quoted { of: HOSTILE.into(), text: HOSTILE.into() },
        Inline::name(HOSTILE, HOSTILE),
        Inline::Shown(HOSTILE.into(), HOSTILE.into()),
        Inline::Claim { claim: HOSTILE.into(), text: text() },
        Inline::Ref { to: HOSTILE.into(), text: text() },
        Inline::Emph(text()),
        Inline::Strong(text()),
        Inline::Code(HOSTILE.into()),
    ];
    let figure = Figure {
        id: HOSTILE.into(),
        kind: FigureKind::Panel,
        subject: Subject::Aircraft,
        caption: text(),
        panels: Vec::new(),
        plot: None,
    };
    let table = Table {
        id: HOSTILE.into(),
        kind: TableKind::Failure,
        subject: Subject::Faults { faults: vec![HOSTILE.into()], state: HOSTILE.into() },
        caption: all.clone(),
        columns: vec![Column::Plain(HOSTILE.into()), Column::State { id: HOSTILE.into(), name: HOSTILE.into() }],
        rows: vec![Row {
            about: HOSTILE.into(),
            cells: vec![Cell::line(all.clone()), Cell { mark: Some(Mark::Misleads), lines: vec![all.clone(), text()] }],
        }],
    };
    let blocks = vec![
        Block::Heading { level: 2, id: HOSTILE.into(), text: all.clone() },
        Block::Para(all.clone()),
        Block::List { ordered: true, items: vec![vec![Block::Para(all.clone())]] },
        Block::Table(table),
        Block::Notice {
            level: NoticeLevel::Warning,
            subject: Subject::One(HOSTILE.into()),
            body: vec![Block::Para(all.clone())],
        },
        Block::Figure(figure),
        Block::Worked {
            id: HOSTILE.into(),
            title: text(),
            steps: vec![Step { says: text(), sum: text(), result: text() }],
        },
    ];
    let meta = Meta {
        title: HOSTILE.into(),
        type_name: HOSTILE.into(),
        maker: HOSTILE.into(),
        registration: Some(HOSTILE.into()),
        date: HOSTILE.into(),
        handbook: HOSTILE.into(),
        facts_fingerprint: HOSTILE.into(),
        made_by: HOSTILE.into(),
        canonical: HOSTILE.into(),
        language: HOSTILE.into(),
        items: 1,
        ..Meta::default()
    };
    let chapter = Chapter { id: HOSTILE.into(), number: 1, title: all, blocks };
    let mut model = demo();
    model.items.iter_mut().for_each(|i| {
        if let Some(panel) = &mut i.panel {
            panel.label = Some(HOSTILE.into());
        }
    });
    model.nodes.iter_mut().for_each(|n| n.noun.name = HOSTILE.into());
    let figures = super::diagram::all_figures(&model);
    let mut drawings: Drawings = figures.iter().map(|f| (f.id.clone(), Drawing::from(&draw(f, &model)))).collect();
    let panel = figures.last().map(|f| Drawing::from(&draw(f, &model))).unwrap();
    drawings.insert(HOSTILE.into(), Drawing { title: HOSTILE.into(), reading: HOSTILE.into(), ..panel });
    (Document { meta, chapters: vec![chapter], ledger: Ledger::default() }, drawings)
}

#[test]
fn hostile_text_stays_text_everywhere() {
    let (document, drawings) = hostile_document();
    let page = Html::parse_document(&html::write(&document, &drawings));
    assert_eq!(select(&page, "script").len(), 1, "only our own script");
    assert_eq!(select(&page, "style").len(), 1, "only our own style");
    assert!(select(&page, "img, iframe, object, embed, link, base, form").is_empty());
    for element in select(&page, "*") {
        for (name, value) in element.value().attrs() {
            assert!(!name.starts_with("on"), "{name}");
            assert!(name != "style", "no style attribute");
            assert!(!(name == "href" && !value.starts_with('#')), "{value}");
        }
    }
    let shown = text_of(select(&page, "main")[0]);
    assert!(shown.contains("<script>alert(1)</script>"), "the text is there as text");
    assert!(shown.contains("{{ 1 + 1 }}"), "nothing of an author is a template");
    assert_eq!(text_of(select(&page, "h1")[0]), HOSTILE.split_whitespace().collect::<Vec<_>>().join(" "));
}

#[test]
fn the_policy_names_the_hashes_of_the_one_script_and_the_one_style() {
    let (_, _, page) = demo_page();
    let hash = |tag: &str| {
        let from = page.find(&format!("<{tag}>")).unwrap() + tag.len() + 2;
        let to = from + page[from..].find(&format!("</{tag}>")).unwrap();
        STANDARD.encode(Sha256::digest(page[from..to].as_bytes()))
    };
    let parsed = Html::parse_document(&page);
    let policy = select(&parsed, "meta[http-equiv=Content-Security-Policy]")[0].attr("content").unwrap();
    assert!(policy.contains("default-src 'none'"));
    assert!(policy.contains(&format!("script-src 'sha256-{}'", hash("script"))), "{policy}");
    assert!(policy.contains(&format!("style-src 'sha256-{}'", hash("style"))), "{policy}");
    assert!(!policy.contains("unsafe"));
    assert!(!page.contains(" style=\""), "a style attribute would need a hash");
    assert!(!page.contains("http://") && !page.contains("https://"), "nothing points elsewhere");
}

#[test]
fn the_canonical_text_travels_whole() {
    let (document, _, page) = demo_page();
    let parsed = Html::parse_document(&page);
    let template = select(&parsed, "template#canonical-text")[0];
    let packed: String = template.descendants().filter_map(|n| n.value().as_text().map(|t| t.to_string())).collect();
    let packed = STANDARD.decode(packed.trim()).unwrap();
    let text = miniz_oxide::inflate::decompress_to_vec(&packed).unwrap();
    assert_eq!(String::from_utf8(text).unwrap(), document.meta.canonical);
    assert!(document.meta.canonical.len() > 1000);
}

#[test]
fn the_notice_stands_on_the_cover_in_every_chapter_and_in_the_margin_of_paper() {
    let (document, _, page) = demo_page();
    let parsed = Html::parse_document(&page);
    let feet = select(&parsed, "section.cover footer.foot, section.chapter footer.foot");
    assert_eq!(feet.len(), document.chapters.len() + 1);
    for foot in feet {
        let text = text_of(foot);
        assert!(text.contains(TRAINING_AID), "{text}");
        assert!(text.contains(&document.meta.facts_fingerprint[..12]), "{text}");
        assert!(
            text.contains(&format!("Revision {}", document.meta.revision)) && text.contains(&document.meta.date),
            "{text}"
        );
    }
    let style = text_of(select(&parsed, "style")[0]);
    let margin = style.split("@bottom-left { content: \"").nth(1).unwrap();
    assert!(margin.starts_with(TRAINING_AID), "{}", &margin[..80]);
}

#[test]
fn the_cover_says_what_the_guide_is_and_how_far_it_was_confirmed() {
    let (document, _, page) = demo_page();
    let parsed = Html::parse_document(&page);
    let cover = text_of(select(&parsed, "section.cover")[0]);
    let meta = &document.meta;
    let confirmed = format!("{} of {} items confirmed", meta.confirmed, meta.items);
    let agrees = "This guide agrees with its model. Only a person at the aircraft can show that the model agrees with the aircraft.";
    let wanted = [
        &meta.title,
        &meta.type_name,
        &meta.maker,
        &meta.handbook,
        &meta.date,
        &meta.facts_fingerprint,
        &meta.made_by,
        &confirmed,
    ];
    for part in wanted.into_iter().map(String::as_str).chain([agrees, "DRAFT", TRAINING_AID]) {
        assert!(cover.contains(part), "{part}");
    }
    assert_eq!(select(&parsed, "section.cover svg").len(), 1, "the panel is on the cover");
}

#[test]
fn a_guide_that_was_confirmed_whole_is_no_draft() {
    let (mut document, drawings, _) = demo_page();
    document.meta.confirmed = document.meta.items;
    let page = Html::parse_document(&html::write(&document, &drawings));
    assert!(!text_of(select(&page, "section.cover")[0]).contains("DRAFT"));
}

#[test]
fn every_table_of_the_tree_is_on_the_page_line_by_line() {
    let (document, _, page) = demo_page();
    let parsed = Html::parse_document(&page);
    let tables: Vec<&Table> = document.chapters.iter().flat_map(|c| &c.blocks).filter_map(table_of).collect();
    let shown = select(&parsed, "table");
    assert_eq!(shown.len(), tables.len());
    let tidy = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    for (table, element) in tables.iter().zip(shown) {
        let rows: Vec<ElementRef> = element.select(&Selector::parse("tbody > tr").unwrap()).collect();
        assert_eq!(rows.len(), table.rows.len());
        assert_eq!(
            text_of(element.select(&Selector::parse("caption").unwrap()).next().unwrap()),
            tidy(&plain_text(&table.caption))
        );
        for (row, element) in table.rows.iter().zip(rows) {
            assert_eq!(element.select(&Selector::parse("th[scope=row]").unwrap()).count(), 1);
            let cells: Vec<ElementRef> = element.select(&Selector::parse("th, td").unwrap()).collect();
            assert_eq!(cells.len(), row.cells.len());
            for (cell, element) in row.cells.iter().zip(cells) {
                let mark = cell.mark.map(|m| m.word().to_owned());
                let lines = cell.lines.iter().map(|l| tidy(&plain_text(l)));
                let wanted = mark.into_iter().chain(lines).collect::<Vec<_>>().concat().replace(' ', "");
                assert_eq!(text_of(element).replace(' ', ""), wanted);
            }
        }
    }
}

fn table_of(block: &Block) -> Option<&Table> {
    if let Block::Table(table) = block { Some(table) } else { None }
}

#[test]
fn every_link_leads_to_one_place_of_the_page() {
    let (_, _, page) = demo_page();
    let parsed = Html::parse_document(&page);
    let mut ids: Vec<&str> = select(&parsed, "[id]").iter().filter_map(|e| e.attr("id")).collect();
    ids.sort_unstable();
    let count = ids.len();
    ids.dedup();
    assert_eq!(ids.len(), count, "ids are unique");
    for link in select(&parsed, "a") {
        let to = link.attr("href").unwrap().trim_start_matches('#');
        assert!(ids.contains(&to), "{to}");
    }
}

#[test]
fn the_same_page_twice() {
    assert!(made_page().2 == made_page().2);
}

#[test]
#[ignore = "writes the page to look at"]
fn page_of_the_demo() {
    let (_, _, page) = demo_page();
    std::fs::create_dir_all("target/look").unwrap();
    std::fs::write("target/look/guide.html", &page).unwrap();
    println!("{} bytes", page.len());
}
