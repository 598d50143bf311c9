//! What a season adds up to: by field behind a planter, and by planter. Kept up to date by every write
//! that changes it, and made anew from the rows at any time.

use sea_orm_migration::prelude::*;
use sea_orm_migration::schema::{integer, text, uuid};

use crate::tenant;

const FIELDS: &str = "season_fields";
const PLANTERS: &str = "season_planters";

const SOILS: &[&str] = &["unknown", "coarse", "medium", "fine"];
const COVERS: &[&str] = &["no_cover", "living", "dead"];

#[derive(Debug, DeriveMigrationName)]
pub(crate) struct Migration;

#[async_trait::async_trait]
impl MigrationTrait for Migration {
    async fn up(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.create_table(fields()).await?;
        tenant::create_indexes(manager, FIELDS, &[&["planter_id"], &["field_id"], &["grower_id"]])
            .await?;
        manager.create_table(planters()).await?;
        tenant::create_indexes(manager, PLANTERS, &[&["planter_id"], &["grower_id"]]).await
    }

    async fn down(&self, manager: &SchemaManager) -> Result<(), DbErr> {
        manager.drop_table(Table::drop().table(PLANTERS).to_owned()).await?;
        manager.drop_table(Table::drop().table(FIELDS).to_owned()).await
    }
}

fn fields() -> TableCreateStatement {
    Table::create()
        .table(FIELDS)
        .col(uuid("practice_id"))
        .col(integer("season"))
        .col(uuid("planter_id"))
        .col(uuid("field_id"))
        .col(uuid("grower_id"))
        .col(tenant::one_of("soil", SOILS))
        .col(tenant::one_of("cover", COVERS))
        .col(text("look"))
        .col(text("sums"))
        .primary_key(key("pk_season_fields").col("field_id"))
        .foreign_key(&mut tenant::reference(FIELDS, "planter_id", "planters"))
        .foreign_key(&mut tenant::reference(FIELDS, "field_id", "fields"))
        .foreign_key(&mut tenant::reference(FIELDS, "grower_id", "growers"))
        .to_owned()
}

fn planters() -> TableCreateStatement {
    Table::create()
        .table(PLANTERS)
        .col(uuid("practice_id"))
        .col(integer("season"))
        .col(uuid("planter_id"))
        .col(uuid("grower_id"))
        .col(text("sums"))
        .primary_key(&mut key("pk_season_planters"))
        .foreign_key(&mut tenant::reference(PLANTERS, "planter_id", "planters"))
        .foreign_key(&mut tenant::reference(PLANTERS, "grower_id", "growers"))
        .to_owned()
}

fn key(name: &'static str) -> IndexCreateStatement {
    Index::create()
        .name(name)
        .col("practice_id")
        .col("season")
        .col("planter_id")
        .primary()
        .to_owned()
}
