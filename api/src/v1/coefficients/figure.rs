//! A coefficient as it holds for a practice, on the wire.

use chrono::{DateTime, Utc};
use domain::provenance::{self, Coefficients, OwnFault};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::in_force::InForce;
use crate::entities::own_coefficients;
use crate::v1::trace::Mark;

/// A number of the model as it holds for the practice: the figure to start with, the range it may
/// lie in, how it is known.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "name": "opener_resistance", "symbol": "K_o",
    "what": "Upward soil reaction on a 381 mm double-disc opener at 50 mm in moist soil without residue",
    "value": 620, "low": 450, "high": 900, "unit": "N",
    "mark": "own", "mark_words": "the practice's own figure",
    "source": "pulled 12 openers with a load cell, April 2027", "corrected_by_digs": true,
    "within": {"least": 73.3333, "most": 3600},
    "standard": {
        "value": 500, "low": 220, "high": 1200, "mark": "assumption", "mark_words": "assumption",
        "source": "assumption, no independent source"
    },
    "set_at": "2027-04-20T12:00:00Z", "set_by": "01964f1e-6a00-7000-8000-000000000001",
    "version": 1
})))]
pub struct CoefficientInForce {
    /// Its name.
    #[schema(example = "opener_resistance")]
    pub name: String,
    /// Its symbol in formulas.
    #[schema(example = "K_o")]
    pub symbol: String,
    /// What it is.
    #[schema(example = "Weight of a bare row unit")]
    pub what: String,
    /// The figure to start with, in `unit`.
    #[schema(example = 500)]
    pub value: f64,
    /// Low end of the range, in `unit`.
    #[schema(example = 220)]
    pub low: f64,
    /// High end of the range, in `unit`.
    #[schema(example = 1200)]
    pub high: f64,
    /// UCUM code, `1` for a plain number.
    #[schema(example = "N")]
    pub unit: String,
    /// How the figure is known.
    pub mark: Mark,
    /// The mark in words.
    #[schema(example = "the practice's own figure")]
    pub mark_words: String,
    /// The source, or that there is none.
    #[schema(example = "assumption, no independent source")]
    pub source: String,
    /// Whether digs can correct it.
    #[schema(example = true)]
    pub corrected_by_digs: bool,
    /// What an own figure and its range may be.
    pub within: FigureBounds,
    /// The figure that ships, where the practice has put its own in its place.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub standard: Option<StandardFigure>,
    /// The practice's note on its own figure.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "Heavier brackets since 2025.")]
    pub note: Option<String>,
    /// When the practice last changed it; absent when it never did.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub set_at: Option<DateTime<Utc>>,
    /// Account that last changed it; absent when nobody did.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub set_by: Option<Uuid>,
    /// Counts the practice's changes; 0 when there is none. Also in the header `ETag`.
    #[schema(minimum = 0, example = 0)]
    pub version: i32,
}

/// Hard bounds of an own figure and of its range, in the unit of the coefficient. Both ends belong
/// to it.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({"least": 222.333, "most": 2670})))]
pub struct FigureBounds {
    /// The least that is taken.
    #[schema(example = 222.333)]
    pub least: f64,
    /// The most that is taken.
    #[schema(example = 2670)]
    pub most: f64,
}

/// A figure that ships, in the unit of its coefficient.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "value": 500, "low": 220, "high": 1200, "mark": "assumption", "mark_words": "assumption",
    "source": "assumption, no independent source"
})))]
pub struct StandardFigure {
    /// The figure.
    #[schema(example = 500)]
    pub value: f64,
    /// Low end of the range.
    #[schema(example = 220)]
    pub low: f64,
    /// High end of the range.
    #[schema(example = 1200)]
    pub high: f64,
    /// How it is known.
    pub mark: Mark,
    /// The mark in words.
    #[schema(example = "assumption")]
    pub mark_words: String,
    /// The source, or that there is none.
    #[schema(example = "assumption, no independent source")]
    pub source: String,
}

impl From<&provenance::Coefficient> for StandardFigure {
    fn from(k: &provenance::Coefficient) -> Self {
        Self {
            value: k.value,
            low: k.low,
            high: k.high,
            mark: k.mark.into(),
            mark_words: k.mark.words().to_owned(),
            source: k.source.to_string(),
        }
    }
}

