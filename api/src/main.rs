//! `dibble`: the one program. `dibble help` lists what it does.

mod commands;

use std::process::ExitCode;

use clap::Parser;

/// Settings for every row of every client's planter, and the digs that check them.
#[derive(Debug, Parser)]
#[command(name = "dibble", version, propagate_version = true)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, clap::Subcommand)]
enum Command {
    /// Answer requests until stopped.
    Serve(api::config::Settings),
    /// Bring the schema of the database up to date.
    Migrate(api::config::Settings),
    /// Write the API document.
    Openapi(commands::openapi::Arguments),
    /// Serve an invented season to look at.
    Demo(commands::demo::Arguments),
    /// Make accounts, and links that set a password.
    #[command(subcommand)]
    Account(commands::account::Command),
    /// Look at, exchange and take out of use the keys that sign access tokens.
    #[command(subcommand)]
    Keys(commands::keys::Command),
    /// Work on what digs taught.
    #[command(subcommand)]
    Lessons(commands::lessons::Command),
    /// Work on what seasons add up to.
    #[command(subcommand)]
    Rollups(commands::rollups::Command),
}

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    match actix_web::rt::System::new().block_on(run(arguments.command)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            commands::report(error.as_ref());
            ExitCode::FAILURE
        }
    }
}

async fn run(command: Command) -> Result<(), commands::BoxError> {
    match command {
        Command::Serve(settings) => commands::serve::run(settings).await,
        Command::Migrate(settings) => commands::migrate::run(&settings).await,
        Command::Openapi(arguments) => commands::openapi::run(&arguments),
        Command::Demo(arguments) => commands::demo::run(arguments).await,
        Command::Account(command) => commands::account::run(command).await,
        Command::Keys(command) => commands::keys::run(command).await,
        Command::Lessons(commands::lessons::Command::Rebuild(arguments)) => {
            commands::lessons::rebuild(arguments).await
        }
        Command::Rollups(commands::rollups::Command::Rebuild(arguments)) => {
            commands::rollups::rebuild(arguments).await
        }
    }
}
