//! Authorities that are trusted besides those that this computer knows.

use std::io;
use std::path::{Path, PathBuf};

use reqwest::Certificate;
use rustls::RootCertStore;
use rustls::pki_types::CertificateDer;
use rustls::pki_types::pem::{self, PemObject};

/// Why the file of `DIBBLE_OUTGOING_CA` is of no use.
#[derive(Debug, thiserror::Error)]
pub enum AuthoritiesError {
    /// It can't be read.
    #[error("the file of certificates {path:?} (DIBBLE_OUTGOING_CA) can't be read")]
    File {
        /// The file.
        path: PathBuf,
        /// What the operating system said.
        source: io::Error,
    },
    /// It is no PEM.
    #[error("block {nth} of {path:?} (DIBBLE_OUTGOING_CA) is no certificate in PEM")]
    Pem {
        /// The file.
        path: PathBuf,
        /// Which certificate, from 1.
        nth: usize,
        /// What is wrong with it.
        source: pem::Error,
    },
    /// There is none.
    #[error(
        "{path:?} (DIBBLE_OUTGOING_CA) holds no certificate: each begins with `-----BEGIN CERTIFICATE-----`"
    )]
    None {
        /// The file.
        path: PathBuf,
    },
    /// What stands there is none.
    #[error("certificate {nth} of {path:?} (DIBBLE_OUTGOING_CA) can't be used")]
    Unusable {
        /// The file.
        path: PathBuf,
        /// Which certificate, from 1.
        nth: usize,
        /// What is wrong with it.
        source: Box<dyn std::error::Error + Send + Sync>,
    },
}

/// Certificates of authorities that are trusted besides those that this computer knows.
#[derive(Debug, Clone, Default)]
pub struct Authorities(Vec<Certificate>);

impl Authorities {
    /// Reads a file of certificates (PEM), where there is one. What else stands between them, such as words, is
    /// passed over.
    ///
    /// # Errors
    /// When it can't be read, holds none, or one that can't be used.
    pub fn of(file: Option<&Path>) -> Result<Self, AuthoritiesError> {
        let Some(path) = file else { return Ok(Self::default()) };
        let path = path.to_owned();
        match std::fs::read(&path) {
            Ok(text) => Self::read(path, &text),
            Err(source) => Err(AuthoritiesError::File { path, source }),
        }
    }

    fn read(path: PathBuf, text: &[u8]) -> Result<Self, AuthoritiesError> {
        let mut all = Vec::new();
        for (nth, block) in (1..).zip(CertificateDer::pem_slice_iter(text)) {
            let certificate = match block {
                Ok(block) => usable(&block),
                Err(source) => return Err(AuthoritiesError::Pem { path, nth, source }),
            };
            match certificate {
                Ok(certificate) => all.push(certificate),
                Err(source) => return Err(AuthoritiesError::Unusable { path, nth, source }),
            }
        }
        if all.is_empty() {
            return Err(AuthoritiesError::None { path });
        }
        Ok(Self(all))
    }

    /// The certificates.
    pub(super) fn certificates(&self) -> impl Iterator<Item = Certificate> {
        self.0.iter().cloned()
    }
}

/// The client takes any bytes and fails when it is first needed, so they are looked at here.
fn usable(
    block: &CertificateDer<'_>,
) -> Result<Certificate, Box<dyn std::error::Error + Send + Sync>> {
    RootCertStore::empty().add(block.clone())?;
    Ok(Certificate::from_der(block)?)
}

#[cfg(test)]
mod tests {
    use super::{Authorities, AuthoritiesError};
    use std::path::Path;

    fn read(text: &str) -> Result<Authorities, AuthoritiesError> {
        Authorities::read("ca.pem".into(), text.as_bytes())
    }

    #[test]
    fn without_a_file_nobody_is_added() {
        assert_eq!(Authorities::of(None).expect("nobody").certificates().count(), 0);
    }

    #[test]
    fn a_file_that_is_of_no_use_says_why() {
        let error = Authorities::of(Some(Path::new("/nowhere/ca.pem"))).expect_err("no file");
        assert!(matches!(error, AuthoritiesError::File { .. }), "{error:?}");
        assert!(error.to_string().contains("/nowhere/ca.pem"), "{error}");
        for text in
            ["", "no certificate", "-----BEGIN PUBLIC KEY-----\nAA==\n-----END PUBLIC KEY-----"]
        {
            let error = read(text).expect_err(text);
            assert!(matches!(error, AuthoritiesError::None { .. }), "{text}: {error:?}");
            assert!(error.to_string().contains("DIBBLE_OUTGOING_CA"), "{error}");
        }
        let cut = "-----BEGIN CERTIFICATE-----\nAAAA\n";
        let error = read(cut).expect_err("cut off");
        assert!(matches!(error, AuthoritiesError::Pem { nth: 1, .. }), "{error:?}");
        let odd = "-----BEGIN CERTIFICATE-----\nAAAA\n-----END CERTIFICATE-----\n";
        let error = read(odd).expect_err("no certificate inside");
        assert!(matches!(error, AuthoritiesError::Unusable { nth: 1, .. }), "{error:?}");
    }
}
