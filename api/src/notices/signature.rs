//! Secrets and signatures of notices: Standard Webhooks 1.0.0, symmetric (`v1`).

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use hmac::{Hmac, Mac};
use sha2::Sha256;

/// What a secret begins with.
const PREFIX: &str = "whsec_";
/// Random bytes of a secret; the standard has it from 24 to 64.
const BYTES: usize = 32;

/// A new secret.
pub fn new_secret() -> String {
    let bytes: [u8; BYTES] = rand::random();
    format!("{PREFIX}{}", STANDARD.encode(bytes))
}

/// The signature of a message; nothing when the secret is none.
pub fn sign(secret: &str, id: &str, timestamp: i64, body: &[u8]) -> Option<String> {
    let key = STANDARD.decode(secret.strip_prefix(PREFIX)?).ok()?;
    let mut mac = Hmac::<Sha256>::new_from_slice(&key).ok()?;
    mac.update(format!("{id}.{timestamp}.").as_bytes());
    mac.update(body);
    Some(format!("v1,{}", STANDARD.encode(mac.finalize().into_bytes())))
}

#[cfg(test)]
mod tests {
    use super::{new_secret, sign};

    const SECRET: &str = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw";

    /// The example of the standard's reference libraries.
    #[test]
    fn the_signature_of_the_standards_example() {
        let id = "msg_p5jXN8AQM9LWM0D4loKWxJek";
        let signed = sign(SECRET, id, 1_614_265_330, br#"{"test": 2432232314}"#);
        let wanted = "v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=";
        assert_eq!(signed.as_deref(), Some(wanted));
    }

    /// The library of the standard signs alike, whatever is signed.
    #[test]
    fn the_reference_library_signs_alike() {
        for (id, time, body) in [
            ("a", 0, "".as_bytes()),
            ("msg-1-2", 1_808_222_400, "{\"name\":\"é\"}".as_bytes()),
            ("test-3", i64::from(i32::MAX), "\u{0}\u{7f}\u{10ffff}".as_bytes()),
        ] {
            let secret = new_secret();
            let theirs = standardwebhooks::Webhook::new(&secret).expect("a secret");
            assert_eq!(sign(&secret, id, time, body), theirs.sign(id, time, body).ok(), "{id}");
        }
    }

    #[test]
    fn a_secret_has_256_random_bits() {
        let (one, two) = (new_secret(), new_secret());
        assert_ne!(one, two);
        assert_eq!(one.len(), 6 + 44);
        assert!(
            sign(&one, "a", 1, b"b").is_some()
                && sign(&one, "a", 1, b"b") != sign(&two, "a", 1, b"b")
        );
        for bad in ["", "whsec_", "MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw", "whsec_!!"] {
            assert_eq!(sign(bad, "a", 1, b"b").is_some(), bad == "whsec_", "{bad}");
        }
    }
}
