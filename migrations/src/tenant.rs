//! What every table of a practice shares.
//!
//! The primary key is `(practice_id, id)` and every reference carries `practice_id` with it. So
//! the database itself refuses a row that points into another practice, and the tables can be
//! spread over servers by practice.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::uuid;

/// A table whose rows belong to a practice: `practice_id`, `id`, the key and the reference.
pub(crate) fn table(name: &'static str) -> TableCreateStatement {
    Table::create()
        .table(name)
        .col(uuid("practice_id"))
        .col(uuid("id"))
        .primary_key(
            Index::create().name(format!("pk_{name}")).col("practice_id").col("id").primary(),
        )
        .foreign_key(
            ForeignKey::create()
                .name(format!("fk_{name}_practice_id"))
                .from(name, "practice_id")
                .to("practices", "id"),
        )
        .to_owned()
}

/// A reference from `(practice_id, column)` to `(practice_id, id)` of `parent`.
///
/// Add an index that begins with the same two columns; a test looks for it.
pub(crate) fn reference(
    table: &'static str,
    column: &'static str,
    parent: &'static str,
) -> ForeignKeyCreateStatement {
    ForeignKey::create()
        .name(format!("fk_{table}_{column}"))
        .from(table, ("practice_id", column))
        .to(parent, ("practice_id", "id"))
        .to_owned()
}

/// Makes an index over `practice_id` and `columns` for each entry of `columns_of_indexes`.
pub(crate) async fn create_indexes(
    manager: &SchemaManager<'_>,
    table: &'static str,
    columns_of_indexes: &[&[&'static str]],
) -> Result<(), DbErr> {
    for columns in columns_of_indexes {
        manager.create_index(index(table, "ix", columns)).await?;
    }
    Ok(())
}

/// Makes a unique index over `practice_id` and `columns`.
pub(crate) async fn create_unique(
    manager: &SchemaManager<'_>,
    table: &'static str,
    columns: &[&'static str],
) -> Result<(), DbErr> {
    manager.create_index(index(table, "ux", columns).unique().to_owned()).await
}

fn index(table: &'static str, prefix: &str, columns: &[&'static str]) -> IndexCreateStatement {
    let mut statement = Index::create()
        .name(format!("{prefix}_{table}_{}", columns.join("_")))
        .table(table)
        .col("practice_id")
        .to_owned();
    for column in columns {
        statement.col(*column);
    }
    statement
}

/// A text column that takes only one of `allowed`.
pub(crate) fn one_of(column: &'static str, allowed: &[&'static str]) -> ColumnDef {
    ColumnDef::new(column)
        .text()
        .not_null()
        .check(Expr::col(column).is_in(allowed.iter().copied()))
        .to_owned()
}
