//! The chapters of the canonical text: which tables they call for.

/// One chapter as its author wrote it.
#[derive(Debug, Default)]
pub(super) struct Chapter {
    /// From its file name: `03-electrical.md` is `electrical`.
    pub(super) id: String,
    pub(super) calls: Vec<Call>,
    /// Headings that name topics of the examination.
    pub(super) taught: Vec<Taught>,
}

/// `## Buses {#buses teaches=PA.I.G.K1f}`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Taught {
    pub(super) code: String,
    /// Id of the heading, or of the chapter where it is its title.
    pub(super) to: String,
    /// It says why the guide has nothing of the topic.
    pub(super) left_out: bool,
}

/// `{{ failures(system="electrical") }}`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Call {
    pub(super) name: String,
    /// Of a drawing, which one.
    pub(super) kind: Option<String>,
    /// The argument: of a system, of a thing; nothing where there is none.
    pub(super) of: String,
    /// Every argument by its name.
    arguments: Vec<(String, String)>,
    /// The state that it asks in, where it names one.
    pub(super) state: Option<String>,
}

/// The model part and the chapters of a canonical text.
pub(super) fn parts(canonical: &str) -> (&str, Vec<(&str, &str)>) {
    const MARK: &str = "+++ chapter ";
    let marks: Vec<usize> = canonical
        .match_indices(MARK)
        .map(|(at, _)| at)
        .filter(|at| *at == 0 || canonical[..*at].ends_with('\n'))
        .collect();
    let model = &canonical[..marks.first().copied().unwrap_or(canonical.len())];
    let mut chapters = Vec::new();
    for (index, at) in marks.iter().enumerate() {
        let end = marks.get(index + 1).copied().unwrap_or(canonical.len());
        let (head, body) = canonical[*at..end].split_once('\n').unwrap_or((&canonical[*at..end], ""));
        let file = head.trim_start_matches(MARK).trim_end_matches(" +++");
        chapters.push((file, body));
    }
    (model, chapters)
}

impl Chapter {
    /// Reads a chapter; `has` says whether the aircraft has a thing. Nothing of a chapter that the aircraft has no use for.
    pub(super) fn read(file: &str, body: &str, has: &dyn Fn(&str) -> bool) -> Option<Self> {
        let stem = file.strip_suffix(".md").unwrap_or(file);
        let id = stem.trim_start_matches(|c: char| c.is_ascii_digit()).trim_start_matches('-');
        let mut chapter = Self { id: id.to_owned(), calls: Vec::new(), taught: Vec::new() };
        let mut dropped: Option<usize> = None;
        let mut fenced = false;
        for line in body.lines() {
            fenced ^= line.trim_start().starts_with("```");
            let level = line.chars().take_while(|c| *c == '#').count();
            if !fenced && (1..=6).contains(&level) && line[level..].starts_with(' ') {
                if dropped.is_some_and(|from| level <= from) {
                    dropped = None;
                }
                let missing = wanted(line).is_some_and(|id| !has(id));
                if missing && level == 1 {
                    return None;
                }
                dropped = dropped.or(missing.then_some(level));
                if dropped.is_none() {
                    chapter.taught.extend(taught(line, (level == 1).then_some(id)));
                }
            }
            if dropped.is_none() && !fenced {
                chapter.calls.extend(calls(line));
            }
        }
        Some(chapter)
    }
}

/// `## ADF {#adf has=adf}` → `adf`.
fn wanted(heading: &str) -> Option<&str> {
    let (_, attributes) = heading.rsplit_once('{')?;
    attributes.trim_end().trim_end_matches('}').split_whitespace().find_map(|word| word.strip_prefix("has="))
}

/// The topics that a heading names; `title` is the id of its chapter where it is the title.
fn taught(heading: &str, title: Option<&str>) -> Vec<Taught> {
    let Some((_, attributes)) = heading.rsplit_once('{') else { return Vec::new() };
    let words: Vec<&str> = attributes.trim_end().trim_end_matches('}').split_whitespace().collect();
    let own = words.iter().find_map(|word| word.strip_prefix('#'));
    let Some(to) = title.or(own) else { return Vec::new() };
    let mut found = Vec::new();
    for (key, left_out) in [("teaches=", false), ("leaves-out=", true)] {
        let codes = words.iter().filter_map(|word| word.strip_prefix(key)).flat_map(|list| list.split(','));
        found.extend(codes.map(|c| Taught { code: c.trim_matches('"').to_owned(), to: to.to_owned(), left_out }));
    }
    found
}

