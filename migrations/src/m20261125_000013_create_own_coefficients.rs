//! A practice's own figures for coefficients. One row a change, never changed: the newest version
//! of a name is in force, and one without a figure goes back to the standard.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{
    double_null, integer, text, text_null, timestamp_with_time_zone, uuid,
};

use crate::tenant;

const NAME: &str = "own_coefficients";

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager
            .create_table(
                tenant::table(NAME)
                    .col(text("name"))
                    .col(integer("version"))
                    .col(double_null("value"))
                    .col(double_null("low"))
                    .col(double_null("high"))
                    .col(text_null("source"))
                    .col(text_null("note"))
                    .col(timestamp_with_time_zone("set_at"))
                    .col(uuid("set_by"))
                    .check(all_or_none())
                    .foreign_key(&mut tenant::reference(NAME, "set_by", "accounts"))
                    .to_owned(),
            )
            .await?;
        tenant::create_unique(manager, NAME, &["name", "version"]).await?;
        tenant::create_indexes(manager, NAME, &[&["set_by"]]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(NAME).to_owned()).await
    }
}

/// A figure comes with its range and its source, or there is none.
fn all_or_none() -> SimpleExpr {
    let columns = ["value", "low", "high", "source"];
    let all = columns.into_iter().fold(Cond::all(), |all, c| all.add(Expr::col(c).is_not_null()));
    let none = columns.into_iter().fold(Cond::all(), |none, c| none.add(Expr::col(c).is_null()));
    Cond::any().add(all).add(none).into()
}
