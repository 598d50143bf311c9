//! Authorities, certificates, and TLS before a server that speaks plain HTTP.

use std::net::SocketAddr;
use std::sync::Arc;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use rcgen::{
    BasicConstraints, Certificate, CertificateParams, DnType, IsCa, Issuer, KeyPair,
    KeyUsagePurpose,
};
use rustls::pki_types::{CertificateDer, PrivatePkcs8KeyDer};
use rustls::{ServerConfig, SupportedProtocolVersion};
use tempfile::NamedTempFile;
use tokio::io::copy_bidirectional;
use tokio::net::{TcpListener, TcpStream};
use tokio::task::JoinHandle;
use tokio_rustls::TlsAcceptor;

/// An authority that was made for a test.
pub struct Authority {
    issuer: Issuer<'static, KeyPair>,
    pem: String,
}

/// What a server shows, and the key for it.
pub struct Identity {
    chain: Vec<CertificateDer<'static>>,
    key: KeyPair,
}

/// The years in which a certificate is valid, from the first of January to the first of January.
pub type Years = (i32, i32);

/// Long before and long after any day on which a test runs.
pub const ALWAYS: Years = (2000, 2900);

impl Authority {
    /// A new one, which nobody knows.
    pub fn make() -> Self {
        Self::named("An authority of the house")
    }

    /// A new one that calls itself so.
    pub fn named(name: &str) -> Self {
        let key = KeyPair::generate().expect("a key");
        let params = of_an_authority(name);
        let pem = pem(&params.self_signed(&key).expect("signed"));
        Self { issuer: Issuer::new(params, key), pem }
    }

    /// Its certificate in a file that is there as long as this is.
    pub fn file(&self) -> NamedTempFile {
        let file = NamedTempFile::new().expect("a file");
        std::fs::write(file.path(), format!("The authority of the house.\n\n{}", self.pem))
            .expect("written");
        file
    }

    /// A certificate for a name or an address.
    pub fn identity(&self, name: &str, years: Years) -> Identity {
        let key = KeyPair::generate().expect("a key");
        let signed = of_a_server(name, years).signed_by(&key, &self.issuer).expect("signed");
        Identity { chain: vec![signed.der().clone()], key }
    }

    /// A certificate by an authority under this one, whose own certificate is sent along, or is not.
    pub fn identity_below(&self, name: &str, sent_along: bool) -> Identity {
        let between_key = KeyPair::generate().expect("a key");
        let params = of_an_authority("An authority below it");
        let between = params.signed_by(&between_key, &self.issuer).expect("signed").der().clone();
        let below = Self { issuer: Issuer::new(params, between_key), pem: String::new() };
        let mut identity = below.identity(name, ALWAYS);
        if sent_along {
            identity.chain.push(between);
        }
        identity
    }
}

impl Identity {
    /// A certificate that was signed by itself; also as a file.
    pub fn by_itself(name: &str) -> (Self, NamedTempFile) {
        let key = KeyPair::generate().expect("a key");
        let signed = of_a_server(name, ALWAYS).self_signed(&key).expect("signed");
        let file = NamedTempFile::new().expect("a file");
        std::fs::write(file.path(), pem(&signed)).expect("written");
        (Self { chain: vec![signed.der().clone()], key }, file)
    }
}

/// RFC 7468, section 5.
fn pem(certificate: &Certificate) -> String {
    let text = STANDARD.encode(certificate.der());
    let lines: Vec<&str> =
        text.as_bytes().chunks(64).map(|line| std::str::from_utf8(line).expect("ASCII")).collect();
    format!("-----BEGIN CERTIFICATE-----\n{}\n-----END CERTIFICATE-----\n", lines.join("\n"))
}

fn of_an_authority(name: &str) -> CertificateParams {
    let mut params = CertificateParams::new([]).expect("names");
    params.distinguished_name.push(DnType::CommonName, name);
    params.is_ca = IsCa::Ca(BasicConstraints::Unconstrained);
    params.key_usages = vec![KeyUsagePurpose::KeyCertSign, KeyUsagePurpose::CrlSign];
    params
}

fn of_a_server(name: &str, (from, to): Years) -> CertificateParams {
    let mut params = CertificateParams::new([name.to_owned()]).expect("a name");
    params.distinguished_name.push(DnType::CommonName, "A server of the house");
    params.not_before = rcgen::date_time_ymd(from, 1, 1);
    params.not_after = rcgen::date_time_ymd(to, 1, 1);
    params
}

/// TLS before a server that speaks plain HTTP: what comes in goes on to it.
pub struct TlsFront {
    /// Its port on this computer.
    pub port: u16,
    task: JoinHandle<()>,
}

impl TlsFront {
    /// With TLS 1.2 and 1.3, before the server at an address such as `http://127.0.0.1:8180/path`.
    pub async fn start(identity: Identity, before: &str) -> Self {
        Self::with_versions(identity, before, rustls::ALL_VERSIONS).await
    }

    /// With some versions of TLS.
    pub async fn with_versions(
        identity: Identity,
        before: &str,
        versions: &[&'static SupportedProtocolVersion],
    ) -> Self {
        let before = socket(before);
        let provider = Arc::new(rustls::crypto::ring::default_provider());
        let key = PrivatePkcs8KeyDer::from(identity.key.serialize_der());
        let config = ServerConfig::builder_with_provider(provider)
            .with_protocol_versions(versions)
            .expect("versions")
            .with_no_client_auth()
            .with_single_cert(identity.chain, key.into())
            .expect("a certificate and its key");
        let acceptor = TlsAcceptor::from(Arc::new(config));
        let listener = TcpListener::bind(("127.0.0.1", 0)).await.expect("a port");
        let port = listener.local_addr().expect("an address").port();
        let task = tokio::spawn(async move {
            while let Ok((stream, _)) = listener.accept().await {
                let acceptor = acceptor.clone();
                tokio::spawn(async move {
                    // Who does not trust us goes away: that is what some tests are about.
                    let Ok(mut inside) = acceptor.accept(stream).await else { return };
                    let Ok(mut outside) = TcpStream::connect(before).await else { return };
                    drop(copy_bidirectional(&mut inside, &mut outside).await);
                });
            }
        });
        Self { port, task }
    }

    /// Where it answers, by name.
    pub fn base(&self) -> String {
        format!("https://localhost:{}", self.port)
    }
}

impl Drop for TlsFront {
    fn drop(&mut self) {
        self.task.abort();
    }
}

fn socket(url: &str) -> SocketAddr {
    let rest = url.strip_prefix("http://").expect("plain http");
    rest.split('/').next().expect("a host").parse().expect("an address with a port")
}