impl CoefficientInForce {
    /// A coefficient of a set, with the newest change of the practice.
    pub(super) fn of(
        k: &provenance::Coefficient,
        change: Option<&own_coefficients::Model>,
    ) -> Self {
        let own = k.mark == provenance::Mark::Own;
        let standard = Coefficients::STANDARD.find(k.name).filter(|_| own).map(Into::into);
        Self {
            name: k.name.to_owned(),
            symbol: k.symbol.to_owned(),
            what: k.what.to_owned(),
            value: k.value,
            low: k.low,
            high: k.high,
            unit: k.unit.to_owned(),
            mark: k.mark.into(),
            mark_words: k.mark.words().to_owned(),
            source: k.source.to_string(),
            corrected_by_digs: k.corrected_by_digs,
            within: FigureBounds { least: k.within.least, most: k.within.most },
            standard,
            note: change.and_then(|row| row.note.clone()),
            set_at: change.map(|row| row.set_at),
            set_by: change.map(|row| row.set_by),
            version: super::store::version_of(change),
        }
    }
}

/// Which coefficients.
#[derive(Debug, Clone, Copy, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct CoefficientFilter {
    /// Only those known in this way.
    #[serde(default)]
    #[param(nullable = false, inline, example = "assumption")]
    pub mark: Option<Mark>,
}

/// The coefficients in force.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "items": [{
        "name": "unit_weight", "symbol": "W_u", "what": "Weight of a bare row unit",
        "value": 778, "low": 667, "high": 890, "unit": "N",
        "mark": "read", "mark_words": "read in the source",
        "source": "Iowa State University Extension, as reported in the farm press, about 2023. Why planter downforce is so important",
        "corrected_by_digs": false, "within": {"least": 222.333, "most": 2670}, "version": 0
    }],
    "counts_by_mark": [{"mark": "read", "mark_words": "read in the source", "count": 1}],
    "set_aside": []
})))]
pub struct CoefficientList {
    /// The coefficients, in the order of the model.
    #[schema(max_items = 1000)]
    pub items: Vec<CoefficientInForce>,
    /// How many coefficients of the whole set are known in which way, the best known first.
    #[schema(max_items = 100)]
    pub counts_by_mark: Vec<MarkCount>,
    /// Own figures of the practice that this version can't use; the standard ones hold.
    #[schema(max_items = 1000)]
    pub set_aside: Vec<SetAside>,
}

/// How many coefficients have a mark.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"mark": "read", "mark_words": "read in the source", "count": 31})))]
pub struct MarkCount {
    /// The mark.
    pub mark: Mark,
    /// The mark in words.
    #[schema(example = "read in the source")]
    pub mark_words: String,
    /// How many.
    #[schema(format = Int32, minimum = 1, example = 31)]
    pub count: usize,
}

/// An own figure that can't be used, and why.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "name": "row_drag", "why": "there is no coefficient `row_drag`"
})))]
pub struct SetAside {
    /// The name under which it was set.
    #[schema(example = "row_drag")]
    pub name: String,
    /// Why.
    #[schema(example = "there is no coefficient `row_drag`")]
    pub why: String,
}

impl CoefficientList {
    /// The list for a practice, of one mark where one is asked for.
    pub(super) fn of(held: &InForce, mark: Option<Mark>) -> Self {
        let change = |name| held.changes.iter().find(|row| row.name == name);
        let counts = held.set.counts_by_mark().into_iter();
        let aside = |(name, why): &(String, OwnFault)| SetAside {
            name: name.clone(),
            why: why.to_string(),
        };
        Self {
            items: held
                .set
                .all()
                .into_iter()
                .filter(|k| mark.is_none_or(|wanted| wanted == k.mark.into()))
                .map(|k| CoefficientInForce::of(k, change(k.name)))
                .collect(),
            counts_by_mark: counts
                .map(|(mark, count)| MarkCount {
                    mark: mark.into(),
                    mark_words: mark.words().to_owned(),
                    count,
                })
                .collect(),
            set_aside: held.set_aside.iter().map(aside).collect(),
        }
    }
}
