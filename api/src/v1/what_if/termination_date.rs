//! `POST /v1/what-if/termination-date`

use actix_web::post;
use actix_web::web::Data;
use chrono::{Days, NaiveDate};
use domain::conditions::{self, Conditions};
use domain::provenance::{Coefficients, Input, sources};
use domain::quantity::{Length, bounds};
use domain::stand::{days_to_emerge, emergence};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::number;
use super::step::Known;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::tagged_union;
use crate::v1::coefficients::figures_in_force;
use crate::v1::conditions::termination::Termination;
use crate::v1::conditions::{Crop, TerminationZone};
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

/// A cover crop that has to be ended, and the crop that follows it.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "crop": "corn",
    "zone": "four",
    "planting_date": "2027-05-10",
    "emergence": {"kind": "day", "day": "2027-05-13"}
})))]
pub(super) struct TerminationDateIn {
    /// The crop to be planted.
    pub crop: Crop,
    /// The day of planting.
    #[schema(example = "2027-05-10")]
    pub planting_date: NaiveDate,
    /// The zone of the field; irrigated land needs none.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub zone: Option<TerminationZone>,
    /// Whether the field is irrigated: then only emergence counts.
    #[serde(default)]
    #[schema(default = false)]
    pub irrigated: bool,
    /// The day on which the crop comes up, or the heat that brings it up.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub emergence: Option<EmergenceIn>,
    /// The day on which the cover was ended, or is meant to be.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, example = "2027-05-08")]
    pub cover_ended: Option<NaiveDate>,
}

tagged_union! {
    /// When the crop comes up.
    #[schema(examples(json!({"kind": "day", "day": "2027-05-13"})))]
    pub(super) enum EmergenceIn by "kind" {
        /// A day that was seen or forecast; 1 to 60 days after planting.
        OnDay = "day" {
            /// The day.
            #[schema(example = "2027-05-13")]
            day: NaiveDate,
        },
        /// By degree days: the fewest that may bring the crop up, so that the day is early.
        ByHeat = "degree_days" {
            /// Degree days (°F, base 50 °F) of a usual day; 1 to 36.
            #[schema(minimum = 1, maximum = 36, example = 12)]
            a_day: f64,
            /// Depth of the seed. Bound: `planting_depth`.
            depth: Quantity,
        },
    }
}

/// The last day for ending a cover crop.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "termination": {
        "zone": "four",
        "latest": "2027-05-12",
        "verdict": "not_known",
        "rule": {
            "text": "guidance, zone 4: end the cover at or within 5 days after planting, and before the crop emerges",
            "mark": "read",
            "mark_words": "read in the source",
            "source": "USDA-NRCS Iowa. USDA releases new cover crop termination guidelines, n.d."
        },
        "watch": [
            {
                "text": "check the policy, the agent, and the herbicide label; they override",
                "mark": "from_memory",
                "mark_words": "from memory, source to confirm",
                "source": "USDA-NRCS. Practice standard 340, Michigan (2015) and North Carolina (2020), for the label; the order of the others from memory, source to confirm"
            },
            {
                "text": "up to 7 more days may be allowed in no-till, and up to 7 in a wet season: ask before you count on them",
                "mark": "from_memory",
                "mark_words": "from memory, source to confirm",
                "source": "NRCS cover crop termination guidelines, Version 4 (from memory, source to confirm)"
            },
            {
                "text": "a later day is possible with local trial results or the written opinion of an agricultural expert",
                "mark": "read",
                "mark_words": "read in the source",
                "source": "The Practical Cover Cropper (farmer-network newsletter, Iowa), n.d."
            }
        ]
    },
    "emergence": "2027-05-13",
    "trace": [
        {
            "step": "days from planting to the last day for ending the cover",
            "formula": "the days of the zone, at most t_emergence - 1",
            "inputs": [
                {"symbol": "t_emergence", "value": 3, "unit": "d"}
            ],
            "value": 2,
            "unit": "d",
            "source": "USDA-NRCS Iowa. USDA releases new cover crop termination guidelines, n.d.",
            "mark": "derived",
            "mark_words": "derived"
        }
    ]
})))]
pub(super) struct TerminationDate {
    /// The day, the rule, and who comes before it.
    pub termination: Termination,
    /// The earliest day on which the crop may be up, where it is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-05-13")]
    pub emergence: Option<NaiveDate>,
    /// The days after planting.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// The last day for ending a cover crop.
///
/// By the zones of the NRCS guidelines: 35 (zone 1) or 15 days (zone 2) before soybean, at planting
/// at the latest before corn there; at or before planting in zone 3; within 5 days after planting in
/// zone 4; always before the crop emerges. Guidance only: check the policy, the agent, and the
/// herbicide label; they override.
///
/// Worked example (USDA-NRCS Iowa, n.d., rule read, dates ours): planted in zone 4 on 10 May and up
/// on 13 May, the cover must have ended by 12 May, although 5 days would allow 15 May.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_termination_date", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = TerminationDateIn, description = "Zone, crop, days."),
    responses((status = 200, description = "The last day.", body = TerminationDate), ComputeErrors),
)]
#[post("/what-if/termination-date")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    _query: Query<UnitsQuery>,
    body: Body<TerminationDateIn>,
) -> Result<Answer<TerminationDate>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(&k).map(Answer::ok)
}

