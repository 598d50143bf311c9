//! How much N + K2O corn bears beside its seed.
//!
//! The Kansas limits for medium and fine soil are one limit per length of row (0.459 lb in
//! 1,000 ft); between printed row widths both columns are joined by length of row. Rows narrower
//! than the narrowest printed keep its limit, which is less per length of row.

use serde::{Deserialize, Serialize};

use super::flow::{INCH, of, read};
use crate::conditions::{TextureClass, TextureGroup};
use crate::provenance::{Coefficient, Coefficients, Input, Mark, Reason, Source, Step, sources};
use crate::quantity::{ArealMassDensity, ExchangeCapacity, Length, Measured};

/// The two columns of the published limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SaltSoil {
    /// Sand, loamy sand, sandy loam.
    Sandy,
    /// Everything finer.
    MediumOrFine,
}

impl SaltSoil {
    /// The column of a texture. That sandy loam counts as sandy is this project's own choice.
    pub const fn of(texture: TextureClass) -> Self {
        match texture.group() {
            TextureGroup::Coarse | TextureGroup::ModeratelyCoarse => Self::Sandy,
            TextureGroup::Medium | TextureGroup::Fine => Self::MediumOrFine,
        }
    }

    /// The words people use.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Sandy => "sandy soil",
            Self::MediumOrFine => "medium or fine soil",
        }
    }

    /// Printed row width in inches and limit, from the narrowest.
    const fn printed(self, k: &Coefficients) -> [(f64, &Coefficient); 3] {
        match self {
            Self::Sandy => {
                [(20.0, &k.salt_sandy_20), (30.0, &k.salt_sandy_30), (40.0, &k.salt_sandy_40)]
            }
            Self::MediumOrFine => {
                [(20.0, &k.salt_fine_20), (30.0, &k.salt_fine_30), (40.0, &k.salt_fine_40)]
            }
        }
    }
}

/// Why there is no limit for these rows.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error(
    "limits of N + K2O are published for rows of {least:.0} to {most:.0} in, not {width:.1} in"
)]
pub struct NoSaltLimit {
    /// The rows, in inches.
    pub width: f64,
    /// Narrowest rows, in inches.
    pub least: f64,
    /// Widest rows, in inches.
    pub most: f64,
}

/// The most N + K2O in the furrow of corn.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SaltLimit {
    /// N + K2O on an area.
    pub limit: ArealMassDensity,
    /// The same for each 1,000 ft of row, in lb.
    pub pounds_per_thousand_feet: f64,
    /// Why, and how it is known.
    pub because: Reason,
    /// The calculation.
    pub steps: Vec<Step>,
}

/// Rows closer than this are the same.
const SAME_WIDTH: f64 = 1e-6;

/// The limit for corn without urea or UAN, by row width and soil.
///
/// # Errors
/// For rows outside of those for which limits are published.
pub fn salt_limit(
    row_width: Length,
    soil: SaltSoil,
    k: &Coefficients,
) -> Result<SaltLimit, NoSaltLimit> {
    let width = row_width.si() / INCH;
    let rows = &k.salt_rows;
    if !(rows.low - SAME_WIDTH..=rows.high + SAME_WIDTH).contains(&width) {
        return Err(NoSaltLimit { width, least: rows.low, most: rows.high });
    }
    let (limit, step) = by_length_of_row(width, &soil.printed(k));
    // Feet of row on an acre: 522,720 / W.
    let per_thousand = limit * width / 522.72;
    let because = Reason::made(
        format!("corn in {width:.0} in rows on {}: at most {limit:.1} lb/ac N + K2O", soil.words()),
        step.mark,
        step.source.clone(),
    );
    let steps = vec![step, row_step(limit, width, per_thousand)];
    Ok(SaltLimit {
        limit: of(limit, "[lb_av]/[acr_us]"),
        pounds_per_thousand_feet: per_thousand,
        because,
        steps,
    })
}

/// The printed limit, or what lies between two of them by length of row: 1 / W.
fn by_length_of_row(width: f64, printed: &[(f64, &Coefficient); 3]) -> (f64, Step) {
    let [narrow, middle, wide] = printed;
    if let Some((at, k)) = printed.iter().find(|(at, _)| (at - width).abs() < SAME_WIDTH) {
        return (k.value, printed_step(*at, k));
    }
    if width < narrow.0 {
        return (narrow.1.value, printed_step(narrow.0, narrow.1));
    }
    let (low, high) = if width < middle.0 { (narrow, middle) } else { (middle, wide) };
    let share = (1.0 / width - 1.0 / high.0) / (1.0 / low.0 - 1.0 / high.0);
    let limit = high.1.value + share * (low.1.value - high.1.value);
    (limit, between_step(width, (low, high), limit))
}

