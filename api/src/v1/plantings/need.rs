//! How much heat a planting takes to come up. It is worked out when the planting is entered, from
//! what is known of the field then, and kept: a change of the planting works it out anew.

use chrono::{Days, NaiveDate, NaiveTime};
use domain::conditions::{Conditions, Crop};
use domain::provenance::{Assumed, Mark, sources};
use domain::quantity::{Length, Measured};
use domain::stand::{Emergence, need_of};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder};
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::auth::Scope;
use crate::entities::{conditions_reports, fields, plantings};
use crate::http::ApiError;
use crate::v1::coefficients::figures_in_force;
use crate::v1::conditions::store::conditions_of;
use crate::v1::recommendations::store as sheets;

/// Usual depths in inches, where nobody said how deep the seed lies.
const CORN_INCHES: f64 = 2.0;
const SOYBEAN_INCHES: f64 = 1.25;

/// Degree days to emergence, and what had to be assumed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Need {
    /// The degree days.
    pub emergence: Emergence,
    /// Defaults that stood in for what nobody said.
    pub assumed: Vec<Assumed>,
}

/// A planting, as far as its need rests on it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sown<'a> {
    pub field: &'a fields::Model,
    pub recommendation_id: Option<Uuid>,
    pub crop: Crop,
    pub planted_on: NaiveDate,
    pub depth: Option<Length>,
}

/// The need of a stored planting.
pub fn stored(row: &plantings::Model) -> Result<Need, ApiError> {
    serde_json::from_value(row.need.clone()).map_err(ApiError::internal)
}

/// Works out the need: by the conditions of the recommendation that was followed, else by the newest
/// report up to the day of planting.
pub(super) async fn of(
    db: &impl ConnectionTrait,
    scope: Scope,
    planted: &Sown<'_>,
) -> Result<Need, ApiError> {
    let mut assumed = Vec::new();
    let (seen, advised) = match planted.recommendation_id {
        Some(id) => {
            let sheet = sheets::find(db, scope, id).await?;
            let used = sheets::result_of(&sheet)?.depth_used;
            (Some(sheets::inputs_of(&sheet)?.field), Some(used))
        }
        None => (reported(db, scope, planted).await?, None),
    };
    if seen.is_none() {
        assumed.push(nothing_reported());
    }
    let mut seen = seen.unwrap_or(Conditions::of(planted.crop));
    seen.crop = planted.crop;
    seen.texture = seen.texture.or(planted.field.texture_class.map(Into::into));
    let depth = planted.depth.or(advised).unwrap_or_else(|| {
        let (usual, words) = usual_depth(planted.crop);
        assumed.push(assumed_depth(words));
        usual
    });
    let figures = figures_in_force(db, scope).await?;
    let emergence = need_of(&seen, depth, planted.planted_on, &figures);
    Ok(Need { emergence, assumed })
}

async fn reported(
    db: &impl ConnectionTrait,
    scope: Scope,
    planted: &Sown<'_>,
) -> Result<Option<Conditions>, ApiError> {
    use conditions_reports::Column;
    let end = planted.planted_on.checked_add_days(Days::new(1)).unwrap_or(planted.planted_on);
    let newest = scope
        .conditions_reports()
        .filter(Column::FieldId.eq(planted.field.id))
        .filter(Column::ObservedAt.lt(end.and_time(NaiveTime::MIN).and_utc()))
        .order_by_desc(Column::ObservedAt)
        .order_by_desc(Column::Id)
        .one(db)
        .await?;
    newest.as_ref().map(conditions_of).transpose()
}

fn usual_depth(crop: Crop) -> (Length, &'static str) {
    match crop {
        Crop::Corn => (Length::from_si(CORN_INCHES * 0.0254), "2 in"),
        Crop::Soybean => (Length::from_si(SOYBEAN_INCHES * 0.0254), "1.25 in"),
    }
}

fn assumed_depth(used: &'static str) -> Assumed {
    Assumed {
        what: "depth of the seed".into(),
        used: used.into(),
        range: None,
        instead: "enter the depth with the planting".into(),
        mark: Mark::Assumption,
        source: sources::ASSUMPTION.into(),
    }
}

fn nothing_reported() -> Assumed {
    Assumed {
        what: "residue, moisture and texture".into(),
        used: "nothing that delays emergence".into(),
        range: None,
        instead: "report the conditions of the field on the day of planting or before".into(),
        mark: Mark::Assumption,
        source: sources::ASSUMPTION.into(),
    }
}
