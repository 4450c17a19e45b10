//! Tables that can be filled only when all chapters stand: the index of items, and the topics of the examination.

use super::composer::Composer;
use super::phrase::say;
use super::say::joined;
use crate::base::text::did_you_mean;
use crate::base::{Span, Spanned};
use crate::doc::{
    Block, Cell, Chapter, Column, Coverage, Figure, FigureKind, Inline, Inlines, Row, Subject, TOPICS, Table,
    TableKind, Topic, plain_text,
};
use crate::model::{FaultIx, ItemIx};
use std::collections::BTreeMap;

/// A heading that teaches a topic, or says why the guide has nothing of it.
pub struct Taught {
    /// The topic.
    pub topic: &'static Topic,
    /// False where it is left out.
    pub teaches: bool,
    /// Id of the heading or chapter.
    pub to: String,
    /// Its words, with the chapter before them.
    pub text: Inlines,
}

/// The topic of a code.
pub fn topic(code: &str) -> Option<&'static Topic> {
    TOPICS.iter().find(|t| t.code == code)
}

/// Topics that no heading names, each with the place of the call that lists them.
pub fn untaught(taught: &[Taught], at: Span) -> Vec<(String, Span)> {
    let named = |topic: &&Topic| taught.iter().any(|t| t.topic == *topic);
    TOPICS.iter().filter(|t| !named(t)).map(|t| (t.code.to_owned(), at)).collect()
}

/// Links to what tells of each item, in the order of the book.
type Told = BTreeMap<ItemIx, Vec<Inline>>;

/// Fills the tables. What the guide has of each item is given where there is an index.
pub fn fill(composer: &Composer<'_>, chapters: &mut [Chapter], taught: &[Taught]) -> Option<Coverage> {
    let mut found = Finder::new(composer);
    chapters.iter().flat_map(|c| &c.blocks).for_each(|b| found.look_at(b));
    let Finder { told, coverage, .. } = found;
    let mut is_index = false;
    let blocks = chapters.iter_mut().flat_map(|c| c.blocks.iter_mut());
    for block in blocks {
        let Block::Table(table) = block else { continue };
        match table.kind {
            TableKind::Index => {
                table.rows = composer.index_rows(&told);
                is_index = true;
            }
            TableKind::Topics => table.rows = TOPICS.iter().map(|t| topic_row(t, taught)).collect(),
            _ => {}
        }
    }
    is_index.then_some(coverage)
}

/// Goes through the blocks of a book and notes what tells of which item.
struct Finder<'c, 'a> {
    composer: &'c Composer<'a>,
    faults: BTreeMap<String, FaultIx>,
    told: Told,
    coverage: Coverage,
}

impl<'c, 'a> Finder<'c, 'a> {
    fn new(composer: &'c Composer<'a>) -> Self {
        let model = composer.model;
        let faults = model.fault_indices().map(|f| (model.fault_id(f), f)).collect();
        Self { composer, faults, told: Told::new(), coverage: Coverage::default() }
    }

    fn look_at(&mut self, block: &Block) {
        match block {
            Block::Table(table) => self.table(table),
            Block::Figure(figure) => self.figure(figure),
            Block::List { items, .. } => items.iter().flatten().for_each(|b| self.look_at(b)),
            Block::Notice { body, .. } => body.iter().for_each(|b| self.look_at(b)),
            Block::Heading { .. } | Block::Para(_) | Block::Worked { .. } => {}
        }
    }

    fn note(&mut self, item: ItemIx, to: &str, text: Inlines) {
        self.told.entry(item).or_default().push(Inline::Ref { to: to.to_owned(), text });
    }

    fn table(&mut self, table: &Table) {
        match (&table.kind, &table.subject) {
            (TableKind::Items | TableKind::Round, _) => self.described(table),
            (TableKind::Failure, Subject::Faults { faults, state }) => {
                let text = |finder: &Self, fault| {
                    let state = finder.composer.model.find_state(state)?;
                    let state = finder.composer.words.state(state);
                    Some(say(
                        "fail-caption",
                        &[("part", finder.composer.clause(fault).into()), ("state", state.into())],
                    ))
                };
                faults.iter().for_each(|f| self.failing(f, &table.id, &text));
            }
            (TableKind::NothingLost, _) => {
                let text =
                    |finder: &Self, fault| Some(say("index-quiet", &[("part", finder.composer.clause(fault).into())]));
                table.rows.iter().for_each(|row| self.failing(&row.about, &table.id, &text));
            }
            _ => {}
        }
    }

