//! The commands of the program, one file each.

pub(crate) mod account;
pub(crate) mod demo;
pub(crate) mod keys;
pub(crate) mod lessons;
pub(crate) mod migrate;
pub(crate) mod openapi;
pub(crate) mod rollups;
pub(crate) mod serve;

use std::error::Error;

/// Any error of a command.
pub(crate) type BoxError = Box<dyn Error + Send + Sync>;

/// Says a line to the person at the terminal.
#[expect(clippy::print_stdout, reason = "a command answers on the terminal")]
pub(crate) fn say(line: &str) {
    println!("{line}");
}

/// Says what went wrong, with its causes.
#[expect(clippy::print_stderr, reason = "a command answers on the terminal")]
pub(crate) fn report(error: &(dyn Error + 'static)) {
    let mut text = error.to_string();
    let mut next = error.source();
    while let Some(cause) = next {
        let said = cause.to_string();
        if !text.ends_with(&said) {
            text.push_str(": ");
            text.push_str(&said);
        }
        next = cause.source();
    }
    eprintln!("dibble: {text}");
}
