//! `POST /v1/stand-counts/{id}/replant-comparison`

use actix_web::post;
use actix_web::web::Data;
use domain::conditions::Crop;
use domain::provenance::Reason;
use domain::quantity::{Area, Measured, System, bounds};
use domain::stand::{
    Ends, Money, Question, SOYBEAN_STANDS, StandFound, StandRange, YieldTable, loss_between,
    soybean_stand_yield,
};
use sea_orm::ConnectionTrait;
use uuid::Uuid;

use super::super::answer::{StandFigure, density, percent};
use super::super::store;
use super::answer::{ReplantComparison, ReplantMoney, ReplantSide, ReplantTable};
use super::dto::{Asked, ReplantIn};
use super::words;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise, Scope};
use crate::entities::plantings;
use crate::http::quantity::{Quantity, six_digits};
use crate::http::responses::ComputeUnderErrors;
use crate::http::{Answer, ApiError, Body, Id, Query};
use crate::v1::plantings as plantings_of;
use crate::v1::recommendations::answer::LossOut;
use crate::v1::trace::{self, TraceStep};
use crate::v1::units::UnitsQuery;
use crate::v1::what_if::TableGap;

/// Compare a stand with planting again.
///
/// By the published tables of corn, side by side, each with its region and year; for soybean by what
/// is published, which is incomplete. Each table gives a range: over the interval of the count, what
/// gaps and late plants take from what stands, and none to all of the tenth that a replanted field
/// commonly loses. With prices it says what planting again gains after its cost, and what it must
/// gain to pay for itself.
///
/// It compares and orders nothing: the insurer's rules and the labels come first, and what it can't
/// know stands in the answer. Nothing is stored.
#[utoipa::path(
    tag = "what-if", operation_id = "compare_replanting", security(("bearer" = ["advise"])),
    params(("id" = Uuid, Path, description = "Id of the stand count."), UnitsQuery),
    request_body(content = ReplantIn, description = "Planting again."),
    responses(
        (status = 200, description = "The comparison.", body = ReplantComparison),
        ComputeUnderErrors,
    ),
)]
#[post("/stand-counts/{id}/replant-comparison")]
pub(in super::super) async fn compare_replanting(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    id: Id,
    query: Query<UnitsQuery>,
    body: Body<ReplantIn>,
) -> Result<Answer<ReplantComparison>, ApiError> {
    let found = WithPlanting::read(&app.db, caller.scope(), id.0).await?;
    let asked = body.into_inner().parse(found.planting.crop.into(), found.counted_on)?;
    Ok(Answer::ok(found.against(&asked, caller.units(query.0.units).into())))
}

/// A stand count with its planting.
struct WithPlanting {
    id: Uuid,
    counted_on: chrono::NaiveDate,
    found: StandFound,
    planting: plantings::Model,
}

impl WithPlanting {
    async fn read(db: &impl ConnectionTrait, scope: Scope, id: Uuid) -> Result<Self, ApiError> {
        let row = store::find(db, scope, id).await?;
        let planting = plantings_of::store::find(db, scope, row.planting_id).await?;
        let found = store::result_of(&row)?.found;
        Ok(Self { id: row.id, counted_on: row.counted_on, found, planting })
    }

    fn against(&self, asked: &Asked, system: System) -> ReplantComparison {
        let crop: Crop = self.planting.crop.into();
        let question = self.question(asked);
        let keep = question.keep;
        let money = asked.money.as_ref();
        let mut answer = ReplantComparison {
            stand_count_id: self.id,
            crop: crop.into(),
            first: trace::reasons(words::FIRST.to_vec()),
            keep: side(&keep, system),
            again: side(&question.again, system),
            further_loss_low: percent(question.further_loss.low),
            further_loss_high: percent(question.further_loss.high),
            tables: Vec::new(),
            not_covered: Vec::new(),
            published: trace::reasons(self.published(crop, asked)),
            soybean_keep_low: None,
            soybean_keep_high: None,
            soybean_delay: None,
            money: money.map(|(currency, money)| self.money(currency, money, system)),
            can_not_know: words::CAN_NOT_KNOW.iter().map(|it| (*it).to_owned()).collect(),
            trace: Vec::new(),
        };
        match crop {
            Crop::Corn => by_tables(&question, money.map(|(_, money)| money), &mut answer),
            Crop::Soybean => {
                let range = soybean_stand_yield(keep.likely);
                let delay = loss_between(crop, (keep.planted_on, asked.on), asked.expected);
                answer.soybean_keep_low = range.map(|(low, _)| percent(low));
                answer.soybean_keep_high = range.map(|(_, high)| percent(high));
                answer.soybean_delay = Some(LossOut::of(&delay));
            }
        }
        answer
    }

