//! Chapters: raw trees to blocks, with every call filled and every claim proved.

use super::claims;
use super::composer::Composer;
use super::late::{self, Taught};
use super::prose;
use crate::base::text::did_you_mean;
use crate::base::{Span, Spanned};
use crate::doc::{
    Block, Cell, Chapter, Column, Figure, FigureKind, Inline, Inlines, NoticeLevel, Piece, Prose, Row, Subject, Table,
    TableKind, Tie, plain_text,
};
use crate::model::{StateIx, SystemIx};
use crate::parse::book::{Book, Call, RawBlock, RawChapter, RawHeading, RawInline, RawKind, RawLevel};
use std::collections::BTreeSet;

/// Fills chapters, one after another.
pub struct Writer<'c, 'a> {
    composer: &'c mut Composer<'a>,
    prose: Prose,
    chapter: String,
    references: Vec<Spanned<String>>,
    dropped: BTreeSet<String>,
    taught: Vec<Taught>,
    topics_at: Option<Span>,
}

/// Fills a whole book.
pub fn write(composer: &mut Composer<'_>, book: &Book) -> (Vec<Chapter>, Prose) {
    let mut writer = Writer {
        composer,
        prose: Prose::default(),
        chapter: String::new(),
        references: Vec::new(),
        dropped: BTreeSet::new(),
        taught: Vec::new(),
        topics_at: None,
    };
    for chapter in &book.chapters {
        writer.composer.take_id(chapter.id.as_str());
    }
    let mut chapters = Vec::new();
    for raw in &book.chapters {
        if writer.is_kept(&raw.title) {
            let chapter = writer.chapter(raw, chapters.len() + 1);
            chapters.push(chapter);
        } else {
            writer.drop_chapter(raw);
        }
    }
    writer.check_references();
    let (mut prose, taught, topics_at) = (writer.prose, writer.taught, writer.topics_at);
    let leads_to = |id: &str| composer.resolve_id(id);
    chapters.iter_mut().flat_map(|c| c.blocks.iter_mut()).for_each(|b| relink(b, &leads_to));
    prose.coverage = late::fill(composer, &mut chapters, &taught);
    prose.untaught = topics_at.map_or_else(Vec::new, |at| late::untaught(&taught, at));
    (chapters, prose)
}

impl Writer<'_, '_> {
    fn chapter(&mut self, raw: &RawChapter, number: usize) -> Chapter {
        self.chapter = raw.id.to_string();
        let title = self.inlines(&raw.title.text);
        self.teach(&raw.title, raw.id.as_str(), &title);
        let first_taught = self.taught.len();
        let mut blocks = Vec::new();
        let mut dropped_from: Option<u8> = None;
        for block in &raw.blocks {
            if let RawBlock::Heading(heading) = block {
                if dropped_from.is_some_and(|level| heading.level <= level) {
                    dropped_from = None;
                }
                if dropped_from.is_none() && !self.is_kept(heading) {
                    dropped_from = Some(heading.level);
                }
                if dropped_from.is_some() {
                    self.dropped.extend(heading.id.as_ref().map(|i| i.value.clone()));
                }
            }
            if dropped_from.is_none() {
                blocks.extend(self.block(block));
            }
        }
        for taught in self.taught.iter_mut().skip(first_taught) {
            let heading = std::mem::take(&mut taught.text);
            taught.text = title.iter().cloned().chain([Inline::text(": ")]).chain(heading).collect();
        }
        Chapter { id: raw.id.to_string(), number, title, blocks }
    }

    fn is_kept(&self, heading: &RawHeading) -> bool {
        heading.has.as_ref().is_none_or(|has| self.composer.has(&has.value))
    }

    fn drop_chapter(&mut self, raw: &RawChapter) {
        self.dropped.insert(raw.id.to_string());
        let headings =
            raw.blocks.iter().filter_map(|b| if let RawBlock::Heading(h) = b { h.id.as_ref() } else { None });
        self.dropped.extend(headings.map(|i| i.value.clone()));
    }

    fn blocks(&mut self, raw: &[RawBlock]) -> Vec<Block> {
        raw.iter().flat_map(|b| self.block(b)).collect()
    }

    fn block(&mut self, raw: &RawBlock) -> Vec<Block> {
        match raw {
            RawBlock::Heading(heading) => vec![self.heading(heading)],
            RawBlock::Para(text) => vec![Block::Para(self.line(text))],
            RawBlock::List { ordered, items } => {
                let items = items.iter().map(|i| self.blocks(i)).collect();
                vec![Block::List { ordered: *ordered, items }]
            }
            RawBlock::Table { head, rows, span } => vec![self.table(head, rows, *span)],
            RawBlock::Notice { level, body, .. } => vec![self.notice(*level, body)],
            RawBlock::Call(call) => self.block_call(call),
        }
    }

