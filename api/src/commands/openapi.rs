//! `dibble openapi`

use std::path::PathBuf;

use super::{BoxError, say};

/// Where the document goes.
#[derive(Debug, clap::Args)]
pub(crate) struct Arguments {
    /// File to write; the terminal when absent.
    #[arg(long)]
    out: Option<PathBuf>,
    /// File to write the table of who may do what to, instead of the document.
    #[arg(long)]
    access: Option<PathBuf>,
    /// File to write the table of what each form can carry to, instead of the document.
    #[arg(long)]
    formats: Option<PathBuf>,
}

/// Writes the API document. Needs no database.
pub(crate) fn run(arguments: &Arguments) -> Result<(), BoxError> {
    if let Some(path) = &arguments.access {
        std::fs::write(path, api::routes::access_page()?)?;
        return Ok(());
    }
    if let Some(path) = &arguments.formats {
        std::fs::write(path, api::exchange::forms::carried::page())?;
        return Ok(());
    }
    let document = api::routes::committed_form()?;
    match &arguments.out {
        Some(path) => std::fs::write(path, document)?,
        None => say(document.trim_end()),
    }
    Ok(())
}
