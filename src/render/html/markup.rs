//! The only way by which text reaches the page.

/// HTML in the making. Text and attributes are escaped; only [`Markup::raw`] is not, and it takes nothing of an author.
#[derive(Debug, Default)]
pub(super) struct Markup {
    html: String,
}

impl Markup {
    /// Opens an element. Attributes with empty values are left out.
    pub fn open(&mut self, tag: &'static str, attributes: &[(&'static str, &str)]) {
        self.html.push('<');
        self.html.push_str(tag);
        for (name, value) in attributes.iter().filter(|(_, value)| !value.is_empty()) {
            self.html.push(' ');
            self.html.push_str(name);
            self.html.push_str("=\"");
            escape(value, &mut self.html);
            self.html.push('"');
        }
        self.html.push('>');
    }

    /// Closes an element. Blocks end their line, so that the file can be read.
    pub fn close(&mut self, tag: &'static str) {
        self.html.push_str("</");
        self.html.push_str(tag);
        self.html.push('>');
        if !matches!(tag, "span" | "em" | "strong" | "code" | "a" | "dt" | "th" | "td") {
            self.html.push('\n');
        }
    }

    /// Text.
    pub fn text(&mut self, text: &str) {
        escape(text, &mut self.html);
    }

    /// An element that holds only text.
    pub fn element(&mut self, tag: &'static str, attributes: &[(&'static str, &str)], text: &str) {
        self.open(tag, attributes);
        self.text(text);
        self.close(tag);
    }

    /// Markup of our own making: drawings from `diagram::svg`, constants of this folder.
    pub fn raw(&mut self, ours: &str) {
        self.html.push_str(ours);
    }

    /// What was written.
    pub fn finish(self) -> String {
        self.html
    }
}

/// Escapes text so that it is only text, between tags and inside quoted attributes alike.
pub(super) fn escape(text: &str, into: &mut String) {
    for c in text.chars() {
        match c {
            '&' => into.push_str("&amp;"),
            '<' => into.push_str("&lt;"),
            '>' => into.push_str("&gt;"),
            '"' => into.push_str("&quot;"),
            '\'' => into.push_str("&#39;"),
            c if is_unprintable(c) => into.push('\u{fffd}'),
            c => into.push(c),
        }
    }
}

/// Control characters, and those that turn the direction of what follows: they could make a page read as it does not say.
fn is_unprintable(c: char) -> bool {
    let turns = matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    turns || (c.is_control() && !matches!(c, '\n' | '\t'))
}

/// A link to an id of this page.
pub(super) fn link_to(id: &str) -> String {
    let mut link = String::from("#");
    for byte in id.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~/:".contains(&byte) {
            link.push(char::from(byte));
        } else {
            link.push_str(&format!("%{byte:02X}"));
        }
    }
    link
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_in_text_and_attributes_stays_text() {
        let mut out = Markup::default();
        out.element("p", &[("title", "a\" onclick=\"x")], "<script>&'</script>");
        let html = out.finish();
        assert_eq!(html.trim(), "<p title=\"a&quot; onclick=&quot;x\">&lt;script&gt;&amp;&#39;&lt;/script&gt;</p>");
    }

    #[test]
    fn turning_characters_and_controls_are_shown_as_unknown() {
        let mut text = String::new();
        escape("a\u{202e}b\u{0}c", &mut text);
        assert_eq!(text, "a\u{fffd}b\u{fffd}c");
    }

    #[test]
    fn links_keep_slashes_and_code_the_rest() {
        assert_eq!(link_to("fail/vacuum-pump"), "#fail/vacuum-pump");
        assert_eq!(link_to("a b\"é"), "#a%20b%22%C3%A9");
    }
}