    fn heading(&mut self, raw: &RawHeading) -> Block {
        let text = self.inlines(&raw.text);
        let id = match &raw.id {
            Some(id) if self.composer.has_id(&id.value) => {
                let message = format!("the id `{}` is taken", super::value::clip(&id.value));
                self.composer.error("heading-twice", id.span, message, "give this heading another id");
                id.value.clone()
            }
            Some(id) => self.composer.take_id(&id.value),
            None => self.composer.take_id(&format!("{}/{}", self.chapter, slug(&plain_text(&text)))),
        };
        self.teach(raw, &id, &text);
        Block::Heading { level: raw.level.clamp(2, 4), id, text }
    }

    /// Notes the topics that a heading says it teaches or leaves out.
    fn teach(&mut self, raw: &RawHeading, id: &str, text: &Inlines) {
        let both = raw.teaches.iter().map(|c| (c, true)).chain(raw.leaves_out.iter().map(|c| (c, false)));
        for (code, teaches) in both {
            if raw.level > 1 && raw.id.is_none() {
                let message = "a heading that names a topic needs an id, so that the table of topics can lead to it";
                let help = format!("write `{{#id teaches={}}}`", super::value::clip(&code.value));
                self.composer.error("heading-attribute", code.span, message, help);
            }
            match late::topic(&code.value) {
                Some(topic) => self.taught.push(Taught { topic, teaches, to: id.to_owned(), text: text.clone() }),
                None => self.composer.unknown_topic(code),
            }
        }
    }

    /// A line of running text: its sentences are kept for the lints.
    fn line(&mut self, raw: &[RawInline]) -> Inlines {
        let mut pieces = Vec::new();
        let first_claim = self.prose.claims.len();
        let line = self.inlines_into(raw, &Tie::Untied, &mut pieces);
        let sentences = prose::sentences(&self.chapter, pieces);
        for claim in self.prose.claims.iter_mut().skip(first_claim) {
            claim.sentence = prose::around(&sentences, claim.span);
        }
        self.prose.sentences.extend(sentences);
        line
    }

    /// Inlines that are no running text: titles.
    fn inlines(&mut self, raw: &[RawInline]) -> Inlines {
        self.inlines_into(raw, &Tie::Untied, &mut Vec::new())
    }

    fn inlines_into(&mut self, raw: &[RawInline], tie: &Tie, pieces: &mut Vec<Piece>) -> Inlines {
        raw.iter().flat_map(|piece| self.inline(piece, tie, pieces)).collect()
    }

    fn inline(&mut self, raw: &RawInline, tie: &Tie, pieces: &mut Vec<Piece>) -> Inlines {
        let mut keep = |tie: Tie, text: &str| pieces.push(Piece { tie, text: text.to_owned(), span: raw.span });
        match &raw.kind {
            RawKind::Text(text) => {
                keep(tie.clone(), text);
                vec![Inline::text(text)]
            }
            RawKind::Code(text) => {
                keep(Tie::Code, text);
                vec![Inline::Code(text.clone())]
            }
            RawKind::Emph(text) => vec![Inline::Emph(self.inlines_into(text, tie, pieces))],
            RawKind::Strong(text) => vec![Inline::Strong(self.inlines_into(text, tie, pieces))],
            RawKind::Ref { to, text } => {
                self.references.push(to.clone());
                vec![Inline::Ref { to: to.value.clone(), text: self.inlines_into(text, tie, pieces) }]
            }
            RawKind::Claim { claim, text } => {
                let text = self.inlines_into(text, &Tie::Claim(claim.value.clone()), pieces);
                self.prose.claims.extend(claims::prove(self.composer, claim, &plain_text(&text), raw.span));
                vec![Inline::Claim { claim: claim.value.clone(), text }]
            }
            RawKind::Call(call) => {
                let inlines = self.composer.inline_call(call);
                for inline in &inlines {
                    let text = plain_text(std::slice::from_ref(inline));
                    keep(tie_of(inline), &text);
                }
                inlines
            }
        }
    }

    fn notice(&mut self, level: RawLevel, body: &[RawBlock]) -> Block {
        let level = match level {
            RawLevel::Note => NoticeLevel::Note,
            RawLevel::Caution => NoticeLevel::Caution,
            RawLevel::Warning => NoticeLevel::Warning,
        };
        Block::Notice { level, subject: Subject::One(self.chapter.clone()), body: self.blocks(body) }
    }

