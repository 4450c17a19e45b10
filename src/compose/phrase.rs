//! Phrases: the sentences of the guide, from `templates/phrases.toml`.
//!
//! A phrase is rendered with marks around what is typed (names, facts, sentences of the author), and is split at the marks into typed
//! inlines again; so no name and no number ever becomes a bare string. The marks are characters of the private use area, which are
//! taken out of everything that comes from a model.

use crate::doc::{Inline, Inlines};
use std::collections::BTreeMap;
use std::sync::OnceLock;
use tera::value::Key;
use tera::{Context, Kwargs, State, Tera, TeraResult, Value};

/// The text of `templates/phrases.toml`.
pub const PHRASES: &str = include_str!("../../templates/phrases.toml");

const NAME: char = '\u{E000}';
const MIDDLE: char = '\u{E001}';
const END: char = '\u{E002}';
const PIECE: char = '\u{E003}';

/// A noun as a phrase wants it: each form is a text with marks.
#[derive(Debug, Clone)]
pub struct NounPhrase {
    /// Id of what it names.
    pub id: String,
    /// Its name without article.
    pub name: String,
    /// With the definite article, where it takes one.
    pub the: String,
    /// With the indefinite article, where it takes one.
    pub a: String,
    /// It is a plural.
    pub plural: bool,
    value: Value,
}

impl NounPhrase {
    /// A noun phrase; `the` and `a` are whole texts with their articles.
    pub fn new(id: impl Into<String>, name: &str, the: &str, a: &str, plural: bool) -> Self {
        let id = id.into();
        let (name, the, a) = (unmarked(name), unmarked(the), unmarked(a));
        let value = forms(&id, [&name, &the, &a], plural);
        Self { id, name, the, a, plural, value }
    }

    /// The name as an inline, as it stands in running text.
    pub fn inline(&self) -> Inline {
        Inline::name(&self.id, &self.name)
    }
}

/// What a phrase is given.
#[derive(Debug, Clone)]
pub enum Argument<'a> {
    /// A noun.
    Noun(&'a NounPhrase),
    /// Several nouns.
    Nouns(Vec<&'a NounPhrase>),
    /// Inlines that are ready.
    Part(Inlines),
    /// Yes or no.
    Flag(bool),
}

impl<'a> From<&'a NounPhrase> for Argument<'a> {
    fn from(noun: &'a NounPhrase) -> Self {
        Self::Noun(noun)
    }
}

impl<'a> From<Vec<&'a NounPhrase>> for Argument<'a> {
    fn from(nouns: Vec<&'a NounPhrase>) -> Self {
        Self::Nouns(nouns)
    }
}

impl From<Inlines> for Argument<'_> {
    fn from(part: Inlines) -> Self {
        Self::Part(part)
    }
}

impl From<Inline> for Argument<'_> {
    fn from(part: Inline) -> Self {
        Self::Part(vec![part])
    }
}

impl From<bool> for Argument<'_> {
    fn from(flag: bool) -> Self {
        Self::Flag(flag)
    }
}

/// Renders a phrase.
///
/// # Panics
/// When there is no phrase of that id, or it asks for an argument that it is not given: a mistake of ours, which a test of every
/// phrase would find.
pub fn say(id: &str, arguments: &[(&'static str, Argument<'_>)]) -> Inlines {
    let mut context = Context::new();
    let mut pieces: Vec<&Inlines> = Vec::new();
    for (name, argument) in arguments {
        let value = match argument {
            Argument::Noun(noun) => noun.value.clone(),
            Argument::Nouns(nouns) => Value::from(nouns.iter().map(|n| n.value.clone()).collect::<Vec<Value>>()),
            Argument::Flag(flag) => Value::from(*flag),
            Argument::Part(part) if part.is_empty() => Value::from(""),
            Argument::Part(part) => {
                pieces.push(part);
                Value::from(format!("{PIECE}{}{END}", pieces.len() - 1))
            }
        };
        context.insert_value(*name, value);
    }
    match templates().render(id, &context) {
        Ok(text) => split(&text, &pieces),
        Err(error) => unreachable!("the phrase `{id}` cannot be said: {error}"),
    }
}

/// Ids of all phrases with the arguments that each names, sorted.
pub fn all() -> Vec<(String, Vec<String>)> {
    let mut ids: Vec<String> = templates().get_template_names().map(str::to_owned).collect();
    ids.sort();
    let variables = |id: &str| {
        let found = templates().get_template_variables(id).unwrap_or_default();
        let sorted: std::collections::BTreeSet<String> = found.into_iter().map(str::to_owned).collect();
        sorted.into_iter().collect()
    };
    ids.into_iter().map(|id| (id.clone(), variables(&id))).collect()
}

