//! How deep a TOML text nests, told before it is parsed, so that no recursion can run out of stack.
//!
//! This is no parser: on a text with wrong quotes it may count wrongly, and the parser then says what is wrong.

/// Deeper than this no model nests.
pub const DEEPEST: usize = 32;

/// What is known while the text is read once from left to right.
#[derive(Default)]
struct Depth {
    /// Dots of the keys that surround each open bracket.
    open: Vec<usize>,
    /// Dots of the key that is being read.
    dots: usize,
    /// Brackets and dots around the place.
    total: usize,
}

impl Depth {
    fn take(&mut self, byte: u8) {
        match byte {
            b'.' => self.dot(),
            b'[' | b'{' => self.enter(),
            b']' | b'}' => self.leave(),
            b',' => self.forget(),
            b'\n' if self.open.is_empty() => self.forget(),
            _ => {}
        }
    }

    fn dot(&mut self) {
        self.dots += 1;
        self.total += 1;
    }

    fn enter(&mut self) {
        self.open.push(self.dots);
        self.dots = 0;
        self.total += 1;
    }

    fn leave(&mut self) {
        self.forget();
        if let Some(dots) = self.open.pop() {
            self.dots = dots;
            self.total -= 1;
        }
    }

    fn forget(&mut self) {
        self.total -= self.dots;
        self.dots = 0;
    }
}

/// The byte at which the text becomes deeper than [`DEEPEST`].
pub fn too_deep_at(text: &str) -> Option<usize> {
    let bytes = text.as_bytes();
    let mut depth = Depth::default();
    let mut at = 0;
    while let Some(&byte) = bytes.get(at) {
        at = match byte {
            b'"' | b'\'' => after_string(bytes, at),
            b'#' => line_end(bytes, at),
            _ => {
                depth.take(byte);
                if depth.total > DEEPEST {
                    return Some(at);
                }
                at + 1
            }
        };
    }
    None
}

fn line_end(bytes: &[u8], from: usize) -> usize {
    bytes.iter().skip(from).position(|b| *b == b'\n').map_or(bytes.len(), |n| from + n)
}

fn after_string(bytes: &[u8], at: usize) -> usize {
    let quote = bytes.get(at).copied().unwrap_or(b'"');
    let triple = bytes.get(at..at + 3).is_some_and(|three| three.iter().all(|b| *b == quote));
    let mut place = if triple { at + 3 } else { at + 1 };
    while let Some(&byte) = bytes.get(place) {
        if byte == b'\\' && quote == b'"' {
            place += 2;
        } else if byte == quote
            && (!triple || bytes.get(place..place + 3).is_some_and(|t| t.iter().all(|b| *b == quote)))
        {
            return place + if triple { 3 } else { 1 };
        } else if byte == b'\n' && !triple {
            return place;
        } else {
            place += 1;
        }
    }
    bytes.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn brackets_dots_and_braces_count_and_strings_do_not() {
        assert_eq!(
            too_deep_at("a = [[[1.2, 1.3], [2]], [3]]\n[b.c.d]\nx = \"......................................\""),
            None
        );
        assert_eq!(too_deep_at(&format!("a = {}", "[".repeat(10_000))), Some(4 + DEEPEST));
        assert!(too_deep_at(&format!("a{} = 1", ".a".repeat(100))).is_some());
        assert!(too_deep_at(&"a.b.c.d.e.f = { ".repeat(20)).is_some());
        assert_eq!(too_deep_at(&"a.b = 1\n".repeat(100)), None);
    }
}
