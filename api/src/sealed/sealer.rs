//! Seals and opens.

use std::fmt;

use base64::Engine as _;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use chacha20poly1305::aead::{Aead, KeyInit, Payload};
use chacha20poly1305::{XChaCha20Poly1305, XNonce};
use sha2::{Digest, Sha256};
use uuid::Uuid;

use super::file;
use super::secret::Secret;
use crate::config::{SealingKey, Settings};
use crate::http::{ApiError, ProblemCode};

/// How a sealed text begins: the form it has.
const FORM: &str = "s1";
/// Bytes of a nonce, which is random: there are enough of them.
const NONCE: usize = 24;

/// Why something was not sealed or opened.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum SealError {
    /// The operator gave no key.
    #[error("there is no key to seal secrets with")]
    NoKey,
    /// Sealed with a key that is not there any more.
    #[error("the key that this was sealed with is not there")]
    UnknownKey,
    /// Not ours, or changed, or another practice's.
    #[error("what was sealed can't be opened")]
    Broken,
}

impl From<SealError> for ApiError {
    fn from(error: SealError) -> Self {
        match error {
            SealError::NoKey => {
                Self::new(ProblemCode::NoSealingKey, ProblemCode::NoSealingKey.meaning())
            }
            SealError::UnknownKey | SealError::Broken => Self::internal(error),
        }
    }
}

/// Seals secrets and opens them.
pub struct Sealer(Vec<Key>);

struct Key {
    id: String,
    cipher: XChaCha20Poly1305,
}

impl Key {
    fn of(key: &SealingKey) -> Self {
        let hash = format!("{:x}", Sha256::digest(key.secret()));
        let id = hash.chars().take(12).collect();
        Self { id, cipher: XChaCha20Poly1305::new(key.secret().into()) }
    }
}

impl Sealer {
    /// With the keys of the settings; with none, on SQLite, with a key in a file beside the database, which is made
    /// when it is not there.
    ///
    /// # Errors
    /// When the file can't be read or made.
    pub fn of(settings: &Settings) -> Result<Self, file::KeyFileError> {
        let given = &settings.sealing_keys;
        let kept = match settings.database_url.sqlite_path() {
            Some(path) if given.is_empty() => Some(file::read_or_make(path)?),
            Some(path) => file::read(path)?,
            None => None,
        };
        Ok(Self::with(given.iter().chain(&kept)))
    }

    /// With these keys; the first seals.
    pub fn with<'a>(keys: impl IntoIterator<Item = &'a SealingKey>) -> Self {
        Self(keys.into_iter().map(Key::of).collect())
    }

    /// Seals a secret of a practice.
    ///
    /// # Errors
    /// When there is no key.
    pub fn seal(&self, practice_id: Uuid, secret: &str) -> Result<String, SealError> {
        let key = self.0.first().ok_or(SealError::NoKey)?;
        let nonce: [u8; NONCE] = rand::random();
        let payload = Payload { msg: secret.as_bytes(), aad: practice_id.as_bytes() };
        let sealed = key.cipher.encrypt(&XNonce::from(nonce), payload);
        let sealed = sealed.map_err(|_opaque| SealError::Broken)?;
        let mut whole = nonce.to_vec();
        whole.extend_from_slice(&sealed);
        Ok(format!("{FORM}.{}.{}", key.id, URL_SAFE_NO_PAD.encode(whole)))
    }

    /// Opens what was sealed for a practice.
    ///
    /// # Errors
    /// When the key is not there, or it is not what was sealed for this practice.
    pub fn open(&self, practice_id: Uuid, sealed: &str) -> Result<Secret, SealError> {
        let mut parts = sealed.split('.');
        let (Some(FORM), Some(id), Some(text), None) =
            (parts.next(), parts.next(), parts.next(), parts.next())
        else {
            return Err(SealError::Broken);
        };
        let missing = if self.0.is_empty() { SealError::NoKey } else { SealError::UnknownKey };
        let key = self.0.iter().find(|key| key.id == id).ok_or(missing)?;
        let whole = URL_SAFE_NO_PAD.decode(text).map_err(|_bad| SealError::Broken)?;
        let (nonce, text) = whole.split_first_chunk::<NONCE>().ok_or(SealError::Broken)?;
        let payload = Payload { msg: text, aad: practice_id.as_bytes() };
        let opened = key.cipher.decrypt(&XNonce::from(*nonce), payload);
        let opened = opened.map_err(|_opaque| SealError::Broken)?;
        String::from_utf8(opened).map(Secret::new).map_err(|_bad| SealError::Broken)
    }
}

