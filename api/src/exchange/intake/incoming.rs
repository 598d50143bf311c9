//! One record as it came.

use chrono::{DateTime, NaiveDate, Utc};
use sea_orm::{DeriveActiveEnum, EnumIter};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;
use uuid::Uuid;

use super::columns::Place;
use crate::http::BadMember;
use crate::http::quantity::Quantity;
use crate::v1::conditions::Crop;
use crate::v1::fields::Boundary;
use crate::v1::planters::Makeup;
use crate::v1::yields::dto::GrainBasis;

/// What a record is about.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Serialize,
    Deserialize,
    ToSchema,
    EnumIter,
    DeriveActiveEnum,
)]
#[serde(rename_all = "snake_case")]
#[sea_orm(rs_type = "String", db_type = "Text")]
#[schema(as = RecordKind, example = "field")]
pub enum Kind {
    /// A grower.
    #[sea_orm(string_value = "grower")]
    Grower,
    /// A farm of a grower.
    #[sea_orm(string_value = "farm")]
    Farm,
    /// A field of a farm.
    #[sea_orm(string_value = "field")]
    Field,
    /// A planter of a grower.
    #[sea_orm(string_value = "planter")]
    Planter,
    /// What was harvested from a field.
    #[sea_orm(string_value = "yield")]
    Yield,
}

impl Kind {
    /// Every kind, parents before what belongs to them.
    pub const ALL: &'static [Self] =
        &[Self::Grower, Self::Farm, Self::Field, Self::Planter, Self::Yield];

    /// As in "There is no such farm."
    pub const fn word(self) -> &'static str {
        match self {
            Self::Grower => "grower",
            Self::Farm => "farm",
            Self::Field => "field",
            Self::Planter => "planter",
            Self::Yield => "yield",
        }
    }

    /// As in `/v1/farms`.
    pub const fn plural(self) -> &'static str {
        match self {
            Self::Grower => "growers",
            Self::Farm => "farms",
            Self::Field => "fields",
            Self::Planter => "planters",
            Self::Yield => "yields",
        }
    }

    /// The kind of what it belongs to; none of a grower.
    pub const fn parent(self) -> Option<Self> {
        match self {
            Self::Grower => None,
            Self::Farm | Self::Planter => Some(Self::Grower),
            Self::Field => Some(Self::Farm),
            Self::Yield => Some(Self::Field),
        }
    }
}

/// How a record names what it belongs to.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Parent {
    /// By its id in the same records system.
    Theirs(String),
    /// By our id.
    Ours(Uuid),
    /// By its name, where only one has it; capitals and spaces don't matter.
    Named(String),
}

/// A record of a records system.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TheirRef {
    /// What it is about.
    pub kind: Kind,
    /// Their id.
    pub their_id: String,
}

/// What a record says; what is `None` is not spoken of and stays as it is.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Said {
    /// What it belongs to: the grower of a farm or planter, the farm of a field, the field of a yield.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub parent: Option<Parent>,
    /// Name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Telephone number of a grower.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub phone: Option<String>,
    /// E-mail address of a grower.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub email: Option<String>,
    /// Boundary of a field.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub boundary: Option<Boundary>,
    /// Area of a field.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub area: Option<Quantity>,
    /// Rows of a planter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rows: Option<u16>,
    /// Distance between the rows of a planter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub row_spacing: Option<Quantity>,
    /// The whole make-up of a planter, in our form; rows and row spacing are then taken from it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub makeup: Option<Makeup>,
    /// Day of the harvest.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub harvested_on: Option<NaiveDate>,
    /// Crop that was harvested.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub crop: Option<Crop>,
    /// Grain on an area.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub grain: Option<Quantity>,
    /// How much water the grain counts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub basis: Option<GrainBasis>,
    /// Water in the grain.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub moisture: Option<Quantity>,
    /// Area that was harvested.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub harvested_area: Option<Quantity>,
    /// Note.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// One record as it came.
#[derive(Debug, Clone, PartialEq)]
pub struct Incoming {
    /// What it is about.
    pub kind: Kind,
    /// Where it stands.
    pub place: Place,
    /// Their id. A record without one is refused: it could not be known again.
    pub their_id: Option<String>,
    /// Their version of it, kept beside.
    pub their_version: Option<String>,
    /// When they changed it, kept beside.
    pub updated_at: Option<DateTime<Utc>>,
    /// What it says.
    pub said: Said,
    /// What could not even be read, each with its place as `pointer`. The record is refused.
    pub unread: Vec<BadMember>,
}

impl Incoming {
    /// A record that says nothing yet.
    pub fn new(kind: Kind, place: Place) -> Self {
        Self {
            kind,
            place,
            their_id: None,
            their_version: None,
            updated_at: None,
            said: Said::default(),
            unread: Vec::new(),
        }
    }
}
