//! Whether the session of an access token is still open.

use sea_orm::sea_query::{Expr, Query};
use sea_orm::{ColumnTrait, Condition};
use uuid::Uuid;

use crate::entities::sessions;

/// A condition for the query that finds the account of an access token: the session of the token has not
/// ended. So whoever signed out, or was put out, is out at once, whatever his token says. A token
/// without a session (of a machine client) passes.
pub fn still_open(practice_id: Uuid, account_id: Uuid, session_id: Option<Uuid>) -> Condition {
    let Some(session_id) = session_id else {
        return Condition::all();
    };
    let open = Query::select()
        .expr(Expr::val(1))
        .from(sessions::Entity)
        .and_where(sessions::Column::PracticeId.eq(practice_id))
        .and_where(sessions::Column::Id.eq(session_id))
        .and_where(sessions::Column::AccountId.eq(account_id))
        .and_where(sessions::Column::EndedAt.is_null())
        .to_owned();
    Condition::all().add(Expr::exists(open))
}
