//! A message, as people and mail programs read it.

use std::time::SystemTime;

use chrono::{DateTime, Utc};
use lettre::Message;
use lettre::message::header::{HeaderName, HeaderValue};
use lettre::message::{Mailbox, MultiPart};
use maud::Markup;

use crate::entities::jobs;
use crate::jobs::Failure;

/// A message to one person.
#[derive(Debug)]
pub struct Letter {
    /// Name of the person.
    pub name: String,
    /// Address of the person.
    pub address: String,
    /// What it is about.
    pub subject: String,
    /// The whole of it as text.
    pub text: String,
    /// The same to look at.
    pub html: Markup,
    /// The address that stops mail of this kind; none where the person asked for this one mail.
    pub stop: Option<String>,
}

impl Letter {
    /// The message of a job. The same job makes a message of the same id, so that a mail program
    /// knows one that comes twice.
    pub(super) fn message(
        self,
        job: &jobs::Model,
        from: Mailbox,
        now: DateTime<Utc>,
    ) -> Result<Message, Failure> {
        let Self { name, address, subject, text, html, stop } = self;
        let address = address
            .parse()
            .map_err(|_error| Failure::Never("The address is none that mail can go to.".into()))?;
        let domain = from.email.domain().to_owned();
        let mut message = Message::builder()
            .from(from)
            .to(Mailbox::new(Some(name), address))
            .date(SystemTime::from(now))
            .message_id(Some(format!("<{}@{domain}>", job.id)))
            .subject(subject)
            .raw_header(raw("Auto-Submitted", "auto-generated"));
        if let Some(stop) = stop {
            message = message
                .raw_header(raw("List-Unsubscribe", &format!("<{stop}>")))
                .raw_header(raw("List-Unsubscribe-Post", "List-Unsubscribe=One-Click"));
        }
        let parts = MultiPart::alternative_plain_html(text, html.into_string());
        message
            .multipart(parts)
            .map_err(|error| Failure::Never(format!("The mail can't be written: {error}.")))
    }
}

fn raw(name: &'static str, value: &str) -> HeaderValue {
    HeaderValue::new(HeaderName::new_from_ascii_str(name), value.to_owned())
}
