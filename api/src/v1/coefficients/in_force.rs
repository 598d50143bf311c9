//! The figures that hold for a practice: those that ship, with its own in their place.

use domain::provenance::{Coefficients, OwnFault, OwnFigure};
use sea_orm::ConnectionTrait;

use super::store;
use crate::auth::Scope;
use crate::entities::own_coefficients;
use crate::http::ApiError;

/// What holds for a practice.
#[derive(Debug)]
pub struct InForce {
    /// The figures.
    pub set: Box<Coefficients>,
    /// The newest change of each coefficient that the practice ever changed.
    pub changes: Vec<own_coefficients::Model>,
    /// Own figures that this version can't use, and why: the coefficient is gone, or its bounds
    /// have been drawn in since. The standard one holds.
    pub set_aside: Vec<(String, OwnFault)>,
}

/// Reads what holds for the practice of a caller.
pub async fn in_force(db: &impl ConnectionTrait, scope: Scope) -> Result<InForce, ApiError> {
    let changes = store::newest(db, scope).await?;
    let own: Vec<OwnFigure> = changes.iter().filter_map(store::figure_of).collect();
    let (set, set_aside) = with_own(&own);
    Ok(InForce { set, changes, set_aside })
}

/// The figures that every calculation for the practice of a caller rests on.
///
/// ```ignore
/// let k = figures_in_force(&app.db, caller.scope()).await?;
/// ```
pub async fn figures_in_force(
    db: &impl ConnectionTrait,
    scope: Scope,
) -> Result<Box<Coefficients>, ApiError> {
    Ok(in_force(db, scope).await?.set)
}

/// On the heap: a set is too large to be carried through a handler by value.
fn with_own(own: &[OwnFigure]) -> (Box<Coefficients>, Vec<(String, OwnFault)>) {
    let (set, set_aside) = Coefficients::STANDARD.with_fit(own);
    (Box::new(set), set_aside)
}
