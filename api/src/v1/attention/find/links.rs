//! Links to records systems over which nothing comes any more.

use std::collections::HashMap;

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::sea_query::{Expr, ExprTrait, Func, Order, Query, SelectStatement};
use sea_orm::{
    ActiveEnum, ColumnTrait, ConnectionTrait, EntityTrait, FromQueryResult, QueryFilter,
};
use uuid::Uuid;

use super::words::day;
use super::{Asking, AttentionKind, AttentionObjectKind, Found, Urgency};
use crate::entities::records_runs::{Column, Entity, Status};
use crate::exchange::pull::stop::StopCode;
use crate::http::ApiError;
use crate::v1::attention::tends::Connections;
use crate::v1::records_links::dto::{RecordsStop, StoredReport};

/// A link that is tried again within so many hours has that chance first.
const TRIED_SOON: i32 = 24;
/// How long a link may fail before it is more than a nuisance.
const LONG: TimeDelta = TimeDelta::days(3);

/// A link whose last runs failed.
#[derive(Debug, FromQueryResult)]
struct Failing {
    id: Uuid,
    name: String,
    run_every_hours: Option<i32>,
    /// Runs that failed since one was done.
    failures: i64,
    since: DateTime<Utc>,
    last_run: Uuid,
}

/// Those of somebody that fail and need him.
pub(super) async fn failing(
    asking: &Asking<'_>,
    whose: Connections,
) -> Result<Vec<Found>, ApiError> {
    let links = links(asking, whose).await?;
    if links.is_empty() {
        return Ok(Vec::new());
    }
    let mut stops = stops(asking, &links).await?;
    let found = links.into_iter().filter_map(|link| {
        let stop = stops.remove(&link.last_run);
        needs_somebody(&link, stop.as_ref()).then(|| one(asking, &link, stop.as_ref()))
    });
    Ok(found.collect())
}

/// One run that failed may have met a bad hour, unless nobody tries again soon.
fn needs_somebody(link: &Failing, stop: Option<&RecordsStop>) -> bool {
    let tried_soon = link.run_every_hours.is_some_and(|hours| hours <= TRIED_SOON);
    link.failures > 1 || !tried_soon || !stop.is_some_and(|stop| may_pass(stop.code))
}

/// Whether it may be over by itself.
fn may_pass(code: StopCode) -> bool {
    match code {
        StopCode::Unreachable
        | StopCode::Busy
        | StopCode::Status
        | StopCode::NotJson
        | StopCode::TooLong
        | StopCode::Fault => true,
        StopCode::AddressRefused
        | StopCode::SignInRefused
        | StopCode::TooLarge
        | StopCode::PageRepeats
        | StopCode::OtherOrigin
        | StopCode::Paging
        | StopCode::LinkChanged => false,
    }
}

fn one(asking: &Asking<'_>, link: &Failing, stop: Option<&RecordsStop>) -> Found {
    let passes = stop.is_some_and(|stop| may_pass(stop.code)) && asking.now < link.since + LONG;
    Found {
        kind: AttentionKind::RecordsLinkFailed,
        matter: link.id,
        object: (AttentionObjectKind::RecordsLink, link.id),
        grower_id: None,
        field_id: None,
        planter_id: None,
        event_at: link.since,
        from: link.since,
        due: asking.calendar.today(link.since),
        urgency: if passes { Urgency::WhenYouCan } else { Urgency::Soon },
        reason: reason(link, stop, &day(asking.calendar.today(link.since))),
        next: next(stop.map(|stop| stop.code)),
    }
}

fn reason(link: &Failing, stop: Option<&RecordsStop>, since: &str) -> String {
    let Failing { name, failures, .. } = link;
    let failed = match failures {
        1 => format!("The last run of \"{name}\" failed on {since}"),
        _ => format!("The last {failures} runs of \"{name}\" failed, the first on {since}"),
    };
    match stop {
        None => format!("{failed}; why is no longer kept."),
        Some(stop) => format!("{failed}: {}.", stop.detail.trim_end_matches('.')),
    }
}

fn next(code: Option<StopCode>) -> &'static str {
    match code {
        Some(StopCode::SignInRefused) => {
            "Enter the key or secret of the link again, or have a new one given out, and ask for a run."
        }
        Some(code) if may_pass(code) => {
            "Test the link; if it fails still, ask who runs the records system. Then ask for a run."
        }
        _ => "Test the link, mend what it says, and ask for a run.",
    }
}

