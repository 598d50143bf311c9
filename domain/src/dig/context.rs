//! What a dig is judged against: planter, field, and the settings that were advised.

use super::decision::Memory;
use super::observation::Observation;
use super::statistics::Wanted;
use crate::conditions::Conditions;
use crate::learning::{Learned, Place};
use crate::planter::Planter;
use crate::provenance::Coefficients;
use crate::quantity::{Force, Length, Measured, Speed};
use crate::settings::{Inputs, LoadWindow, Recommendation};

/// The case of a dig.
#[derive(Debug, Clone, Copy)]
pub struct Context<'a> {
    /// The planter.
    pub planter: &'a Planter,
    /// The field as it was reported.
    pub conditions: &'a Conditions,
    /// The coefficients in force.
    pub coefficients: &'a Coefficients,
    /// The depth that was advised.
    pub depth_target: Length,
    /// What the lever was to say for it; what the grower reports wins.
    pub lever: Length,
    /// How far from it a seed may lie.
    pub tolerance: Length,
    /// The deepest that is safe here.
    pub deepest: Length,
    /// The distance from seed to seed that was advised, where there is one.
    pub spacing_target: Option<Length>,
    /// The down force that was advised; what the grower reports as set wins.
    pub down_force: Force,
    /// The speed that was advised; what the grower reports as driven wins.
    pub speed: Speed,
    /// The most down force per row that the frame holds, where its weights are known.
    pub frame_most: Option<Force>,
    /// The window in which the gauge-wheel load should be.
    pub window: LoadWindow,
    /// What earlier digs taught; none for a dig that stands alone.
    pub memory: Option<Memory<'a>>,
}

impl<'a> Context<'a> {
    /// The case of a sheet: what was advised for `inputs`.
    pub fn of_sheet(
        inputs: &'a Inputs,
        sheet: &Recommendation,
        coefficients: &'a Coefficients,
    ) -> Self {
        let force = &sheet.down_force;
        let set_for_wear = sheet.depth_used + inputs.planter.unit.opener.depth_lost();
        let frame_most = force.sections.iter().map(|s| s.most_per_row.si()).reduce(f64::min);
        Self {
            planter: &inputs.planter,
            conditions: &inputs.field,
            coefficients,
            depth_target: sheet.depth_used,
            lever: inputs.goals.lever.unwrap_or(set_for_wear),
            tolerance: Length::from_si(coefficients.depth_tolerance.value * 0.0254),
            deepest: sheet.depth.choice.safe_high,
            spacing_target: sheet.seeding.as_ref().map(|s| s.choice.spacing),
            down_force: force.per_row,
            speed: sheet.speed.choice.start,
            frame_most: frame_most.map(|most| Force::from_si(most.max(0.0))),
            window: force.window,
            memory: None,
        }
    }

    /// The same with what earlier digs taught, for a dig of that place.
    #[must_use]
    pub fn learning(self, learned: &'a Learned, place: Place, dig: u128) -> Self {
        Self { memory: Some(Memory { learned, place, dig }), ..self }
    }

    pub(super) fn wanted(&self) -> Wanted {
        Wanted {
            depth: self.depth_target,
            tolerance: self.tolerance,
            spacing: self.spacing_target,
            row_width: self.planter.row_width,
            rows: self.planter.rows,
            crop: self.conditions.crop,
        }
    }

    /// Down force while the dug rows were planted.
    pub(crate) fn force_in_use(&self, dig: &Observation) -> Force {
        dig.settings().down_force.unwrap_or(self.down_force)
    }

    /// Speed while the dug rows were planted.
    pub(crate) fn speed_in_use(&self, dig: &Observation) -> Speed {
        dig.settings().speed.unwrap_or(self.speed)
    }

    /// Depth that the lever stood for; where nobody said, as advised.
    pub(crate) fn lever_in_use(&self, dig: &Observation) -> Length {
        dig.settings().lever_depth.unwrap_or(self.lever)
    }
}
