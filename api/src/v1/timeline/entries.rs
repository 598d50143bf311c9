//! The entries of a page: rows read by id, put in words, with the names of those who acted.

use std::collections::HashMap;

use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QuerySelect};
use uuid::Uuid;

use super::dto::{TimelineEntry, TimelineKind};
use super::moments::Moment;
use super::summary::{self, Told};
use super::{shed, stands, trials as tried};
use crate::auth::Scope;
use crate::entities::{
    accounts, adjustments, calibrations, conditions_reports, dig_checks, inspections, plantings,
    recommendations, repairs, stand_counts, trials, yields,
};
use crate::http::ApiError;
use crate::v1::recommendations::show::Show;

/// The rows of a page, by id.
#[derive(Debug, Default)]
struct Rows {
    conditions: HashMap<Uuid, conditions_reports::Model>,
    sheets: HashMap<Uuid, recommendations::Model>,
    digs: HashMap<Uuid, dig_checks::Model>,
    adjustments: HashMap<Uuid, adjustments::Model>,
    calibrations: HashMap<Uuid, calibrations::Model>,
    inspections: HashMap<Uuid, Told>,
    repairs: HashMap<Uuid, repairs::Model>,
    plantings: HashMap<Uuid, plantings::Model>,
    stands: HashMap<Uuid, stand_counts::Model>,
    yields: HashMap<Uuid, yields::Model>,
    trials: HashMap<Uuid, trials::Model>,
    names: HashMap<Uuid, String>,
}

/// The entries for these moments, in their order.
pub(super) async fn of(
    db: &impl ConnectionTrait,
    scope: Scope,
    page: Vec<Moment>,
    show: Show,
) -> Result<Vec<TimelineEntry>, ApiError> {
    let rows = Rows::read(db, scope, &page).await?;
    let mut entries = Vec::with_capacity(page.len());
    for moment in page {
        // What was deleted since the times were read is left out.
        if let Some(told) = rows.told(moment, show)? {
            entries.push(rows.entry(moment, told));
        }
    }
    Ok(entries)
}

impl Rows {
    async fn read(
        db: &impl ConnectionTrait,
        scope: Scope,
        page: &[Moment],
    ) -> Result<Self, ApiError> {
        use TimelineKind as Kind;
        let of = |kinds: &[TimelineKind]| ids(page, kinds);
        let conditions = of(&[Kind::ConditionsReported]);
        let sheets = of(&[
            Kind::RecommendationMade,
            Kind::RecommendationIssued,
            Kind::RecommendationAcknowledged,
            Kind::RecommendationSuperseded,
        ]);
        let digs = of(&[Kind::DigChecked]);
        let changes =
            of(&[Kind::AdjustmentProposed, Kind::AdjustmentAccepted, Kind::AdjustmentDeclined]);
        let calibrated = of(&[Kind::PlanterCalibrated]);
        let conditions = scope
            .conditions_reports()
            .filter(conditions_reports::Column::Id.is_in(conditions))
            .all(db)
            .await?;
        let sheets = scope
            .recommendations()
            .filter(recommendations::Column::Id.is_in(sheets))
            .all(db)
            .await?;
        let digs = scope.dig_checks().filter(dig_checks::Column::Id.is_in(digs)).all(db).await?;
        let changes =
            scope.adjustments().filter(adjustments::Column::Id.is_in(changes)).all(db).await?;
        let calibrated =
            scope.calibrations().filter(calibrations::Column::Id.is_in(calibrated)).all(db).await?;
        let mut inspected = HashMap::new();
        let seen = inspections::Column::Id.is_in(of(&[Kind::PlanterInspected]));
        for row in scope.inspections().filter(seen).all(db).await? {
            inspected.extend(shed::inspection(db, scope, &row).await?.map(|told| (row.id, told)));
        }
        let mended = repairs::Column::Id.is_in(of(&[Kind::PlanterRepaired]));
        let mended = scope.repairs().filter(mended).all(db).await?;
        let planted = plantings::Column::Id.is_in(of(&[Kind::Planted]));
        let planted = scope.plantings().filter(planted).all(db).await?;
        let counted = stand_counts::Column::Id.is_in(of(&[Kind::StandCounted]));
        let counted = scope.stand_counts().filter(counted).all(db).await?;
        let harvested = yields::Column::Id.is_in(of(&[Kind::Harvested]));
        let harvested = scope.yields().filter(harvested).all(db).await?;
        let tried = trials::Column::Id.is_in(of(&[Kind::TrialStarted, Kind::TrialClosed]));
        let tried = scope.trials().filter(tried).all(db).await?;
        Ok(Self {
            conditions: conditions.into_iter().map(|row| (row.id, row)).collect(),
            sheets: sheets.into_iter().map(|row| (row.id, row)).collect(),
            digs: digs.into_iter().map(|row| (row.id, row)).collect(),
            adjustments: changes.into_iter().map(|row| (row.id, row)).collect(),
            calibrations: calibrated.into_iter().map(|row| (row.id, row)).collect(),
            inspections: inspected,
            repairs: mended.into_iter().map(|row| (row.id, row)).collect(),
            plantings: planted.into_iter().map(|row| (row.id, row)).collect(),
            stands: counted.into_iter().map(|row| (row.id, row)).collect(),
            yields: harvested.into_iter().map(|row| (row.id, row)).collect(),
            trials: tried.into_iter().map(|row| (row.id, row)).collect(),
            names: names(db, scope, page).await?,
        })
    }

