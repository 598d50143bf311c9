//! `POST /v1/plantings/{id}/emergence-forecast`

use actix_web::post;
use actix_web::web::Data;
use chrono::NaiveDate;
use domain::provenance::sources;
use domain::quantity::{System, bounds};
use domain::stand::{self, Day, Forecast, Known, with_normal};

use super::dto::{EmergenceForecast, EmergenceForecastIn, HeatNeed, NormalDayIn};
use super::gather::{self, Gathered, later};
use super::say;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::quantity::six_digits;
use crate::http::responses::ComputeUnderErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Id, Query, Refused};
use crate::v1::trace;
use crate::v1::units::UnitsQuery;

/// Days after planting up to which a normal day is used.
const NORMAL_FOR: u64 = 90;

/// Forecast the emergence of a planting.
///
/// From the heat that it takes (crop, depth, residue, texture, moisture, date) and the temperatures
/// of its farm: those measured so far, those expected of days to come, and, if one is given, a normal
/// day after that. The answer is a range of days, where the crop stands by what was measured, and
/// when to count the stand: two to three weeks after emergence. A missing day widens the range; it is
/// never filled in unless `fill_gaps` asks for it. Nothing is stored.
#[utoipa::path(
    tag = "what-if", operation_id = "forecast_emergence", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the planting."), UnitsQuery),
    request_body(content = EmergenceForecastIn, description = "How to work it out; `{}` will do."),
    responses(
        (status = 200, description = "The forecast.", body = EmergenceForecast),
        ComputeUnderErrors,
    ),
)]
#[post("/plantings/{id}/emergence-forecast")]
pub(super) async fn forecast(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<UnitsQuery>,
    body: Body<EmergenceForecastIn>,
) -> Result<Answer<EmergenceForecast>, ApiError> {
    let found = gather::of(&app.db, caller.scope(), id.0).await?;
    let (fill, normal) = body.into_inner().parse()?;
    let today = caller.calendar().today(app.clock.now());
    let system = caller.units(query.0.units).into();
    Ok(Answer::ok(worked_out(found, (fill, normal), today, system)))
}

impl EmergenceForecastIn {
    fn parse(self) -> Result<(u8, Option<Day>), ApiError> {
        let Self { fill_gaps, normal_day } = self;
        let mut refused = Refused::default();
        let fill = refused.take(gather::fill("/fill_gaps", fill_gaps));
        let normal = normal_day.and_then(|given| refused.take_all(given.parse()));
        refused.finish()?;
        Ok((fill.unwrap_or_default(), normal))
    }
}

impl NormalDayIn {
    fn parse(self) -> Result<Day, Vec<BadMember>> {
        let high = self.high.parse("/normal_day/high", &bounds::AIR_TEMPERATURE);
        let low = self.low.parse("/normal_day/low", &bounds::AIR_TEMPERATURE);
        match (high, low) {
            (Ok(high), Ok(low)) => Day::new(high, low).map_err(|error| {
                let member = BadMember::new("/normal_day/low", format!("{error}."));
                vec![member.given(format!("{} {}", self.low.value, self.low.unit))]
            }),
            (high, low) => Err(high.err().into_iter().chain(low.err()).collect()),
        }
    }
}

fn worked_out(
    found: Gathered,
    (fill, normal): (u8, Option<Day>),
    today: NaiveDate,
    system: System,
) -> EmergenceForecast {
    let Gathered { planting, need, known } = found;
    let day = planting.planted_on;
    let known: Known = match normal {
        Some(normal) => with_normal(known, normal, (later(day, 1), later(day, NORMAL_FOR))),
        None => known,
    };
    let it = stand::forecast(&need.emergence, &known, (day, today), fill);
    let words = words(&it, need.emergence.likely, today);
    let mut assumed = trace::assumed(need.assumed);
    assumed.extend(say::assumed(&it.heat));
    let shown = |x| say::degree_days(x, system);
    EmergenceForecast {
        planting_id: planting.id,
        planted_on: day,
        today,
        state: it.state.into(),
        need: HeatNeed {
            low: shown(need.emergence.low),
            likely: shown(need.emergence.likely),
            high: shown(need.emergence.high),
        },
        so_far: shown(it.so_far),
        earliest: it.earliest,
        likely: it.likely,
        latest: it.latest,
        count_from: it.count.from,
        count_to: it.count.to,
        count_by_temperature: it.count.by_temperature,
        because: trace::reasons(need.emergence.because),
        words,
        missing: it.heat.missing,
        assumed,
        trace: trace::steps(need.emergence.steps),
    }
}

fn words(it: &Forecast, likely: f64, today: NaiveDate) -> Vec<String> {
    let on = |day: NaiveDate| day.format("%-d %B").to_string();
    let mut words = vec![format!(
        "Up to {} {} of about {} degree days have come (°F).",
        on(today),
        six_digits((it.so_far * 10.0).round() / 10.0),
        six_digits((likely * 10.0).round() / 10.0)
    )];
    if !it.heat.missing.is_empty() {
        words.push(format!(
            "{} days are missing: they widen the range and are not filled in.",
            it.heat.missing.len()
        ));
    }
    words.push(match (it.earliest, it.latest) {
        (Some(from), Some(to)) if from == to => format!("Plants show on {}.", on(from)),
        (Some(from), Some(to)) => {
            format!("The first plants show between {} and {}.", on(from), on(to))
        }
        (Some(from), None) => format!(
            "The first plants show on {} at the earliest; the days that are known reach no further.",
            on(from)
        ),
        (None, _) => {
            "The days that are known do not reach emergence: enter more, or give a normal day."
                .to_owned()
        }
    });
    let rest = if it.count.by_temperature {
        "two to three weeks after emergence"
    } else {
        let (_, usual, _) = stand::usual_days_to_emerge();
        &format!(
            "two to three weeks after emergence, which is taken for {usual} days after planting since temperatures do not reach it ({})",
            sources::ILLINOIS_DAYS_UP
        )
    };
    let (from, to) = (on(it.count.from), on(it.count.to));
    words.push(format!(
        "Count the stand from {from} to {to}: {rest} ({}).",
        sources::NORTH_CAROLINA_COUNTS
    ));
    words
}
