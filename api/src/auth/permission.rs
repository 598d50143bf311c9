//! Permissions as types, so that the signature of a handler says who may call it.
//!
//! The table at the end of this file is the only place that says what a role may do. The names are
//! also the scopes of an access token: a token may carry fewer of them than the role of its
//! account, never more.

use super::role::Role;

/// Something a caller may do.
pub trait Permission: 'static {
    /// The name in the API document, and the scope of a token.
    const NAME: &'static str;

    /// Whether this role may do it.
    fn allows(role: Role) -> bool;
}

/// A row of the table of permissions.
#[derive(Debug, Clone, Copy)]
pub struct Granted {
    /// The name: the scope of a token.
    pub name: &'static str,
    /// What may be done, in a sentence.
    pub what: &'static str,
    /// The roles that may do it.
    pub roles: &'static [Role],
}

/// The permission of this name.
pub fn named(name: &str) -> Option<&'static Granted> {
    PERMISSIONS.iter().find(|row| row.name == name)
}

/// Whether a role may do what has this name.
pub fn role_allows(role: Role, name: &str) -> bool {
    named(name).is_some_and(|row| row.roles.contains(&role))
}

macro_rules! permissions {
    ($($type:ident, $name:literal, $($role:ident)|+, $what:literal;)*) => {
        $(
            #[doc = $what]
            #[derive(Debug, Clone, Copy)]
            pub enum $type {}

            impl Permission for $type {
                const NAME: &'static str = $name;

                fn allows(role: Role) -> bool {
                    matches!(role, $(Role::$role)|+)
                }
            }
        )*

        /// Every permission, and the roles that have it.
        pub const PERMISSIONS: &[Granted] = &[
            $(Granted { name: $name, what: $what, roles: &[$(Role::$role),+] },)*
        ];
    };
}

permissions! {
    CanRead, "read", Lead | Advisor | Grower | RecordsSystem | ReadOnly,
        "Read what is in the caller's scope.";
    CanKeep, "keep", Lead | Advisor | RecordsSystem,
        "Keep growers, farms, fields, planters and calibrations.";
    CanAdvise, "advise", Lead | Advisor,
        "Report conditions, recommend, decide on adjustments, set the practice's own figures, give growers access.";
    CanDig, "dig", Lead | Advisor | Grower,
        "Send a dig check.";
    CanReport, "report", Lead | Advisor | Grower | RecordsSystem,
        "Report what was done and found: plantings, temperatures, stands, inspections, plots of a trial.";
    CanConnect, "connect", Lead | RecordsSystem,
        "Connect a records system: its records and ids, links that fetch from it, notices that go to it.";
    CanAcknowledge, "acknowledge", Lead | Advisor | Grower,
        "Confirm that a recommendation was seen.";
    CanManage, "manage", Lead,
        "Manage accounts, machine clients and the settings of the practice; give out and erase what is known of a grower.";
    CanAudit, "audit", Lead,
        "Read who did what and when.";
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::{CanRead, PERMISSIONS, Permission, named, role_allows};
    use crate::auth::role::Role;
    use sea_orm::Iterable;

    #[test]
    fn everyone_reads_and_the_lead_may_do_everything() {
        for role in Role::iter() {
            assert!(CanRead::allows(role) && role_allows(role, "read"));
        }
        assert!(PERMISSIONS.iter().all(|row| row.roles.contains(&Role::Lead)));
    }

    #[test]
    fn who_only_reads_may_do_nothing_else_and_a_machine_never_advises() {
        let of = |role: Role| -> BTreeSet<&str> {
            PERMISSIONS.iter().filter(|row| row.roles.contains(&role)).map(|row| row.name).collect()
        };
        assert_eq!(of(Role::ReadOnly), BTreeSet::from(["read"]));
        assert_eq!(of(Role::RecordsSystem), BTreeSet::from(["read", "keep", "report", "connect"]));
        assert_eq!(of(Role::Grower), BTreeSet::from(["read", "dig", "report", "acknowledge"]));
        assert!(!of(Role::Advisor).contains("manage") && !of(Role::Advisor).contains("audit"));
    }

    #[test]
    fn names_are_unique_and_fit_in_a_scope() {
        let names: BTreeSet<_> = PERMISSIONS.iter().map(|row| row.name).collect();
        assert_eq!(names.len(), PERMISSIONS.len());
        assert!(names.iter().all(|name| name.bytes().all(|b| b.is_ascii_lowercase())));
        assert!(named("everything").is_none() && !role_allows(Role::Lead, "everything"));
    }
}
