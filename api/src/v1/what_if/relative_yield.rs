//! `POST /v1/what-if/relative-yield`

use actix_web::post;
use chrono::NaiveDate;
use domain::conditions::Crop;
use domain::quantity::{ArealNumberDensity, System, bounds};
use domain::stand::{RelativeYield, YieldTable, loss_per_day};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::number;
use super::step::answer;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::{Quantity, six_digits};
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query, Refused};
use crate::v1::mirror::mirror;
use crate::v1::recommendations::answer::LossOut;
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

mirror! {
    /// A published table of corn yield by planting date and stand: Illinois 1994, east-central Iowa
    /// 2006 (replanting), northern Iowa 2018 (delayed planting), southern Wisconsin 2003 with a
    /// hybrid of full or of short season.
    YieldTableName = YieldTable {
        IllinoisDateStand IowaReplant IowaLatePlanting WisconsinFullSeason WisconsinShortSeason
    }
}

/// A date and a stand of corn.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "planting_date": "2027-05-20",
    "stand": {"value": 30000, "unit": "1/[acr_us]"},
    "expected_yield_bu_ac": 200
})))]
pub(super) struct RelativeYieldIn {
    /// The day of planting; the tables know month and day.
    pub planting_date: NaiveDate,
    /// Final stand. Bound: `seed_population`.
    pub stand: Quantity,
    /// Yield of the best date and stand, bushels an acre; with it the yield is answered.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 1, maximum = 400, example = 200)]
    pub expected_yield_bu_ac: Option<f64>,
}

/// What the published tables say, one by one: they differ by region and year.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example())))]
pub(super) struct RelativeYields {
    /// The tables that cover the date and the stand.
    #[schema(max_items = 10)]
    pub tables: Vec<TableReading>,
    /// The tables that do not, with what they cover.
    #[schema(max_items = 10)]
    pub not_covered: Vec<TableGap>,
    /// Loss for each day that planting waits, near this date.
    pub loss_per_day: LossOut,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// One table.
#[derive(Debug, Serialize, ToSchema)]
pub(super) struct TableReading {
    /// The table.
    pub table: YieldTableName,
    /// Where the trials stood.
    #[schema(example = "Illinois")]
    pub region: String,
    /// The year of the table.
    #[schema(minimum = 1900, example = 1994)]
    pub year: u16,
    /// Percent of what the region yields at its best date and stand.
    pub relative_yield: Quantity,
    /// Yield, bushels an acre; with an expected yield.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 182)]
    pub yield_bu_ac: Option<f64>,
    /// The smooth curve that fits the table, where one does; for comparing near dates and stands.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub smooth: Option<Quantity>,
    /// Whether the source prints this figure; else it lies between printed ones.
    pub printed: bool,
    /// Whether the source itself extrapolated to this date.
    pub extrapolated_by_source: bool,
    /// What to keep in mind.
    #[schema(example = "take about 10 % more off a replanted yield for replant problems")]
    pub note: String,
    /// The citation.
    #[schema(example = "Iowa State University Extension 2018. Delayed planting in northern Iowa")]
    pub source: String,
}

/// A table that says nothing here.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "table": "wisconsin_full_season", "region": "southern Wisconsin, full-season hybrid",
    "why": "the table covers 32000 to 36000 plants an acre"
})))]
pub struct TableGap {
    /// The table.
    pub table: YieldTableName,
    /// Where the trials stood.
    #[schema(example = "southern Wisconsin, full-season hybrid")]
    pub region: String,
    /// What it covers.
    #[schema(example = "the table covers 32000 to 36000 plants an acre")]
    pub why: String,
}

/// Relative yield of corn by planting date and stand.
///
/// Read from published tables, each with region and year; between cells along straight lines,
/// never beyond their dates and stands. Guidance: years scatter widely.
///
/// Worked example (Purdue University, as reported in the farm press, 2011, by the table of Nafziger
/// 1994): 30,000 plants on 20 May give 91 %; of 200 bushels that is 182.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_relative_yield", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = RelativeYieldIn, description = "Date and stand."),
    responses((status = 200, description = "What the tables say.", body = RelativeYields), ComputeErrors),
)]
#[post("/what-if/relative-yield")]
pub(super) async fn calculate(
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<RelativeYieldIn>,
) -> Result<Answer<RelativeYields>, ApiError> {
    answer(body.into_inner().work_out(caller.units(query.0.units).into())).await
}

impl RelativeYieldIn {
    fn work_out(self, _: System) -> Result<RelativeYields, ApiError> {
        let (stand, expected) = self.parse()?;
        let mut found = RelativeYields {
            tables: Vec::new(),
            not_covered: Vec::new(),
            loss_per_day: LossOut::of(&loss_per_day(Crop::Corn, self.planting_date, expected)),
            trace: Vec::new(),
        };
        for table in YieldTable::ALL {
            match table.at(self.planting_date, stand) {
                Ok(read) => {
                    let smooth = table.fitted(self.planting_date, stand);
                    found.tables.push(TableReading::of(&read, smooth, expected));
                    found.trace.push(TraceStep::from(read.step));
                }
                Err(outside) => found.not_covered.push(TableGap {
                    table: table.into(),
                    region: table.region().to_owned(),
                    why: outside.to_string(),
                }),
            }
        }
        Ok(found)
    }

    fn parse(&self) -> Result<(ArealNumberDensity, Option<f64>), ApiError> {
        let mut refused = Refused::default();
        let stand = refused.take(self.stand.parse("/stand", &bounds::SEED_POPULATION));
        let why = "no field of corn yields more than 400 bu/ac";
        let expected = self.expected_yield_bu_ac.and_then(|bushels| {
            refused.take(number("/expected_yield_bu_ac", bushels, (1.0, 400.0), why))
        });
        let Some(stand) = stand else { return Err(refused.into()) };
        refused.finish()?;
        Ok((stand, expected))
    }
}

impl TableReading {
    fn of(read: &RelativeYield, smooth: Option<f64>, expected: Option<f64>) -> Self {
        let percent = |x: f64| Quantity::new(six_digits(x), "%");
        Self {
            table: read.table.into(),
            region: read.table.region().to_owned(),
            year: read.table.year(),
            relative_yield: percent(read.percent),
            yield_bu_ac: expected.map(|bushels| six_digits(bushels * read.percent / 100.0)),
            smooth: smooth.map(percent),
            printed: read.printed,
            extrapolated_by_source: read.extrapolated_by_source,
            note: read.table.note().to_owned(),
            source: read.table.source().to_owned(),
        }
    }
}

/// The answer to the example of the body, worked out.
fn example() -> serde_json::Value {
    let body = RelativeYieldIn {
        planting_date: NaiveDate::from_ymd_opt(2027, 5, 20).unwrap_or_default(),
        stand: Quantity::new(30_000.0, "1/[acr_us]"),
        expected_yield_bu_ac: Some(200.0),
    };
    body.work_out(System::Us)
        .map_or(serde_json::Value::Null, |it| serde_json::to_value(it).unwrap_or_default())
}
