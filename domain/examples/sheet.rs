//! Prints the recommendation of the worked case, to look at. `cargo run -p domain --example sheet`
#![expect(clippy::print_stdout, clippy::unwrap_used, reason = "an example prints and may fail")]

#[path = "../tests/cases/mod.rs"]
mod cases;

fn main() {
    let k = domain::provenance::Coefficients::STANDARD;
    let result = domain::settings::recommend(&cases::worked_case(), &k);
    println!("{}", serde_json::to_string_pretty(&result).unwrap());
}
