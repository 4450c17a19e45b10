//! One chapter out of a proved document. Links to what is left out become plain text.

use crate::doc::{Block, Document, Inline, Inlines};
use std::collections::BTreeSet;

/// The document with that chapter alone; nothing if there is none of that id.
pub fn only(document: &Document, chapter: &str) -> Option<Document> {
    let kept = document.chapters.iter().find(|c| c.id == chapter)?;
    let mut part = document.clone();
    part.chapters = vec![kept.clone()];
    let ids = ids_of(&part);
    for chapter in &mut part.chapters {
        chapter.title = untied(std::mem::take(&mut chapter.title), &ids);
        chapter.blocks.iter_mut().for_each(|b| untie(b, &ids));
    }
    Some(part)
}

/// Every id that a link may lead to.
fn ids_of(document: &Document) -> BTreeSet<String> {
    let mut ids = BTreeSet::new();
    for chapter in &document.chapters {
        ids.insert(chapter.id.clone());
        chapter.blocks.iter().for_each(|b| collect(b, &mut ids));
    }
    ids
}

fn collect(block: &Block, ids: &mut BTreeSet<String>) {
    match block {
        Block::Heading { id, .. } | Block::Worked { id, .. } => ids.extend([id.clone()]),
        Block::Table(table) => {
            ids.insert(table.id.clone());
            ids.extend(table.rows.iter().map(|row| row.about.clone()));
        }
        Block::Figure(figure) => ids.extend([figure.id.clone()]),
        Block::List { items, .. } => items.iter().flatten().for_each(|b| collect(b, ids)),
        Block::Notice { body, .. } => body.iter().for_each(|b| collect(b, ids)),
        Block::Para(_) => {}
    }
}

fn untie(block: &mut Block, ids: &BTreeSet<String>) {
    let each = |text: &mut Inlines| *text = untied(std::mem::take(text), ids);
    match block {
        Block::Heading { text, .. } | Block::Para(text) => each(text),
        Block::List { items, .. } => items.iter_mut().flatten().for_each(|b| untie(b, ids)),
        Block::Notice { body, .. } => body.iter_mut().for_each(|b| untie(b, ids)),
        Block::Figure(figure) => each(&mut figure.caption),
        Block::Table(table) => {
            each(&mut table.caption);
            table.rows.iter_mut().flat_map(|r| &mut r.cells).flat_map(|c| &mut c.lines).for_each(each);
        }
        Block::Worked { title, steps, .. } => {
            each(title);
            for step in steps {
                [&mut step.says, &mut step.sum, &mut step.result].into_iter().for_each(each);
            }
        }
    }
}

fn untied(text: Inlines, ids: &BTreeSet<String>) -> Inlines {
    text.into_iter().flat_map(|inline| untied_one(inline, ids)).collect()
}

fn untied_one(inline: Inline, ids: &BTreeSet<String>) -> Inlines {
    match inline {
        Inline::Ref { to, text } if ids.contains(&to) => vec![Inline::Ref { to, text: untied(text, ids) }],
        Inline::Ref { text, .. } => untied(text, ids),
        Inline::Emph(text) => vec![Inline::Emph(untied(text, ids))],
        Inline::Strong(text) => vec![Inline::Strong(untied(text, ids))],
        Inline::Claim { claim, text } => vec![Inline::Claim { claim, text: untied(text, ids) }],
        other => vec![other],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::doc::{Chapter, Ledger, Meta};

    fn chapter(id: &str, to: &str) -> Chapter {
        let link = Inline::Ref { to: to.to_owned(), text: vec![Inline::text("there")] };
        Chapter { id: id.to_owned(), number: 1, title: vec![Inline::text(id)], blocks: vec![Block::Para(vec![link])] }
    }

    #[test]
    fn links_to_what_is_left_out_become_text_and_the_others_stay() {
        let chapters = vec![chapter("a", "b"), chapter("b", "b")];
        let whole = Document { meta: Meta::default(), chapters, ledger: Ledger::default() };
        let a = only(&whole, "a").unwrap();
        assert_eq!(a.chapters[0].blocks, [Block::Para(vec![Inline::text("there")])]);
        let b = only(&whole, "b").unwrap();
        assert_eq!(b.chapters[0].blocks, whole.chapters[1].blocks);
        assert_eq!(only(&whole, "c"), None);
    }
}
