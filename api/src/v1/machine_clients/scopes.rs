//! The scopes of a machine client: names of permissions, kept as one text split by spaces.

use crate::auth::permission::{self, PERMISSIONS};
use crate::auth::role::Role;
use crate::http::BadMember;

/// Checks the scopes that a client of this role shall have; gives them in the order of the table.
pub fn parse(role: Role, given: &[String]) -> Result<String, Vec<BadMember>> {
    let bad: Vec<BadMember> = given
        .iter()
        .enumerate()
        .filter(|(_, name)| !permission::role_allows(role, name))
        .map(|(at, name)| {
            BadMember::new(format!("/scopes/{at}"), "The role of the client does not allow this.")
                .given(name)
                .allowed(names(of_role(role)))
        })
        .collect();
    if given.is_empty() {
        let none = BadMember::new("/scopes", "A client without a scope can do nothing.");
        return Err(vec![none.allowed(names(of_role(role)))]);
    }
    if bad.is_empty() {
        Ok(names(of_role(role).filter(|name| given.iter().any(|given| given == name))))
    } else {
        Err(bad)
    }
}

/// What a token request asks for, if the client has all of it: `None` asks for all.
pub fn narrowed(granted: &str, asked: Option<&str>) -> Option<String> {
    let Some(asked) = asked else {
        return Some(granted.to_owned());
    };
    let asked: Vec<&str> = asked.split(' ').collect();
    let has = |name: &&str| granted.split(' ').any(|one| one == *name);
    asked.iter().all(has).then(|| names(granted.split(' ').filter(|name| asked.contains(name))))
}

/// All that a role allows.
fn of_role(role: Role) -> impl Iterator<Item = &'static str> {
    PERMISSIONS.iter().filter(move |row| row.roles.contains(&role)).map(|row| row.name)
}

fn names<'a>(list: impl Iterator<Item = &'a str>) -> String {
    list.collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::{narrowed, parse};
    use crate::auth::role::Role;

    fn given(names: &[&str]) -> Vec<String> {
        names.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_client_has_no_scope_that_its_role_does_not_allow() {
        let parsed = parse(Role::RecordsSystem, &given(&["keep", "read", "keep"]));
        assert_eq!(parsed.as_deref(), Ok("read keep"));
        let bad = parse(Role::ReadOnly, &given(&["read", "keep", "READ"])).expect_err("refused");
        let pointers: Vec<&str> = bad.iter().map(|member| member.pointer.as_str()).collect();
        assert_eq!(pointers, ["/scopes/1", "/scopes/2"]);
        assert!(parse(Role::ReadOnly, &[]).is_err());
    }

    #[test]
    fn a_token_may_carry_less_and_never_more() {
        assert_eq!(narrowed("read keep", None).as_deref(), Some("read keep"));
        assert_eq!(narrowed("read keep", Some("keep")).as_deref(), Some("keep"));
        assert_eq!(narrowed("read keep", Some("keep read")).as_deref(), Some("read keep"));
        for asked in ["audit", "read audit", "rea", "read  keep", " read", "Read"] {
            assert_eq!(narrowed("read keep", Some(asked)), None, "{asked:?}");
        }
    }
}
