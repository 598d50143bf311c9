//! What every `PUT` under a records system does.

use actix_web::web::Data;
use sea_orm::DatabaseTransaction;
use serde::Serialize;

use super::dto::{ExternalId, PutOutcome};
use super::path::ItsId;
use super::said::{Says, columns};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect, Scope};
use crate::exchange::intake::{
    self, Beside, Incoming, Member, Outcome, Place, PlannedRow, Source, Waiting,
};
use crate::http::etag::{self, Expected};
use crate::http::{Answer, ApiError, BadMember, ETag, IfMatch, ProblemCode};
use crate::v1::practice::SeasonCalendar;
use crate::writes::{Done, Touched, Write, Written};

/// A `PUT`: who sends it, for which id, on which condition.
pub(super) struct Put {
    pub app: Data<AppState>,
    pub caller: Caller<CanConnect>,
    pub write: Write,
    pub its: ItsId,
    pub if_match: IfMatch,
    pub operation: &'static str,
}

/// What came of a `PUT`: the object, as its tie and its id tell.
pub(super) struct Taken {
    pub outcome: PutOutcome,
    pub external_id: ExternalId,
}

impl Put {
    /// Takes the record; `show` makes the answer of our object, and its tag.
    pub(super) async fn take<S: Says, T: Serialize>(
        self,
        body: S,
        show: impl AsyncFnOnce(&DatabaseTransaction, Scope, Taken) -> Result<(T, ETag), ApiError>,
    ) -> Result<Written<T>, ApiError> {
        let Self { app, caller, write, its, if_match, operation } = self;
        let record = record(body, &its)?;
        let scope = caller.scope();
        let by = its.of.by(&caller, operation);
        let today = caller.calendar().today(app.clock.now());
        let source = Source { system: its.of.system.clone(), today, beside: Beside::Waits };
        let expected = if_match.or_any();
        write
            .run(&app, &caller, async |tx| {
                check(tx, scope, (&its, S::KIND), &expected).await?;
                let plan = intake::plan(tx, scope, &source, vec![record]).await?;
                let mut plan = intake::apply(tx, &app, &by, plan).await?;
                let row = plan.rows.pop();
                let row = row.ok_or_else(|| ApiError::internal("the record is lost"))?;
                let outcome = match &row.outcome {
                    Outcome::Create => PutOutcome::Created,
                    Outcome::Change(_) => PutOutcome::Changed,
                    Outcome::Unchanged => PutOutcome::Unchanged,
                    Outcome::Refused(bad) => return Err(bad.clone().into()),
                    Outcome::Waits(waiting) => {
                        return Ok(waits(&row, waiting, &caller.calendar()));
                    }
                    Outcome::Conflict { .. } => return Ok(disputed(&row)),
                };
                let tie = intake::find_tie(tx, scope, &its.of.system, &its.record(S::KIND)).await?;
                let tie = tie.ok_or_else(|| ApiError::internal("a record was not tied"))?;
                let taken = Taken { outcome, external_id: tie.into() };
                let shown = show(tx, scope, taken).await;
                let (shown, tag) = shown.map_err(|error| or_deleted(S::KIND, error))?;
                let answer = match outcome {
                    PutOutcome::Created => Answer::created(its.path(S::KIND), shown),
                    PutOutcome::Changed | PutOutcome::Unchanged => Answer::ok(shown),
                };
                // What was done stands in the audit trail already, object by object.
                Ok(Done::unchanged(answer.tagged(&tag)))
            })
            .await
    }
}

/// Our object of a record that came before is not there.
fn or_deleted(kind: intake::Kind, error: ApiError) -> ApiError {
    if error.code() != ProblemCode::NotFound {
        return error;
    }
    let detail = format!("Our {} of this record was deleted here.", kind.word());
    let detail = detail + " To take the record anew, end its tie first: DELETE this path.";
    ApiError::new(ProblemCode::NotFound, detail)
}

