//! `POST /v1/farms/{id}/temperatures/csv`

use actix_web::post;
use actix_web::web::Data;

use super::days;
use super::dto::{
    DayOutcome, ImportRequest, MOST_MISSING, SentDay, TemperatureKind, TemperaturesTaken,
};
use super::store::{self, By, Put};
use super::table::{self, Read, Reading};
use crate::app::AppState;
use crate::auth::{Caller, CanReport};
use crate::http::csv_body::CsvBody;
use crate::http::responses::CreateUnderErrors;
use crate::http::{Answer, ApiError, BadMember, Id, Query, Refused};
use crate::v1::farms;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Send air temperatures as a file.
///
/// Comma-separated values with a header: a column for the day (`date`), one for the highest (`high`,
/// `tmax`, `max`) and one for the lowest temperature (`low`, `tmin`, `min`), in any order, and if you
/// like `kind` (`measured`, `expected`) and `station`. The unit stands in the header (`tmax_f`, `high
/// [degF]`, `low (°C)`) or in the parameter `unit`. Other columns are left aside and named. At most
/// 4000 lines.
///
/// A line that can't be read is refused by itself, with its column and the reason; the others are
/// taken. With `dry_run=true` nothing is stored, and the answer says what would become of each line.
/// A header that can't be understood is refused as a whole; the place is given as a fragment of
/// RFC 7111, `#cell=1,2` for line 1, column 2.
#[utoipa::path(
    tag = "temperatures", operation_id = "import_temperatures", security(("bearer" = ["report"])),
    params(
        ("id" = Uuid, Path, description = "Id of the farm."),
        ImportRequest,
        IdempotencyKey,
    ),
    request_body(content = String, content_type = "text/csv", description = "The file.",
        example = "date,high [degF],low [degF]\n2027-04-30,72,46\n2027-05-01,63,42\n"),
    responses(
        (status = 200, description = "What became of each line.", body = TemperaturesTaken),
        CreateUnderErrors,
    ),
)]
#[post("/farms/{id}/temperatures/csv")]
pub(super) async fn import(
    app: Data<AppState>,
    caller: Caller<CanReport>,
    write: Write,
    id: Id,
    query: Query<ImportRequest>,
    body: CsvBody,
) -> Result<Written<TemperaturesTaken>, ApiError> {
    let by = By { account_id: caller.account_id(), now: app.clock.now() };
    let asked = query.0;
    let dry_run = asked.dry_run.unwrap_or(false);
    write
        .run(&app, &caller, async |tx| {
            let farm = farms::store::find(tx, caller.scope(), id.0).await?;
            let Read { days, refused, ignored } =
                table::read(&body.0, &reading(&asked, caller.calendar().today(by.now))?)?;
            let mut put = store::put(tx, &farm, (by, || app.ids.next()), days, dry_run).await?;
            put.sent.extend(refused);
            put.sent.sort_by_key(|day| day.line);
            let touched = Touched::new("temperatures", farm.id).of_grower(farm.grower_id);
            let changed = put.changed;
            let answer = Answer::ok(TemperaturesTaken::of(put, ignored, dry_run));
            Ok(if changed { Done::new(touched, answer) } else { Done::unchanged(answer) })
        })
        .await
}

fn reading(asked: &ImportRequest, today: chrono::NaiveDate) -> Result<Reading, ApiError> {
    let mut refused = Refused::default();
    let station = refused.take(days::station("?station", asked.station.as_deref()));
    let unit = asked.unit.as_deref().map(|given| {
        table::unit(given).ok_or_else(|| {
            let member = BadMember::new("?unit", "This is no unit of a temperature.").given(given);
            member.allowed("[degF] or Cel")
        })
    });
    let unit = unit.and_then(|unit| refused.take(unit));
    let station = station.unwrap_or_default();
    refused.finish()?;
    let kind = asked.kind.unwrap_or(TemperatureKind::Measured).into();
    Ok(Reading { station, kind, unit, today })
}

impl TemperaturesTaken {
    /// What became of the days.
    pub(super) fn of(put: Put, ignored_columns: Vec<String>, dry_run: bool) -> Self {
        let Put { sent, mut missing, changed: _ } = put;
        let count = |outcome: DayOutcome| {
            let of_it = |day: &&SentDay| day.outcome == outcome;
            u32::try_from(sent.iter().filter(of_it).count()).unwrap_or(u32::MAX)
        };
        let missing_count = u32::try_from(missing.len()).unwrap_or(u32::MAX);
        missing.truncate(MOST_MISSING);
        Self {
            dry_run,
            taken: count(DayOutcome::Taken),
            replaced: count(DayOutcome::Replaced),
            unchanged: count(DayOutcome::Unchanged),
            refused: count(DayOutcome::Refused),
            days: sent,
            ignored_columns,
            missing,
            missing_count,
        }
    }
}