/// The links whose newest runs failed. Ids of runs are in the order in which they were asked for, and
/// of a link one at a time is not finished.
async fn links(asking: &Asking<'_>, whose: Connections) -> Result<Vec<Failing>, ApiError> {
    let same = |one, other| Expr::col(("r", one)).equals(("l", other));
    let since_done = Func::coalesce([newest(Status::Done).into(), Expr::col(("l", "id"))]);
    let mut rows = Query::select()
        .columns([("l", "id"), ("l", "name"), ("l", "run_every_hours")])
        .expr_as(Func::count(Expr::col(("r", "id"))), "failures")
        .expr_as(Func::min(Expr::col(("r", "finished_at"))), "since")
        .expr_as(newest(Status::Failed), "last_run")
        .from_as("records_links", "l")
        .join_as(
            sea_orm::JoinType::InnerJoin,
            "records_runs",
            "r",
            same("practice_id", "practice_id")
                .and(same("link_id", "id"))
                .and(Expr::col(("r", "status")).eq(Status::Failed.to_value())),
        )
        .and_where(Expr::col(("l", "practice_id")).eq(asking.scope.practice_id))
        .and_where(Expr::col(("r", "id")).gt(since_done))
        .group_by_columns([
            ("l", "practice_id"),
            ("l", "id"),
            ("l", "name"),
            ("l", "run_every_hours"),
        ])
        .to_owned();
    if let Connections::MadeBy(account_id) = whose {
        rows.and_where(Expr::col(("l", "created_by")).eq(account_id));
    }
    let rows = asking.db.query_all(&rows).await?;
    Ok(rows.iter().map(|row| Failing::from_query_result(row, "")).collect::<Result<_, _>>()?)
}

/// The newest run of a link that ended so.
fn newest(status: Status) -> SelectStatement {
    let same = |one, other| Expr::col(("n", one)).equals(("l", other));
    Query::select()
        .column(("n", "id"))
        .from_as("records_runs", "n")
        .and_where(same("practice_id", "practice_id"))
        .and_where(same("link_id", "id"))
        .and_where(Expr::col(("n", "status")).eq(status.to_value()))
        .order_by(("n", "id"), Order::Desc)
        .limit(1)
        .to_owned()
}

/// Why the newest run of each of these links ended, by the run; an erasure empties it.
async fn stops(
    asking: &Asking<'_>,
    links: &[Failing],
) -> Result<HashMap<Uuid, RecordsStop>, ApiError> {
    let runs = Entity::find()
        .filter(Column::PracticeId.eq(asking.scope.practice_id))
        .filter(Column::Id.is_in(links.iter().map(|link| link.last_run)));
    let mut stops = HashMap::new();
    for run in runs.all(asking.db).await? {
        let report = run.report.map(serde_json::from_value::<StoredReport>).transpose();
        let stopped = report.map_err(ApiError::internal)?.and_then(|report| report.stopped);
        stops.extend(stopped.map(|stop| (run.id, stop)));
    }
    Ok(stops)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn link(failures: i64, run_every_hours: Option<i32>) -> Failing {
        Failing {
            id: Uuid::nil(),
            name: "County".to_owned(),
            run_every_hours,
            failures,
            since: "2027-05-04T12:00:00Z".parse().expect("a time"),
            last_run: Uuid::nil(),
        }
    }

    fn stop(code: StopCode) -> RecordsStop {
        RecordsStop { code, kind: None, page: None, detail: "It answers 503.".to_owned() }
    }

    #[test]
    fn a_bad_hour_is_let_pass_where_somebody_tries_again() {
        let (busy, refused) = (stop(StopCode::Busy), stop(StopCode::SignInRefused));
        assert!(!needs_somebody(&link(1, Some(24)), Some(&busy)));
        assert!(needs_somebody(&link(2, Some(24)), Some(&busy)), "twice");
        assert!(needs_somebody(&link(1, Some(48)), Some(&busy)), "in two days");
        assert!(needs_somebody(&link(1, None), Some(&busy)), "nobody tries again");
        assert!(needs_somebody(&link(1, Some(1)), Some(&refused)), "a key that is refused");
        assert!(needs_somebody(&link(1, Some(1)), None), "nobody knows why");
    }

    #[test]
    fn the_reason_says_how_often_since_when_and_why() {
        let busy = stop(StopCode::Busy);
        assert_eq!(
            reason(&link(3, None), Some(&busy), "4 May"),
            "The last 3 runs of \"County\" failed, the first on 4 May: It answers 503."
        );
        assert_eq!(
            reason(&link(1, None), None, "4 May"),
            "The last run of \"County\" failed on 4 May; why is no longer kept."
        );
        assert_ne!(next(Some(StopCode::SignInRefused)), next(Some(StopCode::Paging)));
    }
}
