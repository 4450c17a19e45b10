//! Inlines to words with their styles.
//!
//! A number stays with its unit; a link is followed by the page that it leads to, which is filled in when all pages are known.

use super::fonts::Face;
use super::lines::{Item, Style};
use super::setter::Setter;
use super::strip::Tone;
use super::tags::{NodeIx, Role};
use crate::base::Unit;
use crate::doc::{Inline, plain_text};
use icu_segmenter::options::LineBreakOptions;
use icu_segmenter::{LineSegmenter, LineSegmenterBorrowed};

/// A link within the text.
#[derive(Debug, Clone, PartialEq)]
pub struct Link {
    /// The id that it leads to.
    pub to: String,
    /// Where it stands in the reading order.
    pub node: NodeIx,
    /// What it says.
    pub says: String,
    /// Its page stands in brackets without a word.
    pub brief: bool,
}

/// A fact up to so many bytes is not broken.
const SHORT_FACT: usize = 28;

/// Words that are being gathered.
#[derive(Default)]
struct Gathered {
    items: Vec<Item>,
    /// White space was seen after the last word.
    space: bool,
}

/// Finds where lines may end within words.
pub(super) struct Breaks(LineSegmenterBorrowed<'static>);

impl Default for Breaks {
    fn default() -> Self {
        Self(LineSegmenter::new_for_non_complex_scripts(LineBreakOptions::default()))
    }
}

impl Breaks {
    /// Offsets within a word at which a line may end.
    fn within(&self, word: &str) -> Vec<usize> {
        if word.bytes().all(|b| b.is_ascii_alphanumeric() || b".,:;()'\"".contains(&b)) {
            return Vec::new();
        }
        self.0.segment_str(word).filter(|at| *at > 0 && *at < word.len()).collect()
    }
}

impl Setter<'_> {
    /// The words of a run of inlines, that of a table with short references.
    pub(super) fn words(&mut self, inlines: &[Inline], style: Style, brief: bool) -> Vec<Item> {
        let mut into = Gathered::default();
        self.gather(inlines, style, brief, &mut into);
        into.items
    }

    /// The words of a plain text.
    pub(super) fn plain_words(&mut self, text: &str, style: Style) -> Vec<Item> {
        let mut into = Gathered::default();
        self.gather_text(text, style, &mut into);
        into.items
    }

    /// A word of nothing but a space.
    pub(super) fn blank(&mut self, style: Style) -> Vec<Item> {
        let (word, style) = (self.fonts.word(" ", style.face), self.store.style(style));
        vec![Item { word, style, space: false, may_break: false, late: None }]
    }

    fn gather(&mut self, inlines: &[Inline], style: Style, brief: bool, into: &mut Gathered) {
        for inline in inlines {
            match inline {
                Inline::Text(text) | Inline::Quoted { text, .. } | Inline::Name { text, .. } => {
                    self.gather_text(text, style, into);
                }
                Inline::Shown(_, text) if text.len() <= SHORT_FACT => self.gather_whole(text, style, into),
                Inline::Shown(_, text) => self.gather_text(text, style, into),
                Inline::Code(text) => self.gather_whole(text, Style { framed: true, ..style }, into),
                Inline::Claim { text, .. } => self.gather(text, style, brief, into),
                Inline::Emph(text) => self.gather(text, Style { face: style.face.italic(), ..style }, brief, into),
                Inline::Strong(text) => self.gather(text, Style { face: style.face.bold(), ..style }, brief, into),
                Inline::Ref { to, text } => self.gather_link(to, text, (style, brief), into),
            }
        }
    }

    /// A link with its page after it. Where the id is not there, it is plain text.
    fn gather_link(&mut self, to: &str, text: &[Inline], (style, brief): (Style, bool), into: &mut Gathered) {
        let (Some(parent), Some(chapter)) = (style.node, self.chapter_of(to)) else {
            return self.gather(text, style, brief, into);
        };
        let node = self.tags.inline(parent, Role::Link);
        let link = self.links.len() as u32;
        self.links.push(Link { to: to.to_owned(), node, says: plain_text(text), brief });
        let linked = Style { tone: Tone::Accent, node: Some(node), link: Some(link), ..style };
        self.gather(text, linked, brief, into);
        into.space = true;
        let widest = if brief { format!("({chapter}-00)") } else { format!("{chapter}-00)") };
        if !brief {
            self.gather_text("(page ", linked, into);
        }
        self.push(&widest, linked, Some(link), into);
    }

    /// A text that is not broken.
    fn gather_whole(&mut self, text: &str, style: Style, into: &mut Gathered) {
        into.space |= text.starts_with(char::is_whitespace);
        let whole: Vec<&str> = text.split_whitespace().collect();
        if !whole.is_empty() {
            self.push(&whole.join(" "), style, None, into);
        }
        into.space |= text.ends_with(char::is_whitespace);
    }

    fn gather_text(&mut self, text: &str, style: Style, into: &mut Gathered) {
        let mut rest = text;
        while let Some(begin) = rest.find(|c: char| !breaks(c)) {
            into.space |= begin > 0;
            let word = &rest[begin..];
            let end = word.find(breaks).unwrap_or(word.len());
            let (word, after) = word.split_at(end);
            self.push_word(word, style, into);
            rest = after;
        }
        into.space |= !rest.is_empty();
    }

    fn push_word(&mut self, word: &str, style: Style, into: &mut Gathered) {
        if into.space && self.stays_with_last(word, style, into) {
            return;
        }
        let mut from = 0;
        for to in self.breaks.within(word).into_iter().chain([word.len()]) {
            self.push(&word[from..to], style, None, into);
            if from > 0 {
                into.items.last_mut().into_iter().for_each(|i| i.may_break = true);
            }
            from = to;
        }
    }

    /// Joins a unit to the number before it, so that no line ends between them.
    fn stays_with_last(&mut self, word: &str, style: Style, into: &mut Gathered) -> bool {
        let Some(last) = into.items.last_mut() else { return false };
        if !is_unit(word) || self.store.styles[last.style as usize] != style || last.late.is_some() {
            return false;
        }
        let before = &self.fonts.shaped(last.word).text;
        if !before.ends_with(|c: char| c.is_ascii_digit()) {
            return false;
        }
        let joined = format!("{before} {word}");
        last.word = self.fonts.word(&joined, style.face);
        into.space = false;
        true
    }

    fn push(&mut self, word: &str, style: Style, late: Option<u32>, into: &mut Gathered) {
        let (word, style) = (self.fonts.word(word, style.face), self.store.style(style));
        let space = std::mem::take(&mut into.space) && !into.items.is_empty();
        into.items.push(Item { word, style, space, may_break: false, late });
    }

    /// A style of running text within a node.
    pub(super) fn style(face: Face, tone: Tone, node: Option<NodeIx>) -> Style {
        Style { face, tone, node, link: None, framed: false }
    }
}

/// White space at which a line may end.
fn breaks(c: char) -> bool {
    c.is_whitespace() && !matches!(c, '\u{a0}' | '\u{202f}')
}

fn is_unit(word: &str) -> bool {
    let bare = word.trim_end_matches([',', '.', ';', ':', ')', '?']);
    bare.len() <= 5 && (bare == "%" || bare == "°C" || bare == "°F" || Unit::find(bare).is_some())
}
