//! What a caller may see: the start of every query.

use sea_orm::sea_query::{Expr, ExprTrait, Query, SelectStatement};
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter, Select};
use uuid::Uuid;

use super::role::Role;
use crate::entities::practices::AdvisorsSee;
use crate::entities::{
    accounts, adjustments, air_temperatures, audit_events, calibrations, changes, coefficient_sets,
    conditions_reports, dig_checks, dig_lessons, external_ids, farms, fields, growers, inspections,
    open_replacements, own_coefficients, planters, plantings, recommendations, record_conflicts,
    record_matches, repairs, stand_counts, trial_entries, trials, wear_limits, yields,
};

/// Whose objects are seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sees {
    /// Those of all growers of the practice.
    Practice,
    /// Those of the growers that this advisor looks after.
    AdvisedBy(Uuid),
    /// Those of this grower, and no draft: a grower's account.
    Grower(Uuid),
}

/// A practice, and what is seen of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Scope {
    /// The practice.
    pub practice_id: Uuid,
    /// Whose objects.
    pub sees: Sees,
}

impl Scope {
    /// The whole of a practice.
    pub fn of_practice(practice_id: Uuid) -> Self {
        Self { practice_id, sees: Sees::Practice }
    }

    /// What an account sees, by the setting of its practice.
    pub fn of_account(account: &accounts::Model, advisors_see: AdvisorsSee) -> Self {
        let sees = match (account.role, advisors_see) {
            // A grower's account that has no grower yet sees nothing.
            (Role::Grower, _) => Sees::Grower(account.grower_id.unwrap_or(Uuid::nil())),
            (Role::Advisor, AdvisorsSee::Assigned) => Sees::AdvisedBy(account.id),
            (Role::Advisor, AdvisorsSee::All)
            | (Role::Lead | Role::RecordsSystem | Role::ReadOnly, _) => Sees::Practice,
        };
        Self { practice_id: account.practice_id, sees }
    }

    /// Whether drafts stay hidden: a grower learns of a sheet when it is issued.
    pub fn hides_drafts(&self) -> bool {
        matches!(self.sees, Sees::Grower(_))
    }

    /// The growers in scope.
    pub fn growers(&self) -> Select<growers::Entity> {
        let rows = growers::Entity::find().filter(growers::Column::PracticeId.eq(self.practice_id));
        match self.sees {
            Sees::Practice => rows,
            Sees::AdvisedBy(advisor) => rows.filter(growers::Column::AdvisorId.eq(advisor)),
            Sees::Grower(own) => rows.filter(growers::Column::Id.eq(own)),
        }
    }

    /// The farms in scope.
    pub fn farms(&self) -> Select<farms::Entity> {
        let rows = farms::Entity::find().filter(farms::Column::PracticeId.eq(self.practice_id));
        within(rows, farms::Column::GrowerId, self.grower_ids())
    }

    /// The fields in scope.
    pub fn fields(&self) -> Select<fields::Entity> {
        let rows = fields::Entity::find().filter(fields::Column::PracticeId.eq(self.practice_id));
        within(rows, fields::Column::FarmId, self.farm_ids())
    }

    /// The planters in scope.
    pub fn planters(&self) -> Select<planters::Entity> {
        let rows =
            planters::Entity::find().filter(planters::Column::PracticeId.eq(self.practice_id));
        within(rows, planters::Column::GrowerId, self.grower_ids())
    }

    /// The calibrations of the planters in scope.
    pub fn calibrations(&self) -> Select<calibrations::Entity> {
        let rows = calibrations::Entity::find()
            .filter(calibrations::Column::PracticeId.eq(self.practice_id));
        within(rows, calibrations::Column::PlanterId, self.planter_ids())
    }

    /// The inspections of the planters in scope.
    pub fn inspections(&self) -> Select<inspections::Entity> {
        let rows = inspections::Entity::find()
            .filter(inspections::Column::PracticeId.eq(self.practice_id));
        within(rows, inspections::Column::PlanterId, self.planter_ids())
    }

    /// What the manuals of the planters in scope say, every version.
    pub fn wear_limits(&self) -> Select<wear_limits::Entity> {
        let rows = wear_limits::Entity::find()
            .filter(wear_limits::Column::PracticeId.eq(self.practice_id));
        within(rows, wear_limits::Column::PlanterId, self.planter_ids())
    }

    /// What was mended on the planters in scope.
    pub fn repairs(&self) -> Select<repairs::Entity> {
        let rows = repairs::Entity::find().filter(repairs::Column::PracticeId.eq(self.practice_id));
        within(rows, repairs::Column::PlanterId, self.planter_ids())
    }

