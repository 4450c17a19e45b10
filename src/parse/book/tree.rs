//! From Markdown events to the raw tree of a chapter.

use super::call::{Call, Masked, mask};
use super::{DEEPEST, RawBlock, RawHeading, RawInline, RawKind, RawLevel};
use crate::base::{Diagnostic, Diagnostics, FileId, Span, Spanned};
use pulldown_cmark::{BlockQuoteKind, Event, HeadingLevel, Options, Parser, Tag, TagEnd};
use std::ops::Range;

type Place<'a> = (Event<'a>, Range<usize>);

/// Reads one chapter: its title and what follows.
pub fn chapter(file: FileId, text: &str, diagnostics: &mut Diagnostics) -> Option<(RawHeading, Vec<RawBlock>)> {
    let masked = mask(file, text, diagnostics);
    let options = Options::ENABLE_TABLES | Options::ENABLE_HEADING_ATTRIBUTES | Options::ENABLE_GFM;
    let mut events = Vec::new();
    let mut depth = 0_usize;
    for (event, range) in Parser::new_ext(&masked.text, options).into_offset_iter() {
        match &event {
            Event::Start(tag) if nests(tag.to_end()) => depth += 1,
            Event::End(tag) if nests(*tag) => depth = depth.saturating_sub(1),
            _ => {}
        }
        if depth > DEEPEST {
            let place = Span::new(file, range.start..(range.start + 1).min(range.end));
            let message = format!("lists, quotes and emphasis stand more than {DEEPEST} deep in one another here");
            let help = "write it flatter";
            diagnostics.push(Diagnostic::error("book-nesting", place, message).help(help));
            return None;
        }
        events.push((event, range));
    }
    let before = diagnostics.len();
    let mut reader = Reader { file, text, masked: &masked, events: &events, at: 0, placed: 0, diagnostics };
    let chapter = reader.chapter(before);
    if reader.placed < masked.filled.len() && reader.diagnostics.len() == before {
        reader.misplaced(chapter.as_ref().map_or(&[], |(_, blocks)| blocks));
    }
    chapter
}

/// What a heading says beside its id.
#[derive(Default)]
struct Attributes {
    has: Option<Spanned<String>>,
    teaches: Vec<Spanned<String>>,
    leaves_out: Vec<Spanned<String>>,
}

fn nests(tag: TagEnd) -> bool {
    use TagEnd::{BlockQuote, Emphasis, Image, Link, List, Strong};
    matches!(tag, BlockQuote(_) | List(_) | Emphasis | Strong | Link | Image)
}

/// Walks the events. Its recursion is as deep as [`nests`] counts, and no deeper.
struct Reader<'a> {
    file: FileId,
    text: &'a str,
    masked: &'a Masked,
    events: &'a [Place<'a>],
    at: usize,
    /// How many of the filled places were met in running text.
    placed: usize,
    diagnostics: &'a mut Diagnostics,
}

impl<'a> Reader<'a> {
    /// `before` is how many diagnostics there were: a chapter that lost blocks to errors is not called empty.
    fn chapter(&mut self, before: usize) -> Option<(RawHeading, Vec<RawBlock>)> {
        let blocks = self.blocks();
        let mut blocks = blocks.into_iter();
        let first = blocks.next();
        let Some(RawBlock::Heading(title)) = first.filter(|b| matches!(b, RawBlock::Heading(h) if h.level == 1)) else {
            let message = "a chapter begins with its title";
            let place = Span::new(self.file, 0..self.text.find('\n').unwrap_or(self.text.len()));
            self.error("chapter-title", place, message, "begin the file with a line like `# Suction`");
            return None;
        };
        let blocks: Vec<RawBlock> = blocks.collect();
        if blocks.is_empty() && self.diagnostics.len() == before {
            self.error("chapter-empty", title.span, "this chapter holds nothing", "write it, or take the file away");
            return None;
        }
        self.check_levels(&title, &blocks);
        Some((title, blocks))
    }

    fn check_levels(&mut self, title: &RawHeading, blocks: &[RawBlock]) {
        let mut level = title.level;
        for block in blocks {
            let RawBlock::Heading(heading) = block else { continue };
            if heading.level == 1 {
                let help = "write `##`, or put it into a file of its own";
                self.error("heading-level", heading.span, "a chapter has one title", help);
            } else if heading.level > 4 || heading.level > level + 1 {
                let message = format!("a heading of level {} cannot follow one of level {level}", heading.level);
                let help = format!("write it with {} `#`", (level + 1).min(4));
                self.error("heading-level", heading.span, message, help);
            }
            level = heading.level;
        }
    }

    fn error(&mut self, code: &'static str, span: Span, message: impl Into<String>, help: impl Into<String>) {
        self.diagnostics.push(Diagnostic::error(code, span, message).help(help));
    }

