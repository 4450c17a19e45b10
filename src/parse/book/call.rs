//! Calls in chapters: `{{ value(of="battery.capacity") }}`.
//!
//! Each call is found by a small lexer that knows strings, and overwritten with filler of the same length, so that every offset of
//! the chapter stays true. This module knows which calls there are and what they take; it does not know what they give.

use crate::base::text::did_you_mean;
use crate::base::{Diagnostic, Diagnostics, FileId, Span, Spanned};

/// One call, as written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Call {
    /// What is called.
    pub rule: &'static CallRule,
    /// Its arguments, in written order.
    pub arguments: Vec<(Spanned<String>, Spanned<String>)>,
    /// From `{{` to `}}`.
    pub span: Span,
}

impl Call {
    /// The value of an argument.
    pub fn get(&self, name: &str) -> Option<&Spanned<String>> {
        self.arguments.iter().find(|(n, _)| n.value == name).map(|(_, v)| v)
    }
}

/// What can be called.
#[derive(Debug, PartialEq, Eq)]
pub struct CallRule {
    /// Its name.
    pub name: &'static str,
    /// Stands alone in its paragraph and gives blocks.
    pub block: bool,
    /// Arguments that must be there.
    pub required: &'static [&'static str],
    /// Arguments that may be there.
    pub optional: &'static [&'static str],
}

const fn inline(name: &'static str) -> CallRule {
    CallRule { name, block: false, required: &["of"], optional: &[] }
}

const fn block(name: &'static str, required: &'static [&'static str], optional: &'static [&'static str]) -> CallRule {
    CallRule { name, block: true, required, optional }
}

/// Everything that a chapter may call.
pub static CALLS: &[CallRule] = &[
    inline("name"),
    inline("the"),
    inline("The"),
    inline("a"),
    inline("value"),
    inline("aircraft"),
    inline("telling"),
    inline("fed_by"),
    inline("count"),
    inline("tag"),
    block("figure", &["kind"], &["of"]),
    block("plot", &["kind"], &["flight", "opening", "leg", "shed"]),
    block("chains", &["system"], &[]),
    block("items", &["system"], &[]),
    block("failures", &["system"], &[]),
    block("failure", &["of"], &["in"]),
    block("nothing_lost", &[], &[]),
    block("states", &[], &[]),
    block("controls", &[], &[]),
    block("breakers", &[], &[]),
    block("alerts", &[], &[]),
    block("quantities", &[], &[]),
    block("clocks", &["legs"], &[]),
    block("inspections", &[], &[]),
    block("loads", &[], &[]),
    block("circuits", &[], &[]),
    block("battery", &[], &[]),
    block("stages", &["shed"], &[]),
    block("gains", &[], &[]),
    block("drain", &[], &[]),
    block("flight_clocks", &["of"], &[]),
    block("months", &[], &[]),
    block("blocked", &["of", "what"], &["leg", "share"]),
    block("encoder", &["of", "setting"], &[]),
    block("due", &["done"], &["tachometer", "hour_meter", "in_service"]),
    block("tanks", &["rate"], &[]),
    block("reserves", &["rate", "trips"], &[]),
    block("one_tank", &["of", "rate", "times"], &[]),
    block("needles", &["of"], &[]),
    block("suspects", &[], &[]),
    block("walk_round", &[], &[]),
    block("index", &[], &[]),
    block("topics", &[], &[]),
    block("walk", &[], &[]),
    block("changes", &[], &[]),
];

/// A chapter with its calls taken out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Masked {
    /// The text, as long as before, with filler where calls stood.
    pub text: String,
    /// The calls by place. A call that is no good is left out; its place is filled all the same.
    pub calls: Vec<Call>,
    /// Every place that was filled, by place.
    pub filled: Vec<Span>,
}

/// What stands in the place of a call: it is neither space nor punctuation, so that emphasis beside it works as beside a word.
const FILLER: u8 = b'x';

/// Finds the calls of a chapter and puts filler in their places.
///
/// # Errors
/// `call-grammar`, `call-unknown`, `call-argument`, each at the exact characters.
pub fn mask(file: FileId, text: &str, diagnostics: &mut Diagnostics) -> Masked {
    let mut masked = Masked { text: String::new(), calls: Vec::new(), filled: Vec::new() };
    let mut bytes = text.as_bytes().to_vec();
    let mut at = 0;
    while let Some(found) = text[at..].find("{{") {
        let start = at + found;
        let mut lexer = Lexer { text, file, at: start + 2 };
        match lexer.call(start) {
            Ok(written) => masked.calls.extend(check(&written, diagnostics)),
            Err(diagnostic) => {
                diagnostics.push(*diagnostic);
                lexer.skip();
            }
        }
        bytes[start..lexer.at].fill(FILLER);
        masked.filled.push(Span::new(file, start..lexer.at));
        at = lexer.at;
    }
    masked.text = String::from_utf8(bytes).unwrap_or_default();
    masked
}

struct Written {
    name: Spanned<String>,
    arguments: Vec<(Spanned<String>, Spanned<String>)>,
    span: Span,
}

/// Reads one call. It never reads past the end of its line.
struct Lexer<'a> {
    text: &'a str,
    file: FileId,
    at: usize,
}

