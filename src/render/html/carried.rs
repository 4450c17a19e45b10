//! The canonical text that travels with the guide, compressed, in an inert block.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;

/// How hard to compress: the middle of the range; the same everywhere, so that the bytes are.
const LEVEL: u8 = 7;

/// The text as raw deflate in base 64.
pub(super) fn pack(text: &str) -> String {
    STANDARD.encode(miniz_oxide::deflate::compress_to_vec(text.as_bytes(), LEVEL))
}
