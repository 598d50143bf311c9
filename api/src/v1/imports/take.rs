//! Records of a file: planned, and taken all or none.

use actix_web::{HttpMessage, HttpRequest};

use super::dto::{ImportReport, Separator};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::exchange::files::Records;
use crate::exchange::intake::{
    self, Beside, By, IntakeOutcome, IntakeReport, Outcome, Plan, PlannedRow, Source, System,
};
use crate::http::request_id::RequestId;
use crate::http::{Answer, ApiError, BadMember, ProblemCode};
use crate::writes::{Actor, Done, Write, Written};

/// Most records of a file.
pub(super) const MOST_RECORDS: usize = 10_000;

/// A file that was read.
#[derive(Debug)]
pub(super) struct FileRead {
    pub records: Records,
    pub encoding: &'static str,
    pub separator: Option<char>,
}

/// How it is taken.
#[derive(Debug)]
pub(super) struct Asked {
    pub system: System,
    pub dry_run: bool,
    /// The operation's id in the API document.
    pub operation: &'static str,
}

/// Says what would become of a file; without `dry_run` does it, if nothing is refused.
pub(super) async fn take(
    app: &AppState,
    caller: &Caller<CanConnect>,
    (write, request): (Write, &HttpRequest),
    asked: Asked,
    read: impl FnOnce() -> Result<FileRead, ApiError>,
) -> Result<Written<ImportReport>, ApiError> {
    let Asked { system, dry_run, operation } = asked;
    let request_id = request.extensions().get::<RequestId>().map(|id| id.0.clone());
    let by = By {
        actor: Actor::from(caller),
        operation: operation.to_owned(),
        request_id: request_id.unwrap_or_default(),
    };
    let today = caller.calendar().today(app.clock.now());
    let source = Source { system, today, beside: Beside::Waits };
    let planned = async || {
        let FileRead { records: Records { incoming, ignored }, encoding, separator } = read()?;
        let scope = caller.scope();
        let plan = intake::plan(&app.db, scope, &source, incoming).await?;
        let about = About { encoding, separator, ignored };
        if dry_run { Ok((plan, about)) } else { Ok((nothing_refused(plan)?, about)) }
    };
    write
        .run_prepared(app, caller, planned, async |tx, (plan, about)| {
            if dry_run {
                return Ok(Done::unchanged(Answer::ok(about.report(&plan, true))));
            }
            // Each object has a row of its own in the audit trail, and its change.
            let done = intake::apply(tx, app, &by, plan).await?;
            Ok(Done::unchanged(Answer::ok(about.report(&done, false))))
        })
        .await
}

/// The plan, if the whole file can be taken.
fn nothing_refused(plan: Plan) -> Result<Plan, ApiError> {
    let refused = |row: &PlannedRow| match &row.outcome {
        Outcome::Refused(members) => members.clone(),
        Outcome::Create
        | Outcome::Change(_)
        | Outcome::Unchanged
        | Outcome::Waits(_)
        | Outcome::Conflict { .. } => Vec::new(),
    };
    let members: Vec<BadMember> = plan.rows.iter().flat_map(refused).collect();
    let count = plan.counts().refused;
    if count == 0 {
        return Ok(plan);
    }
    let detail = format!(
        "{count} of {} records are refused, so nothing was stored. Mend them, or look at all with dry_run=true.",
        plan.rows.len()
    );
    Err(ApiError::new(ProblemCode::InvalidRequest, detail).with_members(members))
}

/// What is said about a file beside its records.
#[derive(Debug)]
struct About {
    encoding: &'static str,
    separator: Option<char>,
    ignored: Vec<String>,
}

impl About {
    fn report(self, plan: &Plan, dry_run: bool) -> ImportReport {
        let told = plan.rows.iter().map(|row| {
            let report = IntakeReport::of(row);
            if dry_run { report } else { report.done(row) }
        });
        let mut rows: Vec<IntakeReport> =
            told.filter(|report| report.outcome != IntakeOutcome::Unchanged).collect();
        rows.sort_by_key(|report| urgency(report.outcome));
        ImportReport {
            dry_run,
            system: plan.system.to_string(),
            counts: plan.counts().into(),
            encoding: self.encoding.to_owned(),
            separator: self.separator.map(Separator::from),
            ignored: self.ignored,
            rows,
        }
    }
}

/// What somebody must look at comes first; lines of the same outcome stay in their order.
fn urgency(outcome: IntakeOutcome) -> u8 {
    match outcome {
        IntakeOutcome::Refused => 0,
        IntakeOutcome::Conflict => 1,
        IntakeOutcome::Waiting => 2,
        IntakeOutcome::Changed => 3,
        IntakeOutcome::Created => 4,
        IntakeOutcome::Unchanged => 5,
    }
}
