//! What is known of planters in the shed goes as a whole: nothing that is kept rests on it.

use super::carry_out::part;
use super::delete::Deleting;
use super::dto::{ErasedKind, ErasedPart};
use crate::entities::{inspections, open_replacements, repairs, wear_limits};
use crate::http::ApiError;

impl Deleting<'_> {
    /// Inspections with what follows from them, repairs, and what the manuals say.
    pub(super) async fn shed(self) -> Result<Vec<ErasedPart>, ApiError> {
        let key = (open_replacements::Column::PracticeId, open_replacements::Column::Id);
        let open = self.scope.open_replacements();
        self.delete::<open_replacements::Entity>(key, open).await?;
        let key = (inspections::Column::PracticeId, inspections::Column::Id);
        let seen = self.delete::<inspections::Entity>(key, self.scope.inspections()).await?;
        let key = (repairs::Column::PracticeId, repairs::Column::Id);
        let mended = self.delete::<repairs::Entity>(key, self.scope.repairs()).await?;
        let key = (wear_limits::Column::PracticeId, wear_limits::Column::Id);
        let limits = self.delete::<wear_limits::Entity>(key, self.scope.wear_limits()).await?;
        Ok(vec![
            part(ErasedKind::Inspections, seen, 0),
            part(ErasedKind::Repairs, mended, 0),
            part(ErasedKind::WearLimits, limits, 0),
        ])
    }
}
