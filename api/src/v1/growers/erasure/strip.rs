//! What stays loses all that names or finds the grower. Each function says how many rows stay.

use chrono::{DateTime, Utc};
use sea_orm::sea_query::Expr;
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, DatabaseTransaction, EntityTrait,
    IntoActiveModel, QueryFilter, Select,
};
use serde_json::Value;
use uuid::Uuid;

use crate::auth::{Scope, no_password};
use crate::entities::{
    access_links, accounts, adjustments, calibrations, conditions_reports, dig_checks, dig_lessons,
    growers,
};
use crate::http::ApiError;

/// Strips, in the scope of one grower.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stripping<'a> {
    pub tx: &'a DatabaseTransaction,
    /// The grower's.
    pub scope: Scope,
    pub now: DateTime<Utc>,
}

/// What stands for a name: unique, and nobody's.
fn nameless(kind: &str, id: Uuid) -> String {
    format!("Erased {kind} {id}")
}

impl Stripping<'_> {
    /// The grower itself. Gives the new version.
    pub(super) async fn grower(self, row: growers::Model) -> Result<i32, ApiError> {
        let (id, version) = (row.id, row.version + 1);
        let mut row = row.into_active_model();
        row.name = Set(nameless("grower", id));
        (row.phone, row.email, row.notes) = (Set(None), Set(None), Set(None));
        (row.version, row.updated_at) = (Set(version), Set(self.now));
        row.update(self.tx).await?;
        Ok(version)
    }

    pub(super) async fn farms(self) -> Result<u64, ApiError> {
        let rows = self.scope.farms().all(self.tx).await?;
        let kept = count(&rows);
        for row in rows {
            let (id, version) = (row.id, row.version + 1);
            let mut row = row.into_active_model();
            row.name = Set(nameless("farm", id));
            (row.version, row.updated_at) = (Set(version), Set(self.now));
            row.update(self.tx).await?;
        }
        Ok(kept)
    }

    pub(super) async fn fields(self) -> Result<u64, ApiError> {
        let rows = self.scope.fields().all(self.tx).await?;
        let kept = count(&rows);
        for row in rows {
            let (id, version) = (row.id, row.version + 1);
            let mut row = row.into_active_model();
            row.name = Set(nameless("field", id));
            (row.boundary, row.notes) = (Set(None), Set(None));
            (row.area_m2, row.entered_area) = (Set(None), Set(None));
            (row.version, row.updated_at) = (Set(version), Set(self.now));
            row.update(self.tx).await?;
        }
        Ok(kept)
    }

    pub(super) async fn planters(self) -> Result<u64, ApiError> {
        let rows = self.scope.planters().all(self.tx).await?;
        let kept = count(&rows);
        for row in rows {
            let (id, version) = (row.id, row.version + 1);
            let mut row = row.into_active_model();
            row.name = Set(nameless("planter", id));
            (row.version, row.updated_at) = (Set(version), Set(self.now));
            row.update(self.tx).await?;
        }
        Ok(kept)
    }

    pub(super) async fn calibrations(self) -> Result<u64, ApiError> {
        let rows = self.scope.calibrations().all(self.tx).await?;
        let kept = count(&rows);
        for row in rows.into_iter().filter(|row| row.notes.is_some()) {
            let mut row: calibrations::ActiveModel = row.into();
            row.notes = Set(None);
            row.update(self.tx).await?;
        }
        Ok(kept)
    }

    pub(super) async fn conditions_reports(self) -> Result<u64, ApiError> {
        let rows = self.scope.conditions_reports().all(self.tx).await?;
        let kept = count(&rows);
        for row in rows {
            let left = without(row.observations.clone(), &["notes"]);
            let mut row: conditions_reports::ActiveModel = row.into();
            row.observations = Set(left);
            row.update(self.tx).await?;
        }
        Ok(kept)
    }

    pub(super) async fn dig_checks(self) -> Result<u64, ApiError> {
        let rows = self.scope.dig_checks().all(self.tx).await?;
        let kept = count(&rows);
        for row in rows {
            let left = without(row.observation.clone(), &["notes", "place"]);
            let mut row: dig_checks::ActiveModel = row.into();
            row.observation = Set(left);
            // It was made from the notes too.
            row.fingerprint = Set(None);
            row.update(self.tx).await?;
        }
        Ok(kept)
    }

    pub(super) async fn adjustments(self) -> Result<u64, ApiError> {
        let rows = self.scope.adjustments().all(self.tx).await?;
        let kept = count(&rows);
        for row in rows.into_iter().filter(|row| row.reason.is_some()) {
            let version = row.version + 1;
            let mut row: adjustments::ActiveModel = row.into();
            (row.reason, row.version) = (Set(None), Set(version));
            row.updated_at = Set(self.now);
            row.update(self.tx).await?;
        }
        Ok(kept)
    }

    /// Closed for good: nobody signs in to them again.
    pub(super) async fn accounts(self, of: Select<accounts::Entity>) -> Result<u64, ApiError> {
        let rows = of.all(self.tx).await?;
        let kept = count(&rows);
        for row in rows {
            let (id, disabled_at) = (row.id, row.disabled_at.unwrap_or(self.now));
            let version = row.version + 1;
            let mut row: accounts::ActiveModel = row.into();
            row.email = Set(no_password::address(id));
            row.display_name = Set(nameless("account", id));
            row.password_hash = Set(no_password::HASH.to_owned());
            (row.disabled_at, row.version) = (Set(Some(disabled_at)), Set(version));
            row.update(self.tx).await?;
        }
        Ok(kept)
    }

    /// Revoked, where they are not.
    pub(super) async fn access_links(self, grower_id: Uuid) -> Result<u64, ApiError> {
        use access_links::{Column, Entity};
        let own = || {
            Entity::update_many()
                .filter(Column::PracticeId.eq(self.scope.practice_id))
                .filter(Column::GrowerId.eq(grower_id))
        };
        own()
            .col_expr(Column::RevokedAt, Expr::value(self.now))
            .filter(Column::RevokedAt.is_null())
            .exec(self.tx)
            .await?;
        let nothing = Expr::value(None::<String>);
        Ok(own().col_expr(Column::Note, nothing).exec(self.tx).await?.rows_affected)
    }

    pub(super) async fn recommendations(self) -> Result<u64, ApiError> {
        number(self.scope.recommendations(), self.tx).await
    }

    pub(super) async fn lessons(self) -> Result<u64, ApiError> {
        number::<dig_lessons::Entity>(self.scope.dig_lessons(), self.tx).await
    }

    pub(super) async fn audit_events(self) -> Result<u64, ApiError> {
        number(self.scope.audit_events(), self.tx).await
    }

    pub(super) async fn changes(self) -> Result<u64, ApiError> {
        number(self.scope.changes(), self.tx).await
    }
}

/// How many rows there are, where they hold nothing that names anybody.
async fn number<E: EntityTrait>(rows: Select<E>, tx: &DatabaseTransaction) -> Result<u64, ApiError>
where
    E::Model: Send + Sync,
{
    use sea_orm::PaginatorTrait;
    Ok(rows.count(tx).await?)
}

fn count<T>(rows: &[T]) -> u64 {
    u64::try_from(rows.len()).unwrap_or(u64::MAX)
}

/// An object without some of its members.
fn without(mut object: Value, members: &[&str]) -> Value {
    if let Value::Object(all) = &mut object {
        all.retain(|name, _| !members.contains(&name.as_str()));
    }
    object
}

#[cfg(test)]
mod tests {
    use super::without;
    use serde_json::json;

    #[test]
    fn notes_go_and_readings_stay() {
        let dig = json!({"notes": "by the old oak", "place": "north", "rows": [{"row": 2}]});
        assert_eq!(without(dig, &["notes", "place"]), json!({"rows": [{"row": 2}]}));
    }
}