    fn told(&self, moment: Moment, show: Show) -> Result<Option<Told>, ApiError> {
        use TimelineKind as Kind;
        let (kind, id) = (moment.place.kind, moment.place.id);
        match kind {
            Kind::PlanterCalibrated => {
                self.calibrations.get(&id).map(|row| summary::calibration(row, show)).transpose()
            }
            Kind::PlanterInspected => Ok(self.inspections.get(&id).cloned()),
            Kind::PlanterRepaired => self.repairs.get(&id).map(shed::repair).transpose(),
            Kind::Planted => {
                self.plantings.get(&id).map(|row| stands::planting(row, show)).transpose()
            }
            Kind::StandCounted => {
                self.stands.get(&id).map(|row| stands::stand_count(row, show)).transpose()
            }
            Kind::Harvested => {
                self.yields.get(&id).map(|row| stands::harvest(row, show)).transpose()
            }
            Kind::TrialStarted | Kind::TrialClosed => {
                self.trials.get(&id).map(|row| tried::trial(row, kind)).transpose()
            }
            Kind::ConditionsReported => {
                self.conditions.get(&id).map(summary::conditions).transpose()
            }
            Kind::DigChecked => self.digs.get(&id).map(|row| summary::dig(row, show)).transpose(),
            Kind::AdjustmentProposed | Kind::AdjustmentAccepted | Kind::AdjustmentDeclined => {
                let row = self.adjustments.get(&id);
                row.map(|row| summary::adjustment(row, kind, show)).transpose()
            }
            Kind::RecommendationMade
            | Kind::RecommendationIssued
            | Kind::RecommendationSuperseded
            | Kind::RecommendationAcknowledged => {
                let row = self.sheets.get(&id);
                row.map(|row| summary::recommendation(row, kind, show)).transpose()
            }
        }
    }

    fn entry(&self, moment: Moment, told: Told) -> TimelineEntry {
        let Moment { place, by } = moment;
        TimelineEntry {
            at: place.at,
            kind: place.kind,
            id: place.id,
            title: told.title,
            summary: told.summary,
            by,
            by_name: self.names.get(&by).cloned().unwrap_or_default(),
        }
    }
}

fn ids(page: &[Moment], kinds: &[TimelineKind]) -> Vec<Uuid> {
    let wanted = page.iter().filter(|moment| kinds.contains(&moment.place.kind));
    wanted.map(|moment| moment.place.id).collect()
}

/// The names of the accounts that acted.
async fn names(
    db: &impl ConnectionTrait,
    scope: Scope,
    page: &[Moment],
) -> Result<HashMap<Uuid, String>, ApiError> {
    let rows: Vec<(Uuid, String)> = accounts::Entity::find()
        .select_only()
        .columns([accounts::Column::Id, accounts::Column::DisplayName])
        .filter(accounts::Column::PracticeId.eq(scope.practice_id))
        .filter(accounts::Column::Id.is_in(page.iter().map(|moment| moment.by)))
        .into_tuple()
        .all(db)
        .await?;
    Ok(rows.into_iter().collect())
}
