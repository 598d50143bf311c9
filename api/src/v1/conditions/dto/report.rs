//! A stored report, and pages of them.

use chrono::{DateTime, Utc};
use domain::provenance::Coefficients;
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::ConditionsIn;
use crate::entities::conditions_reports;
use crate::http::ApiError;
use crate::v1::conditions::contradiction::{Contradiction, contradictions};
use crate::v1::conditions::store;

/// A conditions report. Never changed; the newest counts.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000021",
    "field_id": "01964f1e-6a00-7000-8000-000000000011",
    "observations": {
        "observed_at": "2027-04-20T11:30:00Z",
        "crop": "corn",
        "texture": "silt_loam",
        "moisture": "moist",
        "read_outside_cover": false,
        "soil_temperature": {"value": 52, "unit": "[degF]"}
    },
    "contradictions": [],
    "created_at": "2027-04-20T11:34:10Z",
    "created_by": "01964f1e-6a00-7000-8000-000000000001"
})))]
pub struct ConditionsReport {
    /// Id of the report.
    pub id: Uuid,
    /// Id of the field.
    pub field_id: Uuid,
    /// What was seen and felt, as it was entered.
    pub observations: ConditionsIn,
    /// Readings that cannot all be true, and which of them a recommendation goes by. Look again
    /// before you plant by it.
    #[schema(max_items = 100)]
    pub contradictions: Vec<Contradiction>,
    /// When the report came in.
    pub created_at: DateTime<Utc>,
    /// Account of whoever sent it.
    pub created_by: Uuid,
}

impl ConditionsReport {
    /// The answer for a row.
    pub(in crate::v1) fn of(
        row: &conditions_reports::Model,
        k: &Coefficients,
    ) -> Result<Self, ApiError> {
        let (_, found) = store::conditions_of(row)?.settled(k);
        Ok(Self {
            id: row.id,
            field_id: row.field_id,
            observations: ConditionsIn::stored(row)?,
            contradictions: contradictions(found),
            created_at: row.created_at,
            created_by: row.created_by,
        })
    }
}

/// A page of conditions reports.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "items": [{
        "id": "01964f1e-6a00-7000-8000-000000000021",
        "field_id": "01964f1e-6a00-7000-8000-000000000011",
        "observations": {
            "observed_at": "2027-04-20T11:30:00Z", "crop": "corn", "read_outside_cover": false
        },
        "contradictions": [],
        "created_at": "2027-04-20T11:34:10Z",
        "created_by": "01964f1e-6a00-7000-8000-000000000001"
    }],
    "next_cursor": "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4"
})))]
pub struct ConditionsPage {
    /// The reports of this page, in the order in which they came in.
    #[schema(max_items = 200)]
    pub items: Vec<ConditionsReport>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
}

/// Which page of the reports of a field.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct ConditionsRequest {
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
}
