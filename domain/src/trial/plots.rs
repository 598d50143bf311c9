//! The plots of strips and of halves of the planter.

use super::design::{Design, Order};
use super::layout::{Heading, Plot};
use super::randomise::Draws;

/// Treatments by their places in the list of the design.
pub(super) fn listed(design: &Design) -> Vec<u16> {
    (0_u16..).take(design.treatments.len()).collect()
}

/// One strip for each treatment in each block, in an order of its own.
pub(super) fn strips(design: &Design, passes: u16) -> Vec<Plot> {
    let mut draws = draws(design);
    let rows: Vec<u16> = (1..=design.planter.count).collect();
    let mut plots = Vec::new();
    for block in 1..=design.blocks {
        let mut order = listed(design);
        if let Some(draws) = &mut draws {
            draws.shuffle(&mut order);
        }
        for treatment in order {
            let number = next(&plots);
            // With one pass a strip each begins where the last ended; with two both ways are in it.
            let heading = match (passes % 2, number % 2) {
                (0, _) => None,
                (_, 1) => Some(Heading::There),
                (_, _) => Some(Heading::Back),
            };
            let rows = rows.clone();
            plots.push(Plot { number, block, place: number, treatment, rows, heading });
        }
    }
    plots
}

/// Two plots for each pass. The parts stay on their half; which half lies on the left of the field
/// follows from the way in which the pass is driven, as often one as the other.
pub(super) fn halves(design: &Design) -> Vec<Plot> {
    let mut draws = draws(design);
    let turned = draws.as_mut().is_some_and(Draws::coin);
    let mut headings: Vec<Heading> = (0..design.blocks)
        .map(|pass| if pass % 2 == 0 { Heading::There } else { Heading::Back })
        .collect();
    if let Some(draws) = &mut draws {
        if design.blocks % 2 == 1 && draws.coin() {
            for heading in &mut headings {
                *heading = heading.other();
            }
        }
        draws.shuffle(&mut headings);
    }
    let half = design.planter.count / 2;
    let left: Vec<u16> = (1..=half).collect();
    let right: Vec<u16> = (design.planter.count - half + 1..=design.planter.count).collect();
    let (of_left, of_right) = if turned { (1, 0) } else { (0, 1) };
    let mut plots = Vec::new();
    for (block, heading) in (1_u16..).zip(headings) {
        let mut pair = [(of_left, &left), (of_right, &right)];
        if heading == Heading::Back {
            pair.reverse();
        }
        for (treatment, rows) in pair {
            let number = next(&plots);
            let (rows, heading) = (rows.clone(), Some(heading));
            plots.push(Plot { number, block, place: number, treatment, rows, heading });
        }
    }
    plots
}

impl Heading {
    fn other(self) -> Self {
        match self {
            Self::There => Self::Back,
            Self::Back => Self::There,
        }
    }
}

/// The draws of a design that leaves something to chance.
pub(super) fn draws(design: &Design) -> Option<Draws> {
    match design.order {
        Order::Randomised { seed } => Some(Draws::of(seed)),
        Order::AsListed => None,
    }
}

/// The number of the next plot.
pub(super) fn next(plots: &[Plot]) -> u16 {
    u16::try_from(plots.len()).unwrap_or(u16::MAX).saturating_add(1)
}
