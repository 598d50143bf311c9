//! Who makes a row, when, under which id.

use chrono::{DateTime, Utc};
use uuid::Uuid;

use crate::app::AppState;
use crate::auth::Caller;
use crate::learned::season_of;

/// Who makes a row, when, under which id.
#[derive(Debug, Clone, Copy)]
pub struct Author {
    /// Id of the new row.
    pub id: Uuid,
    /// The time now.
    pub now: DateTime<Utc>,
    /// The season now.
    pub season: u16,
    /// Account of the maker.
    pub account_id: Uuid,
}

impl Author {
    /// The caller, now, with a new id.
    pub fn of<P>(app: &AppState, caller: &Caller<P>) -> Self {
        let now = app.clock.now();
        let season = season_of(&caller.calendar(), now);
        Self { id: app.ids.next(), now, season, account_id: caller.account_id() }
    }
}
