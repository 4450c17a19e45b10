//! Chapters as authors write them, right and wrong.

use super::compose::report;
use ribstitch::base::Sources;
use ribstitch::parse::book::{Book, RawBlock, RawKind, read};

fn read_one(text: &str) -> (Book, String) {
    read_files(&[("01-one.md", text.as_bytes())])
}

fn read_files(files: &[(&str, &[u8])]) -> (Book, String) {
    let mut sources = Sources::default();
    let files = files.iter().map(|(n, b)| ((*n).to_owned(), b.to_vec())).collect();
    let (book, mut diagnostics) = read(files, &mut sources);
    diagnostics.sort(&sources);
    (book, report(&diagnostics, &sources))
}

/// A wrong chapter, what its report must begin with, and the corrected twin, which must pass.
struct Case {
    wrong: &'static str,
    says: &'static str,
    right: &'static str,
}

const CASES: &[Case] = &[
    Case {
        wrong: "# One\n\nThe {{ nam(of=\"battery\") }}.\n",
        says: "01-one.md:3:8 call-unknown nothing called `nam` can be called [nam]\n    help: write `name`",
        right: "# One\n\nThe {{ name(of=\"battery\") }}.\n",
    },
    Case {
        wrong: "# One\n\nThe {{ name(off=\"battery\") }}.\n",
        says: "01-one.md:3:8 call-argument `name` needs the argument `of` [name]",
        right: "# One\n\nThe {{ name( of = \"battery\" ) }}.\n",
    },
    Case {
        wrong: "# One\n\nThe {{ name(of=battery) }}.\n",
        says: "01-one.md:3:16 call-grammar this call cannot be read [b]",
        right: "# One\n\nThe {{ name(of=\"battery\") }}.\n",
    },
    Case {
        wrong: "# One\n\nThe {{ name(of=\"battery\").\n",
        says: "01-one.md:3:26 call-grammar this call cannot be read [.]",
        right: "# One\n\nThe {{ name(of=\"}}\") }}.\n",
    },
    Case {
        wrong: "# One\n\nSee {{ states() }} here.\n",
        says: "01-one.md:3:5 call-not-alone `states` gives a block and stands alone in its paragraph [{{ states() }}]",
        right: "# One\n\nSee here.\n\n{{ states() }}\n",
    },
    Case {
        wrong: "# One\n\nA <b>bold</b> word.\n",
        says: "01-one.md:3:3 raw-markup raw HTML is not taken in a chapter [<b>]",
        right: "# One\n\nA **bold** word, and 3 &lt; 4.\n",
    },
    Case {
        wrong: "# One\n\n<script>\nalert(1)\n</script>\n",
        says: "01-one.md:3:1 raw-markup raw HTML is not taken in a chapter [<script>]",
        right: "# One\n\nNo script.\n",
    },
    Case {
        wrong: "# One\n\n![alt](http://example.org/x.png)\n",
        says: "01-one.md:3:1 image-refused a chapter brings no pictures of its own",
        right: "# One\n\n{{ figure(kind=\"panel\") }}\n",
    },
    Case {
        wrong: "# One\n\nSee [there](https://example.org).\n",
        says: "01-one.md:3:13 link-refused a link in a chapter leads to a place in the guide or to a claim [https://example.org]",
        right: "# One\n\nSee [there](#one).\n",
    },
    Case {
        wrong: "# One\n\nSee <https://example.org>.\n",
        says: "01-one.md:3:6 link-refused",
        right: "# One\n\nSee [this](<claim:clock works in secured>).\n",
    },
    Case {
        wrong: "# One\n\n> A quote.\n",
        says: "01-one.md:3:1 notice-unknown a quote in a chapter is a note, a caution or a warning [> A quote.]",
        right: "# One\n\n> [!CAUTION]\n> A quote.\n",
    },
    Case {
        wrong: "# One\n\n> [!TIP]\n> A quote.\n",
        says: "01-one.md:3:1 notice-unknown",
        right: "# One\n\n> [!WARNING]\n> A quote.\n",
    },
    Case {
        wrong: "# One\n\n### Three\n\nText.\n",
        says: "01-one.md:3:1 heading-level a heading of level 3 cannot follow one of level 1 [### Three]",
        right: "# One\n\n## Two\n\n### Three\n\nText.\n",
    },
    Case {
        wrong: "# One\n\n# Two\n\nText.\n",
        says: "01-one.md:3:1 heading-level a chapter has one title [# Two]",
        right: "# One\n\n## Two\n\nText.\n",
    },
    Case {
        wrong: "# One\n\n## Two {#two if=adf}\n\nText.\n",
        says: "01-one.md:3:14 heading-attribute a heading takes no attribute `if` [if]",
        right: "# One\n\n## Two {#two has=adf}\n\nText.\n",
    },
    Case {
        wrong: "Text.\n",
        says: "01-one.md:1:1 chapter-title a chapter begins with its title [Text.]",
        right: "# One\n\nText.\n",
    },
    Case {
        wrong: "# One\n",
        says: "01-one.md:1:1 chapter-empty this chapter holds nothing [# One]",
        right: "# One\n\nText.\n",
    },
    Case {
        wrong: "# One\n\n```\ncode\n```\n",
        says: "01-one.md:3:1 markup-unknown a block of code is not taken in a chapter",
        right: "# One\n\nThe label says `CODE`.\n",
    },
    Case {
        wrong: "# One\n\n---\n",
        says: "01-one.md:3:1 markup-unknown a rule is not taken in a chapter",
        right: "# One\n\nText.\n",
    },
    Case {
        wrong: "# One\n\nThe label says `{{ name(of=\"clock\") }}`.\n",
        says: "01-one.md:3:17 call-grammar a call cannot stand here",
        right: "# One\n\nThe label says {{ name(of=\"clock\") }}.\n",
    },
];

