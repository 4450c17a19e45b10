//! Lines of at most 80 columns under headings.

/// Columns of a terminal that nobody has made wider.
pub const WIDTH: usize = 80;

/// Text that is being laid out.
#[derive(Debug, Default)]
pub struct Sheet {
    text: String,
}

impl Sheet {
    /// A heading, with an empty line before it unless it is the first line.
    pub fn heading(&mut self, text: &str) {
        self.gap();
        self.paragraph(0, text);
    }

    /// An empty line, unless nothing stands yet or one stands already.
    pub fn gap(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with("\n\n") {
            self.text.push('\n');
        }
    }

    /// A paragraph that begins at a column; its further lines stand two columns further in.
    pub fn paragraph(&mut self, indent: usize, text: &str) {
        let hanging = if indent == 0 { 0 } else { indent + 2 };
        let mut column = 0;
        for word in visible(text).split_whitespace() {
            let wide = word.chars().count();
            if column > 0 && column + 1 + wide > WIDTH {
                self.text.push('\n');
                column = 0;
                self.spaces(hanging, &mut column);
            } else if column == 0 {
                self.spaces(indent, &mut column);
            } else {
                self.text.push(' ');
                column += 1;
            }
            self.text.push_str(word);
            column += wide;
        }
        self.text.push('\n');
    }

    /// A line that is kept as it is, but for control characters and spaces at its end.
    pub fn line(&mut self, text: &str) {
        self.text.push_str(visible(text).trim_end());
        self.text.push('\n');
    }

    /// The whole text.
    pub fn finish(self) -> String {
        self.text
    }

    fn spaces(&mut self, count: usize, column: &mut usize) {
        self.text.extend(std::iter::repeat_n(' ', count));
        *column += count;
    }
}

/// Text without control characters, which a terminal would obey.
fn visible(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

/// Lines without control characters: a path may hold what a terminal would obey.
pub fn visible_lines(text: &str) -> String {
    text.split('\n').map(visible).collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_longer_than_the_terminal_is_wide() {
        let mut sheet = Sheet::default();
        sheet.paragraph(4, &"word ".repeat(60));
        let text = sheet.finish();
        assert!(text.lines().all(|l| l.chars().count() <= WIDTH), "{text}");
        assert!(text.lines().skip(1).all(|l| l.starts_with("      word")), "{text}");
    }

    #[test]
    fn headings_are_set_apart_and_control_characters_are_gone() {
        let mut sheet = Sheet::default();
        sheet.heading("One");
        sheet.heading("T\u{1b}wo");
        assert_eq!(sheet.finish(), "One\n\nT wo\n");
    }
}
