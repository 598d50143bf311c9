//! Rows from the database, in order of their ids, from one of them on.

mod keep;
mod work;

pub(super) use self::keep::{fields, growers, planters};
pub(super) use self::work::{adjustments, digs, plantings, sheets};
pub(crate) use self::work::{dug_in_season, sheets_of_season};

use uuid::Uuid;

use super::Row;

/// A row and its id.
pub(super) type Keyed = (Uuid, Row);
