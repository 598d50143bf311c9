//! What runs through one outlet, and what a cup under it catches.

use serde::{Deserialize, Serialize};

use crate::provenance::{Input, Mark, Step, sources};
use crate::quantity::{Flow, Length, Measured, Speed, Time, Volume, VolumePerArea, unit};

pub(super) const INCH: f64 = 0.0254;
pub(super) const FOOT: f64 = 0.3048;
pub(super) const MPH: f64 = 0.447_04;
/// Courses are a 128th of an acre long: a gallon has 128 fluid ounces, so ounces caught are gallons
/// an acre.
const COURSES_PER_ACRE: f64 = 128.0;

/// A value of SI in the unit of this code.
pub(super) fn read<Q: Measured>(quantity: Q, code: &str) -> f64 {
    unit(code).map_or_else(|| quantity.si(), |u| u.read(quantity))
}

/// A quantity of so many of the unit of this code.
pub(super) fn of<Q: Measured>(value: f64, code: &str) -> Q {
    Q::from_si(unit(code).map_or(value, |u| u.to_si(value)))
}

/// Flow through one outlet: rate x speed x width (gal/ac x mph x in / 5,940 in gal/min).
///
/// `width` is the width that the outlet serves: the row, where each row has one outlet. In metric
/// units L/ha x km/h x m / 600 in L/min.
pub fn outlet_flow(rate: VolumePerArea, speed: Speed, width: Length) -> (Flow, Step) {
    let flow = Flow::from_si(rate.si() * speed.si() * width.si());
    let step = Step {
        step: "flow through an outlet".into(),
        formula: "R v W / 5940".into(),
        inputs: vec![
            Input::new("R", read(rate, "[gal_us]/[acr_us]"), "[gal_us]/[acr_us]"),
            Input::new("v", speed.si() / MPH, "[mi_i]/h"),
            Input::new("W", width.si() / INCH, "[in_i]"),
        ],
        value: read(flow, "[gal_us]/min"),
        unit: "[gal_us]/min".into(),
        low: None,
        high: None,
        source: sources::FLOW_AND_LAND_RATE.into(),
        mark: Mark::Derived,
    };
    (flow, step)
}

/// The rate that a flow through each outlet makes; `None` where no ground is covered.
pub fn flow_rate(flow: Flow, speed: Speed, width: Length) -> Option<VolumePerArea> {
    let ground = speed.si() * width.si();
    (ground > 0.0).then(|| VolumePerArea::from_si(flow.si() / ground))
}

/// What a flow fills in a time.
pub fn caught(flow: Flow, time: Time) -> Volume {
    flow * time
}

/// Length of row that is a 128th of an acre at this width (4,083.75 / in, in ft); `None` without
/// a width.
pub fn course_length(width: Length) -> Option<(Length, Step)> {
    let width = Some(width).filter(|width| width.si() > 0.0)?;
    let acre = unit("[acr_us]").map_or(0.0, |u| u.to_si(1.0));
    let length = Length::from_si(acre / COURSES_PER_ACRE / width.si());
    let step = Step {
        step: "course of a 128th of an acre".into(),
        formula: "4083.75 / W".into(),
        inputs: vec![Input::new("W", width.si() / INCH, "[in_i]")],
        value: length.si() / FOOT,
        unit: "[ft_i]".into(),
        low: None,
        high: None,
        source: sources::COURSE_128TH.into(),
        mark: Mark::Read,
    };
    Some((length, step))
}

/// Time to drive a course; `None` where the planter stands.
pub fn course_time(length: Length, speed: Speed) -> Option<Time> {
    (speed.si() > 0.0).then(|| length / speed)
}

/// What to set and to catch at one outlet.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct OutletSetting {
    /// The speed that it is for.
    pub speed: Speed,
    /// Flow through each outlet.
    pub flow: Flow,
    /// What a cup catches in a minute.
    pub in_a_minute: Volume,
    /// Row that is a 128th of an acre.
    pub course: Length,
    /// Time to drive it at this speed.
    pub course_time: Time,
    /// What a cup catches in that time: as many fluid ounces as the rate has gallons an acre.
    pub on_course: Volume,
}

/// The flow of each outlet and what to catch, with the calculation.
///
/// `None` where width or speed is not above 0.
pub fn outlet_setting(
    rate: VolumePerArea,
    speed: Speed,
    width: Length,
) -> Option<(OutletSetting, Vec<Step>)> {
    let (flow, flow_step) = outlet_flow(rate, speed, width);
    let (course, course_step) = course_length(width)?;
    let course_time = course_time(course, speed)?;
    let setting = OutletSetting {
        speed,
        flow,
        in_a_minute: caught(flow, of(1.0, "min")),
        course,
        course_time,
        on_course: caught(flow, course_time),
    };
    let steps = vec![flow_step, minute_step(&setting), course_step, time_step(&setting)];
    Some((setting, steps))
}

fn minute_step(setting: &OutletSetting) -> Step {
    Step {
        step: "catch of a minute".into(),
        formula: "128 q".into(),
        inputs: vec![Input::new("q", read(setting.flow, "[gal_us]/min"), "[gal_us]/min")],
        value: read(setting.in_a_minute, "[foz_us]"),
        unit: "[foz_us]".into(),
        low: None,
        high: None,
        source: sources::DEFINITION.into(),
        mark: Mark::Derived,
    }
}

fn time_step(setting: &OutletSetting) -> Step {
    Step {
        step: "time for the course".into(),
        formula: "L / (1.46667 v)".into(),
        inputs: vec![
            Input::new("L", setting.course.si() / FOOT, "[ft_i]"),
            Input::new("v", setting.speed.si() / MPH, "[mi_i]/h"),
        ],
        value: setting.course_time.si(),
        unit: "s".into(),
        low: None,
        high: None,
        source: sources::DEFINITION.into(),
        mark: Mark::Derived,
    }
}
