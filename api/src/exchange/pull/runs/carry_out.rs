//! One run, from its row to its end.

use std::collections::HashSet;

use chrono::{DateTime, Utc};
use sea_orm::sea_query::Expr;
use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter};
use serde::Serialize;
use serde_json::Value;

use super::lease::{End, Held, MOST_ATTEMPTS};
use super::outcome::{self, Came, Missing};
use crate::app::AppState;
use crate::auth::permission::Permission;
use crate::auth::{CanConnect, Scope};
use crate::db;
use crate::entities::records_runs::{Mode, Status};
use crate::entities::{accounts, practices, records_links};
use crate::exchange::intake::{self, Beside, By, Incoming, Kind, Plan, Source, System};
use crate::exchange::pull::bounds::{Bounds, RUN_RECORDS, RUN_TIME};
use crate::exchange::pull::fetch::Fetcher;
use crate::exchange::pull::gather::{Asked, Gathered, Gatherer, StopAt, Watch};
use crate::exchange::pull::profile::Profile;
use crate::exchange::pull::remembered::{KnownResource, Remembered};
use crate::exchange::pull::stop::{Stop, StopCode};
use crate::http::{ApiError, ProblemCode};
use crate::v1::practice::SeasonCalendar;
use crate::v1::records_links::dto::{RecordsCounts, RecordsNote, RecordsStop, StoredReport};
use crate::v1::records_links::opened::{Opened, opened};
use crate::writes::Actor;

/// How often it is planned anew, where somebody changed something meanwhile.
const PLANNED_AGAIN: u8 = 3;
/// How the trail names what a run does.
const OPERATION: &str = "run_records_link";

/// What a run needs to know.
struct Ready {
    link: records_links::Model,
    profile: Profile,
    source: Source,
    by: By,
    remembered: Remembered,
}

/// Why a run ended before its end.
enum Ended {
    /// For a reason that people are told.
    Stopped(RecordsStop),
    /// By a fault of ours.
    Fault(ApiError),
}

impl From<ApiError> for Ended {
    fn from(error: ApiError) -> Self {
        Self::Fault(error)
    }
}

impl From<sea_orm::DbErr> for Ended {
    fn from(error: sea_orm::DbErr) -> Self {
        Self::Fault(error.into())
    }
}

impl From<StopAt> for Ended {
    fn from(at: StopAt) -> Self {
        let StopAt { kind, page, stop: Stop { code, detail } } = at;
        Self::Stopped(RecordsStop { code, kind: Some(kind), page: Some(page), detail })
    }
}

impl From<Stop> for Ended {
    fn from(stop: Stop) -> Self {
        let Stop { code, detail } = stop;
        Self::Stopped(RecordsStop { code, kind: None, page: None, detail })
    }
}

/// Carries a run out and ends its row.
pub(super) async fn carry_out(app: &AppState, held: &Held) -> Result<(), ApiError> {
    let mut progress = Progress { app, held, came: (0, 0) };
    let ended = match Box::pin(work(app, held, &mut progress)).await {
        Ok(()) => return Ok(()),
        Err(Ended::Stopped(stopped)) => stopped,
        Err(Ended::Fault(error)) => {
            tracing::warn!(run = %held.run.id, cause = error.chain(), "a run failed");
            let detail = "A fault on our side; the log of the service says more.".to_owned();
            RecordsStop { code: StopCode::Fault, kind: None, page: None, detail }
        }
    };
    let report = StoredReport { stopped: Some(ended), ..StoredReport::default() };
    let end = End { status: Status::Failed, counts: None, report: json(&report)? };
    held.end(&app.db, app.clock.now(), end, progress.came).await?;
    Ok(())
}

async fn work(app: &AppState, held: &Held, progress: &mut Progress<'_>) -> Result<(), Ended> {
    if held.run.attempts > MOST_ATTEMPTS {
        let detail = "The service ended in the middle of it, each time it was begun.";
        return Err(Stop::new(StopCode::Fault, detail).into());
    }
    let began_at = app.clock.now();
    let ready = ready(app, held).await?;
    let gathered = gather(app, held, &ready, progress).await?;
    let taken = Taken::of(gathered, began_at);
    let scope = Scope::of_practice(held.run.practice_id);
    let mut again = PLANNED_AGAIN;
    loop {
        let plan = intake::plan(&app.db, scope, &ready.source, taken.incoming.clone()).await?;
        let done = match held.run.mode {
            Mode::Preview => preview(app, held, &ready, &taken, plan, progress.came).await,
            Mode::Apply => apply(app, held, &ready, &taken, plan, progress.came).await,
        };
        match done {
            Err(Ended::Fault(error)) if error.code() == ProblemCode::Stale && again > 0 => {
                again -= 1;
            }
            done => return done,
        }
    }
}

