//! The digest of a text: tells whether it is the same text, and names it.
//!
//! # References
//! FIPS 180-4 (2015), Secure Hash Standard: SHA-256.

use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};
use std::fmt;

/// The SHA-256 of some bytes.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(into = "String", try_from = "String")]
pub struct Digest([u8; 32]);

/// A text that is no digest.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("a digest is 64 hexadecimal digits")]
pub struct NotADigest;

impl Digest {
    /// The digest of `bytes`.
    ///
    /// ```
    /// use marram::units::digest::Digest;
    /// assert!(Digest::of(b"abc").to_string().starts_with("ba7816bf8f01cfea")); // FIPS 180-4 example
    /// ```
    pub fn of(bytes: &[u8]) -> Self {
        Self(Sha256::digest(bytes).into())
    }

    /// The first `digits` hexadecimal digits, for names that people read.
    pub fn short(&self, digits: usize) -> String {
        self.to_string().chars().take(digits).collect()
    }
}

impl fmt::Display for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

impl fmt::Debug for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Digest({})", self.short(12))
    }
}

impl From<Digest> for String {
    fn from(digest: Digest) -> Self {
        digest.to_string()
    }
}

impl TryFrom<String> for Digest {
    type Error = NotADigest;

    fn try_from(text: String) -> Result<Self, NotADigest> {
        let mut bytes = [0; 32];
        if text.len() != 64 || !text.bytes().all(|b| b.is_ascii_hexdigit()) {
            return Err(NotADigest);
        }
        for (byte, pair) in bytes.iter_mut().zip(text.as_bytes().chunks(2)) {
            let pair = std::str::from_utf8(pair).map_err(|_| NotADigest)?;
            *byte = u8::from_str_radix(pair, 16).map_err(|_| NotADigest)?;
        }
        Ok(Self(bytes))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn the_published_example() {
        // FIPS 180-4 examples (NIST CSRC, SHA256.pdf, one-block message "abc").
        let abc = Digest::of(b"abc");
        assert_eq!(abc.to_string(), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
        assert_eq!(Digest::try_from(abc.to_string()), Ok(abc));
        assert_eq!(abc.short(8), "ba7816bf");
        assert_eq!(Digest::try_from("ba".to_owned()), Err(NotADigest));
    }
}
