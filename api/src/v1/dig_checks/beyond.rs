//! Spacings that do not fit into the stretch of row that was opened for them.

use domain::dig::RowReading;
use domain::quantity::{Length, Measured, bounds, unit};

use crate::http::BadMember;
use crate::http::quantity::six_digits;

/// The refusal with the sum and what would fit, in the unit of the stretch.
pub(super) fn beyond(
    refusal: BadMember,
    (sum, stretch): (Length, Length),
    code: Option<&str>,
) -> BadMember {
    let code = code.unwrap_or(bounds::ROW_LENGTH.us);
    let said = |length: Length| {
        let value = unit(code).map_or_else(|| length.si(), |it| it.read(length));
        format!("{} {code}", six_digits(value))
    };
    refusal
        .given(format!("{} in all", said(sum)))
        .allowed(format!("at most {} in all", said(RowReading::longest_sum(stretch))))
        .why(format!(
            "{} of row were opened; 2 % of that, or an inch, is left for the tape",
            said(stretch)
        ))
}
