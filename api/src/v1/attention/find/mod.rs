//! Finds what needs somebody, from what is there: nothing of it is stored.
//!
//! Each kind is a file that asks the database for all growers at once, never for one after the
//! other. A finding is given with the moment from which it is on the list, so that a calendar can
//! show it before.

mod calibrations;
mod conditions;
mod digs;
mod digs_failed;
mod digs_overdue;
mod growers;
mod inspections;
mod jobs;
mod links;
mod notices;
mod records_differ;
mod records_gone;
mod records_wait;
mod replacements;
mod sheets;
mod stands;
mod unseen;
mod words;

use chrono::{DateTime, NaiveDate, Utc};
use sea_orm::sea_query::{ExprTrait, SelectStatement};
use sea_orm::{ColumnTrait, DatabaseConnection, QueryFilter, QuerySelect, QueryTrait};
use uuid::Uuid;

use super::kinds::{AttentionKind, AttentionObjectKind, Urgency};
use super::limits::Limits;
use super::tends::Tends;
use crate::app::AppState;
use crate::auth::{Scope, Sees};
use crate::entities::growers as grower_rows;
use crate::http::ApiError;
use crate::v1::practice::SeasonCalendar;

/// Who is told, and so in which words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Voice {
    /// Whoever looks after growers.
    Advisor,
    /// The grower himself.
    Grower,
}

/// What is asked for.
#[derive(Debug, Clone, Copy, Default)]
pub struct Wanted {
    /// Only of this grower.
    pub grower_id: Option<Uuid>,
    /// Only of the growers of this advisor.
    pub advisor_id: Option<Uuid>,
    /// Only this kind.
    pub kind: Option<AttentionKind>,
}

/// What needs somebody.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    /// What it is.
    pub kind: AttentionKind,
    /// What stays the same while it is the same matter: a series, a planter.
    pub matter: Uuid,
    /// The object to look at.
    pub object: (AttentionObjectKind, Uuid),
    /// Whose it is.
    pub grower_id: Option<Uuid>,
    /// In which field.
    pub field_id: Option<Uuid>,
    /// With which planter.
    pub planter_id: Option<Uuid>,
    /// The newest thing that happened to it. What happens after it was put off wakes it.
    pub event_at: DateTime<Utc>,
    /// From when it is on the list.
    pub from: DateTime<Utc>,
    /// By which day it should be done.
    pub due: NaiveDate,
    /// How urgent it is.
    pub urgency: Urgency,
    /// Why, in a sentence.
    pub reason: String,
    /// What to do.
    pub next: &'static str,
}

impl Found {
    /// Its name: kind and matter.
    pub fn key(&self) -> String {
        format!("{}.{}", self.kind.code(), self.matter)
    }
}

/// What every kind needs to look.
#[derive(Debug)]
pub(super) struct Asking<'a> {
    pub db: &'a DatabaseConnection,
    pub scope: Scope,
    pub wanted: Wanted,
    pub voice: Voice,
    pub now: DateTime<Utc>,
    pub today: NaiveDate,
    pub calendar: SeasonCalendar,
    pub limits: Limits,
    /// What beside fields and planters is shown.
    pub tends: Tends,
}

impl<'a> Asking<'a> {
    /// What a scope is asked now.
    ///
    /// # Errors
    /// When the database fails.
    pub(super) async fn of(
        app: &'a AppState,
        scope: Scope,
        wanted: Wanted,
    ) -> Result<Self, ApiError> {
        let (db, now) = (&app.db, app.clock.now());
        let calendar = SeasonCalendar::load(db, scope.practice_id).await?;
        let voice = match scope.sees {
            Sees::Grower(_) => Voice::Grower,
            Sees::Practice | Sees::AdvisedBy(_) => Voice::Advisor,
        };
        Ok(Self {
            db,
            scope,
            wanted,
            voice,
            now,
            today: calendar.today(now),
            calendar,
            limits: Limits::load(db, scope.practice_id).await?,
            tends: Tends::default(),
        })
    }

    /// The ids of the growers that are asked for; `None` of the whole practice needs no look.
    fn grower_ids(&self) -> Option<SelectStatement> {
        let Wanted { grower_id, advisor_id, .. } = self.wanted;
        if self.scope.sees == Sees::Practice && grower_id.is_none() && advisor_id.is_none() {
            return None;
        }
        let mut rows = self.scope.growers();
        if let Some(id) = grower_id {
            rows = rows.filter(grower_rows::Column::Id.eq(id));
        }
        if let Some(id) = advisor_id {
            rows = rows.filter(grower_rows::Column::AdvisorId.eq(id));
        }
        Some(rows.select_only().column(grower_rows::Column::Id).into_query())
    }

