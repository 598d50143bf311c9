//! How one page leads to the next, and how what did not change is passed over.

use chrono::TimeDelta;

use super::parameter;
use crate::exchange::pull::pointer::Pointer;
use crate::exchange::pull::profile::{Changes, Paging};
use crate::http::BadMember;
use crate::v1::records_links::dto::{RecordsChanges, RecordsPaging};

/// Checks how one page leads to the next.
pub(super) fn paging(given: Option<&RecordsPaging>) -> Result<Paging, BadMember> {
    let pointer = |text: &str| {
        let parsed = Pointer::parse(text);
        parsed.map_err(|why| BadMember::new("/paging/pointer", why).given(text.escape_debug()))
    };
    let parameter = |text: &str| parameter("/paging/parameter", text);
    Ok(match given {
        None | Some(RecordsPaging::One {}) => Paging::One,
        Some(RecordsPaging::LinkHeader {}) => Paging::LinkHeader,
        Some(RecordsPaging::Links {}) => Paging::Links,
        Some(RecordsPaging::NextUrl { pointer: at }) => Paging::NextUrl(pointer(at)?),
        Some(RecordsPaging::Cursor { pointer: at, parameter: name }) => {
            Paging::Cursor { pointer: pointer(at)?, parameter: parameter(name)? }
        }
        Some(RecordsPaging::Page { parameter: name, first }) => {
            if *first > 1 {
                let member = BadMember::new("/paging/first", "Pages are counted from 0 or from 1.");
                return Err(member.given(first).allowed("0 or 1"));
            }
            Paging::Page { parameter: parameter(name)?, first: *first }
        }
        Some(RecordsPaging::Offset { parameter: name }) => {
            Paging::Offset { parameter: parameter(name)? }
        }
    })
}

/// Checks how what did not change is passed over.
pub(super) fn changes(given: Option<&RecordsChanges>) -> Result<Changes, BadMember> {
    match given {
        None | Some(RecordsChanges::Full {}) => Ok(Changes::Full),
        Some(RecordsChanges::Etag {}) => Ok(Changes::ETag),
        Some(RecordsChanges::Since { parameter: name, overlap_minutes }) => {
            if *overlap_minutes > 1440 {
                let member = BadMember::new("/changes/overlap_minutes", "More than a day.");
                return Err(member.given(overlap_minutes).allowed("0 to 1440"));
            }
            let parameter = parameter("/changes/parameter", name)?;
            let overlap = TimeDelta::minutes(i64::from(*overlap_minutes));
            Ok(Changes::Since { parameter, overlap })
        }
    }
}
