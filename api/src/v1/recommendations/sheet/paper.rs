//! The sheet on paper: one page, in the largest letters that let it be one.

use chrono::Datelike;

use super::facts::Facts;
use super::page;
use crate::reports::paper::{About, PaperError, Printed, Sheet, Style, pages_of, print};

/// Sizes of running text, in points, the largest first.
const SIZES: [f32; 8] = [9.6, 9.2, 8.8, 8.4, 8.0, 7.6, 7.2, 6.9];

/// In the largest letters with which it is one page; where none do, what can wait is left out.
pub(in crate::v1::recommendations) fn fitted(
    facts: &Facts,
    sheet: Sheet,
) -> Result<Printed, PaperError> {
    let day = facts.told.issued_at.unwrap_or(facts.told.created_at).date_naive();
    let part = |number: u32| u8::try_from(number).unwrap_or(1);
    let about = About {
        title: format!("{}: settings sheet, revision {}", facts.field, facts.told.revision),
        author: facts.practice.clone(),
        foot: String::new(),
        made_on: u16::try_from(day.year())
            .ok()
            .map(|year| (year, part(day.month()), part(day.day()))),
    };
    for full in [false, true] {
        let body = page::on_paper(facts, full).into_string();
        for size in SIZES {
            let style = Style { size, close: true };
            if pages_of(&body, style, sheet)? == 1 {
                return print(&body, style, sheet, &about);
            }
        }
    }
    let [.., least] = SIZES;
    let body = page::on_paper(facts, true).into_string();
    print(&body, Style { size: least, close: true }, sheet, &about)
}