fn printed_step(width: f64, k: &Coefficient) -> Step {
    Step {
        step: "most N + K2O in the furrow".into(),
        formula: "Q(W)".into(),
        inputs: vec![Input::new("W", width, "[in_i]")],
        value: k.value,
        unit: "[lb_av]/[acr_us]".into(),
        low: None,
        high: None,
        source: k.source.clone(),
        mark: k.mark,
    }
}

fn between_step(
    width: f64,
    (low, high): (&(f64, &Coefficient), &(f64, &Coefficient)),
    limit: f64,
) -> Step {
    let pounds = "[lb_av]/[acr_us]";
    Step {
        step: "most N + K2O in the furrow".into(),
        formula: "Q_b + (Q_a - Q_b) (1/W - 1/W_b) / (1/W_a - 1/W_b)".into(),
        inputs: vec![
            Input::new("W", width, "[in_i]"),
            Input::new("W_a", low.0, "[in_i]"),
            Input::new("Q_a", low.1.value, pounds),
            Input::new("W_b", high.0, "[in_i]"),
            Input::new("Q_b", high.1.value, pounds),
        ],
        value: limit,
        unit: pounds.into(),
        low: None,
        high: None,
        source: low.1.source.clone(),
        mark: Mark::Derived,
    }
}

fn row_step(limit: f64, width: f64, per_thousand: f64) -> Step {
    Step {
        step: "N + K2O for each 1,000 ft of row".into(),
        formula: "Q W / 522.72".into(),
        inputs: vec![Input::new("Q", limit, "[lb_av]/[acr_us]"), Input::new("W", width, "[in_i]")],
        value: per_thousand,
        unit: "[lb_av]/(1000.[ft_i])".into(),
        low: None,
        high: None,
        source: sources::DEFINITION.into(),
        mark: Mark::Derived,
    }
}

/// A limit that another source prints, for comparison.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PublishedLimit {
    /// The limit with its conditions.
    pub because: Reason,
    /// N + K2O on an area.
    pub limit: ArealMassDensity,
    /// Whether the soil at hand meets its conditions; `None` where nobody tested the soil.
    pub applies: Option<bool>,
}

/// Limits for corn of other sources, whose row width is not stated (30 in is usual).
pub fn other_limits(capacity: Option<ExchangeCapacity>, k: &Coefficients) -> [PublishedLimit; 3] {
    let (low, high) = (k.low_exchange.low, k.low_exchange.high);
    let held = capacity.map(|capacity| read(capacity, "meq/hg"));
    let published = |k: &Coefficient, text: String, applies: Option<bool>| PublishedLimit {
        because: Reason::made(text, k.mark, k.source.clone()),
        limit: of(k.value, "[lb_av]/[acr_us]"),
        applies,
    };
    [
        published(
            &k.salt_low_exchange,
            format!(
                "{:.0} lb/ac where the soil holds less than {low:.0} meq/100 g",
                k.salt_low_exchange.value
            ),
            // Between the two figures the source says nothing: the lower limit is the safe reading.
            held.map(|held| held < high),
        ),
        published(
            &k.salt_high_exchange,
            format!(
                "{:.0} lb/ac where the soil holds {high:.0} meq/100 g or more",
                k.salt_high_exchange.value
            ),
            held.map(|held| held >= high),
        ),
        published(
            &k.salt_any_soil,
            format!("{:.0} lb/ac, soil and rows not stated", k.salt_any_soil.value),
            Some(true),
        ),
    ]
}

/// The limit of a soil test, where it is stricter than that of texture and rows.
pub(super) fn by_exchange(
    capacity: Option<ExchangeCapacity>,
    limit: ArealMassDensity,
    k: &Coefficients,
) -> Option<(ArealMassDensity, Reason)> {
    let held = read(capacity?, "meq/hg");
    let low = &k.salt_low_exchange;
    let stricter: ArealMassDensity = of(low.value, "[lb_av]/[acr_us]");
    if held >= k.low_exchange.high || stricter >= limit {
        return None;
    }
    let (mark, source): (Mark, Source) = if held < k.low_exchange.low {
        (low.mark, sources::MICHIGAN_SALT)
    } else {
        (Mark::Proposal, sources::OWN_CHOICE)
    };
    let text =
        format!("the soil holds {held:.1} meq/100 g: at most {:.0} lb/ac N + K2O", low.value);
    Some((stricter, Reason::made(text, mark, source)))
}
