//! Inspections in the database. Every query starts from the caller's scope.

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder,
    QuerySelect, QueryTrait,
};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use uuid::Uuid;

use super::dto::{FindingIn, NewInspection, SeasonPlanIn};
use crate::auth::Scope;
use crate::entities::inspections::{ActiveModel, Column, Model};
use crate::entities::planters;
use crate::http::page::PageRequest;
use crate::http::quantity::Quantity;
use crate::http::{ApiError, BadMember, ProblemCode};
use crate::v1::author::Author;

/// What was entered, as it is stored.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Entered {
    /// What was found.
    pub findings: Vec<FindingIn>,
    /// What the counter of the planter showed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area_counter: Option<Quantity>,
    /// What was to be planted from then on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub season_plan: Option<SeasonPlanIn>,
    /// Notes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub notes: Option<String>,
}

impl Entered {
    /// As it stands in a row.
    pub fn stored(row: &Model) -> Result<Self, ApiError> {
        serde_json::from_value(row.entered.clone()).map_err(ApiError::internal)
    }
}

/// Finds an inspection in scope. Someone else's is not found.
pub async fn find(db: &impl ConnectionTrait, scope: Scope, id: Uuid) -> Result<Model, ApiError> {
    let found = scope.inspections().filter(Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("inspection"))
}

/// The inspection that corrects this one.
pub async fn correction_of(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<Option<Uuid>, ApiError> {
    let found = scope.inspections().filter(Column::ReplacesId.eq(id)).one(db).await?;
    Ok(found.map(|row| row.id))
}

/// The inspections of a planter that count: those that nobody corrected, oldest first.
pub async fn counting(
    db: &impl ConnectionTrait,
    scope: Scope,
    planter_id: Uuid,
) -> Result<Vec<Model>, ApiError> {
    let of_planter = || scope.inspections().filter(Column::PlanterId.eq(planter_id));
    let corrected = of_planter()
        .filter(Column::ReplacesId.is_not_null())
        .select_only()
        .column(Column::ReplacesId)
        .into_query();
    let rows = of_planter().filter(Column::Id.not_in_subquery(corrected));
    Ok(rows.order_by_asc(Column::InspectedOn).order_by_asc(Column::Id).all(db).await?)
}

/// A page of the inspections of a planter, corrected ones too.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    planter_id: Uuid,
    page: &PageRequest,
) -> Result<(Vec<Model>, Option<String>), ApiError> {
    let rows = scope.inspections().filter(Column::PlanterId.eq(planter_id));
    let rows = page.of(rows, Column::Id).all(db).await?;
    Ok(page.cut(rows, |row| row.id))
}

/// The inspection at `/replaces_id`: of the same planter, and not corrected already.
pub async fn to_be_corrected(
    db: &impl ConnectionTrait,
    scope: Scope,
    (planter_id, id): (Uuid, Uuid),
) -> Result<(), ApiError> {
    let rows = scope.inspections().filter(Column::PlanterId.eq(planter_id));
    if rows.filter(Column::Id.eq(id)).one(db).await?.is_none() {
        let detail = "There is no such inspection of this planter.";
        return Err(BadMember::new("/replaces_id", detail).given(id).into());
    }
    match correction_of(db, scope, id).await? {
        None => Ok(()),
        Some(newer) => Err(ApiError::new(
            ProblemCode::WrongState,
            format!("This inspection was corrected already: {newer} counts, correct that one."),
        )),
    }
}

/// Stores an inspection, unless the same one is there.
pub async fn insert(
    db: &impl ConnectionTrait,
    planter: &planters::Model,
    author: Author,
    new: NewInspection,
) -> Result<Model, ApiError> {
    let fingerprint = fingerprint(&new)?;
    let scope = Scope::of_practice(planter.practice_id);
    let same = scope
        .inspections()
        .filter(Column::PlanterId.eq(planter.id))
        .filter(Column::Fingerprint.eq(&fingerprint));
    if let Some(same) = same.one(db).await? {
        return Err(ApiError::new(
            ProblemCode::AlreadyExists,
            format!("The same inspection was entered before, as {}.", same.id),
        ));
    }
    let NewInspection { inspected_on, entered, replaces_id } = new;
    let row = ActiveModel {
        practice_id: Set(planter.practice_id),
        id: Set(author.id),
        planter_id: Set(planter.id),
        inspected_on: Set(inspected_on),
        entered: Set(serde_json::to_value(entered).map_err(ApiError::internal)?),
        fingerprint: Set(Some(fingerprint)),
        replaces_id: Set(replaces_id),
        created_at: Set(author.now),
        created_by: Set(author.account_id),
    };
    Ok(row.insert(db).await?)
}

/// Two inspections that have it say the same.
fn fingerprint(new: &NewInspection) -> Result<String, ApiError> {
    let said = serde_json::to_vec(&(new.inspected_on, &new.entered, new.replaces_id));
    Ok(URL_SAFE_NO_PAD.encode(Sha256::digest(said.map_err(ApiError::internal)?)))
}
