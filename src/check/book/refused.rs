//! What reading and composing refuse in a chapter, with the long explanation of each code. The rules themselves stand where the
//! chapters are read (`parse::book`) and filled (`compose`).

/// Codes of errors in chapters, sorted.
pub const REFUSED: &[(&str, &str)] = &[
    (
        "book-nesting",
        "Lists, quotes and emphasis stand more than 16 deep in one another. No reader could follow that; write it flatter.",
    ),
    ("book-not-utf8", "A chapter is UTF-8 text. The message says which byte cannot be read; save the file as UTF-8."),
    ("book-too-long", "A chapter has at most one mebibyte. Split it: chapters stand in the order of their file names."),
    (
        "call-argument",
        "A call takes named arguments with texts: `{{ name(of=\"battery\") }}`. This one lacks an argument, has one that the call does not \
         take, has one twice, or gives it a text that means nothing there.",
    ),
    (
        "call-grammar",
        "A call is written on one line as `{{ name(argument=\"text\") }}`, in running text: not in code and not in the target of a link.",
    ),
    (
        "call-not-alone",
        "A call that gives a table, a drawing or other blocks stands alone in its paragraph, with an empty line before and after.",
    ),
    ("call-unknown", "Nothing of that name can be called in a chapter. DEVELOPERS.md lists what can."),
    (
        "chapter-empty",
        "A chapter holds at least one block below its title. A page with a title and nothing else helps no reader.",
    ),
    (
        "chapter-name",
        "The file of a chapter is called by number and id, as in `03-suction.md`: the number gives the order, the id the links.",
    ),
    ("chapter-title", "A chapter begins with its title, a heading of level 1 such as `# Suction`."),
    ("chapter-twice", "Two files have the same id after their numbers, so a link could not tell them apart."),
    (
        "claim-false",
        "A sentence claims what the model does not bear out. The diagnostic shows the sentence, the lines of the model that contradict it, \
         and the chain of reasons. Either the sentence is wrong or the model is; a mechanic may be able to say which.",
    ),
    (
        "claim-grammar",
        "A claim has one of a few forms that can be proved, such as `X needs Y`, `X works in S` or `losing Y takes X`; the help lists them all.",
    ),
    ("claim-unknown", "A claim names something that the model does not hold, or a fault that it does not have."),
    (
        "heading-attribute",
        "A heading takes an id, `{#id}`, what an aircraft must have, `has=id`, and topics of the examination that it teaches or leaves \
         out, `teaches=PA.I.G.K1f` and `leaves-out=PA.I.G.K1l`; nothing else.",
    ),
    (
        "heading-level",
        "A chapter has one heading of level 1, its title; below it headings go down one level at a time, to level 4.",
    ),
    (
        "heading-twice",
        "Two headings, or a heading and a chapter, bear the same id, so a link could not tell them apart.",
    ),
    (
        "image-refused",
        "A chapter brings no pictures: what it showed could not be proved. Drawings are pulled from the model.",
    ),
    (
        "link-refused",
        "A link in a chapter leads to a place in the guide, `(#id)`, or to a claim, `(<claim:…>)`; never out of the guide.",
    ),
    ("link-unknown", "A link leads to an id that nothing in the guide bears."),
    (
        "markup-unknown",
        "This piece of Markdown is not taken: a chapter has headings, paragraphs, lists, tables and notices.",
    ),
    ("name-unknown", "A call names something that the model does not hold."),
    (
        "notice-unknown",
        "A quote in a chapter is a notice in the sense of flight manuals and begins with `[!NOTE]`, `[!CAUTION]` or `[!WARNING]`.",
    ),
    (
        "raw-markup",
        "HTML in a chapter could carry script, and no other form of the guide could show it. Write Markdown; `&lt;` shows `<`.",
    ),
    (
        "topic-unknown",
        "A heading names a topic of the examination by a code that is none of those about systems: PA.I.G.K1a to PA.I.G.K1l, and \
         PA.I.G.K2. Several codes have commas between them and no spaces.",
    ),
    (
        "value-unknown",
        "A call pulls a value that the model does not hold. Values are typed once, in the model, with their source.",
    ),
];
