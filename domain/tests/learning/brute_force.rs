//! The posterior beside two others that share none of its workings: an integral over continuous
//! levels on a much finer mesh, and a long random walk over every level of the tree.

use domain::dig::WheelFeel;
use domain::learning::{DigEvent, FACTOR_RANGE, Learned, Place, log_likelihood};
use domain::stats::phi;

use crate::digs::{CLASS, Dice, OTHER, alike, at_depth, event, here, place, prior, reading};
use crate::laws::learned;

/// The log likelihood of an event between the points of the grid.
struct Says(Vec<f64>);

impl Says {
    fn of(event: &DigEvent) -> Self {
        Self(log_likelihood(&event.balance, &event.rows, &reading()).heights().to_vec())
    }

    fn at(&self, x: f64) -> f64 {
        let (low, high) = (FACTOR_RANGE.0.ln(), FACTOR_RANGE.1.ln());
        let last = self.0.len() - 1;
        let at = (x - low) / (high - low) * last as f64;
        let before = (at.floor() as usize).min(last - 1);
        let part = at - before as f64;
        self.0[before] * (1.0 - part) + self.0[before + 1] * part
    }
}

fn log_normal_within(x: f64, mean: f64, sd: f64) -> f64 {
    let (low, high) = (FACTOR_RANGE.0.ln(), FACTOR_RANGE.1.ln());
    let inside = phi((high - mean) / sd) - phi((low - mean) / sd);
    -0.5 * ((x - mean) / sd).powi(2) - sd.ln() - inside.ln()
}

fn quantiles(learned: &Learned, place: Place) -> [f64; 3] {
    let range = learned.posterior(&place).range();
    [range.low.ln(), range.likely.ln(), range.high.ln()]
}

/// Two fields of one planter with a dig each: field and dig levels are integrated out one after the
/// other on a mesh of 600 points.
#[test]
fn two_fields_agree_with_an_integral_on_a_fine_mesh() {
    let digs = [
        event(1, here(), 1_500.0, at_depth(WheelFeel::SpinFree, 1.75)),
        event(2, place(CLASS, 1, 2, 2026), 2_000.0, alike(WheelFeel::TurnWithEffort)),
    ];
    let p = prior();
    let (low, high) = (FACTOR_RANGE.0.ln(), FACTOR_RANGE.1.ln());
    let mesh: Vec<f64> =
        (0..600).map(|i| low + (high - low) * (f64::from(i) + 0.5) / 600.0).collect();
    let spread = |from: &[f64], sd: f64, up: bool| -> Vec<f64> {
        mesh.iter()
            .map(|own| {
                mesh.iter()
                    .zip(from)
                    .map(|(other, height)| {
                        let (child, parent) = if up { (other, own) } else { (own, other) };
                        height * log_normal_within(*child, *parent, sd).exp()
                    })
                    .sum::<f64>()
                    / 600.0
            })
            .collect()
    };
    let says: Vec<Vec<f64>> = digs
        .iter()
        .map(|dig| {
            let says = Says::of(dig);
            let dig_level: Vec<f64> = mesh.iter().map(|x| says.at(*x).exp()).collect();
            spread(&dig_level, p.dig, true)
        })
        .collect();
    // Up from the second field to the planter, and the planter itself below class and practice.
    let second = spread(&spread(&says[1], p.season, true), p.field, true);
    let practice: Vec<f64> =
        mesh.iter().map(|x| log_normal_within(*x, 0.0, p.practice).exp()).collect();
    let class = spread(&practice, p.class, false);
    let planter = spread(&class, p.planter, false);
    let planter: Vec<f64> = planter.iter().zip(&second).map(|(a, b)| a * b).collect();
    let season = spread(&spread(&planter, p.field, false), p.season, false);
    let season: Vec<f64> = season.iter().zip(&says[0]).map(|(a, b)| a * b).collect();
    let next = spread(&season, p.dig, false);
    let sum: f64 = next.iter().sum();
    let quantile = |p: f64| {
        let mut below = 0.0;
        let at = next.iter().position(|height| {
            below += height / sum;
            below >= p
        });
        mesh[at.unwrap()]
    };
    let ours = quantiles(&learned(&digs), here());
    for (own, p) in ours.iter().zip([0.05, 0.5, 0.95]) {
        assert!((own - quantile(p)).abs() < 0.01, "{p}: {own} against {}", quantile(p));
    }
}

/// Every level of a tree with two classes, three planters, four fields and six digs, one number
/// each, walked over at random: Metropolis, one node at a time.
#[test]
fn a_tree_agrees_with_a_long_random_walk() {
    let places = [
        here(),
        here(),
        place(CLASS, 1, 2, 2026),
        place(CLASS, 1, 2, 2025),
        place(CLASS, 2, 3, 2026),
        place(OTHER, 2, 4, 2026),
    ];
    let seen = [
        (1_500.0, at_depth(WheelFeel::SpinFree, 1.75)),
        (1_900.0, alike(WheelFeel::TurnWithEffort)),
        (1_700.0, alike(WheelFeel::Locked)),
        (1_800.0, alike(WheelFeel::TurnWithEffort)),
        (1_400.0, alike(WheelFeel::SpinFree)),
        (2_300.0, alike(WheelFeel::TurnWithEffort)),
    ];
    let digs: Vec<DigEvent> = (1..)
        .zip(places.iter().zip(seen))
        .map(|(dig, (place, (pushes, rows)))| event(dig, *place, pushes, rows))
        .collect();
    let walk = Walk::new(&digs);
    let mut sample = walk.sample(400_000, 20_000);
    sample.sort_by(f64::total_cmp);
    let ours = quantiles(&learned(&digs), here());
    for (own, p) in ours.iter().zip([0.05, 0.5, 0.95]) {
        let walked = sample[(p * sample.len() as f64) as usize];
        assert!((own - walked).abs() < 0.02, "{p}: {own} against {walked}");
    }
}

