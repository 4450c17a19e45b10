//! What is drawn on a page, as text: each piece of marked content, and everything in order.

use super::file::File;
use super::letters::{Letters, text};
use super::object::{Dict, Reader, Value};
use std::collections::BTreeMap;

/// Forms nest no deeper.
const DEEPEST: usize = 8;

/// The text of a page.
#[derive(Debug, Default)]
pub(super) struct Marked {
    /// By the number of its marked content.
    pub(super) texts: BTreeMap<i64, String>,
    /// In the order in which it is drawn.
    pub(super) lines: Vec<String>,
}

/// Reads a page.
///
/// # Errors
/// What cannot be read.
pub(super) fn read(file: &File<'_>, page: u32) -> Result<Marked, String> {
    let page = file.resolved(&Value::Reference(page));
    let page = page.dict().ok_or("a page is missing")?;
    let Some(contents) = page.get("Contents") else { return Ok(Marked::default()) };
    let streams: Vec<u32> = match contents {
        Value::Reference(number) => vec![*number],
        other => other.list().iter().filter_map(Value::reference).collect(),
    };
    let mut bytes = Vec::new();
    for stream in streams {
        bytes.extend(file.stream(stream)?.1);
        bytes.push(b'\n');
    }
    let mut scribe = Scribe { file, marks: Vec::new(), done: Marked::default(), fonts: BTreeMap::new() };
    scribe.run(&bytes, &file.inner(page, "Resources").unwrap_or_default(), 0)?;
    Ok(scribe.done)
}

/// A piece of marked content that is open.
struct Mark {
    number: Option<i64>,
    /// What it says instead of its letters.
    instead: Option<String>,
    said: String,
}

struct Scribe<'f, 'b> {
    file: &'f File<'b>,
    marks: Vec<Mark>,
    done: Marked,
    /// Letters of fonts, by the number of their object.
    fonts: BTreeMap<u32, Letters>,
}

impl Scribe<'_, '_> {
    fn run(&mut self, bytes: &[u8], resources: &Dict, deep: usize) -> Result<(), String> {
        let mut reader = Reader::new(bytes, 0);
        let (mut operands, mut font): (Vec<Value>, Option<u32>) = (Vec::new(), None);
        while let Some(value) = reader.next() {
            let Value::Word(operator) = value else {
                operands.push(value);
                continue;
            };
            match operator.as_str() {
                "Tf" => font = Some(self.font(resources, &operands)?),
                "Tj" | "TJ" => self.show(font, &operands)?,
                "BDC" => self.open(operands.get(1), resources),
                "BMC" => self.open(None, resources),
                "EMC" => self.close(),
                "Do" => self.form(resources, &operands, deep)?,
                "'" | "\"" => return Err("text is shown in a way that is not read".to_owned()),
                _ => {}
            }
            operands.clear();
        }
        Ok(())
    }

    fn font(&mut self, resources: &Dict, operands: &[Value]) -> Result<u32, String> {
        let name = operands.first().and_then(Value::name).unwrap_or_default();
        let fonts = self.file.inner(resources, "Font").unwrap_or_default();
        let number = fonts.get(name).and_then(Value::reference).ok_or_else(|| format!("there is no font {name}"))?;
        if !self.fonts.contains_key(&number) {
            let font = self.file.resolved(&Value::Reference(number));
            let letters = Letters::of(self.file, font.dict().ok_or_else(|| format!("there is no font {name}"))?)?;
            self.fonts.insert(number, letters);
        }
        Ok(number)
    }

    fn show(&mut self, font: Option<u32>, operands: &[Value]) -> Result<(), String> {
        let letters = font.and_then(|f| self.fonts.get(&f)).ok_or("text is shown without a font")?;
        let pieces =
            operands.first().map_or(&[][..], |o| if o.list().is_empty() { std::slice::from_ref(o) } else { o.list() });
        let mut said = String::new();
        for piece in pieces {
            if let Value::Text(codes) = piece {
                said.push_str(&letters.read(codes)?);
            }
        }
        match self.marks.last_mut() {
            Some(mark) => mark.said.push_str(&said),
            None => self.done.lines.push(said),
        }
        Ok(())
    }

    fn open(&mut self, properties: Option<&Value>, resources: &Dict) {
        let named = |name: &str| self.file.inner(&self.file.inner(resources, "Properties")?, name);
        let properties = match properties {
            Some(Value::Dict(dict)) => Some(dict.clone()),
            Some(Value::Name(name)) => named(name),
            _ => None,
        };
        let get = |key: &str| properties.as_ref().and_then(|p| self.file.get(p, key));
        let number = get("MCID").and_then(|v| v.number()).map(|n| n as i64);
        let instead = if let Some(Value::Text(bytes)) = get("ActualText") { Some(text(&bytes)) } else { None };
        self.marks.push(Mark { number, instead, said: String::new() });
    }

    fn close(&mut self) {
        let Some(mark) = self.marks.pop() else { return };
        let said = mark.instead.unwrap_or(mark.said);
        if let Some(number) = mark.number {
            self.done.texts.entry(number).or_default().push_str(&said);
        }
        match self.marks.last_mut() {
            Some(outer) => outer.said.push_str(&said),
            None if !said.trim().is_empty() => self.done.lines.push(said),
            None => {}
        }
    }

    fn form(&mut self, resources: &Dict, operands: &[Value], deep: usize) -> Result<(), String> {
        let name = operands.first().and_then(Value::name).unwrap_or_default();
        let forms = self.file.inner(resources, "XObject").unwrap_or_default();
        let number = forms.get(name).and_then(Value::reference).ok_or_else(|| format!("there is no form {name}"))?;
        let (dict, bytes) = self.file.stream(number)?;
        if deep < DEEPEST && dict.get("Subtype").and_then(Value::name) == Some("Form") {
            self.run(&bytes, &self.file.inner(&dict, "Resources").unwrap_or_default(), deep + 1)?;
        }
        Ok(())
    }
}
