//! Plantings, temperatures, stand counts and yields go as a whole: nothing that is kept rests on them.

use super::carry_out::part;
use super::delete::Deleting;
use super::dto::{ErasedKind, ErasedPart};
use crate::entities::{air_temperatures, plantings, stand_counts, yields};
use crate::http::ApiError;

impl Deleting<'_> {
    /// Deletes them, what refers to others first.
    pub(super) async fn stands(self) -> Result<Vec<ErasedPart>, ApiError> {
        use {air_temperatures as air, plantings as planted, stand_counts as counted};
        let counts = self
            .delete::<counted::Entity>(
                (counted::Column::PracticeId, counted::Column::Id),
                self.scope.stand_counts(),
            )
            .await?;
        let plantings = self
            .delete::<planted::Entity>(
                (planted::Column::PracticeId, planted::Column::Id),
                self.scope.plantings(),
            )
            .await?;
        let days = self
            .delete::<air::Entity>(
                (air::Column::PracticeId, air::Column::Id),
                self.scope.air_temperatures(),
            )
            .await?;
        let harvests = self
            .delete::<yields::Entity>(
                (yields::Column::PracticeId, yields::Column::Id),
                self.scope.yields(),
            )
            .await?;
        Ok(vec![
            part(ErasedKind::Yields, harvests, 0),
            part(ErasedKind::StandCounts, counts, 0),
            part(ErasedKind::Plantings, plantings, 0),
            part(ErasedKind::Temperatures, days, 0),
        ])
    }
}
