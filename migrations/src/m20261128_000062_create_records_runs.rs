//! What was fetched over a connection to a records system, and what came of it.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    boolean, integer, json_binary_null, timestamp_with_time_zone, timestamp_with_time_zone_null,
    uuid, uuid_null,
};

use crate::tenant;

const NAME: &str = "records_runs";
const MODES: &[&str] = &["preview", "apply"];
const STATUSES: &[&str] = &["waiting", "running", "done", "failed"];

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.create_table(runs()).await?;
        tenant::create_indexes(manager, NAME, &[&["link_id", "id"], &["asked_by"]]).await?;
        // Two runs of one link would fetch the same twice: the second finds the first one's row.
        manager
            .create_index(
                Index::create()
                    .name(format!("ux_{NAME}_unfinished"))
                    .table(NAME)
                    .col("practice_id")
                    .col("link_id")
                    .unique()
                    .and_where(Expr::col("finished_at").is_null())
                    .to_owned(),
            )
            .await?;
        // Workers look for what is due in all practices.
        manager
            .create_index(
                Index::create()
                    .name(format!("ix_{NAME}_due"))
                    .table(NAME)
                    .col("due_at")
                    .and_where(Expr::col("finished_at").is_null())
                    .to_owned(),
            )
            .await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}

fn runs() -> TableCreateStatement {
    tenant::table(NAME)
        .col(uuid("link_id"))
        .col(tenant::one_of("mode", MODES))
        .col(boolean("everything"))
        .col(tenant::one_of("status", STATUSES))
        .col(uuid("asked_by"))
        .col(timestamp_with_time_zone("created_at"))
        .col(timestamp_with_time_zone_null("started_at"))
        .col(timestamp_with_time_zone_null("finished_at"))
        .col(timestamp_with_time_zone("due_at"))
        .col(integer("attempts"))
        .col(uuid_null("lease"))
        .col(integer("pages"))
        .col(integer("records"))
        .col(json_binary_null("counts"))
        .col(json_binary_null("report"))
        .foreign_key(&mut tenant::reference(NAME, "link_id", "records_links"))
        .foreign_key(&mut tenant::reference(NAME, "asked_by", "accounts"))
        .to_owned()
}
