//! Entries in the database: what was found is kept once, and never changed.

use sea_orm::{ActiveModelTrait, ActiveValue::Set, DatabaseTransaction};
use serde_json::{Value, to_value};

use super::entry::{LostContent, PlantedContent};
use super::parse::Sent;
use super::said;
use super::state::Found;
use crate::app::AppState;
use crate::entities::trial_entries::{self, ActiveModel, Kind};
use crate::http::{ApiError, ProblemCode};
use crate::v1::author::Author;

/// Stores what was sent for a plot; gives whether anything was new.
///
/// # Errors
/// 409 that says what is there, where it is not a correction.
pub(super) async fn keep(
    tx: &DatabaseTransaction,
    app: &AppState,
    by: Author,
    found: &Found,
    sent: &Sent,
) -> Result<bool, ApiError> {
    let rows = rows(app, by, found, sent)?;
    let new = !rows.is_empty();
    for row in rows {
        row.insert(tx).await?;
    }
    Ok(new)
}

fn rows(
    app: &AppState,
    by: Author,
    found: &Found,
    sent: &Sent,
) -> Result<Vec<ActiveModel>, ApiError> {
    let entry = |kind,
                 response: &str,
                 content: serde_json::Result<Value>|
     -> Result<ActiveModel, ApiError> {
        let before = found.last(sent.plot, kind, response);
        Ok(ActiveModel {
            practice_id: Set(found.row.practice_id),
            id: Set(app.ids.next()),
            trial_id: Set(found.id()),
            plot: Set(i32::from(sent.plot)),
            kind: Set(kind),
            response: Set(response.to_owned()),
            revision: Set(before.map_or(1, |it: &trial_entries::Model| it.revision + 1)),
            content: Set(content.map_err(ApiError::internal)?),
            created_at: Set(by.now),
            created_by: Set(by.account_id),
        })
    };
    let mut rows = Vec::new();
    let lost = found.lost(sent.plot)?;
    if let Some(reason) = &sent.lost {
        match &lost {
            Some(there) if there == reason => {}
            Some(there) if !sent.correction => return Err(taken(sent.plot, "a loss", there)),
            _ => {
                let content = LostContent { reason: Some(reason.clone()) };
                rows.push(entry(Kind::Lost, "", to_value(content))?);
            }
        }
    }
    if let Some(treatment) = sent.planted {
        match found.planted(sent.plot)? {
            Some(there) if there == treatment => {}
            Some(there) if !sent.correction => {
                let there = found.design.treatment_name(there);
                return Err(taken(sent.plot, "what was planted", there));
            }
            _ => {
                let content = PlantedContent { treatment, note: sent.note.clone() };
                rows.push(entry(Kind::Planted, "", to_value(content))?);
            }
        }
    }
    for (response, content) in &sent.values {
        match found.values(sent.plot, response)? {
            Some(there) if there.same_as(content) => {}
            Some(there) if !sent.correction => {
                return Err(taken(sent.plot, response, &said::readings(&there)));
            }
            _ => rows.push(entry(Kind::Values, response, to_value(content))?),
        }
    }
    if !sent.values.is_empty()
        && let Some(reason) = &lost
    {
        if !sent.correction {
            return Err(taken(sent.plot, "a loss", reason));
        }
        rows.push(entry(Kind::Lost, "", to_value(LostContent { reason: None }))?);
    }
    Ok(rows)
}

fn taken(plot: u16, what: &str, there: &str) -> ApiError {
    ApiError::new(
        ProblemCode::AlreadyExists,
        format!(
            "Plot {plot} has {what} already: {there}. To take its place, send it with \"correction\": true."
        ),
    )
}
