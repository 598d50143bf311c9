//! Trials go as a whole: nothing that is kept rests on them.

use super::carry_out::part;
use super::delete::Deleting;
use super::dto::{ErasedKind, ErasedPart};
use crate::entities::{trial_entries, trials};
use crate::http::ApiError;

impl Deleting<'_> {
    /// What was found on plots, then the trials themselves.
    pub(super) async fn trials(self) -> Result<Vec<ErasedPart>, ApiError> {
        let key = (trial_entries::Column::PracticeId, trial_entries::Column::Id);
        let entries = self.scope.trial_entries();
        let entries = self.delete::<trial_entries::Entity>(key, entries).await?;
        let key = (trials::Column::PracticeId, trials::Column::Id);
        let trials = self.delete::<trials::Entity>(key, self.scope.trials()).await?;
        Ok(vec![part(ErasedKind::TrialEntries, entries, 0), part(ErasedKind::Trials, trials, 0)])
    }
}
