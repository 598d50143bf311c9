//! What inspections found worn out, and nobody has mended since.
//!
//! Kept in a table of its own, so that a list of sheets or a list of what needs somebody reads it by
//! an index. It follows from inspections, limits, make-up and repairs; whatever changes one of them
//! calls [`super::refresh::planter`] in the same transaction.

use chrono::NaiveDate;
use domain::planter::inspection::ItemCode;
use domain::planter::rows_said;
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder};
use uuid::Uuid;

use crate::auth::Scope;
use crate::entities::open_replacements::{Column, Model};
use crate::http::ApiError;

/// A part that is to be replaced or mended before the planter goes out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpenReplacement {
    /// The planter.
    pub planter_id: Uuid,
    /// The item of the checklist, as in `opener_diameter`.
    pub part: &'static str,
    /// Rows; empty for what the planter has once.
    pub rows: Vec<u16>,
    /// The inspection that found it.
    pub inspection_id: Uuid,
    /// The day of that inspection.
    pub since: NaiveDate,
    /// In words: `Diameter of the opener discs, rows 3 and 4`.
    pub words: String,
}

/// What is to be replaced on the planters in scope, planter by planter.
///
/// # Errors
/// When the database fails.
pub async fn replacements(
    db: &impl ConnectionTrait,
    scope: &Scope,
) -> Result<Vec<OpenReplacement>, ApiError> {
    let rows = scope.open_replacements().order_by_asc(Column::PlanterId).order_by_asc(Column::Id);
    rows.all(db).await?.into_iter().map(OpenReplacement::of).collect()
}

/// The same for some planters.
///
/// # Errors
/// When the database fails.
pub async fn of_planters(
    db: &impl ConnectionTrait,
    scope: &Scope,
    planters: impl IntoIterator<Item = Uuid>,
) -> Result<Vec<OpenReplacement>, ApiError> {
    let rows = scope.open_replacements().filter(Column::PlanterId.is_in(planters));
    let rows = rows.order_by_asc(Column::PlanterId).order_by_asc(Column::Id);
    rows.all(db).await?.into_iter().map(OpenReplacement::of).collect()
}

impl OpenReplacement {
    fn of(row: Model) -> Result<Self, ApiError> {
        let Model { practice_id: _, id: _, planter_id, inspection_id, item, rows, since } = row;
        let code = ItemCode::named(&item).ok_or_else(|| unknown(&item))?;
        let rows: Vec<u16> = serde_json::from_value(rows).map_err(ApiError::internal)?;
        let words = words(code, &rows);
        Ok(Self { planter_id, part: code.code(), rows, inspection_id, since, words })
    }
}

/// An item of the checklist with its rows, as people say it.
pub fn words(code: ItemCode, rows: &[u16]) -> String {
    let name = code.item().map_or(code.code(), |item| item.name);
    if rows.is_empty() { name.to_owned() } else { format!("{name}, {}", rows_said(rows)) }
}

fn unknown(item: &str) -> ApiError {
    ApiError::internal(format!("{item} is no item of the checklist"))
}
