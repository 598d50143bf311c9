//! What an account or a grower wants to get by mail.

use chrono::{DateTime, Datelike, Days, LocalResult, NaiveTime, TimeZone, Utc};
use sea_orm::sea_query::{Expr, OnConflict};
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter,
};
use uuid::Uuid;

use crate::app::AppState;
use crate::auth::secret;
use crate::entities::mail_wishes::{ActiveModel, Column, Digest, Entity, Model};
use crate::http::ApiError;
use crate::v1::practice::SeasonCalendar;

/// Whose wishes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whose {
    /// Those of an account: its digest.
    Account(Uuid),
    /// Those of a grower: sheets that are ready.
    Grower(Uuid),
}

/// When a digest goes out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct When {
    /// How often.
    pub digest: Digest,
    /// The hour of the day, in the practice's time zone.
    pub hour: u32,
    /// The day of the week, 1 for Monday; only of a weekly one.
    pub weekday: u32,
}

impl When {
    /// Never; at six on Mondays for whoever only says how often.
    pub const NEVER: Self = Self { digest: Digest::None, hour: 6, weekday: 1 };

    /// As it is stored.
    pub fn of(row: &Model) -> Self {
        let stored = |number: i32, fallback| u32::try_from(number).unwrap_or(fallback);
        Self {
            digest: row.digest,
            hour: stored(row.digest_hour, Self::NEVER.hour),
            weekday: stored(row.digest_weekday, Self::NEVER.weekday),
        }
    }

    /// The next time after now. An hour that the clocks leave out is the one after.
    pub fn next(self, calendar: &SeasonCalendar, now: DateTime<Utc>) -> Option<DateTime<Utc>> {
        let first = calendar.today(now);
        (0..=8).find_map(|days| {
            let day = first.checked_add_days(Days::new(days))?;
            let on_this_day = match self.digest {
                Digest::None => false,
                Digest::Daily => true,
                Digest::Weekly => day.weekday().number_from_monday() == self.weekday,
            };
            let at = [self.hour, self.hour.saturating_add(1)].into_iter().find_map(|hour| {
                let time = day.and_time(NaiveTime::from_hms_opt(hour, 0, 0)?);
                match calendar.zone().from_local_datetime(&time) {
                    LocalResult::Single(at) | LocalResult::Ambiguous(at, _) => {
                        Some(at.with_timezone(&Utc))
                    }
                    LocalResult::None => None,
                }
            })?;
            (on_this_day && at > now).then_some(at)
        })
    }
}

/// What is wished, if anything was ever said.
///
/// # Errors
/// When the database fails.
pub async fn find(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    whose: Whose,
) -> Result<Option<Model>, ApiError> {
    let rows = Entity::find().filter(Column::PracticeId.eq(practice_id));
    let rows = match whose {
        Whose::Account(id) => rows.filter(Column::AccountId.eq(id)),
        Whose::Grower(id) => rows.filter(Column::GrowerId.eq(id)),
    };
    Ok(rows.one(db).await?)
}

/// Stores what is wished from now on. `sheets` is of a grower, `when` of an account.
///
/// # Errors
/// When the database fails.
pub async fn set(
    tx: &impl ConnectionTrait,
    app: &AppState,
    (practice_id, by): (Uuid, Uuid),
    whose: Whose,
    (when, sheets): (When, bool),
) -> Result<Model, ApiError> {
    insert_if_none(tx, app, practice_id, whose).await?;
    let row = find(tx, practice_id, whose).await?;
    let row = row.ok_or_else(|| ApiError::internal("wishes that were just stored"))?;
    let now = app.clock.now();
    let calendar = SeasonCalendar::load(tx, practice_id).await?;
    let change = ActiveModel {
        practice_id: Set(practice_id),
        id: Set(row.id),
        digest: Set(when.digest),
        digest_hour: Set(i32::try_from(when.hour).unwrap_or_default()),
        digest_weekday: Set(i32::try_from(when.weekday).unwrap_or_default()),
        sheets: Set(sheets),
        next_digest_at: Set(when.next(&calendar, now)),
        updated_by: Set(Some(by)),
        updated_at: Set(now),
        ..Default::default()
    };
    Ok(change.update(tx).await?)
}

