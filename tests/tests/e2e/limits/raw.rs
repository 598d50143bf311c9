//! A client that says byte by byte what it sends, and when.

use std::time::Duration;

use serde_json::Value;
use tests::{TestApp, User};
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::TcpStream;
use tokio::time::{Instant, sleep, timeout};

/// Longer than any answer here may take.
const PATIENCE: Duration = Duration::from_secs(9);

/// A connection.
pub struct Raw(TcpStream);

/// What came back, and when.
pub struct Heard {
    /// The status; none where the connection was closed without a word.
    pub status: Option<u16>,
    /// Head and body.
    pub text: String,
    /// How long after the beginning.
    pub after: Duration,
}

impl Raw {
    pub async fn connect(app: &TestApp) -> Self {
        let address = app.base.trim_start_matches("http://");
        Self(TcpStream::connect(address).await.expect("a connection"))
    }

    /// Sends text; a connection that was closed meanwhile is no failure of the test.
    pub async fn say(&mut self, text: &str) -> bool {
        self.0.write_all(text.as_bytes()).await.is_ok()
    }

    /// Sends one more piece every `pause` until something comes back, and reads it.
    pub async fn drip(&mut self, piece: &str, pause: Duration) -> Heard {
        let started = Instant::now();
        let mut heard = Vec::new();
        let mut buffer = [0; 4096];
        while started.elapsed() < PATIENCE {
            tokio::select! {
                read = self.0.read(&mut buffer) => match read {
                    Ok(0) | Err(_) => return Heard::of(&heard, started),
                    Ok(length) => {
                        heard.extend_from_slice(&buffer[..length]);
                        if is_whole(&heard) {
                            return Heard::of(&heard, started);
                        }
                    }
                },
                () = sleep(pause) => {
                    self.say(piece).await;
                }
            }
        }
        panic!("nothing came back in {PATIENCE:?}");
    }

    /// Reads what comes back without saying more.
    pub async fn hear(&mut self) -> Heard {
        self.drip("", PATIENCE).await
    }

    /// Whether the other side closes the connection soon.
    pub async fn is_closed(&mut self) -> bool {
        let mut buffer = [0; 4096];
        let closed = async {
            loop {
                if matches!(self.0.read(&mut buffer).await, Ok(0) | Err(_)) {
                    return;
                }
            }
        };
        timeout(PATIENCE, closed).await.is_ok()
    }
}

/// A head, and as much of a body as it says; or a head without one.
fn is_whole(heard: &[u8]) -> bool {
    let text = String::from_utf8_lossy(heard).to_lowercase();
    let Some((head, body)) = text.split_once("\r\n\r\n") else { return false };
    let length = head.lines().find_map(|line| line.strip_prefix("content-length: "));
    length.is_none_or(|length| body.len() >= length.trim().parse::<usize>().expect("a length"))
}

impl Heard {
    fn of(heard: &[u8], started: Instant) -> Self {
        let text = String::from_utf8_lossy(heard).into_owned();
        let status = text.split(' ').nth(1).and_then(|status| status.parse().ok());
        Self { status, text, after: started.elapsed() }
    }

    /// The problem in the body.
    pub fn problem(&self) -> Value {
        let (_, body) = self.text.split_once("\r\n\r\n").expect("a body");
        serde_json::from_str(body).unwrap_or_else(|error| panic!("{error}: {}", self.text))
    }
}

/// The head of a request of someone who is signed in.
pub fn head(user: &User, line: &str, more: &str) -> String {
    let token = user.token.as_deref().expect("a token");
    format!("{line} HTTP/1.1\r\nHost: here\r\nAuthorization: Bearer {token}\r\n{more}\r\n")
}
