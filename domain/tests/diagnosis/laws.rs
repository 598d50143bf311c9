//! What holds for any dig: the order of the rows says nothing, and a row that agrees takes nothing away.

use domain::dig::{Cause, Finding, RowReading};
use proptest::prelude::*;

use super::digs::{Setup, setups};
use super::table::cases;

/// The same reading on each of the first rows.
fn alike(setup: &Setup, reading: &RowReading, rows: u16) -> Setup {
    let row = |row: u16| RowReading { row, ..reading.clone() };
    setup.clone().with(|s| s.rows = (1..=rows).map(row).collect())
}

fn of_the_planter(findings: &[Finding]) -> Vec<Cause> {
    findings.iter().filter(|f| f.rows.is_empty()).map(|f| f.cause).collect()
}

/// A standard deviation of spacings over n - 1 falls by a little as the same spacings come again, and
/// may just fall below the limit.
fn rests_on_scattered_spacings(cause: Cause) -> bool {
    matches!(cause, Cause::Meter | Cause::SpacingTooFast)
}

/// The same dig with its rows numbered from the other end.
fn mirrored(setup: &Setup) -> Setup {
    let most = setup.planter.rows;
    setup.clone().rows(move |r| r.row = most + 1 - r.row)
}

proptest! {
    #[test]
    fn the_order_in_which_rows_are_sent_says_nothing(
        (setup, rows) in setups().prop_flat_map(|setup| {
            let rows = Just(setup.rows.clone()).prop_shuffle();
            (Just(setup), rows)
        }),
    ) {
        let shuffled = setup.clone().with(|s| s.rows.clone_from(&rows));
        prop_assert_eq!(setup.judged().findings, shuffled.judged().findings);
    }

    #[test]
    fn a_row_that_agrees_takes_no_finding_away(setup in setups(), rows in 2..5_u16) {
        prop_assume!(rows < setup.planter.rows && !setup.rows[0].is_empty());
        let reading = setup.rows[0].clone();
        let before = of_the_planter(&alike(&setup, &reading, rows).judged().findings);
        let after = of_the_planter(&alike(&setup, &reading, rows + 1).judged().findings);
        for cause in before.into_iter().filter(|cause| !rests_on_scattered_spacings(*cause)) {
            prop_assert!(after.contains(&cause), "{:?} went: {:?}", cause, after);
        }
    }

    #[test]
    fn every_finding_has_readings_for_it_and_concerns_rows_that_were_dug(setup in setups()) {
        let dug: Vec<u16> = setup.rows.iter().map(|r| r.row).collect();
        for finding in setup.judged().findings {
            prop_assert!(!finding.evidence_for.is_empty(), "{:?}", finding);
            prop_assert!(finding.rows.iter().all(|row| dug.contains(row)), "{:?}", finding);
        }
    }
}

#[test]
fn numbering_the_rows_from_the_other_end_changes_no_cause() {
    for case in cases() {
        for setup in [(case.fires)(), (case.silent)(), (case.against)()] {
            let causes = |setup: &Setup| -> Vec<(Cause, usize)> {
                setup.judged().findings.iter().map(|f| (f.cause, f.rows.len())).collect()
            };
            assert_eq!(causes(&setup), causes(&mirrored(&setup)), "{:?}", case.cause);
        }
    }
}
