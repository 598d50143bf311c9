//! What goes over the wire.

use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};

use super::take::Asked;
use crate::exchange::files::Decimal;
use crate::exchange::intake::{IntakeCounts, IntakeReport, Kind, System};
use crate::http::ApiError;

/// What the lines of a file are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum ImportedKind {
    /// Growers.
    Growers,
    /// Farms.
    Farms,
    /// Fields.
    Fields,
    /// Planters.
    Planters,
    /// Yields of fields.
    Yields,
}

impl From<ImportedKind> for Kind {
    fn from(kind: ImportedKind) -> Self {
        match kind {
            ImportedKind::Growers => Self::Grower,
            ImportedKind::Farms => Self::Farm,
            ImportedKind::Fields => Self::Field,
            ImportedKind::Planters => Self::Planter,
            ImportedKind::Yields => Self::Yield,
        }
    }
}

/// How decimals are written in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum DecimalMark {
    /// `38.5`
    Point,
    /// `38,5`
    Comma,
}

impl From<DecimalMark> for Decimal {
    fn from(mark: DecimalMark) -> Self {
        match mark {
            DecimalMark::Point => Self::Point,
            DecimalMark::Comma => Self::Comma,
        }
    }
}

/// How a CSV file is taken. What is needed is asked for once it is known who calls.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct CsvImport {
    /// The records system whose ids the file has: a short name that you give it.
    #[serde(default)]
    #[param(
        required = true,
        min_length = 2,
        max_length = 40,
        pattern = "^[a-z][a-z0-9-]{1,39}$",
        example = "farm-office"
    )]
    pub system: String,
    /// What its lines are.
    #[serde(default)]
    #[param(required = true, nullable = false, inline, example = "fields")]
    pub kind: Option<ImportedKind>,
    /// How decimals are written; with a point when absent.
    #[serde(default)]
    #[param(nullable = false, inline, example = "point")]
    pub decimal: Option<DecimalMark>,
    /// Only say what would become of each line, and store nothing.
    #[serde(default)]
    #[param(nullable = false, example = true)]
    pub dry_run: Option<bool>,
}

/// How a file of GeoJSON or task data is taken.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct FileImport {
    /// The records system whose ids the file has: a short name that you give it.
    #[serde(default)]
    #[param(
        required = true,
        min_length = 2,
        max_length = 40,
        pattern = "^[a-z][a-z0-9-]{1,39}$",
        example = "farm-office"
    )]
    pub system: String,
    /// Only say what would become of each record, and store nothing.
    #[serde(default)]
    #[param(nullable = false, example = true)]
    pub dry_run: Option<bool>,
}

impl FileImport {
    /// The only way from the wire to what is done.
    pub(super) fn parse(self, operation: &'static str) -> Result<Asked, ApiError> {
        let Self { system, dry_run } = self;
        let system = System::parse("?system", &system)?;
        Ok(Asked { system, dry_run: dry_run.unwrap_or(false), operation })
    }
}

/// What would become of a file, or became of it: how many first, then what somebody must look at.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "dry_run": true,
    "system": "farm-office",
    "counts": {
        "created": 1, "changed": 1, "unchanged": 38, "waiting": 0, "conflicts": 0, "refused": 0
    },
    "encoding": "UTF-8",
    "separator": "semicolon",
    "ignored": ["soil_code"],
    "rows": [{
        "place": "line 12", "kind": "field", "their_id": "F-12", "outcome": "changed",
        "object_id": "01964f1e-6a00-7000-8000-000000000004",
        "changes": [{"member": "name", "from": "North 40", "to": "North forty"}],
        "conflicts": [], "candidates": [], "refused": []
    }]
})))]
pub struct ImportReport {
    /// Whether this only says what would happen.
    #[schema(example = true)]
    pub dry_run: bool,
    /// The records system.
    #[schema(example = "farm-office", max_length = 40)]
    pub system: String,
    /// How many records have each outcome. With any that are refused the file is not taken at all.
    pub counts: IntakeCounts,
    /// The encoding that the file was read as, by its name in the WHATWG Encoding Standard.
    #[schema(example = "UTF-8", max_length = 40)]
    pub encoding: String,
    /// What divides the cells of a CSV file.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub separator: Option<Separator>,
    /// Columns or properties that say nothing here, the first 100.
    #[schema(max_items = 100, example = json!(["soil_code"]))]
    pub ignored: Vec<String>,
    /// The records: first those that are refused, then those that a person must decide on, then what is
    /// changed, then what is made. Those that stay as they are only count.
    #[schema(max_items = 10_000)]
    pub rows: Vec<IntakeReport>,
}

/// What divides the cells of a CSV file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Separator {
    /// `,`
    Comma,
    /// `;`
    Semicolon,
    /// A tab.
    Tab,
}

impl From<char> for Separator {
    fn from(separator: char) -> Self {
        match separator {
            ';' => Self::Semicolon,
            '\t' => Self::Tab,
            _ => Self::Comma,
        }
    }
}

/// A GeoJSON `FeatureCollection` (RFC 7946) of fields.
#[derive(Debug, ToSchema)]
#[schema(examples(json!({
    "type": "FeatureCollection",
    "features": [{
        "type": "Feature",
        "id": "F-12",
        "geometry": {"type": "Polygon", "coordinates": [[
            [-93.62, 42.03], [-93.61, 42.03], [-93.61, 42.04], [-93.62, 42.04], [-93.62, 42.03]
        ]]},
        "properties": {"name": "North forty", "farm_id": "FARM-1"}
    }]
})))]
#[expect(dead_code, reason = "only described: features are read one by one")]
pub struct FieldCollection {
    /// Always `FeatureCollection`.
    #[schema(example = "FeatureCollection", max_length = 40)]
    r#type: String,
    /// The fields. Properties are named like the columns of a CSV file of fields.
    #[schema(max_items = 10_000)]
    features: Vec<FieldFeature>,
}

/// A field as a GeoJSON feature.
#[derive(Debug, ToSchema)]
#[schema(examples(json!({
    "type": "Feature",
    "id": "F-12",
    "geometry": {"type": "Polygon", "coordinates": [[
        [-93.62, 42.03], [-93.61, 42.03], [-93.61, 42.04], [-93.62, 42.04], [-93.62, 42.03]
    ]]},
    "properties": {"name": "North forty", "farm_id": "FARM-1"}
})))]
#[expect(dead_code, reason = "only described: features are read one by one")]
pub struct FieldFeature {
    /// Always `Feature`.
    #[schema(example = "Feature", max_length = 40)]
    r#type: String,
    /// Your id of the field; it may stand in the property `id` instead.
    #[schema(nullable = false, example = "F-12", max_length = 200)]
    id: Option<String>,
    /// The boundary; `null` where there is none.
    geometry: Option<crate::v1::fields::Boundary>,
    /// What else is said of the field: `name`, `farm_id` (your id of the farm) or `farm` (its name),
    /// `area_ac`, `area_ha` or `area_m2`, `version`, `updated_at`. Others are left aside and named.
    #[schema(value_type = Object, example = json!({"name": "North forty", "farm_id": "FARM-1"}))]
    properties: serde_json::Value,
}
