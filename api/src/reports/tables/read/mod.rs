//! Rows from the database, in order of their ids, from one of them on.

mod keep;
mod work;

pub(super) use self::keep::{fields, growers, planters};
pub(super) use self::work::{adjustments, digs, plantings, sheets};

use uuid::Uuid;

use super::Row;

/// A row and its id.
pub(super) type Keyed = (Uuid, Row);
