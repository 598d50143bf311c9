//! Accounts: the one thing that the service has no operation to make.

use uuid::Uuid;

use super::error::Result;
use super::scenario::people::{PRACTICE, SignIn};
use crate::app::AppState;
use crate::auth::accounts::{self, NewAccount};
use crate::auth::role::Role;
use crate::v1::units::Units;

/// Makes the practice.
pub(super) async fn practice(state: &AppState) -> Result<Uuid> {
    Ok(accounts::practice(&state.db, state.maker(), PRACTICE).await?)
}

/// An account for an advisor of the practice.
pub(super) async fn advisor(
    state: &AppState,
    practice: Uuid,
    name: &str,
    sign_in: SignIn,
) -> Result<()> {
    make(state, practice, account(name, sign_in, Role::Advisor, None)).await
}

/// An account for the records system of a farm office, in the practice that is there.
pub(super) async fn records_system(state: &AppState, name: &str, sign_in: SignIn) -> Result<()> {
    let practice = practice(state).await?;
    make(state, practice, account(name, sign_in, Role::RecordsSystem, None)).await
}

/// An account for a grower, who sees only what is his own.
pub(super) async fn grower(
    state: &AppState,
    practice: Uuid,
    name: &str,
    sign_in: SignIn,
    grower_id: &str,
) -> Result<()> {
    let own = grower_id.parse::<Uuid>().ok();
    make(state, practice, account(name, sign_in, Role::Grower, own)).await
}

fn account(name: &str, sign_in: SignIn, role: Role, grower_id: Option<Uuid>) -> NewAccount {
    NewAccount {
        email: sign_in.email.to_owned(),
        display_name: name.to_owned(),
        role,
        grower_id,
        password: sign_in.password.to_owned(),
        units: Units::Us,
    }
}

async fn make(state: &AppState, practice: Uuid, new: NewAccount) -> Result<()> {
    accounts::create(&state.db, state.maker(), practice, new).await?;
    Ok(())
}
