//! What is answered.

use chrono::NaiveDate;
use domain::stand::{Compared, Ends, Money};
use serde::Serialize;
use utoipa::ToSchema;
use uuid::Uuid;

use super::super::answer::{StandFigure, percent};
use crate::http::quantity::{Quantity, six_digits};
use crate::v1::conditions::Crop;
use crate::v1::recommendations::answer::LossOut;
use crate::v1::trace::{Reason, TraceStep};
use crate::v1::what_if::{TableGap, YieldTableName};

/// What stands against planting again, by what is published. It orders nothing.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "stand_count_id": "01964f1e-6a00-7000-8000-000000000071", "crop": "corn",
    "first": [], "keep": {"planted_on": "2027-04-29", "stand": {"value": {"value": 24000, "unit": "1/[acr_us]"}}},
    "again": {"planted_on": "2027-05-29", "stand": {"value": {"value": 30000, "unit": "1/[acr_us]"}}},
    "further_loss_low": {"value": 0, "unit": "%"}, "further_loss_high": {"value": 2, "unit": "%"},
    "tables": [{
        "table": "iowa_replant", "region": "east-central Iowa", "year": 2006,
        "keep": {"value": 94, "unit": "%"}, "keep_low": {"value": 92.1, "unit": "%"}, "keep_high": {"value": 94, "unit": "%"},
        "again": {"value": 90, "unit": "%"}, "again_low": {"value": 81, "unit": "%"}, "again_high": {"value": 90, "unit": "%"},
        "gain": {"value": -4, "unit": "%"}, "gain_low": {"value": -13, "unit": "%"}, "gain_high": {"value": -2.1, "unit": "%"},
        "printed": true, "extrapolated_by_source": false,
        "words": "By this table what stands yields 94 % of the best, planted again 90 % before replant problems.",
        "note": "take about 10 % more off a replanted yield for replant problems",
        "source": "Iowa State University Extension, East-Central Iowa crop page, 23 May 2006"
    }],
    "not_covered": [], "published": [], "can_not_know": ["why the stand is thin, and whether that would take the new one too"], "trace": []
})))]
pub(super) struct ReplantComparison {
    /// The stand count.
    pub stand_count_id: Uuid,
    /// The crop.
    pub crop: Crop,
    /// What comes before any comparison: the insurer and the labels.
    #[schema(max_items = 10)]
    pub first: Vec<Reason>,
    /// What stands.
    pub keep: ReplantSide,
    /// Planting again.
    pub again: ReplantSide,
    /// Least that gaps and late plants take from what stands, on top of the thin stand.
    pub further_loss_low: Quantity,
    /// Most that they take.
    pub further_loss_high: Quantity,
    /// Table by table, side by side.
    #[schema(max_items = 10)]
    pub tables: Vec<ReplantTable>,
    /// The tables that say nothing here, with what they cover.
    #[schema(max_items = 10)]
    pub not_covered: Vec<TableGap>,
    /// What else is published, with its sources.
    #[schema(max_items = 20)]
    pub published: Vec<Reason>,
    /// Soybean: what stands, in percent of full yield, as far as the sources reach: low end.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub soybean_keep_low: Option<Quantity>,
    /// High end.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub soybean_keep_high: Option<Quantity>,
    /// Soybean: what the later date costs, by what is published.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub soybean_delay: Option<LossOut>,
    /// What planting again costs, with its money.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub money: Option<ReplantMoney>,
    /// What none of this can know.
    #[schema(max_items = 20, example = json!(["whether the plants that stand are healthy"]))]
    pub can_not_know: Vec<String>,
    /// The readings of the tables.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// A stand and its day of planting.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "planted_on": "2027-04-29", "stand": {"value": {"value": 24000, "unit": "1/[acr_us]"}}
})))]
pub(super) struct ReplantSide {
    /// The day of planting.
    #[schema(example = "2027-04-29")]
    pub planted_on: NaiveDate,
    /// The stand.
    pub stand: StandFigure,
}

