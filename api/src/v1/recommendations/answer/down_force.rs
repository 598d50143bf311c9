//! Down force in the caller's units.

use domain::planter::Setting;
use domain::settings::{BoxState, DownForceAdvice, LoadWindow, Reach};
use serde::Serialize;
use utoipa::ToSchema;

use super::{ForceOut, FrameOut, HopperOut, SoilOut, SourceOut, example_at};
use crate::http::quantity::Quantity;
use crate::v1::recommendations::show::{Show, share};
use crate::v1::recommendations::words::HopperFill;

/// The down force on each row, how to set it, and how sure it is.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/down_force"))))]
pub struct DownForceOut {
    /// The force to set on each row.
    pub per_row: Quantity,
    /// The force that the likely figures ask for with the hopper half full: the sum of the trace.
    pub need: Quantity,
    /// Low end (5 %) of what may be needed.
    pub need_low: Quantity,
    /// High end (95 %) of what may be needed.
    pub need_high: Quantity,
    /// Chance, 0 to 1, that the load on the gauge wheels lies in the window with this setting.
    #[schema(minimum = 0, maximum = 1, example = 0.3)]
    pub chance_in_window: f64,
    /// The window.
    pub window: WindowOut,
    /// How to get the force on this planter.
    pub set_on_planter: SetOnPlanter,
    /// Whether the planter can do what is needed.
    pub reach: ReachOut,
    /// What the gauge wheels carry as the hopper empties.
    #[schema(max_items = 3)]
    pub as_box_empties: Vec<BoxStateOut>,
    /// Whether one setting serves full and empty hoppers, and what to change where it does not;
    /// absent when the seed is carried on the frame.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub hopper: Option<HopperOut>,
    /// What the source gives beside what is needed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub source: Option<SourceOut>,
    /// Whether the frame has the weight to push against.
    pub frame: FrameOut,
    /// How hard the soil is, and how that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub soil: Option<SoilOut>,
    /// Every force on a row with its range.
    #[schema(max_items = 100)]
    pub forces: Vec<ForceOut>,
}

impl DownForceOut {
    /// In these units.
    pub(super) fn of(advice: &DownForceAdvice, show: Show) -> Self {
        Self {
            per_row: show.down_force(advice.per_row),
            need: show.down_force(advice.need),
            need_low: show.down_force(advice.need_low),
            need_high: show.down_force(advice.need_high),
            chance_in_window: share(advice.chance_in_window),
            window: WindowOut::of(&advice.window, show),
            set_on_planter: SetOnPlanter::of(&advice.setting, show),
            reach: ReachOut::of(&advice.reach, show),
            as_box_empties: advice
                .as_box_empties
                .iter()
                .map(|state| BoxStateOut::of(state, show))
                .collect(),
            hopper: advice.hopper.as_ref().map(|it| HopperOut::of(it, show)),
            source: advice.source.as_ref().map(|it| SourceOut::of(it, show)),
            frame: FrameOut::of(advice, show),
            soil: advice.soil.map(SoilOut::of),
            forces: advice.forces.iter().map(|it| ForceOut::of(it, show)).collect(),
        }
    }
}

/// The load on the gauge wheels: heavy enough to stay down, light enough not to smear the wall.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/down_force/window"))))]
pub struct WindowOut {
    /// Low end of the window.
    pub low: Quantity,
    /// Load at which wheels leave the ground as often as is tolerated.
    pub contact: Quantity,
    /// The load to aim at.
    pub aim: Quantity,
    /// Most that soil of this moisture bears.
    pub ceiling: Quantity,
    /// Whether there is room between contact and smearing. Without room no force is right: slow
    /// down or wait.
    pub room: bool,
    /// How far the edges may lie from the figures shown, and the chances of losing contact that
    /// they stand for.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub edges: Option<WindowEdgesOut>,
}

/// How sure the edges of the window are.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/down_force/window/edges"))))]
pub struct WindowEdgesOut {
    /// Share of the time, 0 to 1, that a wheel may be off the ground at the load to aim at.
    #[schema(minimum = 0, maximum = 1, example = 0.05)]
    pub aimed_loss: f64,
    /// The same at the low end of the window.
    #[schema(minimum = 0, maximum = 1, example = 0.1)]
    pub tolerated_loss: f64,
    /// 5 % of what the low end may be.
    pub low_from: Quantity,
    /// 95 % of what the low end may be.
    pub low_to: Quantity,
    /// 5 % of what the soil may bear.
    pub ceiling_from: Quantity,
    /// 95 % of what the soil may bear.
    pub ceiling_to: Quantity,
}

