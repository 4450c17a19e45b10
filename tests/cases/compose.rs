//! Model, answers and chapters to the document tree.

use ribstitch::analyse::network::Analysis;
use ribstitch::base::{Diagnostics, Sources};
use ribstitch::compose::{Composed, Prints, compose_with_prose};
use ribstitch::doc::{Block, Cell, Document, FactOrigin, Inline, Table, TableKind, plain_text};
use ribstitch::model::Model;
use ribstitch::parse::book;
use ribstitch::resolve;
use std::path::Path;
use std::sync::OnceLock;

/// The demo aircraft, with these chapters.
pub fn demo(chapters: &[(&str, &str)]) -> (Composed, Sources) {
    let (model, sources) = sandling();
    composed(model, chapters, sources.clone())
}

/// The demo aircraft, read once.
fn sandling() -> &'static (Model, Sources) {
    static SANDLING: OnceLock<(Model, Sources)> = OnceLock::new();
    SANDLING.get_or_init(|| {
        let mut sources = Sources::default();
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("aircraft/sandling");
        let (model, diagnostics) = resolve::load(&folder, &mut sources);
        (model.unwrap_or_else(|| panic!("{}", report(&diagnostics, &sources))), sources)
    })
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
            let heads: Vec<&str> = table.columns.iter().map(ribstitch::doc::Column::heading).collect();
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
    {{ failures(system=\"engine\") }}\n\n{{ failures(system=\"communications\") }}\n\n{{ failures(system=\"navigation\") }}\n\n\
    {{ failure(of=\"encoder\") }}\n\n{{ nothing_lost() }}\n\n{{ states() }}\n\n{{ controls() }}\n\n\
    {{ items(system=\"electrical\") }}\n\n{{ items(system=\"ignition\") }}\n\n{{ breakers() }}\n\n{{ alerts() }}\n\n\
    {{ quantities() }}\n\n{{ clocks(legs=\"2400:60 1200:60 2000:50\") }}\n\n{{ inspections() }}\n\n{{ walk() }}\n\n\
    {{ changes() }}\n\n{{ figure(kind=\"system\", of=\"suction\") }}\n\n{{ figure(kind=\"panel\") }}\n\n\
    {{ figure(kind=\"overview\") }}\n\n## Words {#words}\n\nThe {{ name(of=\"vacuum-pump\") }} and {{ a(of=\"alternator\") }}; \
    {{ The(of=\"elt\") }}. Bank is told by {{ telling(of=\"bank\") }}. The bus feeds {{ fed_by(of=\"avionics-bus\") }}.\n\n\
    - {{ count(of=\"items\") }} items, {{ value(of=\"alternator.rating\") }}\n- see [the pump](#fail/vacuum-pump), \
    [the hose](#fail/suction-hose) and [here](#words)\n\n> [!NOTE]\n> {{ aircraft(of=\"handbook\") }} governs.\n\n\
    ### An autopilot {#autopilot has=autopilot}\n\nNot here.\n\n### Suction {has=suction}\n\nHere. See [the autopilot](#autopilot).\n\n\
    | A | B |\n|---|---|\n| *x* | `y` |\n";

pub fn everything() -> Document {
    let (composed, sources) = demo(&[("01-everything.md", EVERYTHING)]);
    let told = report(&composed.diagnostics, &sources);
    composed.document.unwrap_or_else(|| panic!("{told}"))
}

/// Walks every line of a document.
fn lines(document: &Document) -> Vec<&[Inline]> {
    fn of<'d>(block: &'d Block, all: &mut Vec<&'d [Inline]>) {
        match block {
            Block::Heading { text, .. } | Block::Para(text) => all.push(text),
            Block::List { items, .. } => items.iter().flatten().for_each(|b| of(b, all)),
            Block::Notice { body, .. } => body.iter().for_each(|b| of(b, all)),
            Block::Figure(figure) => all.push(&figure.caption),
            Block::Worked { title, steps, .. } => {
                all.push(title);
                steps.iter().for_each(|s| all.extend([&*s.says, &*s.sum, &*s.result]));
            }
            Block::Table(table) => {
                all.push(&table.caption);
                let cells = table.rows.iter().flat_map(|r| &r.cells);
                all.extend(cells.flat_map(|c| c.lines.iter().map(Vec::as_slice)));
            }
        }
    }
    let mut all = Vec::new();
    document.chapters.iter().for_each(|c| all.push(&*c.title));
    document.chapters.iter().flat_map(|c| &c.blocks).for_each(|b| of(b, &mut all));
    all
}

/// Every inline, the ones inside others too.
fn inlines(document: &Document) -> Vec<&Inline> {
    fn of<'d>(inline: &'d Inline, all: &mut Vec<&'d Inline>) {
        all.push(inline);
        if let Inline::Claim { text, .. } | Inline::Ref { text, .. } | Inline::Emph(text) | Inline::Strong(text) =
            inline
        {
            text.iter().for_each(|i| of(i, all));
        }
    }
    let mut all = Vec::new();
    lines(document).into_iter().flatten().for_each(|i| of(i, &mut all));
    all
}

fn ids(document: &Document) -> Vec<&str> {
    let mut ids: Vec<&str> = document.chapters.iter().map(|c| c.id.as_str()).collect();
    for block in document.chapters.iter().flat_map(|c| &c.blocks) {
        match block {
            Block::Heading { id, .. } | Block::Worked { id, .. } => ids.push(id),
            Block::Table(table) => ids.push(&table.id),
            Block::Figure(figure) => ids.push(&figure.id),
            _ => {}
        }
    }
    ids
}

pub fn tables(document: &Document) -> Vec<&Table> {
    let blocks = document.chapters.iter().flat_map(|c| &c.blocks);
    blocks.filter_map(|b| if let Block::Table(t) = b { Some(t) } else { None }).collect()
}

#[test]
fn ids_are_unique_and_the_same_every_time() {
    let (one, two) = (everything(), everything());
    let mut sorted = ids(&one);
    sorted.sort_unstable();
    let all = sorted.len();
    sorted.dedup();
    assert_eq!(sorted.len(), all);
    assert!(sorted.contains(&"fail/vacuum-pump") && sorted.contains(&"everything/suction"));
    assert_eq!(one, two);
}

#[test]
fn numbers_with_units_and_names_of_items_are_never_bare_text() {
    let document = everything();
    let mut names: Vec<String> = Vec::new();
    for inline in inlines(&document) {
        if let Inline::Name { text, .. } = inline {
            names.push(text.to_lowercase().trim_start_matches("the ").to_owned());
        }
    }
    for inline in inlines(&document) {
        let Inline::Text(text) = inline else { continue };
        let words: Vec<&str> = text.split([' ', '\u{a0}']).collect();
        let unit = |w: &str| ribstitch::base::Unit::find(w.trim_end_matches(['.', ',', ')'])).is_some() && w != "in";
        let number = |w: &str| w.parse::<f64>().is_ok();
        assert!(!words.windows(2).any(|w| number(w[0]) && unit(w[1])), "{text}");
        let long = |n: &&String| n.contains(' ') && text.to_lowercase().contains(n.as_str());
        assert_eq!(names.iter().find(long), None, "{text}");
    }
}

#[test]
fn what_is_shown_stands_in_the_ledger() {
    let document = everything();
    let mut shown = 0;
    for inline in inlines(&document) {
        let Inline::Shown(id, text) = inline else { continue };
        assert_eq!(document.ledger.get(id).map(|f| &f.shown), Some(text));
        shown += 1;
    }
    assert!(shown > 50, "{shown}");
    for fact in document.ledger.iter() {
        if let FactOrigin::Computed { inputs, .. } = &fact.origin {
            assert!(inputs.iter().all(|i| document.ledger.get(i).is_some()), "{}", fact.id);
        }
    }
}

#[test]
fn rows_are_as_wide_as_their_tables() {
    let document = everything();
    let all = tables(&document);
    assert!(all.len() > 60, "{}", all.len());
    for table in all {
        assert!(!table.rows.is_empty(), "{}", table.id);
        assert!(table.rows.iter().all(|r| r.cells.len() == table.columns.len()), "{}", table.id);
    }
}

#[test]
fn links_lead_to_places_of_the_document() {
    let document = everything();
    let ids = ids(&document);
    let mut targets = Vec::new();
    for inline in inlines(&document) {
        if let Inline::Ref { to, .. } = inline {
            assert!(ids.contains(&to.as_str()), "{to}");
            targets.push(to.as_str());
        }
    }
    // The hose shares the table of the pump; the link to the autopilot, which this aircraft lacks, is plain text.
    assert_eq!(targets, ["fail/vacuum-pump", "fail/vacuum-pump", "words"]);
}

#[test]
fn chapters_have_titles_and_blocks_and_headings_go_down_one_at_a_time() {
    let document = everything();
    for chapter in &document.chapters {
        assert!(!plain_text(&chapter.title).is_empty() && !chapter.blocks.is_empty());
        let mut level = 1;
        for block in &chapter.blocks {
            if let Block::Heading { level: next, .. } = block {
                assert!(*next >= 2 && *next <= level + 1);
                level = *next;
            }
        }
    }
}

#[test]
fn section_of_what_the_aircraft_lacks_is_left_out() {
    let text = dump(&everything());
    assert!(text.contains("Here. See the autopilot."));
    assert!(!text.contains("Not here."));
}

#[test]
fn whole_demo_reads_as_in_the_reference() {
    super::phrases::matches_reference("everything.txt", &dump(&everything()));
}

/// The rows of a failure table as lines of text: heading, then each line of the cell.
fn rows_of(document: &Document, id: &str) -> Vec<(String, Vec<String>)> {
    let all = tables(document);
    let table = all.iter().find(|t| t.id == id).unwrap_or_else(|| panic!("no table {id}"));
    let cell = |c: &Cell| c.lines.iter().map(|l| plain_text(l)).collect::<Vec<_>>();
    table.rows.iter().map(|r| (cell(&r.cells[0]).concat(), cell(&r.cells[1]))).collect()
}

pub fn row(document: &Document, id: &str, heading: &str) -> Vec<String> {
    rows_of(document, id).into_iter().find(|(h, _)| h == heading).map(|(_, lines)| lines).unwrap_or_default()
}

#[test]
fn vacuum_pump_takes_the_gyros_and_not_the_turn_coordinator() {
    let document = everything();
    let lost = row(&document, "fail/vacuum-pump", "Lost").join("\n");
    assert!(lost.contains("Attitude indicator: ") && lost.contains("Heading indicator: "));
    assert!(!lost.contains("urn coordinator"));
    let still = row(&document, "fail/vacuum-pump", "Still tells you").join("\n");
    assert!(
        still.contains("Bank: turn coordinator (indirectly).") && still.contains("Rate of turn: turn coordinator.")
    );
    let know = row(&document, "fail/vacuum-pump", "How you know").join("\n");
    assert!(know.contains("Low-suction warning: ") && know.contains("Suction gauge: "));
}

#[test]
fn blocked_static_line_is_false_and_silent_and_works_again_approximately() {
    let document = everything();
    let wrong = row(&document, "fail/static-line", "False").join("\n");
    for name in ["Airspeed indicator", "Altimeter", "Vertical speed indicator", "Altitude reporting of the transponder"]
    {
        assert!(wrong.contains(name), "{wrong}");
    }
    assert_eq!(row(&document, "fail/static-line", "How you know"), ["Nothing tells you."]);
    let again = row(&document, "fail/static-line", "Works again with").join("\n");
    assert!(
        again.starts_with("Alternate static valve OPEN: ") && again.contains("altimeter (approximately)"),
        "{again}"
    );
    assert!(again.contains("read slightly high"), "{again}");
}

#[test]
fn alternator_takes_no_instrument_and_the_battery_alone_takes_the_buses() {
    let document = everything();
    let rows = rows_of(&document, "fail/alternator");
    let mut lost = rows.iter().filter(|(h, _)| h == "Lost").flat_map(|(_, lines)| lines);
    assert!(lost.all(|l| l.starts_with("Out of sight")), "{rows:?}");
    let backup = row(&document, "fail/alternator", "No backup left").join("\n");
    assert!(backup.starts_with("If the battery gives no current") && backup.contains("main bus"), "{backup}");
    assert!(row(&document, "fail/alternator", "Lost later")[0].starts_with("After 30 min, as the battery is spent: "));
}

#[test]
fn broken_ground_lead_is_told_in_the_parked_state_too() {
    let document = everything();
    assert!(row(&document, "fail/ground-lead-left", "Lost").is_empty());
    assert_eq!(row(&document, "fail/ground-lead-left/in/secured", "Works unasked"), ["Left magneto"]);
    assert!(row(&document, "fail/ground-lead-left/in/secured", "Hazard")[0].starts_with("WARNING: "));
}

#[test]
fn encoder_takes_a_function_by_its_name() {
    let document = everything();
    let lost = row(&document, "fail/encoder", "Lost");
    assert!(lost.iter().any(|l| l.starts_with("Altitude reporting of the transponder")), "{lost:?}");
    assert!(!lost.iter().any(|l| l.starts_with("Transponder")), "{lost:?}");
}

#[test]
fn broken_fuel_pressure_line_offers_no_restoring_move() {
    let document = everything();
    assert!(row(&document, "fail/fuel-pressure-line", "Works again with").is_empty());
    assert!(!row(&document, "fail/fuel-pressure-line", "Hazard").is_empty());
}

#[test]
fn no_row_tells_the_pilot_what_to_do() {
    let document = everything();
    let commands =
        ["Pull ", "Switch ", "Turn ", "Open ", "Close ", "Set ", "Press ", "Select ", "Reset ", "Push ", "Land "];
    for table in tables(&document).into_iter().filter(|t| t.kind == TableKind::Failure) {
        for line in table.rows.iter().flat_map(|r| &r.cells).flat_map(|c| &c.lines) {
            let text = plain_text(line);
            let first_of_sentence = text.split(". ").any(|s| commands.iter().any(|c| s.starts_with(c)));
            assert!(!first_of_sentence || text.starts_with("Turn coordinator"), "{text}");
        }
    }
}

#[test]
fn fingerprints_follow_the_facts_and_the_program() {
    let document = everything();
    let meta = &document.meta;
    assert_eq!((meta.facts_fingerprint.len(), meta.made_by.len()), (64, 64));
    assert!(meta.canonical.contains("+++ chapter 01-everything.md +++\n# Everything\n"));
    let (other, _) = demo(&[("01-everything.md", "# Everything\n\nOther.\n")]);
    let other = other.document.unwrap().meta;
    assert_ne!(other.facts_fingerprint, meta.facts_fingerprint);
    assert_eq!(other.made_by, meta.made_by);
    assert!(meta.is_draft());
}

/// One sentence with a claim, as a chapter.
fn claim(claim: &str) -> (Composed, Sources) {
    let text = format!("# Claims\n\nIt is said that [the sentence stands](<claim:{claim}>).\n");
    demo(&[("01-claims.md", &text)])
}

const TRUE_CLAIMS: &[&str] = &[
    "attitude-indicator needs vacuum-pump",
    "attitude-indicator needs suction",
    "turn-coordinator does not need suction",
    "turn-coordinator needs electricity",
    "attitude-indicator does not need electricity",
    "engine does not need battery",
    "engine does not need main-bus",
    "alternator does not need battery",
    "engine needs battery to start",
    "engine can use magneto-left",
    "engine can use fuel",
    "clock works in secured",
    "elt works in secured",
    "hour-meter is dead in battery-on",
    "hour-meter works in cruise",
    "losing encoder takes transponder.altitude",
    "transponder survives losing encoder",
    "losing vacuum-pump takes only attitude-indicator, heading-indicator",
    "engine survives losing magneto-left",
    "static-line:fails misleads altimeter",
    "static-line:fails misleads transponder.altitude",
    "low-suction shows when vacuum-pump fails",
    "suction-gauge shows when vacuum-pump fails",
    "ammeter shows when alternator fails",
    "nothing shows when static-line fails",
    "nothing shows when ground-lead-left fails",
    "alternate-static=open restores altimeter after static-line",
    "clock lasts 30 min after alternator",
    "main-bus lasts 30 min after alternator",
    "turn-coordinator alone tells rate-of-turn",
    "turn-coordinator backs up attitude-indicator indirectly",
    "alternator.rating is 60 A",
    "alternator.rating is at least 48 A",
    "time.reference is at most 2400 rpm",
];

#[test]
fn true_claims_of_every_form_are_proved() {
    for text in TRUE_CLAIMS {
        let (composed, sources) = claim(text);
        assert!(composed.diagnostics.is_empty(), "{text}\n{}", report(&composed.diagnostics, &sources));
        assert_eq!(composed.prose.claims.len(), 1);
        assert_eq!(composed.prose.claims[0].sentence, "It is said that the sentence stands.");
    }
}

const FALSE_CLAIMS: &[&str] = &[
    "turn-coordinator needs vacuum-pump",
    "attitude-indicator does not need vacuum-pump",
    "engine needs main-bus",
    "engine needs crankshaft to start",
    "turn-coordinator can use suction",
    "hour-meter works in battery-on",
    "clock is dead in secured",
    "clock misleads in secured",
    "losing encoder takes transponder.code",
    "losing vacuum-pump takes only attitude-indicator",
    "altimeter survives losing static-line",
    "losing static-line takes altimeter",
    "vacuum-pump:fails misleads attitude-indicator",
    "low-voltage shows when vacuum-pump fails",
    "nothing shows when vacuum-pump fails",
    "fuel-selector=off restores altimeter after static-line",
    "clock lasts 20 min after main-bus",
    "attitude-indicator lasts 30 min after alternator",
    "turn-coordinator alone tells bank",
    "altimeter backs up airspeed-indicator",
    "turn-coordinator backs up attitude-indicator",
    "hour-meter needs electricity in battery-on",
    "alternator.rating is 50 A",
    "alternator.rating is at most 59 A",
    "time.reference is at least 2401 rpm",
];

#[test]
fn false_claims_stop_the_compile_and_show_the_model() {
    for text in FALSE_CLAIMS {
        let (composed, sources) = claim(text);
        let told = report(&composed.diagnostics, &sources);
        assert!(composed.document.is_none() && composed.prose.claims.is_empty(), "{text}");
        let begins = "01-claims.md:3:17 claim-false the model says otherwise: ".to_string();
        assert!(told.starts_with(&begins), "{text}\n{told}");
        assert_eq!(composed.diagnostics.len(), 1, "{told}");
    }
}

#[test]
fn false_claim_shows_the_lines_and_the_chain() {
    let (composed, sources) = claim("attitude-indicator does not need vacuum-pump");
    let told = report(&composed.diagnostics, &sources);
    assert!(told.contains("without the vacuum pump, the attitude indicator stops in cruise"), "{told}");
    assert!(told.contains("suction.toml:"), "{told}");
    assert!(told.contains("the attitude indicator hangs on the suction manifold here"), "{told}");
    assert!(told.contains("the chain is: vacuum pump → suction manifold → attitude indicator"), "{told}");
}

#[test]
fn claims_that_cannot_be_asked_say_so_at_the_word() {
    let cases = [
        ("clock sings in secured", "claim-grammar", "clock sings in secured", "write one of"),
        ("clok works in secured", "claim-unknown", "clok", "did you mean `clock`?"),
        ("clock works in secure", "claim-unknown", "secure", "did you mean `secured`?"),
        ("altimeter survives losing static-line:leak", "claim-unknown", "static-line:leak", "did you mean `leaks`?"),
        ("turn-coordinator alone tells bnak", "claim-unknown", "bnak", "did you mean `bank`?"),
        (
            "alternate-static=opne restores altimeter after static-line",
            "claim-unknown",
            "alternate-static=opne",
            "`open`",
        ),
        ("alternator.rating is 60 V", "claim-grammar", "V", "A"),
        ("alternator.rating is sixty A", "claim-grammar", "sixty", "12 V"),
    ];
    for (text, code, place, help) in cases {
        let (composed, sources) = claim(text);
        let found: Vec<_> = composed.diagnostics.iter().collect();
        assert_eq!((found.len(), found[0].code), (1, code), "{text}");
        assert_eq!(sources.slice(found[0].primary.span), place, "{text}");
        assert!(found[0].help.as_deref().is_some_and(|h| h.contains(help)), "{text}: {:?}", found[0].help);
    }
}

#[test]
fn wrong_names_in_calls_are_told_at_the_word() {
    let cases = [
        ("{{ name(of=\"vacum-pump\") }}", "name-unknown", "vacum-pump", "did you mean `vacuum-pump`?"),
        ("{{ value(of=\"alternator.ratting\") }}", "value-unknown", "alternator.ratting", "`alternator.rating`"),
        ("{{ telling(of=\"bnak\") }}", "name-unknown", "bnak", ""),
        ("{{ aircraft(of=\"colour\") }}", "call-argument", "colour", "write one of name"),
        ("{{ count(of=\"wings\") }}", "call-argument", "wings", "write one of items"),
        ("{{ failures(system=\"sucton\") }}", "name-unknown", "sucton", "did you mean `suction`?"),
        ("{{ failure(of=\"altimter\") }}", "name-unknown", "altimter", "did you mean `altimeter`?"),
        ("{{ failure(of=\"altimeter\", in=\"cruse\") }}", "name-unknown", "cruse", "did you mean `cruise`?"),
        ("{{ failure(of=\"altimeter\", in=\"altimeter\") }}", "name-unknown", "altimeter", "the id of a state"),
        ("{{ figure(kind=\"photo\") }}", "call-argument", "photo", "`overview`"),
        ("{{ figure(kind=\"system\") }}", "call-argument", "system", "of="),
        ("{{ clocks(legs=\"2400\") }}", "call-argument", "2400", "2400:60"),
        ("{{ clocks(legs=\"1000000000:10\") }}", "call-argument", "1000000000:10", "2400:60"),
        ("{{ due(done=\"2026-02-30\") }}", "call-argument", "2026-02-30", "2026-05-02"),
        ("{{ due(done=\"2026-01-31\", tachometer=\"-5\") }}", "call-argument", "-5", "1203.4"),
        ("[here](#nowhere)", "link-unknown", "nowhere", ""),
    ];
    for (text, code, place, help) in cases {
        let (composed, sources) = demo(&[("01-a.md", &format!("# A\n\n{text}\n"))]);
        let found: Vec<_> = composed.diagnostics.iter().collect();
        assert_eq!(found.len(), 1, "{text}\n{}", report(&composed.diagnostics, &sources));
        assert_eq!((found[0].code, sources.slice(found[0].primary.span)), (code, place), "{text}");
        assert!(found[0].help.as_deref().is_some_and(|h| h.contains(help)), "{text}: {:?}", found[0].help);
    }
    let (composed, sources) = demo(&[("01-a.md", "# A\n\n## B {#b}\n\nx\n\n## C {#b}\n\ny\n")]);
    assert!(report(&composed.diagnostics, &sources).starts_with("01-a.md:7:8 heading-twice the id `b` is taken [b]"));
}

/// The lints of one paragraph: code and place of each.
fn lints(text: &str) -> Vec<(String, String)> {
    let chapter = format!("# A\n\n{text}\n");
    let (model, sources) = sandling();
    let (composed, sources) = composed(model, &[("01-a.md", &chapter)], sources.clone());
    assert!(composed.diagnostics.is_empty(), "{}", report(&composed.diagnostics, &sources));
    let found = ribstitch::check::book::check(model, &Analysis::new(model), &composed.prose);
    found.iter().map(|d| (d.code.to_owned(), sources.slice(d.primary.span).to_owned())).collect()
}

#[test]
fn lints_find_what_is_not_tied() {
    let found = |text: &str| lints(text).into_iter().map(|(c, p)| format!("{c}: {p}")).collect::<Vec<_>>();
    assert_eq!(found("The *vacuum pump* turns with it."), ["untied-name: vacuum pump"]);
    assert!(found("The {{ name(of=\"vacuum-pump\") }} turns with it.").is_empty());
    assert_eq!(found("The LOW SUCTION lamp is amber."), ["untied-name: LOW SUCTION"]);
    assert!(found("It tells of low suction.").is_empty());
    assert_eq!(found("The Vacuum Pump turns with it."), ["untied-name: Vacuum Pump"]);
    assert_eq!(found("The bus stands at 14 V, always."), ["untied-number: 14 V"]);
    assert!(found("The bus stands at {{ value(of=\"alternator.rating\") }}; see handbook 3.4 in part 2.").is_empty());
    assert_eq!(
        found("The {{ name(of=\"turn-coordinator\") }} runs on suction."),
        ["medium-apart: The {{ name(of=\"turn-coordinator\") }} runs on suction."]
    );
    assert!(found("The {{ name(of=\"turn-coordinator\") }} runs on electricity.").is_empty());
    assert!(found("The {{ name(of=\"turn-coordinator\") }} does not use suction.").is_empty());
    let long = "Word ".repeat(25);
    assert!(found(&format!("{}.", long.trim())).is_empty());
    assert_eq!(found(&format!("{long}more."))[0], format!("long-sentence: {long}more."));
}

#[test]
fn claim_apart_wants_the_things_and_the_negation() {
    let wrong = "The [gyro goes on](<claim:turn-coordinator does not need suction>).";
    let found = lints(wrong);
    assert_eq!(found.iter().filter(|(c, _)| c == "claim-apart").count(), 3, "{found:?}");
    let right = "The [turn coordinator does not need suction](<claim:turn-coordinator does not need suction>).";
    assert_eq!(lints(right), []);
    let beside = "The {{ name(of=\"clock\") }} [keeps running with the master off](<claim:clock works in secured>).";
    assert_eq!(lints(beside), []);
}

#[test]
fn sentences_are_counted_tied_and_untied() {
    let text = "# A\n\nIt is plain. The {{ name(of=\"clock\") }} is named. It [runs](<claim:clock works in secured>). And \
        handbook 3.4 governs. Is it so? Yes.\n";
    let (composed, sources) = demo(&[("01-a.md", text)]);
    assert!(composed.diagnostics.is_empty(), "{}", report(&composed.diagnostics, &sources));
    let prose = &composed.prose;
    let texts: Vec<&str> = prose.sentences.iter().map(|s| s.text.as_str()).collect();
    assert_eq!(texts[..3], ["It is plain.", "The clock is named.", "It runs."]);
    assert_eq!((texts.len(), prose.tied()), (6, 2));
    assert_eq!(sources.slice(prose.sentences[0].span), "It is plain.");
    assert_eq!(prose.claims[0].sentence, "It runs.");
}

#[test]
fn book_with_an_index_promises_every_item() {
    let found = |text: &str| -> Vec<String> {
        let of_pump = lints(text).into_iter().filter(|(_, place)| place.contains("vacuum-pump"));
        of_pump.map(|(code, _)| code).collect()
    };
    assert_eq!(found("{{ index() }}"), ["item-undrawn", "item-untold", "item-without-failure"]);
    let all = "{{ index() }}\n\n{{ figure(kind=\"system\", of=\"suction\") }}\n\n{{ items(system=\"suction\") }}\n\n\
        {{ failures(system=\"suction\") }}";
    assert!(found(all).is_empty());
    assert!(lints("There is no index.").is_empty());
}

#[test]
fn topics_lead_to_the_headings_that_name_them() {
    let text = "# A {teaches=PA.I.G.K1f}\n\n{{ topics() }}\n\n## B {#b leaves-out=PA.I.G.K1l,PA.I.G.K1k}\n\nx\n";
    let (composed, sources) = demo(&[("01-a.md", text)]);
    assert!(composed.diagnostics.is_empty(), "{}", report(&composed.diagnostics, &sources));
    let document = composed.document.unwrap();
    let table = tables(&document).into_iter().find(|t| t.kind == TableKind::Topics).unwrap();
    let row = |code: &str| {
        let row = table.rows.iter().find(|r| r.about == code).unwrap();
        row.cells[2].lines.iter().map(|l| plain_text(l)).collect::<Vec<_>>().join(" / ")
    };
    assert_eq!((row("PA.I.G.K1f").as_str(), row("PA.I.G.K1l").as_str()), ("A", "Not in this guide: A: B"));
    assert_eq!(row("PA.I.G.K1g"), "");
    assert_eq!(composed.prose.untaught.len(), table.rows.len() - 3);
    assert_eq!(composed.prose.untaught[0].0, "PA.I.G.K1a");
}

#[test]
fn wrong_topic_is_refused_at_its_characters() {
    let (composed, sources) = demo(&[("01-a.md", "# A {teaches=PA.I.G.K1f,PA.I.G.K1x}\n\nx\n")]);
    let said = report(&composed.diagnostics, &sources);
    assert!(said.starts_with("01-a.md:1:25 topic-unknown"), "{said}");
    assert!(said.contains("[PA.I.G.K1x]") && said.contains("did you mean `PA.I.G.K1"), "{said}");
    let (composed, sources) = demo(&[("01-a.md", "# A\n\n## B {teaches=PA.I.G.K1f}\n\nx\n")]);
    let said = report(&composed.diagnostics, &sources);
    assert!(said.starts_with("01-a.md:3:15 heading-attribute a heading that names a topic needs an id"), "{said}");
}

#[test]
fn numbers_of_the_walk_round_are_those_of_the_panel() {
    let (composed, sources) = demo(&[("01-a.md", "# A\n\n{{ walk_round() }}\n\n{{ figure(kind=\"panel\") }}\n")]);
    let document = composed.document.unwrap_or_else(|| panic!("{}", report(&composed.diagnostics, &sources)));
    let mut numbers: Vec<(usize, String)> = Vec::new();
    for table in tables(&document).into_iter().filter(|t| plain_text(&t.caption).starts_with("On the panel")) {
        let number = |r: &ribstitch::doc::Row| plain_text(&r.cells[0].lines[0]).parse().unwrap();
        numbers.extend(table.rows.iter().map(|r| (number(r), r.about.clone())));
    }
    let figure = document.chapters[0].blocks.iter().find_map(|b| if let Block::Figure(f) = b { Some(f) } else { None });
    let scene = ribstitch::diagram::draw(figure.unwrap(), &sandling().0);
    let called = scene.marks.iter().filter_map(|m| match m {
        ribstitch::diagram::Mark::Callout { of, number, .. } => Some((*number, of.clone())),
        _ => None,
    });
    let mut called: Vec<(usize, String)> = called.collect();
    called.sort();
    called.dedup();
    assert_eq!(numbers, called);
    assert!(numbers.len() > 80);
}

#[test]
fn tag_of_a_medium_is_pulled_and_a_wrong_one_is_refused() {
    let (composed, _) = demo(&[("01-a.md", "# A\n\nIts tag is {{ tag(of=\"suction\") }}.\n")]);
    assert_eq!(composed.prose.sentences[0].text, "Its tag is SU.");
    let (composed, sources) = demo(&[("01-a.md", "# A\n\nIts tag is {{ tag(of=\"suctoin\") }}.\n")]);
    let said = report(&composed.diagnostics, &sources);
    assert!(said.contains("name-unknown") && said.contains("did you mean `suction`?"), "{said}");
}

#[test]
fn hostile_names_stay_text() {
    let model = "[aircraft]\nname = \"T\"\nmaker = \"M\"\nrevision = 1\ndate = 2026-05-02\nhandbook = \"H\"\n\
        [system.s]\nname = \"s\"\nnumber = \"24\"\n[item.a]\nname = \"{{ b }} {% raw %} x\"\nkind = \"battery\"\nsystem = \"s\"\n\
        gives = \"electricity\"\n[item.b]\nname = \"bee\"\nkind = \"bus\"\nsystem = \"s\"\nneeds = [\"a\"]\n\
        [state.cruise]\nname = \"cruise\"\nin-flight = true\n";
    let (composed, sources) =
        small(model, &[("01-a.md", "# A\n\n{{ failures(system=\"s\") }}\n\n{{ items(system=\"s\") }}\n")]);
    let document = composed.document.unwrap_or_else(|| panic!("{}", report(&composed.diagnostics, &sources)));
    assert!(dump(&document).contains("If the {{ b }} {% raw %} x fails (cruise)"), "{}", dump(&document));
}
