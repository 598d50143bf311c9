//! Who makes a row, when, under which id.

use chrono::{DateTime, Utc};
use uuid::Uuid;

use crate::app::AppState;
use crate::auth::Caller;

/// Who makes a row, when, under which id.
#[derive(Debug, Clone, Copy)]
pub struct Author {
    /// Id of the new row.
    pub id: Uuid,
    /// The time now.
    pub now: DateTime<Utc>,
    /// Account of the maker.
    pub account_id: Uuid,
}

impl Author {
    /// The caller, now, with a new id.
    pub fn of<P>(app: &AppState, caller: &Caller<P>) -> Self {
        Self { id: app.ids.next(), now: app.clock.now(), account_id: caller.account_id() }
    }
}
