//! The objects of a finished file packed: those that are no streams stand together in compressed streams, and the table of
//! places is one too. Most of a tagged file is such objects, so it becomes less than half as large.
//!
//! It reads nothing but what the library writes: a plain table of places, objects one after another. Where anything looks
//! otherwise the file stays as it is.
//!
//! # Source
//! ISO 32000-1:2008, 7.5.7 object streams and 7.5.8 cross-reference streams; numbers of clauses from memory. Both are allowed in
//! PDF/A-3 (ISO 19005-3).

use miniz_oxide::deflate::compress_to_vec_zlib;

/// So many objects share a stream.
const TOGETHER: usize = 500;
/// How hard is tried; more takes longer and gains little.
const LEVEL: u8 = 5;

/// Where an object stands in the packed file.
#[derive(Clone, Copy)]
enum Place {
    Free,
    /// So many bytes from the beginning.
    At(usize),
    /// In that stream, at that position.
    In(u32, usize),
}

/// The packed file, or the same bytes where they cannot be packed.
pub(super) fn pack(file: Vec<u8>) -> Vec<u8> {
    packed(&file).filter(|p| p.len() < file.len()).unwrap_or(file)
}

fn packed(file: &[u8]) -> Option<Vec<u8>> {
    let plain = Plain::read(file)?;
    let first = plain.objects.first()?.1;
    let mut out =
        Out { bytes: file.get(..first)?.to_vec(), places: vec![Place::Free; plain.size], next: plain.size as u32 };
    let mut loose: Vec<(u32, &[u8])> = Vec::new();
    for (at, (number, start)) in plain.objects.iter().enumerate() {
        let end = plain.objects.get(at + 1).map_or(plain.table, |next| next.1);
        let whole = file.get(*start..end)?;
        let body = body(whole, *number)?;
        if body.ends_with(b"endstream") {
            out.put(*number, whole)?;
        } else {
            loose.push((*number, body));
        }
    }
    for group in loose.chunks(TOGETHER) {
        out.put_together(group)?;
    }
    Some(out.finish(plain.trailer))
}

/// What stands between `obj` and `endobj`.
fn body(whole: &[u8], number: u32) -> Option<&[u8]> {
    let inner = whole.strip_prefix(format!("{number} 0 obj").as_bytes())?;
    inner.trim_ascii_end().strip_suffix(b"endobj").map(<[u8]>::trim_ascii)
}

/// A file as the library writes it.
struct Plain<'f> {
    /// Numbers and places, by place.
    objects: Vec<(u32, usize)>,
    /// Where its table begins.
    table: usize,
    /// One more than the highest number.
    size: usize,
    /// The entries of its trailer but the size.
    trailer: &'f str,
}

impl<'f> Plain<'f> {
    fn read(file: &'f [u8]) -> Option<Self> {
        let tail = file.len().saturating_sub(40);
        let end = String::from_utf8_lossy(file.get(tail..)?);
        let table: usize = end.rsplit_once("startxref")?.1.split_whitespace().next()?.parse().ok()?;
        let text = std::str::from_utf8(file.get(table..)?).ok()?;
        let (entries, trailer) = text.strip_prefix("xref")?.split_once("trailer")?;
        let mut words = entries.split_ascii_whitespace();
        let (from, size): (u32, usize) = (words.next()?.parse().ok()?, words.next()?.parse().ok()?);
        let mut objects = Vec::new();
        for number in from..size as u32 {
            let (place, _, kind) = (words.next()?.parse().ok()?, words.next()?, words.next()?);
            if kind == "n" {
                objects.push((number, place));
            }
        }
        objects.sort_unstable_by_key(|(_, place)| *place);
        let inner = trailer.split_once("<<")?.1.split_once("startxref")?.0.trim_end().strip_suffix(">>")?;
        let (before, after) = inner.split_once("/Size")?;
        let rest = after.trim_start().trim_start_matches(|c: char| c.is_ascii_digit());
        (before.trim().is_empty() && words.next().is_none() && from == 0).then_some(())?;
        Some(Self { objects, table, size, trailer: rest })
    }
}

/// The packed file in the making.
struct Out {
    bytes: Vec<u8>,
    places: Vec<Place>,
    /// The next number that is free.
    next: u32,
}

impl Out {
    fn put(&mut self, number: u32, whole: &[u8]) -> Option<()> {
        *self.places.get_mut(number as usize)? = Place::At(self.bytes.len());
        self.bytes.extend_from_slice(whole);
        Some(())
    }

    fn put_together(&mut self, group: &[(u32, &[u8])]) -> Option<()> {
        let stream = self.number();
        let (mut index, mut bodies) = (String::new(), Vec::new());
        for (at, (number, body)) in group.iter().enumerate() {
            index.push_str(&format!("{number} {} ", bodies.len()));
            bodies.extend_from_slice(body);
            bodies.push(b'\n');
            *self.places.get_mut(*number as usize)? = Place::In(stream, at);
        }
        let entries = format!("/Type/ObjStm/N {}/First {}", group.len(), index.len());
        self.stream(stream, &entries, &[index.as_bytes(), &bodies].concat());
        Some(())
    }

    fn number(&mut self) -> u32 {
        self.places.push(Place::Free);
        self.next += 1;
        self.next - 1
    }

    fn stream(&mut self, number: u32, entries: &str, content: &[u8]) {
        let place = self.bytes.len();
        if let Some(of) = self.places.get_mut(number as usize) {
            *of = Place::At(place);
        }
        let packed = compress_to_vec_zlib(content, LEVEL);
        let head = format!("{number} 0 obj\n<<{entries}/Filter/FlateDecode/Length {}>>\nstream\n", packed.len());
        self.bytes.extend_from_slice(head.as_bytes());
        self.bytes.extend_from_slice(&packed);
        self.bytes.extend_from_slice(b"\nendstream\nendobj\n\n");
    }

    /// Writes the table of places, which tells its own place too.
    fn finish(mut self, trailer: &str) -> Vec<u8> {
        let table = self.number();
        let start = self.bytes.len();
        if let Some(own) = self.places.get_mut(table as usize) {
            *own = Place::At(start);
        }
        let mut rows = Vec::with_capacity(self.places.len() * 7);
        for (number, place) in self.places.iter().enumerate() {
            let (kind, value, at) = match place {
                Place::Free => (0, 0, if number == 0 { 0xffff } else { 0 }),
                Place::At(place) => (1, *place as u32, 0),
                Place::In(stream, at) => (2, *stream, *at as u16),
            };
            rows.push(kind);
            rows.extend(value.to_be_bytes());
            rows.extend(u16::to_be_bytes(at));
        }
        let entries = format!("/Type/XRef/Size {}/W[1 4 2]{}", self.places.len(), trailer.trim());
        self.stream(table, &entries, &rows);
        self.bytes.extend_from_slice(format!("startxref\n{start}\n%%EOF").as_bytes());
        self.bytes
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_plain_file_stays_as_it_is() {
        for other in
            ["", "%PDF-1.7\n", "xref\n0 1\ntrailer\n<</Size 1>>\nstartxref\n0\n%%EOF", "startxref\n99999999\n%%EOF"]
        {
            assert_eq!(pack(other.as_bytes().to_vec()), other.as_bytes());
        }
    }
}
