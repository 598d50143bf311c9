//! TLS of outgoing requests.

use reqwest::{Certificate, Client, ClientBuilder};

/// Makes `ring` the provider of cryptography: the database driver uses it too, so that only one is
/// linked. Without a provider no client for HTTP can be built.
pub fn use_ring() {
    // An error says that a provider is there already.
    drop(rustls::crypto::ring::default_provider().install_default());
}

/// A client that speaks plain HTTP only, as to a service on this computer: it trusts nobody's
/// certificate, and so needs none on a computer that has none.
pub fn plain_client() -> ClientBuilder {
    use_ring();
    Client::builder().tls_certs_only(std::iter::empty::<Certificate>())
}