    /// What is to be replaced on the planters in scope.
    pub fn open_replacements(&self) -> Select<open_replacements::Entity> {
        let rows = open_replacements::Entity::find()
            .filter(open_replacements::Column::PracticeId.eq(self.practice_id));
        within(rows, open_replacements::Column::PlanterId, self.planter_ids())
    }

    /// The conditions reports of the fields in scope.
    pub fn conditions_reports(&self) -> Select<conditions_reports::Entity> {
        let rows = conditions_reports::Entity::find()
            .filter(conditions_reports::Column::PracticeId.eq(self.practice_id));
        within(rows, conditions_reports::Column::FieldId, self.field_ids())
    }

    /// The recommendations for the fields in scope, of any status.
    pub fn recommendations(&self) -> Select<recommendations::Entity> {
        let rows = recommendations::Entity::find()
            .filter(recommendations::Column::PracticeId.eq(self.practice_id));
        within(rows, recommendations::Column::FieldId, self.field_ids())
    }

    /// The plantings of the fields in scope.
    pub fn plantings(&self) -> Select<plantings::Entity> {
        let rows =
            plantings::Entity::find().filter(plantings::Column::PracticeId.eq(self.practice_id));
        within(rows, plantings::Column::FieldId, self.field_ids())
    }

    /// The stand counts of the fields in scope.
    pub fn stand_counts(&self) -> Select<stand_counts::Entity> {
        let rows = stand_counts::Entity::find()
            .filter(stand_counts::Column::PracticeId.eq(self.practice_id));
        within(rows, stand_counts::Column::FieldId, self.field_ids())
    }

    /// The yields of the fields in scope.
    pub fn yields(&self) -> Select<yields::Entity> {
        let rows = yields::Entity::find().filter(yields::Column::PracticeId.eq(self.practice_id));
        within(rows, yields::Column::FieldId, self.field_ids())
    }

    /// The daily temperatures of the farms in scope.
    pub fn air_temperatures(&self) -> Select<air_temperatures::Entity> {
        let rows = air_temperatures::Entity::find()
            .filter(air_temperatures::Column::PracticeId.eq(self.practice_id));
        within(rows, air_temperatures::Column::FarmId, self.farm_ids())
    }

    /// The dig checks of the recommendations in scope.
    pub fn dig_checks(&self) -> Select<dig_checks::Entity> {
        let rows =
            dig_checks::Entity::find().filter(dig_checks::Column::PracticeId.eq(self.practice_id));
        within(rows, dig_checks::Column::RecommendationId, self.recommendation_ids())
    }

    /// What the digs of the planters in scope taught.
    pub fn dig_lessons(&self) -> Select<dig_lessons::Entity> {
        let rows = dig_lessons::Entity::find()
            .filter(dig_lessons::Column::PracticeId.eq(self.practice_id));
        within(rows, dig_lessons::Column::PlanterId, self.planter_ids())
    }

    /// The adjustments of the recommendations in scope.
    pub fn adjustments(&self) -> Select<adjustments::Entity> {
        let rows = adjustments::Entity::find()
            .filter(adjustments::Column::PracticeId.eq(self.practice_id));
        within(rows, adjustments::Column::RecommendationId, self.recommendation_ids())
    }

    /// The trials in the fields in scope, of any status.
    pub fn trials(&self) -> Select<trials::Entity> {
        let rows = trials::Entity::find().filter(trials::Column::PracticeId.eq(self.practice_id));
        within(rows, trials::Column::FieldId, self.field_ids())
    }

    /// What was found on the plots of the trials in scope.
    pub fn trial_entries(&self) -> Select<trial_entries::Entity> {
        let rows = trial_entries::Entity::find()
            .filter(trial_entries::Column::PracticeId.eq(self.practice_id));
        within(rows, trial_entries::Column::TrialId, self.trial_ids())
    }

    /// The ids that records systems give to what is in scope.
    pub fn external_ids(&self) -> Select<external_ids::Entity> {
        let rows = external_ids::Entity::find()
            .filter(external_ids::Column::PracticeId.eq(self.practice_id));
        within(rows, external_ids::Column::GrowerId, self.grower_ids())
    }

    /// The records that wait for a person, of growers in scope; those of nobody known yet are seen
    /// by whoever sees the practice.
    pub fn record_matches(&self) -> Select<record_matches::Entity> {
        let rows = record_matches::Entity::find()
            .filter(record_matches::Column::PracticeId.eq(self.practice_id));
        within(rows, record_matches::Column::GrowerId, self.grower_ids())
    }

