//! From a sheet to the planter: how a grower who does what the sheet says sets it.

use domain::planter::ClosingPair;

use crate::demo::client::Body;
use crate::demo::error::Result;
use crate::demo::scenario::make_up::{Hopper, PlanterPlan};
use crate::demo::truth::InUse;

const INCH: f64 = 0.0254;

/// How the planter stands when a sheet is followed.
pub(in crate::demo) fn in_use(sheet: &Body, planter: &PlanterPlan, fill: f64) -> Result<InUse> {
    let lost = sheet.si("/settings/depth/lever_depth")? - sheet.si("/settings/depth/value")?;
    let notch = sheet.si("/settings/depth/lever/depth").ok().map(|depth| depth + lost);
    Ok(InUse {
        force: sheet.si("/settings/down_force/per_row")?,
        lever: match notch {
            Some(lever) => lever,
            None => sheet.si("/settings/depth/lever_depth")?,
        },
        speed: sheet.si("/settings/speed/value")? * 3.6,
        fill: if planter.hopper == Hopper::Central { 0.0 } else { fill },
        spacing: sheet.si("/settings/seeding/spacing").unwrap_or(6.0 * INCH),
        closing: closing(sheet, planter),
    })
}

/// The pair that was decided on, the advised pair where it hangs in the shed, else what is fitted.
fn closing(sheet: &Body, planter: &PlanterPlan) -> ClosingPair {
    let pair = |pointer: &str| {
        let word = sheet.json.pointer(pointer).cloned();
        word.and_then(|word| serde_json::from_value::<ClosingPair>(word).ok())
    };
    let advised = pair("/settings/closing/pair").filter(|it| planter.closing_owned.contains(it));
    pair("/goals/closing").or(advised).unwrap_or(planter.closing)
}
