//! What is declared, by name, before anything that hangs on it is understood; and how a name is looked up.

use crate::base::text::did_you_mean;
use crate::base::{Diagnostic, Diagnostics, Id, Span, Spanned};
use crate::model::{
    AlertIx, BUILT_IN_MEDIA, FaultIx, GivenIx, InformationIx, ItemIx, MediumIx, NodeIx, NodeKind, PositionIx, StateIx,
    SystemIx,
};
use crate::parse::printed::shown;
use crate::parse::{RawEntry, RawTable};
use std::collections::BTreeMap;

/// After so many unknown names no more near ones are looked for, since that takes long.
const MOST_SUGGESTIONS: usize = 100;

/// A table under an id.
#[derive(Debug, Clone)]
pub struct Declared<'a> {
    pub id: Id,
    pub table: &'a RawTable,
    pub span: Span,
}

/// A node before its needs are known.
#[derive(Debug, Clone)]
pub struct DeclaredNode<'a> {
    pub id: String,
    pub kind: NodeKind,
    pub table: &'a RawTable,
    pub span: Span,
}

/// A fault before its effects are known.
#[derive(Debug, Clone)]
pub struct DeclaredFault<'a> {
    pub id: Id,
    pub of: NodeIx,
    pub table: Option<&'a RawTable>,
    pub span: Span,
}

/// Everything that is declared, in the order of the model's lists, and the index of each name.
#[derive(Debug, Default)]
pub struct Names<'a> {
    pub items: Vec<Declared<'a>>,
    pub givens: Vec<Declared<'a>>,
    pub systems: Vec<Declared<'a>>,
    pub information: Vec<Declared<'a>>,
    pub alerts: Vec<Declared<'a>>,
    pub states: Vec<Declared<'a>>,
    pub media: Vec<Declared<'a>>,
    pub quantities: Vec<Declared<'a>>,
    pub nodes: Vec<DeclaredNode<'a>>,
    pub faults: Vec<DeclaredFault<'a>>,
    /// Node of each item.
    pub item_nodes: Vec<NodeIx>,
    /// Nodes of the functions of each item.
    pub functions: Vec<Vec<NodeIx>>,
    /// Node of each given.
    pub given_nodes: Vec<NodeIx>,
    /// Positions of each item that is a control.
    pub positions: Vec<Option<Vec<Id>>>,
    node_ix: BTreeMap<String, NodeIx>,
    fault_ix: BTreeMap<String, FaultIx>,
    other_ix: BTreeMap<(&'static str, String), usize>,
    suggested: usize,
}

/// The tables under ids of one sort, by id.
pub fn declared<'a>(whole: &'a RawTable, sort: &str) -> Vec<Declared<'a>> {
    whole.table(sort).map(declared_in).unwrap_or_default()
}

/// The tables under ids in a table, by id; what is no table or has a bad id was told already.
pub fn declared_in(table: &RawTable) -> Vec<Declared<'_>> {
    let of_entry = |e: &'_ RawEntry| Id::new(&e.key).ok().map(|id| (id, e.key_span));
    let mut found: Vec<Declared<'_>> = table
        .entries
        .iter()
        .filter_map(|e| {
            let (id, span) = of_entry(e)?;
            e.value.as_table().map(|table| Declared { id, table, span })
        })
        .collect();
    found.sort_by(|a, b| a.id.cmp(&b.id));
    found.dedup_by(|b, a| a.id == b.id);
    found
}

impl<'a> Names<'a> {
    /// Collects what is declared.
    ///
    /// # Errors
    /// `id-twice`: an item and a given of the same id; a medium that is built in.
    pub fn collect(whole: &'a RawTable, diagnostics: &mut Diagnostics) -> Self {
        let mut names = Self {
            items: declared(whole, "item"),
            givens: declared(whole, "given"),
            systems: declared(whole, "system"),
            information: declared(whole, "information"),
            alerts: declared(whole, "alert"),
            states: declared(whole, "state"),
            media: declared(whole, "medium"),
            quantities: declared(whole, "quantity"),
            ..Self::default()
        };
        names.refuse_built_in(diagnostics);
        names.collect_nodes(diagnostics);
        names.collect_faults();
        names.index_others();
        names
    }

    fn refuse_built_in(&mut self, diagnostics: &mut Diagnostics) {
        self.media.retain(|medium| {
            let built_in = BUILT_IN_MEDIA.iter().any(|m| m.id == medium.id.as_str());
            if built_in {
                let message = format!("the medium `{}` is built in", medium.id);
                diagnostics.push(
                    Diagnostic::error("medium-built-in", medium.span, message)
                        .help("take the table out, or give it another id"),
                );
            }
            !built_in
        });
    }

