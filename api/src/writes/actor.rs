//! Who writes.

use uuid::Uuid;

use crate::auth::Caller;
use crate::auth::role::Role;
use crate::entities::accounts;

/// Who writes, for the audit trail, and whose key it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Actor {
    /// The practice.
    pub practice_id: Uuid,
    /// The account.
    pub account_id: Uuid,
    /// What the account is.
    pub role: Role,
    /// The machine client that acts; `None` for people.
    pub client_id: Option<Uuid>,
}

impl<P> From<&Caller<P>> for Actor {
    fn from(caller: &Caller<P>) -> Self {
        Self {
            practice_id: caller.practice_id(),
            account_id: caller.account_id(),
            role: caller.role(),
            client_id: caller.client_id(),
        }
    }
}

/// Someone who is about to sign in.
impl From<&accounts::Model> for Actor {
    fn from(account: &accounts::Model) -> Self {
        Self {
            practice_id: account.practice_id,
            account_id: account.id,
            role: account.role,
            client_id: None,
        }
    }
}