    fn described(&mut self, table: &Table) {
        for row in &table.rows {
            let Some(item) = self.composer.model.find_item(&row.about) else { continue };
            self.coverage.described.insert(row.about.clone());
            let numbered = table.columns.first() == Some(&Column::Number);
            let number = row.cells.first().and_then(|c| c.lines.first()).filter(|_| numbered);
            let text = match (table.kind, number) {
                (TableKind::Items, _) => table.caption.clone(),
                (_, Some(number)) => say("index-round", &[("number", Inline::text(plain_text(number)).into())]),
                _ => say("index-off-panel", &[]),
            };
            self.note(item, &table.id, text);
        }
    }

    fn failing(&mut self, id: &str, table: &str, text: &dyn Fn(&Self, FaultIx) -> Option<Inlines>) {
        let model = self.composer.model;
        let fault = self.faults.get(id).copied();
        let item = fault.and_then(|f| model.item_of(model[f].of));
        let (Some(fault), Some(item)) = (fault, item) else { return };
        self.coverage.failing.insert(model[item].id.to_string());
        if let Some(text) = text(self, fault) {
            self.note(item, table, text);
        }
    }

    fn figure(&mut self, figure: &Figure) {
        let model = self.composer.model;
        for item in model.item_indices() {
            let drawn = match (figure.kind, &figure.subject) {
                (FigureKind::System, Subject::One(system)) => model[model[item].system].id.as_str() == system,
                (FigureKind::Panel, _) => model[item].panel.is_some(),
                _ => false,
            };
            if drawn {
                self.coverage.drawn.insert(model[item].id.to_string());
                self.note(item, &figure.id, figure.caption.clone());
            }
        }
    }
}

impl Composer<'_> {
    /// The index, to be filled later.
    pub fn index_place(&mut self) -> Block {
        let columns = vec![Column::Item, Column::ToldIn];
        self.late_table("index-of-items", TableKind::Index, "caption-index", columns)
    }

    /// The topics, to be filled later.
    pub fn topics_place(&mut self) -> Block {
        let columns = vec![Column::Code, Column::Topic, Column::TaughtIn];
        self.late_table("examination-topics", TableKind::Topics, "caption-topics", columns)
    }

    fn late_table(&mut self, id: &str, kind: TableKind, caption: &str, columns: Vec<Column>) -> Block {
        let (id, caption) = (self.take_id(id), say(caption, &[]));
        Block::Table(Table { id, kind, subject: Subject::Aircraft, caption, columns, rows: Vec::new() })
    }

    fn index_rows(&self, told: &Told) -> Vec<Row> {
        let model = self.model;
        let mut items: Vec<ItemIx> = model.item_indices().collect();
        items.sort_by_key(|i| (model[model[*i].node].noun.name.to_lowercase(), *i));
        let row = |item: ItemIx| {
            let links = told.get(&item).map_or(&[][..], Vec::as_slice);
            let links = joined(links.iter().map(|link| vec![link.clone()]).collect(), "; ");
            let name = say("item-line", &[("thing", self.words.item(model, item).into())]);
            Row { about: model[item].id.to_string(), cells: vec![Cell::line(name), Cell::line(links)] }
        };
        items.into_iter().map(row).collect()
    }

    /// Keeps the error that no topic has a code.
    pub fn unknown_topic(&mut self, code: &Spanned<String>) {
        let near = did_you_mean(&code.value, TOPICS.iter().map(|t| t.code));
        let help = near.map_or_else(
            || "write a code such as `PA.I.G.K1f`; `explain topic-unknown` lists them".to_owned(),
            |n| format!("did you mean `{n}`?"),
        );
        let message = format!("no topic of the examination has the code `{}`", super::value::clip(&code.value));
        self.error("topic-unknown", code.span, message, help);
    }
}

/// A topic with the headings that teach it, then those that leave it out.
fn topic_row(topic: &Topic, taught: &[Taught]) -> Row {
    let link = |t: &Taught| Inline::Ref { to: t.to.clone(), text: t.text.clone() };
    let of = |teaches: bool| taught.iter().filter(move |t| t.topic == topic && t.teaches == teaches);
    let mut lines: Vec<Inlines> = of(true).map(|t| vec![link(t)]).collect();
    lines.extend(of(false).map(|t| say("left-out", &[("part", link(t).into())])));
    let cells = vec![
        Cell::line(vec![Inline::Code(topic.code.to_owned())]),
        Cell::line(vec![Inline::text(topic.about)]),
        Cell { mark: None, lines },
    ];
    Row { about: topic.code.to_owned(), cells }
}
