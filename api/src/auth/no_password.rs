//! Accounts that nobody signs in to with a password: those of machine clients, and those of growers
//! who come by an access link. They have no address; the column has a made-up one that no mail can
//! reach (RFC 2606), which is never shown.

use uuid::Uuid;

/// What stands for a hash: no password has it.
pub const HASH: &str = "!";

/// The end of a made-up address.
pub const DOMAIN: &str = "@account.invalid";

/// The made-up address of the account of an object.
pub fn address(id: Uuid) -> String {
    format!("{id}{DOMAIN}")
}

/// Whether an address is made up.
pub fn is_made_up(email: &str) -> bool {
    email.ends_with(DOMAIN)
}

#[cfg(test)]
mod tests {
    use super::{address, is_made_up};
    use uuid::Uuid;

    #[test]
    fn a_made_up_address_is_known_as_such() {
        assert!(is_made_up(&address(Uuid::from_u128(1))));
        assert!(!is_made_up("ann@example.org"));
    }
}
