//! What can be wrong when a guide is set on paper: the explanations of its codes. It is told where the pages are made.

/// Code and explanation of each.
pub const CODES: &[(&str, &str)] = &[(
    "card-too-full",
    "The quick-reference card is one A5 sheet, both sides, with no letter under 7.5 pt. What is on it does not fit. The message says \
     by how many lines, and shows the rows that take most. Nothing is left out unasked: write `off-card = true` under an item or a \
     number that a pilot can spare there. The guide goes on telling all of it.",
)];

/// Code and explanation of each.
pub fn explanations() -> impl Iterator<Item = (&'static str, &'static str)> {
    CODES.iter().copied()
}
