//! Any text as the one file of a model: it is refused or resolved, never more; what resolves has a canonical text that
//! resolves to the same canonical text.
#![no_main]

use libfuzzer_sys::fuzz_target;
use ribstitch::base::Sources;
use ribstitch::resolve;

fuzz_target!(|text: &str| {
    let load = |text: &str| resolve::load_texts(vec![("model.toml".to_owned(), text.to_owned())], &mut Sources::default()).0;
    let Some(model) = load(text) else { return };
    let canonical = resolve::canonical_model(&model);
    let again = load(&canonical).expect("a canonical text resolves");
    assert_eq!(resolve::canonical_model(&again), canonical);
});
