//! Items, functions and givens to nodes; items with their places and faces.

use super::build::{Builder, flag, list, name, quantity, text};
use super::control::{control, kind_of};
use super::need::needs;
use super::numbers::{OFFSET, bounded, by_state, discharge, duty, wire};
use crate::base::{Quantity, Spanned};
use crate::model::{
    ArcMark, Face, FalseLook, How, InformationIx, Item, ItemIx, Kind, Lasts, Looks, LossLook, LossOf, Node, NodeIx,
    Noun, PanelPlace, Scale, ScaleArc, Seen, SystemIx, Tells, Unfed,
};
use crate::parse::need::name_of;
use crate::parse::printed::one_line;
use crate::parse::{RawEntry, RawKind, RawTable, RawValue};

/// All nodes, with needs, before media are inherited.
pub fn nodes(b: &mut Builder<'_, '_>) -> Vec<Node> {
    (0..b.names.nodes.len()).map(|at| node(b, NodeIx::new(at))).collect()
}

fn node(b: &mut Builder<'_, '_>, ix: NodeIx) -> Node {
    let declared = b.names.nodes[ix.usize()].clone();
    let t = declared.table;
    Node {
        noun: noun(t),
        does: text(t, "does"),
        needs: needs(b, t, "needs", Some(ix)),
        senses: needs(b, t, "senses", None),
        kept_by: needs(b, t, "kept-by", None),
        spent_by: needs(b, t, "spent-by", None),
        gives: name(t, "gives").and_then(|n| b.names.medium(&n, b.diagnostics)),
        draws: quantity(t, "draws"),
        duty: duty(b, t),
        intermittent: flag(t, "intermittent"),
        tells: tells(b, t),
        on_loss: on_loss(b, t),
        on_false: on_false(b, t),
        reads_when_absent: text(t, "reads-when-absent"),
        lasts: lasts(t),
        cite: text(t, "cite"),
        note: text(t, "note"),
        span: declared.span,
        kind: declared.kind,
        id: declared.id,
    }
}

/// A name as phrases need it.
pub fn noun(t: &RawTable) -> Noun {
    Noun {
        name: text(t, "name").unwrap_or_default(),
        short: text(t, "short"),
        said: text(t, "said"),
        aliases: list(t, "aliases").iter().filter_map(RawValue::as_text).map(one_line).collect(),
        article: text(t, "article"),
        plural: flag(t, "plural"),
    }
}

fn tells(b: &mut Builder<'_, '_>, t: &RawTable) -> Vec<Tells> {
    list(t, "tells").iter().filter_map(|v| told(b, v)).collect()
}

fn told(b: &mut Builder<'_, '_>, value: &RawValue) -> Option<Tells> {
    let bare =
        Tells { information: InformationIx::new(0), how: How::Directly, only: None, note: None, span: value.span };
    let RawKind::Table(table) = &value.kind else {
        let information = b.names.information(&name_of(value)?, b.diagnostics)?;
        return Some(Tells { information, ..bare });
    };
    let information = b.names.information(&name(table, "information")?, b.diagnostics)?;
    let how = if table.text("how") == Some("indirectly") { How::Indirectly } else { How::Directly };
    Some(Tells { information, how, only: text(table, "only"), note: text(table, "note"), ..bare })
}

fn on_loss(b: &mut Builder<'_, '_>, t: &RawTable) -> Vec<LossLook> {
    by_what(b, t, "on-loss", |of, entry| {
        let table = entry.value.as_table()?;
        let word = table.text("looks").unwrap_or("");
        let looks = Looks::ALL.iter().copied().find(|l| l.word() == word)?;
        Some(LossLook { of, looks, text: text(table, "text"), span: entry.key_span })
    })
}

fn on_false(b: &mut Builder<'_, '_>, t: &RawTable) -> Vec<FalseLook> {
    by_what(b, t, "on-false", |of, entry| {
        Some(FalseLook { of, text: one_line(entry.value.as_text()?), span: entry.key_span })
    })
}

/// The entries of a table whose keys are media or nodes, by name.
fn by_what<T>(
    b: &mut Builder<'_, '_>,
    t: &RawTable,
    key: &str,
    read: impl Fn(LossOf, &RawEntry) -> Option<T>,
) -> Vec<T> {
    let mut found: Vec<(String, T)> = Vec::new();
    for entry in t.table(key).map_or(&[][..], |t| &t.entries) {
        let name = Spanned::new(entry.key.clone(), entry.key_span);
        let of = match b.names.peek_medium(&name.value) {
            Some(medium) => Some(LossOf::Medium(medium)),
            None => b.names.node(&name, b.diagnostics).map(LossOf::Node),
        };
        found.extend(of.and_then(|of| read(of, entry)).map(|look| (name.value, look)));
    }
    found.sort_by(|a, b| a.0.cmp(&b.0));
    found.into_iter().map(|(_, look)| look).collect()
}

fn lasts(t: &RawTable) -> Option<Lasts> {
    match t.table("lasts") {
        Some(table) => text(table, "result").map(Lasts::Result),
        None => quantity(t, "lasts").map(Lasts::Stated),
    }
}

