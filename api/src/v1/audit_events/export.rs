//! `GET /v1/audit-events/export`

use actix_web::http::header::{CACHE_CONTROL, CONTENT_DISPOSITION};
use actix_web::web::{Bytes, Data};
use actix_web::{HttpResponse, get};
use futures_util::stream::{Stream, try_unfold};
use sea_orm::{ColumnTrait, QueryFilter, QueryOrder, QuerySelect};
use uuid::Uuid;

use super::dto::{AuditEvent, AuditExportFilter};
use super::store::{Filter, matching};
use crate::app::AppState;
use crate::auth::{Caller, CanAudit, Scope};
use crate::entities::audit_events::Column;
use crate::http::responses::ListErrors;
use crate::http::{ApiError, Query};

/// Rows that are read at once: all that is held in memory, however long the export is.
const AT_ONCE: u64 = 500;

/// Export what was done.
///
/// All of it as JSON lines, oldest first: each line is an `AuditEvent`. What is done while the export
/// runs is not in it.
#[utoipa::path(
    tag = "audit", operation_id = "export_audit_events", security(("bearer" = ["audit"])),
    params(AuditExportFilter),
    responses(
        (status = 200, description = "A line for each event; `AuditEvent` describes it.",
            body = String, content_type = "text/plain"),
        ListErrors,
    ),
)]
#[get("/audit-events/export")]
pub(super) async fn export(
    app: Data<AppState>,
    caller: Caller<CanAudit>,
    query: Query<AuditExportFilter>,
) -> Result<HttpResponse, ApiError> {
    let filter = query.0.parse(app.clock.now())?;
    let mut reading = Reading { app, scope: caller.scope(), filter, after: Some(Uuid::nil()) };
    // The first lines before the status, so that a database that fails is said in the usual form.
    let first = reading.lines().await?;
    let rest = try_unfold(reading, Reading::more);
    Ok(HttpResponse::Ok()
        .content_type("text/plain; charset=utf-8")
        .insert_header((CACHE_CONTROL, "no-store"))
        .insert_header((CONTENT_DISPOSITION, "attachment; filename=\"audit-events.jsonl\""))
        .streaming(begin_with(first, rest)))
}

/// A walk through the trail.
struct Reading {
    app: Data<AppState>,
    scope: Scope,
    filter: Filter,
    /// The last event that was read; none when there are no more.
    after: Option<Uuid>,
}

impl Reading {
    async fn more(mut self) -> Result<Option<(Bytes, Self)>, ApiError> {
        if self.after.is_none() {
            return Ok(None);
        }
        let lines = self.lines().await?;
        Ok(Some((lines, self)))
    }

    async fn lines(&mut self) -> Result<Bytes, ApiError> {
        let rows = matching(self.scope, &self.filter)
            .filter(Column::Id.gt(self.after.unwrap_or_default()))
            .order_by_asc(Column::Id)
            .limit(AT_ONCE)
            .all(&self.app.db)
            .await?;
        let full = u64::try_from(rows.len()).is_ok_and(|read| read == AT_ONCE);
        self.after = rows.last().map(|row| row.id).filter(|_| full);
        let mut lines = Vec::new();
        for row in rows {
            serde_json::to_writer(&mut lines, &AuditEvent::show(row)?)
                .map_err(ApiError::internal)?;
            lines.push(b'\n');
        }
        Ok(lines.into())
    }
}

fn begin_with(
    first: Bytes,
    rest: impl Stream<Item = Result<Bytes, ApiError>>,
) -> impl Stream<Item = Result<Bytes, ApiError>> {
    use futures_util::StreamExt;
    futures_util::stream::once(std::future::ready(Ok(first))).chain(rest)
}
