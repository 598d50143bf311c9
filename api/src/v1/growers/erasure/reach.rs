//! The ways in which a grower was reached and looked after: all of it goes.

use sea_orm::{ColumnTrait, Condition, EntityTrait, QueryFilter, QuerySelect, QueryTrait, Select};
use uuid::Uuid;

use super::delete::{Deleting, accounts_of};
use super::dto::{ErasedKind, ErasedPart};
use crate::entities::{
    accounts, attention_marks, calendar_entries, calendar_feeds, jobs, mail_wishes,
    recommendations, sheet_links,
};
use crate::http::ApiError;

impl Deleting<'_> {
    /// What people said about entries of the attention list.
    async fn attention_marks(self, grower_id: Uuid) -> Result<u64, ApiError> {
        use attention_marks::{Column, Entity};
        let done = Entity::delete_many()
            .filter(Column::PracticeId.eq(self.scope.practice_id))
            .filter(Column::GrowerId.eq(grower_id))
            .exec(self.tx)
            .await?;
        Ok(done.rows_affected)
    }

    /// Calendar feeds of the grower's accounts, and those that others made of this grower.
    async fn calendar_feeds(self, grower_id: Uuid) -> Result<u64, ApiError> {
        use calendar_feeds::{Column, Entity};
        let practice_id = self.scope.practice_id;
        let of = ids(accounts_of(practice_id, grower_id), accounts::Column::Id);
        let whose = Condition::any()
            .add(Column::GrowerId.eq(grower_id))
            .add(Column::AccountId.in_subquery(of));
        let doomed =
            Entity::find().filter(Column::PracticeId.eq(practice_id)).filter(whose.clone());
        calendar_entries::Entity::delete_many()
            .filter(calendar_entries::Column::PracticeId.eq(practice_id))
            .filter(calendar_entries::Column::FeedId.in_subquery(ids(doomed, Column::Id)))
            .exec(self.tx)
            .await?;
        let done = Entity::delete_many()
            .filter(Column::PracticeId.eq(practice_id))
            .filter(whose)
            .exec(self.tx)
            .await?;
        Ok(done.rows_affected)
    }

    /// What the grower and his accounts wanted by mail.
    async fn mail_wishes(self, grower_id: Uuid) -> Result<u64, ApiError> {
        use mail_wishes::{Column, Entity};
        let practice_id = self.scope.practice_id;
        let of = ids(accounts_of(practice_id, grower_id), accounts::Column::Id);
        let whose = Condition::any()
            .add(Column::GrowerId.eq(grower_id))
            .add(Column::AccountId.in_subquery(of));
        let done = Entity::delete_many()
            .filter(Column::PracticeId.eq(practice_id))
            .filter(whose)
            .exec(self.tx)
            .await?;
        Ok(done.rows_affected)
    }

    /// Mail to the grower that went out, or waits.
    async fn jobs(self, grower_id: Uuid) -> Result<u64, ApiError> {
        use jobs::{Column, Entity};
        let done = Entity::delete_many()
            .filter(Column::PracticeId.eq(self.scope.practice_id))
            .filter(Column::GrowerId.eq(grower_id))
            .exec(self.tx)
            .await?;
        Ok(done.rows_affected)
    }

    /// Addresses that show a sheet.
    async fn sheet_links(self) -> Result<u64, ApiError> {
        use sheet_links::{Column, Entity};
        let sheets = ids(self.scope.recommendations(), recommendations::Column::Id);
        let done = Entity::delete_many()
            .filter(Column::PracticeId.eq(self.scope.practice_id))
            .filter(Column::RecommendationId.in_subquery(sheets))
            .exec(self.tx)
            .await?;
        Ok(done.rows_affected)
    }

    /// All of them; before the sheets go.
    pub(super) async fn reach(self, grower_id: Uuid) -> Result<Vec<ErasedPart>, ApiError> {
        let counted = [
            (ErasedKind::AttentionMarks, self.attention_marks(grower_id).await?),
            (ErasedKind::CalendarFeeds, self.calendar_feeds(grower_id).await?),
            (ErasedKind::MailWishes, self.mail_wishes(grower_id).await?),
            (ErasedKind::Jobs, self.jobs(grower_id).await?),
            (ErasedKind::SheetLinks, self.sheet_links().await?),
        ];
        Ok(counted.map(|(kind, deleted)| super::carry_out::part(kind, deleted, 0)).into())
    }
}

fn ids<E: EntityTrait>(rows: Select<E>, id: E::Column) -> sea_orm::sea_query::SelectStatement {
    rows.select_only().column(id).into_query()
}