/// All items.
pub fn items(b: &mut Builder<'_, '_>) -> Vec<Item> {
    (0..b.names.items.len()).map(|at| item(b, ItemIx::new(at))).collect()
}

fn item(b: &mut Builder<'_, '_>, ix: ItemIx) -> Item {
    let declared = b.names.items[ix.usize()].clone();
    let t = declared.table;
    let kind = kind_of(t).unwrap_or(Kind::Structure);
    Item {
        id: declared.id,
        node: b.names.item_nodes[ix.usize()],
        functions: b.names.functions[ix.usize()].clone(),
        kind,
        system: name(t, "system").and_then(|n| b.names.system(&n, b.diagnostics)).unwrap_or(SystemIx::new(0)),
        rating: quantity(t, "rating"),
        capacity: quantity(t, "capacity"),
        voltage: quantity(t, "voltage"),
        usable: quantity(t, "usable"),
        wire: wire(b, t),
        discharge: discharge(b, t),
        pressure_offset: bounded(b, t, "pressure-offset", OFFSET),
        likely: t.get("likely").and_then(|e| e.value.as_number()),
        cannot_fail: text(t, "cannot-fail"),
        seen: t.table("seen").map(seen),
        control: control(b, ix, kind),
        pull: flag(t, "pull"),
        off_card: flag(t, "off-card"),
        panel: t.get("panel").and_then(|e| e.value.as_table().map(|p| place(b, p, e.key_span))),
        scale: t.table("scale").and_then(|s| scale(b, s)),
        span: declared.span,
    }
}

fn seen(t: &RawTable) -> Seen {
    Seen { by: text(t, "by").unwrap_or_default(), on: date(t, "on"), how: text(t, "how") }
}

/// A day as `2026-05-02`.
pub fn date(t: &RawTable, key: &str) -> String {
    match t.get(key).map(|e| &e.value.kind) {
        Some(RawKind::Date(date, _)) => date.clone(),
        Some(RawKind::Text(text)) => text.text.clone(),
        _ => String::new(),
    }
}

fn place(b: &mut Builder<'_, '_>, t: &RawTable, span: crate::base::Span) -> PanelPlace {
    let (x_mm, y_mm) = two_lengths(b, t, "at");
    let (width_mm, height_mm) = two_lengths(b, t, "size");
    let face = t.text("face").and_then(Face::find).unwrap_or(Face::Window);
    PanelPlace { x_mm, y_mm, width_mm, height_mm, face, label: text(t, "label"), span }
}

/// No length on a panel is longer.
const LONGEST_MM: f64 = 10_000.0;

/// Two lengths in millimetres; one stands for both where it is not in a list.
pub fn two_lengths(b: &mut Builder<'_, '_>, t: &RawTable, key: &str) -> (f64, f64) {
    let Some(entry) = t.get(key) else { return (0.0, 0.0) };
    if let Some(one) = entry.value.as_text() {
        let one = millimetres(one);
        return (one, one);
    }
    let lengths: Vec<f64> =
        entry.value.as_list().unwrap_or(&[]).iter().filter_map(RawValue::as_text).map(millimetres).collect();
    let near = |n: &f64| n.is_finite() && n.abs() <= LONGEST_MM;
    if !lengths.iter().all(near) {
        b.diagnostics.push(
            crate::base::Diagnostic::error("number-out-of-range", entry.value.span, "no panel is longer than 10 m")
                .help("write lengths of the panel, in mm or in"),
        );
    }
    if let [one, two] = lengths.as_slice() {
        return (*one, *two);
    }
    let message = format!("`{key}` is two lengths: across, then down");
    b.diagnostics.push(
        crate::base::Diagnostic::error("not-two-lengths", entry.value.span, message)
            .help("write two, like [\"120 mm\", \"90 mm\"]"),
    );
    (0.0, 0.0)
}

fn millimetres(text: &str) -> f64 {
    let Ok(quantity) = Quantity::parse(text) else { return 0.0 };
    match crate::base::Unit::find("mm") {
        Some(mm) if quantity.unit.symbol != "mm" => quantity.in_unit(mm).unwrap_or(0.0),
        _ => quantity.number,
    }
}

fn scale(b: &mut Builder<'_, '_>, t: &RawTable) -> Option<Scale> {
    let arcs = list(t, "arcs").iter().filter_map(RawValue::as_table).filter_map(|arc| {
        Some(ScaleArc { over: quantity(arc, "over")?, mark: arc.text("mark").and_then(ArcMark::find)? })
    });
    Some(Scale {
        span: quantity(t, "span")?,
        arcs: arcs.collect(),
        rests: quantity(t, "rests"),
        usual: quantity(t, "usual"),
        usual_in: by_state(b, t, "usual-in", |v| v.as_text().and_then(|t| Quantity::parse(t).ok())),
        unfed: t.text("unfed").and_then(Unfed::find),
        unnumbered: flag(t, "unnumbered"),
    })
}
