//! An item of the checklist.

use serde::{Deserialize, Serialize};

use super::needs::Needs;
use crate::planter::{ClosingPair, Planter};
use crate::provenance::Mark;
use crate::quantity::{Area, Bound, Length};
use crate::settings::Caution;

/// An item of the checklist.
#[derive(Debug, Clone, Copy)]
pub struct Item {
    /// Its name for programs.
    pub code: ItemCode,
    /// Its name for people.
    pub name: &'static str,
    /// What to look at, and how.
    pub look: &'static str,
    /// When it passes.
    pub pass: &'static str,
    /// When to keep an eye on it.
    pub watch: &'static str,
    /// When to replace or mend it.
    pub replace: &'static str,
    /// Whether each row is looked at by itself.
    pub per_row: bool,
    /// What the planter must have for it.
    pub needs: Needs,
    /// What can be measured.
    pub measure: Option<Measure>,
    /// What is to be done where it is found bad.
    pub action: Action,
    /// How it is known.
    pub mark: Mark,
    /// Where it stands.
    pub source: &'static str,
    /// What can hurt somebody here.
    pub cautions: &'static [Caution],
}

/// What can be measured at an item.
#[derive(Debug, Clone, Copy)]
pub enum Measure {
    /// A length that changes as the part wears.
    Wear(Bound<Length>),
    /// A length that is set and does not wear.
    Set(Bound<Length>),
    /// Area planted since it was last done.
    Since(Bound<Area>),
}

/// What is to be done where an item is found bad.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Action {
    /// Buy a part, so many for each row; once for the planter where the item is not per row.
    Buy {
        /// What to ask for.
        part: &'static str,
        /// How many for each row.
        each: u16,
    },
    /// Closing wheels with spikes or fingers: one or two a row, as the planter has them.
    BuySpikedWheels,
    /// Have something done to a part, once for each row.
    Service(&'static str),
    /// Set or tighten something; nothing to buy at first.
    Adjust(&'static str),
}

impl Action {
    /// How many parts each row takes on this planter; `None` where nothing is bought.
    pub fn each(self, planter: &Planter) -> Option<u16> {
        match self {
            Self::Buy { each, .. } => Some(each),
            Self::BuySpikedWheels => Some(match planter.unit.closing {
                ClosingPair::SpikedAndRubber => 1,
                ClosingPair::TwoSpiked
                | ClosingPair::Finger
                | ClosingPair::Rubber
                | ClosingPair::CastIron => 2,
            }),
            Self::Service(_) | Self::Adjust(_) => None,
        }
    }

    /// What to ask for, or what to do.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Buy { part, .. } => part,
            Self::BuySpikedWheels => "closing wheel, spiked or finger",
            Self::Service(words) | Self::Adjust(words) => words,
        }
    }
}

macro_rules! codes {
    ($($(#[doc = $doc:literal])* $name:ident $wire:literal;)*) => {
        /// The items of the checklist, front to back.
        #[derive(
            Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
        )]
        #[serde(rename_all = "snake_case")]
        pub enum ItemCode {
            $($(#[doc = $doc])* $name,)*
        }

        impl ItemCode {
            /// All of them, front to back.
            pub const ALL: &'static [Self] = &[$(Self::$name),*];

            /// The name on the wire.
            pub const fn code(self) -> &'static str {
                match self { $(Self::$name => $wire,)* }
            }

            /// The item of this name.
            pub fn named(code: &str) -> Option<Self> {
                match code { $($wire => Some(Self::$name),)* _ => None }
            }
        }
    };
}

codes! {
    /// Height of the bar over the ground.
    ToolbarHeight "toolbar_height";
    /// Level of the bar, and hitch.
    HitchLevel "hitch_level";
    /// Lift, wings and their level.
    LiftAndWings "lift_and_wings";
    /// Tyres of the planter.
    TyrePressure "tyre_pressure";
    /// Wheels that drive the meters.
    DriveWheels "drive_wheels";
    /// Wiring, plugs and speed sensor.
    Wiring "wiring";
    /// Springs that add down force.
    DownForceSprings "down_force_springs";
    /// Air bags.
    DownForceBags "down_force_bags";
    /// Hydraulic cylinders on the units.
    DownForceCylinders "down_force_cylinders";
    /// Play of the parallel arms up and down.
    ArmPlayVertical "arm_play_vertical";
    /// Play of the parallel arms sideways.
    ArmPlayHorizontal "arm_play_horizontal";
    /// Bolts, bushings and holes of the parallel arms.
    ArmBolts "arm_bolts";
    /// Row cleaner.
    RowCleaner "row_cleaner";
    /// Diameter of the coulter.
    CoulterDiameter "coulter_diameter";
    /// Height of the coulter's edge over the opener's.
    CoulterHeight "coulter_height";
    /// Line and bearing of the coulter.
    CoulterLine "coulter_line";
    /// Diameter of the opener discs.
    OpenerDiameter "opener_diameter";
    /// Contact length of the opener discs.
    OpenerContact "opener_contact";
    /// Contact of discs of which one leads.
    OpenerLeadingEdge "opener_leading_edge";
    /// Bearings of the opener discs.
    OpenerBearings "opener_bearings";
    /// Scrapers of the opener discs.
    OpenerScrapers "opener_scrapers";
    /// Fit of the gauge wheels to the discs.
    GaugeWheelFit "gauge_wheel_fit";
    /// Play of the gauge-wheel arms.
    GaugeWheelArmPlay "gauge_wheel_arm_play";
    /// Depth stops.
    DepthStops "depth_stops";
    /// Seed tube and its guard.
    SeedTube "seed_tube";
    /// Seed sensor.
    SeedSensor "seed_sensor";
    /// What presses the seed into the furrow.
    Firmer "firmer";
    /// Seed meter.
    SeedMeter "seed_meter";
    /// Belts and brushes of the meter.
    MeterBrushes "meter_brushes";
    /// Vacuum and its hoses.
    Vacuum "vacuum";
    /// Chains, cables and shafts that drive the meters.
    DriveChains "drive_chains";
    /// Bushings of the closing arm.
    ClosingArm "closing_arm";
    /// Line of the closing wheels.
    ClosingCentring "closing_centring";
    /// Gap between smooth closing wheels.
    ClosingGap "closing_gap";
    /// Diameter of spiked closing wheels.
    ClosingDiameter "closing_diameter";
    /// Springs of the closing wheels.
    ClosingSpring "closing_spring";
}

impl ItemCode {
    /// What the table says of it.
    pub fn item(self) -> Option<&'static Item> {
        super::table::ITEMS.iter().find(|item| item.code == self)
    }
}
