//! Long lists come in pages, oldest first, by UUIDv7 id: no row is skipped or seen twice.

use actix_web::HttpRequest;
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter, QueryOrder, QuerySelect, Select};
use uuid::Uuid;

use super::id::parse_id;
use super::member::BadMember;

/// Rows of a page when the caller does not say.
pub const DEFAULT_LIMIT: u16 = 50;
/// Most rows of a page.
pub const MOST_LIMIT: u16 = 200;

/// Which page is asked for.
#[derive(Debug, Clone, Copy)]
pub struct PageRequest {
    limit: u16,
    after: Option<Uuid>,
}

impl PageRequest {
    /// Checks `limit` (1 to 200, 50 when absent) and `cursor` (of an earlier page).
    pub fn parse(limit: Option<u16>, cursor: Option<&str>) -> Result<Self, Vec<BadMember>> {
        let mut bad = Vec::new();
        let limit = limit.unwrap_or(DEFAULT_LIMIT);
        if !(1..=MOST_LIMIT).contains(&limit) {
            bad.push(
                BadMember::new("?limit", "A page has at least 1 and at most 200 rows.")
                    .given(limit)
                    .allowed(format!("1 to {MOST_LIMIT}")),
            );
        }
        let after = cursor.and_then(parse_id);
        if cursor.is_some() && after.is_none() {
            bad.push(
                BadMember::new("?cursor", "This is not a cursor of an earlier page.")
                    .given(cursor.unwrap_or_default())
                    .allowed("`next_cursor` of the page before"),
            );
        }
        if bad.is_empty() { Ok(Self { limit, after }) } else { Err(bad) }
    }

    /// Asks for one row more than the page holds, to see whether there is a next page.
    pub fn of<E: EntityTrait>(&self, rows: Select<E>, id: E::Column) -> Select<E> {
        let rows = match self.after {
            Some(after) => rows.filter(id.gt(after)),
            None => rows,
        };
        rows.order_by_asc(id).limit(u64::from(self.limit) + 1)
    }

    /// Splits off the row that is too many; gives the cursor of the next page.
    pub fn cut<T>(&self, mut rows: Vec<T>, id: impl Fn(&T) -> Uuid) -> (Vec<T>, Option<String>) {
        let full = usize::from(self.limit);
        if rows.len() <= full {
            return (rows, None);
        }
        rows.truncate(full);
        let cursor = rows.last().map(|row| id(row).to_string());
        (rows, cursor)
    }
}

/// The address of the next page: this request's, with the cursor exchanged.
pub fn next_address(request: &HttpRequest, cursor: &str) -> String {
    let mut query = form_urlencoded::Serializer::new(String::new());
    for (name, value) in form_urlencoded::parse(request.query_string().as_bytes()) {
        if name != "cursor" {
            query.append_pair(&name, &value);
        }
    }
    query.append_pair("cursor", cursor);
    format!("{}?{}", request.path(), query.finish())
}

#[cfg(test)]
mod tests {
    use super::{PageRequest, next_address};
    use actix_web::test::TestRequest;
    use uuid::Uuid;

    #[test]
    fn limits_outside_the_range_are_refused() {
        assert!(PageRequest::parse(Some(1), None).is_ok());
        assert!(PageRequest::parse(Some(200), None).is_ok());
        assert!(PageRequest::parse(Some(0), None).is_err());
        assert!(PageRequest::parse(Some(201), Some("x")).is_err_and(|bad| bad.len() == 2));
    }

    #[test]
    fn only_a_full_page_has_a_next_one() {
        let page = PageRequest::parse(Some(2), None).expect("valid");
        let id = |n: &u128| Uuid::from_u128(*n);
        assert_eq!(page.cut(vec![1, 2], id), (vec![1, 2], None));
        let (rows, cursor) = page.cut(vec![1, 2, 3], id);
        assert_eq!(rows, [1, 2]);
        assert_eq!(cursor.as_deref(), Some("00000000-0000-0000-0000-000000000002"));
    }

    #[test]
    fn the_next_address_keeps_the_other_parameters() {
        let request =
            TestRequest::with_uri("/v1/farms?grower_id=a%20b&cursor=old&limit=2").to_http_request();
        assert_eq!(next_address(&request, "new"), "/v1/farms?grower_id=a+b&limit=2&cursor=new");
    }
}