    /// Calls that stand where no text is: in code, in the target of a link.
    fn misplaced(&mut self, blocks: &[RawBlock]) {
        let mut met = Vec::new();
        places_of_calls(blocks, &mut met);
        for place in self.masked.filled.iter().filter(|p| !met.contains(p)) {
            let help = "put the call into running text";
            self.diagnostics.push(Diagnostic::error("call-grammar", *place, "a call cannot stand here").help(help));
        }
    }

    fn span(&self, range: &Range<usize>) -> Span {
        Span::new(self.file, range.clone())
    }

    fn peek(&self) -> Option<&'a Place<'a>> {
        self.events.get(self.at)
    }

    fn next(&mut self) -> Option<&'a Place<'a>> {
        let place = self.events.get(self.at);
        self.at += 1;
        place
    }

    /// Blocks up to the end of what holds them; that end is read too.
    fn blocks(&mut self) -> Vec<RawBlock> {
        let mut blocks = Vec::new();
        while let Some((event, range)) = self.peek() {
            match event {
                Event::End(_) => {
                    self.at += 1;
                    break;
                }
                Event::Start(tag) if is_block(tag) => {
                    self.at += 1;
                    blocks.extend(self.block(tag, range));
                }
                Event::Rule => {
                    self.at += 1;
                    self.unknown(range, "a rule");
                }
                _ => {
                    let line = self.inlines();
                    blocks.extend(self.para(line));
                }
            }
        }
        blocks
    }

    fn block(&mut self, tag: &Tag<'a>, range: &Range<usize>) -> Option<RawBlock> {
        match tag {
            Tag::Paragraph => {
                let line = self.inlines_to_end();
                self.para(line)
            }
            Tag::Heading { level, id, attrs, classes } => {
                let id = id.as_ref().map(|id| self.find_in(range, id));
                let said = self.attributes(attrs, classes.first().map(AsRef::as_ref), range);
                let Attributes { has, teaches, leaves_out } = said;
                let text = self.inlines_to_end();
                let (level, span) = (number(*level), self.line_span(range));
                Some(RawBlock::Heading(RawHeading { level, id, has, teaches, leaves_out, text, span }))
            }
            Tag::List(first) => Some(RawBlock::List { ordered: first.is_some(), items: self.list_items() }),
            Tag::BlockQuote(kind) => self.notice(*kind, range),
            Tag::Table(_) => Some(self.table(range)),
            Tag::HtmlBlock => {
                let help = "write Markdown; to show the sign itself, write `&lt;`";
                self.error("raw-markup", self.line_span(range), "raw HTML is not taken in a chapter", help);
                self.skip_to_end();
                None
            }
            Tag::CodeBlock(_) => {
                self.unknown(range, "a block of code");
                self.skip_to_end();
                None
            }
            _ => {
                self.unknown(range, "this");
                self.skip_to_end();
                None
            }
        }
    }

    fn unknown(&mut self, range: &Range<usize>, what: &str) {
        let message = format!("{what} is not taken in a chapter");
        let help = "use paragraphs, lists, tables and notices";
        self.error("markup-unknown", self.line_span(range), message, help);
    }

    /// The first line of a range, without its end.
    fn line_span(&self, range: &Range<usize>) -> Span {
        let text = self.text.get(range.clone()).unwrap_or("");
        let line = text.lines().next().unwrap_or("").trim_end();
        Span::new(self.file, range.start..range.start + line.len())
    }

    fn skip_to_end(&mut self) {
        let mut open = 1_usize;
        while open > 0 {
            match self.next() {
                Some((Event::Start(_), _)) => open += 1,
                Some((Event::End(_), _)) => open -= 1,
                Some(_) => {}
                None => return,
            }
        }
    }

    fn find_in(&self, range: &Range<usize>, what: &str) -> Spanned<String> {
        let text = self.text.get(range.clone()).unwrap_or("");
        let at = text.rfind(what).unwrap_or(0);
        Spanned::new(what.to_owned(), Span::new(self.file, range.start + at..range.start + at + what.len()))
    }

    fn attributes(
        &mut self,
        attrs: &[(pulldown_cmark::CowStr<'a>, Option<pulldown_cmark::CowStr<'a>>)],
        class: Option<&str>,
        range: &Range<usize>,
    ) -> Attributes {
        let mut said = Attributes::default();
        for (key, value) in attrs {
            match (key.as_ref(), value) {
                ("has", Some(value)) => said.has = Some(self.find_in(range, value.trim_matches('"'))),
                ("teaches", Some(value)) => said.teaches = self.codes(range, value.trim_matches('"')),
                ("leaves-out", Some(value)) => said.leaves_out = self.codes(range, value.trim_matches('"')),
                (other, _) => self.attribute_error(range, other),
            }
        }
        if let Some(class) = class {
            self.attribute_error(range, class);
        }
        said
    }