    fn table(&mut self, head: &[Vec<RawInline>], rows: &[Vec<Vec<RawInline>>], _: Span) -> Block {
        let columns: Vec<Column> = head.iter().map(|h| Column::Plain(plain_text(&self.inlines(h)))).collect();
        let width = columns.len();
        let mut filled = Vec::new();
        for (at, row) in rows.iter().enumerate() {
            let mut cells: Vec<Cell> = row.iter().map(|c| Cell::line(self.line(c))).collect();
            cells.resize(width, Cell::default());
            filled.push(Row { about: (at + 1).to_string(), cells });
        }
        let id = self.composer.take_id(&format!("{}/table", self.chapter));
        let subject = Subject::One(self.chapter.clone());
        Block::Table(Table { id, kind: TableKind::Plain, subject, caption: Inlines::new(), columns, rows: filled })
    }

    fn block_call(&mut self, call: &Call) -> Vec<Block> {
        let composer = &mut *self.composer;
        match call.rule.name {
            "figure" => self.figure(call).into_iter().collect(),
            "plot" => composer.plot(call).into_iter().collect(),
            "chains" => self.system(call.get("system")).map_or_else(Vec::new, |s| self.composer.chain_figures(s)),
            "items" => self.system(call.get("system")).map_or_else(Vec::new, |s| self.composer.items(s)),
            "failures" => self.system(call.get("system")).map_or_else(Vec::new, |s| self.composer.failures(s)),
            "failure" => self.failure(call),
            "nothing_lost" => composer.nothing_lost(),
            "states" => composer.states(),
            "controls" => composer.controls(),
            "breakers" => composer.breakers(),
            "alerts" => composer.alerts(),
            "quantities" => composer.quantities(),
            "clocks" => call.get("legs").map_or_else(Vec::new, |legs| composer.clocks(legs)),
            "inspections" => composer.inspections(),
            "loads" => composer.loads(),
            "circuits" => composer.circuits(),
            "battery" => composer.battery(call.span),
            "stages" => call.get("shed").map_or_else(Vec::new, |shed| composer.stages(shed, call.span)),
            "gains" => composer.gains(call.span),
            "drain" => composer.drain(call.span),
            "flight_clocks" => call.get("of").map_or_else(Vec::new, |of| composer.flight_clocks(of)),
            "months" => composer.months(call.span),
            "blocked" => composer.blocked(call),
            "encoder" => composer.encoder(call),
            "due" => composer.due(call),
            "tanks" => composer.tanks(call),
            "reserves" => composer.reserves(call),
            "one_tank" => composer.one_tank(call),
            "needles" => call.get("of").map_or_else(Vec::new, |of| composer.needle_table(of)),
            "suspects" => composer.suspects(),
            "walk_round" => composer.walk_round(),
            "index" => vec![composer.index_place()],
            "topics" => {
                self.topics_at.get_or_insert(call.span);
                vec![composer.topics_place()]
            }
            "walk" => composer.walk(),
            "changes" => composer.changes(),
            _ => Vec::new(),
        }
    }

    fn system(&mut self, of: Option<&Spanned<String>>) -> Option<SystemIx> {
        let of = of?;
        let systems = &self.composer.model.systems;
        let found = systems.iter().position(|s| s.id.as_str() == of.value).map(SystemIx::new);
        if found.is_none() {
            let near = did_you_mean(&of.value, systems.iter().map(|s| s.id.as_str()));
            let help = near.map_or_else(|| "use the id of a system".to_owned(), |n| format!("did you mean `{n}`?"));
            let message = format!("no system is called `{}`", super::value::clip(&of.value));
            self.composer.error("name-unknown", of.span, message, help);
        }
        found
    }

    fn failure(&mut self, call: &Call) -> Vec<Block> {
        let Some(of) = call.get("of") else { return Vec::new() };
        let Some(node) = self.composer.model.find_node(&of.value) else {
            self.composer.unknown_name(of);
            return Vec::new();
        };
        let Some(within) = call.get("in") else { return self.composer.failure(node, None) };
        self.state(within).map_or_else(Vec::new, |state| self.composer.failure(node, Some(state)))
    }

    fn state(&mut self, named: &Spanned<String>) -> Option<StateIx> {
        let model = self.composer.model;
        let found = model.find_state(&named.value);
        if found.is_none() {
            let near = did_you_mean(&named.value, model.states.iter().map(|s| s.id.as_str()));
            let help = near.map_or_else(|| "use the id of a state".to_owned(), |n| format!("did you mean `{n}`?"));
            let message = format!("no state is called `{}`", super::value::clip(&named.value));
            self.composer.error("name-unknown", named.span, message, help);
        }
        found
    }

