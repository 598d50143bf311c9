//! Webhooks that tell nobody any more, and notices that were given up.

use std::collections::HashMap;

use chrono::{DateTime, Utc};
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter, QuerySelect};
use uuid::Uuid;

use super::words::count;
use super::{Asking, AttentionKind, AttentionObjectKind, Found, Urgency};
use crate::entities::deliveries::{self, DeliveryStatus};
use crate::entities::webhooks::{Column, Entity, Model, WebhookStatus};
use crate::http::ApiError;
use crate::v1::attention::tends::Connections;

/// How many notices of a webhook were given up, and when the last of them was.
type GivenUp = (i64, DateTime<Utc>);

/// Those of somebody.
pub(super) async fn failed(
    asking: &Asking<'_>,
    whose: Connections,
) -> Result<Vec<Found>, ApiError> {
    let mut webhooks = Entity::find().filter(Column::PracticeId.eq(asking.scope.practice_id));
    if let Connections::MadeBy(account_id) = whose {
        webhooks = webhooks.filter(Column::MadeBy.eq(account_id));
    }
    let webhooks = webhooks.all(asking.db).await?;
    if webhooks.is_empty() {
        return Ok(Vec::new());
    }
    let given_up = given_up(asking).await?;
    let found = webhooks.into_iter().filter_map(|row| {
        let dead = given_up.get(&row.id).copied();
        one(asking, &row, dead)
    });
    Ok(found.collect())
}

async fn given_up(asking: &Asking<'_>) -> Result<HashMap<Uuid, GivenUp>, ApiError> {
    use deliveries::Column as Of;
    let rows: Vec<(Uuid, i64, Option<DateTime<Utc>>)> = deliveries::Entity::find()
        .filter(Of::PracticeId.eq(asking.scope.practice_id))
        .filter(Of::Status.eq(DeliveryStatus::Dead))
        .filter(Of::Position.is_not_null())
        .select_only()
        .column(Of::WebhookId)
        .column_as(Of::Id.count(), "dead")
        .column_as(Of::FinishedAt.max(), "last")
        .group_by(Of::WebhookId)
        .into_tuple()
        .all(asking.db)
        .await?;
    Ok(rows.into_iter().filter_map(|(id, dead, last)| Some((id, (dead, last?)))).collect())
}

fn one(asking: &Asking<'_>, row: &Model, dead: Option<GivenUp>) -> Option<Found> {
    let stopped = (row.status == WebhookStatus::Stopped).then_some(row.updated_at);
    let at = stopped.max(dead.map(|it| it.1))?;
    let name = &row.name;
    let reason = match (stopped, dead) {
        (Some(_), _) => {
            let why = row.stopped_because.as_deref().unwrap_or_default();
            format!("The webhook \"{name}\" is stopped: {why}")
        }
        (None, Some((number, _))) => {
            format!("{} to \"{name}\" did not get through in three days.", count(number, "notice"))
        }
        (None, None) => return None,
    };
    Some(Found {
        kind: AttentionKind::NoticesFailed,
        matter: row.id,
        object: (AttentionObjectKind::Webhook, row.id),
        grower_id: None,
        field_id: None,
        planter_id: None,
        event_at: at,
        from: at,
        due: asking.calendar.today(at),
        urgency: Urgency::Soon,
        reason,
        next: "Ask who runs the receiver, resume the webhook, and have what was given up sent again; or delete it.",
    })
}