    /// Codes with commas between them, each at its place.
    fn codes(&self, range: &Range<usize>, list: &str) -> Vec<Spanned<String>> {
        let whole = self.find_in(range, list);
        let mut at = 0;
        let mut found = Vec::new();
        for code in list.split(',') {
            found.push(Spanned::new(code.to_owned(), whole.span.inner(at..at + code.len())));
            at += code.len() + 1;
        }
        found
    }

    fn attribute_error(&mut self, range: &Range<usize>, what: &str) {
        let place = self.find_in(range, what).span;
        let message = format!("a heading takes no attribute `{}`", what.chars().take(40).collect::<String>());
        self.error("heading-attribute", place, message, "write `{#id}`, `{#id has=adf}` or `{#id teaches=PA.I.G.K1f}`");
    }

    fn list_items(&mut self) -> Vec<Vec<RawBlock>> {
        let mut items = Vec::new();
        while let Some((Event::Start(Tag::Item), _)) = self.next() {
            items.push(self.blocks());
        }
        items
    }

    fn notice(&mut self, kind: Option<BlockQuoteKind>, range: &Range<usize>) -> Option<RawBlock> {
        let body = self.blocks();
        let level = match kind {
            Some(BlockQuoteKind::Note) => RawLevel::Note,
            Some(BlockQuoteKind::Caution) => RawLevel::Caution,
            Some(BlockQuoteKind::Warning) => RawLevel::Warning,
            _ => {
                let message = "a quote in a chapter is a note, a caution or a warning";
                let help = "begin it with a line `> [!NOTE]`, `> [!CAUTION]` or `> [!WARNING]`";
                self.error("notice-unknown", self.line_span(range), message, help);
                return None;
            }
        };
        Some(RawBlock::Notice { level, body, span: self.line_span(range) })
    }

    fn table(&mut self, range: &Range<usize>) -> RawBlock {
        let (mut head, mut rows) = (Vec::new(), Vec::new());
        while let Some((event, _)) = self.next() {
            match event {
                Event::Start(Tag::TableHead) => head = self.cells(),
                Event::Start(Tag::TableRow) => rows.push(self.cells()),
                _ => break,
            }
        }
        RawBlock::Table { head, rows, span: self.line_span(range) }
    }

    fn cells(&mut self) -> Vec<Vec<RawInline>> {
        let mut cells = Vec::new();
        while let Some((Event::Start(Tag::TableCell), _)) = self.next() {
            let line = self.inlines_to_end();
            self.refuse_block_calls(&line);
            cells.push(line);
        }
        cells
    }

    /// A paragraph, or the block call that stands alone in it.
    fn para(&mut self, line: Vec<RawInline>) -> Option<RawBlock> {
        if let [RawInline { kind: RawKind::Call(call), .. }] = line.as_slice()
            && call.rule.block
        {
            return Some(RawBlock::Call(call.clone()));
        }
        self.refuse_block_calls(&line);
        (!line.is_empty()).then_some(RawBlock::Para(line))
    }

    fn refuse_block_calls(&mut self, line: &[RawInline]) {
        for piece in line {
            match &piece.kind {
                RawKind::Call(call) if call.rule.block => {
                    let message = format!("`{}` gives a block and stands alone in its paragraph", call.rule.name);
                    let help = "put an empty line before and after it";
                    self.error("call-not-alone", call.span, message, help);
                }
                RawKind::Emph(text)
                | RawKind::Strong(text)
                | RawKind::Claim { text, .. }
                | RawKind::Ref { text, .. } => self.refuse_block_calls(text),
                _ => {}
            }
        }
    }

    fn inlines_to_end(&mut self) -> Vec<RawInline> {
        let line = self.inlines();
        self.at += 1;
        line
    }

    /// Inlines up to the next end or block; that is left to be read.
    fn inlines(&mut self) -> Vec<RawInline> {
        let mut line = Vec::new();
        while let Some((event, range)) = self.peek() {
            match event {
                Event::Start(tag) if is_block(tag) => break,
                Event::End(_) | Event::Rule => break,
                _ => self.at += 1,
            }
            self.inline(event, range, &mut line);
        }
        line
    }