    fn question(&self, asked: &Asked) -> Question {
        let population = &self.found.population;
        let (low, likely, high) = asked.stand;
        Question {
            keep: StandRange {
                planted_on: self.planting.planted_on,
                likely: population.stand,
                ends: population.limits,
            },
            further_loss: self.further_loss(),
            again: StandRange { planted_on: asked.on, likely, ends: Some((low, high)) },
        }
    }

    /// What gaps and late plants take, together: the least and the most of both sources.
    fn further_loss(&self) -> Ends {
        let gaps = self.found.gaps.as_ref();
        let gaps = (
            gaps.and_then(|it| it.loss_low).unwrap_or(0.0),
            gaps.and_then(|it| it.loss_high).unwrap_or(0.0),
        );
        let uneven = self.found.uneven.as_ref();
        let late = (
            uneven.map_or(0.0, |it| it.low),
            uneven.map_or(0.0, |it| it.high.unwrap_or(it.low.max(WORSE_THAN_ALL))),
        );
        Ends { low: gaps.0.max(late.0), high: gaps.1 + late.1 }
    }

    fn published(&self, crop: Crop, asked: &Asked) -> Vec<Reason> {
        let mut list = Vec::new();
        match crop {
            Crop::Corn => list.push(words::A_TENTH),
            Crop::Soybean => {
                list.push(words::NO_SOYBEAN_TABLE);
                list.extend(SOYBEAN_STANDS);
            }
        }
        if asked.worked_out {
            list.push(match crop {
                Crop::Corn => words::CORN_SEED,
                Crop::Soybean => words::SOYBEAN_SEED,
            });
        }
        if self.found.late_share.is_some_and(|share| share > 0.0) && crop == Crop::Corn {
            list.push(words::FOR_UNEVENNESS);
        }
        list.extend(self.found.gaps.iter().flat_map(|gaps| gaps.because.clone()));
        list
    }

    fn money(&self, currency: &str, money: &Money, system: System) -> ReplantMoney {
        let area = self.planting.area_m2.map(Area::from_si);
        let acres = area.map(|area| bounds::FIELD_AREA.show(area, System::Us).0);
        ReplantMoney {
            currency: currency.to_owned(),
            cost_per_ac: six_digits(money.cost),
            pays_at: money.pays_at().map(percent),
            area: area.map(|area| Quantity::show(&bounds::FIELD_AREA, area, system)),
            cost_of_area: acres.map(|acres| six_digits(acres * money.cost)),
        }
    }
}

/// The largest loss that is published for late plants, percent: a field that is worse than all cases
/// loses at least about that.
const WORSE_THAN_ALL: f64 = 22.0;

fn by_tables(question: &Question, money: Option<&Money>, answer: &mut ReplantComparison) {
    for table in YieldTable::ALL {
        match domain::stand::compare(table, question) {
            Ok(it) => {
                answer.tables.push(ReplantTable::of(&it, money));
                answer.trace.extend([it.keep.step, it.again.step].map(TraceStep::from));
            }
            Err(outside) => answer.not_covered.push(TableGap {
                table: table.into(),
                region: table.region().to_owned(),
                why: outside.to_string(),
            }),
        }
    }
}

fn side(it: &StandRange, system: System) -> ReplantSide {
    let (low, high) = it.ends.unzip();
    ReplantSide {
        planted_on: it.planted_on,
        stand: StandFigure {
            value: density(it.likely, system),
            low: low.map(|it| density(it, system)),
            high: high.map(|it| density(it, system)),
        },
    }
}
