//! Instructions on the sheet for what the engine has no setting for.
//!
//! Each line begins with what it is about, so that a later change takes the place of an earlier one
//! on the same thing. What was to be looked at or waited for before the last dig is done by now, so
//! such lines leave with the next change.

use crate::http::{ApiError, BadMember};
use crate::v1::recommendations::goals::{LONGEST_LINE, MOST_LINES};

/// Something to look at before going on.
pub(super) const FIRST: &str = "Look first at ";
/// Something to wait for.
pub(super) const WAIT: &str = "Wait until ";

/// The lines of the sheet with `line` of a change about `about`.
///
/// # Errors
/// 422 when the sheet is full: what the advisor wrote is not dropped in silence.
pub(super) fn with(
    lines: Vec<String>,
    about: &str,
    line: Option<String>,
) -> Result<Vec<String>, ApiError> {
    let done = |kept: &String| [FIRST, WAIT, about].iter().any(|start| kept.starts_with(start));
    let mut lines: Vec<String> = lines.into_iter().filter(|kept| !done(kept)).collect();
    let Some(line) = line else { return Ok(lines) };
    if lines.len() >= MOST_LINES {
        let most = MOST_LINES.saturating_sub(1);
        return Err(BadMember::new(
            "/goals/instructions",
            "The sheet has no line left for the change.",
        )
        .given(format!("{} lines", lines.len()))
        .allowed(format!("1 to {most} lines that take the place of those on the sheet"))
        .why("the sheet in the cab is one page")
        .into());
    }
    lines.push(cut(&line));
    Ok(lines)
}

/// No longer than a line of the sheet.
fn cut(line: &str) -> String {
    if line.chars().count() <= LONGEST_LINE {
        return line.to_owned();
    }
    let mut short: String = line.chars().take(LONGEST_LINE.saturating_sub(1)).collect();
    short.push('…');
    short
}

#[cfg(test)]
mod tests {
    use super::{FIRST, LONGEST_LINE, MOST_LINES, WAIT, cut, with};

    fn lines(texts: &[&str]) -> Vec<String> {
        texts.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_later_line_takes_the_place_of_an_earlier_one_on_the_same_thing() {
        let before = lines(&["West side first.", "Row cleaners: lift them clear."]);
        let after = with(before, "Row cleaners:", Some("Row cleaners: let them float.".into()));
        assert_eq!(
            after.expect("room"),
            lines(&["West side first.", "Row cleaners: let them float."])
        );
    }

    #[test]
    fn what_was_to_be_done_before_the_last_dig_leaves() {
        let before =
            lines(&["West side first.", "Look first at the discs.", "Wait until it dries."]);
        assert_eq!(with(before, "Speed", None).expect("room"), lines(&["West side first."]));
    }

    #[test]
    fn a_full_sheet_is_said_not_cut() {
        let full = vec!["West side first.".to_owned(); MOST_LINES];
        let error = with(full.clone(), FIRST, Some("Look first at the discs.".into()));
        assert_eq!(error.expect_err("full").members()[0].pointer, "/goals/instructions");
        assert_eq!(with(full, WAIT, None).expect("no line needed").len(), MOST_LINES);
    }

    #[test]
    fn a_line_fits_the_sheet() {
        assert_eq!(cut("short"), "short");
        assert_eq!(cut(&"ä".repeat(LONGEST_LINE + 5)).chars().count(), LONGEST_LINE);
    }
}
