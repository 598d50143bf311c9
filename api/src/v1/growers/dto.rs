//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::store::{GrowerChange, NewGrower};
use crate::entities::growers;
use crate::http::page::Total;
use crate::http::patch::present;
use crate::http::{ApiError, Patch, Refused, text};

/// A new grower.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "name": "Miller Brothers",
    "phone": "555 0100",
    "email": "miller@example.org",
    "notes": "Calls back after dark."
})))]
pub struct GrowerIn {
    /// Name, unique in the practice.
    #[schema(
        min_length = 1,
        max_length = 120,
        example = "Miller Brothers",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: String,
    /// Account of the advisor who looks after the grower.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub advisor_id: Option<Uuid>,
    /// Telephone number, as people write it.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 40,
        example = "555 0100",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub phone: Option<String>,
    /// E-mail address; kept in lower case.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        min_length = 3,
        max_length = 254,
        example = "miller@example.org",
        pattern = r"^[^@\s\x00-\x1F\x7F-\x9F]+@[^@\s\x00-\x1F\x7F-\x9F]+$"
    )]
    pub email: Option<String>,
    /// Notes of the advisor.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        max_length = 4000,
        example = "Calls back after dark.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$"
    )]
    pub notes: Option<String>,
}

impl GrowerIn {
    /// The only way from the wire to the store.
    pub(super) fn parse(self) -> Result<NewGrower, ApiError> {
        let Self { name, advisor_id, phone, email, notes } = self;
        let mut refused = Refused::default();
        let name = refused.take(text::name("/name", &name));
        let phone = phone.and_then(|given| refused.take(text::phone("/phone", &given)));
        let email = email.and_then(|given| refused.take(text::email("/email", &given)));
        let notes = notes.and_then(|given| refused.take(text::notes("/notes", &given)));
        let Some(name) = name else {
            return Err(refused.into());
        };
        refused.finish()?;
        Ok(NewGrower { name, advisor_id, phone, email, notes })
    }
}

/// Changes to a grower. What is absent stays; `null` empties.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"phone": "555 0101", "notes": null})))]
pub struct GrowerPatch {
    /// Name, unique in the practice.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 120,
        example = "Miller Brothers",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: Option<String>,
    /// Account of the advisor who looks after the grower.
    #[serde(default)]
    #[schema(value_type = Option<Uuid>)]
    pub advisor_id: Patch<Uuid>,
    /// Telephone number, as people write it.
    #[serde(default)]
    #[schema(value_type = Option<String>, min_length = 1, max_length = 40, example = "555 0100",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$")]
    pub phone: Patch<String>,
    /// E-mail address; kept in lower case.
    #[serde(default)]
    #[schema(value_type = Option<String>, min_length = 3, max_length = 254, example = "miller@example.org",
        pattern = r"^[^@\s\x00-\x1F\x7F-\x9F]+@[^@\s\x00-\x1F\x7F-\x9F]+$")]
    pub email: Patch<String>,
    /// Notes of the advisor.
    #[serde(default)]
    #[schema(value_type = Option<String>, max_length = 4000, example = "Calls back after dark.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$")]
    pub notes: Patch<String>,
}

impl GrowerPatch {
    /// The only way from the wire to the store.
    pub(super) fn parse(self) -> Result<GrowerChange, ApiError> {
        let Self { name, advisor_id, phone, email, notes } = self;
        let mut refused = Refused::default();
        let name = name.and_then(|given| refused.take(text::name("/name", &given)));
        let phone = refused.take(phone.try_map(|given| text::phone("/phone", &given)));
        let email = refused.take(email.try_map(|given| text::email("/email", &given)));
        let notes = refused.take(notes.try_map(|given| text::notes("/notes", &given)));
        let (Some(phone), Some(email), Some(notes)) = (phone, email, notes) else {
            return Err(refused.into());
        };
        refused.finish()?;
        Ok(GrowerChange { name, advisor_id, phone, email, notes })
    }
}

/// A grower.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000002",
    "name": "Miller Brothers",
    "advisor_id": "01964f1e-6a00-7000-8000-000000000001",
    "phone": "555 0100",
    "email": "miller@example.org",
    "notes": "Calls back after dark.",
    "version": 1,
    "created_at": "2027-04-20T12:00:00Z",
    "updated_at": "2027-04-20T12:00:00Z"
})))]
pub struct Grower {
    /// Id of the grower.
    pub id: Uuid,
    /// Name, unique in the practice.
    #[schema(example = "Miller Brothers")]
    pub name: String,
    /// Account of the advisor who looks after the grower.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub advisor_id: Option<Uuid>,
    /// Telephone number.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "555 0100")]
    pub phone: Option<String>,
    /// E-mail address.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "miller@example.org")]
    pub email: Option<String>,
    /// Notes of the advisor.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "Calls back after dark.")]
    pub notes: Option<String>,
    /// Counts the changes; also in the header `ETag`.
    #[schema(minimum = 1, example = 1)]
    pub version: i32,
    /// When the grower was made.
    pub created_at: DateTime<Utc>,
    /// When the grower was last changed.
    pub updated_at: DateTime<Utc>,
}

impl From<growers::Model> for Grower {
    fn from(row: growers::Model) -> Self {
        let growers::Model {
            practice_id: _,
            id,
            name,
            advisor_id,
            phone,
            email,
            notes,
            version,
            created_at,
            updated_at,
        } = row;
        Self { id, name, advisor_id, phone, email, notes, version, created_at, updated_at }
    }
}

/// A page of growers.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "items": [{
        "id": "01964f1e-6a00-7000-8000-000000000002",
        "name": "Miller Brothers",
        "version": 1,
        "created_at": "2027-04-20T12:00:00Z",
        "updated_at": "2027-04-20T12:00:00Z"
    }],
    "next_cursor": "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4"
})))]
pub struct GrowerPage {
    /// The growers of this page, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<Grower>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
    /// How many rows the filters let through; absent unless `count=true` was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total: Option<Total>,
}

/// Which growers.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct GrowerFilter {
    /// Only those whose name begins so; A to Z and a to z are the same.
    #[serde(default)]
    #[param(nullable = false, min_length = 1, max_length = 120, example = "mil")]
    pub name: Option<String>,
    /// Only those this advisor looks after.
    #[serde(default)]
    #[param(nullable = false)]
    pub advisor_id: Option<Uuid>,
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
    /// Only what was made or changed at this time or later, in the order of changes. Ask five
    /// minutes before the time of the walk before: a change may be seen a little late.
    #[serde(default)]
    #[param(nullable = false, example = "2027-04-20T12:00:00Z")]
    pub updated_since: Option<DateTime<Utc>>,
    /// Whether to count the rows that the filters let through.
    #[serde(default)]
    #[param(nullable = false, example = true)]
    pub count: Option<bool>,
}
