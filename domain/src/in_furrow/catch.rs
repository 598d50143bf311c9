//! The rate found by catching what comes out, and outlets that are off.

use super::flow::{FOOT, INCH, MPH, read};
use crate::provenance::{Coefficient, Coefficients, Input, Mark, Step, sources};
use crate::quantity::{Length, Measured, Ratio, Speed, Time, Volume, VolumePerArea};
use crate::stats;

/// Over which ground a catch stands for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CatchBasis {
    /// Caught while the planter drove a course.
    Course {
        /// Length of the course.
        length: Length,
    },
    /// Caught standing, over a time, for a speed.
    Timed {
        /// How long.
        time: Time,
        /// The speed at which the planter will drive.
        speed: Speed,
    },
}

impl CatchBasis {
    /// The length of row that the catch stands for.
    pub fn length(self) -> Length {
        match self {
            Self::Course { length } => length,
            Self::Timed { time, speed } => speed * time,
        }
    }
}

/// Why a catch tells nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum CatchError {
    /// No cup.
    #[error("catch under at least one outlet")]
    NoOutlet,
    /// No ground was covered.
    #[error("course and width must be above 0")]
    NoGround,
    /// All cups stayed dry.
    #[error("nothing came out of any outlet: open the valve, look at pump and strainers")]
    AllDry,
}

/// One outlet of a catch test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutletCatch {
    /// Its rate.
    pub rate: VolumePerArea,
    /// How far it is from the mean of all outlets, as a share; negative below.
    pub from_mean: Ratio,
    /// Whether that is farther than tolerated: clean or replace it.
    pub off: bool,
}

/// What a catch test says.
#[derive(Debug, Clone, PartialEq)]
pub struct CatchTest {
    /// Mean rate of all outlets.
    pub mean: VolumePerArea,
    /// Coefficient of variation from outlet to outlet; `None` with a single one.
    pub variation: Option<Ratio>,
    /// The outlets, in the order of the cups.
    pub outlets: Vec<OutletCatch>,
    /// The calculation.
    pub steps: Vec<Step>,
}

/// The rate from what was caught under each outlet: volume / (length x width).
///
/// `width` is the width that one outlet serves: the row or the band.
///
/// # Errors
/// Without a cup, without ground, or when all cups stayed dry.
pub fn catch_test(
    cups: &[Volume],
    basis: CatchBasis,
    width: Length,
    k: &Coefficients,
) -> Result<CatchTest, CatchError> {
    let ground = Some(basis.length().si() * width.si()).filter(|ground| *ground > 0.0);
    let ground = ground.ok_or(CatchError::NoGround)?;
    let rates: Vec<f64> = cups.iter().map(|cup| cup.si() / ground).collect();
    let mean = stats::mean(&rates).ok_or(CatchError::NoOutlet)?;
    let mean = Some(mean).filter(|mean| *mean > 0.0).ok_or(CatchError::AllDry)?;
    let tolerance = &k.outlet_tolerance;
    let outlets = rates.iter().map(|rate| OutletCatch::of(*rate, mean, tolerance)).collect();
    let variation = stats::sd(&rates).map(|sd| Ratio::from_si(sd / mean));
    let mean = VolumePerArea::from_si(mean);
    let steps = vec![rate_step(basis, width, mean), tolerance_step(mean, tolerance)];
    Ok(CatchTest { mean, variation, outlets, steps })
}

impl OutletCatch {
    fn of(rate: f64, mean: f64, tolerance: &Coefficient) -> Self {
        let from_mean = rate / mean - 1.0;
        Self {
            rate: VolumePerArea::from_si(rate),
            from_mean: Ratio::from_si(from_mean),
            // An outlet exactly at the limit passes, whatever its last binary digit is.
            off: from_mean.abs() > tolerance.value + 1e-9,
        }
    }
}

fn rate_step(basis: CatchBasis, width: Length, mean: VolumePerArea) -> Step {
    let caught: Volume = Volume::from_si(mean.si() * basis.length().si() * width.si());
    let mut inputs = vec![Input::new("V", read(caught, "[foz_us]"), "[foz_us]")];
    let formula = match basis {
        CatchBasis::Course { length } => {
            inputs.push(Input::new("L", length.si() / FOOT, "[ft_i]"));
            "4083.75 V / (L W)"
        }
        CatchBasis::Timed { time, speed } => {
            inputs.push(Input::new("v", speed.si() / MPH, "[mi_i]/h"));
            inputs.push(Input::new("t", time.si(), "s"));
            "4083.75 V / (1.46667 v t W)"
        }
    };
    inputs.push(Input::new("W", width.si() / INCH, "[in_i]"));
    Step {
        step: "rate from the mean catch".into(),
        formula: formula.into(),
        inputs,
        value: read(mean, "[gal_us]/[acr_us]"),
        unit: "[gal_us]/[acr_us]".into(),
        low: None,
        high: None,
        source: sources::FLOW_AND_LAND_RATE.into(),
        mark: Mark::Derived,
    }
}

fn tolerance_step(mean: VolumePerArea, tolerance: &Coefficient) -> Step {
    let rate = read(mean, "[gal_us]/[acr_us]");
    Step {
        step: "most that an outlet may miss the mean".into(),
        formula: "q R".into(),
        inputs: vec![
            Input::new("q", tolerance.value, "1"),
            Input::new("R", rate, "[gal_us]/[acr_us]"),
        ],
        value: tolerance.value * rate,
        unit: "[gal_us]/[acr_us]".into(),
        low: None,
        high: None,
        source: tolerance.source.clone(),
        mark: tolerance.mark,
    }
}
