//! Secrets that the service makes: random, shown once, kept as a hash.

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use sha2::{Digest, Sha256};

/// Random bytes of a secret: more than can be guessed, so that a fast hash will do.
const BYTES: usize = 32;

/// A new secret: 43 characters of base64url.
pub fn new() -> String {
    let bytes: [u8; BYTES] = rand::random();
    URL_SAFE_NO_PAD.encode(bytes)
}

/// What is kept of a secret. Two secrets are compared by it, so that the time a comparison takes
/// says nothing about the secret.
pub fn hash(secret: &str) -> String {
    format!("{:x}", Sha256::digest(secret.as_bytes()))
}

/// The secret that follows from another and a salt: the same each time, and not to be found
/// without both.
pub fn derived(secret: &str, salt: &str) -> String {
    let whole = Sha256::new()
        .chain_update(b"successor\0")
        .chain_update(salt.as_bytes())
        .chain_update(b"\0")
        .chain_update(secret.as_bytes());
    URL_SAFE_NO_PAD.encode(whole.finalize())
}

#[cfg(test)]
mod tests {
    use super::{derived, hash, new};

    #[test]
    fn no_two_are_alike_and_each_fits_in_a_url() {
        let (one, two) = (new(), new());
        assert_ne!(one, two);
        assert_eq!(one.len(), 43);
        assert!(one.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_'));
    }

    /// FIPS 180-4, the example of one block.
    #[test]
    fn the_hash_is_sha_256() {
        let wanted = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(hash("abc"), wanted);
    }

    #[test]
    fn what_is_derived_follows_from_both_and_from_nothing_else() {
        let (secret, salt) = (new(), new());
        assert_eq!(derived(&secret, &salt), derived(&secret, &salt));
        assert_ne!(derived(&secret, &salt), derived(&secret, &new()));
        assert_ne!(derived(&secret, &salt), derived(&new(), &salt));
        assert_eq!(derived(&secret, &salt).len(), 43);
    }
}
