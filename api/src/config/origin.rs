//! The origin of a web page.

use std::str::FromStr;

use actix_web::http::Uri;

/// Scheme, host and port of a web page, as a browser sends it in `Origin`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Origin(String);

/// The text is no origin.
#[derive(Debug, thiserror::Error)]
#[error(
    "an origin is a scheme and a host, such as https://app.example.org; each is named, there is no *"
)]
pub struct NoOrigin;

impl Origin {
    /// As a browser sends it.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl FromStr for Origin {
    type Err = NoOrigin;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let address: Uri = text.parse().map_err(|_bad| NoOrigin)?;
        let (Some(scheme @ ("http" | "https")), Some(host)) =
            (address.scheme_str(), address.authority())
        else {
            return Err(NoOrigin);
        };
        // Nothing after the host: an origin has no path, no user, no capital letters.
        let origin = format!("{scheme}://{host}");
        let plain = origin == text && !origin.contains(['@', '*']);
        if plain && origin == origin.to_ascii_lowercase() {
            Ok(Self(origin))
        } else {
            Err(NoOrigin)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Origin;

    #[test]
    fn an_origin_is_scheme_host_and_port() {
        for text in ["https://app.example.org", "http://127.0.0.1:3000", "http://[::1]:8080"] {
            assert_eq!(text.parse::<Origin>().expect(text).as_str(), text);
        }
        for text in [
            "*",
            "null",
            "",
            "https://*.example.org",
            "https://app.example.org/",
            "https://app.example.org/path",
            "https://ann@app.example.org",
            "HTTPS://app.example.org",
            "app.example.org",
            "file:///home",
            "ftp://app.example.org",
        ] {
            assert!(text.parse::<Origin>().is_err(), "{text}");
        }
    }
}
