//! The same file in fewer bytes: objects that are no streams are packed together and compressed.
//!
//! The library writes each object alone, with a table of where they stand; a guide has thousands of short ones, most of them the
//! structure for page readers. Streams that are plain are compressed too. Nothing of what the file says is changed.
//!
//! # Source
//! ISO 32000-1:2008, 7.5.7 object streams, 7.5.8 cross-reference streams; allowed by ISO 19005-3 (PDF/A-3).

use miniz_oxide::deflate::compress_to_vec_zlib;

/// Objects in one stream, at most.
const PACK: usize = 400;
/// How hard it is compressed: this is mostly repetition, so a little is enough, and it is the longest part of the work.
const LEVEL: u8 = 2;

/// One object of the file as it was.
struct Object<'b> {
    number: usize,
    /// All of it, from its number to its end.
    whole: &'b [u8],
    /// What stands between.
    body: &'b [u8],
}

/// Where an object stands in the new file.
#[derive(Clone, Copy)]
enum Place {
    Free,
    At(usize),
    /// In which packed stream, and the how manieth in it.
    Packed(usize, usize),
}

/// The file with its objects packed; as it was where it is not of the form that is known here.
pub(super) fn compacted(file: Vec<u8>) -> Vec<u8> {
    packed(&file).unwrap_or(file)
}

fn packed(file: &[u8]) -> Option<Vec<u8>> {
    let table = find_last(file, b"\nxref\n")? + 1;
    let (offsets, trailer) = read_table(file, table)?;
    let objects = read_objects(file, &offsets, table)?;
    let first = offsets.iter().flatten().min()?;
    let mut out = file.get(..*first)?.to_vec();
    let mut places = vec![Place::Free; offsets.len()];
    for object in objects.iter().filter(|o| is_stream(o)) {
        places[object.number] = Place::At(out.len());
        match plain_stream(object.body) {
            Some((kind, plain)) => write_stream(&mut out, object.number, &kind, plain),
            None => out.extend_from_slice(object.whole),
        }
    }
    let short: Vec<&Object> = objects.iter().filter(|o| !is_stream(o)).collect();
    for pack in short.chunks(PACK) {
        let number = places.len();
        for (at, object) in pack.iter().enumerate() {
            places[object.number] = Place::Packed(number, at);
        }
        places.push(Place::At(out.len()));
        write_pack(&mut out, number, pack);
    }
    write_table(&mut out, &mut places, trailer);
    Some(out)
}

fn is_stream(object: &Object<'_>) -> bool {
    object.body.ends_with(b"endstream")
}

/// What a stream is that is not compressed, without its length, and its content. What tells of the file as a whole stays plain.
fn plain_stream(body: &[u8]) -> Option<(String, &[u8])> {
    const BEGIN: &[u8] = b"\nstream\n";
    let at = body.windows(BEGIN.len()).position(|w| w == BEGIN)?;
    let dictionary = std::str::from_utf8(body.get(..at)?).ok()?.trim().strip_prefix("<<")?.strip_suffix(">>")?;
    let plain = !dictionary.contains("/Filter") && !dictionary.contains("/Metadata");
    let (before, rest) = dictionary.split_once("/Length ").filter(|_| plain)?;
    let digits = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
    let (length, after) = rest.split_at(digits);
    if after.trim_start().starts_with(|c: char| c.is_ascii_digit()) {
        return None; // the length is another object
    }
    let content = body.get(at + BEGIN.len()..)?.get(..length.parse().ok()?)?;
    Some((format!("{before}{after}"), content))
}

/// The table at the end: where each object stands, and the dictionary after it.
fn read_table(file: &[u8], at: usize) -> Option<(Vec<Option<usize>>, &[u8])> {
    let mut lines = file.get(at..)?.split(|b| *b == b'\n');
    (lines.next()? == b"xref").then_some(())?;
    let head = std::str::from_utf8(lines.next()?).ok()?;
    let count: usize = head.strip_prefix("0 ")?.trim().parse().ok()?;
    let mut offsets = Vec::with_capacity(count);
    for _ in 0..count {
        let line = std::str::from_utf8(lines.next()?).ok()?;
        let in_use = line.contains(" 00000 n");
        offsets.push(if in_use { Some(line.get(..10)?.parse().ok()?) } else { None });
    }
    let rest = file.get(at..)?;
    let begin = at + find_last(rest, b"trailer\n")? + b"trailer\n".len();
    let end = begin + find_last(file.get(begin..)?, b"startxref")?;
    let trailer = file.get(begin..end)?.trim_ascii();
    Some((offsets, trailer.strip_prefix(b"<<")?.strip_suffix(b">>")?))
}

