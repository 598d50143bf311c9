//! The audit trail in the database, read only.

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, Select};
use uuid::Uuid;

use crate::auth::Scope;
use crate::entities::audit_events::{Column, Entity, Model};
use crate::http::ApiError;
use crate::http::page::PageRequest;

/// Which events are read.
#[derive(Debug, Clone, Default)]
pub struct Filter {
    /// Only at this time or later.
    pub since: Option<DateTime<Utc>>,
    /// Only before this time.
    pub until: Option<DateTime<Utc>>,
    /// Only by this account.
    pub account_id: Option<Uuid>,
    /// Only to this object.
    pub object_id: Option<String>,
    /// Only this operation.
    pub operation: Option<String>,
}

/// A page of the events in scope.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    filter: &Filter,
    page: &PageRequest,
) -> Result<(Vec<Model>, Option<String>), ApiError> {
    let rows = page.of(matching(scope, filter), Column::Id).all(db).await?;
    Ok(page.cut(rows, |row| row.id))
}

/// The events in scope, in no order.
pub fn matching(scope: Scope, filter: &Filter) -> Select<Entity> {
    let Filter { since, until, account_id, object_id, operation } = filter;
    let mut rows = scope.audit_events();
    if let Some(since) = since {
        rows = rows.filter(Column::At.gte(*since)).filter(Column::Id.gte(first_id(*since)));
    }
    if let Some(until) = until {
        rows = rows.filter(Column::At.lt(*until));
    }
    if let Some(account_id) = account_id {
        rows = rows.filter(Column::AccountId.eq(*account_id));
    }
    if let Some(object_id) = object_id {
        rows = rows.filter(Column::ObjectId.eq(object_id));
    }
    if let Some(operation) = operation {
        rows = rows.filter(Column::Operation.eq(operation));
    }
    rows
}

/// No event of this time has a smaller id: an id begins with its time, in milliseconds. So the
/// primary key leads to the first row, past all that is older.
fn first_id(since: DateTime<Utc>) -> Uuid {
    let time = (since - TimeDelta::seconds(1)).timestamp_millis();
    Uuid::from_u128(u128::from(u64::try_from(time).unwrap_or(0)) << 80)
}

#[cfg(test)]
mod tests {
    use super::first_id;
    use chrono::{DateTime, TimeDelta, Utc};
    use uuid::{NoContext, Timestamp, Uuid};

    #[test]
    fn ids_of_the_time_and_later_are_greater_and_much_older_ones_are_not() {
        let since: DateTime<Utc> = "2027-04-20T12:00:00Z".parse().expect("time");
        let id = |at: DateTime<Utc>| {
            let seconds = u64::try_from(at.timestamp()).expect("after 1970");
            Uuid::new_v7(Timestamp::from_unix(NoContext, seconds, 0))
        };
        assert!(id(since) > first_id(since));
        assert!(id(since + TimeDelta::days(9)) > first_id(since));
        assert!(id(since - TimeDelta::seconds(2)) < first_id(since));
        assert_eq!(first_id(DateTime::UNIX_EPOCH), Uuid::nil());
    }
}
