//! An own figure as it comes in.

use domain::provenance::{Coefficient, OwnFault, OwnFigure};
use serde::Deserialize;
use utoipa::ToSchema;

use crate::http::patch::present;
use crate::http::{ApiError, BadMember, Refused, text};

/// Most characters of a source.
const LONGEST_SOURCE: usize = 500;

/// A practice's own figure for a coefficient.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "value": 620, "low": 450, "high": 900, "unit": "N",
    "source": "pulled 12 openers with a load cell, April 2027"
})))]
pub struct OwnFigureIn {
    /// The figure to start with, in `unit`; inside `within` of the coefficient.
    #[schema(example = 620)]
    pub value: f64,
    /// Low end of the range, in `unit`; not above `value`.
    #[schema(example = 450)]
    pub low: f64,
    /// High end of the range, in `unit`; not below `value`.
    #[schema(example = 900)]
    pub high: f64,
    /// The unit of the coefficient, said again so that a figure in another one is not taken.
    #[schema(example = "N", min_length = 1, max_length = 60)]
    pub unit: String,
    /// Where the practice has it from.
    #[schema(
        min_length = 1,
        max_length = 500,
        example = "pulled 12 openers with a load cell, April 2027",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub source: String,
    /// A note.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        max_length = 4000,
        example = "Heavier brackets since 2025.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$"
    )]
    pub note: Option<String>,
}

impl OwnFigureIn {
    /// The only way from the wire to the domain, for this coefficient.
    pub(super) fn parse(self, k: &Coefficient) -> Result<(OwnFigure, Option<String>), ApiError> {
        let Self { value, low, high, unit, source, note } = self;
        let mut refused = Refused::default();
        if unit != k.unit {
            let member = BadMember::new("/unit", "The coefficient has another unit.").given(unit);
            refused.add(member.allowed(k.unit).why("figures are kept in the unit of the model"));
        }
        let source = refused.take(text::line("/source", &source, LONGEST_SOURCE));
        let note = note.and_then(|given| refused.take(text::notes("/note", &given)));
        let source_given = source.is_some();
        let own = OwnFigure {
            name: k.name.to_owned(),
            value: value + 0.0,
            low: low + 0.0,
            high: high + 0.0,
            source: source.unwrap_or_default(),
        };
        for fault in k.faults_of(&own) {
            if fault != OwnFault::NoSource || source_given {
                refused.add(member_of(&fault));
            }
        }
        refused.finish()?;
        Ok((own, note))
    }
}

fn member_of(fault: &OwnFault) -> BadMember {
    let said = format!("{}.", sentence(fault));
    match fault {
        OwnFault::Outside { member, given, within, unit } => {
            BadMember::new(format!("/{member}"), said)
                .given(format!("{given} {unit}"))
                .allowed(format!("{} to {} {unit}", within.least, within.most))
                .why("beyond it a slip of the unit is likelier than a true figure")
        }
        OwnFault::LowAboveValue { low, value } => {
            BadMember::new("/low", said).given(low).allowed(format!("at most {value}"))
        }
        OwnFault::ValueAboveHigh { value, high } => {
            BadMember::new("/high", said).given(high).allowed(format!("at least {value}"))
        }
        OwnFault::NoSource | OwnFault::UnknownName(_) => BadMember::new("/source", said),
    }
}

fn sentence(fault: &OwnFault) -> String {
    let text = fault.to_string();
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
