//! Long lists come in pages: oldest first, by `UUIDv7` id, or by the time of the last change where
//! the caller asks what changed since. No row is skipped or seen twice while it stays as it is.

use actix_web::HttpRequest;
use chrono::{DateTime, Utc};
use sea_orm::sea_query::{Asterisk, Condition, Expr, ExprTrait, Func, Query, SelectStatement};
use sea_orm::{
    ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QueryOrder, QuerySelect, QueryTrait,
    Select,
};
use serde::Serialize;
use utoipa::ToSchema;
use uuid::Uuid;

use super::cursor::{self, Walk};
use super::error::ApiError;
use super::member::BadMember;

/// Rows of a page when the caller does not say.
pub const DEFAULT_LIMIT: u16 = 50;
/// Most rows of a page.
pub const MOST_LIMIT: u16 = 200;
/// Rows are counted up to here; then it is "at least".
const MOST_COUNTED: u16 = 10_000;

/// What a caller may ask of a list.
#[derive(Debug, Clone, Default)]
pub struct Asked {
    /// Rows of a page.
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    pub cursor: Option<String>,
    /// Only what was made or changed at this time or later, in the order of changes.
    pub updated_since: Option<DateTime<Utc>>,
    /// Whether to count the rows of the whole list.
    pub count: Option<bool>,
}

/// Which page is asked for.
#[derive(Debug, Clone)]
pub struct PageRequest {
    walk: Walk,
    limit: u16,
    order: Order,
    count: bool,
}

/// In which order, and after which place.
#[derive(Debug, Clone, Copy)]
enum Order {
    ById { after: Option<Uuid> },
    ByChange { since: DateTime<Utc>, after: Option<RowPlace> },
}

/// The place of a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RowPlace {
    /// When it was made or last changed.
    pub updated_at: DateTime<Utc>,
    /// Its id.
    pub id: Uuid,
}

/// How many rows a list has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
#[schema(examples(json!({"rows": 312, "exact": true})))]
pub struct Total {
    /// Rows that the filters let through, at most 10000.
    #[schema(minimum = 0, maximum = 10_000, example = 312)]
    pub rows: u16,
    /// Whether there are just as many; otherwise there are more.
    #[schema(example = true)]
    pub exact: bool,
}

/// A page that was read.
#[derive(Debug)]
pub struct Page<T> {
    /// Its rows.
    pub rows: Vec<T>,
    /// Where the next one begins.
    pub next_cursor: Option<String>,
    /// How many rows the list has, if that was asked.
    pub total: Option<Total>,
}

impl PageRequest {
    /// Checks `limit` (1 to 200, 50 when absent) and `cursor` (of an earlier page).
    pub fn parse(
        walk: Walk,
        limit: Option<u16>,
        cursor: Option<&str>,
    ) -> Result<Self, Vec<BadMember>> {
        let cursor = cursor.map(str::to_owned);
        Self::asked(walk, &Asked { limit, cursor, ..Asked::default() })
    }

    /// Checks all that may be asked of a list.
    pub fn asked(walk: Walk, asked: &Asked) -> Result<Self, Vec<BadMember>> {
        let mut bad = Vec::new();
        let limit = limit_of(asked.limit).unwrap_or_else(|member| {
            bad.push(member);
            DEFAULT_LIMIT
        });
        let order = Order::of(&walk, asked).unwrap_or_else(|member| {
            bad.push(member);
            Order::ById { after: None }
        });
        let count = asked.count.unwrap_or(false);
        if bad.is_empty() { Ok(Self { walk, limit, order, count }) } else { Err(bad) }
    }

    /// Asks for one row more than the page holds, to see whether there is a next page.
    pub fn of<E: EntityTrait>(&self, rows: Select<E>, id: E::Column) -> Select<E> {
        let rows = match self.order {
            Order::ById { after: Some(after) } => rows.filter(id.gt(after)),
            Order::ById { after: None } | Order::ByChange { .. } => rows,
        };
        rows.order_by_asc(id).limit(u64::from(self.limit) + 1)
    }

