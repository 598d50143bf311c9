//! Logs.

use tracing_subscriber::EnvFilter;

use crate::config::LogFormat;

/// Starts logging to standard error. Call once, at the start of a program.
///
/// A filter that can't be read is replaced by `info`, and said so.
pub fn start(filter: &str, format: LogFormat) {
    let parsed = EnvFilter::try_new(filter);
    let bad_filter = parsed.as_ref().err().map(ToString::to_string);
    let builder = tracing_subscriber::fmt()
        .with_env_filter(parsed.unwrap_or_else(|_bad| EnvFilter::new("info")))
        .with_target(false)
        .with_writer(std::io::stderr);
    let started = match format {
        LogFormat::Text => builder.try_init(),
        LogFormat::Json => builder.json().flatten_event(true).try_init(),
    };
    if let Some(problem) = bad_filter {
        tracing::warn!(filter, problem, "the log filter can't be read; using info");
    }
    if let Err(problem) = started {
        tracing::debug!(%problem, "logging was started before");
    }
}