fn read_objects<'b>(file: &'b [u8], offsets: &[Option<usize>], end: usize) -> Option<Vec<Object<'b>>> {
    let mut in_order: Vec<(usize, usize)> =
        offsets.iter().enumerate().filter_map(|(number, at)| at.map(|at| (at, number))).collect();
    in_order.sort_unstable();
    let mut objects = Vec::with_capacity(in_order.len());
    for (nr, (at, number)) in in_order.iter().enumerate() {
        let to = in_order.get(nr + 1).map_or(end, |next| next.0);
        let whole = file.get(*at..to)?;
        let head = format!("{number} 0 obj");
        let body = whole.strip_prefix(head.as_bytes())?.trim_ascii().strip_suffix(b"endobj")?.trim_ascii();
        objects.push(Object { number: *number, whole, body });
    }
    Some(objects)
}

fn write_pack(out: &mut Vec<u8>, number: usize, pack: &[&Object<'_>]) {
    let (mut index, mut bodies) = (String::new(), Vec::new());
    for object in pack {
        index.push_str(&format!("{} {} ", object.number, bodies.len()));
        bodies.extend_from_slice(object.body);
        bodies.push(b'\n');
    }
    let (count, first) = (pack.len(), index.len());
    let mut plain = index.into_bytes();
    plain.append(&mut bodies);
    let kind = format!("/Type/ObjStm/N {count}/First {first}");
    write_stream(out, number, &kind, &plain);
}

fn write_stream(out: &mut Vec<u8>, number: usize, kind: &str, plain: &[u8]) {
    let data = compress_to_vec_zlib(plain, LEVEL);
    out.extend_from_slice(
        format!("{number} 0 obj\n<<{kind}/Filter/FlateDecode/Length {}>>\nstream\n", data.len()).as_bytes(),
    );
    out.extend_from_slice(&data);
    out.extend_from_slice(b"\nendstream\nendobj\n");
}

/// The table as a stream: a byte for the sort, four for the place, two for the place within a pack.
fn write_table(out: &mut Vec<u8>, places: &mut Vec<Place>, trailer: &[u8]) {
    let (at, number) = (out.len(), places.len());
    places.push(Place::At(at));
    let mut rows = Vec::with_capacity(places.len() * 7);
    for place in places.iter() {
        let (sort, first, second) = match place {
            Place::Free => (0_u8, 0, u16::MAX),
            Place::At(at) => (1, *at as u32, 0),
            Place::Packed(stream, nr) => (2, *stream as u32, *nr as u16),
        };
        rows.push(sort);
        rows.extend_from_slice(&first.to_be_bytes());
        rows.extend_from_slice(&second.to_be_bytes());
    }
    let kept = without_size(&String::from_utf8_lossy(trailer));
    let kind = format!("/Type/XRef/Size {}/W[1 4 2]{kept}", places.len());
    write_stream(out, number, &kind, &rows);
    out.extend_from_slice(format!("startxref\n{at}\n%%EOF").as_bytes());
}

/// The entries of a trailer but the one that says how many objects there are.
fn without_size(trailer: &str) -> String {
    let Some(begin) = trailer.find("/Size") else { return trailer.to_owned() };
    let rest = trailer[begin + 5..].trim_start().trim_start_matches(|c: char| c.is_ascii_digit());
    format!("{}{}", &trailer[..begin], rest)
}

fn find_last(text: &[u8], wanted: &[u8]) -> Option<usize> {
    text.windows(wanted.len()).rposition(|w| w == wanted)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_such_file_stays_as_it_is() {
        for wrong in
            [&b""[..], b"%PDF-1.7\n", b"%PDF\n1 0 obj\nnull\nendobj\nxref\n0 9\ntrailer\n<<>>\nstartxref\n1\n%%EOF"]
        {
            assert_eq!(compacted(wrong.to_vec()), wrong);
        }
    }

    #[test]
    fn only_a_plain_stream_is_compressed() {
        let body = b"<</Length 5/Type/XObject>>\nstream\nabcde\nendstream";
        assert_eq!(plain_stream(body), Some(("/Type/XObject".to_owned(), &b"abcde"[..])));
        for other in [
            &b"<</Length 5/Filter/FlateDecode>>\nstream\nabcde\nendstream"[..],
            b"<</Length 5/Type/Metadata>>\nstream\nabcde\nendstream",
            b"<</Length 5 0 R>>\nstream\nabcde\nendstream",
            b"<</Length 50>>\nstream\nabcde\nendstream",
        ] {
            assert_eq!(plain_stream(other), None);
        }
    }

    #[test]
    fn the_size_is_left_out_of_the_trailer_and_nothing_else() {
        assert_eq!(without_size("/Size 12/Root 3 0 R/ID[(a)(b)]"), "/Root 3 0 R/ID[(a)(b)]");
        assert_eq!(without_size("/Root 3 0 R /Size 12"), "/Root 3 0 R ");
    }
}
