//! A receiver of notices on this computer.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};
use std::time::Duration;

use actix_web::web::{self, Bytes, Data};
use actix_web::{App, HttpRequest, HttpResponse, HttpServer};
use serde_json::Value;
use standardwebhooks::Webhook;

/// What came in.
#[derive(Debug, Clone)]
pub struct Notice {
    /// `webhook-id`
    pub id: String,
    /// `webhook-timestamp`
    pub timestamp: i64,
    /// Each of `webhook-signature`.
    pub signatures: Vec<String>,
    pub content_type: String,
    pub user_agent: String,
    pub body: Vec<u8>,
}

impl Notice {
    pub fn json(&self) -> Value {
        serde_json::from_slice(&self.body).expect("JSON")
    }

    /// Whether one of the signatures is what the library of the standard makes with this secret.
    pub fn is_signed_with(&self, secret: &str) -> bool {
        let signer = Webhook::new(secret).expect("a secret");
        let wanted = signer.sign(&self.id, self.timestamp, &self.body).expect("signed");
        self.signatures.contains(&wanted)
    }
}

/// What it answers: a status, headers, after a while.
#[derive(Debug, Clone, Default)]
pub struct Reply {
    pub status: u16,
    pub headers: Vec<(&'static str, String)>,
    pub after: Duration,
}

impl Reply {
    pub fn of(status: u16) -> Self {
        Self { status, ..Self::default() }
    }
}

type Script = Box<dyn Fn(&Notice) -> Reply + Send>;

struct Inside {
    notices: Mutex<Vec<Notice>>,
    script: Mutex<Script>,
    at_once: AtomicUsize,
    most_at_once: AtomicUsize,
}

/// A receiver; it answers 204 until it is told otherwise.
pub struct Receiver {
    pub url: String,
    inside: Arc<Inside>,
    server: actix_web::dev::ServerHandle,
}

impl Receiver {
    pub async fn start() -> Self {
        let inside = Arc::new(Inside {
            notices: Mutex::default(),
            script: Mutex::new(Box::new(|_| Reply::of(204))),
            at_once: AtomicUsize::new(0),
            most_at_once: AtomicUsize::new(0),
        });
        let shared = Data::from(inside.clone());
        let server = HttpServer::new(move || {
            App::new().app_data(shared.clone()).default_service(web::to(take))
        })
        .workers(1)
        .disable_signals()
        .bind(("127.0.0.1", 0))
        .expect("a port");
        let url = format!("http://{}/notices", server.addrs()[0]);
        let server = server.run();
        let handle = server.handle();
        tokio::spawn(server);
        Self { url, inside, server: handle }
    }

    /// What it answers from now on.
    pub fn answers(&self, script: impl Fn(&Notice) -> Reply + Send + 'static) {
        *self.inside.script.lock().expect("a lock") = Box::new(script);
    }

    pub fn count(&self) -> usize {
        self.inside.notices.lock().expect("a lock").len()
    }

    /// What came in since this was last asked.
    pub fn take(&self) -> Vec<Notice> {
        std::mem::take(&mut *self.inside.notices.lock().expect("a lock"))
    }

    /// How many notices it held at the same time, at most.
    pub fn most_at_once(&self) -> usize {
        self.inside.most_at_once.load(Ordering::SeqCst)
    }

    /// Waits for this many.
    pub async fn wait_for(&self, count: usize, patience: Duration) -> bool {
        let waits = async {
            while self.count() < count {
                tokio::time::sleep(Duration::from_millis(10)).await;
            }
        };
        tokio::time::timeout(patience, waits).await.is_ok()
    }

    pub async fn stop(&self) {
        self.server.stop(false).await;
    }
}

async fn take(inside: Data<Inside>, request: HttpRequest, body: Bytes) -> HttpResponse {
    let header = |name: &str| {
        let value = request.headers().get(name);
        value.map(|it| it.to_str().expect("text").to_owned()).unwrap_or_default()
    };
    let notice = Notice {
        id: header("webhook-id"),
        timestamp: header("webhook-timestamp").parse().expect("seconds"),
        signatures: header("webhook-signature").split(' ').map(str::to_owned).collect(),
        content_type: header("content-type"),
        user_agent: header("user-agent"),
        body: body.to_vec(),
    };
    let now = inside.at_once.fetch_add(1, Ordering::SeqCst) + 1;
    inside.most_at_once.fetch_max(now, Ordering::SeqCst);
    let reply = (inside.script.lock().expect("a lock"))(&notice);
    inside.notices.lock().expect("a lock").push(notice);
    if !reply.after.is_zero() {
        tokio::time::sleep(reply.after).await;
    }
    inside.at_once.fetch_sub(1, Ordering::SeqCst);
    let status = actix_web::http::StatusCode::from_u16(reply.status).expect("a status");
    let mut answer = HttpResponse::build(status);
    for (name, value) in reply.headers {
        answer.insert_header((name, value));
    }
    answer.body("noted")
}
