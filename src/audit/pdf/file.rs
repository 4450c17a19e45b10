//! The file: where its objects stand, its pages, what is attached.

use super::object::{Dict, Reader, Value};
use std::collections::{BTreeMap, BTreeSet};

/// The most that one stream is unpacked to.
const LARGEST: usize = 64 << 20;
/// Trees of pages and references nest no deeper.
const DEEPEST: usize = 64;

/// A file.
pub(in crate::audit) struct File<'b> {
    bytes: &'b [u8],
    /// Where each object begins.
    places: BTreeMap<u32, usize>,
    /// Objects that stand together in streams.
    together: BTreeMap<u32, Value>,
    trailer: Dict,
}

impl<'b> File<'b> {
    /// Finds the objects by the table of their places, a plain one or one that is a stream.
    ///
    /// # Errors
    /// Where there is none that can be read.
    pub(in crate::audit) fn read(bytes: &'b [u8]) -> Result<Self, String> {
        if !bytes.starts_with(b"%PDF-1.") {
            return Err("it does not begin as a PDF file".to_owned());
        }
        let tail = bytes.len().saturating_sub(1024);
        let last = find_last(bytes.get(tail..).unwrap_or_default(), b"startxref");
        let at = last.map(|at| tail + at + b"startxref".len()).ok_or("it has no `startxref`")?;
        let table = Reader::new(bytes, at).next().and_then(|v| v.whole()).ok_or("`startxref` has no number")?;
        let (places, together) = (BTreeMap::new(), BTreeMap::new());
        let mut file = Self { bytes, places, together, trailer: Dict::new() };
        let mut reader = Reader::new(bytes, table);
        match reader.next() {
            Some(Value::Word(word)) if word == "xref" => file.read_table(&mut reader)?,
            Some(number) => {
                let number = number.whole().ok_or("it has no table of objects")? as u32;
                file.places.insert(number, table);
                file.read_packed_table(number)?;
            }
            None => return Err("it has no table of objects".to_owned()),
        }
        Ok(file)
    }

    /// A table that is a stream, then the streams in which objects stand together.
    fn read_packed_table(&mut self, number: u32) -> Result<(), String> {
        let broken = || "its table of objects cannot be read".to_owned();
        let (dict, rows) = self.stream(number)?;
        let widths: Vec<usize> = dict.get("W").map_or(&[][..], Value::list).iter().filter_map(Value::whole).collect();
        let [kind, value, _] = widths[..] else { return Err(broken()) };
        let wide: usize = widths.iter().sum();
        if wide == 0 || wide > 16 || dict.contains_key("Index") {
            return Err(broken());
        }
        let field = |row: &[u8], from: usize, wide: usize| {
            row.get(from..from + wide).map_or(0, |b| b.iter().fold(0_usize, |n, b| n << 8 | usize::from(*b)))
        };
        let mut streams = BTreeSet::new();
        for (at, row) in rows.chunks_exact(wide).enumerate() {
            match field(row, 0, kind) {
                0 => {}
                1 => drop(self.places.insert(at as u32, field(row, kind, value))),
                2 => drop(streams.insert(field(row, kind, value) as u32)),
                _ => return Err(broken()),
            }
        }
        self.trailer = dict;
        streams.into_iter().try_for_each(|stream| self.read_together(stream))
    }

    fn read_together(&mut self, stream: u32) -> Result<(), String> {
        let broken = || format!("the objects of stream {stream} cannot be read");
        let (dict, bytes) = self.stream(stream)?;
        let number = |key: &str| dict.get(key).and_then(Value::whole).ok_or_else(broken);
        let (count, first) = (number("N")?, number("First")?);
        let mut index = Reader::new(&bytes, 0);
        for _ in 0..count.min(bytes.len()) {
            let (object, at) = (index.next(), index.next());
            let (object, at) = object.and_then(|o| o.whole()).zip(at.and_then(|a| a.whole())).ok_or_else(broken)?;
            let value = Reader::new(&bytes, first.saturating_add(at)).next().ok_or_else(broken)?;
            self.together.insert(object as u32, value);
        }
        Ok(())
    }

    fn read_table(&mut self, reader: &mut Reader<'_>) -> Result<(), String> {
        loop {
            match reader.next() {
                Some(Value::Word(word)) if word == "trailer" => {
                    let trailer = reader.next();
                    self.trailer = trailer.as_ref().and_then(Value::dict).cloned().ok_or("it has no trailer")?;
                    return Ok(());
                }
                Some(Value::Number(first)) => {
                    let count = reader.next().and_then(|v| v.number()).ok_or("its table of objects breaks off")?;
                    self.read_section(reader, (first as u32, count as u32))?;
                }
                _ => return Err("its table of objects breaks off".to_owned()),
            }
        }
    }

    fn read_section(&mut self, reader: &mut Reader<'_>, (first, count): (u32, u32)) -> Result<(), String> {
        for number in first..first.saturating_add(count) {
            let (place, _, kind) = (reader.next(), reader.next(), reader.next());
            let place = place.and_then(|p| p.number()).ok_or("its table of objects breaks off")?;
            if kind == Some(Value::Word("n".to_owned())) {
                self.places.insert(number, place as usize);
            }
        }
        Ok(())
    }

