//! What the advisor wants of a field.

use serde::{Deserialize, Serialize};

use super::seeding::SeedingGoal;
use super::work::Work;
use crate::in_furrow::InFurrowPlan;
use crate::planter::ClosingPair;
use crate::quantity::{Force, Length, Ratio, Speed};

/// Wishes that go before the engine's own choice.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Goals {
    /// A furrow depth that the advisor decided on.
    pub depth: Option<Length>,
    /// What the lever is to say, where a dig showed that it does not tell the truth; else the depth
    /// and what worn discs lose.
    #[serde(default)]
    pub lever: Option<Length>,
    /// The speed that the grower means to drive.
    pub speed: Option<Speed>,
    /// A down force that was decided after a dig.
    pub down_force: Option<Force>,
    /// Closing wheels that were decided after a dig.
    pub closing: Option<ClosingPair>,
    /// Share of the time that a wheel may lose contact, 0.01 to 0.15; the coefficient
    /// `contact_loss_aimed` when nobody chose one.
    #[serde(default)]
    pub contact_loss: Option<Ratio>,
    /// The stand or the rate that is wanted.
    pub seeding: Option<SeedingGoal>,
    /// How much is to be planted and how a day goes; assumed where it is not known.
    #[serde(default)]
    pub work: Option<Work>,
    /// A liquid for the furrow.
    #[serde(default)]
    pub in_furrow: Option<InFurrowPlan>,
    /// What else the grower is to do, in the advisor's words.
    pub instructions: Vec<String>,
}
