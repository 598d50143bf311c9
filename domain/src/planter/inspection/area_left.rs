//! How much area a part still does until it is worn out.

use serde::{Deserialize, Serialize};

use super::wear_rate::{Rate, Reading, reads_within};

/// Values that differ by less are the same, m or m².
pub(super) const SAME: f64 = 1e-9;

/// Area until the limit, m², counted from now. Nothing where it never comes at that rate.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct AreaLeft {
    /// If it wears as fast as the readings leave open.
    pub early: Option<f64>,
    /// As the readings say.
    pub likely: Option<f64>,
    /// If it wears as slowly as the readings leave open.
    pub late: Option<f64>,
}

impl AreaLeft {
    /// Worn out now.
    pub const NONE: Self = Self { early: Some(0.0), likely: Some(0.0), late: Some(0.0) };
}

/// Area until a part reaches its limit. `limit` is turned as the reading is; `since` is the area that
/// was planted after the last reading.
///
/// A part that was read at its limit or beyond has nothing left, whatever the rate.
pub fn area_left(last: Reading, limit: f64, rate: Rate, since: f64) -> AreaLeft {
    let room = limit - last.worn;
    if room <= SAME {
        return AreaLeft::NONE;
    }
    let open = reads_within(last.sd);
    let left = |room: f64, rate: f64| {
        (rate > 0.0).then(|| (room.max(0.0) / rate - since.max(0.0)).max(0.0))
    };
    AreaLeft {
        early: left(room - open, rate.high),
        likely: left(room, rate.likely),
        late: left(room + open, rate.low),
    }
}
