//! The keys that secrets of other systems are kept under.

use std::fmt;
use std::str::FromStr;

use base64::Engine as _;
use base64::engine::general_purpose::{STANDARD, STANDARD_NO_PAD, URL_SAFE, URL_SAFE_NO_PAD};

/// Bytes of a key.
pub const KEY_BYTES: usize = 32;

/// A key of 32 random bytes. Prints as `***`.
#[derive(Clone, PartialEq, Eq)]
pub struct SealingKey([u8; KEY_BYTES]);

impl SealingKey {
    /// From the bytes themselves.
    pub fn of(bytes: [u8; KEY_BYTES]) -> Self {
        Self(bytes)
    }

    /// The bytes, for the cipher only.
    pub fn secret(&self) -> &[u8; KEY_BYTES] {
        &self.0
    }
}

impl FromStr for SealingKey {
    type Err = &'static str;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let text = text.trim();
        [STANDARD, STANDARD_NO_PAD, URL_SAFE, URL_SAFE_NO_PAD]
            .iter()
            .find_map(|alphabet| alphabet.decode(text).ok())
            .and_then(|bytes| bytes.try_into().ok())
            .map(Self)
            .ok_or("a key is base64 of 32 random bytes, as `openssl rand -base64 32` makes it")
    }
}

impl fmt::Debug for SealingKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("SealingKey(***)")
    }
}

#[cfg(test)]
mod tests {
    use super::SealingKey;

    #[test]
    fn a_key_is_32_bytes_of_base64_and_is_not_printed() {
        let text = "AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHh8=";
        let key: SealingKey = text.parse().expect("a key");
        assert_eq!(key.secret()[31], 31);
        assert_eq!(format!("{key:?}"), "SealingKey(***)");
        assert_eq!(text.trim_end_matches('=').parse::<SealingKey>().expect("a key"), key);
        for bad in ["", "short", "AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHg==", "!!!"] {
            let refused = bad.parse::<SealingKey>().expect_err(bad);
            assert!(bad.is_empty() || !refused.contains(bad));
        }
    }
}
