//! `POST /v1/farms/{id}/temperatures`

use actix_web::post;
use actix_web::web::Data;
use chrono::NaiveDate;

use super::days::{self, Entered, NewDay, Places};
use super::dto::{MOST_DAYS, TemperatureKind, TemperaturesIn, TemperaturesTaken};
use super::store::{self, By};
use crate::app::AppState;
use crate::auth::{Caller, CanReport};
use crate::http::responses::CreateUnderErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Id, Refused};
use crate::v1::farms;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Send air temperatures.
///
/// Highest and lowest of one day or many, measured, or expected of days to come. A farm has one
/// series, and its fields read it. A day that is there is replaced, and the answer says what it was;
/// what is expected gives way to what was measured, never the other way round.
#[utoipa::path(
    tag = "temperatures", operation_id = "send_temperatures", security(("bearer" = ["report"])),
    params(("id" = Uuid, Path, description = "Id of the farm."), IdempotencyKey),
    request_body(content = TemperaturesIn, description = "The days."),
    responses(
        (status = 200, description = "What became of each day.", body = TemperaturesTaken),
        CreateUnderErrors,
    ),
)]
#[post("/farms/{id}/temperatures")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanReport>,
    write: Write,
    id: Id,
    body: Body<TemperaturesIn>,
) -> Result<Written<TemperaturesTaken>, ApiError> {
    let by = By { account_id: caller.account_id(), now: app.clock.now() };
    let given = body.into_inner();
    write
        .run(&app, &caller, async |tx| {
            let farm = farms::store::find(tx, caller.scope(), id.0).await?;
            let days = given.parse(caller.calendar().today(by.now))?;
            let put = store::put(tx, &farm, (by, || app.ids.next()), days, false).await?;
            let touched = Touched::new("temperatures", farm.id).of_grower(farm.grower_id);
            let changed = put.changed;
            let answer = Answer::ok(TemperaturesTaken::of(put, Vec::new(), false));
            Ok(if changed { Done::new(touched, answer) } else { Done::unchanged(answer) })
        })
        .await
}

impl TemperaturesIn {
    /// The only way from the wire to the store. `today` is the last day that can have been measured.
    fn parse(self, today: NaiveDate) -> Result<Vec<NewDay>, ApiError> {
        let Self { station, kind, days } = self;
        let mut refused = Refused::default();
        if !(1..=MOST_DAYS).contains(&days.len()) {
            let member = BadMember::new("/days", "The number of days is out of range.");
            return Err(member.given(days.len()).allowed(format!("1 to {MOST_DAYS}")).into());
        }
        let station = refused.take(days::station("/station", station.as_deref()));
        let kind = kind.unwrap_or(TemperatureKind::Measured);
        let name = station.unwrap_or_default();
        let mut checked = Vec::with_capacity(days.len());
        for (line, (index, day)) in (1..).zip(days.into_iter().enumerate()) {
            let at = |name: &str| format!("/days/{index}/{name}");
            let places = Places { date: at("date"), high: at("high"), low: at("low") };
            let entered = Entered { high: day.high, low: day.low };
            let day = days::check((line, day.date), (kind.into(), &name), entered, &places, today);
            checked.extend(refused.take_all(day));
        }
        refused.finish()?;
        Ok(checked)
    }
}
