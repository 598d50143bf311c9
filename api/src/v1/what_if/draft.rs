//! `POST /v1/what-if/draft`

use actix_web::post;
use actix_web::web::Data;
use domain::provenance::Coefficients;
use domain::quantity::{System, bounds};
use domain::settings::{self, Hauling, RowDraft, power};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::whole;
use super::words::TextureGroup;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query, Refused};
use crate::tagged_union;
use crate::v1::coefficients::figures_in_force;
use crate::v1::mirror::mirror;
use crate::v1::recommendations::answer::PowerOut;
use crate::v1::recommendations::work::{TractionSurface, TractorKind};
use crate::v1::trace::{self, TraceStep};
use crate::v1::units::UnitsQuery;

mirror! {
    /// A line of the standard's table of planter draft: mounted or drawn on a prepared seedbed,
    /// seeding only or with fertilizer and herbicide; no-till with one fluted coulter a row;
    /// zone-till with three.
    DraftLine = settings::DraftRow {
        MountedSeedOnly DrawnSeedOnly DrawnWithProducts NoTillCoulter ZoneTill
    }
}

/// A planter, its draft, and the tractor.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "rows": 24,
    "draft": {"kind": "measured", "per_row": {"value": 200, "unit": "[lbf_av]"}},
    "speed": {"value": 6, "unit": "[mi_i]/h"},
    "tractor": "two_wheel",
    "surface": "tilled"
})))]
pub(super) struct DraftIn {
    /// Number of rows.
    #[schema(minimum = 1, maximum = 64, example = 16)]
    pub rows: u32,
    /// Draft of a row.
    pub draft: RowDraftIn,
    /// Ground speed. Bound: `ground_speed`.
    pub speed: Quantity,
    /// The tractor; front-wheel assist, with the range of all, when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub tractor: Option<TractorKind>,
    /// The ground under it; firm, with the range to soft, when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub surface: Option<TractionSurface>,
}

tagged_union! {
    /// Draft of a row, by the standard or as it was measured.
    #[schema(examples(json!({"kind": "standard", "line": "no_till_coulter", "texture": "medium"})))]
    pub(super) enum RowDraftIn by "kind" {
        /// By the standard, from memory and with its range.
        Standard = "standard" {
            /// The line of its table.
            line: DraftLine,
            /// Texture of the soil; medium, with the range of all, when absent.
            #[serde(default, deserialize_with = "present")]
            #[schema(nullable = false)]
            texture: Option<TextureGroup>,
        },
        /// Measured, or from another table; rows may stand for feet of width.
        Measured = "measured" {
            /// Draft of a row. Bound: `row_draft`.
            per_row: Quantity,
        },
    }
}

/// Draft and power.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example())))]
pub(super) struct DraftResult {
    /// Pull, power at drawbar, PTO and flywheel, slip.
    pub power: PowerOut,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Draft and power of a planter.
///
/// Pull of all rows, power at the drawbar (`lbf x mph / 375` in horsepower), at the PTO by kind of
/// tractor and ground, and at the flywheel (PTO power / 0.9), each with its range. The standard has
/// no term for speed in planter draft, so that power rises only because speed does.
///
/// Worked example (Iowa State University Extension, May 2007, Matching tractor power and implement
/// size, File A3-26; University of Arizona, Agricultural machinery management, for the tractor): 24
/// ft at 200 lb a foot and 6 mph pull 76.8 hp at the drawbar. With two-wheel drive on tilled soil,
/// 0.67 of the PTO power, that is 114.6 PTO hp; the first source gives 115.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_draft", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = DraftIn, description = "Rows, draft, speed, tractor."),
    responses((status = 200, description = "Draft and power.", body = DraftResult), ComputeErrors),
)]
#[post("/what-if/draft")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<DraftIn>,
) -> Result<Answer<DraftResult>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

impl DraftIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<DraftResult, ApiError> {
        let advice = power(&self.parse()?, k);
        Ok(DraftResult {
            power: PowerOut::of(&advice, system),
            trace: trace::steps(advice.choice.steps.clone()),
        })
    }

    fn parse(&self) -> Result<Hauling, ApiError> {
        let mut refused = Refused::default();
        let why = "planters have up to 64 rows";
        let rows = refused.take(whole("/rows", self.rows, (1, 64), why));
        let (row, texture) = match &self.draft {
            RowDraftIn::Standard { line, texture } => {
                (Some(RowDraft::Table((*line).into())), texture.map(Into::into))
            }
            RowDraftIn::Measured { per_row } => {
                let draft = refused.take(per_row.parse("/draft/per_row", &bounds::ROW_DRAFT));
                (draft.map(RowDraft::Measured), None)
            }
        };
        let speed = refused.take(self.speed.parse("/speed", &bounds::GROUND_SPEED));
        let (Some(rows), Some(row), Some(speed)) = (rows, row, speed) else {
            return Err(refused.into());
        };
        refused.finish()?;
        Ok(Hauling {
            rows: u16::try_from(rows).map_err(ApiError::internal)?,
            row,
            texture,
            speed,
            tractor: self.tractor.map(Into::into),
            surface: self.surface.map(Into::into),
        })
    }
}

/// The answer to the example of the body, worked out.
fn example() -> serde_json::Value {
    let body = DraftIn {
        rows: 24,
        draft: RowDraftIn::Measured { per_row: Quantity::new(200.0, "[lbf_av]") },
        speed: Quantity::new(6.0, "[mi_i]/h"),
        tractor: Some(TractorKind::TwoWheel),
        surface: Some(TractionSurface::Tilled),
    };
    body.work_out(System::Us, &Coefficients::STANDARD)
        .map_or(serde_json::Value::Null, |it| serde_json::to_value(it).unwrap_or_default())
}
