//! Who may do what, as a page: written from the table of permissions and the API document.

use serde_json::Value;

use crate::auth::permission::{Granted, PERMISSIONS, named};
use crate::auth::role::Role;

/// The roles, in the order of the columns.
const ROLES: [(Role, &str); 5] = [
    (Role::Lead, "lead"),
    (Role::Advisor, "advisor"),
    (Role::Grower, "grower"),
    (Role::RecordsSystem, "records_system"),
    (Role::ReadOnly, "read_only"),
];

const HEAD: &str = "\
# Who may do what

Written by `dibble openapi --access openapi/ACCESS.md` from the one table of scopes
(`api/src/auth/permission.rs`) and the API document; a test holds it against both, and another calls
every operation as every role.

A role may do what its scopes allow; an access token may carry fewer of them. Everybody sees his own
practice only. A grower's account sees only what is the grower's, and no drafts. An advisor sees all
growers, or only those assigned to him, as the practice says (`PATCH /v1/practice`). What is not seen is
answered as if it were not there.

";

/// The page.
///
/// # Errors
/// When the document has a form of its own that this does not know.
pub fn page(document: &Value) -> Result<String, String> {
    let mut page = HEAD.to_owned();
    page.push_str("## Scopes\n\n");
    table(&mut page, &["scope", "what it allows"], PERMISSIONS.iter().map(scope_row));
    page.push_str("\n## Operations\n\n");
    let operations = operations(document)?;
    table(&mut page, &["operation", "request", "scope"], operations.into_iter());
    Ok(page)
}

/// Columns of its own, and one for each role.
type Row = (Vec<String>, [bool; 5]);

fn scope_row(row: &Granted) -> Row {
    (vec![format!("`{}`", row.name), row.what.to_owned()], roles_of(row))
}

fn roles_of(row: &Granted) -> [bool; 5] {
    ROLES.map(|(role, _)| row.roles.contains(&role))
}

fn operations(document: &Value) -> Result<Vec<Row>, String> {
    let paths = document.get("paths").and_then(Value::as_object).ok_or("no paths")?;
    let mut rows = Vec::new();
    for (path, item) in paths {
        for (method, operation) in item.as_object().into_iter().flatten() {
            rows.push(operation_row(method, path, operation)?);
        }
    }
    Ok(rows)
}

fn operation_row(method: &str, path: &str, operation: &Value) -> Result<Row, String> {
    let id = operation.get("operationId").and_then(Value::as_str).unwrap_or_default();
    let request = format!("`{} {path}`", method.to_uppercase());
    let (scope, roles) = match operation.pointer("/security/0/bearer/0").and_then(Value::as_str) {
        Some(scope) => {
            let row = named(scope).ok_or_else(|| format!("{id}: {scope} is no scope"))?;
            (format!("`{scope}`"), roles_of(row))
        }
        None => ("none: anyone".to_owned(), [true; 5]),
    };
    Ok((vec![format!("`{id}`"), request, scope], roles))
}

fn table(page: &mut String, own: &[&str], rows: impl Iterator<Item = Row>) {
    let names = ROLES.map(|(_, name)| name);
    line(page, own.iter().chain(&names).map(|name| (*name).to_owned()));
    line(page, own.iter().map(|_| "---").chain(names.map(|_| ":-:")).map(str::to_owned));
    for (cells, roles) in rows {
        line(page, cells.into_iter().chain(roles.map(|may| if may { "✓" } else { "" }.to_owned())));
    }
}

fn line(page: &mut String, cells: impl Iterator<Item = String>) {
    let cells: Vec<String> = cells.collect();
    page.push_str("| ");
    page.push_str(&cells.join(" | "));
    page.push_str(" |\n");
}
