//! After many new rows at once the database counts again.

use sea_orm::{ConnectionTrait, DbBackend};

use super::Taking;
use crate::exchange::intake::outcome::{Outcome, PlannedRow};
use crate::http::ApiError;

/// So many new rows mislead who plans by what was there before.
const MANY: usize = 1_000;

/// PostgreSQL chooses its way by what it counted last, and counts on its own only now and then. Until then it
/// takes a table that was just filled for an empty one, and looks through all of it for every few ids of
/// the next listing. SQLite goes by its indexes.
pub(super) async fn count_again(taking: Taking<'_>, rows: &[PlannedRow]) -> Result<(), ApiError> {
    if taking.tx.get_database_backend() != DbBackend::Postgres {
        return Ok(());
    }
    let number = |of: fn(&Outcome) -> bool| rows.iter().filter(|row| of(&row.outcome)).count();
    let made = number(|outcome| *outcome == Outcome::Create);
    let waiting = number(|outcome| matches!(outcome, Outcome::Waits(_)));
    for (new, statement) in [(made, "ANALYZE external_ids"), (waiting, "ANALYZE record_matches")] {
        if new >= MANY {
            taking.tx.execute_unprepared(statement).await?;
        }
    }
    Ok(())
}
