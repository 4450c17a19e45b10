//! Drawings of connections damaged in known ways: the audit names each damage by the drawing and the connection or part.

use super::audit::{made, with_examiner};

/// One way to damage the text of a figure.
struct Damage {
    /// What is done, in words.
    name: &'static str,
    /// The figure, by its id.
    figure: &'static str,
    edit: fn(&str) -> String,
    /// The code of a finding, and words of its place.
    code: &'static str,
    place: &'static [&'static str],
}

const CLOCK: &str = "figure/chain/clock";
const POWER: &str = "figure/electrical";
const FEED: &str = "<path class=\"feed m-electricity\" stroke-width=\"1.4\"";

fn all_are_named(damages: &[Damage]) {
    let html = &made().html;
    with_examiner(|examiner| {
        for Damage { name, figure, edit, code, place } in damages {
            let start = html.find(&format!("<figure id=\"{figure}\"")).unwrap();
            let end = start + html[start..].find("</figure>").unwrap();
            let damaged = edit(&html[start..end]);
            assert_ne!(damaged, html[start..end], "{name}: nothing is damaged");
            let found = examiner.report(&format!("{}{damaged}{}", &html[..start], &html[end..])).findings;
            let named = found.iter().any(|f| f.code == *code && place.iter().all(|words| f.place.contains(words)));
            assert!(named, "{name}: {code} at {place:?}\nfound: {found:#?}");
        }
    });
}

/// Without the first line that holds these words.
fn without(text: &str, words: &str) -> String {
    let at = text.find(words).unwrap();
    let start = text[..at].rfind('\n').map_or(0, |n| n + 1);
    let end = at + text[at..].find('\n').unwrap() + 1;
    format!("{}{}", &text[..start], &text[end..])
}

/// Without the first symbol: all signs that stand line by line.
fn without_symbol(text: &str) -> String {
    let at = text.find("class=\"sign").unwrap();
    let start = text[..at].rfind('\n').unwrap() + 1;
    let signs = text[start..].split_inclusive('\n').take_while(|line| line.contains("class=\"sign"));
    let end = start + signs.map(str::len).sum::<usize>();
    format!("{}{}", &text[..start], &text[end..])
}

fn numbers(text: &str, key: &str) -> Vec<f64> {
    let from = text.find(key).unwrap() + key.len();
    let until = text[from..].find('"').unwrap();
    text[from..from + until].split([' ', ',']).map(|n| n.parse().unwrap()).collect()
}

/// The first wedge, with its tip where `place` says for its old tip.
fn wedge_at(text: &str, place: impl Fn((f64, f64)) -> ((f64, f64), f64)) -> String {
    let at = text.find("<polygon class=\"wedge").unwrap();
    let points = numbers(&text[at..], "points=\"");
    let ((x, y), back) = place((points[0], points[1]));
    let key = at + text[at..].find("points=\"").unwrap() + 8;
    let end = key + text[key..].find('"').unwrap();
    let base = x + back;
    format!("{}{x},{y} {base},{} {base},{}{}", &text[..key], y - 2.8, y + 2.8, &text[end..])
}

/// The left border of a box at another place across than the tip of the first wedge, in the same piece of the drawing.
fn another_box(piece: &str) -> Option<(f64, f64)> {
    let at = piece.find("<polygon class=\"wedge")?;
    let tip = numbers(&piece[at..], "points=\"")[0];
    let boxes = piece.match_indices("<rect class=\"box\"").map(|(at, _)| &piece[at..]);
    let mut corners = boxes.map(|b| (numbers(b, " x=\"")[0], numbers(b, " y=\"")[0]));
    corners.find(|(x, _)| (x - tip).abs() > 1.0)
}

/// The first wedge of the first piece where that can be, moved to another box.
fn wedge_moved(text: &str) -> String {
    let mut pieces: Vec<String> = text.split_inclusive("</svg>").map(str::to_owned).collect();
    let (piece, (x, y)) = pieces.iter_mut().find_map(|p| another_box(p).map(|corner| (p, corner))).unwrap();
    *piece = wedge_at(piece, |_| ((x, y + 4.0), -5.5));
    pieces.concat()
}