/// Block calls of a line.
fn calls(line: &str) -> Vec<Call> {
    let inside = line.trim().strip_prefix("{{").and_then(|rest| rest.strip_suffix("}}"));
    let Some((name, arguments)) = inside.and_then(|call| call.trim().trim_end_matches(')').split_once('(')) else {
        return Vec::new();
    };
    let of = ["system", "of", "shed"].into_iter().find_map(|key| value(arguments, key)).unwrap_or_default();
    let arguments_by_name = [
        "what",
        "leg",
        "share",
        "setting",
        "rate",
        "trips",
        "times",
        "done",
        "legs",
        "tachometer",
        "hour_meter",
        "in_service",
    ]
    .into_iter();
    let known = arguments_by_name.filter_map(|key| Some((key.to_owned(), value(arguments, key)?))).collect();
    let (kind, state) = (value(arguments, "kind"), value(arguments, "in"));
    vec![Call { name: name.trim().to_owned(), kind, of, arguments: known, state }]
}

impl Call {
    /// An argument by its name.
    pub(super) fn get(&self, key: &str) -> Option<&str> {
        self.arguments.iter().find(|(name, _)| name == key).map(|(_, value)| value.as_str())
    }
}

/// The value of a key in `of="vacuum-pump", in = "cruise"`.
fn value(arguments: &str, wanted: &str) -> Option<String> {
    let mut pieces = arguments.split('"');
    while let (Some(key), Some(value)) = (pieces.next(), pieces.next()) {
        if key.trim_matches(|c: char| c.is_whitespace() || c == ',' || c == '=') == wanted {
            return Some(value.to_owned());
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_section_that_the_aircraft_has_no_use_for_calls_for_nothing() {
        let body = "# T\n{{ states() }}\n## A {#a has=adf}\n{{ alerts() }}\n### B\n{{ walk() }}\n## C\n{{ items(system=\"x\") }}\n";
        let names = |has: bool| -> Vec<String> {
            let chapter = Chapter::read("03-the-states.md", body, &|_| has).unwrap_or_default();
            chapter.calls.iter().map(|c| format!("{}:{}:{}", chapter.id, c.name, c.of)).collect()
        };
        assert_eq!(names(false), ["the-states:states:", "the-states:items:x"]);
        assert_eq!(names(true).len(), 4);
    }

    #[test]
    fn headings_name_topics_with_commas_between() {
        let body = "# T {teaches=K1}\n## A {#a has=adf teaches=K2,K3}\n## B {#b leaves-out=K4}\n## C {teaches=K5}\n";
        let named = |has: bool| -> Vec<String> {
            let chapter = Chapter::read("03-t.md", body, &|_| has).unwrap_or_default();
            chapter.taught.iter().map(|t| format!("{} {} {}", t.to, t.code, t.left_out)).collect()
        };
        assert_eq!(named(false), ["t K1 false", "b K4 true"]);
        assert_eq!(named(true), ["t K1 false", "a K2 false", "a K3 false", "b K4 true"]);
    }

    #[test]
    fn a_call_may_name_the_state_that_it_asks_in() {
        let called = |line: &str| calls(line).into_iter().map(|c| (c.of, c.state)).collect::<Vec<_>>();
        let pump = || "pump".to_owned();
        assert_eq!(called("{{ failure(of=\"pump\") }}"), [(pump(), None)]);
        assert_eq!(called("{{ failure( in = \"cruise\" , of = \"pump\" ) }}"), [(pump(), Some("cruise".to_owned()))]);
    }

    #[test]
    fn the_model_ends_where_the_first_chapter_begins() {
        let (model, chapters) = parts("a = 1\n+++ chapter x.md +++\nb\n+++ chapter y.md +++\n");
        assert_eq!((model, chapters), ("a = 1\n", vec![("x.md", "b\n"), ("y.md", "")]));
    }
}