    fn collect_nodes(&mut self, diagnostics: &mut Diagnostics) {
        for (at, item) in self.items.clone().into_iter().enumerate() {
            let ix = ItemIx::new(at);
            self.item_nodes.push(NodeIx::new(self.nodes.len()));
            let node = |id, kind, table, span| DeclaredNode { id, kind, table, span };
            self.nodes.push(node(item.id.to_string(), NodeKind::Item(ix), item.table, item.span));
            let functions = item.table.table("function").map(declared_in).unwrap_or_default();
            let mut of_item = Vec::new();
            for (number, f) in functions.into_iter().enumerate() {
                of_item.push(NodeIx::new(self.nodes.len()));
                let id = format!("{}.{}", item.id, f.id);
                self.nodes.push(node(id, NodeKind::Function(ix, number), f.table, f.span));
            }
            self.functions.push(of_item);
        }
        for (at, given) in self.givens.clone().into_iter().enumerate() {
            if let Ok(item) = self.items.binary_search_by(|i| i.id.cmp(&given.id)) {
                diagnostics.push(id_twice(&given, self.items[item].span));
            }
            self.given_nodes.push(NodeIx::new(self.nodes.len()));
            let kind = NodeKind::Given(GivenIx::new(at));
            self.nodes.push(DeclaredNode { id: given.id.to_string(), kind, table: given.table, span: given.span });
        }
        self.node_ix = self.nodes.iter().enumerate().rev().map(|(i, n)| (n.id.clone(), NodeIx::new(i))).collect();
    }

    fn collect_faults(&mut self) {
        for at in 0..self.nodes.len() {
            let node = self.nodes[at].clone();
            if matches!(node.kind, NodeKind::Function(..)) {
                continue;
            }
            let written = node.table.table("fault").map(declared_in).unwrap_or_default();
            let is_fails = |f: &Declared<'_>| f.id.as_str() == "fails";
            let can_fail = node.table.get("cannot-fail").is_none();
            let of = NodeIx::new(at);
            let fault = |f: &Declared<'a>| DeclaredFault { id: f.id.clone(), of, table: Some(f.table), span: f.span };
            match (written.iter().find(|f| is_fails(f)), Id::new("fails")) {
                (Some(fails), _) => self.faults.push(fault(fails)),
                (None, Ok(id)) if can_fail => self.faults.push(DeclaredFault { id, of, table: None, span: node.span }),
                _ => {}
            }
            self.faults.extend(written.iter().filter(|f| !is_fails(f)).map(fault));
        }
        let named = self.faults.iter().enumerate();
        self.fault_ix =
            named.map(|(i, f)| (format!("{}:{}", self.nodes[f.of.usize()].id, f.id), FaultIx::new(i))).collect();
    }