/// Reads the link, and whether it and whoever asked may still do this.
async fn ready(app: &AppState, held: &Held) -> Result<Ready, Ended> {
    let run = &held.run;
    let gone =
        || Stop::new(StopCode::LinkChanged, "The link or its account is not there any more.");
    let link =
        records_links::Entity::find_by_id((run.practice_id, run.link_id)).one(&app.db).await?;
    let link = link.ok_or_else(gone)?;
    let account =
        accounts::Entity::find_by_id((run.practice_id, run.asked_by)).one(&app.db).await?;
    let account =
        account.filter(|account| account.disabled_at.is_none() && CanConnect::allows(account.role));
    let account = account.ok_or_else(|| {
        let detail = "The account that asked for it, or made the link, may not do this any more.";
        Stop::new(StopCode::LinkChanged, detail)
    })?;
    let practice = practices::Entity::find_by_id(run.practice_id).one(&app.db).await?;
    let practice = practice.ok_or_else(gone)?;
    let today = SeasonCalendar::of(&practice)?.today(app.clock.now());
    let system = System::parse("/system", &link.system).map_err(ApiError::from)?;
    let Opened { profile, secret: _ } = opened(app, &link)??;
    let remembered = link.remembered.clone().map(serde_json::from_value).transpose();
    Ok(Ready {
        profile,
        source: Source { system, today, beside: Beside::Waits },
        by: By {
            actor: Actor::from(&account),
            operation: OPERATION.to_owned(),
            request_id: String::new(),
        },
        remembered: remembered.map_err(ApiError::internal)?.unwrap_or_default(),
        link,
    })
}

async fn gather(
    app: &AppState,
    held: &Held,
    ready: &Ready,
    progress: &mut Progress<'_>,
) -> Result<Vec<Gathered>, Ended> {
    let everything = held.run.everything || held.run.mode == Mode::Preview;
    let asked = if everything { Asked::Everything } else { Asked::SinceLast(&ready.remembered) };
    let Profile { sign_in, .. } = &ready.profile;
    let fetcher = Fetcher::new(&app.outgoing, &*app.clock, sign_in, Bounds::RUN);
    let gatherer = Gatherer::new(&ready.profile, fetcher, RUN_RECORDS);
    let all = tokio::time::timeout(RUN_TIME, gatherer.all(asked, progress)).await;
    let late = |_elapsed| {
        let minutes = RUN_TIME.as_secs() / 60;
        Stop::new(StopCode::TooLong, format!("Not all was fetched within {minutes} minutes."))
    };
    Ok(all.map_err(late)??)
}

/// What was fetched, with the records of all kinds together.
struct Taken {
    incoming: Vec<Incoming>,
    came: Vec<Came>,
    seen: Vec<Seen>,
    resources: Vec<KnownResource>,
}

/// The ids of a kind that came.
struct Seen {
    kind: Kind,
    whole: bool,
    not_modified: bool,
    ids: HashSet<String>,
}

impl Taken {
    fn of(gathered: Vec<Gathered>, began_at: DateTime<Utc>) -> Self {
        let mut taken = Self {
            incoming: Vec::new(),
            came: Vec::new(),
            seen: Vec::new(),
            resources: Vec::new(),
        };
        for resource in gathered {
            taken.came.push(Came::of(&resource));
            taken.resources.push(resource.known(began_at));
            let Gathered { kind, whole, not_modified, .. } = resource;
            taken.seen.push(Seen { kind, whole, not_modified, ids: resource.seen() });
            taken.incoming.extend(resource.incoming);
        }
        taken
    }

    /// What the next run need not fetch: resources of which nothing is left to do.
    fn remembered(&self, counts: &[RecordsCounts]) -> Remembered {
        let is_left = |kind: Kind| {
            let of_kind = counts.iter().filter(|counts| counts.kind == kind);
            of_kind.map(|it| it.refused | it.waiting).any(|left| left > 0)
        };
        let all = self.resources.iter().filter(|resource| !is_left(resource.kind));
        Remembered { resources: all.cloned().collect() }
    }
}

