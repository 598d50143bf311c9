//! What an account is.

use sea_orm::{DeriveActiveEnum, EnumIter};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What an account is, and so what it may do.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    Serialize,
    Deserialize,
    ToSchema,
    EnumIter,
    DeriveActiveEnum,
    clap::ValueEnum,
)]
#[serde(rename_all = "snake_case")]
#[value(rename_all = "snake_case")]
#[sea_orm(rs_type = "String", db_type = "Text")]
pub enum Role {
    /// Leads the practice: may do everything in it.
    #[sea_orm(string_value = "lead")]
    Lead,
    /// Advises growers: all of the practice, or those assigned to him, as the practice says.
    #[sea_orm(string_value = "advisor")]
    Advisor,
    /// Plants: reads what is his own, confirms recommendations, sends dig checks.
    #[sea_orm(string_value = "grower")]
    Grower,
    /// A farm records system: reads, and keeps growers, farms, fields, planters and calibrations.
    #[sea_orm(string_value = "records_system")]
    RecordsSystem,
    /// Reads.
    #[sea_orm(string_value = "read_only")]
    ReadOnly,
}
