//! One key, ready for use.

use chrono::{DateTime, Utc};
use ed25519_dalek::SigningKey;
use ed25519_dalek::pkcs8::EncodePrivateKey;
use jsonwebtoken::{DecodingKey, EncodingKey};

use super::KeyError;

/// One key, ready for use.
#[derive(Clone)]
pub struct Key {
    /// Its name in the header of a token.
    pub kid: String,
    /// Signs.
    pub signing: EncodingKey,
    /// Checks.
    pub checking: DecodingKey,
    /// The public half.
    pub public: [u8; 32],
    /// When its turn to sign comes.
    pub signs_from: DateTime<Utc>,
    /// When the last token that it signed has expired; `None` while it has no successor.
    pub checks_until: Option<DateTime<Utc>>,
}

impl Key {
    /// A key of these two halves.
    pub fn of(
        kid: &str,
        pair: &SigningKey,
        signs_from: DateTime<Utc>,
        checks_until: Option<DateTime<Utc>>,
    ) -> Result<Self, KeyError> {
        let broken = |why: String| KeyError::Broken { kid: kid.to_owned(), why };
        let der = pair.to_pkcs8_der().map_err(|error| broken(error.to_string()))?;
        let public = pair.verifying_key().to_bytes();
        Ok(Self {
            kid: kid.to_owned(),
            signing: EncodingKey::from_ed_der(der.as_bytes()),
            checking: DecodingKey::from_ed_der(&public),
            public,
            signs_from,
            checks_until,
        })
    }

    /// Whether tokens of this key are taken.
    pub fn checks_at(&self, now: DateTime<Utc>) -> bool {
        self.checks_until.is_none_or(|until| now < until)
    }
}

impl std::fmt::Debug for Key {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Key({})", self.kid)
    }
}
