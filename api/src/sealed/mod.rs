//! Secrets that the service must be able to read again: those of other systems, and those that notices are signed
//! with. They are kept sealed (XChaCha20-Poly1305), so that a copy of the database gives none away.
//!
//! A sealed text is `s1.<key>.<nonce and ciphertext>`. `<key>` names the key without giving it away, so that keys can be
//! renewed: the first of `DIBBLE_SEALING_KEYS` seals, all open. The practice is sealed in: what belongs to one
//! can't be opened as another's.

mod file;
mod sealer;
mod secret;

pub use file::KeyFileError;
pub use sealer::{SealError, Sealer};
pub use secret::Secret;
