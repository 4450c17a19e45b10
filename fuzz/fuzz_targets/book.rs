//! Any bytes as a chapter: it is refused or read, every finding at a place in it.
#![no_main]

use libfuzzer_sys::fuzz_target;
use ribstitch::base::Sources;
use ribstitch::parse::book;

fuzz_target!(|bytes: &[u8]| {
    let mut sources = Sources::default();
    let (_, findings) = book::read(vec![("01-fuzz.md".to_owned(), bytes.to_vec())], &mut sources);
    for finding in findings.iter() {
        let file = sources.get(finding.primary.span.file).expect("a file that was read");
        assert!(finding.primary.span.end as usize <= file.text.len());
    }
});
