//! Any text as a tail over a small type: it is refused or laid over.
#![no_main]

use libfuzzer_sys::fuzz_target;
use ribstitch::base::Sources;
use ribstitch::{pipeline::starter, resolve};

fuzz_target!(|text: &str| {
    let (name, model) = starter::MODEL;
    let texts = vec![(name.to_owned(), model.to_owned()), ("tails/one.toml".to_owned(), text.to_owned())];
    let _ = resolve::load_texts(texts, &mut Sources::default());
});
