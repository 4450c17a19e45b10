//! The structure that a page reader follows: a tree that is reserved while pages are laid out, filled while they are drawn,
//! and handed over at the end.
//!
//! Every mark on a page belongs to a node of this tree or is said to be an artifact; there is no third way to draw.

use krilla::geom::Rect;
use krilla::tagging::{
    BBox, Identifier, ListNumbering, Node as Built, TableHeaderScope, Tag, TagGroup, TagKind, TagTree,
};
use std::num::NonZeroU16;

/// Number of a node.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct NodeIx(u32);

/// What a node is.
#[derive(Debug, Clone, PartialEq)]
pub enum Role {
    /// A chapter, or a part before the first.
    Part,
    /// A box, a worked sum.
    Group,
    /// A heading with its level from 1 and its text.
    Heading(u16, String),
    /// A paragraph.
    Para,
    /// A list, numbered or not.
    List(bool),
    /// One entry of a list.
    Entry,
    /// The number or sign of an entry.
    Label,
    /// What the entry says.
    Body,
    /// A table with what it tells.
    Table(String),
    /// A row.
    Row,
    /// The head of a column.
    ColumnHead,
    /// The head of a row.
    RowHead,
    /// A cell.
    Cell,
    /// The head of a table.
    Head,
    /// The rows of a table.
    Rows,
    /// What stands over a table or under a drawing.
    Caption,
    /// A drawing with the same in words.
    Figure(String),
    /// A link.
    Link,
    /// A list of contents.
    Contents,
    /// A line of a list of contents.
    ContentsLine,
}

enum Child {
    Node(NodeIx),
    Leaf(Identifier),
}

struct Node {
    role: Role,
    parent: Option<NodeIx>,
    attached: bool,
    /// What it holds, each with the page that was being drawn.
    children: Vec<(usize, Child)>,
    place: Place,
}

/// Where something stands, where that matters.
#[derive(Clone, Copy, PartialEq)]
enum Place {
    Unknown,
    /// On one page: left, top, right, bottom.
    Page(usize, [f32; 4]),
    /// On more than one.
    Pages,
}

/// All nodes.
#[derive(Default)]
pub struct Tags {
    nodes: Vec<Node>,
    roots: Vec<NodeIx>,
    /// The page that is being drawn, from 1; before that nothing is.
    page: usize,
}

/// The longest text that the format takes, bytes; longer ones are cut.
const LONGEST: usize = 15_000;

impl Tags {
    /// A node that stands at its place in the reading order from now on.
    pub fn block(&mut self, parent: Option<NodeIx>, role: Role) -> NodeIx {
        let node = self.add(parent, role);
        self.attach(node);
        node
    }

    /// A node within a line; it takes its place when something of it is drawn.
    pub fn inline(&mut self, parent: NodeIx, role: Role) -> NodeIx {
        self.add(Some(parent), role)
    }

    /// Says which page is drawn from now on, from 0: where pages are drawn in another order, they are read in their own.
    pub fn on_page(&mut self, page: usize) {
        self.page = page + 1;
    }

    /// Puts something that was drawn into a node.
    pub fn fill(&mut self, node: NodeIx, leaf: Identifier) {
        self.attach(node);
        self.nodes[node.0 as usize].children.push((self.page, Child::Leaf(leaf)));
    }

    /// Tells that a node has ink there on that page, counted from the first.
    pub fn stands(&mut self, node: NodeIx, page: usize, corners: [f32; 4]) {
        let place = &mut self.nodes[node.0 as usize].place;
        *place = match *place {
            Place::Unknown => Place::Page(page, corners),
            Place::Page(same, [l, t, r, b]) if same == page => {
                let [left, top, right, low] = corners;
                Place::Page(page, [l.min(left), t.min(top), r.max(right), b.max(low)])
            }
            _ => Place::Pages,
        };
    }

