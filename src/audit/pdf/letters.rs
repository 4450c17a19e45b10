//! Codes of a font to letters, by its map to Unicode.

use super::file::File;
use super::object::{Dict, Reader, Value};
use std::collections::BTreeMap;

/// No range of codes has more.
const LONGEST: u32 = 0x1_0000;

/// The letters of a font: codes of two bytes.
#[derive(Debug, Default)]
pub(super) struct Letters {
    by_code: BTreeMap<u32, String>,
}

impl Letters {
    /// Reads the map of a font.
    ///
    /// # Errors
    /// Where it has none or it cannot be read.
    pub(super) fn of(file: &File<'_>, font: &Dict) -> Result<Self, String> {
        let map = font.get("ToUnicode").and_then(Value::reference).ok_or("a font does not say what its letters are")?;
        let (_, bytes) = file.stream(map)?;
        let mut letters = Self::default();
        let mut reader = Reader::new(&bytes, 0);
        while let Some(value) = reader.next() {
            match value {
                Value::Word(word) if word == "beginbfchar" => letters.characters(&mut reader),
                Value::Word(word) if word == "beginbfrange" => letters.ranges(&mut reader),
                _ => {}
            }
        }
        Ok(letters)
    }

    fn characters(&mut self, reader: &mut Reader<'_>) {
        while let (Some(Value::Text(code)), Some(Value::Text(text))) = (reader.next(), reader.next()) {
            self.by_code.insert(number(&code), utf16(&text));
        }
    }

    fn ranges(&mut self, reader: &mut Reader<'_>) {
        while let (Some(Value::Text(from)), Some(Value::Text(to)), Some(first)) =
            (reader.next(), reader.next(), reader.next())
        {
            let (from, to) = (number(&from), number(&to));
            for code in from..=to.min(from.saturating_add(LONGEST)) {
                let step = code - from;
                let text = match &first {
                    Value::Text(text) => raised(text, step),
                    other => match other.list().get(step as usize) {
                        Some(Value::Text(text)) => utf16(text),
                        _ => continue,
                    },
                };
                self.by_code.insert(code, text);
            }
        }
    }

    /// What a string of codes says.
    ///
    /// # Errors
    /// A code that the font says nothing of.
    pub(super) fn read(&self, codes: &[u8]) -> Result<String, String> {
        let letter = |code: &[u8]| {
            let code = number(code);
            self.by_code.get(&code).ok_or_else(|| format!("the letter with the code {code} is not told"))
        };
        codes.chunks(2).map(|c| letter(c).map(String::as_str)).collect()
    }
}

fn number(bytes: &[u8]) -> u32 {
    bytes.iter().fold(0, |n, b| n.wrapping_shl(8) | u32::from(*b))
}

fn utf16(bytes: &[u8]) -> String {
    let units: Vec<u16> = bytes.chunks(2).map(|p| number(p) as u16).collect();
    String::from_utf16_lossy(&units)
}

/// A text whose last unit is so many further on.
fn raised(text: &[u8], by: u32) -> String {
    let mut units: Vec<u16> = text.chunks(2).map(|p| number(p) as u16).collect();
    if let Some(last) = units.last_mut() {
        *last = last.wrapping_add(by as u16);
    }
    String::from_utf16_lossy(&units)
}

/// A text of the file: UTF-16 with its mark, else one byte a letter.
pub(super) fn text(bytes: &[u8]) -> String {
    match bytes.strip_prefix(&[0xfe, 0xff]) {
        Some(rest) => utf16(rest),
        None => bytes.iter().map(|b| char::from(*b)).collect(),
    }
}
