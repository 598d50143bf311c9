//! Indexes for what the attention list asks of records systems: the rows themselves are long.

use sea_orm_migration::prelude::*;

use crate::tenant;

const RUNS: &str = "records_runs";
const MATCHES: &str = "record_matches";
const IDS: &str = "external_ids";
const WAITING: &str = "ix_record_matches_waiting";
const GONE: &str = "ix_external_ids_gone";
/// The newest run of a link that ended in some way.
const OF_RUNS: &[&str] = &["link_id", "status", "id"];
/// All that the list looks at in records that wait.
const OF_MATCHES: &[&str] =
    &["waits_for", "grower_id", "kind", "created_at", "updated_at", "id", "erased_at"];
/// The same of ids that are gone; few are.
const OF_IDS: &[&str] =
    &["grower_id", "gone_since", "id", "kind", "system", "their_id", "object_id"];

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        tenant::create_indexes(manager, RUNS, &[OF_RUNS]).await?;
        manager.create_index(index(WAITING, MATCHES, OF_MATCHES)).await?;
        let mut gone = index(GONE, IDS, OF_IDS);
        gone.and_where(Expr::col("gone_since").is_not_null());
        manager.create_index(gone).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        for (name, table) in [
            (GONE.to_owned(), IDS),
            (WAITING.to_owned(), MATCHES),
            (format!("ix_{RUNS}_{}", OF_RUNS.join("_")), RUNS),
        ] {
            manager.drop_index(Index::drop().name(name).table(table).to_owned()).await?;
        }
        Ok(())
    }
}

fn index(name: &str, table: &'static str, columns: &[&'static str]) -> IndexCreateStatement {
    let mut index = Index::create().name(name).table(table).col("practice_id").to_owned();
    for column in columns {
        index.col(*column);
    }
    index
}