async fn insert_if_none(
    tx: &impl ConnectionTrait,
    app: &AppState,
    practice_id: Uuid,
    whose: Whose,
) -> Result<(), ApiError> {
    let (account_id, grower_id, column) = match whose {
        Whose::Account(id) => (Some(id), None, Column::AccountId),
        Whose::Grower(id) => (None, Some(id), Column::GrowerId),
    };
    let row = ActiveModel {
        practice_id: Set(practice_id),
        id: Set(app.ids.next()),
        account_id: Set(account_id),
        grower_id: Set(grower_id),
        digest: Set(Digest::None),
        digest_hour: Set(0),
        digest_weekday: Set(1),
        sheets: Set(false),
        next_digest_at: Set(None),
        stop_key: Set(secret::new()),
        updated_by: Set(None),
        updated_at: Set(app.clock.now()),
    };
    let once = OnConflict::columns([Column::PracticeId, column]).do_nothing().to_owned();
    Entity::insert(row).on_conflict(once).exec_without_returning(tx).await?;
    Ok(())
}

/// Stops all mail that the key stands in. Says whether it stands in any.
///
/// # Errors
/// When the database fails.
pub async fn stop(
    db: &impl ConnectionTrait,
    stop_key: &str,
    now: DateTime<Utc>,
) -> Result<bool, ApiError> {
    use sea_orm::ActiveEnum;
    let stopped = Entity::update_many()
        .col_expr(Column::Digest, Expr::value(Digest::None.to_value()))
        .col_expr(Column::Sheets, Expr::value(false))
        .col_expr(Column::NextDigestAt, Expr::value(None::<DateTime<Utc>>))
        .col_expr(Column::UpdatedAt, Expr::value(now))
        .filter(Column::StopKey.eq(stop_key))
        .exec(db)
        .await?;
    Ok(stopped.rows_affected > 0)
}

#[cfg(test)]
mod tests {
    use super::{Digest, When};
    use crate::v1::practice::{SeasonCalendar, SeasonStart, zone};
    use chrono::{DateTime, Utc};

    fn next(when: When, zone_name: &str, now: &str) -> Option<String> {
        let starts = SeasonStart::parse("/", "01-01").expect("a day");
        let calendar = SeasonCalendar::new(zone("/", zone_name).expect("a zone"), starts);
        let now: DateTime<Utc> = now.parse().expect("a time");
        when.next(&calendar, now).map(|at| at.to_rfc3339())
    }

    #[test]
    fn a_digest_comes_at_its_hour_where_the_practice_is() {
        let daily = When { digest: Digest::Daily, hour: 6, weekday: 1 };
        let at = |zone, now| next(daily, zone, now).expect("a time");
        assert_eq!(at("UTC", "2027-05-03T05:59:59Z"), "2027-05-03T06:00:00+00:00");
        assert_eq!(at("UTC", "2027-05-03T06:00:00Z"), "2027-05-04T06:00:00+00:00");
        assert_eq!(at("America/Chicago", "2027-05-03T05:00:00Z"), "2027-05-03T11:00:00+00:00");
        // In winter the same hour is an hour later.
        assert_eq!(at("America/Chicago", "2027-12-03T05:00:00Z"), "2027-12-03T12:00:00+00:00");
        // Clocks go from two to three on this night.
        let two = When { hour: 2, ..daily };
        let found = next(two, "America/Chicago", "2027-03-14T07:00:00Z");
        assert_eq!(found.as_deref(), Some("2027-03-14T08:00:00+00:00"));
    }

    #[test]
    fn a_weekly_one_keeps_its_day() {
        let weekly = When { digest: Digest::Weekly, hour: 6, weekday: 1 };
        // 2027-05-03 is a Monday.
        let after = next(weekly, "UTC", "2027-05-03T06:00:00Z");
        assert_eq!(after.as_deref(), Some("2027-05-10T06:00:00+00:00"));
        let before = next(weekly, "UTC", "2027-05-01T12:00:00Z");
        assert_eq!(before.as_deref(), Some("2027-05-03T06:00:00+00:00"));
        assert_eq!(next(When::NEVER, "UTC", "2027-05-01T12:00:00Z"), None);
    }
}
