//! What goes as a whole: all that no dig check rests on.

use sea_orm::{
    ColumnTrait, DatabaseTransaction, EntityTrait, QueryFilter, QuerySelect, QueryTrait, Select,
};
use uuid::Uuid;

use crate::auth::Scope;
use crate::entities::{
    accounts, calibrations, conditions_reports, dig_checks, farms, fields, outside_identities,
    password_links, planters, recommendations, refresh_tokens, sessions,
};
use crate::http::ApiError;

/// Deletes, in the scope of one grower.
#[derive(Debug, Clone, Copy)]
pub(super) struct Deleting<'a> {
    pub tx: &'a DatabaseTransaction,
    /// The grower's.
    pub scope: Scope,
}

impl Deleting<'_> {
    /// The recommendations of series in which nobody dug.
    pub(super) async fn recommendations(self) -> Result<u64, ApiError> {
        use recommendations::{Column, Entity};
        let dug = self.scope.dig_checks().select_only();
        let dug = dug.column(dig_checks::Column::RecommendationId).into_query();
        let series = self.scope.recommendations().filter(Column::Id.in_subquery(dug));
        let series = series.select_only().column(Column::SeriesId).into_query();
        let doomed = self.scope.recommendations().filter(Column::SeriesId.not_in_subquery(series));
        self.delete::<Entity>((Column::PracticeId, Column::Id), doomed).await
    }

    /// The conditions reports that no recommendation is left of.
    pub(super) async fn conditions_reports(self) -> Result<u64, ApiError> {
        use conditions_reports::{Column, Entity};
        let used = self.of_recommendations(recommendations::Column::ConditionsId);
        let doomed = self.scope.conditions_reports().filter(Column::Id.not_in_subquery(used));
        self.delete::<Entity>((Column::PracticeId, Column::Id), doomed).await
    }

    /// The calibrations that no recommendation is left of.
    pub(super) async fn calibrations(self) -> Result<u64, ApiError> {
        use calibrations::{Column, Entity};
        let used = self.of_recommendations(recommendations::Column::CalibrationId);
        let doomed = self.scope.calibrations().filter(Column::Id.not_in_subquery(used));
        self.delete::<Entity>((Column::PracticeId, Column::Id), doomed).await
    }

    /// The planters that nothing is left of.
    pub(super) async fn planters(self) -> Result<u64, ApiError> {
        use planters::{Column, Entity};
        let used = self.of_recommendations(recommendations::Column::PlanterId);
        let doomed = self.scope.planters().filter(Column::Id.not_in_subquery(used));
        self.delete::<Entity>((Column::PracticeId, Column::Id), doomed).await
    }

    /// The fields that nothing is left of.
    pub(super) async fn fields(self) -> Result<u64, ApiError> {
        use fields::{Column, Entity};
        let used = self.of_recommendations(recommendations::Column::FieldId);
        let doomed = self.scope.fields().filter(Column::Id.not_in_subquery(used));
        self.delete::<Entity>((Column::PracticeId, Column::Id), doomed).await
    }

    /// The farms without fields.
    pub(super) async fn farms(self) -> Result<u64, ApiError> {
        use farms::{Column, Entity};
        let used = self.scope.fields().select_only().column(fields::Column::FarmId).into_query();
        let doomed = self.scope.farms().filter(Column::Id.not_in_subquery(used));
        self.delete::<Entity>((Column::PracticeId, Column::Id), doomed).await
    }

    /// The sessions of accounts, with their refresh tokens.
    pub(super) async fn sessions(self, of: &Select<accounts::Entity>) -> Result<u64, ApiError> {
        use sessions::{Column, Entity};
        let doomed = || {
            Entity::find()
                .filter(Column::PracticeId.eq(self.scope.practice_id))
                .filter(Column::AccountId.in_subquery(ids(of)))
        };
        let tokens = refresh_tokens::Entity::find()
            .filter(refresh_tokens::Column::PracticeId.eq(self.scope.practice_id))
            .filter(
                refresh_tokens::Column::SessionId
                    .in_subquery(doomed().select_only().column(Column::Id).into_query()),
            );
        let key = (refresh_tokens::Column::PracticeId, refresh_tokens::Column::Id);
        self.delete::<refresh_tokens::Entity>(key, tokens).await?;
        self.delete::<Entity>((Column::PracticeId, Column::Id), doomed()).await
    }

    /// The links that set a password of accounts.
    pub(super) async fn password_links(
        self,
        of: &Select<accounts::Entity>,
    ) -> Result<u64, ApiError> {
        use password_links::{Column, Entity};
        let doomed = Entity::find()
            .filter(Column::PracticeId.eq(self.scope.practice_id))
            .filter(Column::AccountId.in_subquery(ids(of)));
        self.delete::<Entity>((Column::PracticeId, Column::Id), doomed).await
    }

    /// Who accounts are at another issuer.
    pub(super) async fn outside_identities(
        self,
        of: &Select<accounts::Entity>,
    ) -> Result<u64, ApiError> {
        use outside_identities::{Column, Entity};
        let doomed = Entity::find()
            .filter(Column::PracticeId.eq(self.scope.practice_id))
            .filter(Column::AccountId.in_subquery(ids(of)));
        self.delete::<Entity>((Column::PracticeId, Column::Id), doomed).await
    }

    /// What the recommendations that are left refer to.
    fn of_recommendations(
        self,
        column: recommendations::Column,
    ) -> sea_orm::sea_query::SelectStatement {
        let left = self.scope.recommendations().filter(column.is_not_null());
        left.select_only().column(column).into_query()
    }

    pub(super) async fn delete<E: EntityTrait>(
        self,
        (practice, id): (E::Column, E::Column),
        doomed: Select<E>,
    ) -> Result<u64, ApiError> {
        let done = E::delete_many()
            .filter(practice.eq(self.scope.practice_id))
            .filter(id.in_subquery(doomed.select_only().column(id).into_query()))
            .exec(self.tx)
            .await?;
        Ok(done.rows_affected)
    }
}

fn ids(of: &Select<accounts::Entity>) -> sea_orm::sea_query::SelectStatement {
    of.clone().select_only().column(accounts::Column::Id).into_query()
}

/// The accounts of a grower.
pub(super) fn accounts_of(practice_id: Uuid, grower_id: Uuid) -> Select<accounts::Entity> {
    accounts::Entity::find()
        .filter(accounts::Column::PracticeId.eq(practice_id))
        .filter(accounts::Column::GrowerId.eq(grower_id))
}
