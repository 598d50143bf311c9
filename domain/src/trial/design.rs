//! What is tried, where on the planter and in the field, and what makes it impossible.

use serde::{Deserialize, Serialize};

use crate::quantity::Length;

/// Most treatments of a trial.
pub const MOST_TREATMENTS: usize = 6;
/// Most blocks of a trial.
pub const MOST_BLOCKS: u16 = 12;

/// What is tried: a part or a setting.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Trying {
    /// Closing wheels.
    ClosingWheel,
    /// Row cleaners.
    RowCleaner,
    /// Coulters.
    Coulter,
    /// Down force.
    DownForce,
    /// Ground speed.
    Speed,
    /// Planting depth.
    Depth,
    /// Seeding rate.
    SeedingRate,
    /// A product in the furrow.
    InFurrow,
    /// Something else.
    Other,
}

impl Trying {
    /// Whether it is a part that is bought and bolted on.
    pub const fn is_part(self) -> bool {
        matches!(self, Self::ClosingWheel | Self::RowCleaner | Self::Coulter)
    }

    /// Whether one row can have another than its neighbour.
    pub const fn fits_single_rows(self) -> bool {
        !matches!(self, Self::Speed)
    }
}

/// One of the things that are compared.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Treatment {
    /// What people call it.
    pub name: String,
    /// Whether the others are compared with this one.
    pub control: bool,
    /// The rows of the planter that carry it, where somebody chose them; empty where they are drawn.
    pub rows: Vec<u16>,
}

/// How the treatments are laid over planter and field.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Way {
    /// Some rows of the planter carry each treatment; a block is a place where one digs and counts.
    PlanterRows {
        /// Rows of each treatment.
        each: u16,
        /// Whether the parts go to other rows for each block.
        moved: bool,
    },
    /// Strips of whole passes of the planter.
    Strips {
        /// Passes of each strip.
        passes: u16,
    },
    /// Half of the row units carry one treatment, half the other; a block is one pass.
    SplitPlanter,
}

/// Who decides what lies where.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Order {
    /// Drawn, within blocks.
    Randomised {
        /// The seed of the draws.
        seed: u32,
    },
    /// In the order in which the treatments are listed.
    AsListed,
}

/// What must be known of the planter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Rows {
    /// Number of rows.
    pub count: u16,
    /// Distance between rows.
    pub width: Length,
    /// Rows behind a tyre, counted from 1 at the left end; empty where nobody said.
    pub behind_tyres: Vec<u16>,
}

/// A trial to be laid out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Design {
    /// What is tried.
    pub trying: Trying,
    /// What is compared.
    pub treatments: Vec<Treatment>,
    /// How it is laid out.
    pub way: Way,
    /// Blocks: each holds every treatment once.
    pub blocks: u16,
    /// Rows at each edge of a plot that are not harvested.
    pub border_rows: u16,
    /// Length of a strip.
    pub strip_length: Length,
    /// Rows that the harvester takes at once, where the plots are harvested by machine.
    pub harvest_rows: Option<u16>,
    /// Who decides what lies where.
    pub order: Order,
    /// The planter.
    pub planter: Rows,
}

/// Why a trial can't be laid out as it was asked.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum DesignFault {
    /// Less than two, or too many.
    #[error("a trial compares 2 to {MOST_TREATMENTS} treatments; these are {0}")]
    Treatments(usize),
    /// Two have one name.
    #[error("two treatments are called {name:?}")]
    SameName {
        /// The second of them.
        treatment: usize,
        /// What they are called.
        name: String,
    },
    /// Two are controls.
    #[error("one treatment at most is the control, with which the others are compared")]
    TwoControls {
        /// The second of them.
        treatment: usize,
    },
    /// None, or too many.
    #[error("a trial has 1 to {MOST_BLOCKS} blocks; these are {0}")]
    Blocks(u16),
    /// Not a row of this planter.
    #[error("the planter has no row {row}: its rows are 1 to {rows}, from the left")]
    NoSuchRow {
        /// The treatment.
        treatment: usize,
        /// The place in its list.
        place: usize,
        /// The row.
        row: u16,
        /// Rows of the planter.
        rows: u16,
    },
    /// A row can carry one thing.
    #[error("row {row} is listed twice")]
    RowTwice {
        /// The treatment that lists it again.
        treatment: usize,
        /// The place in its list.
        place: usize,
        /// The row.
        row: u16,
    },
    /// Rows are listed for some treatments and not for others, or where they have no meaning.
    #[error(
        "list rows for every treatment or for none, and only in a trial on rows of the planter"
    )]
    RowsOfSome {
        /// The treatment.
        treatment: usize,
    },
    /// What such rows show may be the place, not the part.
    #[error(
        "only outer rows or rows behind a tyre carry this treatment: what they show may be the place, not the part"
    )]
    OnlyOddRows {
        /// The treatment.
        treatment: usize,
    },
    /// There are not so many rows.
    #[error(
        "{needed} rows are needed, and no choice among the {rows} of the planter leaves each treatment a row off its ends and tyre tracks"
    )]
    TooFewRows {
        /// Rows that are needed.
        needed: u32,
        /// Rows of the planter.
        rows: u16,
    },
    /// One speed for the whole planter.
    #[error("all rows of a planter run at one speed: lay it out in strips of whole passes")]
    NotByRows,
    /// Two halves, two treatments.
    #[error("the two halves of a planter carry two treatments, not {0}")]
    SplitNeedsTwo(usize),
    /// Nothing is left to look at.
    #[error(
        "of the {across} rows of a plot, {border} border rows on either side leave nothing to look at"
    )]
    AllBorder {
        /// Rows of a plot.
        across: u16,
        /// Border rows on either side.
        border: u16,
    },
    /// The harvester would take rows of the neighbour.
    #[error(
        "the harvester takes {harvest} rows at once, but a plot has {left} rows between its borders: plant more passes a strip, or leave fewer border rows"
    )]
    HarvestTooWide {
        /// Rows that the harvester takes.
        harvest: u16,
        /// Rows of a plot between its borders.
        left: u16,
    },
}