/// A node: its parent, the spread about it, and the dig that it is, if it is one.
struct Node {
    parent: Option<usize>,
    sd: f64,
    dig: Option<Says>,
}

struct Walk {
    nodes: Vec<Node>,
    children: Vec<Vec<usize>>,
}

impl Walk {
    /// The tree, written down by hand for the places of the test, with a next dig in the first
    /// field as its last node.
    fn new(digs: &[DigEvent]) -> Self {
        let p = prior();
        let last_year = (p.season.powi(2) + p.forget.powi(2)).sqrt();
        let mut nodes = vec![
            Node { parent: None, sd: p.practice, dig: None },
            Node { parent: Some(0), sd: p.class, dig: None },
            Node { parent: Some(0), sd: p.class, dig: None },
            Node { parent: Some(1), sd: p.planter, dig: None },
            Node { parent: Some(1), sd: p.planter, dig: None },
            Node { parent: Some(2), sd: p.planter, dig: None },
            Node { parent: Some(3), sd: p.field, dig: None },
            Node { parent: Some(3), sd: p.field, dig: None },
            Node { parent: Some(4), sd: p.field, dig: None },
            Node { parent: Some(5), sd: p.field, dig: None },
            Node { parent: Some(6), sd: p.season, dig: None },
            Node { parent: Some(7), sd: p.season, dig: None },
            Node { parent: Some(7), sd: last_year, dig: None },
            Node { parent: Some(8), sd: p.season, dig: None },
            Node { parent: Some(9), sd: p.season, dig: None },
        ];
        for (dig, season) in digs.iter().zip([10, 10, 11, 12, 13, 14]) {
            nodes.push(Node { parent: Some(season), sd: p.dig, dig: Some(Says::of(dig)) });
        }
        nodes.push(Node { parent: Some(10), sd: p.dig, dig: None });
        let mut children = vec![Vec::new(); nodes.len()];
        for (at, node) in nodes.iter().enumerate() {
            if let Some(parent) = node.parent {
                children[parent].push(at);
            }
        }
        Self { nodes, children }
    }

    fn height(&self, at: usize, x: f64, all: &[f64]) -> f64 {
        let node = &self.nodes[at];
        let mean = node.parent.map_or(0.0, |parent| all[parent]);
        let below: f64 = self.children[at]
            .iter()
            .map(|child| log_normal_within(all[*child], x, self.nodes[*child].sd))
            .sum();
        let says = node.dig.as_ref().map_or(0.0, |says| says.at(x));
        log_normal_within(x, mean, node.sd) + below + says
    }

    /// The last node, once a sweep.
    fn sample(&self, sweeps: usize, burn_in: usize) -> Vec<f64> {
        let (low, high) = (FACTOR_RANGE.0.ln(), FACTOR_RANGE.1.ln());
        let mut dice = Dice(11);
        let mut all = vec![0.0; self.nodes.len()];
        let mut out = Vec::with_capacity(sweeps);
        for sweep in 0..sweeps + burn_in {
            for at in 0..all.len() {
                let to = all[at] + (dice.share() - 0.5) * 4.0 * self.nodes[at].sd;
                if to <= low || to >= high {
                    continue;
                }
                let rise = self.height(at, to, &all) - self.height(at, all[at], &all);
                if dice.share().ln() < rise {
                    all[at] = to;
                }
            }
            // All together as well: levels that hang on each other move slowly one by one.
            self.shift(&mut all, &mut dice, (low, high));
            if sweep >= burn_in {
                out.push(all[all.len() - 1]);
            }
        }
        out
    }

    fn shift(&self, all: &mut Vec<f64>, dice: &mut Dice, (low, high): (f64, f64)) {
        let by = (dice.share() - 0.5) * 0.4;
        let to: Vec<f64> = all.iter().map(|x| x + by).collect();
        if to.iter().any(|x| *x <= low || *x >= high) {
            return;
        }
        if dice.share().ln() < self.whole(&to) - self.whole(all) {
            *all = to;
        }
    }

    fn whole(&self, all: &[f64]) -> f64 {
        let own = |(at, node): (usize, &Node)| {
            let mean = node.parent.map_or(0.0, |parent| all[parent]);
            log_normal_within(all[at], mean, node.sd)
                + node.dig.as_ref().map_or(0.0, |says| says.at(all[at]))
        };
        self.nodes.iter().enumerate().map(own).sum()
    }
}