async fn preview(
    app: &AppState,
    held: &Held,
    ready: &Ready,
    taken: &Taken,
    plan: Plan,
    came: (u32, usize),
) -> Result<(), Ended> {
    let mut notes = Vec::new();
    let missing = missing(&app.db, ready, taken, &mut notes).await?;
    let counts = outcome::counts(&plan, &taken.came, &missing);
    let report = outcome::report(&plan, false, notes)?;
    let end = End { status: Status::Done, counts: Some(json(&counts)?), report: json(&report)? };
    held.end(&app.db, app.clock.now(), end, came).await?;
    Ok(())
}

async fn apply(
    app: &AppState,
    held: &Held,
    ready: &Ready,
    taken: &Taken,
    plan: Plan,
    came: (u32, usize),
) -> Result<(), Ended> {
    let tx = db::begin(&app.db).await?;
    let mut notes = Vec::new();
    let missing_now = missing(&tx, ready, taken, &mut notes).await?;
    for seen in taken.seen.iter().filter(|seen| seen.tells_what_is_missing()) {
        let system = &ready.source.system;
        intake::mark_missing(&tx, app, &ready.by, system, seen.kind, &seen.ids).await?;
    }
    // Last, since it counts on in the change feed: whoever holds that counter must not wait for a tie
    // that another write holds while it waits for the counter.
    let plan = intake::apply(&tx, app, &ready.by, plan).await?;
    let counts = outcome::counts(&plan, &taken.came, &missing_now);
    let report = outcome::report(&plan, true, notes)?;
    let end = End { status: Status::Done, counts: Some(json(&counts)?), report: json(&report)? };
    remember(&tx, &ready.link, &taken.remembered(&counts)).await?;
    if !held.end(&tx, app.clock.now(), end, came).await? {
        // Somebody else has the run: nothing of this is kept.
        return Ok(tx.rollback().await?);
    }
    tx.commit().await?;
    app.notices.wake();
    Ok(())
}

impl Seen {
    /// An empty list looks like a fault over there, and not as if all were gone.
    fn tells_what_is_missing(&self) -> bool {
        self.whole && !self.ids.is_empty()
    }
}

/// What is missing of each kind, with notes for people.
async fn missing(
    db: &impl ConnectionTrait,
    ready: &Ready,
    taken: &Taken,
    notes: &mut Vec<RecordsNote>,
) -> Result<Vec<Missing>, Ended> {
    let scope = Scope::of_practice(ready.link.practice_id);
    let mut all = Vec::new();
    for Seen { kind, whole, not_modified, ids } in &taken.seen {
        let kind = *kind;
        if !whole {
            let has_nameless = taken
                .incoming
                .iter()
                .any(|record| record.kind == kind && record.their_id.is_none());
            if has_nameless && !not_modified {
                notes.push(outcome::not_whole(kind));
            }
            continue;
        }
        let gone = intake::missing(db, scope, &ready.source.system, kind, ids).await?;
        if gone.is_empty() {
            continue;
        }
        if ids.is_empty() {
            notes.push(outcome::empty(kind));
            continue;
        }
        let gone: Vec<String> = gone.into_iter().map(|gone| gone.their_id).collect();
        notes.push(outcome::named(kind, &gone));
        all.push(Missing { kind, count: u32::try_from(gone.len()).unwrap_or(u32::MAX) });
    }
    Ok(all)
}

/// Keeps what the next run need not fetch, unless the profile was changed meanwhile.
async fn remember(
    tx: &impl ConnectionTrait,
    link: &records_links::Model,
    remembered: &Remembered,
) -> Result<(), Ended> {
    records_links::Entity::update_many()
        .filter(records_links::Column::PracticeId.eq(link.practice_id))
        .filter(records_links::Column::Id.eq(link.id))
        .filter(records_links::Column::Version.eq(link.version))
        .col_expr(records_links::Column::Remembered, Expr::value(json(remembered)?))
        .exec(tx)
        .await?;
    Ok(())
}

fn json(value: &impl Serialize) -> Result<Value, ApiError> {
    serde_json::to_value(value).map_err(ApiError::internal)
}

/// Says in the row how far the run is.
struct Progress<'a> {
    app: &'a AppState,
    held: &'a Held,
    came: (u32, usize),
}

impl Watch for Progress<'_> {
    async fn came(&mut self, pages: u32, records: usize) -> Result<(), Stop> {
        self.came = (pages, records);
        match self.held.note(&self.app.db, self.came).await {
            Ok(true) => Ok(()),
            Ok(false) => {
                let detail = "The run was taken over by somebody else, or the link was deleted.";
                Err(Stop::new(StopCode::LinkChanged, detail))
            }
            Err(error) => {
                tracing::warn!(cause = error.chain(), "how far a run is, is not noted");
                Ok(())
            }
        }
    }
}
