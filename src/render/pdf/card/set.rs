//! Text in lines of a width: words with their faces, the longest line that fits first.

use crate::doc::Inline;
use crate::render::pdf::fonts::{Face, Fonts};

/// Height of letters and from line to line, pt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Size {
    pub letters: f32,
    pub leading: f32,
}

/// Text of one face at its place in a line.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Stretch {
    pub face: Face,
    /// From the left edge of the cell, pt.
    pub x: f32,
    /// What it says; a line that goes on ends in a space.
    pub text: String,
}

/// A line of what belongs together, as it stands on the paper.
pub(super) type Line = Vec<Stretch>;

/// A run of the tree in lines; the first part, up to its colon, is bold where it is a label.
pub(super) fn set(fonts: &mut Fonts, inlines: &[Inline], face: Face, (size, width): (Size, f32)) -> Vec<Line> {
    let mut setter = Setter { fonts, size: size.letters, width, lines: vec![Line::new()], x: 0.0 };
    for (face, word) in words(inlines, face) {
        setter.word(face, &word);
    }
    setter.lines
}

/// Words with the space after them. A fact is one word.
fn words(inlines: &[Inline], face: Face) -> Vec<(Face, String)> {
    let mut text: Vec<(Face, String)> = Vec::new();
    let labelled = crate::doc::plain_text(inlines).find(": ").unwrap_or(0);
    let mut seen = 0;
    flatten(inlines, &mut |piece, solid| {
        for part in pieces(piece, solid) {
            let bold = if seen <= labelled && labelled > 0 { face.bold() } else { face };
            seen += part.len();
            match text.last_mut() {
                Some((last, word)) if *last == bold && !word.ends_with([' ', '-']) => word.push_str(part),
                _ => text.push((bold, part.to_owned())),
            }
        }
    });
    text.into_iter().map(|(face, word)| (face, word.replace('\u{a0}', " "))).collect()
}

fn flatten(inlines: &[Inline], take: &mut impl FnMut(&str, bool)) {
    for inline in inlines {
        match inline {
            Inline::Shown(_, text) => take(text, true),
            Inline::Text(text) | Inline::Code(text) | Inline::Quoted { text, .. } | Inline::Name { text, .. } => {
                take(text, false)
            }
            Inline::Claim { text, .. } | Inline::Ref { text, .. } | Inline::Emph(text) | Inline::Strong(text) => {
                flatten(text, take);
            }
        }
    }
}

/// A text cut after each space and hyphen, unless it stays together.
fn pieces(text: &str, solid: bool) -> Vec<&str> {
    if solid { vec![text] } else { text.split_inclusive([' ', '-']).collect() }
}

struct Setter<'f> {
    fonts: &'f mut Fonts,
    size: f32,
    width: f32,
    lines: Vec<Line>,
    x: f32,
}

/// Lines that go on are set in by so much, pt.
const INDENT: f32 = 5.0;

impl Setter<'_> {
    fn word(&mut self, face: Face, word: &str) {
        let bare = self.fonts.width(word.trim_end(), face, self.size);
        if self.x + bare > self.width && self.x > INDENT {
            self.next_line();
        }
        if self.x + bare > self.width {
            return self.broken(face, word);
        }
        self.put(face, word);
    }

    /// A word that is wider than a line, letter by letter.
    fn broken(&mut self, face: Face, word: &str) {
        for letter in word.chars() {
            let letter = letter.to_string();
            if self.x + self.fonts.width(&letter, face, self.size) > self.width && self.x > INDENT {
                self.next_line();
            }
            self.put(face, &letter);
        }
    }

    fn next_line(&mut self) {
        self.lines.push(Line::new());
        self.x = INDENT;
    }

    fn put(&mut self, face: Face, text: &str) {
        let wide = self.fonts.width(text, face, self.size);
        let x = self.x;
        self.x += wide;
        let Some(line) = self.lines.last_mut() else { return };
        match line.last_mut() {
            Some(last) if last.face == face => last.text.push_str(text),
            _ => line.push(Stretch { face, x, text: text.to_owned() }),
        }
    }
}