    /// Splits off the row that is too many; gives the cursor of the next page.
    pub fn cut<T>(&self, rows: Vec<T>, id: impl Fn(&T) -> Uuid) -> (Vec<T>, Option<String>) {
        self.cut_at(rows, |row| id(row).as_bytes().to_vec())
    }

    /// Reads the page in the order that was asked for, and counts the list if that was asked.
    pub async fn read<E: EntityTrait>(
        &self,
        db: &impl ConnectionTrait,
        rows: Select<E>,
        (id, updated_at): (E::Column, E::Column),
        place: impl Fn(&E::Model) -> RowPlace,
    ) -> Result<Page<E::Model>, ApiError> {
        let rows = match self.order {
            Order::ById { .. } => rows,
            Order::ByChange { since, .. } => rows.filter(updated_at.gte(since)),
        };
        let total = if self.count { Some(total(db, rows.clone(), id).await?) } else { None };
        let (rows, next_cursor) = match self.order {
            Order::ById { .. } => self.cut(self.of(rows, id).all(db).await?, |row| place(row).id),
            Order::ByChange { after, .. } => {
                let rows = after_change(rows, (id, updated_at), after)
                    .limit(u64::from(self.limit) + 1)
                    .all(db)
                    .await?;
                self.cut_at(rows, |row| place(row).bytes())
            }
        };
        Ok(Page { rows, next_cursor, total })
    }

    fn cut_at<T>(
        &self,
        mut rows: Vec<T>,
        place: impl Fn(&T) -> Vec<u8>,
    ) -> (Vec<T>, Option<String>) {
        let full = usize::from(self.limit);
        if rows.len() <= full {
            return (rows, None);
        }
        rows.truncate(full);
        let cursor = rows.last().map(|row| self.walk.seal(&place(row)));
        (rows, cursor)
    }
}

impl Order {
    fn of(walk: &Walk, asked: &Asked) -> Result<Self, BadMember> {
        let place = asked.cursor.as_deref().map(|cursor| walk.open(cursor)).transpose()?;
        let refused = || cursor::refused(asked.cursor.as_deref().unwrap_or_default());
        match (asked.updated_since, place) {
            (None, None) => Ok(Self::ById { after: None }),
            (None, Some(place)) => {
                let id = Uuid::from_slice(&place).map_err(|_broken| refused())?;
                Ok(Self::ById { after: Some(id) })
            }
            (Some(since), None) => Ok(Self::ByChange { since, after: None }),
            (Some(since), Some(place)) => {
                let after = RowPlace::of_bytes(&place).ok_or_else(refused)?;
                Ok(Self::ByChange { since, after: Some(after) })
            }
        }
    }
}

impl RowPlace {
    fn bytes(self) -> Vec<u8> {
        let time = self.updated_at.timestamp_micros().to_be_bytes();
        [time.as_slice(), self.id.as_bytes()].concat()
    }

    fn of_bytes(bytes: &[u8]) -> Option<Self> {
        let (time, id) = bytes.split_first_chunk()?;
        Some(Self {
            updated_at: DateTime::from_timestamp_micros(i64::from_be_bytes(*time))?,
            id: Uuid::from_slice(id).ok()?,
        })
    }
}

fn after_change<E: EntityTrait>(
    rows: Select<E>,
    (id, updated_at): (E::Column, E::Column),
    after: Option<RowPlace>,
) -> Select<E> {
    let rows = match after {
        Some(RowPlace { updated_at: time, id: last }) => rows.filter(
            Condition::any().add(updated_at.gt(time)).add(updated_at.eq(time).and(id.gt(last))),
        ),
        None => rows,
    };
    rows.order_by_asc(updated_at).order_by_asc(id)
}

