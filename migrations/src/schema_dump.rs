//! The schema of a migrated SQLite database as text, to be committed and compared.

use sea_orm_migration::prelude::*;
use sea_orm_migration::sea_orm::{DbBackend, Statement};

/// Every table and index of the SQLite database `db`, by name, one statement after the other.
pub async fn sqlite_schema<C: ConnectionTrait>(db: &C) -> Result<String, DbErr> {
    let rows = db
        .query_all_raw(Statement::from_string(
            DbBackend::Sqlite,
            "SELECT sql FROM sqlite_master \
             WHERE sql IS NOT NULL AND tbl_name <> 'seaql_migrations' \
             ORDER BY tbl_name, type DESC, name",
        ))
        .await?;
    let mut dump = String::from("-- Generated from the migrations. Do not edit.\n");
    for row in rows {
        let statement: String = row.try_get("", "sql")?;
        dump.push('\n');
        dump.push_str(&one_column_a_line(&statement));
        dump.push_str(";\n");
    }
    Ok(dump)
}

/// Breaks a `CREATE TABLE` at the commas between its columns and constraints.
fn one_column_a_line(statement: &str) -> String {
    if !statement.starts_with("CREATE TABLE") {
        return statement.to_owned();
    }
    let mut text = String::with_capacity(statement.len() + 64);
    let mut depth = 0_u32;
    let mut after_comma = false;
    for letter in statement.chars() {
        if after_comma && letter == ' ' {
            continue;
        }
        after_comma = false;
        match letter {
            '(' => {
                depth += 1;
                text.push(letter);
                if depth == 1 {
                    text.push_str("\n    ");
                    after_comma = true;
                }
            }
            ')' => {
                depth = depth.saturating_sub(1);
                if depth == 0 {
                    text.truncate(text.trim_end().len());
                    text.push('\n');
                }
                text.push(letter);
            }
            ',' if depth == 1 => {
                text.push_str(",\n    ");
                after_comma = true;
            }
            other => text.push(other),
        }
    }
    text
}
