//! How the service signs in at a records system.

use std::fmt;

use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::sealed::Secret;
use crate::tagged_union;

/// A secret that came in; it goes nowhere but where it is sealed.
#[derive(Clone)]
pub struct SecretText(Secret);

impl fmt::Debug for SecretText {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl PartialEq for SecretText {
    fn eq(&self, other: &Self) -> bool {
        self.0.reveal() == other.0.reveal()
    }
}

impl<'de> Deserialize<'de> for SecretText {
    fn deserialize<D: Deserializer<'de>>(reader: D) -> Result<Self, D::Error> {
        String::deserialize(reader).map(|text| Self(Secret::new(text)))
    }
}

impl Serialize for SecretText {
    fn serialize<S: Serializer>(&self, writer: S) -> Result<S::Ok, S::Error> {
        writer.collect_str(&self.0)
    }
}

tagged_union! {
    /// How the service signs in at a records system. The secret is kept sealed and never shown again.
    #[schema(examples(json!({
        "kind": "client_credentials", "token_url": "https://records.example.org/oauth/token",
        "client_id": "dibble", "secret": "4Bq9-invented", "scope": "fields.read"
    })))]
    pub enum RecordsAuthIn by "kind" {
        /// Not at all.
        Nobody = "none" {},
        /// A header with a key.
        Header = "header" {
            /// Name of the header.
            #[schema(min_length = 1, max_length = 60, example = "Authorization")]
            name: String,
            /// What stands before the key in the header.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false, max_length = 40, example = "Bearer ")]
            prefix: Option<String>,
            /// The key.
            #[schema(
                value_type = String, min_length = 1, max_length = 2000, example = "4Bq9-invented", write_only
            )]
            secret: SecretText,
        },
        /// User and password (HTTP Basic, RFC 7617).
        Basic = "basic" {
            /// The user.
            #[schema(min_length = 1, max_length = 200, example = "dibble")]
            user: String,
            /// The password.
            #[schema(
                value_type = String, min_length = 1, max_length = 2000, example = "4Bq9-invented", write_only
            )]
            secret: SecretText,
        },
        /// OAuth 2.0 client credentials (RFC 6749, section 4.4).
        ClientCredentials = "client_credentials" {
            /// Where a token is got.
            #[schema(
                min_length = 1, max_length = 500, example = "https://records.example.org/oauth/token"
            )]
            token_url: String,
            /// The id of the client.
            #[schema(min_length = 1, max_length = 200, example = "dibble")]
            client_id: String,
            /// The secret of the client.
            #[schema(
                value_type = String, min_length = 1, max_length = 2000, example = "4Bq9-invented", write_only
            )]
            secret: SecretText,
            /// What the token shall be good for, as the records system calls it.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false, max_length = 500, example = "fields.read")]
            scope: Option<String>,
            /// Whether id and secret go into the body of the request for a token; into its header when
            /// absent.
            #[serde(default)]
            #[schema(default = false, example = false)]
            in_body: bool,
        },
    }
}

tagged_union! {
    /// How the service signs in at a records system, without the secret.
    #[schema(examples(json!({
        "kind": "client_credentials", "token_url": "https://records.example.org/oauth/token",
        "client_id": "dibble", "scope": "fields.read", "in_body": false
    })))]
    pub enum RecordsAuth by "kind" {
        /// Not at all.
        Nobody = "none" {},
        /// A header with a key.
        Header = "header" {
            /// Name of the header.
            #[schema(example = "Authorization")]
            name: String,
            /// What stands before the key in the header.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false, example = "Bearer ")]
            prefix: Option<String>,
        },
        /// User and password (HTTP Basic, RFC 7617).
        Basic = "basic" {
            /// The user.
            #[schema(example = "dibble")]
            user: String,
        },
        /// OAuth 2.0 client credentials (RFC 6749, section 4.4).
        ClientCredentials = "client_credentials" {
            /// Where a token is got.
            #[schema(example = "https://records.example.org/oauth/token")]
            token_url: String,
            /// The id of the client.
            #[schema(example = "dibble")]
            client_id: String,
            /// What the token shall be good for.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false, example = "fields.read")]
            scope: Option<String>,
            /// Whether id and secret go into the body of the request for a token.
            #[serde(default)]
            #[schema(example = false)]
            in_body: bool,
        },
    }
}

impl RecordsAuthIn {
    /// What may be shown, and the secret.
    pub(in crate::v1::records_links) fn parted(self) -> (RecordsAuth, Option<Secret>) {
        match self {
            Self::Nobody {} => (RecordsAuth::Nobody {}, None),
            Self::Header { name, prefix, secret } => {
                (RecordsAuth::Header { name, prefix }, Some(secret.0))
            }
            Self::Basic { user, secret } => (RecordsAuth::Basic { user }, Some(secret.0)),
            Self::ClientCredentials { token_url, client_id, secret, scope, in_body } => {
                let shown = RecordsAuth::ClientCredentials { token_url, client_id, scope, in_body };
                (shown, Some(secret.0))
            }
        }
    }
}
