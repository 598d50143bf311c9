//! `dibble demo`

use std::net::SocketAddr;
use std::path::PathBuf;

use api::config::LogFormat;
use api::demo::{self, Options};
use api::telemetry;

use super::BoxError;

/// Where the demo lives and what it does.
#[derive(Debug, clap::Args)]
pub(crate) struct Arguments {
    /// Folder of the demo's database; an older demo in it is replaced.
    #[arg(long, default_value = "data/demo")]
    dir: PathBuf,

    /// Address and port to listen on; port 0 takes any free one.
    #[arg(long, env = "DIBBLE_ADDRESS", default_value = "127.0.0.1:8180")]
    address: SocketAddr,

    /// Walk through the main job step by step, check each step, and end.
    #[arg(long)]
    walk: bool,

    /// What to log: a level, or a filter such as `info,api=debug`.
    #[arg(long, env = "DIBBLE_LOG", default_value = "warn")]
    log: String,
}

/// Serves an invented season, or walks through the main job.
pub(crate) async fn run(arguments: Arguments) -> Result<(), BoxError> {
    let Arguments { dir, address, walk, log } = arguments;
    let options = Options { dir, address };
    let mut out = std::io::stdout();
    if walk {
        let outcome = demo::walk(&options, &mut out).await?;
        return if outcome.failed == 0 { Ok(()) } else { Err(outcome.to_string().into()) };
    }
    telemetry::start(&log, LogFormat::Text);
    Ok(demo::run(&options, &mut out).await?)
}
