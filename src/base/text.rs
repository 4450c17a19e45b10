//! Small work on text.

/// The candidate that is most like `wrong`, if one is alike enough to be meant.
pub fn did_you_mean<'a>(wrong: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if wrong.len() > 200 {
        return None;
    }
    let scored = candidates.into_iter().map(|c| (strsim::jaro_winkler(wrong, c), c));
    let best = scored.filter(|(score, _)| *score > 0.8).max_by(|a, b| a.0.total_cmp(&b.0).then_with(|| b.1.cmp(a.1)));
    best.map(|(_, c)| c)
}

/// `a`, `a and b`, `a, b and c`.
pub fn join_list<S: AsRef<str>>(items: &[S], last: &str) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [head @ .., tail] => {
            let head: Vec<&str> = head.iter().map(AsRef::as_ref).collect();
            format!("{} {last} {}", head.join(", "), tail.as_ref())
        }
    }
}

/// The first letter made a capital.
pub fn capitalise(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect())
}

/// True for a whole sentence: it begins with a capital or a digit and ends with a full stop, question or exclamation mark.
pub fn is_sentence(text: &str) -> bool {
    let begins = text.chars().next().is_some_and(|c| c.is_uppercase() || c.is_ascii_digit());
    begins && text.ends_with(['.', '!', '?'])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_miss_is_offered_and_far_one_is_not() {
        assert_eq!(did_you_mean("main-bsu", ["main-bus", "battery"]), Some("main-bus"));
        assert_eq!(did_you_mean("zzz", ["main-bus", "battery"]), None);
    }

    #[test]
    fn lists_are_joined_as_spoken() {
        assert_eq!(join_list(&["a"], "and"), "a");
        assert_eq!(join_list(&["a", "b", "c"], "or"), "a, b or c");
    }
}