/// Most days from planting to emergence, and most days that an end may lie from planting.
const MOST_DAYS: i64 = 60;
/// Days after planting in which a cover may be ended.
const DAYS_AFTER: i64 = 14;

impl TerminationDateIn {
    fn work_out(self, k: &Coefficients) -> Result<TerminationDate, ApiError> {
        let mut refused = Refused::default();
        let field = Conditions {
            planting_date: Some(self.planting_date),
            termination_zone: self.zone.map(Into::into),
            irrigated: Some(self.irrigated),
            cover_ended: self.cover_ended,
            ..Conditions::of(self.crop.into())
        };
        refused.take(self.ended());
        let up =
            self.emergence.as_ref().map(|up| up.day(&field, self.planting_date, k, &mut refused));
        refused.finish()?;
        let emergence = up.flatten();
        let found = conditions::termination(&field, emergence);
        let days = |day: NaiveDate| days_after(self.planting_date, day);
        let inputs = emergence.map(|day| Input::new("t_emergence", days(day), "d"));
        let step =
            found.latest.map(|day| LAST_DAY.gives(inputs.into_iter().collect(), days(day), "d"));
        Ok(TerminationDate {
            termination: found.into(),
            emergence,
            trace: step.into_iter().collect(),
        })
    }

    fn ended(&self) -> Result<(), BadMember> {
        let Some(ended) = self.cover_ended else { return Ok(()) };
        let after = (ended - self.planting_date).num_days();
        if (-MOST_DAYS..=DAYS_AFTER).contains(&after) {
            return Ok(());
        }
        Err(BadMember::new("/cover_ended", "This day lies too far from the day of planting.")
            .given(ended)
            .allowed(format!("{MOST_DAYS} days before planting to {DAYS_AFTER} days after it"))
            .why(
                "a cover that died in winter is dead residue, and none may live on beside the crop",
            ))
    }
}

const LAST_DAY: Known = Known::derived(
    "days from planting to the last day for ending the cover",
    "the days of the zone, at most t_emergence - 1",
    sources::NRCS_IOWA_ZONES,
);

/// Days after planting; negative before it.
fn days_after(planting: NaiveDate, day: NaiveDate) -> f64 {
    // Checked to lie within weeks.
    i32::try_from((day - planting).num_days()).map_or(0.0, f64::from)
}

impl EmergenceIn {
    fn day(
        &self,
        field: &Conditions,
        planting: NaiveDate,
        k: &Coefficients,
        refused: &mut Refused,
    ) -> Option<NaiveDate> {
        match self {
            Self::OnDay { day } => {
                let after = (*day - planting).num_days();
                if (1..=MOST_DAYS).contains(&after) {
                    return Some(*day);
                }
                refused.add(
                    BadMember::new("/emergence/day", "The crop cannot come up on this day.")
                        .given(day)
                        .allowed(format!("1 to {MOST_DAYS} days after planting"))
                        .why("nothing comes up on the day of planting or two months later"),
                );
                None
            }
            Self::ByHeat { a_day, depth } => {
                let why = "a day brings at most 36 degree days";
                let heat = refused.take(number("/emergence/a_day", *a_day, (1.0, 36.0), why));
                let depth = refused.take(depth.parse("/emergence/depth", &bounds::PLANTING_DEPTH));
                earliest(field, planting, (heat?, depth?), k)
            }
        }
    }
}

/// The earliest day on which the crop may be up: by the fewest degree days.
fn earliest(
    field: &Conditions,
    planting: NaiveDate,
    (heat, depth): (f64, Length),
    k: &Coefficients,
) -> Option<NaiveDate> {
    let fewest = emergence(field, depth, k).low;
    let days = days_to_emerge(fewest, heat).ok()?.floor();
    let whole = (1_u32..=400).find(|n| f64::from(*n) >= days)?;
    planting.checked_add_days(Days::new(u64::from(whole)))
}
