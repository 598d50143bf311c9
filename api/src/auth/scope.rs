//! What a caller may see: the start of every query.

use sea_orm::sea_query::{Expr, ExprTrait, Query, SelectStatement, SimpleExpr};
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter, Select};
use uuid::Uuid;

use crate::entities::{
    adjustments, calibrations, coefficient_sets, conditions_reports, dig_checks, dig_lessons,
    farms, fields, growers, own_coefficients, planters, recommendations,
};

/// A practice, and for a grower's account only what is his own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Scope {
    /// The practice.
    pub practice_id: Uuid,
    /// The only grower whose objects are seen; `None` sees the whole practice.
    pub grower_id: Option<Uuid>,
}

impl Scope {
    /// The whole of a practice.
    pub fn of_practice(practice_id: Uuid) -> Self {
        Self { practice_id, grower_id: None }
    }

    /// The growers in scope.
    pub fn growers(&self) -> Select<growers::Entity> {
        let rows = growers::Entity::find().filter(growers::Column::PracticeId.eq(self.practice_id));
        match self.grower_id {
            Some(own) => rows.filter(growers::Column::Id.eq(own)),
            None => rows,
        }
    }

    /// The farms in scope.
    pub fn farms(&self) -> Select<farms::Entity> {
        let rows = farms::Entity::find().filter(farms::Column::PracticeId.eq(self.practice_id));
        match self.grower_id {
            Some(own) => rows.filter(farms::Column::GrowerId.eq(own)),
            None => rows,
        }
    }

    /// The fields in scope.
    pub fn fields(&self) -> Select<fields::Entity> {
        let rows = fields::Entity::find().filter(fields::Column::PracticeId.eq(self.practice_id));
        match self.grower_id {
            Some(own) => rows.filter(fields::Column::FarmId.in_subquery(self.farm_ids(own))),
            None => rows,
        }
    }

    /// The planters in scope.
    pub fn planters(&self) -> Select<planters::Entity> {
        let rows =
            planters::Entity::find().filter(planters::Column::PracticeId.eq(self.practice_id));
        match self.grower_id {
            Some(own) => rows.filter(planters::Column::GrowerId.eq(own)),
            None => rows,
        }
    }

    /// The calibrations of the planters in scope.
    pub fn calibrations(&self) -> Select<calibrations::Entity> {
        let rows = calibrations::Entity::find()
            .filter(calibrations::Column::PracticeId.eq(self.practice_id));
        match self.grower_id {
            Some(own) => {
                rows.filter(calibrations::Column::PlanterId.in_subquery(self.planter_ids(own)))
            }
            None => rows,
        }
    }

    /// The conditions reports of the fields in scope.
    pub fn conditions_reports(&self) -> Select<conditions_reports::Entity> {
        let rows = conditions_reports::Entity::find()
            .filter(conditions_reports::Column::PracticeId.eq(self.practice_id));
        match self.grower_id {
            Some(own) => {
                rows.filter(conditions_reports::Column::FieldId.in_subquery(self.field_ids(own)))
            }
            None => rows,
        }
    }

    /// The recommendations for the fields in scope, of any status.
    pub fn recommendations(&self) -> Select<recommendations::Entity> {
        let rows = recommendations::Entity::find()
            .filter(recommendations::Column::PracticeId.eq(self.practice_id));
        match self.grower_id {
            Some(own) => {
                rows.filter(recommendations::Column::FieldId.in_subquery(self.field_ids(own)))
            }
            None => rows,
        }
    }

    /// The dig checks of the recommendations in scope.
    pub fn dig_checks(&self) -> Select<dig_checks::Entity> {
        let rows =
            dig_checks::Entity::find().filter(dig_checks::Column::PracticeId.eq(self.practice_id));
        match self.grower_id {
            Some(own) => rows.filter(
                dig_checks::Column::RecommendationId.in_subquery(self.recommendation_ids(own)),
            ),
            None => rows,
        }
    }

    /// What the digs of the planters in scope taught.
    pub fn dig_lessons(&self) -> Select<dig_lessons::Entity> {
        let rows = dig_lessons::Entity::find()
            .filter(dig_lessons::Column::PracticeId.eq(self.practice_id));
        match self.grower_id {
            Some(own) => {
                rows.filter(dig_lessons::Column::PlanterId.in_subquery(self.planter_ids(own)))
            }
            None => rows,
        }
    }

    /// The adjustments of the recommendations in scope.
    pub fn adjustments(&self) -> Select<adjustments::Entity> {
        let rows = adjustments::Entity::find()
            .filter(adjustments::Column::PracticeId.eq(self.practice_id));
        match self.grower_id {
            Some(own) => rows.filter(
                adjustments::Column::RecommendationId.in_subquery(self.recommendation_ids(own)),
            ),
            None => rows,
        }
    }

    /// The practice's own figures, every change. They hold for all its growers.
    pub fn own_coefficients(&self) -> Select<own_coefficients::Entity> {
        own_coefficients::Entity::find()
            .filter(own_coefficients::Column::PracticeId.eq(self.practice_id))
    }

    /// The sets of coefficients that the practice's recommendations were worked out with.
    pub fn coefficient_sets(&self) -> Select<coefficient_sets::Entity> {
        coefficient_sets::Entity::find()
            .filter(coefficient_sets::Column::PracticeId.eq(self.practice_id))
    }

    fn farm_ids(&self, grower_id: Uuid) -> SelectStatement {
        self.ids(farms::Entity, farms::Column::Id, farms::Column::PracticeId)
            .and_where(Expr::col(farms::Column::GrowerId).eq(grower_id))
            .to_owned()
    }

    fn planter_ids(&self, grower_id: Uuid) -> SelectStatement {
        self.ids(planters::Entity, planters::Column::Id, planters::Column::PracticeId)
            .and_where(Expr::col(planters::Column::GrowerId).eq(grower_id))
            .to_owned()
    }

    /// The ids of the fields of a grower.
    pub fn field_ids(&self, grower_id: Uuid) -> SelectStatement {
        self.ids(fields::Entity, fields::Column::Id, fields::Column::PracticeId)
            .and_where(in_those(fields::Column::FarmId, self.farm_ids(grower_id)))
            .to_owned()
    }

    fn recommendation_ids(&self, grower_id: Uuid) -> SelectStatement {
        let table = recommendations::Entity;
        self.ids(table, recommendations::Column::Id, recommendations::Column::PracticeId)
            .and_where(in_those(recommendations::Column::FieldId, self.field_ids(grower_id)))
            .to_owned()
    }

    fn ids<E: EntityTrait>(&self, table: E, id: E::Column, practice: E::Column) -> SelectStatement {
        Query::select()
            .column(id)
            .from(table)
            .and_where(Expr::col(practice).eq(self.practice_id))
            .to_owned()
    }
}

fn in_those(column: impl ColumnTrait, ids: SelectStatement) -> SimpleExpr {
    Expr::col(column).in_subquery(ids)
}
