//! What a page must say of a season, in each of its forms.

use domain::quantity::System;
use domain::season::report::SeasonReport;

use super::body;
use crate::reports::paper::{About, Sheet, Style, print};
use crate::reports::sample;
use crate::reports::words::In;

fn said(report: &SeasonReport) -> String {
    body(report, In(System::Us)).into_string()
}

#[test]
fn the_answer_comes_first_and_says_how_it_went_and_what_to_mend() {
    let page = said(&sample::grower());
    let answer = page
        .split("class=\"lead\">")
        .nth(1)
        .and_then(|rest| rest.split("</p>").next())
        .expect("an answer");
    assert!(answer.contains("The season is not over"), "{answer}");
    assert!(answer.contains("in 2 of 3 fields (67 %), up from 1 of 3 (33 %)"), "{answer}");
    assert!(answer.contains("opener discs: replace (rows 3, 4 and 9)"), "{answer}");
}

#[test]
fn a_share_that_fell_is_not_told_as_a_gain() {
    let mut report = sample::practice();
    let all = &mut report.in_window.all;
    std::mem::swap(&mut all.first_pass, &mut all.after_adjustment);
    assert!(said(&report).contains("down from"));
    let all = &mut report.in_window.all;
    all.first_pass = all.after_adjustment;
    assert!(said(&report).contains("the same as"));
}

#[test]
fn few_growers_are_grey_and_not_compared() {
    let page = said(&sample::practice());
    // Coarse soil has two growers, a dead cover four; one advisor has four growers.
    assert_eq!(page.matches(">too few to compare</text>").count(), 2);
    assert_eq!(page.matches("number few\">too few to compare").count(), 1);
    assert!(!page.contains("2 of 4 (50 %)"), "a small group is told in figures");
}

#[test]
fn a_trial_without_replication_has_no_interval() {
    let page = said(&sample::practice());
    assert!(page.contains("Without replication nothing can be concluded."));
    assert!(page.contains(">no replication</text>"));
    assert!(page.contains("+0.6 to +7.8"));
}

#[test]
fn what_names_planters_and_fields_of_a_practice_comes_last() {
    let page = said(&sample::practice());
    let note = page.find("Leave these pages out").expect("a note");
    for name in ["Long bar", "Norcross front"] {
        assert!(page.find(name).is_some_and(|at| at > note), "{name} comes before the note");
    }
}

#[test]
fn both_are_printed_on_both_papers() {
    let about = About { title: "S".into(), author: "P".into(), foot: "S".into(), made_on: None };
    for report in [sample::practice(), sample::grower()] {
        for sheet in [Sheet::A4, Sheet::LETTER] {
            let printed = print(&said(&report), Style { size: 9.6, close: false }, sheet, &about)
                .expect("printed");
            assert!(printed.pages >= 4 && printed.pages <= 7, "{} pages", printed.pages);
        }
    }
}