fn templates() -> &'static Tera {
    static TEMPLATES: OnceLock<Tera> = OnceLock::new();
    TEMPLATES.get_or_init(|| {
        let mut tera = Tera::new();
        tera.register_filter("list", list);
        let texts: BTreeMap<String, String> = match toml::from_str(PHRASES) {
            Ok(texts) => texts,
            Err(error) => unreachable!("the phrases cannot be read: {error}"),
        };
        if let Err(error) = tera.add_raw_templates(texts) {
            unreachable!("the phrases cannot be read: {error}");
        }
        tera
    })
}

/// `a, b and c`; with `,` for the last word, `a, b, c`; `nothing` for none.
#[allow(clippy::needless_pass_by_value)] // the signature of a filter
fn list(items: &[Value], kwargs: Kwargs, _: &State<'_>) -> TeraResult<String> {
    let form: &str = kwargs.must_get("form")?;
    let last: &str = kwargs.must_get("with")?;
    let key = if form == "the" { Key::from("the") } else { Key::from("name") };
    let spoken: Vec<&str> = items.iter().filter_map(|i| i.as_map()?.get(&key)?.as_str()).collect();
    if spoken.is_empty() {
        return Ok("nothing".to_owned());
    }
    Ok(if last == "," { spoken.join(", ") } else { crate::base::text::join_list(&spoken, last) })
}

fn forms(id: &str, [name, the, a]: [&str; 3], plural: bool) -> Value {
    let marked = |text: &str| Value::from(format!("{NAME}{id}{MIDDLE}{text}{END}"));
    let capital = |text: &str| marked(&crate::base::text::capitalise(text));
    let number = |one: &'static str, many: &'static str| Value::from(if plural { many } else { one });
    let forms: BTreeMap<&'static str, Value> = BTreeMap::from([
        ("name", marked(name)),
        ("Name", capital(name)),
        ("the", marked(the)),
        ("The", capital(the)),
        ("a", marked(a)),
        ("A", capital(a)),
        ("It", number("It", "They")),
        ("is", number("is", "are")),
        ("has", number("has", "have")),
        ("does", number("does", "do")),
        ("their", number("its", "their")),
        ("plural", Value::from(plural)),
    ]);
    Value::from(forms)
}

/// Takes the characters out that serve as marks.
fn unmarked(text: &str) -> String {
    text.chars().filter(|c| !('\u{E000}'..='\u{E00F}').contains(c)).collect()
}

fn split(text: &str, pieces: &[&Inlines]) -> Inlines {
    let mut inlines = Inlines::new();
    let mut rest = text;
    while let Some(at) = rest.find([NAME, PIECE]) {
        push_text(&mut inlines, &rest[..at]);
        let mark = &rest[at..];
        let body = mark.trim_start_matches([NAME, PIECE]);
        let (body, after) = body.split_once(END).unwrap_or((body, ""));
        match body.split_once(MIDDLE) {
            Some((id, name)) => inlines.push(Inline::name(id, name)),
            None => inlines
                .extend(body.parse().ok().and_then(|n: usize| pieces.get(n)).into_iter().copied().flatten().cloned()),
        }
        rest = after;
    }
    push_text(&mut inlines, rest);
    inlines
}

fn push_text(inlines: &mut Inlines, text: &str) {
    if !text.is_empty() {
        inlines.push(Inline::text(text));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::doc::plain_text;

    #[test]
    fn name_in_a_phrase_stays_a_name() {
        let pump = NounPhrase::new("vacuum-pump", "vacuum pump", "the vacuum pump", "a vacuum pump", false);
        let said = say("clause", &[("thing", (&pump).into()), ("part", Inline::text("fails").into())]);
        assert_eq!(said[0], Inline::name("vacuum-pump", "the vacuum pump"));
        assert_eq!(plain_text(&said), "the vacuum pump fails");
    }

    #[test]
    fn marks_in_a_name_are_taken_out() {
        let odd = NounPhrase::new("odd", "odd\u{E000}\u{E002} thing", "the odd thing", "an odd thing", false);
        assert_eq!(say("item-line", &[("thing", (&odd).into())]), vec![Inline::name("odd", "Odd thing")]);
    }
}
