//! What wheels, prints, walls and logs say about the soil under a row.

use super::balance::DugBalance;
use super::event::RowSeen;
use super::likelihood::Reading;
use super::mesh::{MESH, OnMesh};
use crate::dig::{PrintDepth, WheelFeel};
use crate::stats::phi;

/// Loads that a log could show span about this much, N: the height of the flat part.
const LOADS: f64 = 2_500.0;

/// A load, felt by hand or seen: nothing, something, more than the soil bears.
#[derive(Clone, Copy)]
enum Feels {
    Nothing,
    Something,
    TooMuch,
}

/// What was felt on a row.
struct Felt {
    wheels: Option<Feels>,
    print: Option<Feels>,
    shiny: Option<bool>,
}

/// Chances that a spot's load counts as nothing, and as more than the soil bears, over its factor.
pub(super) struct Loads(Vec<(f64, f64)>);

impl Loads {
    pub(super) fn of(balance: &DugBalance, reading: &Reading) -> Self {
        let edges = balance.edges;
        let free = reading.rows.hypot(reading.free_edge);
        let locked = reading.rows.hypot(reading.locked_edge * edges.locked);
        let at = |(_, factor): &(f64, f64)| {
            let load = balance.load(*factor);
            (phi((edges.free - load) / free), phi((load - edges.locked) / locked))
        };
        Self(MESH.iter().map(at).collect())
    }
}

/// The chance of what was felt and seen on a row, over the factor of the spot where it stood.
pub(super) fn felt(loads: &Loads, row: &RowSeen, reading: &Reading) -> OnMesh {
    let felt = Felt {
        wheels: row.wheels.map(|feel| match feel {
            WheelFeel::SpinFree => Feels::Nothing,
            WheelFeel::TurnWithEffort => Feels::Something,
            WheelFeel::Locked => Feels::TooMuch,
        }),
        print: row.print.map(|print| match print {
            PrintDepth::None => Feels::Nothing,
            PrintDepth::Light => Feels::Something,
            PrintDepth::Deep => Feels::TooMuch,
        }),
        shiny: row.shiny,
    };
    if felt.wheels.is_none() && felt.print.is_none() && felt.shiny.is_none() {
        return vec![1.0; MESH.len()];
    }
    loads.0.iter().map(|(nothing, too_much)| felt.chance(*nothing, *too_much, reading)).collect()
}

impl Felt {
    /// Wheel, print and wall are felt and seen each by itself, with an edge of its own: where they
    /// differ the load is near an edge, or one of them is wrong.
    fn chance(&self, nothing: f64, too_much: f64, reading: &Reading) -> f64 {
        let something = (1.0 - nothing - too_much).max(0.0);
        let read = |feels: Feels| {
            let right = match feels {
                Feels::Nothing => nothing,
                Feels::Something => something,
                Feels::TooMuch => too_much,
            };
            (1.0 - 1.5 * reading.misread) * right + 0.5 * reading.misread
        };
        let shines = reading.misread + (1.0 - 2.0 * reading.misread) * too_much;
        let wall = self.shiny.map_or(1.0, |shiny| if shiny { shines } else { 1.0 - shines });
        self.wheels.map_or(1.0, read) * self.print.map_or(1.0, read) * wall
    }
}

/// The chance of a logged load, over the factor of the row as a whole: a log averages the spots.
pub(super) fn logged(balance: &DugBalance, logged: f64, reading: &Reading) -> OnMesh {
    let sd = reading.rows.hypot(reading.logged);
    let height = 1.0 / (sd * (2.0 * std::f64::consts::PI).sqrt());
    let at = |(_, factor): &(f64, f64)| {
        let z = (logged - balance.load(*factor)) / sd;
        // Wheels that carry nothing read nothing, however far the unit rides out.
        let right = if logged > 0.0 { height * (-0.5 * z * z).exp() } else { phi(z) };
        (1.0 - reading.misread) * right + reading.misread / LOADS
    };
    MESH.iter().map(at).collect()
}

/// The log chance of the answers of a row that says nothing.
pub(super) fn flat(row: &RowSeen) -> f64 {
    if row.logged.is_some() {
        return -LOADS.ln();
    }
    let wall = if row.shiny.is_some() { 0.5_f64.ln() } else { 0.0 };
    let answers = [row.wheels.is_some(), row.print.is_some()];
    let answer = (1.0_f64 / 3.0).ln();
    wall + answers.iter().filter(|given| **given).map(|_| answer).sum::<f64>()
}
