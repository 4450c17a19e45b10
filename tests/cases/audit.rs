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

const PUMP: &str = "<table id=\"fail/vacuum-pump\"";
const STATIC: &str = "<table id=\"fail/static-line\"";
const ALTERNATOR: &str = "<table id=\"fail/alternator\"";
const MAIN_BUS: &str = "<table id=\"fail/main-bus\"";
const HEADING_LINE: &str = concat!(
    r#"<li><span class="name" data-of="heading-indicator">Heading indicator</span>: "#,
    r#"<span class="quoted" data-of="heading-indicator/on-loss">The gyro runs down over minutes, and the card drifts away from "#,
    r#"the heading with no flag.</span></li>"#
);

#[test]
fn the_guide_as_it_was_made_has_no_finding_and_much_is_proved() {
    let made = made();
    let report = Examiner::new(&made.basis).report(&made.html);
    assert_eq!(report.findings, []);
    let proved = report.proved;
    assert!(proved.tables > 100 && proved.cells > 2000 && proved.numbers > 150 && proved.notices > 10, "{proved}");
}

#[test]
fn damage_to_what_is_lost_or_false_is_named() {
    findings(&[
        damage(
            "a lost instrument is dropped",
            (PUMP, HEADING_LINE, ""),
            ("name-missing", &["vacuum pump", "row “Lost”"]),
        ),
        damage(
            "a name is added to what is lost",
            (PUMP, "<ul class=\"lines\"><li>", "<ul class=\"lines\"><li>Clock</li>\n<li>"),
            ("name-extra", &["vacuum pump", "row “Lost”"]),
        ),
        damage(
            "what is lost is called false",
            (PUMP, "<th scope=\"row\">Lost</th>", "<th scope=\"row\">False</th>"),
            ("name-extra", &["vacuum pump", "row “False”"]),
        ),
        damage(
            "a row has a name of its own",
            (PUMP, "<th scope=\"row\">Lost</th>", "<th scope=\"row\">Gone</th>"),
            ("unreadable", &["vacuum pump", "row “Gone”"]),
        ),
        damage(
            "a false instrument is renamed",
            (STATIC, ">Altimeter</span>", ">Ammeter</span>"),
            ("name-missing", &["static line", "row “False”"]),
        ),
        damage(
            "what is out of sight loses a name",
            (STATIC, "<span class=\"name\" data-of=\"encoder\">encoder</span>, ", ""),
            ("name-missing", &["static line", "row “False”"]),
        ),
        damage(
            "a look belongs to another thing",
            (PUMP, "and the card drifts away from the heading with no flag.", "and the red flag shows."),
            ("sentence-wrong", &["vacuum pump", "row “Lost”", "heading indicator"]),
        ),
        damage(
            "the error comes by another way",
            (STATIC, ">the static manifold</span>", ">the pitot line</span>"),
            ("way-wrong", &["static line", "row “False”"]),
        ),
        damage(
            "a line says nothing that can be read",
            (PUMP, ">Heading indicator</span>: ", ">Heading indicator</span> and so on: "),
            ("unreadable", &["vacuum pump", "row “Lost”"]),
        ),
    ]);
}

#[test]
fn damage_to_what_comes_later_or_still_tells_is_named() {
    findings(&[
        damage(
            "a store lasts longer",
            (ALTERNATOR, "30 min", "80 min"),
            ("time-wrong", &["alternator", "row “Lost later”"]),
        ),
        damage(
            "a time has another unit",
            (ALTERNATOR, "30 min", "30 h"),
            ("time-wrong", &["alternator", "row “Lost later”"]),
        ),
        damage(
            "a name of what is lost later is dropped",
            (ALTERNATOR, "<span class=\"name\" data-of=\"clock\">clock</span>, ", ""),
            ("name-missing", &["alternator", "row “Lost later”"]),
        ),
        damage(
            "the cause of what is lost later is another",
            (ALTERNATOR, ">the battery</span> is spent", ">the clock</span> is spent"),
            ("unreadable", &["alternator", "row “Lost later”"]),
        ),
        damage(
            "a backup that is left is dropped from what is not",
            (PUMP, ">rate of turn</span></li>", ">heading</span></li>"),
            ("name-extra", &["vacuum pump", "row “No backup left”"]),
        ),
        damage(
            "the count of other faults is wrong",
            (STATIC, "any of 6 other faults", "any of 5 other faults"),
            ("number-wrong", &["static line", "row “No backup left”"]),
        ),
        damage(
            "a source that is gone still tells",
            (PUMP, ">Rate of turn</span>: ", ">Rate of turn</span>: attitude indicator, "),
            ("line-extra", &["vacuum pump", "row “Still tells you”"]),
        ),
        damage(
            "an indirect source is direct",
            (PUMP, " (indirectly).", "."),
            ("line-extra", &["row “Still tells you”"]),
        ),
        damage(
            "a limit is dropped",
            (PUMP, "in steady, level flight", "in any flight"),
            ("line-missing", &["vacuum pump", "row “Still tells you”"]),
        ),
        damage(
            "a piece of information has nothing that tells it",
            (STATIC, "<span class=\"name\" data-of=\"attitude-indicator\">attitude indicator</span>.", "nothing."),
            ("line-missing", &["static line", "row “Still tells you”"]),
        ),
    ]);
}

