//! What somebody can see to beside fields and planters: of the rest the list says nothing to them.

use uuid::Uuid;

use crate::auth::permission::Permission;
use crate::auth::role::Role;
use crate::auth::{CanConnect, CanKeep};
use crate::entities::accounts;

/// Links to records systems and webhooks that are somebody's to see to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Connections {
    /// All of the practice.
    All,
    /// Those that this account made.
    MadeBy(Uuid),
}

/// What somebody can see to. By default nothing.
#[derive(Debug, Clone, Copy, Default)]
pub struct Tends {
    /// Failed jobs of the service.
    pub jobs: bool,
    /// What records systems say of growers in scope, where a person must decide.
    pub records: bool,
    /// Links to records systems, and webhooks.
    pub connections: Option<Connections>,
}

impl Tends {
    /// What an account with this role can see to.
    pub fn of(role: Role, account_id: Uuid) -> Self {
        let connections = match role {
            Role::Lead => Connections::All,
            _ => Connections::MadeBy(account_id),
        };
        Self {
            jobs: role == Role::Lead,
            records: CanKeep::allows(role),
            connections: CanConnect::allows(role).then_some(connections),
        }
    }

    /// What an account can see to.
    pub fn of_account(account: &accounts::Model) -> Self {
        Self::of(account.role, account.id)
    }
}

#[cfg(test)]
mod tests {
    use super::{Connections, Tends};
    use crate::auth::role::Role;
    use sea_orm::Iterable;
    use uuid::Uuid;

    #[test]
    fn nobody_is_told_of_what_he_can_not_see_to() {
        let own = Uuid::from_u128(7);
        for role in Role::iter() {
            let tends = Tends::of(role, own);
            let (records, connections) = match role {
                Role::Lead => (true, Some(Connections::All)),
                Role::RecordsSystem => (true, Some(Connections::MadeBy(own))),
                Role::Advisor => (true, None),
                Role::Grower | Role::ReadOnly => (false, None),
            };
            assert_eq!((tends.records, tends.connections), (records, connections), "{role:?}");
            assert_eq!(tends.jobs, role == Role::Lead);
        }
    }
}
