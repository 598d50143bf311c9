//! Writes anew what is to be replaced on a planter, after something it follows from has changed.

use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter,
    QuerySelect,
};
use uuid::Uuid;

use super::shed::{Open, Shed};
use crate::auth::Scope;
use crate::entities::{inspections, open_replacements, planters};
use crate::http::ApiError;
use crate::ids::Ids;

/// Writes what is to be replaced on one planter.
///
/// # Errors
/// When the database fails.
pub async fn planter(
    db: &impl ConnectionTrait,
    ids: &Ids,
    row: &planters::Model,
) -> Result<(), ApiError> {
    use open_replacements::{ActiveModel, Column, Entity};
    let open = Shed::load(db, row).await?.open();
    Entity::delete_many()
        .filter(Column::PracticeId.eq(row.practice_id))
        .filter(Column::PlanterId.eq(row.id))
        .exec(db)
        .await?;
    for Open { item, rows, inspection_id, since } in open {
        let open = ActiveModel {
            practice_id: Set(row.practice_id),
            id: Set(ids.next()),
            planter_id: Set(row.id),
            inspection_id: Set(inspection_id),
            item: Set(item.code().to_owned()),
            rows: Set(serde_json::to_value(rows).map_err(ApiError::internal)?),
            since: Set(since),
        };
        open.insert(db).await?;
    }
    Ok(())
}

/// The figures of a practice by which parts are judged.
const JUDGED_BY: [&str; 2] = ["disc_wear_limit", "wear_watched"];

/// After a figure of the practice has changed: writes it for every planter that was ever inspected, if
/// parts are judged by that figure.
///
/// # Errors
/// When the database fails.
pub async fn after_figure(
    db: &impl ConnectionTrait,
    ids: &Ids,
    (practice_id, figure): (Uuid, &str),
) -> Result<(), ApiError> {
    if !JUDGED_BY.contains(&figure) {
        return Ok(());
    }
    let scope = Scope::of_practice(practice_id);
    let inspected: Vec<Uuid> = scope
        .inspections()
        .select_only()
        .column(inspections::Column::PlanterId)
        .distinct()
        .into_tuple()
        .all(db)
        .await?;
    let rows = scope.planters().filter(planters::Column::Id.is_in(inspected)).all(db).await?;
    for row in rows {
        planter(db, ids, &row).await?;
    }
    Ok(())
}
