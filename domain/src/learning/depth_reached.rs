//! What the depth of the seeds says about the resistance factor.
//!
//! At the stop the wheels carry what is left of the load. Where soil asks for more than is there,
//! the furrow ends where the reaction, which falls with depth, equals what pushes:
//! `d = d_stop (pushes / (metal factor))^(1 / n)`. Soil varies from spot to spot, so some seeds lie
//! shallow before the whole row does. A lever that is off, or worn discs, move all seeds alike and
//! say nothing about resistance: such a shift is averaged over.

use super::balance::DugBalance;
use super::event::RowSeen;
use super::likelihood::Reading;
use super::mesh::{MESH, OnMesh};
use crate::stats::{Range, count, phi};

/// Width of a class of depths, m: an eighth of an inch.
const CLASS: f64 = 0.0254 / 8.0;
/// Classes below the stop that are looked at.
const DEEPER: usize = 4;
/// Classes that the tape may be off to each side.
const HAND: usize = 4;

/// Exponents of depth stand this share of the way from the likely one to the ends, with weights: so
/// that mean and spread of the triangular distribution are kept.
const EXPONENTS: [(f64, f64); 3] = [(-0.577, 0.25), (0.0, 0.5), (0.577, 0.25)];

/// How many classes a lever may be off to the shallow side, with weights. One class to the deep
/// side stands first.
const SHIFTS: [(isize, f64); 5] = [(-1, 0.10), (0, 0.60), (1, 0.15), (2, 0.10), (3, 0.05)];

/// The depths of a dig, counted by class and row.
pub(super) struct DepthsFound {
    /// Seeds of each row by class: class `DEEPER` is the stop, higher ones are shallower.
    counts: Vec<Vec<(usize, f64)>>,
    /// Weights of the tape and the stops, by how far off.
    tape: Vec<f64>,
    /// Share of depths that are misread, and what such a one is worth.
    misread: f64,
    classes: usize,
    /// ln of pushes / metal; nothing where nothing pushes down.
    held: Option<f64>,
    /// Standard deviation of the log resistance from spot to spot of a row.
    spots: f64,
    /// For each exponent: ln weight, and ln (`d_stop` / d)^n at the edges of the classes from the
    /// stop up.
    edges: Vec<(f64, Vec<f64>)>,
}

/// One exponent and one place of the stop, for all rows.
pub(super) struct Way {
    /// ln weight.
    pub weight: f64,
    /// The chances of the seeds of each row, over the factor of its soil; none where it has none.
    pub rows: Vec<Option<OnMesh>>,
}

impl DepthsFound {
    pub(super) fn of(
        balance: &DugBalance,
        rows: &[RowSeen],
        reading: &Reading,
        spots: f64,
    ) -> Self {
        let shallow = classes_in(balance.stop);
        let classes = shallow + DEEPER + 1;
        let counts: Vec<_> =
            rows.iter().map(|row| counted(&row.depths, balance.stop, classes)).collect();
        let seeds = counts.iter().any(|row| !row.is_empty());
        let edges = if seeds { edges(balance, shallow, reading.exponent) } else { Vec::new() };
        let held = balance.pushes / balance.metal.max(1e-9);
        Self {
            counts,
            tape: tape(reading.depth),
            misread: reading.misread,
            classes,
            held: (held > 0.0).then(|| held.ln()),
            spots,
            edges,
        }
    }

    /// The log chance of depths that say nothing.
    pub(super) fn flat(&self) -> f64 {
        let seeds: f64 = self.counts.iter().flatten().map(|(_, seen)| seen).sum();
        -seeds * count(self.classes).ln()
    }

    /// All ways in which the depths may have come about; one that says nothing without depths.
    pub(super) fn ways(&self) -> Vec<Way> {
        if self.edges.is_empty() {
            return vec![Way { weight: 0.0, rows: vec![None; self.counts.len()] }];
        }
        let at_exponent = |(weight, edges): &(f64, Vec<f64>)| {
            let read = self.read(edges);
            let shifted = |(shift, chance): (isize, f64)| Way {
                weight: weight + chance.ln(),
                rows: self.counts.iter().map(|row| self.seen(row, &read, shift)).collect(),
            };
            SHIFTS.map(shifted)
        };
        self.edges.iter().flat_map(at_exponent).collect()
    }

    /// What a tape makes of the furrow at each log factor of the row.
    fn read(&self, edges: &[f64]) -> Vec<Vec<f64>> {
        let mut read: Vec<Vec<f64>> = Vec::with_capacity(MESH.len());
        let mut before: Vec<f64> = Vec::new();
        for (x, _) in MESH.iter() {
            let reached = self.reached(*x, edges);
            // In soft soil every spot lets the opener down to the stop: nothing changes there.
            let same = read.last().filter(|_| reached == before).cloned();
            read.push(same.unwrap_or_else(|| self.log_read(&reached)));
            before = reached;
        }
        read
    }

