//! Sets of coefficients in the database. Every query starts from the caller's scope.

use chrono::{DateTime, Utc};
use domain::provenance::{Coefficients, Figure, SetFault};
use domain::settings::ENGINE;
use sea_orm::sea_query::OnConflict;
use sea_orm::{
    ActiveValue::Set, ColumnTrait, ConnectionTrait, DatabaseTransaction, EntityTrait, QueryFilter,
};
use sha2::{Digest, Sha256};
use uuid::{Builder, Uuid};

use crate::auth::Scope;
use crate::entities::coefficient_sets::{ActiveModel, Column, Entity, Model};
use crate::http::ApiError;

/// Finds a set in scope. Someone else's is not found.
pub async fn find(db: &impl ConnectionTrait, scope: Scope, id: Uuid) -> Result<Model, ApiError> {
    let found = scope.coefficient_sets().filter(Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("coefficient set"))
}

/// Keeps the set that a recommendation is worked out with, in its transaction, and gives its id.
/// The same figures of the same practice are kept once.
pub async fn keep(
    tx: &DatabaseTransaction,
    scope: Scope,
    now: DateTime<Utc>,
    set: &Coefficients,
) -> Result<Uuid, ApiError> {
    let figures = set.figures();
    let id = id_of(scope.practice_id, ENGINE, &figures).map_err(ApiError::internal)?;
    let row = ActiveModel {
        practice_id: Set(scope.practice_id),
        id: Set(id),
        engine_version: Set(ENGINE.to_owned()),
        figures: Set(serde_json::to_value(&figures).map_err(ApiError::internal)?),
        created_at: Set(now),
    };
    let once = OnConflict::columns([Column::PracticeId, Column::Id]).do_nothing().to_owned();
    Entity::insert(row).on_conflict(once).exec_without_returning(tx).await?;
    Ok(id)
}

/// The figures of a stored set.
pub fn figures_of(row: &Model) -> Result<Vec<Figure>, ApiError> {
    serde_json::from_value(row.figures.clone()).map_err(ApiError::internal)
}

/// A stored set, ready for the engine.
///
/// A set of this engine is complete. One of another engine is filled up with the figures that ship
/// for coefficients that came later.
pub fn coefficients_of(row: &Model) -> Result<Result<Box<Coefficients>, SetFault>, ApiError> {
    let figures = figures_of(row)?;
    let set = if row.engine_version == ENGINE {
        Coefficients::from_figures(&figures)
    } else {
        Coefficients::from_older_figures(&figures)
    };
    Ok(set.map(Box::new))
}

/// Whether the set still is what its id was made from.
pub fn is_intact(row: &Model) -> Result<bool, ApiError> {
    let figures = figures_of(row)?;
    let id = id_of(row.practice_id, &row.engine_version, &figures).map_err(ApiError::internal)?;
    Ok(id == row.id)
}

/// An id made from the content: SHA-256 over practice, engine and figures, as a UUID of version 8
/// (RFC 9562).
fn id_of(practice_id: Uuid, engine: &str, figures: &[Figure]) -> serde_json::Result<Uuid> {
    let mut hash = Sha256::new();
    hash.update(practice_id.as_bytes());
    hash.update(serde_json::to_vec(&(engine, figures))?);
    let mut id = [0; 16];
    for (byte, hashed) in id.iter_mut().zip(hash.finalize()) {
        *byte = hashed;
    }
    Ok(Builder::from_custom_bytes(id).into_uuid())
}

#[cfg(test)]
mod tests {
    use super::{id_of, is_intact};
    use crate::entities::coefficient_sets::Model;
    use domain::provenance::Coefficients;
    use uuid::Uuid;

    #[test]
    fn the_id_is_that_of_the_content() {
        let figures = Coefficients::STANDARD.figures();
        let mut others = figures.clone();
        others[0].value += 1e-9;
        let (ours, theirs) = (Uuid::from_u128(1), Uuid::from_u128(2));
        let id = |practice, engine, figures: &[_]| id_of(practice, engine, figures).expect("an id");
        let first = id(ours, "2026.4", &figures);
        assert_eq!(first, id(ours, "2026.4", &figures));
        assert_ne!(first, id(theirs, "2026.4", &figures));
        assert_ne!(first, id(ours, "2026.2", &figures));
        assert_ne!(first, id(ours, "2026.4", &others));
        assert_eq!(first.get_version_num(), 8);
        let row = |figures: &[_]| Model {
            practice_id: ours,
            id: first,
            engine_version: "2026.4".to_owned(),
            figures: serde_json::to_value(figures).expect("JSON"),
            created_at: chrono::DateTime::UNIX_EPOCH,
        };
        assert!(is_intact(&row(&figures)).expect("readable"));
        assert!(!is_intact(&row(&others)).expect("readable"));
    }
}
