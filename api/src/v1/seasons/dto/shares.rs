//! Shares of fields in the window.

use domain::season::report::{
    AdvisorLine, CountedShare, CoverShares, InWindow, Others, SoilShares, WindowShares,
};
use serde::Serialize;
use utoipa::ToSchema;

use super::SubjectNamed;
use crate::v1::planters::resistance::dto::{PooledCover, PooledSoil};

/// A share that was counted, with its 95 % interval (Wilson).
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"count": 18, "of": 20, "share": 0.9, "low": 0.699, "high": 0.972})))]
pub struct FieldShare {
    /// How many.
    #[schema(example = 18)]
    pub count: u32,
    /// Of how many.
    #[schema(minimum = 1, example = 20)]
    pub of: u32,
    /// The share.
    #[schema(minimum = 0, maximum = 1, example = 0.9)]
    pub share: f64,
    /// Low limit, 95 %.
    #[schema(minimum = 0, maximum = 1, example = 0.699)]
    pub low: f64,
    /// High limit, 95 %.
    #[schema(minimum = 0, maximum = 1, example = 0.972)]
    pub high: f64,
}

impl From<CountedShare> for FieldShare {
    fn from(it: CountedShare) -> Self {
        let CountedShare { count, of, share, low, high } = it;
        let three = |value: f64| (value * 1e3).round() / 1e3;
        Self { count, of, share: three(share), low: three(low), high: three(high) }
    }
}

/// Fields with load and depth in the window, at the first dig and at the last. A share is absent
/// where no field tells.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = WindowShares, examples(json!({
    "growers": 11, "fields_dug": 48,
    "first_pass": {"count": 15, "of": 44, "share": 0.341, "low": 0.219, "high": 0.489},
    "dug_again": {"count": 22, "of": 29, "share": 0.759, "low": 0.579, "high": 0.878},
    "after_adjustment": {"count": 36, "of": 45, "share": 0.8, "low": 0.662, "high": 0.891},
    "few_growers": false
})))]
pub struct WindowOut {
    /// Growers of these fields.
    #[schema(example = 11)]
    pub growers: u32,
    /// Fields in which somebody dug.
    #[schema(example = 48)]
    pub fields_dug: u32,
    /// In the window at the first dig, of the fields whose first dig tells.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub first_pass: Option<FieldShare>,
    /// In the window at the last dig, of the fields that were dug again after the first and whose
    /// last dig tells.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub dug_again: Option<FieldShare>,
    /// In the window at the last dig, of all fields whose last dig tells: after adjustment, where
    /// there was one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub after_adjustment: Option<FieldShare>,
    /// Whether fewer than five growers stand behind it: too few to be compared with others.
    #[schema(example = false)]
    pub few_growers: bool,
}

impl From<WindowShares> for WindowOut {
    fn from(it: WindowShares) -> Self {
        let WindowShares {
            growers,
            fields_dug,
            first_pass,
            dug_again,
            after_adjustment,
            few_growers,
        } = it;
        Self {
            growers,
            fields_dug,
            first_pass: first_pass.map(Into::into),
            dug_again: dug_again.map(Into::into),
            after_adjustment: after_adjustment.map(Into::into),
            few_growers,
        }
    }
}

/// Fields in the window in one soil.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"soil": "medium", "shares": {
    "growers": 9, "fields_dug": 30,
    "first_pass": {"count": 11, "of": 28, "share": 0.393, "low": 0.236, "high": 0.576},
    "few_growers": false
}})))]
pub struct SoilWindow {
    /// The soil.
    pub soil: PooledSoil,
    /// The shares.
    pub shares: WindowOut,
}

impl From<SoilShares> for SoilWindow {
    fn from(it: SoilShares) -> Self {
        let SoilShares { soil, shares } = it;
        Self { soil: soil.into(), shares: shares.into() }
    }
}

/// Fields in the window under one cover.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"cover": "living", "shares": {
    "growers": 9, "fields_dug": 30,
    "first_pass": {"count": 11, "of": 28, "share": 0.393, "low": 0.236, "high": 0.576},
    "few_growers": false
}})))]
pub struct CoverWindow {
    /// The cover.
    pub cover: PooledCover,
    /// The shares.
    pub shares: WindowOut,
}

impl From<CoverShares> for CoverWindow {
    fn from(it: CoverShares) -> Self {
        let CoverShares { cover, shares } = it;
        Self { cover: cover.into(), shares: shares.into() }
    }
}

/// Fields in the window.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "all": {"growers": 11, "fields_dug": 48, "few_growers": false}, "by_soil": [], "by_cover": []
})))]
pub struct SeasonWindow {
    /// All fields.
    pub all: WindowOut,
    /// By soil, never by share.
    #[schema(max_items = 4)]
    pub by_soil: Vec<SoilWindow>,
    /// By cover, never by share.
    #[schema(max_items = 3)]
    pub by_cover: Vec<CoverWindow>,
}

impl From<InWindow> for SeasonWindow {
    fn from(it: InWindow) -> Self {
        let InWindow { all, by_soil, by_cover } = it;
        Self {
            all: all.into(),
            by_soil: by_soil.into_iter().map(Into::into).collect(),
            by_cover: by_cover.into_iter().map(Into::into).collect(),
        }
    }
}

/// All other growers of the practice together, without a name.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "growers": 10, "shares": {"growers": 10, "fields_dug": 44, "few_growers": false}
})))]
pub struct OtherGrowers {
    /// How many: five or more.
    #[schema(minimum = 5, example = 10)]
    pub growers: u32,
    /// Their fields in the window.
    pub shares: WindowOut,
}

impl From<Others> for OtherGrowers {
    fn from(it: Others) -> Self {
        let Others { growers, shares } = it;
        Self { growers, shares: shares.into() }
    }
}

/// An advisor, among others by name.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "advisor": {"id": "01964f1e-6a00-7000-8000-000000000001", "name": "Ann Weber"},
    "growers": 7, "shares": {"growers": 7, "fields_dug": 31, "few_growers": false}
})))]
pub struct AdvisorShares {
    /// The advisor; absent for growers that nobody looks after.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub advisor: Option<SubjectNamed>,
    /// Growers of the season that the advisor looks after now.
    #[schema(example = 7)]
    pub growers: u32,
    /// Their fields in the window; absent with fewer than five growers who dug.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub shares: Option<WindowOut>,
}

impl From<AdvisorLine> for AdvisorShares {
    fn from(it: AdvisorLine) -> Self {
        let AdvisorLine { advisor, growers, shares } = it;
        Self { advisor: advisor.map(Into::into), growers, shares: shares.map(Into::into) }
    }
}
