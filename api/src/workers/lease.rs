//! What tells one hold on a row from the next.

use uuid::Uuid;

/// A lease that nobody has had: whoever comes later has another, so that the row says which of them holds it.
pub fn new_lease() -> Uuid {
    Uuid::from_u128(rand::random())
}