    fn index_others(&mut self) {
        let lists = [
            ("system", &self.systems),
            ("information", &self.information),
            ("alert", &self.alerts),
            ("state", &self.states),
        ];
        let mut index: BTreeMap<(&'static str, String), usize> = BTreeMap::new();
        for (sort, list) in lists {
            index.extend(list.iter().enumerate().map(|(i, d)| ((sort, d.id.to_string()), i)));
        }
        let built_in = BUILT_IN_MEDIA.iter().map(|m| m.id.to_owned());
        let media = built_in.chain(self.media.iter().map(|m| m.id.to_string()));
        index.extend(media.enumerate().map(|(i, id)| (("medium", id), i)));
        self.other_ix = index;
    }

    /// The node of a name that is known.
    pub fn peek_node(&self, name: &str) -> Option<NodeIx> {
        self.node_ix.get(name).copied()
    }

    /// The medium of a name that is known.
    pub fn peek_medium(&self, name: &str) -> Option<MediumIx> {
        self.other_ix.get(&("medium", name.to_owned())).map(|i| MediumIx::new(*i))
    }

    /// The node of a name.
    pub fn node(&mut self, name: &Spanned<String>, diagnostics: &mut Diagnostics) -> Option<NodeIx> {
        let found = self.node_ix.get(&name.value).copied();
        if found.is_none() {
            let near = self.near(&name.value, "node");
            diagnostics.push(unknown("unknown-name", "item, function or given", name, near));
        }
        found
    }

    /// The item of a name.
    pub fn item(&mut self, name: &Spanned<String>, diagnostics: &mut Diagnostics) -> Option<ItemIx> {
        let node = self.node(name, diagnostics)?;
        if let Some(NodeKind::Item(item)) = self.nodes.get(node.usize()).map(|n| n.kind) {
            Some(item)
        } else {
            let message = format!("`{}` is not an item", shown(&name.value));
            diagnostics.push(Diagnostic::error("not-an-item", name.span, message).help("name the item itself"));
            None
        }
    }

    /// The control of a name.
    pub fn control(&mut self, name: &Spanned<String>, diagnostics: &mut Diagnostics) -> Option<ItemIx> {
        let item = self.item(name, diagnostics)?;
        if self.positions.get(item.usize()).is_some_and(Option::is_some) {
            return Some(item);
        }
        let message = format!("`{}` is no control: it has no positions", shown(&name.value));
        diagnostics.push(
            Diagnostic::error("not-a-control", name.span, message)
                .also(self.items[item.usize()].span, "declared here without `positions`")
                .help("give it `positions`, or name the control that is meant"),
        );
        None
    }

    /// The position of a name, of a control.
    pub fn position(&self, of: ItemIx, name: &Spanned<String>, diagnostics: &mut Diagnostics) -> Option<PositionIx> {
        let positions = self.positions.get(of.usize())?.as_deref()?;
        let found = positions.iter().position(|p| p.as_str() == name.value);
        if found.is_none() {
            let item = &self.items[of.usize()];
            let words: Vec<&str> = positions.iter().map(Id::as_str).collect();
            let message = format!("`{}` has no position `{}`", item.id, shown(&name.value));
            let near = did_you_mean(&name.value, words.iter().copied());
            let help = near.map_or_else(|| format!("use one of its positions: {}", words.join(", ")), write_near);
            diagnostics.push(
                Diagnostic::error("unknown-position", name.span, message).also(item.span, "the control").help(help),
            );
        }
        found.map(PositionIx::new)
    }

    /// The given of a name.
    pub fn given(&mut self, name: &Spanned<String>, diagnostics: &mut Diagnostics) -> Option<GivenIx> {
        let node = self.node(name, diagnostics)?;
        if let Some(NodeKind::Given(given)) = self.nodes.get(node.usize()).map(|n| n.kind) {
            Some(given)
        } else {
            let message = format!("`{}` is not a given", shown(&name.value));
            diagnostics.push(
                Diagnostic::error("not-a-given", name.span, message).help("set items by the position of a control"),
            );
            None
        }
    }

    /// The fault `item:fault`; a bare item means its `fails`.
    pub fn fault(&mut self, name: &Spanned<String>, diagnostics: &mut Diagnostics) -> Option<FaultIx> {
        let bare = !name.value.contains(':');
        let full = if bare { format!("{}:fails", name.value) } else { name.value.clone() };
        let found = self.fault_ix.get(&full).copied();
        if found.is_none() {
            let near = self.near(&full, "fault");
            diagnostics.push(unknown("unknown-fault", "fault", name, near));
        }
        found
    }

    pub fn system(&mut self, name: &Spanned<String>, diagnostics: &mut Diagnostics) -> Option<SystemIx> {
        self.other("system", "unknown-system", name, diagnostics).map(SystemIx::new)
    }

    pub fn information(&mut self, name: &Spanned<String>, diagnostics: &mut Diagnostics) -> Option<InformationIx> {
        self.other("information", "unknown-information", name, diagnostics).map(InformationIx::new)
    }

    pub fn alert(&mut self, name: &Spanned<String>, diagnostics: &mut Diagnostics) -> Option<AlertIx> {
        self.other("alert", "unknown-alert", name, diagnostics).map(AlertIx::new)
    }

    pub fn state(
        &mut self,
        code: &'static str,
        name: &Spanned<String>,
        diagnostics: &mut Diagnostics,
    ) -> Option<StateIx> {
        self.other("state", code, name, diagnostics).map(StateIx::new)
    }

    pub fn medium(&mut self, name: &Spanned<String>, diagnostics: &mut Diagnostics) -> Option<MediumIx> {
        self.other("medium", "unknown-medium", name, diagnostics).map(MediumIx::new)
    }

    fn other(
        &mut self,
        sort: &'static str,
        code: &'static str,
        name: &Spanned<String>,
        diagnostics: &mut Diagnostics,
    ) -> Option<usize> {
        let found = self.other_ix.get(&(sort, name.value.clone())).copied();
        if found.is_none() {
            let near = self.near(&name.value, sort);
            diagnostics.push(unknown(code, sort, name, near));
        }
        found
    }

    /// The name of that sort that may be meant.
    pub fn near(&mut self, name: &str, sort: &str) -> Option<String> {
        self.suggested += 1;
        if self.suggested > MOST_SUGGESTIONS {
            return None;
        }
        let found = match sort {
            "node" => did_you_mean(name, self.node_ix.keys().map(String::as_str)),
            "fault" => did_you_mean(name, self.fault_ix.keys().map(String::as_str)),
            _ => did_you_mean(name, self.other_ix.keys().filter(|(s, _)| *s == sort).map(|(_, n)| n.as_str())),
        };
        found.map(str::to_owned)
    }
}

fn write_near(near: impl std::fmt::Display) -> String {
    format!("write `{near}`, if that is meant")
}

fn unknown(code: &'static str, sort: &str, name: &Spanned<String>, near: Option<String>) -> Diagnostic {
    let message = format!("there is no {sort} `{}`", shown(&name.value));
    Diagnostic::error(code, name.span, message)
        .help(near.map_or_else(|| "declare it, or mend the name".to_owned(), write_near))
}

fn id_twice(given: &Declared<'_>, item: Span) -> Diagnostic {
    Diagnostic::error("id-twice", given.span, format!("`{}` is the id of a given and of an item", given.id))
        .also(item, "the item")
        .help("give one of the two another id")
}
