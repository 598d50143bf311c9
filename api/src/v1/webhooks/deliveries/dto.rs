//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use crate::changes::{ChangeType, Recorded};
use crate::entities::deliveries::{DeliveryStatus, Model};
use crate::http::ApiError;
use crate::notices::message_id;

/// A notice on its way to a receiver.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000082",
    "message_id": "01964f1e-6a00-7000-8000-000000000001-1204",
    "test": false,
    "type": "dig_check.recorded",
    "object_id": "01964f1e-6a00-7000-8000-000000000011",
    "position": 1204,
    "status": "waiting",
    "attempts": 1,
    "next_try_at": "2027-04-20T12:00:05Z",
    "last_status": 503,
    "last_error": "The receiver answers with status 503.",
    "created_at": "2027-04-20T12:00:00Z"
})))]
pub struct Delivery {
    /// Id of the delivery.
    pub id: Uuid,
    /// What the receiver gets as `webhook-id`; the same for each try.
    #[schema(example = "01964f1e-6a00-7000-8000-000000000001-1204")]
    pub message_id: String,
    /// Whether it is a test notice; then it tells of no change.
    #[schema(example = false)]
    pub test: bool,
    /// Type of the change.
    #[serde(rename = "type", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub change_type: Option<ChangeType>,
    /// Id of the object that changed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "01964f1e-6a00-7000-8000-000000000011")]
    pub object_id: Option<String>,
    /// Position of the change.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, example = 1204)]
    pub position: Option<i64>,
    /// Where it stands.
    pub status: DeliveryStatus,
    /// How often it was tried.
    #[schema(minimum = 0, maximum = 10, example = 1)]
    pub attempts: i32,
    /// When it is tried next; absent once it arrived or was given up.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub next_try_at: Option<DateTime<Utc>>,
    /// The status that the receiver answered last; absent when there was no answer.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 100, maximum = 999, example = 503)]
    pub last_status: Option<i32>,
    /// Why the last try failed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "The receiver answers with status 503.")]
    pub last_error: Option<String>,
    /// When it was made.
    pub created_at: DateTime<Utc>,
    /// When it arrived, or was given up.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub finished_at: Option<DateTime<Utc>>,
}

impl Delivery {
    /// With the change that it tells of.
    pub(in crate::v1::webhooks) fn of(
        row: Model,
        told: Option<&Recorded>,
    ) -> Result<Self, ApiError> {
        let Model {
            practice_id,
            id,
            webhook_id: _,
            position,
            status,
            attempts,
            due_at,
            last_status,
            last_error,
            created_at,
            finished_at,
        } = row;
        if position.is_some() != told.is_some() {
            return Err(ApiError::internal("a delivery tells of no change"));
        }
        let message_id =
            position.map_or_else(|| format!("test-{id}"), |it| message_id(practice_id, it));
        let waits = status == DeliveryStatus::Waiting;
        Ok(Self {
            id,
            message_id,
            test: position.is_none(),
            change_type: told.map(|it| it.change.change_type),
            object_id: told.map(|it| it.change.object_id.clone()),
            position,
            status,
            attempts,
            next_try_at: waits.then_some(due_at),
            last_status,
            last_error,
            created_at,
            finished_at,
        })
    }
}

/// A page of deliveries.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": [{
    "id": "01964f1e-6a00-7000-8000-000000000082",
    "message_id": "01964f1e-6a00-7000-8000-000000000001-1204",
    "test": false,
    "type": "dig_check.recorded",
    "object_id": "01964f1e-6a00-7000-8000-000000000011",
    "position": 1204,
    "status": "delivered",
    "attempts": 1,
    "last_status": 204,
    "created_at": "2027-04-20T12:00:00Z",
    "finished_at": "2027-04-20T12:00:01Z"
}]})))]
pub struct DeliveryPage {
    /// The deliveries of this page, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<Delivery>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAtV2xJ0cOZLB")]
    pub next_cursor: Option<String>,
}

/// Which deliveries.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct DeliveryFilter {
    /// Only of this status. What arrived is kept for 30 days, what was given up for 90.
    #[serde(default)]
    #[param(nullable = false, inline)]
    pub status: Option<DeliveryStatus>,
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, min_length = 1, max_length = 120)]
    pub cursor: Option<String>,
}
