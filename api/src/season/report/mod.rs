//! The report of a season, read from what is kept.

mod fields;
mod growers;
mod learned;
mod money;
mod shed;
mod subject;
mod totals;

pub use subject::{Asked, Subject};

use domain::season::Totals;
use domain::season::report::{About, Others, ReportOf, SeasonReport, SoFar};

use self::growers::Growers;
use self::totals::Kept;
use super::gather::{Of, stands, trials, wear};
use crate::app::AppState;
use crate::http::ApiError;
use crate::v1::practice;

/// The report of a season on a subject that the caller may see.
pub async fn report(app: &AppState, subject: &Subject, of: Of) -> Result<SeasonReport, ApiError> {
    let db = &app.db;
    let kept = Kept::read(db, of).await?;
    let growers = Growers::of(db, of.scope.practice_id).await?;
    let totals = kept.totals();
    let one = matches!(subject.of, ReportOf::Grower | ReportOf::Planter);
    let (wear, stands) = (wear::wear(db, of).await?, stands::stands(db, of).await?);
    Ok(SeasonReport {
        about: about(app, subject, of, (&kept, &totals), growers.left(&kept)).await?,
        recommendations: totals.advice(),
        in_window: totals.in_window(),
        others: others(app, subject, of).await?,
        advisors: if subject.of == ReportOf::Practice { growers.lines(&kept) } else { Vec::new() },
        adjustments: totals.adjustments(),
        learned: learned::learned(app, of, subject, &totals.classes_dug()).await?,
        trials: trials::trials(db, of).await?,
        money_and_time: money::money_and_time(db, of).await?,
        shed_list: shed::shed_list(db, of, &kept, &wear).await?,
        wear,
        stands,
        weeks: totals.weeks(),
        depths: totals.depths(),
        loads: totals.loads(),
        fields: if one { fields::lines(db, of).await? } else { Vec::new() },
    })
}

async fn about(
    app: &AppState,
    subject: &Subject,
    of: Of,
    (kept, totals): (&Kept, &Totals),
    growers_left: u32,
) -> Result<About, ApiError> {
    let practice = practice::store::find(&app.db, of.scope.practice_id).await?;
    let (first, next) = of.days();
    Ok(About {
        of: subject.of,
        subject: subject.named.clone(),
        practice: practice.name,
        season: of.season,
        first_day: first,
        last_day: next.pred_opt().unwrap_or(next),
        time_zone: practice.time_zone,
        as_of: of.now,
        so_far: SoFar::on(of.calendar.today(of.now), first, next),
        growers: totals.growers,
        growers_left,
        planters: kept.planters(),
        fields: totals.sums.fields,
        digs: totals.sums.digs,
    })
}

/// All other growers of the practice together, where they are enough.
async fn others(app: &AppState, subject: &Subject, of: Of) -> Result<Option<Others>, ApiError> {
    let Some(grower_id) = subject.grower_id.filter(|_| subject.of == ReportOf::Grower) else {
        return Ok(None);
    };
    let all = Of { scope: crate::auth::Scope::of_practice(of.scope.practice_id), ..of };
    let others = Kept::read(&app.db, all).await?.without(grower_id);
    let shares = others.totals().shares();
    Ok((!shares.few_growers).then_some(Others { growers: shares.growers, shares }))
}
