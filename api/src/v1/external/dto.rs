//! What goes out.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use serde_json::json;
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use crate::entities::external_ids;
use crate::exchange::intake::{IntakeCounts, IntakeReport, Kind, PlannedRow};
use crate::http::page::Total;
use crate::http::patch::present;
use crate::v1::farms::dto::Farm;
use crate::v1::fields::dto::Field;
use crate::v1::growers::dto::Grower;
use crate::v1::planters::dto::Planter;
use crate::v1::yields::dto::Yield;

use super::said::{
    ExternalFarmIn, ExternalFieldIn, ExternalGrowerIn, ExternalPlanterIn, ExternalYieldIn,
    FeatureCollectionType,
};

/// The id that a records system gives to an object of ours.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!(id_example("field", "F-12", 4))))]
pub struct ExternalId {
    /// The records system.
    #[schema(example = "records")]
    pub system: String,
    /// What it is about.
    pub kind: Kind,
    /// Their id.
    #[schema(example = "F-12")]
    pub their_id: String,
    /// Our id of the same.
    pub object_id: Uuid,
    /// The grower whose it is; absent once the grower was deleted.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// Their version of the record, where they said one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "3")]
    pub their_version: Option<String>,
    /// When they changed it, where they said so.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub their_updated_at: Option<DateTime<Utc>>,
    /// When it came first.
    pub first_seen_at: DateTime<Utc>,
    /// When it came last.
    pub last_seen_at: DateTime<Utc>,
    /// Since when it is missing from their listings; absent while it is there. Nothing of ours is deleted
    /// for that.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub gone_since: Option<DateTime<Utc>>,
}

impl From<external_ids::Model> for ExternalId {
    fn from(row: external_ids::Model) -> Self {
        let external_ids::Model {
            practice_id: _,
            id: _,
            system,
            kind,
            their_id,
            object_id,
            grower_id,
            taken: _,
            taken_hash: _,
            their_version,
            their_updated_at,
            first_seen_at,
            last_seen_at,
            gone_since,
            version: _,
        } = row;
        Self {
            system,
            kind,
            their_id,
            object_id,
            grower_id,
            their_version,
            their_updated_at,
            first_seen_at,
            last_seen_at,
            gone_since,
        }
    }
}

/// What became of a record that was put.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum PutOutcome {
    /// An object was made.
    Created,
    /// Our object was changed.
    Changed,
    /// Nothing was to be done.
    Unchanged,
}

macro_rules! answers {
    ($($(#[$doc:meta])* $name:ident { $member:ident: $type:ty = $what:literal, $example:expr })*) => {$(
        $(#[$doc])*
        #[derive(Debug, Serialize, ToSchema)]
        #[schema(examples(json!($example)))]
        pub struct $name {
            /// What became of it; only in the answer of `PUT`.
            #[serde(skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false)]
            pub outcome: Option<PutOutcome>,
            /// Their id, and when it came.
            pub external_id: ExternalId,
            #[doc = $what]
            pub $member: $type,
        }
    )*};
}

answers! {
    /// A grower and the id that a records system gives him.
    ExternalGrower { grower: Grower = "Our grower.", grower_example() }
    /// A farm and the id that a records system gives it.
    ExternalFarm { farm: Farm = "Our farm.", farm_example() }
    /// A field and the id that a records system gives it.
    ExternalField { field: Field = "Our field.", field_example() }
    /// A planter and the id that a records system gives it.
    ExternalPlanter { planter: Planter = "Our planter.", planter_example() }
    /// A yield and the id that a records system gives it.
    ExternalYield { r#yield: Yield = "Our yield.", yield_example() }
}

/// A page of external ids.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": [id_example("field", "F-12", 4)]})))]
pub struct ExternalIdPage {
    /// The ids of this page, those that came first first.
    #[schema(max_items = 200)]
    pub items: Vec<ExternalId>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
    /// How many rows the filters let through; absent unless `count=true` was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total: Option<Total>,
}

/// Which ids of a records system.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct ExternalFilter {
    /// Only of this kind.
    #[serde(default)]
    #[param(nullable = false, inline)]
    pub kind: Option<Kind>,
    /// Only those that are missing from their listings, or only those that are not.
    #[serde(default)]
    #[param(nullable = false, example = false)]
    pub gone: Option<bool>,
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
    /// Whether to count the rows that the filters let through.
    #[serde(default)]
    #[param(nullable = false, example = true)]
    pub count: Option<bool>,
}

/// Whose external ids.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct ExternalIdFilter {
    /// Only of this records system.
    #[serde(default)]
    #[param(
        nullable = false,
        pattern = "^[a-z][a-z0-9-]{1,39}$",
        min_length = 2,
        max_length = 40,
        example = "records"
    )]
    pub system: Option<String>,
    /// Only of this grower and all that is his.
    #[serde(default)]
    #[param(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// Only of this farm.
    #[serde(default)]
    #[param(nullable = false)]
    pub farm_id: Option<Uuid>,
    /// Only of this field.
    #[serde(default)]
    #[param(nullable = false)]
    pub field_id: Option<Uuid>,
    /// Only of this planter.
    #[serde(default)]
    #[param(nullable = false)]
    pub planter_id: Option<Uuid>,
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
}

/// Fields of a batch.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ExternalFieldsIn {
    /// Says that it is a `FeatureCollection`.
    pub r#type: FeatureCollectionType,
    /// The fields, each with its `id`.
    #[schema(max_items = 500)]
    pub features: Vec<ExternalFieldIn>,
}