    /// Keeps the rows of a statement whose `column` is one of these growers.
    fn of_growers(&self, rows: &mut SelectStatement, column: (&'static str, &'static str)) {
        if let Some(ids) = self.grower_ids() {
            rows.and_where(sea_orm::sea_query::Expr::col(column).in_subquery(ids));
        }
    }

    /// The first moment of the season of today.
    fn season_began(&self) -> DateTime<Utc> {
        self.calendar.span(self.calendar.season_of_day(self.today)).0
    }

    fn wants(&self, kind: AttentionKind) -> bool {
        self.wanted.kind.is_none_or(|wanted| wanted == kind)
    }
}

/// All that is found, in no order.
pub(super) async fn all(asking: &Asking<'_>) -> Result<Vec<Found>, ApiError> {
    use AttentionKind as Kind;
    let mut found = behind_sheets(asking).await?;
    if asking.wants(Kind::StandDue) {
        found.extend(stands::due(asking).await?);
    }
    if asking.wants(Kind::InspectionDue) {
        found.extend(inspections::due(asking).await?);
    }
    if asking.wants(Kind::ReplacementOpen) {
        found.extend(replacements::open(asking).await?);
    }
    found.extend(of_the_office(asking).await?);
    Ok(found)
}

/// What is not done in fields and sheds, for those who can see to it.
async fn of_the_office(asking: &Asking<'_>) -> Result<Vec<Found>, ApiError> {
    use AttentionKind as Kind;
    let mut found = Vec::new();
    let Tends { jobs, records, connections } = asking.tends;
    if asking.wants(Kind::JobFailed) && jobs {
        found.extend(jobs::failed(asking).await?);
    }
    if asking.wants(Kind::RecordsDiffer) && records {
        found.extend(records_differ::undecided(asking).await?);
    }
    if asking.wants(Kind::RecordsWait) && records {
        found.extend(records_wait::undecided(asking).await?);
    }
    if asking.wants(Kind::RecordsGone) && records {
        found.extend(records_gone::missing(asking).await?);
    }
    // Connections belong to no grower.
    let Some(whose) = connections.filter(|_| asking.grower_ids().is_none()) else {
        return Ok(found);
    };
    if asking.wants(Kind::RecordsLinkFailed) {
        found.extend(links::failing(asking, whose).await?);
    }
    if asking.wants(Kind::NoticesFailed) {
        found.extend(notices::failed(asking, whose).await?);
    }
    Ok(found)
}

/// What needs the sheets that count now.
async fn behind_sheets(asking: &Asking<'_>) -> Result<Vec<Found>, ApiError> {
    use AttentionKind as Kind;
    let kinds = [
        Kind::DigFailed,
        Kind::DigOverdue,
        Kind::SheetUnseen,
        Kind::ConditionsOld,
        Kind::CalibrationMissing,
        Kind::CalibrationOld,
        Kind::GrowerWithoutSheet,
    ];
    if !kinds.into_iter().any(|kind| asking.wants(kind)) {
        return Ok(Vec::new());
    }
    let sheets = sheets::counting(asking).await?;
    let mut found = Vec::new();
    if asking.wants(Kind::SheetUnseen) {
        found.extend(unseen::sheets(asking, &sheets));
    }
    if [Kind::DigFailed, Kind::DigOverdue, Kind::ConditionsOld]
        .into_iter()
        .any(|it| asking.wants(it))
    {
        let done = digs::done(asking).await?;
        if asking.wants(Kind::DigOverdue) {
            found.extend(digs_overdue::overdue(asking, &sheets, &done));
        }
        if asking.wants(Kind::ConditionsOld) {
            found.extend(conditions::old(asking, &sheets, &done));
        }
        if asking.wants(Kind::DigFailed) {
            found.extend(digs_failed::failed(asking, &sheets, &done).await?);
        }
    }
    if asking.wants(Kind::CalibrationMissing) || asking.wants(Kind::CalibrationOld) {
        found.extend(calibrations::missing_or_old(asking, &sheets).await?);
    }
    if asking.wants(Kind::GrowerWithoutSheet) {
        found.extend(growers::without_sheet(asking, &sheets).await?);
    }
    found.retain(|it| asking.wants(it.kind));
    Ok(found)
}
