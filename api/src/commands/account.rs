//! `dibble account`

use std::io::Read;

use api::app::{App, Config};
use api::auth::accounts::{self, NewAccount};
use api::auth::password_links;
use api::auth::role::Role;
use api::config::Settings;
use api::db;
use api::entities::accounts as rows;
use api::http::ApiError;
use api::v1::units::Units;
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter};

use super::{BoxError, say};

/// What can be done with accounts.
#[derive(Debug, clap::Subcommand)]
pub(crate) enum Command {
    /// Make an account; the practice is made too if it is not there.
    ///
    /// The password is taken from `DIBBLE_PASSWORD`, else read from standard input.
    Add(Add),
    /// Make a link that sets the password of an account: for a lead who forgot his own.
    ///
    /// It works once, for seven days. The lead makes links for everyone else.
    Link(Link),
}

/// Whose password.
#[derive(Debug, clap::Args)]
pub(crate) struct Link {
    /// E-mail address of the account.
    #[arg(long)]
    email: String,
    #[command(flatten)]
    settings: Settings,
}

/// Does so and ends.
pub(crate) async fn run(command: Command) -> Result<(), BoxError> {
    match command {
        Command::Add(arguments) => add(arguments).await,
        Command::Link(arguments) => link(arguments).await,
    }
}

/// The account to make.
#[derive(Debug, clap::Args)]
pub(crate) struct Add {
    /// Name of the practice.
    #[arg(long)]
    practice: String,
    /// E-mail address that signs in.
    #[arg(long)]
    email: String,
    /// How people call the account; the e-mail address when absent.
    #[arg(long)]
    name: Option<String>,
    /// What the account is.
    #[arg(long, value_enum)]
    role: Role,
    /// The password; better given in the environment or on standard input.
    #[arg(long, env = "DIBBLE_PASSWORD", hide_env_values = true)]
    password: Option<String>,
    #[command(flatten)]
    settings: Settings,
}

/// Makes the account.
async fn add(arguments: Add) -> Result<(), BoxError> {
    let Add { practice, email, name, role, password, settings } = arguments;
    let password = match password {
        Some(password) => password,
        None => read_password()?,
    };
    let state = App::state(&Config::of(settings)).await?;
    let maker = state.maker();
    let practice_id =
        accounts::practice(&state.db, maker, &practice).await.map_err(|e| readable(&e))?;
    let new = NewAccount {
        display_name: name.unwrap_or_else(|| email.clone()),
        email,
        role,
        grower_id: None,
        password,
        units: Units::default(),
    };
    let made =
        accounts::create(&state.db, maker, practice_id, new).await.map_err(|e| readable(&e))?;
    say(&format!("{} can sign in.", made.email));
    Ok(())
}

/// Makes the link.
async fn link(arguments: Link) -> Result<(), BoxError> {
    let Link { email, settings } = arguments;
    let state = App::state(&Config::of(settings)).await?;
    let found = rows::Entity::find()
        .filter(rows::Column::Email.eq(email.trim().to_lowercase()))
        .filter(rows::Column::DisabledAt.is_null())
        .one(&state.db)
        .await?;
    let account = found.ok_or_else(|| format!("nobody signs in as {email}"))?;
    let tx = db::begin(&state.db).await?;
    let made = password_links::make(&tx, &account, state.ids.next(), state.clock.now()).await;
    let made = made.map_err(|error| readable(&error))?;
    tx.commit().await?;
    say(&format!(
        "{}\nSend this token with a new password to POST /v1/password-links/redeem by {}. It works once.",
        made.token,
        made.expires_at.to_rfc3339_opts(chrono::SecondsFormat::Secs, true)
    ));
    Ok(())
}

/// The first line of standard input.
fn read_password() -> Result<String, BoxError> {
    let mut text = String::new();
    std::io::stdin().read_to_string(&mut text)?;
    Ok(text.lines().next().unwrap_or_default().to_owned())
}

/// The members that were refused, as a line for the terminal.
fn readable(error: &ApiError) -> BoxError {
    let members: Vec<String> = error
        .members()
        .iter()
        .map(|member| {
            let allowed = member.allowed.as_deref().unwrap_or_default();
            format!("{}: {} {allowed}", member.pointer.trim_start_matches('/'), member.detail)
        })
        .collect();
    if members.is_empty() { error.to_string().into() } else { members.join("; ").into() }
}
