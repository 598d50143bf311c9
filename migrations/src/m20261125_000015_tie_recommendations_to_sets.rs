//! Each recommendation says which set of coefficients it was worked out with; those of before this
//! step do not.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::uuid_null;
use sea_orm_migration::sea_orm::DbBackend;

use crate::m20261125_000010_create_recommendations as recommendations;
use crate::tenant;

const NAME: &str = "recommendations";
const COLUMN: &str = "coefficient_set_id";
const PARENT: &str = "coefficient_sets";
const KEPT: &str = "recommendations_kept";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    /// On SQLite too: the table is made anew, and other tables refer to it meanwhile.
    fn use_transaction(&self) -> Option<bool> {
        Some(true)
    }

    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        if manager.get_database_backend() == DbBackend::Sqlite {
            let mut table = recommendations::table();
            table.col(uuid_null(COLUMN)).foreign_key(&mut reference());
            make_anew(manager, table).await?;
        } else {
            let column = Table::alter().table(NAME).add_column(uuid_null(COLUMN)).to_owned();
            manager.alter_table(column).await?;
            manager.create_foreign_key(reference()).await?;
        }
        tenant::create_indexes(manager, NAME, &[&[COLUMN]]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        if manager.get_database_backend() == DbBackend::Sqlite {
            return make_anew(manager, recommendations::table()).await;
        }
        // Its index and its reference go with the column.
        manager.alter_table(Table::alter().table(NAME).drop_column(COLUMN).to_owned()).await
    }
}

fn reference() -> ForeignKeyCreateStatement {
    tenant::reference(NAME, COLUMN, PARENT)
}

/// SQLite adds no reference to a table that is there, and drops no column that has one. So the
/// rows are set aside, the table is dropped and made in its new form, and the rows go back.
///
/// Other tables refer to the rows, so references are only checked when the step is done.
async fn make_anew(manager: &SchemaManager<'_>, table: TableCreateStatement) -> Result<(), DbErr> {
    let before = recommendations::table();
    let columns: Vec<String> = before
        .get_columns()
        .iter()
        .map(|column| format!("\"{}\"", column.get_column_name()))
        .collect();
    let columns = columns.join(", ");
    let db = manager.get_connection();
    db.execute_unprepared("PRAGMA defer_foreign_keys = ON").await?;
    db.execute_unprepared(&format!("CREATE TABLE {KEPT} AS SELECT {columns} FROM {NAME}")).await?;
    manager.drop_table(Table::drop().table(NAME).to_owned()).await?;
    manager.create_table(table).await?;
    recommendations::create_indexes(manager).await?;
    db.execute_unprepared(&format!("INSERT INTO {NAME} ({columns}) SELECT {columns} FROM {KEPT}"))
        .await?;
    manager.drop_table(Table::drop().table(KEPT).to_owned()).await
}