    /// An object, and where what comes after it begins.
    fn object(&self, number: u32) -> Option<(Value, usize)> {
        if let Some(value) = self.together.get(&number) {
            return Some((value.clone(), self.bytes.len()));
        }
        let mut reader = Reader::new(self.bytes, *self.places.get(&number)?);
        let heads = (reader.next()?.number()?, reader.next()?, reader.next()?);
        (heads.0 as u32 == number && heads.2 == Value::Word("obj".to_owned())).then_some(())?;
        let value = reader.next()?;
        Some((value, reader.at))
    }

    /// A value, or the object that it refers to.
    pub(super) fn resolved(&self, value: &Value) -> Value {
        let mut value = value.clone();
        for _ in 0..DEEPEST {
            let Value::Reference(number) = value else { return value };
            value = self.object(number).map_or(Value::Null, |(v, _)| v);
        }
        Value::Null
    }

    /// An entry of a dictionary, or the object that it refers to.
    pub(super) fn get(&self, dict: &Dict, key: &str) -> Option<Value> {
        dict.get(key).map(|v| self.resolved(v)).filter(|v| *v != Value::Null)
    }

    /// An entry that is a dictionary.
    pub(super) fn inner(&self, dict: &Dict, key: &str) -> Option<Dict> {
        self.get(dict, key).and_then(|v| v.dict().cloned())
    }

    /// The dictionary of a stream and its bytes, unpacked.
    ///
    /// # Errors
    /// Where it is no stream or packed in a way that is not known.
    pub(super) fn stream(&self, number: u32) -> Result<(Dict, Vec<u8>), String> {
        let broken = || format!("object {number} is no stream that can be read");
        let (value, after) = self.object(number).ok_or_else(broken)?;
        let dict = value.dict().cloned().ok_or_else(broken)?;
        let mut reader = Reader::new(self.bytes, after);
        if reader.next() != Some(Value::Word("stream".to_owned())) {
            return Err(broken());
        }
        let rest = self.bytes.get(reader.at..).unwrap_or_default();
        let start = reader.at + if rest.starts_with(b"\r\n") { 2 } else { 1 };
        let length = self.get(&dict, "Length").and_then(|v| v.whole()).ok_or_else(broken)?;
        let packed = self.bytes.get(start..start.saturating_add(length)).ok_or_else(broken)?;
        let filter = self.get(&dict, "Filter");
        let bytes = match filter.as_ref().map(|f| f.list().first().unwrap_or(f)).and_then(Value::name) {
            None => packed.to_vec(),
            Some("FlateDecode") => {
                miniz_oxide::inflate::decompress_to_vec_zlib_with_limit(packed, LARGEST).map_err(|_| broken())?
            }
            Some(other) => return Err(format!("object {number} is packed as {other}")),
        };
        Ok((dict, bytes))
    }

    /// The catalogue.
    pub(super) fn root(&self) -> Result<Dict, String> {
        self.inner(&self.trailer, "Root").ok_or_else(|| "it has no catalogue".to_owned())
    }

    /// The numbers of its pages in order.
    pub(super) fn pages(&self) -> Result<Vec<u32>, String> {
        let top = self.root()?.get("Pages").and_then(Value::reference).ok_or("it has no pages")?;
        let mut pages = Vec::new();
        self.collect(top, 0, &mut pages)?;
        Ok(pages)
    }

    fn collect(&self, number: u32, deep: usize, pages: &mut Vec<u32>) -> Result<(), String> {
        let broken = || "its tree of pages is broken".to_owned();
        let node = self.resolved(&Value::Reference(number));
        let node = node.dict().filter(|_| deep < DEEPEST).ok_or_else(broken)?;
        match self.get(node, "Kids") {
            Some(kids) => kids
                .list()
                .iter()
                .try_for_each(|kid| self.collect(kid.reference().ok_or_else(broken)?, deep + 1, pages)),
            None => {
                pages.push(number);
                Ok(())
            }
        }
    }

    /// The text of the one file that is attached.
    pub(super) fn attached(&self) -> Result<Option<String>, String> {
        let Some(files) = self.get(&self.root()?, "AF") else { return Ok(None) };
        let [file] = files.list() else { return Err("more than one file is attached".to_owned()) };
        let file = self.resolved(file);
        let kept = file.dict().and_then(|f| self.inner(f, "EF"));
        let stream = kept.and_then(|ef| ef.get("F").or_else(|| ef.get("UF")).and_then(Value::reference));
        let (_, bytes) = self.stream(stream.ok_or("the attached file is not in it")?)?;
        String::from_utf8(bytes).map(Some).map_err(|_| "the attached file is no text".to_owned())
    }
}

fn find_last(bytes: &[u8], what: &[u8]) -> Option<usize> {
    bytes.windows(what.len()).rposition(|w| w == what)
}
