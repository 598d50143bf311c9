//! Links that are fetched without being asked.

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::sea_query::Expr;
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter, QueryOrder, QuerySelect};

use super::store::{self, NewRun};
use crate::app::AppState;
use crate::db;
use crate::entities::records_links::{Column, Entity, Model};
use crate::entities::records_runs::Mode;
use crate::http::ApiError;

/// Links that are looked at in one go.
const LOOKED_AT: u64 = 50;

/// Asks for a run of each link whose time has come.
pub(super) async fn ask_for_due(app: &AppState, now: DateTime<Utc>) -> Result<(), ApiError> {
    let due = Entity::find()
        .filter(Column::NextRunAt.lte(now))
        .order_by_asc(Column::NextRunAt)
        .limit(LOOKED_AT);
    for link in due.all(&app.db).await? {
        ask(app, &link, now).await?;
    }
    Ok(())
}

async fn ask(app: &AppState, link: &Model, now: DateTime<Utc>) -> Result<(), ApiError> {
    let next = link.run_every_hours.map(|hours| now + TimeDelta::hours(i64::from(hours)));
    let tx = db::begin(&app.db).await?;
    // Of several processes one moves the time on; the others find another time there.
    let moved = Entity::update_many()
        .filter(Column::PracticeId.eq(link.practice_id))
        .filter(Column::Id.eq(link.id))
        .filter(Column::NextRunAt.eq(link.next_run_at))
        .col_expr(Column::NextRunAt, Expr::value(next))
        .exec(&tx)
        .await?;
    if moved.rows_affected == 1 {
        let new = NewRun {
            id: app.ids.next(),
            mode: Mode::Apply,
            everything: false,
            asked_by: link.created_by,
            now,
        };
        // One that is not finished does as well.
        store::insert(&tx, link, new).await?;
    }
    Ok(tx.commit().await?)
}
