//! Permissions as types, so that the signature of a handler says who may call it.

use super::role::Role;

/// Something a caller may do.
pub trait Permission: 'static {
    /// The name in the API document.
    const NAME: &'static str;

    /// Whether this role may do it.
    fn allows(role: Role) -> bool;
}

macro_rules! permissions {
    ($($(#[$doc:meta])* $name:ident = $code:literal, $($role:ident)|+;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy)]
        pub enum $name {}

        impl Permission for $name {
            const NAME: &'static str = $code;

            fn allows(role: Role) -> bool {
                matches!(role, $(Role::$role)|+)
            }
        }
    )*};
}

permissions! {
    /// Read what is in the caller's scope.
    CanRead = "read", Lead | Advisor | Grower | RecordsSystem | ReadOnly;
    /// Keep growers, farms, fields and planters; report conditions; recommend; decide.
    CanAdvise = "advise", Lead | Advisor;
    /// Send a dig check.
    CanDig = "dig", Lead | Advisor | Grower;
    /// Confirm that a recommendation was seen.
    CanAcknowledge = "acknowledge", Lead | Advisor | Grower;
}

#[cfg(test)]
mod tests {
    use super::{CanAcknowledge, CanAdvise, CanDig, CanRead, Permission};
    use crate::auth::role::Role;
    use sea_orm::Iterable;

    #[test]
    fn everyone_reads_and_few_write() {
        for role in Role::iter() {
            assert!(CanRead::allows(role));
            let advises = matches!(role, Role::Lead | Role::Advisor);
            assert_eq!(CanAdvise::allows(role), advises);
            assert_eq!(CanDig::allows(role), advises || role == Role::Grower);
            assert_eq!(CanAcknowledge::allows(role), CanDig::allows(role));
        }
    }
}
