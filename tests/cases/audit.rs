//! Finished guides damaged in known ways: the audit names each damage with its code and its place, and finds nothing in the guide
//! as it was made.

use ribstitch::audit::{Basis, Examiner, Finding};
use ribstitch::pipeline::{Request, Until, compile};
use ribstitch::render::html::Paper;
use std::path::PathBuf;
use std::sync::{Mutex, OnceLock};

pub struct Made {
    pub html: String,
    pub basis: Basis,
}

/// The guide of the demo, made once.
pub fn made() -> &'static Made {
    static MADE: OnceLock<Made> = OnceLock::new();
    MADE.get_or_init(|| {
        let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
        let request = Request {
            aircraft: root.join("aircraft/sandling"),
            book: Some(root.join("book")),
            only: None,
            paper: Paper::A4,
            pdf: false,
            card: false,
            booklet: false,
            strict: false,
            until: Until::Audited,
        };
        let compiled = compile(&request).unwrap();
        let canonical = compiled.document.unwrap().meta.canonical;
        Made { html: compiled.guide.unwrap().html, basis: Basis::read(&canonical).unwrap() }
    })
}

/// One way to damage a page.
#[derive(Debug)]
pub struct Damage {
    /// What is done, in words.
    name: &'static str,
    /// The damage begins to look here.
    from: &'static str,
    /// The first text after that.
    old: &'static str,
    new: &'static str,
    /// The code of a finding, and words of its place.
    code: &'static str,
    place: &'static [&'static str],
}

impl Damage {
    fn done_to(&self, html: &str) -> String {
        let start = html.find(self.from).unwrap_or_else(|| panic!("{}: no `{}`", self.name, self.from));
        let at = html[start..].find(self.old).unwrap_or_else(|| panic!("{}: no `{}`", self.name, self.old));
        let (head, tail) = html.split_at(start + at);
        let damaged = format!("{head}{}{}", self.new, &tail[self.old.len()..]);
        assert_ne!(damaged, html, "{}: nothing is damaged", self.name);
        damaged
    }

    fn is_named(&self, findings: &[Finding]) -> bool {
        findings.iter().any(|f| f.code == self.code && self.place.iter().all(|words| f.place.contains(words)))
    }
}

