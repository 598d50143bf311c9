//! What was sent, in short: what is sent again has the same fingerprint.

use serde::Serialize;
use sha2::{Digest, Sha256};

use crate::http::ApiError;

/// SHA-256 over what was sent, as JSON.
///
/// # Errors
/// When it can't be written as JSON.
pub fn of(sent: &impl Serialize) -> Result<String, ApiError> {
    let bytes = serde_json::to_vec(sent).map_err(ApiError::internal)?;
    Ok(format!("{:x}", Sha256::digest(bytes)))
}

#[cfg(test)]
mod tests {
    use super::of;

    #[test]
    fn it_is_the_hash_of_the_json_text() {
        // By `printf '["a",1]' | sha256sum`.
        let wanted = "135f17a475a61afdeeaf3759ad2e45ad1c7abb192395abe47e41fc8e395dc1a9";
        assert_eq!(of(&("a", 1)).expect("JSON"), wanted);
    }
}
