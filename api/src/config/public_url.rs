//! Under which address the service is reached from outside.

use std::fmt;
use std::str::FromStr;

/// The address of the service as its users know it, without a slash at the end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PublicUrl(String);

impl PublicUrl {
    /// The address itself.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The address of a path that begins with a slash.
    pub fn of(&self, path: &str) -> String {
        format!("{}{path}", self.0)
    }
}

/// Where the service listens when nothing is set.
impl Default for PublicUrl {
    fn default() -> Self {
        Self("http://127.0.0.1:8180".to_owned())
    }
}

impl fmt::Display for PublicUrl {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl FromStr for PublicUrl {
    type Err = &'static str;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let url = reqwest::Url::parse(text).map_err(|_error| "this is no URL")?;
        if !matches!(url.scheme(), "http" | "https") {
            return Err("the URL begins with http:// or https://");
        }
        if url.query().is_some() || url.fragment().is_some() || !url.username().is_empty() {
            return Err("the URL has neither user, nor query, nor fragment");
        }
        Ok(Self(url.as_str().trim_end_matches('/').to_owned()))
    }
}

#[cfg(test)]
mod tests {
    use super::PublicUrl;

    #[test]
    fn it_is_a_plain_address_without_a_slash_at_the_end() {
        let url: PublicUrl = "https://dibble.example.org/".parse().expect("valid");
        assert_eq!(url.of("/go"), "https://dibble.example.org/go");
        let under: PublicUrl = "https://example.org/dibble".parse().expect("valid");
        assert_eq!(under.to_string(), "https://example.org/dibble");
        for bad in
            ["", "example.org", "ftp://a.example", "https://a.example?b", "https://a@b.example"]
        {
            assert!(bad.parse::<PublicUrl>().is_err(), "{bad}");
        }
    }
}
