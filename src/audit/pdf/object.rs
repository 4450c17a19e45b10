//! Objects as they are written: numbers, names, strings, lists, dictionaries, references.

use std::collections::BTreeMap;

/// Lists and dictionaries nest no deeper.
const DEEPEST: usize = 64;

/// An object.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::audit) enum Value {
    Null,
    Flag(bool),
    Number(f64),
    Name(String),
    Text(Vec<u8>),
    List(Vec<Value>),
    Dict(Dict),
    /// The number of another object.
    Reference(u32),
    /// An operator of a page, or a word such as `endobj`.
    Word(String),
}

/// A dictionary.
pub(in crate::audit) type Dict = BTreeMap<String, Value>;

impl Value {
    pub(super) fn number(&self) -> Option<f64> {
        if let Self::Number(n) = self { Some(*n) } else { None }
    }

    /// A whole number that counts or places something.
    pub(super) fn whole(&self) -> Option<usize> {
        let number = self.number().filter(|n| n.fract() == 0.0 && (0.0..=1e15).contains(n))?;
        #[allow(clippy::cast_sign_loss)] // it is not below zero
        Some(number as usize)
    }

    pub(super) fn name(&self) -> Option<&str> {
        if let Self::Name(n) = self { Some(n) } else { None }
    }

    pub(super) fn dict(&self) -> Option<&Dict> {
        if let Self::Dict(d) = self { Some(d) } else { None }
    }

    pub(super) fn list(&self) -> &[Value] {
        if let Self::List(l) = self { l } else { &[] }
    }

    pub(super) fn reference(&self) -> Option<u32> {
        if let Self::Reference(n) = self { Some(*n) } else { None }
    }
}

/// Reads one object after another.
pub(super) struct Reader<'b> {
    bytes: &'b [u8],
    pub(super) at: usize,
}

impl<'b> Reader<'b> {
    pub(super) fn new(bytes: &'b [u8], at: usize) -> Self {
        Self { bytes, at }
    }

    /// The next object; nothing at the end or where nothing can be read.
    pub(super) fn next(&mut self) -> Option<Value> {
        self.value(0)
    }

    fn peek(&self) -> Option<u8> {
        self.bytes.get(self.at).copied()
    }

    fn take(&mut self) -> Option<u8> {
        let byte = self.peek()?;
        self.at += 1;
        Some(byte)
    }

    /// Passes white space and comments.
    pub(super) fn skip(&mut self) {
        while let Some(byte) = self.peek() {
            match byte {
                b'%' => {
                    while self.peek().is_some_and(|b| b != b'\n' && b != b'\r') {
                        self.at += 1;
                    }
                }
                0 | 9 | 10 | 12 | 13 | 32 => self.at += 1,
                _ => return,
            }
        }
    }

    fn value(&mut self, deep: usize) -> Option<Value> {
        self.skip();
        if deep > DEEPEST {
            return None;
        }
        match self.take()? {
            b'/' => Some(Value::Name(self.rest_of_name())),
            b'(' => self.string(),
            b'[' => self.list(deep),
            b'<' if self.peek() == Some(b'<') => {
                self.at += 1;
                self.dict(deep)
            }
            b'<' => self.hexadecimal(),
            b'+' | b'-' | b'.' | b'0'..=b'9' => {
                self.at -= 1;
                self.number_or_reference()
            }
            first => Some(self.word(first)),
        }
    }