impl Design {
    /// Rows of a plot from edge to edge, in strips and halves.
    pub fn rows_across(&self) -> u16 {
        match self.way {
            Way::PlanterRows { each, .. } => each,
            Way::Strips { passes } => self.planter.count.saturating_mul(passes),
            Way::SplitPlanter => self.planter.count / 2,
        }
    }

    /// Rows of a plot between its borders.
    pub fn rows_between_borders(&self) -> u16 {
        self.rows_across().saturating_sub(self.border_rows.saturating_mul(2))
    }

    /// The rows of the planter behind tyres: as entered, else as on most planters; none are taken
    /// for granted on fewer than six rows.
    pub fn tyre_rows(&self) -> Vec<u16> {
        let Rows { count, behind_tyres, .. } = &self.planter;
        if !behind_tyres.is_empty() {
            return behind_tyres.clone();
        }
        if *count < 6 { Vec::new() } else { vec![(count - 1) / 2, count + 1 - (count - 1) / 2] }
    }

    /// Whether a row lies at an end of the planter or behind a tyre.
    pub fn is_odd_row(&self, row: u16) -> bool {
        row == 1 || row == self.planter.count || self.tyre_rows().contains(&row)
    }

    /// Whether somebody chose the rows.
    pub fn rows_were_chosen(&self) -> bool {
        self.treatments.iter().any(|it| !it.rows.is_empty())
    }

    /// All that is wrong with it.
    pub fn faults(&self) -> Vec<DesignFault> {
        let mut faults = self.faults_of_treatments();
        faults.extend(self.faults_of_rows());
        faults.extend(self.faults_of_size());
        faults
    }

    fn faults_of_treatments(&self) -> Vec<DesignFault> {
        let mut faults = Vec::new();
        let many = self.treatments.len();
        if !(2..=MOST_TREATMENTS).contains(&many) {
            faults.push(DesignFault::Treatments(many));
        }
        if self.way == Way::SplitPlanter && many != 2 {
            faults.push(DesignFault::SplitNeedsTwo(many));
        }
        for (treatment, it) in self.treatments.iter().enumerate() {
            let before = || self.treatments.iter().take(treatment);
            if before().any(|other| other.name.to_lowercase() == it.name.to_lowercase()) {
                faults.push(DesignFault::SameName { treatment, name: it.name.clone() });
            }
            if it.control && before().any(|other| other.control) {
                faults.push(DesignFault::TwoControls { treatment });
            }
        }
        faults
    }

    fn faults_of_rows(&self) -> Vec<DesignFault> {
        let by_rows = matches!(self.way, Way::PlanterRows { .. });
        if !self.rows_were_chosen() {
            return Vec::new();
        }
        let mut faults = Vec::new();
        let mut seen: Vec<u16> = Vec::new();
        for (treatment, it) in self.treatments.iter().enumerate() {
            if it.rows.is_empty() == by_rows {
                faults.push(DesignFault::RowsOfSome { treatment });
            }
            for (place, row) in it.rows.iter().copied().enumerate() {
                if row == 0 || row > self.planter.count {
                    let rows = self.planter.count;
                    faults.push(DesignFault::NoSuchRow { treatment, place, row, rows });
                }
                if seen.contains(&row) {
                    faults.push(DesignFault::RowTwice { treatment, place, row });
                }
                seen.push(row);
            }
            if !it.rows.is_empty() && it.rows.iter().all(|row| self.is_odd_row(*row)) {
                faults.push(DesignFault::OnlyOddRows { treatment });
            }
        }
        faults
    }

    fn faults_of_size(&self) -> Vec<DesignFault> {
        let mut faults = Vec::new();
        if !(1..=MOST_BLOCKS).contains(&self.blocks) {
            faults.push(DesignFault::Blocks(self.blocks));
        }
        if matches!(self.way, Way::PlanterRows { .. }) {
            if !self.trying.fits_single_rows() {
                faults.push(DesignFault::NotByRows);
            }
            return faults;
        }
        let (across, border) = (self.rows_across(), self.border_rows);
        let left = self.rows_between_borders();
        if left == 0 {
            faults.push(DesignFault::AllBorder { across, border });
        } else if let Some(harvest) = self.harvest_rows.filter(|rows| *rows > left) {
            faults.push(DesignFault::HarvestTooWide { harvest, left });
        }
        faults
    }
}
