//! The figures of a settings sheet in SI, as every form takes them.

use domain::conditions::Crop;
use domain::in_furrow::{InFurrowProduct, InFurrowVerdict};
use domain::planter::Setting;
use domain::quantity::Measured;
use domain::settings::{Inputs, Recommendation};

/// A liquid that runs in the furrow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Liquid {
    /// All liquid, m³/m².
    pub rate: f64,
    /// What it is.
    pub kind: LiquidKind,
}

/// What runs in the furrow.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LiquidKind {
    /// Starter fertilizer.
    Starter,
    /// Live rhizobia.
    Inoculant,
    /// Anything else.
    ByLabel,
}

impl LiquidKind {
    /// Its name: a sheet knows no product by its trade name.
    pub fn name(self) -> &'static str {
        match self {
            Self::Starter => "Starter fertilizer",
            Self::Inoculant => "Inoculant",
            Self::ByLabel => "Product in the furrow",
        }
    }
}

impl From<&InFurrowProduct> for LiquidKind {
    fn from(product: &InFurrowProduct) -> Self {
        match product {
            InFurrowProduct::Starter { .. } => Self::Starter,
            InFurrowProduct::Inoculant { .. } => Self::Inoculant,
            InFurrowProduct::ByLabel => Self::ByLabel,
        }
    }
}

/// What a sheet says in numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// The crop.
    pub crop: Crop,
    /// Seeds, /m².
    pub seeds: Option<f64>,
    /// Distance from seed to seed, m.
    pub seed_spacing: Option<f64>,
    /// Depth of the seed, m.
    pub depth: f64,
    /// What the depth lever must say, m.
    pub lever: f64,
    /// Down force on each row, N; negative is lift.
    pub down_force: f64,
    /// The pressure that gives it, Pa, where the planter takes one.
    pub pressure: Option<f64>,
    /// The window of the load on the gauge wheels of a row, N: low, aim, high.
    pub load: [f64; 3],
    /// Speed, m/s.
    pub speed: f64,
    /// Distance between rows, m.
    pub row_spacing: f64,
    /// How much higher the coulter runs than the opener, m, where it runs.
    pub coulter: Option<f64>,
    /// The liquid in the furrow, where one runs.
    pub liquid: Option<Liquid>,
}

impl Settings {
    /// Of a sheet as it was worked out.
    pub fn of(inputs: &Inputs, worked: &Recommendation) -> Self {
        let used = worked.depth_used;
        let lost = inputs.planter.unit.opener.depth_lost();
        let seeding = worked.seeding.as_ref().map(|it| &it.choice);
        let force = &worked.down_force;
        let window = &force.window;
        Self {
            crop: inputs.field.crop,
            seeds: seeding.map(|it| it.rate.si()),
            seed_spacing: seeding.map(|it| it.spacing.si()),
            depth: used.si(),
            lever: inputs.goals.lever.unwrap_or(used + lost).si(),
            down_force: force.per_row.si(),
            pressure: match &force.setting {
                Setting::Pressure { pressure, .. } => Some(pressure.si()),
                Setting::WeightOnly
                | Setting::Notch { .. }
                | Setting::Lift { .. }
                | Setting::Uncalibrated => None,
            },
            load: [window.low.si(), window.aim.si(), window.ceiling.si()],
            speed: worked.speed.choice.start.si(),
            row_spacing: inputs.planter.row_width.si(),
            coulter: worked.coulter.choice.above_opener.map(Measured::si),
            liquid: liquid(inputs, worked),
        }
    }
}

/// What must not run has no rate.
fn liquid(inputs: &Inputs, worked: &Recommendation) -> Option<Liquid> {
    let plan = inputs.goals.in_furrow.as_ref()?;
    let advice = &worked.in_furrow.as_ref()?.choice;
    if advice.verdict == InFurrowVerdict::Stop {
        return None;
    }
    Some(Liquid { rate: advice.rate?.si(), kind: (&plan.product).into() })
}
