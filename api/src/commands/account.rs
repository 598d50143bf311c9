//! `dibble account`

use std::io::Read;

use api::app::{App, Config};
use api::auth::accounts::{self, NewAccount};
use api::auth::role::Role;
use api::config::Settings;
use api::http::ApiError;
use api::v1::units::Units;

use super::{BoxError, say};

/// What can be done with accounts.
#[derive(Debug, clap::Subcommand)]
pub(crate) enum Command {
    /// Make an account; the practice is made too if it is not there.
    ///
    /// The password is taken from `DIBBLE_PASSWORD`, else read from standard input.
    Add(Add),
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

/// Makes the account and ends.
pub(crate) async fn add(arguments: Add) -> Result<(), BoxError> {
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
