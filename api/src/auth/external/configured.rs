//! The file of outside issuers.

use std::collections::HashSet;
use std::path::Path;

use jsonwebtoken::Algorithm;
use reqwest::Url;
use serde::Deserialize;
use uuid::Uuid;

/// Why the outside issuers can't be used.
#[derive(Debug, thiserror::Error)]
pub enum IssuersError {
    /// The file can't be read.
    #[error("the file of outside issuers can't be read")]
    Unreadable(#[from] std::io::Error),
    /// The file is no JSON of the right form.
    #[error("the file of outside issuers has not the right form")]
    Form(#[from] serde_json::Error),
    /// What it says can't be.
    #[error("the outside issuer {issuer}: {why}")]
    Wrong {
        /// Which.
        issuer: String,
        /// Why.
        why: &'static str,
    },
    /// The database failed.
    #[error("the practices of the outside issuers can't be read")]
    Database(#[from] sea_orm::DbErr),
    /// The client that asks the issuers can't be made.
    #[error("outside issuers can't be asked")]
    Client(#[from] reqwest::Error),
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    issuers: Vec<Configured>,
}

/// An outside issuer.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Configured {
    /// Its name: the `iss` of its tokens, letter by letter.
    pub(super) issuer: String,
    /// For whom its tokens must be.
    pub(super) audience: String,
    /// The practice whose accounts its tokens lead to.
    pub(super) practice_id: Uuid,
    /// The algorithms that it may use.
    #[serde(default = "all_algorithms")]
    pub(super) algorithms: Vec<SignedWith>,
    /// The types of token that are taken.
    #[serde(default = "access_tokens")]
    pub(super) token_types: Vec<TokenType>,
    /// The programs that a token may have been made for; the audience alone when empty.
    #[serde(default)]
    pub(super) authorized_parties: Vec<String>,
}

/// An algorithm with a public key. There are no others, so none can be set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub(super) enum SignedWith {
    /// RSA with SHA-256.
    #[serde(rename = "RS256")]
    Rs256,
    /// ECDSA on P-256 with SHA-256.
    #[serde(rename = "ES256")]
    Es256,
    /// Ed25519.
    #[serde(rename = "EdDSA")]
    EdDsa,
}

impl SignedWith {
    /// As the library knows it.
    pub(super) fn algorithm(self) -> Algorithm {
        match self {
            Self::Rs256 => Algorithm::RS256,
            Self::Es256 => Algorithm::ES256,
            Self::EdDsa => Algorithm::EdDSA,
        }
    }
}

/// A type of token, as its header names it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub(super) enum TokenType {
    /// An access token (RFC 9068).
    #[serde(rename = "at+jwt")]
    AccessToken,
    /// Any token, also one that names no type: for issuers that do not tell access tokens apart. ID
    /// tokens for the same audience are taken then, too.
    #[serde(rename = "JWT")]
    Jwt,
}

fn all_algorithms() -> Vec<SignedWith> {
    vec![SignedWith::Rs256, SignedWith::Es256, SignedWith::EdDsa]
}

fn access_tokens() -> Vec<TokenType> {
    vec![TokenType::AccessToken]
}

/// Reads and checks the file.
pub(super) fn read(file: &Path) -> Result<Vec<Configured>, IssuersError> {
    parse(&std::fs::read(file)?)
}

fn parse(text: &[u8]) -> Result<Vec<Configured>, IssuersError> {
    let File { issuers } = serde_json::from_slice(text)?;
    let mut seen = HashSet::new();
    for one in &issuers {
        let wrong = |why| IssuersError::Wrong { issuer: one.issuer.clone(), why };
        check_url(&one.issuer).map_err(wrong)?;
        if one.audience.is_empty() || one.algorithms.is_empty() || one.token_types.is_empty() {
            return Err(wrong("audience, algorithms and token_types must not be empty"));
        }
        if !seen.insert(one.issuer.as_str()) {
            return Err(wrong("it is there twice, and a token could be of either practice"));
        }
    }
    Ok(issuers)
}

/// `https`, or any on this computer; nothing but an address (OpenID Connect Discovery, section 3).
fn check_url(text: &str) -> Result<(), &'static str> {
    let url = Url::parse(text).map_err(|_error| "the name is no URL")?;
    if !is_safe(&url) {
        return Err("the URL must begin with https:// (http:// only on this computer)");
    }
    if url.query().is_some() || url.fragment().is_some() || !url.username().is_empty() {
        return Err("the URL has neither user, nor query, nor fragment");
    }
    Ok(())
}

/// Whether nobody on the way can change what comes from there.
pub(super) fn is_safe(url: &Url) -> bool {
    url.scheme() == "https" || (url.scheme() == "http" && is_here(url))
}

/// Whether the address is this computer's.
pub(super) fn is_here(url: &Url) -> bool {
    matches!(url.host_str(), Some("127.0.0.1" | "[::1]" | "localhost"))
}

#[cfg(test)]
mod tests {
    use super::{Configured, SignedWith, TokenType, parse};

    fn file(issuer: &str, more: &str) -> Option<Vec<Configured>> {
        let text = format!(
            r#"{{"issuers": [{{"issuer": "{issuer}", "audience": "dibble",
                "practice_id": "01964f1e-6a00-7000-8000-000000000001"{more}}}]}}"#
        );
        parse(text.as_bytes()).ok()
    }

    #[test]
    fn what_is_not_said_is_the_strict_choice() {
        let read = file("https://login.example.org", "").expect("valid");
        assert_eq!(read[0].token_types, [TokenType::AccessToken]);
        assert_eq!(read[0].algorithms, [SignedWith::Rs256, SignedWith::Es256, SignedWith::EdDsa]);
        assert!(read[0].authorized_parties.is_empty());
    }

    #[test]
    fn only_https_or_this_computer_is_taken() {
        for good in ["https://a.example", "https://a.example/realms/b", "http://127.0.0.1:9000"] {
            assert!(file(good, "").is_some(), "{good}");
        }
        for bad in
            ["http://a.example", "a", "https://a.example?b", "https://u@a.example", "ftp://a"]
        {
            assert!(file(bad, "").is_none(), "{bad}");
        }
    }

    #[test]
    fn no_secret_key_no_none_no_slip_and_no_issuer_twice() {
        for more in [
            r#", "algorithms": ["HS256"]"#,
            r#", "algorithms": ["none"]"#,
            r#", "algorithms": []"#,
            r#", "audiense": "x""#,
        ] {
            assert!(file("https://a.example", more).is_none(), "{more}");
        }
        let one = r#"{"issuer": "https://a.example", "audience": "a",
            "practice_id": "01964f1e-6a00-7000-8000-000000000001"}"#;
        let twice = format!(r#"{{"issuers": [{one}, {one}]}}"#);
        assert!(parse(twice.as_bytes()).is_err());
    }
}