pub const fn damage(
    name: &'static str,
    (from, old, new): (&'static str, &'static str, &'static str),
    (code, place): (&'static str, &'static [&'static str]),
) -> Damage {
    Damage { name, from, old, new, code, place }
}

/// Examiners that wait for the next damage: each has its answers worked out.
static EXAMINERS: Mutex<Vec<Examiner<'static>>> = Mutex::new(Vec::new());

pub fn findings(damages: &[Damage]) {
    with_examiner(|examiner| {
        for damage in damages {
            let found = examiner.report(&damage.done_to(&made().html)).findings;
            assert!(damage.is_named(&found), "{damage:#?}\nfound: {found:#?}");
        }
    });
}

/// Lends an examiner of the demo's guide.
pub fn with_examiner(work: impl FnOnce(&mut Examiner<'static>)) {
    let idle = EXAMINERS.lock().unwrap().pop();
    let mut examiner = idle.unwrap_or_else(|| Examiner::new(&made().basis));
    work(&mut examiner);
    EXAMINERS.lock().unwrap().push(examiner);
}

#[test]
fn the_guide_as_it_was_made_has_no_finding_and_much_is_proved() {
    let made = made();
    let report = Examiner::new(&made.basis).report(&made.html);
    assert_eq!(report.findings, []);
    let proved = report.proved;
    assert!(proved.tables > 100 && proved.cells > 2000 && proved.numbers > 150 && proved.notices > 10, "{proved}");
}

#[test]
fn damage_to_the_states_is_named() {
    const RADIOS: &str = "<table id=\"states/communications\"";
    findings(&[
        damage(
            "a cell is flipped",
            (RADIOS, "<span class=\"mark mark-dead\">dead</span>", "<span class=\"mark mark-works\">works</span>"),
            ("cell-wrong", &["communications", "Audio panel", "column “secured”"]),
        ),
        damage("a sign is not its word", (RADIOS, "mark-dead", "mark-works"), ("sign-wrong", &["What works"])),
        damage(
            "a cell cannot be read",
            (RADIOS, ">dead</span>", ">unpowered</span>"),
            ("unreadable", &["communications", "Audio panel", "column “secured”"]),
        ),
        damage(
            "two states change places",
            (RADIOS, "data-state=\"starting\">starting</th>", "data-state=\"starting\">cruise</th>"),
            ("state-missing", &["communications"]),
        ),
        damage(
            "a row is another item's",
            (RADIOS, ">Com 1 radio<", ">Encoder<"),
            ("name-missing", &["communications"]),
        ),
        damage(
            "a state is of another system",
            (RADIOS, ">communications</span>", ">fuel</span>"),
            ("table-missing", &["What works"]),
        ),
    ]);
}

#[test]
fn damage_to_numbers_is_named() {
    const BREAKERS: &str = "<table id=\"breakers/2\"";
    const CLOCKS: &str = "<table id=\"clocks\"";
    const QUANTITIES: &str = "<table id=\"quantities\"";
    const INSPECTIONS: &str = "<table id=\"inspections\"";
    findings(&[
        damage(
            "a rating has another digit",
            (BREAKERS, ">60 A<", ">50 A<"),
            ("number-wrong", &["Alternator breaker", "Rating"]),
        ),
        damage(
            "a rating has another unit",
            (BREAKERS, ">60 A<", ">60 V<"),
            ("unit-wrong", &["Alternator breaker", "Rating"]),
        ),
        damage("a rating is gone", (BREAKERS, ">60 A<", "><"), ("number-missing", &["Alternator breaker", "Rating"])),
        damage(
            "two breakers change names",
            (BREAKERS, ">Alternator breaker<", ">Turn coordinator breaker<"),
            ("number-wrong", &["Turn coordinator breaker", "Rating"]),
        ),
        damage(
            "a breaker carries more",
            (BREAKERS, ">alternator output wire<", ">encoder<"),
            ("name-extra", &["Alternator breaker", "Carries"]),
        ),
        damage(
            "what a thing draws is wrong",
            ("<table id=\"items/flight-instruments\"", ">0.4 A<", ">0.5 A<"),
            ("number-wrong", &["Draws"]),
        ),
        damage("a result is wrong", (CLOCKS, ">30 min<", ">31 min<"), ("sum-wrong", &["clocks", "1200 rpm"])),
        damage("a sum is not of its row", (CLOCKS, ">1200 rpm<", ">1300 rpm<"), ("sum-wrong", &["1300 rpm"])),
        damage(
            "the reference is another",
            (
                CLOCKS,
                "÷ <span class=\"shown\" data-fact=\"time/reference\">2400",
                "÷ <span class=\"shown\" data-fact=\"time/reference\">2500",
            ),
            ("number-wrong", &["column “Sum”"]),
        ),
        damage(
            "a worked sum is wrong",
            (
                "id=\"clocks/1200-60\"",
                "data-fact=\"clocks/1200-60/tachometer\">30",
                "data-fact=\"clocks/1200-60/tachometer\">40",
            ),
            ("sum-wrong", &["worked sum"]),
        ),
        damage(
            "a quantity is wrong",
            (QUANTITIES, ">14 V<", ">28 V<"),
            ("number-wrong", &["Numbers and where they stand", "Bus voltage"]),
        ),
        damage(
            "a quantity stands elsewhere",
            (QUANTITIES, "section 7.2", "section 7.9"),
            ("line-missing", &["Source"]),
        ),
        damage(
            "an interval is wrong",
            (INSPECTIONS, ">24</span>", ">12</span>"),
            ("number-wrong", &["Altimeter and static system test", "Every"]),
        ),
        damage(
            "another clock counts",
            (INSPECTIONS, "tachometer time", "hour-meter time"),
            ("line-missing", &["Counted by"]),
        ),
    ]);
}

#[test]
fn damage_to_items_alerts_controls_and_the_walk_is_named() {
    const ITEMS: &str = "<table id=\"items/suction\"";
    const CONTROLS: &str = "<table id=\"controls\"";
    findings(&[
        damage(
            "an item is dropped",
            (ITEMS, "<tr data-about=\"suction-gauge\">", "<tr hidden data-about=\"suction-gauge\">"),
            ("name-missing", &["Items: suction"]),
        ),
        damage(
            "an item does something else",
            (ITEMS, "Shows the suction across the gyros.", "Shows the fuel."),
            ("line-missing", &["What it does"]),
        ),
        damage(
            "an item is driven by another",
            (ITEMS, ">the suction manifold</span>", ">the static manifold</span>"),
            ("line-missing", &["What drives it"]),
        ),
        damage(
            "a look is of another medium",
            (
                ITEMS,
                "Without <span class=\"name\" data-of=\"air\">air",
                "Without <span class=\"name\" data-of=\"air\">fuel",
            ),
            ("line-missing", &["What it shows when that is gone"]),
        ),
        damage(
            "a breaker is of another item",
            ("<table id=\"items/flight-instruments\"", ">turn coordinator breaker</span>", ">encoder breaker</span>"),
            ("name-extra", &["Turn coordinator", "Breaker"]),
        ),
        damage(
            "an alert watches another",
            ("<table id=\"alerts\"", ">oil pump<", ">fuel line to the carburettor<"),
            ("line-missing", &["Shows when this is lost"]),
        ),
        damage(
            "an alert is dropped",
            ("<table id=\"alerts\"", ">Low-suction warning<", ">Low-voltage warning<"),
            ("name-missing", &["Lights, flags and pointers"]),
        ),
        damage(
            "a position stops more",
            (CONTROLS, "stops <span", "stops clock, <span"),
            ("name-extra", &["Controls", "What each position changes"]),
        ),
        damage(
            "a position does nothing",
            (CONTROLS, "</code>: as in", "</code>: nothing starts or stops, as in"),
            ("line-missing", &["What each position changes"]),
        ),
        damage(
            "an item of the walk is another",
            ("<table id=\"walk/2\"", ">Ammeter<", ">Clock<"),
            ("name-missing", &["sign-off"]),
        ),
        damage(
            "an item of the walk is elsewhere",
            ("<table id=\"walk/2\"", ">on the panel<", ">in the wing<"),
            ("line-missing", &["column “Where”"]),
        ),
    ]);
}

#[test]
fn damage_to_what_every_guide_says_is_named() {
    const NOTICE: &str = "Training aid. The approved flight manual, placards and your instructor govern.";
    findings(&[
        damage(
            "a chapter has no notice",
            ("id=\"suction\"", NOTICE, "Training aid."),
            ("notice-missing", &["Suction"]),
        ),
        damage("the cover has no notice", ("class=\"cover\"", NOTICE, ""), ("notice-missing", &["Cover"])),
        damage(
            "a notice is hidden",
            ("id=\"suction\"", "<p class=\"training-aid\">", "<p class=\"training-aid\" hidden>"),
            ("notice-missing", &["Suction"]),
        ),
        damage(
            "printed pages have no notice",
            ("@page {", "@bottom-left { content", "@bottom-center { content"),
            ("notice-missing", &["print"]),
        ),
        damage(
            "the claim is bolder",
            ("class=\"agrees\"", "Only a person at the aircraft can show", "Nobody needs to show"),
            ("claim-missing", &["Cover"]),
        ),
        damage(
            "the draft is no draft",
            ("class=\"cover\"", "<strong>DRAFT</strong>", "<strong>FINAL</strong>"),
            ("draft-wrong", &["Cover"]),
        ),
        damage("more is confirmed than was", ("class=\"plate\"", " of 2", "6 of 2"), ("draft-wrong", &["Cover"])),
        damage(
            "a fingerprint is another",
            ("Fingerprint of the facts", "<dd>", "<dd>0"),
            ("fingerprint-wrong", &["Cover"]),
        ),
        damage(
            "a foot has another fingerprint",
            ("id=\"suction\"", "2026-05-02 · ", "2026-05-02 · 0"),
            ("fingerprint-wrong", &["Suction"]),
        ),
        damage(
            "a chapter is left out",
            ("id=\"suction\"", "id=\"suction\"", "hidden id=\"suction-2\""),
            ("chapter-missing", &["Page"]),
        ),
        damage(
            "a name in prose is another",
            ("id=\"electrical-purpose\"", ">the engine</span>", ">the clock</span>"),
            ("name-wrong", &["Electrical"]),
        ),
    ]);
}

#[test]
fn damage_to_the_text_carried_along_is_named() {
    findings(&[
        damage(
            "the text carried along is no text",
            ("<template", "deflate base64\">", "deflate base64\">AAAA"),
            ("copy-unreadable", &["carried"]),
        ),
        damage(
            "the text carried along is gone",
            ("<template", "<template id=\"canonical-text\"", "<div hidden id=\"canonical-text\""),
            ("copy-unreadable", &["carried"]),
        ),
    ]);
    let made = made();
    let other = Basis::read("[aircraft]\nname = \"other\"\n").unwrap();
    let found = Examiner::new(&other).report(&made.html).findings;
    assert!(found.iter().any(|f| f.code == "copy-differs" && f.place.contains("line 2")), "{:#?}", found.first());
}
