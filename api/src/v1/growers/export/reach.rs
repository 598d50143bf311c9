//! The ways in which a grower is reached and looked after.

use sea_orm::{
    ColumnTrait, Condition, ConnectionTrait, EntityTrait, QueryFilter, QueryOrder, QuerySelect,
    QueryTrait,
};

use super::dto::ExportedMark;
use crate::entities::{accounts, attention_marks, calendar_feeds, growers, jobs};
use crate::http::ApiError;
use crate::mail::wishes::{self, Whose};
use crate::v1::calendar_feeds::dto::CalendarFeed;
use crate::v1::jobs::dto::Job;
use crate::v1::mail_wishes::dto::GrowerMail;

/// What people said about entries of the attention list.
pub(super) async fn attention_marks(
    db: &impl ConnectionTrait,
    grower: &growers::Model,
) -> Result<Vec<ExportedMark>, ApiError> {
    use attention_marks::{Column, Entity};
    let rows = Entity::find()
        .filter(Column::PracticeId.eq(grower.practice_id))
        .filter(Column::GrowerId.eq(grower.id))
        .order_by_asc(Column::Id);
    Ok(rows.all(db).await?.into_iter().map(ExportedMark::from).collect())
}

/// Calendar feeds of the grower's accounts, and those that others made of this grower.
pub(super) async fn calendar_feeds(
    db: &impl ConnectionTrait,
    grower: &growers::Model,
) -> Result<Vec<CalendarFeed>, ApiError> {
    use calendar_feeds::{Column, Entity};
    let own = accounts::Entity::find()
        .filter(accounts::Column::PracticeId.eq(grower.practice_id))
        .filter(accounts::Column::GrowerId.eq(grower.id))
        .select_only()
        .column(accounts::Column::Id)
        .into_query();
    let whose = Condition::any()
        .add(Column::GrowerId.eq(grower.id))
        .add(Column::AccountId.in_subquery(own));
    let rows = Entity::find()
        .filter(Column::PracticeId.eq(grower.practice_id))
        .filter(whose)
        .order_by_asc(Column::Id);
    Ok(rows.all(db).await?.into_iter().map(CalendarFeed::from).collect())
}

/// What the grower gets by mail.
pub(super) async fn mail(
    db: &impl ConnectionTrait,
    grower: &growers::Model,
) -> Result<GrowerMail, ApiError> {
    let row = wishes::find(db, grower.practice_id, Whose::Grower(grower.id)).await?;
    Ok(GrowerMail::of(row.as_ref(), grower.email.is_some()))
}

/// Mail to the grower.
pub(super) async fn jobs(
    db: &impl ConnectionTrait,
    grower: &growers::Model,
) -> Result<Vec<Job>, ApiError> {
    use jobs::{Column, Entity};
    let rows = Entity::find()
        .filter(Column::PracticeId.eq(grower.practice_id))
        .filter(Column::GrowerId.eq(grower.id))
        .order_by_asc(Column::Id);
    Ok(rows.all(db).await?.into_iter().map(Job::from).collect())
}
