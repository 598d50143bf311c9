//! Row numbers as people say them.

/// `row 3`, `rows 3, 4 and 9`, `rows 1 to 8 and 12`; nothing where none is named.
pub fn rows_said(rows: &[u16]) -> String {
    let mut parts: Vec<String> = Vec::new();
    for run in rows.chunk_by(|a, b| a.checked_add(1) == Some(*b)) {
        match run {
            [first, _, .., last] => parts.push(format!("{first} to {last}")),
            few => parts.extend(few.iter().map(ToString::to_string)),
        }
    }
    match parts.split_last() {
        None => String::new(),
        Some((only, [])) if rows.len() == 1 => format!("row {only}"),
        Some((only, [])) => format!("rows {only}"),
        Some((last, rest)) => format!("rows {} and {last}", rest.join(", ")),
    }
}
