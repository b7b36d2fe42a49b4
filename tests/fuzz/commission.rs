//! Feeds bytes to everything up to the tables and holds what comes out against what must hold of every commission.
//!
//! In: the text of a commission, and after a form feed, where there is one, that of a shop file. See README.md.

#![no_main]

#[allow(dead_code, reason = "the mutation sweep builds packets too")]
#[path = "../sound.rs"]
mod sound;

use libfuzzer_sys::fuzz_target;

use sound::Examined;

fuzz_target!(|bytes: &[u8]| {
    let text = String::from_utf8_lossy(bytes);
    let (commission, shop) = match text.split_once('\u{c}') {
        Some((commission, shop)) => (commission, Some(shop)),
        None => (text.as_ref(), None),
    };
    Examined::of(commission, shop).assert_sound();
});
