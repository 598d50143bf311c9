//! Hashes of what records systems called growers who were erased.
//!
//! A hash is HMAC-SHA-256 over system, kind and id, keyed with random bytes of the practice. No id can
//! be read out of it. Whoever has the database and knows an id can tell that it was erased, as the
//! service must; the same id of another practice has another hash.

use std::collections::HashMap;

use chrono::{DateTime, Utc};
use hmac::{Hmac, Mac};
use sea_orm::sea_query::{Expr, OnConflict};
use sea_orm::{
    ActiveValue::Set, ColumnTrait, ConnectionTrait, DatabaseTransaction, EntityTrait,
    PaginatorTrait, QueryFilter, QuerySelect,
};
use sha2::Sha256;
use uuid::Uuid;

use crate::auth::secret;
use crate::entities::{erased_records, external_ids, practices, record_matches};
use crate::exchange::intake::incoming::{Kind, TheirRef};
use crate::exchange::intake::plan::AT_ONCE;
use crate::exchange::intake::system::System;
use crate::http::ApiError;
use crate::ids::Ids;

/// A record, and the records system that sends it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Named {
    /// The name of the records system.
    pub system: String,
    /// What it calls the record.
    pub record: TheirRef,
}

impl From<&external_ids::Model> for Named {
    fn from(row: &external_ids::Model) -> Self {
        let record = TheirRef { kind: row.kind, their_id: row.their_id.clone() };
        Self { system: row.system.clone(), record }
    }
}

impl From<&record_matches::Model> for Named {
    fn from(row: &record_matches::Model) -> Self {
        let record = TheirRef { kind: row.kind, their_id: row.their_id.clone() };
        Self { system: row.system.clone(), record }
    }
}

/// What hashes of a practice are keyed with.
#[derive(Debug)]
pub(in crate::exchange::intake) struct Marks {
    practice_id: Uuid,
    /// None before the first erasure.
    salt: Option<String>,
}

impl Marks {
    /// Those of a practice.
    pub(in crate::exchange::intake) async fn of(
        db: &impl ConnectionTrait,
        practice_id: Uuid,
    ) -> Result<Self, ApiError> {
        let salt = practices::Entity::find_by_id(practice_id)
            .select_only()
            .column(practices::Column::ErasureSalt)
            .into_tuple::<Option<String>>()
            .one(db)
            .await?;
        Ok(Self { practice_id, salt: salt.flatten() })
    }

    /// Those of a practice that erases; of two that do so first at once, one makes the key.
    async fn made(tx: &DatabaseTransaction, practice_id: Uuid) -> Result<Self, ApiError> {
        practices::Entity::update_many()
            .col_expr(practices::Column::ErasureSalt, Expr::value(secret::new()))
            .filter(practices::Column::Id.eq(practice_id))
            .filter(practices::Column::ErasureSalt.is_null())
            .exec(tx)
            .await?;
        Self::of(tx, practice_id).await
    }

    /// Whether nothing was erased yet.
    pub(in crate::exchange::intake) fn none(&self) -> bool {
        self.salt.is_none()
    }

    /// The hash of a record; none where nothing was erased yet.
    pub(in crate::exchange::intake) fn mark(
        &self,
        system: &str,
        (kind, their_id): (Kind, &str),
    ) -> Option<String> {
        let key = self.salt.as_ref()?.as_bytes();
        let mut mac = Hmac::<Sha256>::new_from_slice(key).ok()?;
        // None of the three holds a NUL, so no two records give the same bytes.
        for part in [system, "\0", kind.word(), "\0", their_id] {
            mac.update(part.as_bytes());
        }
        Some(format!("{:x}", mac.finalize().into_bytes()))
    }