    fn add(&mut self, parent: Option<NodeIx>, role: Role) -> NodeIx {
        let ix = NodeIx(self.nodes.len() as u32);
        self.nodes.push(Node { role, parent, attached: false, children: Vec::new(), place: Place::Unknown });
        ix
    }

    fn attach(&mut self, node: NodeIx) {
        let mut at = node;
        while !self.nodes[at.0 as usize].attached {
            self.nodes[at.0 as usize].attached = true;
            let Some(parent) = self.nodes[at.0 as usize].parent else {
                self.roots.push(at);
                return;
            };
            self.nodes[parent.0 as usize].children.push((self.page, Child::Node(at)));
            at = parent;
        }
    }

    /// The tree as the library takes it.
    pub fn build(mut self) -> TagTree {
        let mut tree = TagTree::new();
        for root in std::mem::take(&mut self.roots) {
            if let Some(group) = self.group(root) {
                tree.push(group);
            }
        }
        tree
    }

    /// A node with all below it; nothing where there is nothing in it.
    fn group(&mut self, ix: NodeIx) -> Option<TagGroup> {
        let node = &mut self.nodes[ix.0 as usize];
        let mut children = std::mem::take(&mut node.children);
        children.sort_by_key(|(page, _)| *page);
        let mut group = TagGroup::new(tag(&node.role, node.place));
        let is_cell = matches!(node.role, Role::Cell | Role::RowHead | Role::ColumnHead);
        for (_, child) in children {
            match child {
                Child::Leaf(leaf) => group.push(leaf),
                Child::Node(below) => {
                    if let Some(below) = self.group(below) {
                        group.push(Built::from(below));
                    }
                }
            }
        }
        // An empty cell keeps its place, or the cells after it would stand under the wrong heads; a row of nothing else does not.
        let is_bare = |child: &Built| matches!(child, Built::Group(below) if below.children.is_empty());
        if group.children.iter().all(is_bare) && !is_cell {
            return None;
        }
        (is_cell || !group.children.is_empty()).then_some(group)
    }
}

fn tag(role: &Role, place: Place) -> TagKind {
    match role {
        Role::Part => Tag::Section.into(),
        Role::Group => Tag::Div.into(),
        Role::Heading(level, text) => {
            let level = NonZeroU16::new(*level).unwrap_or(NonZeroU16::MIN);
            Tag::Hn(level, Some(cut(text))).into()
        }
        Role::Para => Tag::P.into(),
        Role::List(true) => Tag::L(ListNumbering::Decimal).into(),
        Role::List(false) => Tag::L(ListNumbering::Disc).into(),
        Role::Entry => Tag::LI.into(),
        Role::Label => Tag::Lbl.into(),
        Role::Body => Tag::LBody.into(),
        Role::Table(tells) => Tag::Table.with_summary(Some(cut(tells))).into(),
        Role::Row => Tag::TR.into(),
        Role::ColumnHead => Tag::TH(TableHeaderScope::Column).into(),
        Role::RowHead => Tag::TH(TableHeaderScope::Row).into(),
        Role::Cell => Tag::TD.into(),
        Role::Head => Tag::THead.into(),
        Role::Rows => Tag::TBody.into(),
        Role::Caption => Tag::Caption.into(),
        Role::Figure(words) => Tag::Figure(Some(cut(words))).with_bbox(corners(place)).into(),
        Role::Link => Tag::Link.into(),
        Role::Contents => Tag::TOC.into(),
        Role::ContentsLine => Tag::TOCI.into(),
    }
}

fn corners(place: Place) -> Option<BBox> {
    let Place::Page(page, [left, top, right, low]) = place else { return None };
    Rect::from_ltrb(left, top, right, low).map(|rect| BBox::new(page, rect))
}

/// A text as it can stand in the file: not too long, and never nothing.
pub(super) fn cut(text: &str) -> String {
    if text.len() <= LONGEST {
        return if text.is_empty() { "–".to_owned() } else { text.to_owned() };
    }
    let end = (0..=LONGEST).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0);
    format!("{}…", &text[..end])
}
