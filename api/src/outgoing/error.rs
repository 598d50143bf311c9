//! Why a request that goes out failed, in words for people.

use std::error::Error;
use std::io;

use super::handshake;

/// Why it failed. The words are shown to whoever named the address: they hold no address of a network and no secret.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum OutgoingError {
    /// Not an address that anything could be sent to.
    #[error("This is no address that can be used: {0}.")]
    Address(&'static str),
    /// Without TLS.
    #[error(
        "Plain http goes only to networks that the operator of the service allows; the address must begin with https."
    )]
    Plain,
    /// It leads to where the service must not be sent.
    #[error(
        "The address leads to {what}, not to the public internet. The operator of the service can allow that network."
    )]
    NotPublic {
        /// What is there.
        what: &'static str,
    },
    /// Nobody knows the name.
    #[error("The name in the address is not known.")]
    UnknownName,
    /// Nobody answers there.
    #[error("No connection: nobody answers at the address, or the connection breaks off at once.")]
    Connect,
    /// Somebody answers there who can't show who he is.
    #[error("No safe connection: the certificate at the address {why}.")]
    Certificate {
        /// What is wrong with it.
        why: &'static str,
    },
    /// Somebody answers there without TLS, or with one that is too old.
    #[error("No safe connection: what answers at the address speaks no TLS 1.2 or 1.3.")]
    NoTls,
    /// From TLS to none.
    #[error("From https it leads to plain http.")]
    Downgrade,
    /// The connection ended in the middle.
    #[error("The connection broke off.")]
    Broken,
    /// It took too long.
    #[error("There was no whole answer within {seconds} s.")]
    Late {
        /// How long it might take.
        seconds: u64,
    },
    /// The answer is too long.
    #[error("The answer has more than {most_bytes} bytes.")]
    TooLong {
        /// How long it might be.
        most_bytes: usize,
    },
    /// The answer is compressed, and can't be read.
    #[error("The answer is compressed in a way that can't be read.")]
    Compressed,
    /// Too many redirects.
    #[error("The address redirects more than {most} times.")]
    Redirects {
        /// How often it might.
        most: u8,
    },
    /// A redirect that is not followed.
    #[error("The address redirects to one that is not used: {0}")]
    Redirected(Box<OutgoingError>),
    /// This computer trusts nobody.
    #[error("The service has no certificates of authorities, and so can't use https.")]
    NoAuthorities,
}

impl OutgoingError {
    /// What the client for HTTP says. What our resolver refused is in the chain of causes.
    pub(super) fn of(error: &reqwest::Error) -> Self {
        let mut next: Option<&(dyn Error + 'static)> = Some(error);
        while let Some(cause) = next {
            if let Some(ours) = cause.downcast_ref::<Self>() {
                return ours.clone();
            }
            if let Some(tls) = cause.downcast_ref::<rustls::Error>() {
                return handshake::failure(tls);
            }
            next = inside(cause);
        }
        if error.is_connect() { Self::Connect } else { Self::Broken }
    }
}

/// The cause of a cause. An error of input or output hides what it was made from.
fn inside<'a>(cause: &'a (dyn Error + 'static)) -> Option<&'a (dyn Error + 'static)> {
    match cause.downcast_ref::<io::Error>().and_then(io::Error::get_ref) {
        Some(made_from) => Some(made_from),
        None => cause.source(),
    }
}
