//! Answers questions about single functions of this crate, so that another program can compare.
//!
//! One line in: `["wilson", [18, 20, 0.95]]`. One line out: `[0.69…, 0.97…]`, or `null` where the
//! function has no answer. Numbers are written with all their digits. `tests/reference` asks.
#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a driver for checks must fail loudly on a question it does not know"
)]

mod args;
mod digs;
mod field;
mod machine;
mod numbers;
mod trials;

use std::io::{BufRead, Write, stdin, stdout};

use args::{Args, Function};
use serde_json::Value;

fn find(name: &str) -> Function {
    let statistics = numbers::FUNCTIONS.iter().chain(digs::FUNCTIONS);
    let statistics = statistics.chain(trials::FUNCTIONS);
    let mut all = statistics.chain(field::FUNCTIONS).chain(machine::FUNCTIONS);
    all.find(|(n, _)| *n == name).unwrap_or_else(|| panic!("nobody answers {name:?}")).1
}

fn main() {
    let mut out = std::io::BufWriter::new(stdout().lock());
    for line in stdin().lock().lines() {
        let question: (String, Vec<Value>) = serde_json::from_str(&line.unwrap()).unwrap();
        let answer = find(&question.0)(&Args(&question.1));
        writeln!(out, "{}", serde_json::to_string(&answer).unwrap()).unwrap();
    }
    out.flush().unwrap();
}