/// The record of a body; an id in it must be that of the path.
fn record<S: Says>(body: S, its: &ItsId) -> Result<Incoming, ApiError> {
    let mut record = body.says(Place::new("", &columns::<S>()));
    if record.their_id.as_ref().is_some_and(|id| *id != its.their_id) {
        let member = BadMember::new(record.place.of(Member::Id), "The path has another id.");
        return Err(member.allowed(its.their_id.as_str()).into());
    }
    record.their_id = Some(its.their_id.clone());
    Ok(record)
}

/// Whether the caller's conditions hold.
async fn check(
    tx: &DatabaseTransaction,
    scope: Scope,
    (its, kind): (&ItsId, intake::Kind),
    expected: &Expected,
) -> Result<(), ApiError> {
    if expected.0.is_none() && !its.of.only_new {
        return Ok(());
    }
    let tie = intake::find_tie(tx, scope, &its.of.system, &its.record(kind)).await?;
    match tie {
        Some(_) if its.of.only_new => Err(etag::stale()),
        Some(tie) => match intake::version_of(tx, scope, (kind, tie.object_id)).await? {
            Some(version) => expected.check(version),
            None => Err(etag::stale()),
        },
        None if expected.0.is_some() => Err(etag::stale()),
        None => Ok(()),
    }
}

/// The record waits, and the caller is told where a person decides.
fn waits<T>(row: &PlannedRow, waiting: &Waiting, calendar: &SeasonCalendar) -> Done<T> {
    let id = row.match_id.unwrap_or_default();
    let word = row.incoming.kind.word();
    let why = match waiting {
        Waiting::LooksAlike(_) => {
            "The record is new and looks like an object that is here. It is kept and".to_owned()
        }
        Waiting::NeedsMakeup(_) => {
            "The planter is new, and Dibble needs its make-up to work with it. It is kept and"
                .to_owned()
        }
        Waiting::ForParent => {
            "What the record belongs to waits for a decision. It is kept and".to_owned()
        }
        Waiting::Erased(at) => format!(
            "The {word} was erased here on {}, and is made again only when a person says so. Nothing \
             that the record says is kept; it",
            calendar.today(*at)
        ),
        Waiting::UnderErased(at) => format!(
            "What the {word} belongs to was erased here on {}, and is made again only when a person \
             says so. Nothing that the record says is kept; it",
            calendar.today(*at)
        ),
    };
    let detail = format!("{why} waits for a person: /v1/record-matches/{id}.");
    let touched = touched("record_match", id, row);
    Done::refused(touched, ApiError::new(ProblemCode::DecisionNeeded, detail))
}

/// Members were changed on both sides: the others are taken, these wait.
fn disputed<T>(row: &PlannedRow) -> Done<T> {
    let report = intake::IntakeReport::of(row);
    let first = report.conflicts.iter().find_map(|dispute| dispute.conflict_id);
    let bad = report.conflicts.iter().map(|dispute| {
        let member = Member::named(&dispute.member);
        let at = member.map(|member| row.incoming.place.of(member)).unwrap_or_default();
        let id = dispute.conflict_id.unwrap_or_default();
        let detail = format!("Both sides changed it. A person decides: /v1/record-conflicts/{id}.");
        let member = BadMember::new(at, detail).given(&dispute.theirs);
        match &dispute.ours {
            Some(ours) => member.why(format!("here it is {ours}")),
            None => member.why("here it is empty"),
        }
    });
    let detail = "The record was changed on both sides since it came last. What only it changed is \
                  taken; the members named here wait for a person.";
    let error = ApiError::new(ProblemCode::DecisionNeeded, detail).with_members(bad.collect());
    Done::refused(touched("record_conflict", first.unwrap_or_default(), row), error)
}

fn touched(kind: &'static str, id: uuid::Uuid, row: &PlannedRow) -> Touched {
    let touched = Touched::new(kind, id);
    match row.grower_id {
        Some(grower_id) => touched.of_grower(grower_id),
        None => touched,
    }
}
