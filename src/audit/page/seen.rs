//! What is seen of an element: lines of text as a reader would read them.

use scraper::{ElementRef, Node};

/// Elements that stand in a line with what is around them.
const IN_LINE: &[&str] =
    &["a", "abbr", "b", "code", "em", "i", "label", "small", "span", "strong", "sub", "sup", "time", "input", "button"];

/// Elements of which nothing is seen on the page.
const UNSEEN: &[&str] = &["script", "style", "template", "head", "title", "desc", "metadata", "defs", "noscript"];

/// The lines of text that are seen in an element; white space as a browser shows it.
pub(in crate::audit) fn lines(element: ElementRef<'_>) -> Vec<String> {
    let mut found = vec![String::new()];
    gather(element, &mut found);
    let tidy = |line: &String| line.split_whitespace().collect::<Vec<_>>().join(" ");
    found.iter().map(tidy).filter(|line| !line.is_empty()).collect()
}

fn gather(element: ElementRef<'_>, found: &mut Vec<String>) {
    let name = element.value().name();
    if UNSEEN.contains(&name) || element.value().attr("hidden").is_some() {
        return;
    }
    let block = !IN_LINE.contains(&name);
    if block {
        found.push(String::new());
    }
    for child in element.children() {
        match (child.value(), found.last_mut()) {
            (Node::Text(text), Some(line)) => line.push_str(text),
            _ => ElementRef::wrap(child).into_iter().for_each(|inner| gather(inner, found)),
        }
    }
    if block {
        found.push(String::new());
    }
}