    /// Chances that the furrow ends in each class, the stop first, at a log factor of the row.
    fn reached(&self, x: f64, edges: &[f64]) -> Vec<f64> {
        let Some(held) = self.held else {
            return edges.iter().map(|_| 0.0).chain(std::iter::once(1.0)).collect();
        };
        // Deeper than an edge is where the soil of the spot is no harder than this.
        let mut deeper = 0.0;
        let mut shares: Vec<f64> = Vec::with_capacity(edges.len() + 1);
        for grown in edges {
            let now = share_below((held + grown - x) / self.spots);
            shares.push((now - deeper).max(0.0));
            deeper = now.max(deeper);
            if deeper > 1.0 - 1e-9 {
                return exact(shares);
            }
        }
        shares.push((1.0 - deeper).max(0.0));
        shares
    }

    /// What a tape makes of it, over all classes, as logarithms: misread depths may be anything.
    fn log_read(&self, reached: &[f64]) -> Vec<f64> {
        let mut read = vec![0.0; self.classes + HAND];
        for (class, share) in reached.iter().enumerate().filter(|(_, share)| **share > 1e-9) {
            for (off, weight) in self.tape.iter().enumerate() {
                let at = (class + DEEPER + off).saturating_sub(HAND);
                if let Some(sum) = read.get_mut(at) {
                    *sum += share * weight;
                }
            }
        }
        let anything = self.anything();
        read.iter().map(|share| ((1.0 - self.misread) * share + anything).ln()).collect()
    }

    /// The chance of a class for a depth that is misread.
    fn anything(&self) -> f64 {
        self.misread.max(1e-9) / count(self.classes)
    }

    /// The chance of the seeds of a row at each log factor, with the stop off by a shift.
    fn seen(&self, row: &[(usize, f64)], read: &[Vec<f64>], shift: isize) -> Option<OnMesh> {
        if row.is_empty() {
            return None;
        }
        let beyond = self.anything().ln();
        let meant = |(class, seen): &(usize, f64)| (class.checked_add_signed(-shift), *seen);
        let row: Vec<(Option<usize>, f64)> = row.iter().map(meant).collect();
        let at = |read: &Vec<f64>| {
            let one = |at: Option<usize>| at.and_then(|at| read.get(at)).copied().unwrap_or(beyond);
            row.iter().map(|(at, seen)| seen * one(*at)).sum::<f64>().exp()
        };
        Some(read.iter().map(at).collect())
    }
}

/// All of it where one class holds all but nothing.
fn exact(shares: Vec<f64>) -> Vec<f64> {
    if shares.len() == 1 { vec![1.0] } else { shares }
}

/// Seeds by class, without the classes that hold none.
fn counted(depths: &[f64], stop: f64, classes: usize) -> Vec<(usize, f64)> {
    let mut counts: Vec<f64> = vec![0.0; classes];
    for depth in depths {
        if let Some(seen) = counts.get_mut(class_of(*depth, stop, classes)) {
            *seen += 1.0;
        }
    }
    counts.into_iter().enumerate().filter(|(_, seen)| *seen > 0.0).collect()
}

/// The normal distribution by a logistic curve with a cubic term, right to 0.0002 (the test below
/// checks it): several thousand of them are needed for each dig.
fn share_below(z: f64) -> f64 {
    1.0 / (1.0 + (-(1.597_6 + 0.070_56 * z * z) * z).exp())
}

/// Classes between the stop and the surface.
fn classes_in(stop: f64) -> usize {
    let mut classes = 0;
    let mut depth = stop;
    while depth > CLASS && classes < 64 {
        depth -= CLASS;
        classes += 1;
    }
    classes
}

/// The class of a depth.
fn class_of(depth: f64, stop: f64, classes: usize) -> usize {
    let mut class = 0;
    let mut edge = stop + CLASS * (count(DEEPER) - 0.5);
    while edge > depth && class + 1 < classes {
        edge -= CLASS;
        class += 1;
    }
    class
}

fn edges(balance: &DugBalance, shallow: usize, n: Range) -> Vec<(f64, Vec<f64>)> {
    let at = |exponent: f64| {
        let edge = |class: usize| {
            let depth = balance.stop - CLASS * (count(class) + 0.5);
            (balance.stop / depth.max(CLASS / 2.0)).ln() * exponent * balance.steepness
        };
        (0..shallow).map(edge).collect()
    };
    let exponent = |way: f64| {
        if way < 0.0 {
            n.likely + way * (n.likely - n.low)
        } else {
            n.likely + way * (n.high - n.likely)
        }
    };
    EXPONENTS.iter().map(|(way, weight)| (weight.ln(), at(exponent(*way)))).collect()
}

/// Shares of a normal curve that fall into the classes around its middle.
fn tape(sd: f64) -> Vec<f64> {
    let edge = |off: f64| phi(off * CLASS / sd.max(1e-6));
    let share = |off: usize| {
        let middle = count(off) - count(HAND);
        edge(middle + 0.5) - edge(middle - 0.5)
    };
    (0..=2 * HAND).map(share).collect()
}

#[cfg(test)]
mod tests {
    use super::share_below;
    use crate::stats::phi;

    #[test]
    fn the_logistic_curve_is_right_to_a_few_parts_in_ten_thousand() {
        let worst = (-600..=600)
            .map(|i| f64::from(i) / 100.0)
            .map(|z| (share_below(z) - phi(z)).abs())
            .fold(0.0, f64::max);
        assert!(worst < 2e-4, "{worst}");
    }
}
