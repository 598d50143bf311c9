//! The lines of the sheet on what meets the residue.

use super::table::Line;
use super::words::{coulter, quantity, sentence, why};
use crate::v1::conditions::RowPosition;
use crate::v1::recommendations::HairpinRisk;
use crate::v1::recommendations::answer::{CoulterOut, OldRowsOut};

/// What to do with the coulter, and the first thing that lowers the risk of hairpins.
pub(super) fn coulter_line(it: &CoulterOut, full: bool) -> Line {
    let edge = it.above_opener.as_ref().map(|h| format!("edge {} above the opener", quantity(h)));
    let risky = !full && it.hairpins != HairpinRisk::Low;
    let lower = it.lower.first().filter(|_| risky).map(|reason| reason.text.clone());
    let more: Vec<String> = edge.into_iter().chain(lower).collect();
    Line {
        name: "Coulter",
        set: coulter(it.coulter).to_owned(),
        more: more.join("; "),
        why: why(&it.because),
    }
}

/// Where the rows run.
pub(super) fn old_rows(it: &OldRowsOut) -> Line {
    let place = match it.run {
        RowPosition::OnOldRow => "On the old row",
        RowPosition::BesideOldRow => "Beside the old row",
        RowPosition::BetweenOldRows => "Between the old rows",
        RowPosition::Across => "Across the old rows",
    };
    let away = it.beside.as_ref().map(|distance| format!("about {} off it", quantity(distance)));
    let watch = it.watch.first().map(|reason| sentence(&reason.text));
    Line {
        name: "Old rows",
        set: place.to_owned(),
        more: away.unwrap_or_default(),
        why: watch.unwrap_or_else(|| why(&it.because)),
    }
}