/// One table.
#[derive(Debug, Serialize, ToSchema)]
pub(super) struct ReplantTable {
    /// The table.
    pub table: YieldTableName,
    /// Where the trials stood.
    #[schema(example = "east-central Iowa")]
    pub region: String,
    /// The year of the table.
    #[schema(minimum = 1900, example = 2006)]
    pub year: u16,
    /// What stands, in percent of the best yield of the region, by its likely stand.
    pub keep: Quantity,
    /// The same at the low end of the stand, less the most that gaps and late plants take.
    pub keep_low: Quantity,
    /// The same at the high end, less the least.
    pub keep_high: Quantity,
    /// Planted again, before replant problems.
    pub again: Quantity,
    /// The same at its low end, less all of the tenth for replant problems.
    pub again_low: Quantity,
    /// The same at its high end, less none of it.
    pub again_high: Quantity,
    /// Planted again less kept, by the two figures of the table alone.
    pub gain: Quantity,
    /// The least that planting again may gain; below 0 it loses.
    pub gain_low: Quantity,
    /// The most that it may gain.
    pub gain_high: Quantity,
    /// With money: what planting again gains an acre after its cost, at the least.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = -244)]
    pub gain_low_per_ac: Option<f64>,
    /// The same at the most.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = -145.9)]
    pub gain_high_per_ac: Option<f64>,
    /// Whether the source prints both figures; else one lies between printed ones.
    pub printed: bool,
    /// Whether the source itself extrapolated to one of the dates.
    pub extrapolated_by_source: bool,
    /// It in words.
    #[schema(
        example = "By this table what stands yields 94 % of the best, planted again 90 % before replant problems."
    )]
    pub words: String,
    /// What to keep in mind.
    #[schema(example = "take about 10 % more off a replanted yield for replant problems")]
    pub note: String,
    /// The citation.
    #[schema(
        example = "Iowa State University Extension, East-Central Iowa crop page, 23 May 2006"
    )]
    pub source: String,
}

/// What planting again costs, and what it must gain to pay for itself.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "currency": "USD", "cost_per_ac": 127, "pays_at": {"value": 14.1111, "unit": "%"}
})))]
pub(super) struct ReplantMoney {
    /// Code of the currency (ISO 4217).
    #[schema(example = "USD")]
    pub currency: String,
    /// Cost of planting an acre again.
    #[schema(example = 127)]
    pub cost_per_ac: f64,
    /// Percent of the expected yield that planting again must gain to pay for itself; absent where
    /// nothing is earned.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub pays_at: Option<Quantity>,
    /// Area of the planting, where it is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub area: Option<Quantity>,
    /// Cost on all of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 5080)]
    pub cost_of_area: Option<f64>,
}

impl ReplantTable {
    /// A comparison by one table.
    pub(super) fn of(it: &Compared, money: Option<&Money>) -> Self {
        let table = it.keep.table;
        let Ends { low, high } = it.gain_range;
        let earned = |percent: f64| money.map(|money| six_digits(money.gain(percent)));
        Self {
            table: table.into(),
            region: table.region().to_owned(),
            year: table.year(),
            keep: percent(it.keep.percent),
            keep_low: percent(it.keep_range.low),
            keep_high: percent(it.keep_range.high),
            again: percent(it.again.percent),
            again_low: percent(it.again_range.low),
            again_high: percent(it.again_range.high),
            gain: percent(it.gain),
            gain_low: percent(low),
            gain_high: percent(high),
            gain_low_per_ac: earned(low),
            gain_high_per_ac: earned(high),
            printed: it.keep.printed && it.again.printed,
            extrapolated_by_source: it.keep.extrapolated_by_source
                || it.again.extrapolated_by_source,
            words: words(it),
            note: table.note().to_owned(),
            source: table.source().to_owned(),
        }
    }
}

fn words(it: &Compared) -> String {
    let Ends { low, high } = it.gain_range;
    let unsure = if low > 0.0 {
        "over all that is unsure, planting again yields more"
    } else if high < 0.0 {
        "over all that is unsure, what stands yields more"
    } else {
        "over all that is unsure, either may yield more"
    };
    format!(
        "By this table what stands yields {:.0} % of the best, planted again {:.0} % before replant problems; {unsure}, before what it costs.",
        it.keep.percent, it.again.percent
    )
}