/// Records of a records system, at most 500 in all. Their order does not matter.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "growers": [{"id": "G-7", "name": "Miller Brothers"}],
    "farms": [{"id": "FARM-1", "grower": "G-7", "name": "Home farm"}],
    "fields": {"type": "FeatureCollection", "features": [{
        "type": "Feature", "id": "F-12", "geometry": null,
        "properties": {"farm": "FARM-1", "name": "North forty"}
    }]}
})))]
pub struct ExternalBatchIn {
    /// Growers, each with its `id`.
    #[serde(default)]
    #[schema(max_items = 500)]
    pub growers: Vec<ExternalGrowerIn>,
    /// Farms, each with its `id`.
    #[serde(default)]
    #[schema(max_items = 500)]
    pub farms: Vec<ExternalFarmIn>,
    /// Fields, as a GeoJSON `FeatureCollection`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub fields: Option<ExternalFieldsIn>,
    /// Planters, each with its `id`.
    #[serde(default)]
    #[schema(max_items = 500)]
    pub planters: Vec<ExternalPlanterIn>,
    /// Yields, each with its `id`.
    #[serde(default)]
    #[schema(max_items = 500)]
    pub yields: Vec<ExternalYieldIn>,
}

/// What is done with a new record that looks like an object of ours.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum LookAlikes {
    /// It waits for a person.
    #[default]
    Wait,
    /// It is made beside the other.
    Create,
}

/// How a batch is taken.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct BatchQuery {
    /// Whether only to say what would become of each record; nothing is stored.
    #[serde(default)]
    #[param(nullable = false, example = true)]
    pub dry_run: Option<bool>,
    /// What is done with new records that look like objects of ours; they wait for a person when absent.
    #[serde(default)]
    #[param(nullable = false, inline)]
    pub look_alikes: Option<LookAlikes>,
}

/// What became of a batch, record by record: growers, farms, fields, planters, yields, each in the order
/// in which they were sent.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "dry_run": false,
    "counts": {
        "created": 1, "changed": 0, "unchanged": 0, "waiting": 0, "conflicts": 0, "refused": 0
    },
    "records": [{
        "place": "/growers/0", "kind": "grower", "their_id": "G-7", "outcome": "created",
        "object_id": "01964f1e-6a00-7000-8000-000000000002",
        "changes": [], "conflicts": [], "candidates": [], "refused": []
    }]
})))]
pub struct ExternalBatch {
    /// Whether nothing was stored.
    #[schema(example = false)]
    pub dry_run: bool,
    /// How many records have each outcome.
    pub counts: IntakeCounts,
    /// What became of each record.
    #[schema(max_items = 500)]
    pub records: Vec<IntakeReport>,
}

impl ExternalBatch {
    /// Of what was planned, and done unless it was a dry run.
    pub(super) fn of(rows: &[PlannedRow], counts: IntakeCounts, dry_run: bool) -> Self {
        let report = |row| {
            let report = IntakeReport::of(row);
            if dry_run { report } else { report.done(row) }
        };
        Self { dry_run, counts, records: rows.iter().map(report).collect() }
    }
}

fn our_id(last: u8) -> String {
    format!("01964f1e-6a00-7000-8000-{last:012}")
}

fn id_example(kind: &str, their_id: &str, last: u8) -> serde_json::Value {
    json!({
        "system": "records",
        "kind": kind,
        "their_id": their_id,
        "object_id": our_id(last),
        "grower_id": our_id(2),
        "first_seen_at": "2027-03-01T08:00:00Z",
        "last_seen_at": "2027-04-20T12:00:00Z"
    })
}

fn example(
    kind: &str,
    (their_id, last): (&str, u8),
    mut object: serde_json::Value,
) -> serde_json::Value {
    if let Some(members) = object.as_object_mut() {
        members.insert("id".to_owned(), json!(our_id(last)));
        members.insert("version".to_owned(), json!(1));
        members.insert("created_at".to_owned(), json!("2027-03-01T08:00:00Z"));
        members.insert("updated_at".to_owned(), json!("2027-03-01T08:00:00Z"));
    }
    let external_id = id_example(kind, their_id, last);
    json!({"outcome": "created", "external_id": external_id, kind: object})
}

fn grower_example() -> serde_json::Value {
    example("grower", ("G-7", 2), json!({"name": "Miller Brothers"}))
}

fn farm_example() -> serde_json::Value {
    example("farm", ("FARM-1", 3), json!({"grower_id": our_id(2), "name": "Home farm"}))
}

fn field_example() -> serde_json::Value {
    example("field", ("F-12", 4), json!({"farm_id": our_id(3), "name": "North forty"}))
}

fn planter_example() -> serde_json::Value {
    let makeup = json!({
        "rows": 8,
        "row_width": {"value": 30, "unit": "[in_i]"},
        "unit": {
            "hopper": {"kind": "central"},
            "opener": {"new_diameter": {"value": 15, "unit": "[in_i]"}},
            "cleaner": "none",
            "closing": "rubber"
        },
        "down_force": {"kind": "weight_only"}
    });
    let planter = json!({"grower_id": our_id(2), "name": "The eight-row", "makeup": makeup});
    example("planter", ("P-3", 5), planter)
}

fn yield_example() -> serde_json::Value {
    let harvested = json!({
        "field_id": our_id(4),
        "harvested_on": "2026-10-12",
        "crop": "corn",
        "grain": {"value": 11_200, "unit": "[lb_av]/[acr_us]"},
        "basis": "at_moisture",
        "moisture": {"value": 18.2, "unit": "%"},
        "dry": {"value": 9161.6, "unit": "[lb_av]/[acr_us]"},
        "created_by": our_id(9)
    });
    example("yield", ("Y-2026-12", 71), harvested)
}
