//! Mail: sent to a real receiver, read again by a library that is not the one that wrote it.

mod digests;
mod files;
mod links;
mod receiver;
mod sheets;

use mail_parser::{HeaderValue, Message, MessageParser};
use tests::TestApp;

pub use receiver::{Received, Receiver};

/// A service whose workers send mail to a receiver.
pub async fn app_with(receiver: &Receiver) -> TestApp {
    let url = receiver.url.parse().expect("an address");
    TestApp::start_with(|settings| {
        settings.job_seconds = 1;
        settings.mail.smtp_url = Some(url);
        settings.mail.from = Some("Dibble <dibble@example.org>".parse().expect("a sender"));
    })
    .await
}

/// Reads a message.
pub fn read(raw: &[u8]) -> Message<'_> {
    MessageParser::default().parse(raw).expect("a message")
}

/// The address in a header such as `List-Unsubscribe: <address>`.
fn address_in(message: &Message<'_>, header: &'static str) -> String {
    let value = message.header_raw(header).unwrap_or_else(|| panic!("no {header}"));
    value.trim().trim_start_matches('<').trim_end_matches('>').to_owned()
}

/// The path of an address of the service.
fn path_of(address: &str) -> &str {
    address.strip_prefix("http://127.0.0.1:8180").unwrap_or_else(|| panic!("{address}"))
}

/// The first address in a text that leads to this place.
fn find<'a>(text: &'a str, place: &str) -> &'a str {
    let start = text.find(place).unwrap_or_else(|| panic!("no {place} in {text}"));
    let rest = &text[start..];
    rest.split(char::is_whitespace).next().expect("an address")
}

/// What every mail is.
fn assert_sound(received: &Received, to: &str) {
    assert_eq!(received.to, [to]);
    let text = String::from_utf8(received.raw.clone()).expect("text");
    assert!(text.split("\r\n").all(|line| line.len() <= 998 && !line.contains(['\r', '\n'])));
    let message = read(&received.raw);
    let addressed = message.to().expect("a To").as_list().expect("a list");
    assert_eq!(addressed.len(), 1);
    assert_eq!(addressed[0].address.as_deref(), Some(to));
    assert!(message.cc().is_none() && message.bcc().is_none());
    assert!(message.message_id().is_some_and(|id| id.ends_with("@example.org")));
    assert!(message.date().is_some());
    assert!(message.body_text(0).is_some_and(|text| text.len() > 20));
    assert!(message.body_html(0).is_some_and(|html| html.contains("<h1>")));
    assert!(matches!(message.header("Auto-Submitted"), Some(HeaderValue::Text(_))));
}
