//! What a notice says.

use actix_web::web::Bytes;
use chrono::{DateTime, SecondsFormat, Utc};
use serde::Serialize;
use uuid::Uuid;

use crate::app::AppState;
use crate::changes::Recorded;
use crate::entities::deliveries;
use crate::entities::webhooks::NoticeForm;
use crate::http::ApiError;

/// The type of a test notice.
const TEST: &str = "webhook.tested";

/// The id of a message: the same for each try, for each replay, and for all who are told of the same change.
pub fn message_id(practice_id: Uuid, position: i64) -> String {
    format!("{practice_id}-{position}")
}

/// A message, ready to be signed.
#[derive(Debug)]
pub(super) struct Message {
    pub(super) id: String,
    pub(super) content_type: &'static str,
    pub(super) body: Bytes,
}

/// What is told: of which object, never how it is.
#[derive(Serialize)]
struct Data {
    id: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    position: Option<i64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    version: Option<i32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    grower_id: Option<Uuid>,
    #[serde(skip_serializing_if = "Option::is_none")]
    href: Option<String>,
}

#[derive(Serialize)]
struct Plain {
    r#type: &'static str,
    timestamp: String,
    data: Data,
}

#[derive(Serialize)]
struct CloudEvent<'a> {
    specversion: &'static str,
    id: &'a str,
    source: String,
    r#type: &'static str,
    subject: String,
    time: String,
    datacontenttype: &'static str,
    data: Data,
}

/// Of a change.
pub(super) fn of_change(
    app: &AppState,
    form: NoticeForm,
    practice_id: Uuid,
    told: &Recorded,
) -> Result<Message, ApiError> {
    let change = &told.change;
    let data = Data {
        id: change.object_id.clone(),
        position: Some(told.position),
        version: change.version,
        grower_id: change.grower_id,
        href: change.href().map(|path| app.settings.public_url.of(&path)),
    };
    let id = message_id(practice_id, told.position);
    write(app, form, id, change.change_type.wire(), told.at, data)
}

/// Of nothing, to see whether it arrives.
pub(super) fn of_test(
    app: &AppState,
    form: NoticeForm,
    row: &deliveries::Model,
) -> Result<Message, ApiError> {
    let data = Data {
        id: row.webhook_id.to_string(),
        position: None,
        version: None,
        grower_id: None,
        href: Some(app.settings.public_url.of(&format!("/v1/webhooks/{}", row.webhook_id))),
    };
    write(app, form, format!("test-{}", row.id), TEST, row.created_at, data)
}

fn write(
    app: &AppState,
    form: NoticeForm,
    id: String,
    r#type: &'static str,
    at: DateTime<Utc>,
    data: Data,
) -> Result<Message, ApiError> {
    let time = at.to_rfc3339_opts(SecondsFormat::AutoSi, true);
    let (content_type, body) = match form {
        NoticeForm::Plain => {
            ("application/json", serde_json::to_vec(&Plain { r#type, timestamp: time, data }))
        }
        NoticeForm::CloudEvent => {
            let event = CloudEvent {
                specversion: "1.0",
                id: &id,
                source: app.settings.public_url.of("/v1/changes"),
                r#type,
                subject: data.id.clone(),
                time,
                datacontenttype: "application/json",
                data,
            };
            ("application/cloudevents+json", serde_json::to_vec(&event))
        }
    };
    let body = body.map_err(ApiError::internal)?.into();
    Ok(Message { id, content_type, body })
}
