//! Whether a dig came before: word for word, with the same readings, or at the same time.
//!
//! A phone without signal sends again until it has an answer. What comes twice is answered with what
//! is there already, so that it is judged once, decided once and learned once.

use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder};
use uuid::Uuid;

use super::observation::DigCheckIn;
use super::series::Series;
use crate::auth::Scope;
use crate::entities::dig_checks::{Column, Model};
use crate::http::ApiError;

/// A dig check of the series that is like the one that comes in.
#[derive(Debug)]
pub(super) enum Alike {
    /// It is the same one.
    Whole(Box<Model>),
    /// It has the same readings, with other words.
    Readings(Uuid),
    /// It has the same time and the same rows, with other readings.
    TimeAndRows(Uuid),
    /// There is none.
    No,
}

/// SHA-256 over the series and all that was found, rows by number: what is sent again has the same
/// one.
pub(super) fn fingerprint(series_id: Uuid, given: &DigCheckIn) -> Result<String, ApiError> {
    crate::v1::fingerprint::of(&(series_id, in_order(given)))
}

/// Looks among the digs of the series that were made at the same time; the most alike wins.
pub(super) async fn alike(
    db: &impl ConnectionTrait,
    scope: Scope,
    series: &Series,
    given: &DigCheckIn,
) -> Result<Alike, ApiError> {
    let same_time = scope
        .dig_checks()
        .filter(Column::RecommendationId.is_in(series.ids()))
        .filter(Column::DugAt.eq(given.dug_at))
        .order_by_asc(Column::Id)
        .all(db)
        .await?;
    let given = in_order(given);
    let mut found = Alike::No;
    for row in same_time {
        let before = in_order(&DigCheckIn::stored(&row)?);
        if before == given {
            return Ok(Alike::Whole(Box::new(row)));
        }
        let readings = before.rows == given.rows && before.settings == given.settings;
        found = match found {
            Alike::No | Alike::TimeAndRows(_) if readings => Alike::Readings(row.id),
            Alike::No if numbers(&before) == numbers(&given) => Alike::TimeAndRows(row.id),
            other => other,
        };
    }
    Ok(found)
}

/// Finds a dig check by its fingerprint.
pub(super) async fn by_fingerprint(
    db: &impl ConnectionTrait,
    scope: Scope,
    fingerprint: &str,
) -> Result<Model, ApiError> {
    let found = scope.dig_checks().filter(Column::Fingerprint.eq(fingerprint)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("dig check"))
}

/// The order of the rows in the list says nothing.
fn in_order(given: &DigCheckIn) -> DigCheckIn {
    let mut sorted = given.clone();
    sorted.rows.sort_by_key(|row| row.row);
    sorted
}

fn numbers(dig: &DigCheckIn) -> Vec<u16> {
    dig.rows.iter().map(|row| row.row).collect()
}

#[cfg(test)]
mod tests {
    use super::fingerprint;
    use crate::v1::dig_checks::observation::DigCheckIn;
    use serde_json::{Value, json};
    use uuid::Uuid;

    fn print(series: u128, body: &Value) -> String {
        let dig: DigCheckIn = serde_json::from_value(body.clone()).expect("a dig");
        fingerprint(Uuid::from_u128(series), &dig).expect("a hash")
    }

    #[test]
    fn the_same_dig_has_the_same_fingerprint_however_it_is_written() {
        let first = json!({"dug_at": "2027-04-20T11:45:00Z", "rows": [
            {"row": 2, "seed_depths": {"unit": "[in_i]", "values": [2.0, 1.5]}},
            {"row": 5, "wall": "crumbly"}
        ]});
        let again = json!({"settings": {}, "rows": [
            {"wall": "crumbly", "row": 5},
            {"seed_depths": {"values": [2, 1.5], "unit": "[in_i]"}, "row": 2}
        ], "dug_at": "2027-04-20T06:45:00-05:00"});
        assert_eq!(print(1, &first), print(1, &again));
        assert_eq!(print(1, &first).len(), 64);
        assert_ne!(print(1, &first), print(2, &first), "of another series");
        for (place, value) in [
            ("/dug_at", json!("2027-04-20T11:45:01Z")),
            ("/rows/0/seed_depths/values/1", json!(1.625)),
            ("/rows/0/seed_depths/unit", json!("cm")),
            ("/rows/1/row", json!(6)),
        ] {
            let mut other = first.clone();
            *other.pointer_mut(place).expect("a member") = value;
            assert_ne!(print(1, &first), print(1, &other), "{place}");
        }
        let mut other = first.clone();
        other["notes"] = json!("Row 5 looks worn.");
        assert_ne!(print(1, &first), print(1, &other), "words count too: none is lost");
    }
}