    fn figure(&mut self, call: &Call) -> Option<Block> {
        use super::phrase::say;
        let kind = call.get("kind")?;
        let (id, kind, subject, caption) = match kind.value.as_str() {
            "system" => {
                let Some(of) = call.get("of") else {
                    let help = "write `figure(kind=\"system\", of=\"…\")`";
                    self.composer.error(
                        "call-argument",
                        kind.span,
                        "a drawing of a system needs the argument `of`",
                        help,
                    );
                    return None;
                };
                let system = self.system(Some(of))?;
                let caption = say("caption-system", &[("system", self.composer.words.system(system).into())]);
                (format!("figure/{}", of.value), FigureKind::System, Subject::One(of.value.clone()), caption)
            }
            "overview" => {
                ("figure/overview".to_owned(), FigureKind::Overview, Subject::Aircraft, say("caption-overview", &[]))
            }
            "panel" => return Some(self.composer.panel_figure()),
            "states" => return Some(self.composer.states_figure()),
            "chain" => return self.chain(call),
            _ => {
                let message = format!("there is no drawing of the kind `{}`", super::value::clip(&kind.value));
                self.composer.error(
                    "call-argument",
                    kind.span,
                    message,
                    "write `system`, `overview`, `panel`, `states` or `chain`",
                );
                return None;
            }
        };
        let id = self.composer.take_id(&id);
        Some(Block::Figure(Figure { id, kind, subject, caption, panels: Vec::new(), plot: None }))
    }

    /// What one item hangs on.
    fn chain(&mut self, call: &Call) -> Option<Block> {
        let Some(of) = call.get("of") else {
            let help = "write `figure(kind=\"chain\", of=\"…\")`";
            self.composer.error("call-argument", call.span, "a drawing of a chain needs the argument `of`", help);
            return None;
        };
        let item = self.composer.model.find_item(&of.value);
        if item.is_none() {
            self.composer.unknown_name(of);
        }
        item.map(|item| self.composer.chain_figure(item))
    }

    fn check_references(&mut self) {
        for reference in std::mem::take(&mut self.references) {
            let id = &reference.value;
            if self.composer.resolve_id(id).is_some() || self.dropped.contains(id) {
                continue;
            }
            let near = did_you_mean(id, self.composer.ids()).map(str::to_owned);
            let help = near.map_or_else(
                || "link to the id of a chapter, a heading, a table or a figure".to_owned(),
                |n| format!("did you mean `#{n}`?"),
            );
            let message = format!("nothing in the guide has the id `{}`", super::value::clip(id));
            self.composer.error("link-unknown", reference.span, message, help);
        }
    }
}

fn tie_of(inline: &Inline) -> Tie {
    match inline {
        Inline::Name { id, .. } => Tie::Name(id.clone()),
        Inline::Shown(..) | Inline::Quoted { .. } => Tie::Shown,
        _ => Tie::Untied,
    }
}

/// Every link gets the id that it leads to; one to what this aircraft does not have becomes plain text.
fn relink(block: &mut Block, leads_to: &dyn Fn(&str) -> Option<String>) {
    match block {
        Block::Heading { text, .. } | Block::Para(text) => relink_line(text, leads_to),
        Block::List { items, .. } => items.iter_mut().flatten().for_each(|b| relink(b, leads_to)),
        Block::Notice { body, .. } => body.iter_mut().for_each(|b| relink(b, leads_to)),
        Block::Table(table) => {
            let cells = table.rows.iter_mut().flat_map(|r| r.cells.iter_mut());
            cells.flat_map(|c| c.lines.iter_mut()).for_each(|line| relink_line(line, leads_to));
        }
        Block::Figure(_) | Block::Worked { .. } => {}
    }
}

fn relink_line(line: &mut Inlines, leads_to: &dyn Fn(&str) -> Option<String>) {
    let mut linked = Inlines::new();
    for mut inline in std::mem::take(line) {
        match &mut inline {
            Inline::Ref { text, .. } | Inline::Claim { text, .. } | Inline::Emph(text) | Inline::Strong(text) => {
                relink_line(text, leads_to);
            }
            _ => {}
        }
        match inline {
            Inline::Ref { to, text } => match leads_to(&to) {
                Some(to) => linked.push(Inline::Ref { to, text }),
                None => linked.extend(text),
            },
            other => linked.push(other),
        }
    }
    *line = linked;
}

/// Words of a heading as an id.
fn slug(text: &str) -> String {
    let letters = text.chars().map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { ' ' });
    let words: String = letters.collect();
    let slug = words.split_whitespace().collect::<Vec<_>>().join("-");
    if slug.is_empty() { "section".to_owned() } else { slug }
}