impl fmt::Debug for Sealer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Sealer({} keys)", self.0.len())
    }
}

#[cfg(test)]
mod tests {
    use super::{SealError, Sealer};
    use crate::config::SealingKey;
    use uuid::Uuid;

    fn key(byte: u8) -> SealingKey {
        SealingKey::of([byte; 32])
    }

    const OURS: Uuid = Uuid::from_u128(1);
    const THEIRS: Uuid = Uuid::from_u128(2);

    #[test]
    fn what_was_sealed_is_opened_and_shows_nothing() {
        let keys = Sealer::with([&key(1)]);
        let sealed = keys.seal(OURS, "pass word é").expect("sealed");
        assert!(!sealed.contains("pass") && sealed.is_ascii(), "{sealed}");
        assert_ne!(sealed, keys.seal(OURS, "pass word é").expect("sealed"), "never twice alike");
        let opened = keys.open(OURS, &sealed).expect("opened");
        assert_eq!(opened.reveal(), "pass word é");
        assert_eq!(format!("{opened} {opened:?} {keys:?}"), "*** *** Sealer(1 keys)");
    }

    #[test]
    fn it_opens_for_its_practice_only_and_whole_only() {
        let keys = Sealer::with([&key(1)]);
        let sealed = keys.seal(OURS, "secret").expect("sealed");
        assert_eq!(keys.open(THEIRS, &sealed).err(), Some(SealError::Broken));
        let (head, text) = sealed.rsplit_once('.').expect("three parts");
        let mut changed = text.to_owned();
        let last = if changed.pop() == Some('A') { 'Q' } else { 'A' };
        changed.push(last);
        for broken in [
            String::new(),
            "s1..".to_owned(),
            format!("{head}."),
            format!("{head}.{changed}"),
            format!("{head}.{}", text.get(..20).expect("longer")),
            format!("{sealed}.x"),
            sealed.replacen("s1", "s2", 1),
        ] {
            assert!(keys.open(OURS, &broken).is_err(), "{broken}");
        }
    }

    #[test]
    fn keys_are_renewed_by_putting_a_new_one_first() {
        let sealed = Sealer::with([&key(1)]).seal(OURS, "secret").expect("sealed");
        let renewed = Sealer::with([&key(2), &key(1)]);
        assert_eq!(renewed.open(OURS, &sealed).expect("opened").reveal(), "secret");
        let again = renewed.seal(OURS, "secret").expect("sealed");
        assert_eq!(Sealer::with([&key(2)]).open(OURS, &again).expect("opened").reveal(), "secret");
        assert_eq!(Sealer::with([&key(2)]).open(OURS, &sealed).err(), Some(SealError::UnknownKey));
    }

    #[test]
    fn without_a_key_nothing_is_sealed() {
        let keyring = Sealer::with([]);
        assert_eq!(keyring.seal(OURS, "secret").err(), Some(SealError::NoKey));
    }

    /// draft-irtf-cfrg-xchacha-03, appendix A.3.1: that the cipher is the one it is called.
    #[test]
    fn the_cipher_gives_the_published_example() {
        use chacha20poly1305::aead::{Aead, KeyInit, Payload};
        let key: [u8; 32] = std::array::from_fn(|n| 0x80 + u8::try_from(n).expect("small"));
        let nonce: [u8; 24] = std::array::from_fn(|n| 0x40 + u8::try_from(n).expect("small"));
        let aad = [0x50, 0x51, 0x52, 0x53, 0xc0, 0xc1, 0xc2, 0xc3, 0xc4, 0xc5, 0xc6, 0xc7];
        let msg = b"Ladies and Gentlemen of the class of '99: If I could offer you only one tip for the future, sunscreen would be it.";
        let cipher = super::XChaCha20Poly1305::new(&key.into());
        let payload = Payload { msg, aad: &aad };
        let sealed = cipher.encrypt(&super::XNonce::from(nonce), payload).expect("sealed");
        let tag = [
            0xc0, 0x87, 0x59, 0x24, 0xc1, 0xc7, 0x98, 0x79, 0x47, 0xde, 0xaf, 0xd8, 0x78, 0x0a,
            0xcf, 0x49,
        ];
        assert_eq!(sealed[..4], [0xbd, 0x6d, 0x17, 0x9d]);
        assert_eq!(sealed[sealed.len() - 16..], tag);
    }
}
