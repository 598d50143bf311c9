//! Trials with what can be concluded.

use domain::season::report::{Named, TrialEffect, TrialSummary};
use domain::trial::analysis::{Analysis, Confidence};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder};

use super::Of;
use crate::entities::trials::{Column, Status};
use crate::http::ApiError;
use crate::v1::trials::analysis::{WorkedOut, verdict, work_out};
use crate::v1::trials::plots::state::Found;

/// Trials with what can be concluded: those that were started in the season, response by response.
pub async fn trials(db: &impl ConnectionTrait, of: Of) -> Result<Vec<TrialSummary>, ApiError> {
    let (from, to) = of.span();
    let mut rows = of
        .scope
        .trials()
        .filter(Column::Status.ne(Status::Draft))
        .filter(Column::StartedAt.gte(from))
        .filter(Column::StartedAt.lt(to))
        .order_by_asc(Column::Id);
    if let Some(planter_id) = of.planter_id {
        rows = rows.filter(Column::PlanterId.eq(planter_id));
    }
    let mut told = Vec::new();
    for row in rows.all(db).await? {
        let found = Found::read(db, row).await?;
        for wanted in &found.wanted {
            let it = work_out(&found, wanted, Confidence::NinetyFive)?;
            told.push(summary(&found, &it)?);
        }
    }
    Ok(told)
}

fn summary(found: &Found, it: &WorkedOut) -> Result<TrialSummary, ApiError> {
    let verdict = verdict(found, it)?;
    let said = [verdict.headline].into_iter().chain(verdict.cannot_conclude);
    Ok(TrialSummary {
        trial: Named { id: found.id().as_u128(), name: found.row.name.clone() },
        response: it.wanted.response.what.clone(),
        unit: it.wanted.unit.clone(),
        design: design(found),
        effects: it
            .analysis
            .as_ref()
            .map(|all| effects(all, &it.trial.treatments))
            .unwrap_or_default(),
        verdict: said.collect::<Vec<_>>().join(" "),
    })
}

/// `2 treatments in 5 blocks on rows of the planter, drawn`.
fn design(found: &Found) -> String {
    let way = found.design.way_in_words();
    let drawn = if found.layout.randomised { "drawn" } else { "not drawn" };
    let (many, blocks) = (found.design.treatments.len(), found.design.blocks);
    format!("{many} treatments in {blocks} blocks {way}, {drawn}")
}

fn effects(analysis: &Analysis, names: &[String]) -> Vec<TrialEffect> {
    let name = |place: usize| names.get(place).cloned().unwrap_or_default();
    let all = analysis.effects.iter();
    all.map(|it| TrialEffect {
        treatment: name(it.treatment),
        against: name(it.against),
        difference: it.difference,
        low: it.low,
        high: it.high,
        p: it.p,
    })
    .collect()
}