    /// The members in conflict of what is in scope.
    pub fn record_conflicts(&self) -> Select<record_conflicts::Entity> {
        let rows = record_conflicts::Entity::find()
            .filter(record_conflicts::Column::PracticeId.eq(self.practice_id));
        within(rows, record_conflicts::Column::GrowerId, self.grower_ids())
    }

    /// Who did what, for those who may read it at all.
    pub fn audit_events(&self) -> Select<audit_events::Entity> {
        let rows = audit_events::Entity::find()
            .filter(audit_events::Column::PracticeId.eq(self.practice_id));
        within(rows, audit_events::Column::GrowerId, self.grower_ids())
    }

    /// What changed. An advisor who sees only the growers that are assigned to him, and a grower, learn
    /// of nothing that is the practice's alone.
    pub fn changes(&self) -> Select<changes::Entity> {
        let rows = changes::Entity::find().filter(changes::Column::PracticeId.eq(self.practice_id));
        match self.sees {
            Sees::Practice | Sees::AdvisedBy(_) => {
                within(rows, changes::Column::GrowerId, self.grower_ids())
            }
            // Said outright, so that the index over growers and positions serves.
            Sees::Grower(own) => rows.filter(changes::Column::GrowerId.eq(own)),
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

    /// The ids of the fields of a grower; only to narrow a query that starts from the scope.
    pub fn field_ids_of(&self, grower_id: Uuid) -> SelectStatement {
        let farms = self
            .ids(farms::Entity, farms::Column::Id, farms::Column::PracticeId)
            .and_where(Expr::col(farms::Column::GrowerId).eq(grower_id))
            .to_owned();
        self.fields_on(farms)
    }

    /// The ids of the growers in scope; `None` of the whole practice needs no look.
    fn grower_ids(&self) -> Option<SelectStatement> {
        let table = growers::Entity;
        let mut ids = self.ids(table, growers::Column::Id, growers::Column::PracticeId);
        match self.sees {
            Sees::Practice => return None,
            Sees::AdvisedBy(advisor) => {
                ids.and_where(Expr::col(growers::Column::AdvisorId).eq(advisor))
            }
            Sees::Grower(own) => ids.and_where(Expr::col(growers::Column::Id).eq(own)),
        };
        Some(ids)
    }

    fn farm_ids(&self) -> Option<SelectStatement> {
        let ids = self.ids(farms::Entity, farms::Column::Id, farms::Column::PracticeId);
        Some(narrowed(ids, farms::Column::GrowerId, self.grower_ids()?))
    }

    fn planter_ids(&self) -> Option<SelectStatement> {
        let ids = self.ids(planters::Entity, planters::Column::Id, planters::Column::PracticeId);
        Some(narrowed(ids, planters::Column::GrowerId, self.grower_ids()?))
    }

    fn field_ids(&self) -> Option<SelectStatement> {
        Some(self.fields_on(self.farm_ids()?))
    }

    fn trial_ids(&self) -> Option<SelectStatement> {
        let ids = self.ids(trials::Entity, trials::Column::Id, trials::Column::PracticeId);
        Some(narrowed(ids, trials::Column::FieldId, self.field_ids()?))
    }

    fn recommendation_ids(&self) -> Option<SelectStatement> {
        use recommendations::{Column, Entity};
        let ids = self.ids(Entity, Column::Id, Column::PracticeId);
        Some(narrowed(ids, Column::FieldId, self.field_ids()?))
    }

    fn fields_on(&self, farm_ids: SelectStatement) -> SelectStatement {
        let ids = self.ids(fields::Entity, fields::Column::Id, fields::Column::PracticeId);
        narrowed(ids, fields::Column::FarmId, farm_ids)
    }

    fn ids<E: EntityTrait>(&self, table: E, id: E::Column, practice: E::Column) -> SelectStatement {
        Query::select()
            .column(id)
            .from(table)
            .and_where(Expr::col(practice).eq(self.practice_id))
            .to_owned()
    }
}

/// The rows whose `column` is one of `ids`; all of them without ids.
fn within<E: EntityTrait>(
    rows: Select<E>,
    column: E::Column,
    ids: Option<SelectStatement>,
) -> Select<E> {
    match ids {
        Some(ids) => rows.filter(column.in_subquery(ids)),
        None => rows,
    }
}

fn narrowed(
    mut rows: SelectStatement,
    column: impl ColumnTrait,
    ids: SelectStatement,
) -> SelectStatement {
    rows.and_where(Expr::col(column).in_subquery(ids)).to_owned()
}
