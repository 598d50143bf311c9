//! What is known of the planters of a grower in the shed.

use chrono::{DateTime, Utc};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder};
use serde::Serialize;
use utoipa::ToSchema;
use uuid::Uuid;

use crate::auth::Scope;
use crate::entities::{inspections, planters, repairs, wear_limits};
use crate::http::ApiError;
use crate::v1::inspections::shed::Shed;
use crate::v1::inspections::show::Inspection;
use crate::v1::inspections::store::correction_of;
use crate::v1::repairs::dto::Repair;
use crate::v1::units::Units;
use crate::v1::wear_limits::dto::WearLimitsIn;

/// What was entered from the manual of a planter, one of its versions.
#[derive(Debug, Serialize, ToSchema)]
pub struct ExportedWearLimits {
    /// The planter.
    pub planter_id: Uuid,
    /// What was entered.
    pub entered: WearLimitsIn,
    /// Counts the changes.
    #[schema(minimum = 1, example = 1)]
    pub version: i32,
    /// When it was entered.
    pub set_at: DateTime<Utc>,
    /// Account that entered it.
    pub set_by: Uuid,
}

/// Inspections, repairs and limits, oldest first.
#[derive(Debug, Default)]
pub(super) struct InShed {
    pub inspections: Vec<Inspection>,
    pub repairs: Vec<Repair>,
    pub wear_limits: Vec<ExportedWearLimits>,
}

/// All that is known of these planters.
pub(super) async fn gather(
    db: &impl ConnectionTrait,
    scope: Scope,
    (planters, units): (&[planters::Model], Units),
) -> Result<InShed, ApiError> {
    let mut found = InShed::default();
    for planter in planters {
        let rows = scope.inspections().filter(inspections::Column::PlanterId.eq(planter.id));
        let rows = rows.order_by_asc(inspections::Column::Id).all(db).await?;
        let shed = Shed::load(db, planter).await?;
        for row in rows {
            let newer = correction_of(db, scope, row.id).await?;
            found.inspections.push(Inspection::show(&row, &shed, newer, units.into())?);
        }
    }
    for row in scope.repairs().order_by_asc(repairs::Column::Id).all(db).await? {
        found.repairs.push(Repair::show(row)?);
    }
    for row in scope.wear_limits().order_by_asc(wear_limits::Column::Id).all(db).await? {
        let wear_limits::Model { planter_id, version, entered, created_at, created_by, .. } = row;
        let entered = serde_json::from_value(entered).map_err(ApiError::internal)?;
        let (set_at, set_by) = (created_at, created_by);
        found.wear_limits.push(ExportedWearLimits { planter_id, entered, version, set_at, set_by });
    }
    Ok(found)
}
