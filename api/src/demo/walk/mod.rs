//! The main job, told step by step through the service, each step checked.
//!
//! What is checked are relations: what comes back is what was sent, the pressure is on the measured
//! line, the seed lies deeper after the change. No number of the engine is written down here.

mod advice;
mod attention;
mod cast;
mod digging;
mod known;
mod office;
mod paper;
mod refusals;
mod report;
mod season;
mod season_figures;
mod season_papers;
mod shed;
mod stands;
mod trials;

use std::io::Write;
use std::sync::Arc;

use super::error::Result;
use crate::app::Running;
use crate::clock::FixedClock;
use cast::Cast;
use report::Report;

pub use report::Outcome;

/// Tells the walk to a running service with an empty database.
pub(super) async fn tell(
    running: &Running,
    clock: Arc<FixedClock>,
    out: &mut (dyn Write + Send),
) -> Result<Outcome> {
    writeln!(out, "One field from the planter in the shed to seed at depth, over HTTP against")?;
    writeln!(out, "http://{}. People, land and planter are invented.", running.address)?;
    let mut report = Report::new(out);
    let cast = Cast::gather(running, clock, &mut report).await?;
    let planter = known::planter(&cast, &mut report).await?;
    shed::looked_at(&cast, &planter, &mut report).await?;
    let field = known::field(&cast, &mut report).await?;
    known::conditions(&cast, &field, &mut report).await?;
    let sheet = advice::sheet(&cast, (&field, &planter), &mut report).await?;
    shed::flagged(&cast, (&planter, &sheet), &mut report).await?;
    let sheet = advice::issue(&cast, &sheet, &mut report).await?;
    let hidden = digging::Hidden::behind(&cast, &sheet)?;
    let sheet = digging::until_settled(&cast, &hidden, sheet, &mut report).await?;
    paper::sheet(&cast, &sheet, &mut report).await?;
    paper::timeline(&cast, &field, &mut report).await?;
    season::after_a_break(&cast);
    season::goes_on(&cast, &planter, &hidden, &mut report).await?;
    trials::tried(&cast, (&field, &planter), &hidden, &mut report).await?;
    refusals::tried(&cast, (&field, sheet.text("/id")?), &mut report).await?;
    attention::on_a_monday(&cast, &planter, &mut report).await?;
    stands::counted(&cast, (&field, &planter), (&hidden, &sheet), &mut report).await?;
    shed::looked_at_again(&cast, &planter, &mut report).await?;
    season_figures::counted(&cast, &mut report).await?;
    season_papers::fetched(&cast, &mut report).await?;
    office::linked(&cast, running, sheet.text("/id")?, &mut report).await?;
    report.end()
}
