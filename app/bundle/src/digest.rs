//! SHA-256 in the two spellings that browsers and the worker expect.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest as _, Sha256};

/// The SHA-256 of `bytes` in lower-case hexadecimal: 64 letters.
pub fn hexadecimal(bytes: &[u8]) -> String {
    use std::fmt::Write as _;

    let mut letters = String::with_capacity(64);
    for byte in Sha256::digest(bytes) {
        // Writing to a string cannot fail.
        let _ = write!(letters, "{byte:02x}");
    }
    letters
}

/// The SHA-256 of `bytes` in base 64, as a content security policy names an inline script.
pub fn base_64(bytes: &[u8]) -> String {
    STANDARD.encode(Sha256::digest(bytes))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: FIPS 180-2, appendix B.1, the one-block message `abc`.
    #[test]
    fn the_digest_is_the_standards() {
        let printed = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(hexadecimal(b"abc"), printed);
    }

    #[test]
    fn both_spellings_name_the_same_bytes() {
        assert_eq!(base_64(b"abc"), "ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0=");
    }
}