/// Counts no further than it must, so that a large list costs no more than a middling one.
async fn total<E: EntityTrait>(
    db: &impl ConnectionTrait,
    rows: Select<E>,
    id: E::Column,
) -> Result<Total, ApiError> {
    let some: SelectStatement =
        rows.select_only().column(id).limit(u64::from(MOST_COUNTED) + 1).into_query();
    let counting = Query::select()
        .expr(Func::count(Expr::col(Asterisk)))
        .from_subquery(some, "counted")
        .to_owned();
    let counted = db.query_one(&counting).await?;
    let rows: i64 = counted.map_or(Ok(0), |row| row.try_get_by_index(0))?;
    let exact = rows <= i64::from(MOST_COUNTED);
    let rows = if exact { u16::try_from(rows).unwrap_or(MOST_COUNTED) } else { MOST_COUNTED };
    Ok(Total { rows, exact })
}

/// Rows of a page: 1 to 200, 50 when absent.
///
/// # Errors
/// When it is another number.
pub fn limit_of(asked: Option<u16>) -> Result<u16, BadMember> {
    let limit = asked.unwrap_or(DEFAULT_LIMIT);
    if (1..=MOST_LIMIT).contains(&limit) {
        return Ok(limit);
    }
    let bad = BadMember::new("?limit", "A page has at least 1 and at most 200 rows.");
    Err(bad.given(limit).allowed(format!("1 to {MOST_LIMIT}")))
}

/// The address of the next page: this request's, with the parameter exchanged that says where a page
/// begins.
pub fn next_address(request: &HttpRequest, parameter: &str, place: &str) -> String {
    let mut query = form_urlencoded::Serializer::new(String::new());
    for (name, value) in form_urlencoded::parse(request.query_string().as_bytes()) {
        if name != parameter {
            query.append_pair(&name, &value);
        }
    }
    query.append_pair(parameter, place);
    format!("{}?{}", request.path(), query.finish())
}

#[cfg(test)]
mod tests {
    use super::{Asked, PageRequest, RowPlace, next_address};
    use crate::http::cursor::Walk;
    use actix_web::test::TestRequest;
    use chrono::DateTime;
    use uuid::Uuid;

    fn walk() -> Walk {
        Walk::of(&TestRequest::with_uri("/v1/farms").to_http_request(), Uuid::nil())
    }

    #[test]
    fn limits_outside_the_range_are_refused() {
        let parse = |limit, cursor| PageRequest::parse(walk(), Some(limit), cursor);
        assert!(parse(1, None).is_ok());
        assert!(parse(200, None).is_ok());
        assert!(parse(0, None).is_err());
        assert!(parse(201, Some("x")).is_err_and(|bad| bad.len() == 2));
    }

    #[test]
    fn only_a_full_page_has_a_next_one() {
        let page = PageRequest::parse(walk(), Some(2), None).expect("valid");
        let id = |n: &u128| Uuid::from_u128(*n);
        assert_eq!(page.cut(vec![1, 2], id), (vec![1, 2], None));
        let (rows, cursor) = page.cut(vec![1, 2, 3], id);
        assert_eq!(rows, [1, 2]);
        let cursor = cursor.expect("a next page");
        assert_eq!(walk().open(&cursor).expect("ours"), Uuid::from_u128(2).as_bytes());
        assert!(PageRequest::parse(walk(), None, Some(&cursor)).is_ok());
    }

    #[test]
    fn a_place_of_one_order_is_none_of_the_other() {
        let (id, updated_at) = (Uuid::from_u128(7), DateTime::UNIX_EPOCH);
        let place = RowPlace { updated_at, id };
        assert_eq!(RowPlace::of_bytes(&place.bytes()), Some(place));
        assert_eq!(RowPlace::of_bytes(id.as_bytes()), None);
        let cursor = Some(walk().seal(id.as_bytes()));
        let asked = Asked { cursor, updated_since: Some(updated_at), ..Asked::default() };
        assert!(PageRequest::asked(walk(), &asked).is_err());
    }

    #[test]
    fn the_next_address_keeps_the_other_parameters() {
        let request =
            TestRequest::with_uri("/v1/farms?grower_id=a%20b&cursor=old&limit=2").to_http_request();
        assert_eq!(
            next_address(&request, "cursor", "new"),
            "/v1/farms?grower_id=a+b&limit=2&cursor=new"
        );
    }
}