#[test]
fn damage_to_how_you_know_and_to_hazards_is_named() {
    findings(&[
        damage(
            "nothing tells, it says",
            (
                PUMP,
                "<th scope=\"row\">How you know</th><td><ul class=\"lines\">",
                "<th scope=\"row\">How you know</th><td><ul class=\"lines\"><li>Nothing tells you.</li>",
            ),
            ("line-extra", &["vacuum pump", "row “How you know”"]),
        ),
        damage(
            "a silent fault is said to be found",
            (STATIC, "Nothing tells you.", "Found only in use."),
            ("line-missing", &["static line", "row “How you know”"]),
        ),
        damage(
            "the silence is not told",
            (
                STATIC,
                "<tr data-about=\"how-you-know\"><th scope=\"row\">How you know</th><td>Nothing tells you.</td></tr>",
                "",
            ),
            ("line-missing", &["static line", "row “How you know”"]),
        ),
        damage(
            "a gauge shows something else",
            (PUMP, "The needle falls below its green arc.", "The needle stays in its green arc."),
            ("line-missing", &["vacuum pump", "row “How you know”"]),
        ),
        damage(
            "an instrument that looks dead is dropped",
            (
                MAIN_BUS,
                "Looks dead or flagged: <span class=\"name\" data-of=\"engine-monitor\">engine monitor</span>, ",
                "Looks dead or flagged: ",
            ),
            ("name-missing", &["main bus", "row “How you know”"]),
        ),
        damage(
            "a light that is dead still warns",
            (MAIN_BUS, "Low-suction warning</span>: ", "Low-voltage warning</span>: "),
            ("line-missing", &["main bus", "row “No longer warns of”"]),
        ),
        damage(
            "a hazard is dropped",
            (MAIN_BUS, "<tr data-about=\"hazard\">", "<tr data-about=\"hazard\" hidden>"),
            ("hidden", &["Electrical"]),
        ),
        damage(
            "a hazard says less",
            (MAIN_BUS, "Current into a short burns behind the panel and soon flattens the battery.", "Nothing burns."),
            ("hazard-missing", &["main bus", "row “Hazard”"]),
        ),
        damage(
            "a warning is only a caution",
            (MAIN_BUS, "<strong>WARNING</strong>", "<strong>CAUTION</strong>"),
            ("hazard-missing", &["main bus", "row “Hazard”"]),
        ),
        damage(
            "the handbook speaks of it elsewhere",
            (MAIN_BUS, "handbook 3.6", "handbook 3.9"),
            ("line-missing", &["main bus", "row “Handbook”"]),
        ),
    ]);
}

#[test]
fn damage_to_what_restores_is_named() {
    const RESTORES: &str = "<tr data-about=\"works-again-with\">";
    findings(&[
        damage(
            "a restoring move is dropped",
            (STATIC, "<th scope=\"row\">Works again with</th>", "<th scope=\"row\">Stops with</th>"),
            ("remedy-missing", &["static line", "row “Works again with”"]),
        ),
        damage(
            "a restoring move goes the other way",
            (STATIC, "<code>OPEN</code>", "<code>CLOSED</code>"),
            ("remedy-extra", &["static line", "row “Works again with”"]),
        ),
        damage(
            "a restoring move is invented",
            (
                PUMP,
                "<tr data-about=\"handbook\">",
                "<tr data-about=\"works-again-with\"><th scope=\"row\">Works again with</th><td>Alternate static valve OPEN: attitude indicator</td></tr><tr data-about=\"handbook\">",
            ),
            ("remedy-extra", &["vacuum pump", "row “Works again with”"]),
        ),
        damage(
            "what reads high is said to be exact",
            (STATIC, "altimeter</span> (approximately)", "altimeter</span>"),
            ("approximate-wrong", &["static line", "row “Works again with”"]),
        ),
        damage(
            "how it reads is said the other way",
            (STATIC, "read slightly high", "read slightly low"),
            ("sentence-wrong", &["static line", "row “Works again with”"]),
        ),
        damage(
            "what works again loses a name",
            (
                STATIC,
                "(approximately), <span class=\"name\" data-of=\"vertical-speed-indicator\">vertical speed indicator</span>",
                "",
            ),
            ("name-missing", &["static line", "row “Works again with”"]),
        ),
    ]);
    assert!(made().html.contains(RESTORES));
}

