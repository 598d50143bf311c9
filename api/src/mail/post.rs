//! The way out: a server, or a folder.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::Duration;

use lettre::message::Mailbox;
use lettre::transport::smtp::Error as SmtpError;
use lettre::{AsyncSmtpTransport, AsyncTransport, Message, Tokio1Executor};

use super::letter::Letter;
use crate::app::AppState;
use crate::config::Settings;
use crate::entities::jobs;
use crate::jobs::Failure;

/// Longest that a server may take for one step.
const PATIENCE: Duration = Duration::from_secs(20);
/// Whom mail comes from where it only goes into files.
const NOBODY: &str = "Dibble <dibble@localhost>";

/// Why mail can't go out at all: the settings.
#[derive(Debug, thiserror::Error)]
pub enum PostError {
    /// A server without a sender.
    #[error("DIBBLE_SMTP_URL is set, so DIBBLE_MAIL_FROM must say whom mail comes from")]
    NoSender,
    /// The transport refuses the address.
    #[error("the mail server {server} can't be used")]
    Server {
        /// Its address, without password.
        server: String,
        /// Why.
        source: SmtpError,
    },
    /// The built-in sender can't be read.
    #[error("the sender of mail can't be read")]
    Sender(#[from] lettre::address::AddressError),
}

/// Sends messages.
#[derive(Debug)]
pub struct Post {
    from: Mailbox,
    way: Way,
}

#[derive(Debug)]
enum Way {
    Server(AsyncSmtpTransport<Tokio1Executor>),
    Folder(PathBuf),
}

impl Post {
    /// By the settings. The server is not asked before the first mail.
    ///
    /// # Errors
    /// When the settings can't be meant.
    pub fn of(settings: &Settings) -> Result<Self, PostError> {
        let mail = &settings.mail;
        let sender = mail.from.as_ref().map(crate::config::Sender::mailbox);
        let Some(url) = &mail.smtp_url else {
            let from = sender.map_or_else(|| NOBODY.parse(), Ok)?;
            return Ok(Self { from, way: Way::Folder(folder(settings)) });
        };
        let from = sender.ok_or(PostError::NoSender)?;
        let refused = |source| PostError::Server { server: url.to_string(), source };
        let transport = AsyncSmtpTransport::<Tokio1Executor>::from_url(url.secret());
        let transport = transport.map_err(refused)?.timeout(Some(PATIENCE)).build();
        Ok(Self { from, way: Way::Server(transport) })
    }

    /// Sends the letter of a job.
    ///
    /// # Errors
    /// When it did not go out; for good where the server says so.
    pub async fn send(
        &self,
        app: &AppState,
        job: &jobs::Model,
        letter: Letter,
    ) -> Result<(), Failure> {
        let message = letter.message(job, self.from.clone(), app.clock.now())?;
        match &self.way {
            Way::Server(transport) => {
                transport.send(message).await.map(drop).map_err(|error| refused(&error))
            }
            Way::Folder(folder) => keep(folder.clone(), job, &message).await,
        }
    }
}

/// `mail` beside the database.
fn folder(settings: &Settings) -> PathBuf {
    let beside = settings.database_url.sqlite_path().and_then(|path| Path::new(path).parent());
    let default = || beside.unwrap_or_else(|| Path::new("data")).join("mail");
    settings.mail.dir.clone().unwrap_or_else(default)
}

/// What a server said, without its words: they often repeat the address.
fn refused(error: &SmtpError) -> Failure {
    let code = error.status().map(|code| format!(" ({code})")).unwrap_or_default();
    if error.is_permanent() {
        return Failure::Never(format!("The mail server refuses the mail{code}."));
    }
    let why = if error.is_transient() {
        "The mail server asks to come back later"
    } else if error.is_timeout() {
        "The mail server did not answer in time"
    } else if error.is_tls() {
        "No safe connection to the mail server"
    } else {
        "The mail server can't be reached"
    };
    Failure::Again(format!("{why}{code}."))
}

/// Writes a message into the folder, whole or not at all: under another name first. The name is that
/// of the job, so that a job that is done twice leaves one file.
async fn keep(folder: PathBuf, job: &jobs::Model, message: &Message) -> Result<(), Failure> {
    let (name, bytes) = (job.id.to_string(), message.formatted());
    let kept = tokio::task::spawn_blocking(move || write(&folder, &name, &bytes)).await;
    let kept = kept.unwrap_or_else(|join| Err(std::io::Error::other(join)));
    kept.map_err(|error| Failure::Again(format!("The folder for mail can't be written: {error}.")))
}

fn write(folder: &Path, name: &str, bytes: &[u8]) -> std::io::Result<()> {
    std::fs::create_dir_all(folder)?;
    let (unfinished, whole) =
        (folder.join(format!("{name}.part")), folder.join(format!("{name}.eml")));
    let mut file = std::fs::File::create(&unfinished)?;
    file.write_all(bytes)?;
    file.sync_all()?;
    std::fs::rename(unfinished, whole)
}
