//! An issuer of our own making: it serves discovery and keys, well or badly, and signs tokens.

use std::sync::{Arc, Mutex};
use std::time::Duration;

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use ed25519_dalek::SigningKey;
use ed25519_dalek::pkcs8::EncodePrivateKey;
use jsonwebtoken::{Algorithm, EncodingKey, Header};
use serde_json::{Value, json};
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::{TcpListener, TcpStream};

/// How the stand-in behaves.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Mood {
    /// As it should.
    Good,
    /// Answers with this status.
    Status(u16),
    /// Answers after this time.
    Slow(Duration),
    /// Serves a key set without an end in sight.
    Huge,
    /// Sends everybody elsewhere.
    Redirects,
    /// Says in discovery that it is this one.
    CallsItself(String),
    /// Says in discovery that the keys are there.
    KeysAt(String),
    /// Serves this text for keys.
    Keys(&'static str),
}

struct Shared {
    mood: Mood,
    keys: Vec<Value>,
    max_age: u32,
    asked: usize,
}

/// An issuer on this computer.
pub(super) struct StandIn {
    base: String,
    shared: Arc<Mutex<Shared>>,
}

impl StandIn {
    /// Starts one that publishes the key of a signer.
    pub(super) async fn start(signer: &Signer) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").await.expect("a port");
        let base = format!("http://{}", listener.local_addr().expect("an address"));
        let keys = vec![signer.jwk()];
        let shared = Shared { mood: Mood::Good, keys, max_age: 600, asked: 0 };
        let shared = Arc::new(Mutex::new(shared));
        let (name, state) = (base.clone(), Arc::clone(&shared));
        tokio::spawn(async move {
            while let Ok((stream, _)) = listener.accept().await {
                tokio::spawn(answer(stream, name.clone(), Arc::clone(&state)));
            }
        });
        Self { base, shared }
    }

    /// Its name.
    pub(super) fn name(&self) -> String {
        self.base.clone()
    }

    pub(super) fn mood(&self, mood: Mood) {
        self.shared.lock().expect("the state").mood = mood;
    }

    pub(super) fn publish(&self, signers: &[&Signer]) {
        self.publish_raw(signers.iter().map(|signer| signer.jwk()).collect());
    }

    pub(super) fn publish_raw(&self, keys: Vec<Value>) {
        self.shared.lock().expect("the state").keys = keys;
    }

    /// How often discovery was asked for.
    pub(super) fn asked(&self) -> usize {
        self.shared.lock().expect("the state").asked
    }
}

async fn answer(mut stream: TcpStream, base: String, shared: Arc<Mutex<Shared>>) {
    let mut head = Vec::new();
    let mut part = [0; 1024];
    while !head.windows(4).any(|end| end == b"\r\n\r\n") {
        match stream.read(&mut part).await {
            Ok(read) if read > 0 => head.extend_from_slice(&part[..read]),
            _ => return,
        }
    }
    let head = String::from_utf8_lossy(&head).into_owned();
    let path = head.split(' ').nth(1).unwrap_or_default().to_owned();
    let (mood, keys, max_age) = {
        let mut shared = shared.lock().expect("the state");
        shared.asked += usize::from(path.ends_with("openid-configuration"));
        (shared.mood.clone(), shared.keys.clone(), shared.max_age)
    };
    if let Mood::Slow(time) = mood {
        tokio::time::sleep(time).await;
    }
    let (status, more, body) = match (path.as_str(), mood) {
        (_, Mood::Status(status)) => (status, String::new(), String::new()),
        (_, Mood::Redirects) => (302, format!("location: {base}/elsewhere\r\n"), String::new()),
        ("/.well-known/openid-configuration", mood) => {
            let (mut name, mut keys_at) = (base.clone(), format!("{base}/keys"));
            match mood {
                Mood::CallsItself(other) => name = other,
                Mood::KeysAt(other) => keys_at = other,
                _ => {}
            }
            (200, String::new(), json!({"issuer": name, "jwks_uri": keys_at}).to_string())
        }
        ("/keys", Mood::Keys(text)) => (200, String::new(), text.to_owned()),
        ("/keys", Mood::Huge) => {
            let junk = "x".repeat(4_000_000);
            (200, String::new(), json!({"keys": keys, "junk": junk}).to_string())
        }
        ("/keys", _) => {
            let more = format!("cache-control: max-age={max_age}\r\n");
            (200, more, json!({"keys": keys}).to_string())
        }
        _ => (404, String::new(), String::new()),
    };
    let head = format!(
        "HTTP/1.1 {status} X\r\ncontent-type: application/json\r\n{more}content-length: {}\r\n\
         connection: close\r\n\r\n",
        body.len()
    );
    // Whoever asked may have hung up: that is his right.
    let _ = stream.write_all(head.as_bytes()).await;
    let _ = stream.write_all(body.as_bytes()).await;
}

/// A key with its name.
pub(super) struct Signer {
    kid: String,
    pair: SigningKey,
}

impl Signer {
    pub(super) fn new(kid: &str, seed: u8) -> Self {
        Self { kid: kid.to_owned(), pair: SigningKey::from_bytes(&[seed; 32]) }
    }

    /// What is published.
    pub(super) fn jwk(&self) -> Value {
        let x = URL_SAFE_NO_PAD.encode(self.public());
        json!({
            "kty": "OKP", "crv": "Ed25519", "use": "sig", "alg": "EdDSA", "kid": self.kid, "x": x
        })
    }

    pub(super) fn public(&self) -> [u8; 32] {
        self.pair.verifying_key().to_bytes()
    }

    /// The header of a good token.
    pub(super) fn header(&self) -> Header {
        let mut header = Header::new(Algorithm::EdDSA);
        header.typ = Some("at+jwt".to_owned());
        header.kid = Some(self.kid.clone());
        header
    }

    pub(super) fn sign(&self, claims: &Value) -> String {
        self.sign_with(&self.header(), claims)
    }

    pub(super) fn sign_with(&self, header: &Header, claims: &Value) -> String {
        let der = self.pair.to_pkcs8_der().expect("a key");
        let key = EncodingKey::from_ed_der(der.as_bytes());
        jsonwebtoken::encode(header, claims, &key).expect("a token")
    }
}
