//! The structure of a file: what a page reader follows.

use super::file::File;
use super::object::{Dict, Value};

/// Elements nest no deeper.
const DEEPEST: usize = 64;

/// An element: a heading, a table, a cell.
#[derive(Debug, Clone, Default, PartialEq)]
pub(in crate::audit) struct Element {
    /// `H1`, `P`, `Table`, `TR`, `TD`.
    pub(in crate::audit) role: String,
    /// What it holds, in reading order.
    pub(in crate::audit) inside: Vec<Inside>,
}

/// What is in an element.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::audit) enum Inside {
    Element(Element),
    Text(String),
}

impl Element {
    /// Every element of a role below this one, none inside another.
    pub(in crate::audit) fn all<'e>(&'e self, role: &str) -> Vec<&'e Element> {
        let mut found = Vec::new();
        for element in self.elements() {
            if element.role == role { found.push(element) } else { found.extend(element.all(role)) }
        }
        found
    }

    /// The elements in it.
    pub(in crate::audit) fn elements(&self) -> impl Iterator<Item = &Element> {
        self.inside.iter().filter_map(|i| if let Inside::Element(e) = i { Some(e) } else { None })
    }

    /// All that it says.
    pub(in crate::audit) fn text(&self) -> String {
        let says = |inside: &Inside| match inside {
            Inside::Element(element) => element.text(),
            Inside::Text(text) => text.clone(),
        };
        self.inside.iter().map(says).collect()
    }

    /// Its lines: each paragraph in it, or all of it.
    pub(in crate::audit) fn lines(&self) -> Vec<String> {
        let paragraphs = self.all("P");
        let texts =
            if paragraphs.is_empty() { vec![self.text()] } else { paragraphs.iter().map(|p| p.text()).collect() };
        texts.iter().map(|t| t.trim().to_owned()).filter(|t| !t.is_empty()).collect()
    }
}

/// Finds the text of marked content on a page.
type Find<'f> = dyn Fn(u32, i64) -> Option<String> + 'f;

/// Reads the tree.
///
/// # Errors
/// Where there is none, or it leads to something that is not there.
pub(super) fn read(file: &File<'_>, find: &Find<'_>) -> Result<Element, String> {
    let root = file.inner(&file.root()?, "StructTreeRoot").ok_or("it has no structure")?;
    let mut inside = Vec::new();
    let kids = root.get("K").cloned().unwrap_or(Value::Null);
    Walk { file, find }.kids(&kids, (None, 0), &mut inside)?;
    Ok(Element { role: "Root".to_owned(), inside })
}

struct Walk<'w, 'b> {
    file: &'w File<'b>,
    find: &'w Find<'w>,
}

impl Walk<'_, '_> {
    fn kids(&self, kids: &Value, (page, deep): (Option<u32>, usize), into: &mut Vec<Inside>) -> Result<(), String> {
        if deep > DEEPEST {
            return Err("its structure nests too deep".to_owned());
        }
        match kids {
            Value::List(list) => list.iter().try_for_each(|kid| self.kids(kid, (page, deep), into)),
            Value::Number(mark) => self.text(page, *mark as i64, into),
            Value::Dict(dict) => self.dict(dict, (page, deep), into),
            Value::Reference(_) => match self.file.resolved(kids) {
                Value::Dict(dict) => self.dict(&dict, (page, deep), into),
                list @ Value::List(_) => self.kids(&list, (page, deep + 1), into),
                _ => Err("its structure leads to something that is not there".to_owned()),
            },
            _ => Ok(()),
        }
    }

    fn dict(&self, dict: &Dict, (page, deep): (Option<u32>, usize), into: &mut Vec<Inside>) -> Result<(), String> {
        let page = dict.get("Pg").and_then(Value::reference).or(page);
        if let Some(mark) = self.file.get(dict, "MCID").and_then(|v| v.number()) {
            return self.text(page, mark as i64, into);
        }
        let Some(role) = dict.get("S").and_then(Value::name) else { return Ok(()) };
        let mut inside = Vec::new();
        if let Some(kids) = dict.get("K") {
            self.kids(kids, (page, deep + 1), &mut inside)?;
        }
        into.push(Inside::Element(Element { role: role.to_owned(), inside }));
        Ok(())
    }

    fn text(&self, page: Option<u32>, mark: i64, into: &mut Vec<Inside>) -> Result<(), String> {
        let text = page.and_then(|page| (self.find)(page, mark));
        into.push(Inside::Text(text.ok_or("its structure leads to text that is not there")?));
        Ok(())
    }
}
