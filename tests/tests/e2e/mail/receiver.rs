//! A mail server that keeps what it gets: the protocol is the library's, the rest is a loop.

use std::io::{self, BufRead, BufReader, Write};
use std::net::{IpAddr, Ipv4Addr, TcpListener, TcpStream};
use std::sync::{Arc, Mutex};
use std::time::Duration;

use mailin::response::{NO_MAILBOX, OK, OUT_OF_SPACE};
use mailin::{Action, Handler, Response, SessionBuilder};

/// A message with its envelope.
#[derive(Debug, Clone, Default)]
pub struct Received {
    /// Whom it goes to by the envelope.
    pub to: Vec<String>,
    /// The message as it came over the wire.
    pub raw: Vec<u8>,
}

/// The server; its threads end with the test.
#[derive(Debug, Clone)]
pub struct Receiver {
    /// Where it listens, for the settings.
    pub url: String,
    kept: Arc<Mutex<Vec<Received>>>,
}

impl Receiver {
    /// Starts one. It knows no `gone@…`, has no room for `full@…` and is slow with `slow@…`.
    pub fn start() -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
        let url = format!("smtp://{}", listener.local_addr().expect("an address"));
        let kept = Arc::<Mutex<Vec<Received>>>::default();
        let into = kept.clone();
        std::thread::spawn(move || {
            for stream in listener.incoming().flatten() {
                let into = into.clone();
                std::thread::spawn(move || drop(talk(stream, into)));
            }
        });
        Self { url, kept }
    }

    /// What came in so far.
    pub fn all(&self) -> Vec<Received> {
        self.kept.lock().expect("kept").clone()
    }

    /// Waits for so many messages; fails after a while.
    pub async fn wait_for(&self, many: usize) -> Vec<Received> {
        for _ in 0..300 {
            let all = self.all();
            if all.len() >= many {
                return all;
            }
            tokio::time::sleep(Duration::from_millis(100)).await;
        }
        panic!("{} messages came in, {many} are awaited", self.all().len());
    }
}

#[derive(Debug, Clone)]
struct Keep {
    into: Arc<Mutex<Vec<Received>>>,
    now: Received,
}

impl Handler for Keep {
    fn mail(&mut self, _ip: IpAddr, _domain: &str, _from: &str) -> Response {
        self.now = Received::default();
        OK
    }

    fn rcpt(&mut self, to: &str) -> Response {
        match to.split('@').next() {
            Some("gone") => return NO_MAILBOX,
            Some("full") => return OUT_OF_SPACE,
            Some("slow") => std::thread::sleep(Duration::from_secs(4)),
            _ => {}
        }
        self.now.to.push(to.to_owned());
        OK
    }

    fn data(&mut self, buf: &[u8]) -> io::Result<()> {
        self.now.raw.extend_from_slice(buf);
        Ok(())
    }

    fn data_end(&mut self) -> Response {
        self.into.lock().expect("kept").push(std::mem::take(&mut self.now));
        OK
    }
}

fn talk(stream: TcpStream, into: Arc<Mutex<Vec<Received>>>) -> io::Result<()> {
    let keep = Keep { into, now: Received::default() };
    let mut session =
        SessionBuilder::new("mail.example.org").build(Ipv4Addr::LOCALHOST.into(), keep);
    let mut out = stream.try_clone()?;
    let mut lines = BufReader::new(stream);
    session.greeting().write_to(&mut out)?;
    out.flush()?;
    loop {
        let mut line = Vec::new();
        if lines.read_until(b'\n', &mut line)? == 0 {
            return Ok(());
        }
        let answer = session.process(&line);
        answer.write_to(&mut out)?;
        out.flush()?;
        if answer.action == Action::Close {
            return Ok(());
        }
    }
}