    fn inline(&mut self, event: &Event<'a>, range: &Range<usize>, line: &mut Vec<RawInline>) {
        let span = self.span(range);
        let mut push = |kind| line.push(RawInline { kind, span });
        match event {
            Event::Text(text) => self.texts(text, range, line),
            Event::Code(text) => push(RawKind::Code(text.to_string())),
            Event::SoftBreak | Event::HardBreak => push(RawKind::Text(" ".to_owned())),
            Event::Start(Tag::Emphasis) => {
                let text = self.inlines_to_end();
                push(RawKind::Emph(text));
            }
            Event::Start(Tag::Strong) => {
                let text = self.inlines_to_end();
                push(RawKind::Strong(text));
            }
            Event::Start(Tag::Link { dest_url, .. }) => {
                let text = self.inlines_to_end();
                line.extend(self.link(dest_url, text, range));
            }
            Event::Start(Tag::Image { .. }) => {
                self.skip_to_end();
                let help = "pull a drawing with `{{ figure(kind=\"system\", of=\"…\") }}`";
                self.error("image-refused", span, "a chapter brings no pictures of its own", help);
            }
            Event::Html(_) | Event::InlineHtml(_) => {
                let help = "write Markdown; to show the sign itself, write `&lt;`";
                self.error("raw-markup", span, "raw HTML is not taken in a chapter", help);
            }
            _ => self.unknown(range, "this"),
        }
    }

    /// A run of text, with the calls in it put back.
    fn texts(&mut self, text: &str, range: &Range<usize>, line: &mut Vec<RawInline>) {
        let source = self.masked.text.get(range.clone()).unwrap_or("");
        let filled: Vec<Span> = self.masked.filled.iter().copied().filter(|f| overlaps(*f, range)).collect();
        if source != text || filled.is_empty() {
            line.push(RawInline { kind: RawKind::Text(text.to_owned()), span: self.span(range) });
            return;
        }
        let mut at = range.start;
        for place in filled {
            self.plain(at..place.start as usize, line);
            if let Some(call) = self.masked.calls.iter().find(|c| c.span == place) {
                line.push(RawInline { kind: RawKind::Call(Call::clone(call)), span: place });
            }
            at = place.end as usize;
            self.placed += 1;
        }
        self.plain(at..range.end, line);
    }

    fn plain(&self, range: Range<usize>, line: &mut Vec<RawInline>) {
        let text = self.text.get(range.clone()).unwrap_or("");
        if !text.is_empty() {
            line.push(RawInline { kind: RawKind::Text(text.to_owned()), span: self.span(&range) });
        }
    }

    fn link(&mut self, target: &str, text: Vec<RawInline>, range: &Range<usize>) -> Option<RawInline> {
        let span = self.span(range);
        let place = self.find_in(range, target);
        if let Some(claim) = target.strip_prefix("claim:") {
            let claim = Spanned::new(claim.to_owned(), place.span.inner("claim:".len()..target.len()));
            return Some(RawInline { kind: RawKind::Claim { claim, text }, span });
        }
        if let Some(to) = target.strip_prefix('#') {
            let to = Spanned::new(to.to_owned(), place.span.inner(1..target.len()));
            return Some(RawInline { kind: RawKind::Ref { to, text }, span });
        }
        let message = "a link in a chapter leads to a place in the guide or to a claim";
        self.error("link-refused", place.span, message, "write `(#id)` for a place, or `(<claim:…>)` for a claim");
        None
    }
}

fn places_of_calls(blocks: &[RawBlock], met: &mut Vec<Span>) {
    for block in blocks {
        match block {
            RawBlock::Heading(heading) => calls_in_line(&heading.text, met),
            RawBlock::Para(line) => calls_in_line(line, met),
            RawBlock::List { items, .. } => items.iter().for_each(|i| places_of_calls(i, met)),
            RawBlock::Table { head, rows, .. } => {
                head.iter().chain(rows.iter().flatten()).for_each(|c| calls_in_line(c, met));
            }
            RawBlock::Notice { body, .. } => places_of_calls(body, met),
            RawBlock::Call(call) => met.push(call.span),
        }
    }
}

fn calls_in_line(line: &[RawInline], met: &mut Vec<Span>) {
    for piece in line {
        match &piece.kind {
            RawKind::Call(call) => met.push(call.span),
            RawKind::Emph(text) | RawKind::Strong(text) | RawKind::Claim { text, .. } | RawKind::Ref { text, .. } => {
                calls_in_line(text, met);
            }
            RawKind::Text(_) | RawKind::Code(_) => {}
        }
    }
}

fn overlaps(span: Span, range: &Range<usize>) -> bool {
    (span.start as usize) < range.end && (span.end as usize) > range.start
}

fn is_block(tag: &Tag<'_>) -> bool {
    !matches!(
        tag,
        Tag::Emphasis
            | Tag::Strong
            | Tag::Link { .. }
            | Tag::Image { .. }
            | Tag::Strikethrough
            | Tag::Superscript
            | Tag::Subscript
    )
}

fn number(level: HeadingLevel) -> u8 {
    level as u8
}
