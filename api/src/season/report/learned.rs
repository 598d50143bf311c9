//! What digs taught about the soils of the report.

use domain::learning::{Learned, Place, SoilClass};
use domain::season::report::{LearnedClass, Named, ReportOf};
use tokio::task::spawn_blocking;

use super::Subject;
use crate::app::AppState;
use crate::auth::Scope;
use crate::http::ApiError;
use crate::learned::season_of;
use crate::season::gather::Of;
use crate::v1::coefficients::figures_in_force;

/// What is known of each soil and cover: of the planter, where the report is of one, else of the
/// practice.
pub(super) async fn learned(
    app: &AppState,
    of: Of,
    subject: &Subject,
    classes: &[SoilClass],
) -> Result<Vec<LearnedClass>, ApiError> {
    if classes.is_empty() {
        return Ok(Vec::new());
    }
    let scope = Scope::of_practice(of.scope.practice_id);
    let figures = figures_in_force(&app.db, scope).await?;
    let this = season_of(&of.calendar, of.now);
    let learned = app.lessons.of(&app.db, scope, &figures, this).await?;
    let season = u16::try_from(of.season).unwrap_or(this);
    let planter = subject.named.clone().filter(|_| subject.of == ReportOf::Planter);
    let classes = classes.to_vec();
    let known = move |class: &SoilClass| line(&learned, *class, planter.as_ref(), season);
    let work = move || classes.iter().map(known).collect();
    spawn_blocking(work).await.map_err(ApiError::internal)
}

/// Nobody has the number 0: what is asked about is another field, behind another planter.
const ANOTHER: u128 = 0;

fn line(learned: &Learned, class: SoilClass, planter: Option<&Named>, season: u16) -> LearnedClass {
    let of_planter = planter.map_or(ANOTHER, |planter| planter.id);
    let place = Place { class, planter: of_planter, field: ANOTHER, season };
    let known = learned.posterior(&place);
    LearnedClass {
        planter: planter.cloned(),
        class,
        digs: if planter.is_some() { known.digs.planter } else { known.digs.class },
        before: learned.before_digs().range(),
        after: known.range(),
    }
}
