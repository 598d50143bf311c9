//! Why TLS was not agreed on, in words for people.

use rustls::{CertificateError, Error};

use super::error::OutgoingError;

/// What a failure of TLS says. Whom the certificate is for is not told: a network of the operator may have names that
/// are nobody else's business.
pub(super) fn failure(error: &Error) -> OutgoingError {
    match error {
        Error::InvalidCertificate(why) => OutgoingError::Certificate { why: words(why) },
        Error::NoCertificatesPresented => OutgoingError::Certificate { why: "is missing" },
        _ => OutgoingError::NoTls,
    }
}

fn words(why: &CertificateError) -> &'static str {
    use CertificateError as Why;
    match why {
        Why::UnknownIssuer => {
            "comes from an authority that the service does not know, or those between are not sent along. The operator of the service can add an authority"
        }
        Why::NotValidForName | Why::NotValidForNameContext { .. } => "is for another name",
        Why::Expired | Why::ExpiredContext { .. } => "has expired",
        Why::NotValidYet | Why::NotValidYetContext { .. } => "is not valid yet",
        Why::Revoked => "was withdrawn",
        Why::BadSignature => "was not signed by the authority that it names",
        Why::InvalidPurpose | Why::InvalidPurposeContext { .. } => "is not for a server",
        _ => "can't be used",
    }
}