    /// When records were erased, by their ids, of those that were.
    pub(in crate::exchange::intake) async fn find(
        &self,
        db: &impl ConnectionTrait,
        (system, kind): (&System, Kind),
        ids: &[String],
    ) -> Result<HashMap<String, DateTime<Utc>>, ApiError> {
        use erased_records::{Column, Entity};
        let marked =
            ids.iter().filter_map(|id| Some((self.mark(system.as_str(), (kind, id))?, id)));
        let marked: HashMap<String, &String> = marked.collect();
        let marks: Vec<&str> = marked.keys().map(String::as_str).collect();
        let mut erased = HashMap::new();
        for some in marks.chunks(AT_ONCE) {
            let found = Entity::find()
                .select_only()
                .columns([Column::Mark, Column::ErasedAt])
                .filter(Column::PracticeId.eq(self.practice_id))
                .filter(Column::Mark.is_in(some.iter().copied()))
                .into_tuple::<(String, DateTime<Utc>)>()
                .all(db)
                .await?;
            let known = |(mark, at)| Some(((*marked.get(&mark)?).clone(), at));
            erased.extend(found.into_iter().filter_map(known));
        }
        Ok(erased)
    }
}

/// Keeps hashes of what records systems called a grower and all that was his. Gives how many there
/// are of him.
///
/// # Errors
/// When the database fails.
pub async fn keep_marks(
    tx: &DatabaseTransaction,
    ids: &Ids,
    now: DateTime<Utc>,
    (practice_id, grower_id): (Uuid, Uuid),
    records: impl IntoIterator<Item = &Named>,
) -> Result<u64, ApiError> {
    use erased_records::{ActiveModel, Column, Entity};
    let mut records = records.into_iter().peekable();
    if records.peek().is_some() {
        let marks = Marks::made(tx, practice_id).await?;
        let row = |named: &Named| {
            let TheirRef { kind, their_id } = &named.record;
            Some(ActiveModel {
                practice_id: Set(practice_id),
                id: Set(ids.next()),
                grower_id: Set(grower_id),
                mark: Set(marks.mark(&named.system, (*kind, their_id))?),
                erased_at: Set(now),
            })
        };
        let rows: Vec<ActiveModel> = records.filter_map(row).collect();
        for some in rows.chunks(AT_ONCE) {
            let once =
                OnConflict::columns([Column::PracticeId, Column::Mark]).do_nothing().to_owned();
            let some = Entity::insert_many(some.iter().cloned()).on_conflict(once);
            some.exec_without_returning(tx).await?;
        }
    }
    let kept = Entity::find()
        .filter(Column::PracticeId.eq(practice_id))
        .filter(Column::GrowerId.eq(grower_id));
    Ok(kept.count(tx).await?)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use uuid::Uuid;

    use super::Marks;
    use crate::exchange::intake::Kind;

    fn mark(salt: &str, system: &str, kind: Kind, their_id: &str) -> String {
        let marks = Marks { practice_id: Uuid::nil(), salt: Some(salt.to_owned()) };
        marks.mark(system, (kind, their_id)).expect("a hash")
    }

    #[test]
    fn a_hash_is_that_of_other_libraries() {
        // By `hmac.new(b"salt", b"records\0grower\0G-7", "sha256")` of Python.
        let wanted = "7c15e3409b5de8c53290254b018d3b6c21bf4b51dc6ff89939da3b1bfd291020";
        assert_eq!(mark("salt", "records", Kind::Grower, "G-7"), wanted);
    }

    #[test]
    fn no_two_records_have_the_same() {
        let marks = BTreeSet::from([
            mark("salt", "records", Kind::Grower, "G-7"),
            mark("salt", "records", Kind::Farm, "G-7"),
            mark("salt", "records2", Kind::Grower, "G-7"),
            mark("salt", "records", Kind::Grower, "g-7"),
            mark("pepper", "records", Kind::Grower, "G-7"),
        ]);
        assert_eq!(marks.len(), 5);
        let before = Marks { practice_id: Uuid::nil(), salt: None };
        assert!(before.none() && before.mark("records", (Kind::Grower, "G-7")).is_none());
    }
}
