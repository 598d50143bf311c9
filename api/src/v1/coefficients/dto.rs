//! What goes over the wire.

use domain::provenance;
use domain::quantity::{self, System, bounds::Row, unit};
use serde::Serialize;
use utoipa::ToSchema;

use crate::http::quantity::six_digits;
use crate::v1::mirror::mirror;
use crate::v1::trace::Mark;

mirror! {
    /// What a number measures. Two units can be exchanged only within one kind. `temperature` is a
    /// temperature on a scale, not a difference.
    QuantityKind = quantity::Kind {
        Length Area Volume Mass Force Pressure Speed Temperature Angle Fraction PerArea MassPerArea
        Density Time Flow VolumePerArea ExchangeCapacity Acidity
    }
}

/// A number of the model: the figure to start with, the range it may lie in, how it is known.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "name": "opener_resistance", "symbol": "K_o",
    "what": "Upward soil reaction on a 381 mm double-disc opener at 50 mm in moist soil without residue",
    "value": 500, "low": 220, "high": 1200, "unit": "N",
    "mark": "assumption", "mark_words": "assumption",
    "source": "assumption, no independent source", "corrected_by_digs": true
})))]
pub struct Coefficient {
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
    #[schema(example = "assumption")]
    pub mark_words: String,
    /// The source, or that there is none.
    #[schema(example = "assumption, no independent source")]
    pub source: String,
    /// Whether digs can correct it.
    #[schema(example = true)]
    pub corrected_by_digs: bool,
}

impl From<&provenance::Coefficient> for Coefficient {
    fn from(k: &provenance::Coefficient) -> Self {
        let provenance::Coefficient {
            name,
            symbol,
            what,
            value,
            low,
            high,
            unit,
            mark,
            source,
            corrected_by_digs,
            within: _,
        } = k;
        Self {
            name: (*name).to_owned(),
            symbol: (*symbol).to_owned(),
            what: (*what).to_owned(),
            value: *value,
            low: *low,
            high: *high,
            unit: (*unit).to_owned(),
            mark: (*mark).into(),
            mark_words: mark.words().to_owned(),
            source: source.to_string(),
            corrected_by_digs: *corrected_by_digs,
        }
    }
}

/// A unit that is understood.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "code": "[in_i]", "label": "in", "kind": "length", "kind_words": "a length"
})))]
pub struct UnitOfMeasure {
    /// UCUM code, case-sensitive.
    #[schema(example = "[in_i]")]
    pub code: String,
    /// How people write it; empty for a plain number.
    #[schema(example = "in")]
    pub label: String,
    /// What it measures.
    pub kind: QuantityKind,
    /// The kind in words.
    #[schema(example = "a length")]
    pub kind_words: String,
}

impl From<&quantity::Unit> for UnitOfMeasure {
    fn from(unit: &quantity::Unit) -> Self {
        Self {
            code: unit.code.to_owned(),
            label: unit.label.to_owned(),
            kind: unit.kind.into(),
            kind_words: unit.kind.name().to_owned(),
        }
    }
}

/// The units that are understood.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": [
    {"code": "[in_i]", "label": "in", "kind": "length", "kind_words": "a length"}
]})))]
pub struct UnitList {
    /// The units, kind by kind.
    #[schema(max_items = 1000)]
    pub items: Vec<UnitOfMeasure>,
}

/// What a quantity may be.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "name": "row_width", "kind": "length", "kind_words": "a length",
    "us": {"least": 5, "most": 60, "unit": "[in_i]"},
    "si": {"least": 12.7, "most": 152.4, "unit": "cm"},
    "why": "planters for corn and soybean run on rows from 7 to 40 in"
})))]
pub struct QuantityBound {
    /// The name that descriptions of members refer to.
    #[schema(example = "row_width")]
    pub name: String,
    /// What it measures.
    pub kind: QuantityKind,
    /// The kind in words.
    #[schema(example = "a length")]
    pub kind_words: String,
    /// The range in customary units of the United States.
    pub us: BoundRange,
    /// The same range in metric units.
    pub si: BoundRange,
    /// Why the range is what it is.
    #[schema(example = "planters for corn and soybean run on rows from 7 to 40 in")]
    pub why: String,
}

/// A range with its unit. Both ends belong to it.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"least": 5, "most": 60, "unit": "[in_i]"})))]
pub struct BoundRange {
    /// Least value that is taken.
    #[schema(example = 5)]
    pub least: f64,
    /// Greatest value that is taken.
    #[schema(example = 60)]
    pub most: f64,
    /// UCUM code of both; answers come in this unit.
    #[schema(example = "[in_i]")]
    pub unit: String,
}

impl From<Row> for QuantityBound {
    fn from(row: Row) -> Self {
        Self {
            us: BoundRange::of(&row, System::Us),
            si: BoundRange::of(&row, System::Si),
            name: row.name.to_owned(),
            kind: row.kind.into(),
            kind_words: row.kind.name().to_owned(),
            why: row.why.to_owned(),
        }
    }
}

impl BoundRange {
    fn of(row: &Row, system: System) -> Self {
        let code = match system {
            System::Us => row.us,
            System::Si => row.si,
        };
        let shown = |value: f64| match (unit(row.us), unit(code)) {
            (Some(own), Some(wanted)) => six_digits(wanted.of_si(own.to_si(value))),
            _ => value,
        };
        Self { least: shown(row.least), most: shown(row.most), unit: code.to_owned() }
    }
}

/// The bounds of all quantities.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": [{
    "name": "row_width", "kind": "length", "kind_words": "a length",
    "us": {"least": 5, "most": 60, "unit": "[in_i]"},
    "si": {"least": 12.7, "most": 152.4, "unit": "cm"},
    "why": "planters for corn and soybean run on rows from 7 to 40 in"
}]})))]
pub struct BoundList {
    /// The bounds.
    #[schema(max_items = 1000)]
    pub items: Vec<QuantityBound>,
}
