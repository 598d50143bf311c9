//! The public half of a key as the world reads it (RFC 7517, RFC 8037).

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use serde::Serialize;
use sha2::{Digest, Sha256};
use utoipa::ToSchema;

use super::Key;

/// The public half of a key that signs access tokens (RFC 8037).
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "kty": "OKP",
    "crv": "Ed25519",
    "x": "11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo",
    "alg": "EdDSA",
    "use": "sig",
    "kid": "kPrK_qmxVWaYVA9wwBF6Iuo3vVzz7TxHCTwXBygrS4k"
})))]
pub struct Jwk {
    /// Type of the key; always `OKP`.
    #[schema(example = "OKP")]
    pub kty: String,
    /// Curve; always `Ed25519`.
    #[schema(example = "Ed25519")]
    pub crv: String,
    /// The public key: 32 bytes in base64url.
    #[schema(
        min_length = 43,
        max_length = 43,
        pattern = r"^[A-Za-z0-9_-]{43}$",
        example = "11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo"
    )]
    pub x: String,
    /// The only algorithm that the key is for; always `EdDSA`.
    #[schema(example = "EdDSA")]
    pub alg: String,
    /// What the key is for; always `sig`.
    #[schema(example = "sig")]
    pub r#use: String,
    /// Name of the key, as in the header of a token.
    #[schema(
        min_length = 1,
        max_length = 64,
        example = "kPrK_qmxVWaYVA9wwBF6Iuo3vVzz7TxHCTwXBygrS4k"
    )]
    pub kid: String,
}

impl From<&Key> for Jwk {
    fn from(key: &Key) -> Self {
        Self {
            kty: "OKP".to_owned(),
            crv: "Ed25519".to_owned(),
            x: URL_SAFE_NO_PAD.encode(key.public),
            alg: "EdDSA".to_owned(),
            r#use: "sig".to_owned(),
            kid: key.kid.clone(),
        }
    }
}

/// The thumbprint of a public key (RFC 7638, with the members of RFC 8037, section 2): its name.
pub fn thumbprint(public: &[u8; 32]) -> String {
    let x = URL_SAFE_NO_PAD.encode(public);
    let members = format!(r#"{{"crv":"Ed25519","kty":"OKP","x":"{x}"}}"#);
    URL_SAFE_NO_PAD.encode(Sha256::digest(members.as_bytes()))
}

#[cfg(test)]
mod tests {
    use super::{Jwk, thumbprint};
    use crate::auth::keys::Key;
    use base64::Engine;
    use base64::engine::general_purpose::URL_SAFE_NO_PAD;
    use ed25519_dalek::SigningKey;

    /// RFC 8037, appendix A.1 (the private half), A.2 (the public one), A.3 (the thumbprint).
    #[test]
    fn the_key_of_rfc_8037_is_written_as_there() {
        let d = URL_SAFE_NO_PAD.decode("nWGxne_9WmC6hEr0kuwsxERJxWl7MmkZcDusAxyuf2A").expect("d");
        let pair = SigningKey::from_bytes(&d.try_into().expect("32 bytes"));
        let public = pair.verifying_key().to_bytes();
        let kid = thumbprint(&public);
        assert_eq!(kid, "kPrK_qmxVWaYVA9wwBF6Iuo3vVzz7TxHCTwXBygrS4k");
        let start = "2027-04-20T12:00:00Z".parse().expect("time");
        let jwk = Jwk::from(&Key::of(&kid, &pair, start, None).expect("a key"));
        let json = serde_json::to_value(&jwk).expect("JSON");
        assert_eq!(
            json,
            serde_json::json!({
                "kty": "OKP", "crv": "Ed25519", "alg": "EdDSA", "use": "sig",
                "x": "11qYAYKxCrfVS_7TyWQHOg7hcvPapiMlrwIaaPcHURo",
                "kid": "kPrK_qmxVWaYVA9wwBF6Iuo3vVzz7TxHCTwXBygrS4k"
            })
        );
    }
}
