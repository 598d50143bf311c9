//! What records systems said of a grower: their ids, what waits, and what is in conflict.

use sea_orm::{ConnectionTrait, QueryOrder};
use serde::Serialize;
use utoipa::ToSchema;

use crate::auth::Scope;
use crate::entities::{external_ids, record_conflicts, record_matches};
use crate::exchange::intake::in_words;
use crate::http::ApiError;
use crate::v1::external::dto::ExternalId;
use crate::v1::record_conflicts::dto::RecordConflict;
use crate::v1::record_conflicts::store::show;
use crate::v1::record_matches::dto::{RecordMatch, SaidMember};

/// The id that a records system gives, and what it said last.
#[derive(Debug, Serialize, ToSchema)]
pub struct ExportedExternalId {
    /// The id.
    pub external_id: ExternalId,
    /// What it said last, for people to read; boundaries as GeoJSON.
    #[schema(max_items = 20)]
    pub said: Vec<SaidMember>,
}

/// All of it, oldest first.
#[derive(Debug)]
pub(super) struct Said {
    pub ids: Vec<ExportedExternalId>,
    pub waiting: Vec<RecordMatch>,
    pub conflicts: Vec<RecordConflict>,
}

/// All that records systems said.
pub(super) async fn gather(db: &impl ConnectionTrait, scope: Scope) -> Result<Said, ApiError> {
    let ids = scope.external_ids().order_by_asc(external_ids::Column::Id).all(db).await?;
    let waiting = scope.record_matches().order_by_asc(record_matches::Column::Id).all(db).await?;
    let conflicts =
        scope.record_conflicts().order_by_asc(record_conflicts::Column::Id).all(db).await?;
    Ok(Said {
        ids: ids.into_iter().map(exported).collect(),
        waiting: waiting.into_iter().map(RecordMatch::show).collect::<Result<_, _>>()?,
        conflicts: show(db, scope, conflicts).await?,
    })
}

fn exported(row: external_ids::Model) -> ExportedExternalId {
    let members = row.taken.as_object().into_iter().flatten();
    let said = members.filter_map(|(member, value)| {
        let is_boundary = value.get("coordinates").is_some();
        let value = if is_boundary { value.to_string() } else { in_words(value)? };
        Some(SaidMember { member: member.clone(), value })
    });
    let said = said.collect();
    ExportedExternalId { external_id: row.into(), said }
}
