//! The texture class on the wire.

use domain::conditions as domain;
use sea_orm::{DeriveActiveEnum, EnumIter};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

macro_rules! texture_classes {
    ($($(#[$doc:meta])* $variant:ident = $word:tt;)*) => {
        /// Texture class of the topsoil, by the triangle of the USDA.
        #[derive(
            Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema, EnumIter,
            DeriveActiveEnum,
        )]
        #[sea_orm(rs_type = "String", db_type = "Text")]
        pub enum TextureClass {
            $($(#[$doc])* #[serde(rename = $word)] #[sea_orm(string_value = $word)] $variant,)*
        }

        impl From<TextureClass> for domain::TextureClass {
            fn from(class: TextureClass) -> Self {
                match class { $(TextureClass::$variant => Self::$variant,)* }
            }
        }

        impl From<domain::TextureClass> for TextureClass {
            fn from(class: domain::TextureClass) -> Self {
                match class { $(domain::TextureClass::$variant => Self::$variant,)* }
            }
        }
    };
}

texture_classes! {
    /// Sand.
    Sand = "sand";
    /// Loamy sand.
    LoamySand = "loamy_sand";
    /// Sandy loam.
    SandyLoam = "sandy_loam";
    /// Loam.
    Loam = "loam";
    /// Silt loam.
    SiltLoam = "silt_loam";
    /// Silt.
    Silt = "silt";
    /// Sandy clay loam.
    SandyClayLoam = "sandy_clay_loam";
    /// Clay loam.
    ClayLoam = "clay_loam";
    /// Silty clay loam.
    SiltyClayLoam = "silty_clay_loam";
    /// Sandy clay.
    SandyClay = "sandy_clay";
    /// Silty clay.
    SiltyClay = "silty_clay";
    /// Clay.
    Clay = "clay";
}
