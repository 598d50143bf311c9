//! The trials in the fields of a grower, with what was found on their plots.

use sea_orm::{ConnectionTrait, QueryOrder};
use serde::Serialize;
use utoipa::ToSchema;

use crate::auth::Scope;
use crate::entities::trials;
use crate::http::ApiError;
use crate::v1::trials::dto::Trial;
use crate::v1::trials::plots::dto::TrialPlot;
use crate::v1::trials::plots::state::Found;

/// A trial with what was found on its plots.
#[derive(Debug, Serialize, ToSchema)]
pub struct ExportedTrial {
    /// The trial.
    pub trial: Trial,
    /// Its plots.
    #[schema(max_items = 72)]
    pub plots: Vec<TrialPlot>,
}

/// All of them, oldest first.
pub(super) async fn trials(
    db: &impl ConnectionTrait,
    scope: Scope,
) -> Result<Vec<ExportedTrial>, ApiError> {
    let mut told = Vec::new();
    for row in scope.trials().order_by_asc(trials::Column::Id).all(db).await? {
        let found = Found::read(db, row).await?;
        let plots = found.layout.plots.iter().map(|plot| TrialPlot::of(&found, plot));
        let plots = plots.collect::<Result<_, _>>()?;
        told.push(ExportedTrial { trial: Trial::of(found.row)?, plots });
    }
    Ok(told)
}