    fn regular(&mut self) -> &'b [u8] {
        let start = self.at;
        while self.peek().is_some_and(|b| !b" \t\r\n\x0c\0()<>[]{}/%".contains(&b)) {
            self.at += 1;
        }
        self.bytes.get(start..self.at).unwrap_or_default()
    }

    fn rest_of_name(&mut self) -> String {
        let raw = self.regular();
        let (mut name, mut at) = (Vec::new(), 0);
        while let Some(byte) = raw.get(at) {
            let code = raw.get(at + 1..at + 3).and_then(|d| std::str::from_utf8(d).ok());
            let code = code.and_then(|d| u8::from_str_radix(d, 16).ok()).filter(|_| *byte == b'#');
            name.push(code.unwrap_or(*byte));
            at += if code.is_some() { 3 } else { 1 };
        }
        String::from_utf8_lossy(&name).into_owned()
    }

    fn word(&mut self, first: u8) -> Value {
        let rest = self.regular();
        let word: Vec<u8> = std::iter::once(first).chain(rest.iter().copied()).collect();
        match word.as_slice() {
            b"true" => Value::Flag(true),
            b"false" => Value::Flag(false),
            b"null" => Value::Null,
            other => Value::Word(String::from_utf8_lossy(other).into_owned()),
        }
    }

    fn number_or_reference(&mut self) -> Option<Value> {
        let text = self.regular();
        let number: f64 = std::str::from_utf8(text).ok()?.parse().ok()?;
        let back = self.at;
        if text.iter().all(u8::is_ascii_digit) {
            self.skip();
            let generation = self.regular();
            if !generation.is_empty() && generation.iter().all(u8::is_ascii_digit) {
                self.skip();
                if self.regular() == b"R" {
                    return Some(Value::Reference(number as u32));
                }
            }
        }
        self.at = back;
        Some(Value::Number(number))
    }

    fn list(&mut self, deep: usize) -> Option<Value> {
        let mut list = Vec::new();
        loop {
            self.skip();
            if self.peek()? == b']' {
                self.at += 1;
                return Some(Value::List(list));
            }
            list.push(self.value(deep + 1)?);
        }
    }

    fn dict(&mut self, deep: usize) -> Option<Value> {
        let mut dict = Dict::new();
        loop {
            self.skip();
            if self.peek()? == b'>' {
                self.at += 2;
                return Some(Value::Dict(dict));
            }
            let key = self.value(deep + 1)?.name()?.to_owned();
            dict.insert(key, self.value(deep + 1)?);
        }
    }

    fn hexadecimal(&mut self) -> Option<Value> {
        let mut digits = Vec::new();
        loop {
            match self.take()? {
                b'>' => break,
                byte => digits.extend(char::from(byte).to_digit(16).map(|d| d as u8)),
            }
        }
        let pair = |p: &[u8]| p.first().map_or(0, |a| a << 4) | p.get(1).copied().unwrap_or(0);
        Some(Value::Text(digits.chunks(2).map(pair).collect()))
    }

    fn string(&mut self) -> Option<Value> {
        let (mut text, mut deep) = (Vec::new(), 1);
        loop {
            match self.take()? {
                b'(' => {
                    deep += 1;
                    text.push(b'(');
                }
                b')' => {
                    deep -= 1;
                    if deep == 0 {
                        return Some(Value::Text(text));
                    }
                    text.push(b')');
                }
                b'\\' => text.extend(self.escaped()?),
                byte => text.push(byte),
            }
        }
    }

    /// What stands after a backslash; nothing of a line end.
    fn escaped(&mut self) -> Option<Option<u8>> {
        Some(match self.take()? {
            b'n' => Some(b'\n'),
            b'r' => Some(b'\r'),
            b't' => Some(b'\t'),
            b'b' => Some(8),
            b'f' => Some(12),
            b'\r' => {
                if self.peek() == Some(b'\n') {
                    self.at += 1;
                }
                None
            }
            b'\n' => None,
            digit @ b'0'..=b'7' => {
                let mut code = u32::from(digit - b'0');
                for _ in 0..2 {
                    let Some(next @ b'0'..=b'7') = self.peek() else { break };
                    code = code * 8 + u32::from(next - b'0');
                    self.at += 1;
                }
                Some(code as u8)
            }
            other => Some(other),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn objects_are_read_as_they_are_written() {
        let text = b"<< /A#20b [1 -.5 (a\\(b\\051\\n) <4A6>] /C 12 0 R /D << >> >> % end\n true";
        let mut reader = Reader::new(text, 0);
        let Some(Value::Dict(dict)) = reader.next() else { panic!() };
        let texts = [Value::Text(b"a(b)\n".to_vec()), Value::Text(vec![0x4a, 0x60])];
        let list = [Value::Number(1.0), Value::Number(-0.5)].into_iter().chain(texts).collect();
        assert_eq!(dict["A b"], Value::List(list));
        assert_eq!((dict["C"].reference(), &dict["D"]), (Some(12), &Value::Dict(Dict::new())));
        assert_eq!((reader.next(), reader.next()), (Some(Value::Flag(true)), None));
    }

    #[test]
    fn broken_objects_end_and_do_not_hang() {
        for broken in ["<<", "<< /A", "[1 2", "(a", "<4a", "<< 1 2 >>", "1.2.3", "/", "\\"] {
            let mut reader = Reader::new(broken.as_bytes(), 0);
            for _ in 0..8 {
                if reader.next().is_none() {
                    break;
                }
            }
        }
        let deep = "[".repeat(100_000);
        assert_eq!(Reader::new(deep.as_bytes(), 0).next(), None);
    }
}
