//! What digs taught about a place, and the season that is asked about.

use domain::learning::{DigsCounted, Learned, Place, Posterior};
use domain::stats::Range;

use crate::http::BadMember;
use crate::v1::learned::{DigsBehind, Factor};

/// An estimate, as it is shown.
#[derive(Debug)]
pub struct Shown {
    /// The factor.
    pub resistance: Factor,
    /// Digs behind it.
    pub digs: DigsBehind,
    /// Both in words.
    pub words: String,
}

/// What is known about the factor at a place.
pub fn at(learned: &Learned, place: &Place) -> Shown {
    let known = learned.posterior(place);
    let words = words(place, known.digs, known.range());
    Shown { resistance: known.range().into(), digs: known.digs.into(), words }
}

/// What would be known without a single dig.
pub fn without_digs(learned: &Learned) -> Factor {
    Posterior::range(&learned.before_digs()).into()
}

fn words(place: &Place, digs: DigsCounted, factor: Range) -> String {
    let Range { low, likely, high } = factor;
    let asks = format!(
        "soil asks {likely:.2} times ({low:.2} to {high:.2}) what the conditions let expect"
    );
    match digs.behind(place.class) {
        Some(from) => format!("from {from}: {asks}"),
        None => format!("nobody has dug in this practice yet; without digs {asks}"),
    }
}

/// Earliest season that can be asked about.
const EARLIEST: u16 = 2000;

/// The season that is asked about: this one where none is named.
///
/// # Errors
/// For a season that lies ahead, or before 2000.
pub fn season(asked: Option<i32>, this: u16) -> Result<u16, BadMember> {
    let Some(year) = asked else { return Ok(this) };
    let known = u16::try_from(year).ok().filter(|year| (EARLIEST..=this).contains(year));
    known.ok_or_else(|| {
        BadMember::new("?season", "Digs say nothing about this season.")
            .given(year)
            .allowed(format!("a year from {EARLIEST} to {this}"))
    })
}
