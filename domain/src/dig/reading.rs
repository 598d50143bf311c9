//! What was read on one row.

use serde::{Deserialize, Serialize};

use crate::quantity::{Force, Length, Measured, Ratio};

/// What a tape laid along a row leaves open: this share of the stretch, and an inch at least.
pub const TAPE_SHARE: f64 = 0.02;
const INCH: f64 = 0.0254;

/// One row of a dig. What was not looked at stays empty.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct RowReading {
    /// The row, counted from 1 at the left end.
    pub row: u16,
    /// Whether it runs behind a tractor or planter tyre.
    pub behind_tyre: bool,
    /// Whether it is one of the outer rows of the bar.
    pub outer: bool,
    /// Depth of each seed that was found, from the soil surface under the residue.
    pub seed_depths: Vec<Length>,
    /// Distance from seed to seed along the row.
    pub spacings: Vec<Length>,
    /// Length of row that was opened for the spacings.
    #[serde(default)]
    pub stretch: Option<Length>,
    /// How the gauge wheels turn by hand, planter down.
    pub gauge_wheels: Option<WheelFeel>,
    /// Load on the gauge wheels, where it was logged.
    pub logged_load: Option<LoggedLoad>,
    /// The print that the gauge wheels leave.
    pub print: Option<PrintDepth>,
    /// The wall of the furrow.
    pub wall: Option<Wall>,
    /// The bottom of the furrow.
    pub bottom: Option<Bottom>,
    /// Whether straw or cover is tucked into the furrow.
    pub residue_in_furrow: Option<bool>,
    /// Whether the seed lies on the bottom of the furrow.
    pub seed_on_bottom: Option<bool>,
    /// How the furrow is closed.
    pub closed: Option<Closure>,
    /// Whether the soil around the seed is moist.
    pub moist_at_seed: Option<bool>,
    /// How the row cleaner runs.
    pub cleaner: Option<CleanerRunning>,
}

impl RowReading {
    /// A row of which nothing is known yet.
    pub fn of(row: u16) -> Self {
        Self { row, ..Self::default() }
    }

    /// Whether wheels spin free beside a deep print. A wheel that carries nothing presses no print: the
    /// print is the safer reading, since force that is missing can be added after the next dig, and
    /// a pressed wall cannot be mended.
    pub fn contradicts_itself(&self) -> bool {
        self.gauge_wheels == Some(WheelFeel::SpinFree) && self.print == Some(PrintDepth::Deep)
    }

    /// Whether anything at all was read.
    pub fn is_empty(&self) -> bool {
        self.seed_depths.is_empty()
            && self.spacings.is_empty()
            && self.gauge_wheels.is_none()
            && self.logged_load.is_none()
            && self.print.is_none()
            && self.wall.is_none()
            && self.bottom.is_none()
            && self.residue_in_furrow.is_none()
            && self.seed_on_bottom.is_none()
            && self.closed.is_none()
            && self.moist_at_seed.is_none()
            && self.cleaner.is_none()
    }

    /// The longest that the spacings of a stretch may add up to.
    pub fn longest_sum(stretch: Length) -> Length {
        let tape = (stretch.si() * TAPE_SHARE).max(INCH);
        Length::from_si(stretch.si() + tape)
    }

    /// The sum of the spacings, where it does not fit into the stretch that was opened for them.
    pub fn beyond_stretch(&self) -> Option<(Length, Length)> {
        let stretch = self.stretch?;
        let sum = Length::from_si(self.spacings.iter().map(|it| it.si()).sum());
        (sum > Self::longest_sum(stretch)).then_some((sum, stretch))
    }
}

/// How gauge wheels turn by hand with the planter down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum WheelFeel {
    /// They spin: they carry nothing.
    SpinFree,
    /// They turn about a quarter turn with effort.
    TurnWithEffort,
    /// They cannot be turned.
    Locked,
}

/// Load on the gauge wheels of a row, as logged over some distance.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LoggedLoad {
    /// The mean.
    pub mean: Force,
    /// The standard deviation along the row.
    pub sd: Option<Force>,
    /// Share of the time with the wheels on the ground.
    pub contact: Option<Ratio>,
}

/// The print of the gauge wheels beside the furrow.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PrintDepth {
    /// None to be seen.
    None,
    /// The tread shows.
    Light,
    /// Pressed in.
    Deep,
}

/// The wall of the furrow.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Wall {
    /// Falls apart between the fingers.
    Crumbly,
    /// Smooth, but breaks.
    Smooth,
    /// Smeared and shiny.
    Shiny,
}

/// The bottom of the furrow, seen across the row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Bottom {
    /// One clean V.
    V,
    /// Two grooves with a ridge between them.
    W,
}

/// How the furrow is closed over the seed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Closure {
    /// Closed, opens easily with a small tool.
    Closed,
    /// Open: the seed or the slot can be seen.
    Open,
    /// Packed into clods or a hard crust over the seed.
    OverPacked,
}

/// How the row cleaner runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CleanerRunning {
    /// Just brushes the residue aside.
    JustBrushing,
    /// Digs below the soil surface.
    BelowSurface,
    /// Wrapped with cover or residue.
    Wrapped,
}
