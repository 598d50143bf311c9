//! What lies where: which rows of the planter carry what, which strip gets which treatment.

use serde::{Deserialize, Serialize};

use super::design::{Design, DesignFault, Order, Way};
use super::notices::notices;
use super::plots;
use super::randomise::METHOD;
use super::row_choice;
use crate::provenance::{Coefficients, Reason, Text};
use crate::quantity::Length;

/// The way in which the planter drives along a pass.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Heading {
    /// Away from the side where one begins.
    There,
    /// Back to it.
    Back,
}

/// One plot: the unit that is compared.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Plot {
    /// Its number, from 1: what is written on the map.
    pub number: u16,
    /// Its block, from 1.
    pub block: u16,
    /// Its place across the field, from 1 at the left as one looks along the first pass.
    pub place: u16,
    /// Its treatment, by place in the list of the design.
    pub treatment: u16,
    /// The rows of the planter in it.
    pub rows: Vec<u16>,
    /// How the planter drives; nothing where that does not matter.
    pub heading: Option<Heading>,
}

/// A trial laid out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Layout {
    /// How it was drawn, with the version of the way; for a layout as listed, that.
    pub method: Text,
    /// The seed, where it was drawn.
    pub seed: Option<u32>,
    /// Whether chance decided what lies where.
    pub randomised: bool,
    /// How it is laid out.
    pub way: Way,
    /// The plots, in the order in which they are reached.
    pub plots: Vec<Plot>,
    /// Rows of a plot between its borders.
    pub rows_to_look_at: u16,
    /// Distance between rows when it was laid out.
    pub row_width: Length,
    /// The rows of the planter that were taken to run behind tyres.
    pub tyre_rows: Vec<u16>,
    /// What is to be known before it is planted.
    pub notices: Vec<Reason>,
}

impl Layout {
    /// The plot of this number.
    pub fn plot(&self, number: u16) -> Option<&Plot> {
        self.plots.iter().find(|plot| plot.number == number)
    }

    /// The rows that carry a treatment in a block.
    pub fn rows_of(&self, block: u16, treatment: u16) -> &[u16] {
        let fits = |plot: &&Plot| plot.block == block && plot.treatment == treatment;
        self.plots.iter().find(fits).map_or(&[], |plot| plot.rows.as_slice())
    }
}

/// What a layout that nobody drew is called.
const AS_LISTED: &str = "as_listed";

/// Lays a trial out. The same design gives the same layout.
///
/// # Errors
/// All that is wrong with the design.
pub fn lay_out(design: &Design, k: &Coefficients) -> Result<Layout, Vec<DesignFault>> {
    let faults = design.faults();
    if !faults.is_empty() {
        return Err(faults);
    }
    let drawn = match design.way {
        Way::PlanterRows { each, moved } => {
            row_choice::plots(design, each, moved).map_err(|fault| vec![fault])?
        }
        Way::Strips { passes } => plots::strips(design, passes),
        Way::SplitPlanter => plots::halves(design),
    };
    let seed = match design.order {
        // Rows that somebody chose, and that stay where they are, leave nothing to chance.
        Order::Randomised { seed } if !fixed_by_hand(design) => Some(seed),
        Order::Randomised { .. } | Order::AsListed => None,
    };
    let method = if seed.is_some() { METHOD } else { AS_LISTED };
    Ok(Layout {
        method: Text::Borrowed(method),
        seed,
        randomised: seed.is_some(),
        way: design.way,
        rows_to_look_at: design.rows_between_borders(),
        row_width: design.planter.width,
        tyre_rows: design.tyre_rows(),
        notices: notices(design, &drawn, k),
        plots: drawn,
    })
}

fn fixed_by_hand(design: &Design) -> bool {
    matches!(design.way, Way::PlanterRows { moved: false, .. }) && design.rows_were_chosen()
}
