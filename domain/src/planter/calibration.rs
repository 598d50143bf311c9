//! Force at the gauge wheels against pressure, measured on this planter.
//!
//! Two points give a line; more give the least-squares line and show how far they lie from it. A
//! calibration is never extrapolated: outside the measured pressures nobody knows.

use serde::{Deserialize, Serialize};

use crate::quantity::{Force, Measured, Pressure};

/// One measurement: a pressure and the force it gave under a lowered unit at working height.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct CalibrationPoint {
    /// Gauge pressure.
    pub pressure: Pressure,
    /// Added force at the gauge wheels of one row.
    pub force: Force,
}

/// A usable calibration.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Calibration {
    points: Vec<CalibrationPoint>,
    fit: Fit,
}

/// The line through the points: force = `at_zero` + `per_pascal` x pressure.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Fit {
    /// Force at zero pressure in N.
    pub at_zero: f64,
    /// Newtons per pascal.
    pub per_pascal: f64,
    /// Largest distance of a point from the line in N; 0 with two points.
    pub worst_miss: f64,
    /// How many points there are.
    pub points: usize,
}

/// What a point between the others says about the line through them.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct PointCheck {
    /// The pressure of the point.
    pub pressure: Pressure,
    /// The force that was measured there.
    pub measured: Force,
    /// The force that the line through the other points gives.
    pub expected: Force,
    /// How far they may lie apart.
    pub allowed: Force,
    /// Whether they lie no further apart.
    pub agrees: bool,
}

/// Why points do not make a calibration.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum CalibrationError {
    /// One point gives no slope.
    #[error("a calibration needs at least two points at different pressures")]
    TooFewPoints,
    /// More pressure must give more force.
    #[error("the force must rise with the pressure; check which reading belongs to which")]
    NotRising,
}

/// What a calibration says about a force that is wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PressureFor {
    /// The pressure that gives it.
    Within(Pressure),
    /// Less than the lightest point that was measured.
    BelowRange {
        /// The lowest measured pressure and its force.
        least: CalibrationPoint,
    },
    /// More than the heaviest point that was measured.
    AboveRange {
        /// The highest measured pressure and its force.
        most: CalibrationPoint,
    },
}

impl PointCheck {
    /// What was measured less what was expected.
    pub fn off_by(&self) -> Force {
        self.measured - self.expected
    }
}

impl Calibration {
    /// Fits a line through measured points.
    ///
    /// # Errors
    /// With fewer than two different pressures, or a force that does not rise with pressure.
    pub fn from_points(points: &[CalibrationPoint]) -> Result<Self, CalibrationError> {
        let mut sorted = points.to_vec();
        sorted.sort_by(|a, b| a.pressure.si().total_cmp(&b.pressure.si()));
        let spread = match (sorted.first(), sorted.last()) {
            (Some(first), Some(last)) => last.pressure.si() - first.pressure.si(),
            _ => 0.0,
        };
        if sorted.len() < 2 || spread < 1.0 {
            return Err(CalibrationError::TooFewPoints);
        }
        let fit = least_squares(&sorted);
        if fit.per_pascal <= 0.0 {
            return Err(CalibrationError::NotRising);
        }
        Ok(Self { points: sorted, fit })
    }

    /// Checks each point that lies between others against the line through the rest, and gives the
    /// one that is furthest off. `None` with two points: they always fit.
    ///
    /// `tolerance` is a share of the highest measured force, above 0.
    pub fn check(&self, tolerance: f64) -> Option<PointCheck> {
        let between = 1..self.points.len().saturating_sub(1);
        let highest = self.points.iter().map(|p| p.force.si().abs()).fold(0.0, f64::max);
        let allowed = tolerance * highest;
        let check = |left_out: usize| {
            let point = self.points.get(left_out)?;
            let mut rest = self.points.clone();
            rest.remove(left_out);
            let line = least_squares(&rest);
            let expected = line.at_zero + line.per_pascal * point.pressure.si();
            Some(PointCheck {
                pressure: point.pressure,
                measured: point.force,
                expected: Force::from_si(expected),
                allowed: Force::from_si(allowed),
                agrees: (point.force.si() - expected).abs() <= allowed,
            })
        };
        between
            .filter_map(check)
            .max_by(|a, b| a.off_by().si().abs().total_cmp(&b.off_by().si().abs()))
    }

    /// The measured points, by rising pressure.
    pub fn points(&self) -> &[CalibrationPoint] {
        &self.points
    }

    /// The line.
    pub fn fit(&self) -> Fit {
        self.fit
    }

    /// The force that a pressure gives, on the line.
    pub fn force_at(&self, pressure: Pressure) -> Force {
        Force::from_si(self.fit.at_zero + self.fit.per_pascal * pressure.si())
    }

    /// Least and greatest measured pressure.
    pub fn pressure_range(&self) -> (Pressure, Pressure) {
        let zero = Pressure::from_si(0.0);
        let least = self.points.first().map_or(zero, |p| p.pressure);
        let most = self.points.last().map_or(zero, |p| p.pressure);
        (least, most)
    }

    /// The force at the ends of the measured pressures, on the line.
    pub fn force_range(&self) -> (Force, Force) {
        let (least, most) = self.pressure_range();
        (self.force_at(least), self.force_at(most))
    }

    /// The pressure for a force, inside the measured range only.
    pub fn pressure_for(&self, force: Force) -> PressureFor {
        let (least, most) = self.pressure_range();
        let pressure = (force.si() - self.fit.at_zero) / self.fit.per_pascal;
        let slack = 1e-6 * (most.si() - least.si());
        let end = |pressure| CalibrationPoint { pressure, force: self.force_at(pressure) };
        if pressure < least.si() - slack {
            PressureFor::BelowRange { least: end(least) }
        } else if pressure > most.si() + slack {
            PressureFor::AboveRange { most: end(most) }
        } else {
            PressureFor::Within(Pressure::from_si(pressure.clamp(least.si(), most.si())))
        }
    }
}

fn least_squares(points: &[CalibrationPoint]) -> Fit {
    let pairs: Vec<(f64, f64)> = points.iter().map(|p| (p.pressure.si(), p.force.si())).collect();
    let count = pairs.iter().fold(0.0, |n, _| n + 1.0);
    let mean_p = pairs.iter().map(|(p, _)| p).sum::<f64>() / count;
    let mean_f = pairs.iter().map(|(_, f)| f).sum::<f64>() / count;
    let spp: f64 = pairs.iter().map(|(p, _)| (p - mean_p).powi(2)).sum();
    let spf: f64 = pairs.iter().map(|(p, f)| (p - mean_p) * (f - mean_f)).sum();
    let per_pascal = spf / spp;
    let at_zero = mean_f - per_pascal * mean_p;
    let miss = |(p, f): &(f64, f64)| (f - at_zero - per_pascal * p).abs();
    let worst = pairs.iter().map(miss).fold(0.0, f64::max);
    let worst_miss = if points.len() == 2 { 0.0 } else { worst };
    Fit { at_zero, per_pascal, worst_miss, points: points.len() }
}
