//! What changed since: every list that a records system follows has the time of the last change and
//! an index in that order.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::timestamp_with_time_zone;

use crate::tenant;

const UPDATED_AT: &str = "updated_at";
/// Tables that get the column, and the columns that tell when a row last changed, newest first.
const NEW: &[(&str, &[&str])] = &[
    ("recommendations", &["acknowledged_at", "issued_at", "created_at"]),
    ("adjustments", &["decided_at", "created_at"]),
];
const FOLLOWED: &[&str] =
    &["growers", "farms", "fields", "planters", "recommendations", "adjustments"];
/// Before any row: what stands in the column until the line after fills it.
const LONG_AGO: &str = "1970-01-01T00:00:00+00:00";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        for (table, times) in NEW {
            let column = timestamp_with_time_zone(UPDATED_AT).default(LONG_AGO).to_owned();
            manager.alter_table(Table::alter().table(*table).add_column(column).to_owned()).await?;
            let newest = Func::coalesce(times.iter().map(|time| Expr::col(*time)));
            let fill = Query::update().table(*table).value(UPDATED_AT, newest).to_owned();
            manager.execute(fill).await?;
        }
        for table in FOLLOWED {
            tenant::create_indexes(manager, table, &[&[UPDATED_AT, "id"]]).await?;
        }
        Ok(())
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        for table in FOLLOWED {
            let index = format!("ix_{table}_{UPDATED_AT}_id");
            manager.drop_index(Index::drop().name(index).table(*table).to_owned()).await?;
        }
        for (table, _) in NEW {
            manager
                .alter_table(Table::alter().table(*table).drop_column(UPDATED_AT).to_owned())
                .await?;
        }
        Ok(())
    }
}
