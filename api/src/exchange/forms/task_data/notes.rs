//! `NOTES.txt`: what the file carries, what it can't, and what the sheets say.

use super::file::Setpoint;
use super::names::{MOST_LETTERS, Names};
use super::pack::Sheet;
use crate::exchange::forms::carried;

/// How to read the file.
pub(super) fn head(grower: &str) -> String {
    format!(
        "Task data of {grower}\n\n\
         Whether a terminal obeys a setpoint depends on what the machine lets it set. Rates are whole \
         numbers of the standard's steps, so they differ from the sheet by half a step at most. \
         There is no description of a machine in the file: assign a task to the planter at the \
         terminal.\n"
    )
}

/// What a task carries, and what it can't.
pub(super) fn of_sheet(sheet: &Sheet, field: &str, setpoints: &[Setpoint]) -> String {
    let Sheet { id, revision, planter, said, .. } = sheet;
    let mut text =
        format!("\nPLANT {field}\n\nSettings sheet {id}, revision {revision}, {planter}\n");
    let there = setpoints.iter().map(|it| format!("{} (DDI {})", it.ddi().what, it.ddi().hex));
    let none = setpoints.is_empty().then(|| "no setpoint: the sheet gives no rate".to_owned());
    list(&mut text, "In the file", there.chain(none));
    let out = carried::left_out(setpoints.iter().map(Setpoint::ddi));
    list(&mut text, "Not in the file; set it by hand", out);
    list(&mut text, "The sheet in words", said);
    text
}

/// Names that had to be changed.
pub(super) fn of_names(names: &Names) -> String {
    let mut text = String::new();
    if !names.shortened().is_empty() {
        let title = format!("Names that had to fit into {MOST_LETTERS} characters");
        let changed = names.shortened().iter().map(|(name, made)| format!("{name} -> {made}"));
        list(&mut text, &title, changed);
    }
    text
}

fn list<T: std::fmt::Display>(text: &mut String, title: &str, lines: impl IntoIterator<Item = T>) {
    text.extend(["\n", title, ":\n"]);
    for line in lines {
        text.extend(["- ", &line.to_string(), "\n"]);
    }
}
