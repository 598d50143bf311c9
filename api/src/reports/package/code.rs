//! Codes in place of ids, made anew for each export.

use sha2::{Digest, Sha256};
use uuid::Uuid;

/// A secret that lives as long as one export.
pub(super) struct Codes([u8; 32]);

impl Codes {
    pub(super) fn new() -> Self {
        Self(rand::random())
    }

    /// The code of an id: the same in all tables of this export, and in no other.
    pub(super) fn of(&self, id: Uuid) -> String {
        let hash: [u8; 32] =
            Sha256::new().chain_update(self.0).chain_update(id.as_bytes()).finalize().into();
        let first = hash.first_chunk::<8>().copied().unwrap_or_default();
        format!("c{:016x}", u64::from_be_bytes(first))
    }
}

#[cfg(test)]
mod tests {
    use super::Codes;
    use uuid::Uuid;

    #[test]
    fn a_code_is_the_same_in_one_export_and_another_in_the_next() {
        let (one, other, id) = (Codes::new(), Codes::new(), Uuid::from_u128(7));
        assert_eq!(one.of(id), one.of(id));
        assert_ne!(one.of(id), one.of(Uuid::from_u128(8)));
        assert_ne!(one.of(id), other.of(id));
    }
}
