//! A records system on this computer, whose answers a test writes.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};

use actix_web::http::header::HeaderMap;
use actix_web::web::{self, Bytes, Data};
use actix_web::{App, HttpRequest, HttpResponse, HttpServer};

/// What it was asked.
#[derive(Debug, Clone)]
pub struct Asked {
    pub method: String,
    /// Path with its parameters.
    pub target: String,
    pub path: String,
    pub query: BTreeMap<String, String>,
    pub headers: BTreeMap<String, String>,
    pub body: String,
}

impl Asked {
    fn of(request: &HttpRequest, body: &Bytes) -> Self {
        let query = web::Query::<BTreeMap<String, String>>::from_query(request.query_string());
        Self {
            method: request.method().to_string(),
            target: request.uri().to_string(),
            path: request.path().to_owned(),
            query: query.expect("parameters").into_inner(),
            headers: headers(request.headers()),
            body: String::from_utf8_lossy(body).into_owned(),
        }
    }

    pub fn header(&self, name: &str) -> &str {
        self.headers.get(name).map_or("", String::as_str)
    }
}

fn headers(all: &HeaderMap) -> BTreeMap<String, String> {
    let text = |value: &actix_web::http::header::HeaderValue| {
        String::from_utf8_lossy(value.as_bytes()).into_owned()
    };
    all.iter().map(|(name, value)| (name.to_string(), text(value))).collect()
}

type Script = Box<dyn Fn(&Asked) -> HttpResponse + Send>;

struct Inside {
    asked: Mutex<Vec<Asked>>,
    script: Mutex<Script>,
}

/// A records system.
pub struct StandIn {
    pub base: String,
    inside: Arc<Inside>,
    server: actix_web::dev::ServerHandle,
}

impl StandIn {
    pub async fn start(script: impl Fn(&Asked) -> HttpResponse + Send + 'static) -> Self {
        let script: Script = Box::new(script);
        let inside = Arc::new(Inside { asked: Mutex::default(), script: Mutex::new(script) });
        let shared = Data::from(inside.clone());
        let server = HttpServer::new(move || {
            App::new().app_data(shared.clone()).default_service(web::to(answer))
        })
        .workers(1)
        .disable_signals()
        .bind(("127.0.0.1", 0))
        .expect("a port");
        let base = format!("http://{}", server.addrs()[0]);
        let server = server.run();
        let handle = server.handle();
        tokio::spawn(server);
        Self { base, inside, server: handle }
    }

    /// What it answers from now on.
    pub fn answers(&self, script: impl Fn(&Asked) -> HttpResponse + Send + 'static) {
        *self.inside.script.lock().expect("a lock") = Box::new(script);
    }

    /// What it was asked since this was last looked at.
    pub fn take(&self) -> Vec<Asked> {
        std::mem::take(&mut *self.inside.asked.lock().expect("a lock"))
    }

    pub async fn stop(&self) {
        self.server.stop(false).await;
    }
}

async fn answer(inside: Data<Inside>, request: HttpRequest, body: Bytes) -> HttpResponse {
    let asked = Asked::of(&request, &body);
    let answer = (inside.script.lock().expect("a lock"))(&asked);
    inside.asked.lock().expect("a lock").push(asked);
    answer
}