impl Lexer<'_> {
    fn call(&mut self, start: usize) -> Result<Written, Box<Diagnostic>> {
        let name = self.word("the name of a call")?;
        self.sign('(')?;
        let mut arguments = Vec::new();
        while self.peek() != Some(')') {
            let key = self.word("the name of an argument or `)`")?;
            self.sign('=')?;
            arguments.push((key, self.string()?));
            if self.peek() != Some(')') {
                self.sign(',')?;
            }
        }
        self.sign(')')?;
        self.sign('}')?;
        if !self.text[self.at..].starts_with('}') {
            return Err(self.wrong("`}}`"));
        }
        self.at += 1;
        Ok(Written { name, arguments, span: Span::new(self.file, start..self.at) })
    }

    fn peek(&mut self) -> Option<char> {
        let rest = &self.text[self.at..];
        self.at += rest.len() - rest.trim_start_matches([' ', '\t']).len();
        self.text[self.at..].chars().next()
    }

    fn sign(&mut self, sign: char) -> Result<(), Box<Diagnostic>> {
        if self.peek() == Some(sign) {
            self.at += 1;
            return Ok(());
        }
        let wanted = if sign == '}' { "`}}`".to_owned() } else { format!("`{sign}`") };
        Err(self.wrong(&wanted))
    }

    fn word(&mut self, what: &str) -> Result<Spanned<String>, Box<Diagnostic>> {
        self.peek();
        let rest = &self.text[self.at..];
        let end = rest.find(|c: char| !(c.is_ascii_alphanumeric() || c == '_')).unwrap_or(rest.len());
        if end == 0 {
            return Err(self.wrong(what));
        }
        Ok(self.take(end, 0))
    }

    fn string(&mut self) -> Result<Spanned<String>, Box<Diagnostic>> {
        if self.peek() != Some('"') {
            return Err(self.wrong("a text in `\"`"));
        }
        let rest = &self.text[self.at + 1..];
        match rest.find(['"', '\n']) {
            Some(end) if rest[end..].starts_with('"') => Ok(self.take(end + 2, 1)),
            _ => Err(self.wrong("a text that is closed with `\"` on the same line")),
        }
    }

    /// Takes so many bytes, leaving out `border` of them at each end of the value.
    fn take(&mut self, length: usize, border: usize) -> Spanned<String> {
        let range = self.at + border..self.at + length - border;
        self.at += length;
        Spanned::new(self.text[range.clone()].to_owned(), Span::new(self.file, range))
    }

    fn wrong(&self, wanted: &str) -> Box<Diagnostic> {
        let width = self.text[self.at..].chars().next().filter(|c| *c != '\n').map_or(0, char::len_utf8);
        let span = Span::new(self.file, self.at..self.at + width);
        let diagnostic = Diagnostic::error("call-grammar", span, "this call cannot be read")
            .here(format!("{wanted} is expected here"))
            .help("write a call as `{{ name(of=\"battery\") }}`, on one line");
        Box::new(diagnostic)
    }

    /// Goes to the end of a call that could not be read.
    fn skip(&mut self) {
        let rest = &self.text[self.at..];
        let line = rest.find('\n').unwrap_or(rest.len());
        self.at += rest[..line].find("}}").map_or(line, |i| i + 2);
    }
}

fn check(written: &Written, diagnostics: &mut Diagnostics) -> Option<Call> {
    let name = &written.name;
    let Some(rule) = CALLS.iter().find(|r| r.name == name.value) else {
        let near = did_you_mean(&name.value, CALLS.iter().map(|r| r.name));
        let help = near.map_or_else(list_of_calls, |n| format!("write `{n}`"));
        let message = format!("nothing called `{}` can be called", clip(&name.value));
        diagnostics.push(Diagnostic::error("call-unknown", name.span, message).help(help));
        return None;
    };
    let before = diagnostics.len();
    check_arguments(rule, written, diagnostics);
    let whole = diagnostics.len() == before;
    whole.then(|| Call { rule, arguments: written.arguments.clone(), span: written.span })
}

fn check_arguments(rule: &'static CallRule, written: &Written, diagnostics: &mut Diagnostics) {
    let known = || rule.required.iter().chain(rule.optional).copied();
    for (at, (key, _)) in written.arguments.iter().enumerate() {
        let twice = written.arguments[..at].iter().any(|(k, _)| k.value == key.value);
        if known().all(|k| k != key.value) {
            let near = did_you_mean(&key.value, known()).or_else(|| known().next());
            let help = near.map_or_else(|| format!("write `{}()`", rule.name), |n| format!("write `{n}=`"));
            let message = format!("`{}` takes no argument called `{}`", rule.name, clip(&key.value));
            diagnostics.push(Diagnostic::error("call-argument", key.span, message).help(help));
        } else if twice {
            let message = format!("`{}` is given twice", key.value);
            diagnostics.push(Diagnostic::error("call-argument", key.span, message).help("take one of them out"));
        }
    }
    for missing in rule.required.iter().filter(|r| written.arguments.iter().all(|(k, _)| k.value != **r)) {
        let message = format!("`{}` needs the argument `{missing}`", rule.name);
        let help = format!("write `{{{{ {}({missing}=\"…\") }}}}`", rule.name);
        diagnostics.push(Diagnostic::error("call-argument", written.name.span, message).help(help));
    }
}

fn list_of_calls() -> String {
    let names: Vec<&str> = CALLS.iter().map(|r| r.name).collect();
    format!("call one of {}", names.join(", "))
}

fn clip(text: &str) -> String {
    text.chars().take(40).collect()
}
