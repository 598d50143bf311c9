//! What a write did, and what it answers.

use std::fmt::Display;

use sea_orm::sea_query::{Expr, ExprTrait, IntoColumnRef, Query, SelectStatement, SimpleExpr};
use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QuerySelect};
use uuid::Uuid;

use crate::changes::{Change, ChangeType};
use crate::entities::{farms, fields, recommendations};
use crate::http::{Answer, ApiError};

/// The object that a write made, changed or deleted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Touched {
    pub(super) kind: &'static str,
    pub(super) id: String,
    pub(super) grower_id: Option<Uuid>,
    version: Option<i32>,
    also: Vec<Change>,
}

impl Touched {
    /// An object of this kind, as in `dig_check`, under this id or name.
    pub fn new(kind: &'static str, id: impl Display) -> Self {
        Self { kind, id: id.to_string(), grower_id: None, version: None, also: Vec::new() }
    }

    /// It has this version now.
    #[must_use]
    pub fn in_version(mut self, version: i32) -> Self {
        self.version = Some(version);
        self
    }

    /// The same write changed this too, of the same grower: those who follow are told of it after
    /// what was touched.
    #[must_use]
    pub fn also(self, change_type: ChangeType, id: impl Display) -> Self {
        let change = Change::new(change_type, id).of_grower(self.grower_id);
        self.also_all([change])
    }

    /// The same of objects of any growers.
    #[must_use]
    pub fn also_all(mut self, changes: impl IntoIterator<Item = Change>) -> Self {
        self.also.extend(changes);
        self
    }

    /// What those who follow are told: of the object itself by this type, and of what was changed
    /// with it.
    pub(super) fn changes(&self, itself: Option<ChangeType>) -> Vec<Change> {
        let itself = itself.map(|change_type| Change {
            change_type,
            object_id: self.id.clone(),
            grower_id: self.grower_id,
            version: self.version,
        });
        itself.into_iter().chain(self.also.iter().cloned()).collect()
    }

    /// It is of this grower.
    #[must_use]
    pub fn of_grower(mut self, grower_id: Uuid) -> Self {
        self.grower_id = Some(grower_id);
        self
    }

    /// It is of the grower of this field.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn in_field(
        self,
        db: &impl ConnectionTrait,
        (practice_id, field_id): (Uuid, Uuid),
    ) -> Result<Self, ApiError> {
        self.of_farm(
            db,
            practice_id,
            farm_of(practice_id).and_where(is(fields::Column::Id, field_id)),
        )
        .await
    }

    /// It stands behind this recommendation, so it is of the grower of its field.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn behind(
        self,
        db: &impl ConnectionTrait,
        (practice_id, recommendation_id): (Uuid, Uuid),
    ) -> Result<Self, ApiError> {
        let field = Query::select()
            .column(recommendations::Column::FieldId)
            .from(recommendations::Entity)
            .and_where(is(recommendations::Column::PracticeId, practice_id))
            .and_where(is(recommendations::Column::Id, recommendation_id))
            .to_owned();
        let in_it = Expr::col(fields::Column::Id).in_subquery(field);
        self.of_farm(db, practice_id, farm_of(practice_id).and_where(in_it)).await
    }

    async fn of_farm(
        self,
        db: &impl ConnectionTrait,
        practice_id: Uuid,
        farm: &SelectStatement,
    ) -> Result<Self, ApiError> {
        let grower_id = farms::Entity::find()
            .select_only()
            .column(farms::Column::GrowerId)
            .filter(farms::Column::PracticeId.eq(practice_id))
            .filter(farms::Column::Id.in_subquery(farm.clone()))
            .into_tuple()
            .one(db)
            .await?;
        Ok(Self { grower_id, ..self })
    }
}

fn farm_of(practice_id: Uuid) -> SelectStatement {
    Query::select()
        .column(fields::Column::FarmId)
        .from(fields::Entity)
        .and_where(is(fields::Column::PracticeId, practice_id))
        .to_owned()
}

fn is(column: impl IntoColumnRef, id: Uuid) -> SimpleExpr {
    Expr::col(column).eq(id)
}

/// What a write did, and what it answers.
#[derive(Debug)]
pub struct Done<T> {
    pub(super) touched: Option<Touched>,
    pub(super) answer: Result<Answer<T>, ApiError>,
}

impl<T> Done<T> {
    /// Something was done, and this is the answer.
    pub fn new(touched: Touched, answer: Answer<T>) -> Self {
        Self { touched: Some(touched), answer: Ok(answer) }
    }

    /// All was as it should be already: the audit trail gets no row.
    pub fn unchanged(answer: Answer<T>) -> Self {
        Self { touched: None, answer: Ok(answer) }
    }

    /// Something was done that stays, although the caller gets an error.
    pub fn refused(touched: Touched, error: ApiError) -> Self {
        Self { touched: Some(touched), answer: Err(error) }
    }
}
