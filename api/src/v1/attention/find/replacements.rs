//! Parts that an inspection found to be replaced, and that nobody has mended since.

use std::collections::{BTreeMap, HashMap};

use sea_orm::{ColumnTrait, QueryFilter, QuerySelect};
use uuid::Uuid;

use super::words::count;
use super::{Asking, AttentionKind, AttentionObjectKind, Found, Urgency, Voice};
use crate::entities::planters::Column;
use crate::http::ApiError;
use crate::v1::inspections::open::{OpenReplacement, replacements};

/// How many parts are named; the rest is counted.
const NAMED: usize = 3;

/// One entry a planter: its parts are mended in one go.
pub(super) async fn open(asking: &Asking<'_>) -> Result<Vec<Found>, ApiError> {
    let mut of_planter: BTreeMap<Uuid, Vec<OpenReplacement>> = BTreeMap::new();
    for part in replacements(asking.db, &asking.scope).await? {
        of_planter.entry(part.planter_id).or_default().push(part);
    }
    if of_planter.is_empty() {
        return Ok(Vec::new());
    }
    let growers = growers_of(asking).await?;
    let found = of_planter.iter().filter_map(|(planter, parts)| {
        let grower = growers.get(planter)?;
        one(asking, *planter, *grower, parts)
    });
    Ok(found.collect())
}

fn one(
    asking: &Asking<'_>,
    planter_id: Uuid,
    grower_id: Uuid,
    parts: &[OpenReplacement],
) -> Option<Found> {
    let newest = parts.iter().max_by_key(|part| (part.since, part.inspection_id))?;
    let begins = asking.limits.planting_begins(&asking.calendar, asking.today);
    let left = (begins - asking.today).num_days();
    let mut named: Vec<&str> = parts.iter().take(NAMED).map(|part| part.words.as_str()).collect();
    let more = parts.len().saturating_sub(NAMED);
    let more = if more > 0 { format!("{more} more") } else { String::new() };
    if !more.is_empty() {
        named.push(&more);
    }
    let when = if left >= 0 {
        format!("planting begins in {}", count(left, "day"))
    } else {
        "planting has begun".to_owned()
    };
    let at = asking.calendar.begins(newest.since);
    Some(Found {
        kind: AttentionKind::ReplacementOpen,
        matter: planter_id,
        object: (AttentionObjectKind::Inspection, newest.inspection_id),
        grower_id: Some(grower_id),
        field_id: None,
        planter_id: Some(planter_id),
        event_at: at,
        from: at,
        due: begins,
        urgency: if left <= 7 { Urgency::Now } else { Urgency::Soon },
        reason: format!("To be replaced: {}; {when}.", named.join("; ")),
        next: match asking.voice {
            Voice::Advisor => "See that it is mended, and have the repair noted.",
            Voice::Grower => "Mend it before the planter goes out, and note the repair.",
        },
    })
}

/// The grower of each planter that is asked for.
async fn growers_of(asking: &Asking<'_>) -> Result<HashMap<Uuid, Uuid>, ApiError> {
    let mut rows = asking.scope.planters();
    if let Some(ids) = asking.grower_ids() {
        rows = rows.filter(Column::GrowerId.in_subquery(ids));
    }
    let rows: Vec<(Uuid, Uuid)> = rows
        .select_only()
        .columns([Column::Id, Column::GrowerId])
        .into_tuple()
        .all(asking.db)
        .await?;
    Ok(rows.into_iter().collect())
}