#[test]
fn wrong_chapters_are_told_at_their_exact_place() {
    for case in CASES {
        let (_, told) = read_one(case.wrong);
        assert!(told.starts_with(case.says), "{}\ngave: {told}\nwanted: {}", case.wrong, case.says);
        assert!(told.contains("help: ") && !told.contains("help: \n"), "{told}");
        let (book, told) = read_one(case.right);
        assert!(told.is_empty() && book.chapters.len() == 1, "{}\ngave: {told}", case.right);
    }
}

#[test]
fn calls_leave_every_other_place_true() {
    let text =
        "# One\n\nThe *{{ the(of=\"battery\") }}* gives {{ value(of=\"x.y\") }}; é [so](<claim:a works in b>).\n";
    let (book, told) = read_one(text);
    assert_eq!(told, "");
    let RawBlock::Para(line) = &book.chapters[0].blocks[0] else { panic!("no paragraph") };
    let whole: Vec<&str> = line.iter().map(|p| &text[p.span.range()]).collect();
    assert_eq!(
        whole,
        [
            "The ",
            "*{{ the(of=\"battery\") }}*",
            " gives ",
            "{{ value(of=\"x.y\") }}",
            "; é ",
            "[so](<claim:a works in b>)",
            "."
        ]
    );
    let RawKind::Claim { claim, .. } = &line[5].kind else { panic!("no claim") };
    assert_eq!((&*claim.value, &text[claim.span.range()]), ("a works in b", "a works in b"));
}

#[test]
fn chapters_stand_in_the_order_of_their_file_names() {
    let files: [(&str, &[u8]); 3] =
        [("book/10-c.md", b"# C\n\nx\n"), ("book/02-b.md", b"# B\n\nx\n"), ("book/01-a.md", b"# A\n\nx\n")];
    let (book, told) = read_files(&files);
    assert_eq!(told, "");
    assert_eq!(book.chapters.iter().map(|c| c.id.as_str()).collect::<Vec<_>>(), ["a", "b", "c"]);
}

#[test]
fn names_of_files_are_held() {
    let (_, told) = read_files(&[("suction.md", b"# S\n\nx\n")]);
    assert!(told.starts_with("suction.md:1:1 chapter-name"), "{told}");
    let (_, told) = read_files(&[("01-a.md", b"# A\n\nx\n"), ("02-a.md", b"# A\n\nx\n")]);
    assert!(told.starts_with("02-a.md:1:1 chapter-twice two chapters are called `a`"), "{told}");
}

#[test]
fn chapter_that_is_not_text_is_told_with_its_byte() {
    let (book, told) = read_files(&[("01-a.md", b"# A\n\n\xff\xfe\n")]);
    assert!(
        told.starts_with("01-a.md:3:1 book-not-utf8 this chapter is not UTF-8 text: byte 6 cannot be read"),
        "{told}"
    );
    assert!(book.chapters.is_empty());
}

#[test]
fn hostile_chapters_get_an_error_and_end() {
    let deep = format!("# One\n\n{} x\n", ">".repeat(10_000));
    assert!(read_one(&deep).1.starts_with("01-one.md:3:"), "deep quotes");
    let lists: String = (0..400).map(|i| format!("{}- x\n", "  ".repeat(i))).collect();
    assert!(read_one(&format!("# One\n\n{lists}")).1.contains("book-nesting"), "deep lists");
    let stars = format!("# One\n\n{}x{}\n", "*".repeat(5_000), "*".repeat(5_000));
    assert!(read_one(&stars).1.contains("book-nesting"), "deep emphasis");
    let long = "x".repeat(2 << 20);
    assert!(read_one(&long).1.starts_with("01-one.md:1:1 book-too-long"), "long");
    let open = format!("# One\n\n{}\n", "{{".repeat(20_000));
    assert!(read_one(&open).1.contains("call-grammar"), "open calls");
    let brackets = format!("# One\n\n{}\n", "[".repeat(50_000));
    assert_eq!(read_one(&brackets).1, "", "brackets");
}
