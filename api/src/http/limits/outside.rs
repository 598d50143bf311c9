//! Tokens of outside issuers that have proved good: checking one may need a look at the issuer, so it
//! is not done before counting. The first request of such a token counts for its network, the next
//! ones for its account.

use std::sync::{Mutex, PoisonError};

use hashlink::LruCache;
use sha2::{Digest, Sha256};
use uuid::Uuid;

/// Most tokens remembered.
const MOST: usize = 10_000;

/// Which account each token is of; the token itself is not kept.
#[derive(Debug)]
pub struct OutsideTokens(Mutex<LruCache<[u8; 32], Uuid>>);

impl Default for OutsideTokens {
    fn default() -> Self {
        Self(Mutex::new(LruCache::new(MOST)))
    }
}

impl OutsideTokens {
    /// Notes that a token has proved to be of this account.
    pub fn note(&self, token: &str, account_id: Uuid) {
        let mut known = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        known.insert(Sha256::digest(token).into(), account_id);
    }

    /// The account of a token that has proved good.
    pub(super) fn account_of(&self, token: &str) -> Option<Uuid> {
        let mut known = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        known.get(&<[u8; 32]>::from(Sha256::digest(token))).copied()
    }
}

#[cfg(test)]
mod tests {
    use super::{MOST, OutsideTokens};
    use uuid::Uuid;

    #[test]
    fn a_token_is_known_once_it_has_proved_good_and_there_is_an_end() {
        let tokens = OutsideTokens::default();
        assert_eq!(tokens.account_of("one"), None);
        tokens.note("one", Uuid::from_u128(1));
        assert_eq!(tokens.account_of("one"), Some(Uuid::from_u128(1)));
        for n in 0..MOST {
            tokens.note(&n.to_string(), Uuid::from_u128(2));
        }
        assert_eq!(tokens.account_of("one"), None, "the oldest goes");
    }
}