#[test]
fn a_damaged_line_or_wedge_is_named() {
    all_are_named(&[
        Damage {
            name: "a feed is cut out",
            figure: CLOCK,
            edit: |text| without(text, FEED),
            code: "connection-missing",
            place: &["What the clock hangs on", " → "],
        },
        Damage {
            name: "a feed that is cut out leaves loose ends",
            figure: CLOCK,
            edit: |text| without(text, FEED),
            code: "line-loose",
            place: &["What the clock hangs on"],
        },
        Damage {
            name: "a feed is hidden",
            figure: CLOCK,
            edit: |text| text.replacen(FEED, &FEED.replace("<path", "<path visibility=\"hidden\""), 1),
            code: "mark-unreadable",
            place: &["What the clock hangs on"],
        },
        Damage {
            name: "a wedge stands at another box",
            figure: POWER,
            edit: wedge_moved,
            code: "wedge-wrong",
            place: &["what feeds what", "near “"],
        },
        Damage {
            name: "a wedge points back",
            figure: CLOCK,
            edit: |text| wedge_at(text, |(x, y)| ((x - 5.5, y), 5.5)),
            code: "wedge-wrong",
            place: &["What the clock hangs on"],
        },
        Damage {
            name: "lines that part have no dot",
            figure: POWER,
            edit: |text| without(text, "<circle class=\"dot\""),
            code: "dot-missing",
            place: &["what feeds what", "near “"],
        },
        Damage {
            name: "a line wears the tag of another medium",
            figure: CLOCK,
            edit: |text| text.replacen(">EL</text>", ">SU</text>", 1),
            code: "tag-wrong",
            place: &["What the clock hangs on", " → "],
        },
    ]);
}

#[test]
fn a_damaged_part_device_or_port_is_named() {
    all_are_named(&[
        Damage {
            name: "a device has no symbol",
            figure: CLOCK,
            edit: without_symbol,
            code: "connection-missing",
            place: &["What the clock hangs on", " → "],
        },
        Damage {
            name: "a device has another name",
            figure: CLOCK,
            edit: |text| text.replacen(">clock fuse</text>", ">clock lamp</text>", 1),
            code: "device-wrong",
            place: &["What the clock hangs on", "hot battery bus → clock"],
        },
        Damage {
            name: "a box has another name",
            figure: CLOCK,
            edit: |text| text.replacen(">clock</text>", ">altimeter</text>", 1),
            code: "part-missing",
            place: &["What the clock hangs on", "“clock”"],
        },
        Damage {
            name: "a box has no name",
            figure: CLOCK,
            edit: |text| without(text, ">clock</text>"),
            code: "part-unnamed",
            place: &["What the clock hangs on"],
        },
        Damage {
            name: "a box draws another current",
            figure: CLOCK,
            edit: |text| text.replacen("0.005", "0.05", 1),
            code: "print-wrong",
            place: &["What the clock hangs on", "“clock”"],
        },
        Damage {
            name: "a port names another source",
            figure: CLOCK,
            edit: |text| text.replacen(">battery</text>", ">engine</text>", 1),
            code: "connection-extra",
            place: &["What the clock hangs on", "engine → "],
        },
        Damage {
            name: "a port names another system",
            figure: CLOCK,
            edit: |text| text.replacen(">from electrical</text>", ">from engine</text>", 1),
            code: "port-wrong",
            place: &["What the clock hangs on"],
        },
        Damage {
            name: "a box of the overview is gone",
            figure: "figure/overview",
            edit: |text| without(text, ">lights</text>"),
            code: "part-missing",
            place: &["“lights”"],
        },
    ]);
}

#[test]
fn a_damaged_bracket_flag_or_line_of_words_is_named() {
    all_are_named(&[
        Damage {
            name: "a bracket says another number",
            figure: CLOCK,
            edit: |text| text.replacen(">either</text>", ">both</text>", 1),
            code: "bracket-wrong",
            place: &["What the clock hangs on", "bus”"],
        },
        Damage {
            name: "a bracket is gone, and its word stands alone",
            figure: CLOCK,
            edit: |text| without(text, "<polyline class=\"bracket\""),
            code: "bracket-wrong",
            place: &["What the clock hangs on", "bus”"],
        },
        Damage {
            name: "a flag says another condition",
            figure: POWER,
            edit: |text| text.replacen(">once on</text>", ">when ON</text>", 1),
            code: "flag-wrong",
            place: &["what feeds what", "main bus → "],
        },
        Damage {
            name: "a flag is gone",
            figure: POWER,
            edit: |text| without(&without(text, ">once on</text>"), "<polyline class=\"flag\""),
            code: "flag-wrong",
            place: &["what feeds what"],
        },
        Damage {
            name: "a line of the words is another connection",
            figure: CLOCK,
            edit: |text| text.replacen("<li>hot battery bus → clock", "<li>main bus → clock", 1),
            code: "feed-wrong",
            place: &["What the clock hangs on", "in words"],
        },
        Damage {
            name: "page readers are told another connection",
            figure: CLOCK,
            edit: |text| text.replacen("\nhot battery bus → clock", "\nmain bus → clock", 1),
            code: "feed-wrong",
            place: &["What the clock hangs on", "page readers"],
        },
    ]);
}