impl WindowOut {
    fn of(window: &LoadWindow, show: Show) -> Self {
        Self {
            low: show.load(window.low),
            contact: show.load(window.contact),
            aim: show.load(window.aim),
            ceiling: show.load(window.ceiling),
            room: window.room,
            edges: window.edges.map(|edges| WindowEdgesOut {
                aimed_loss: share(edges.aimed_loss),
                tolerated_loss: share(edges.tolerated_loss),
                low_from: show.load(edges.low_from),
                low_to: show.load(edges.low_to),
                ceiling_from: show.load(edges.ceiling_from),
                ceiling_to: show.load(edges.ceiling_to),
            }),
        }
    }
}

/// How to get a force on this planter.
#[derive(Debug, Serialize, ToSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
#[schema(examples(json!(example_at("/settings/down_force/set_on_planter"))))]
pub enum SetOnPlanter {
    /// The weight of the unit alone: nothing to set.
    WeightOnly {},
    /// A spring notch.
    Notch {
        /// What is written on the bracket.
        label: String,
    },
    /// A gauge pressure.
    Pressure {
        /// The pressure.
        pressure: Quantity,
        /// How the pressure follows from the force.
        from: String,
    },
    /// The up-lift of a hydraulic system.
    Lift {
        /// How much of the unit's weight to take off.
        force: Quantity,
    },
    /// The force is known, the setting is not: calibrate first.
    Uncalibrated {},
}

impl SetOnPlanter {
    /// In these units.
    pub fn of(setting: &Setting, show: Show) -> Self {
        match setting {
            Setting::WeightOnly => Self::WeightOnly {},
            Setting::Notch { label } => Self::Notch { label: label.clone() },
            Setting::Pressure { pressure, from } => {
                Self::Pressure { pressure: show.pressure(*pressure), from: from.clone() }
            }
            Setting::Lift { force } => Self::Lift { force: show.down_force(*force) },
            Setting::Uncalibrated => Self::Uncalibrated {},
        }
    }
}

/// Whether the planter can do what is needed.
#[derive(Debug, Serialize, ToSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
#[schema(examples(json!(example_at("/settings/down_force/reach"))))]
pub enum ReachOut {
    /// It can.
    Within {},
    /// The source, or the frame, does not give enough.
    TooLittle {
        /// What is missing on each row.
        short_by: Quantity,
        /// Whether the frame is the limit rather than the source.
        frame_is_the_limit: bool,
        /// Whether the unit rides out even at the limit.
        rides_out: bool,
    },
    /// The unit is too heavy even with the least force.
    TooMuch {
        /// What is too much on each row, hopper half full.
        over_by: Quantity,
    },
}

impl ReachOut {
    fn of(reach: &Reach, show: Show) -> Self {
        match reach {
            Reach::Within => Self::Within {},
            Reach::TooLittle { short_by, frame_is_the_limit, rides_out } => Self::TooLittle {
                short_by: show.down_force(*short_by),
                frame_is_the_limit: *frame_is_the_limit,
                rides_out: *rides_out,
            },
            Reach::TooMuch { over_by } => Self::TooMuch { over_by: show.down_force(*over_by) },
        }
    }
}

/// The load on the gauge wheels of a row at one level of its hopper.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/down_force/as_box_empties/0"))))]
pub struct BoxStateOut {
    /// How full.
    pub hopper: HopperFill,
    /// The likely load; 0 when the unit rides out.
    pub load: Quantity,
    /// Low end (5 %) of what it may be.
    pub load_low: Quantity,
    /// High end (95 %) of what it may be.
    pub load_high: Quantity,
    /// Share of the time, 0 to 1, that a wheel may be off the ground at the likely load.
    #[schema(minimum = 0, maximum = 1, example = 0.05)]
    pub contact_loss: f64,
    /// What to do about it, where something is to be done.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        example = "light: raise one step or refill before the hopper runs low"
    )]
    pub note: Option<String>,
}

impl BoxStateOut {
    fn of(state: &BoxState, show: Show) -> Self {
        Self {
            hopper: state.fill.into(),
            load: show.load(state.load),
            load_low: show.load(state.load_low),
            load_high: show.load(state.load_high),
            contact_loss: share(state.contact_loss),
            note: state.note.as_ref().map(ToString::to_string),
        }
    }
}