#[test]
fn a_table_that_is_gone_or_tells_of_another_fault_is_named() {
    findings(&[
        damage(
            "a whole table is no table any more",
            (PUMP, PUMP, "<table hidden id=\"fail/vacuum-pump\""),
            ("fault-missing", &["vacuum pump"]),
        ),
        damage(
            "a fault is dropped from a caption",
            (
                PUMP,
                ", or if <span class=\"name\" data-of=\"suction-hose\">the suction hose</span> <span class=\"quoted\" data-of=\"suction-hose:fails/said\">comes off</span>",
                "",
            ),
            ("fault-missing", &["suction hose"]),
        ),
        damage(
            "a caption tells of another fault",
            (PUMP, ">the vacuum pump</span> fails", ">the clock</span> fails"),
            ("fault-twice", &["clock fails"]),
        ),
        damage(
            "a caption tells of another state",
            (
                PUMP,
                "<span class=\"name\" data-of=\"cruise\">cruise</span>",
                "<span class=\"name\" data-of=\"cruise\">secured</span>",
            ),
            ("fault-missing", &["vacuum pump"]),
        ),
        damage("a caption cannot be read", (PUMP, "If <span", "When <span"), ("unreadable", &["vacuum pump"])),
        damage(
            "a fault that takes nothing is dropped from its list",
            (
                "<table id=\"nothing-lost\"",
                "<tr data-about=\"alternate-static:",
                "<tr hidden data-about=\"alternate-static:",
            ),
            ("fault-missing", &["alternate static valve"]),
        ),
        damage(
            "a heading of a known table is changed",
            (PUMP, "<th scope=\"col\">How</th>", "<th scope=\"col\">Why</th>"),
            ("unreadable", &["vacuum pump"]),
        ),
        damage(
            "a table passes for one that was typed",
            (PUMP, "<th scope=\"col\">How</th>", "<th scope=\"col\">How it is</th>"),
            ("fault-missing", &["vacuum pump"]),
        ),
    ]);
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

#[test]
fn what_could_run_load_or_lead_elsewhere_is_named() {
    findings(&[
        damage(
            "the script is altered",
            ("<script>", "\"use strict\";", "\"use strict\"; alert(1);"),
            ("policy-wrong", &["policy"]),
        ),
        damage(
            "the style is altered",
            ("<style>", "text-align: left;", "text-align: right;"),
            ("policy-wrong", &["policy"]),
        ),
        damage(
            "the policy allows more",
            ("<meta http-equiv", "default-src &#39;none&#39;", "default-src *"),
            ("policy-wrong", &["policy"]),
        ),
        damage("a second script", ("</main>", "</main>", "</main><script>1</script>"), ("script-wrong", &["Page"])),
        damage("an event", ("class=\"cover\"", "<h1 ", "<h1 onclick=\"x()\" "), ("active-content", &["Cover"])),
        damage("a frame", ("</main>", "</main>", "<iframe></iframe></main>"), ("active-content", &["Page"])),
        damage(
            "a picture from elsewhere",
            ("</main>", "</main>", "<img src=\"https://example.org/a.png\"></main>"),
            ("active-content", &["Page"]),
        ),
        damage(
            "a link to elsewhere",
            ("class=\"contents\"", "href=\"#", "href=\"https://example.org/#"),
            ("active-content", &["Page"]),
        ),
        damage("a link to nothing", ("class=\"contents\"", "href=\"#", "href=\"#no-"), ("link-broken", &["Page"])),
        damage("an id twice", (PUMP, "id=\"fail/vacuum-pump\"", "id=\"page/cover\""), ("id-twice", &["Page"])),
        damage(
            "a dress of its own",
            (PUMP, "<caption ", "<caption style=\"color:white\" "),
            ("active-content", &["Suction"]),
        ),
        damage("text out of sight", ("<style>", "/* Cover. */", "td{display:none}"), ("hidden", &["style sheet"])),
    ]);
}

#[test]
fn damage_to_what_is_said_of_false_and_weakened_things_is_named() {
    const MANIFOLD: &str = "<table id=\"fail/static-manifold\"";
    const LEAK: &str = "<table id=\"fail/static-line/leaks\"";
    const HEARD: &str = "The pointers stay at the altitude where the pressure was shut in.";
    findings(&[
        damage(
            "a false instrument is said to show something else",
            (STATIC, HEARD, "The pointers fall to zero."),
            ("sentence-wrong", &["static line", "row “False”", "altimeter"]),
        ),
        damage(
            "a false instrument has the sentence of another",
            (MANIFOLD, HEARD, "The pointer rests at zero in every climb and descent."),
            ("sentence-wrong", &["static manifold", "row “False”", "altimeter"]),
        ),
        damage(
            "a false instrument says nothing of how it is false",
            (
                MAIN_BUS,
                ": <span class=\"quoted\" data-of=\"main-bus:fails/misleads\">The needle stands at the middle, as it does when nothing is wrong.</span>",
                "",
            ),
            ("sentence-wrong", &["main bus goes dead", "row “False”", "ammeter"]),
        ),
        damage(
            "a weakened instrument is weakened the other way",
            (LEAK, "The reading is slightly high.", "The reading is slightly low."),
            ("line-missing", &["static line comes off", "row “Weakened”"]),
        ),
    ]);
}

#[test]
fn damage_to_what_a_fault_takes_and_opens_by_itself_is_named() {
    const SHORTED: &str = "<table id=\"fail/turn-coordinator/shorted\"";
    const MAST: &str = "<table id=\"fail/pitot-mast\"";
    findings(&[
        damage(
            "another breaker opens",
            (SHORTED, ">Turn coordinator breaker</span>", ">Field breaker</span>"),
            ("name-missing", &["turn coordinator", "row “Opens”"]),
        ),
        damage(
            "no breaker opens",
            (SHORTED, "<th scope=\"row\">Opens</th>", "<th scope=\"row\">Works unasked</th>"),
            ("name-missing", &["turn coordinator", "row “Opens”"]),
        ),
        damage(
            "what is shorted is not gone",
            (SHORTED, "<th scope=\"row\">Gone itself</th>", "<th scope=\"row\">Works unasked</th>"),
            ("name-missing", &["turn coordinator", "row “Gone itself”"]),
        ),
        damage(
            "a thing that simply fails is told as gone",
            (
                PUMP,
                "<tr data-about=\"lost\">",
                "<tr data-about=\"gone-itself\"><th scope=\"row\">Gone itself</th><td>Vacuum pump</td></tr><tr data-about=\"lost\">",
            ),
            ("line-extra", &["vacuum pump", "row “Gone itself”"]),
        ),
        damage(
            "of several faults, one takes something else",
            (MAST, ">pitot line</span></td>", ">pitot mast</span></td>"),
            ("name-extra", &["pitot mast", "row “Gone itself”"]),
        ),
    ]);
}

#[test]
fn damage_to_what_a_passed_thing_carries_is_named() {
    const ELECTRICAL: &str = "<table id=\"items/electrical\"";
    const SHUNT: &str = "<tr data-about=\"ammeter-shunt\">";
    const CABLE: &str = "<tr data-about=\"tachometer-cable\">";
    const DRIVES: &[&str] = &["column “What drives it"];
    findings(&[
        damage(
            "a breaker carries to another user",
            (ELECTRICAL, ">the low-suction light</span>", ">the clock</span>"),
            ("name-missing", &["Warning lights breaker", "column “What drives it”"]),
        ),
        damage(
            "a breaker carries from another bus",
            (
                ELECTRICAL,
                "from <span class=\"name\" data-of=\"main-bus\">the main bus</span> to",
                "from <span class=\"name\">the avionics bus</span> to",
            ),
            ("line-missing", DRIVES),
        ),
        damage(
            "what is sensed through a cable is another thing",
            (CABLE, ">the crankshaft</span>", ">the oil pump</span>"),
            ("line-missing", &["Tachometer cable", "column “What drives it"]),
        ),
        damage(
            "a line of what the shunt carries is dropped",
            (SHUNT, "<li>Carries ", "<li hidden>Carries "),
            ("line-missing", &["Ammeter shunt", "column “What drives it"]),
        ),
        damage(
            "a source is said to pass something on",
            ("<tr data-about=\"tank-left\">", "Nothing: it is a source.", "Nothing; it passes on what comes to it."),
            ("line-missing", &["Left tank", "column “What drives it"]),
        ),
    ]);
}
