//! Pages of the list: after a place in its order.

use chrono::NaiveDate;
use uuid::Uuid;

use super::gather::Marked;
use super::kinds::{AttentionKind, Urgency};
use crate::http::cursor::{self, Walk};
use crate::http::id::parse_id;
use crate::http::page::{DEFAULT_LIMIT, MOST_LIMIT};
use crate::http::{ApiError, BadMember, Refused};

type Place = (Urgency, NaiveDate, AttentionKind, Uuid);

/// Which page is asked for.
#[derive(Debug, Clone)]
pub(super) struct PageAsked {
    walk: Walk,
    limit: usize,
    after: Option<Place>,
}

impl PageAsked {
    /// Checks limit and cursor.
    pub(super) fn parse(
        walk: Walk,
        limit: Option<u16>,
        cursor: Option<&str>,
    ) -> Result<Self, ApiError> {
        let mut refused = Refused::default();
        let limit = limit.unwrap_or(DEFAULT_LIMIT);
        if !(1..=MOST_LIMIT).contains(&limit) {
            let detail = "A page has at least 1 and at most 200 rows.";
            let allowed = format!("1 to {MOST_LIMIT}");
            refused.add(BadMember::new("?limit", detail).given(limit).allowed(allowed));
        }
        let after = cursor.map(|cursor| place_of(&walk, cursor)).transpose();
        let after = refused.take(after).flatten();
        refused.finish()?;
        Ok(Self { walk, limit: usize::from(limit), after })
    }

    /// The entries of the page, of those in order, and the cursor of the next page.
    pub(super) fn cut(self, list: Vec<Marked>) -> (Vec<Marked>, Option<String>) {
        let beyond = |entry: &Marked| self.after.is_none_or(|after| entry.place() > after);
        let mut rest: Vec<Marked> = list.into_iter().filter(beyond).collect();
        if rest.len() <= self.limit {
            return (rest, None);
        }
        rest.truncate(self.limit);
        let cursor = rest.last().map(|entry| self.walk.seal(write(entry.place()).as_bytes()));
        (rest, cursor)
    }
}

fn place_of(walk: &Walk, cursor: &str) -> Result<Place, BadMember> {
    let place = String::from_utf8(walk.open(cursor)?).ok();
    place.as_deref().and_then(read).ok_or_else(|| cursor::refused(cursor))
}

const URGENCIES: [Urgency; 3] = [Urgency::Now, Urgency::Soon, Urgency::WhenYouCan];

fn write((urgency, due, kind, matter): Place) -> String {
    let rank = URGENCIES.iter().position(|known| *known == urgency).unwrap_or_default();
    format!("{rank}.{due}.{}.{matter}", kind.code())
}

fn read(text: &str) -> Option<Place> {
    let mut parts = text.split('.');
    let mut part = || parts.next();
    let urgency = *URGENCIES.get(part()?.parse::<usize>().ok()?)?;
    let due = part()?.parse().ok()?;
    let kind = AttentionKind::named(part()?)?;
    let matter = parse_id(part()?)?;
    part().is_none().then_some((urgency, due, kind, matter))
}

#[cfg(test)]
mod tests {
    use super::{URGENCIES, read, write};
    use crate::http::cursor::{LONGEST, Walk};
    use crate::v1::attention::kinds::AttentionKind;
    use actix_web::test::TestRequest;
    use sea_orm::Iterable;
    use uuid::Uuid;

    #[test]
    fn a_cursor_says_the_place_again_and_fits() {
        let due = "2027-05-04".parse().expect("a day");
        let request = TestRequest::with_uri("/v1/attention").to_http_request();
        let walk = Walk::of(&request, Uuid::nil());
        for urgency in URGENCIES {
            for kind in AttentionKind::iter() {
                let place = (urgency, due, kind, Uuid::from_u128(7));
                assert_eq!(read(&write(place)), Some(place));
                assert!(walk.seal(write(place).as_bytes()).len() <= LONGEST, "{kind:?}");
            }
        }
        for bad in ["", "0", "9.2027-05-04.dig_failed.x", "0.2027-05-04.nothing.x"] {
            assert_eq!(read(bad), None, "{bad}");
        }
    }
}
