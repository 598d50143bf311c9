//! A dig check: what somebody found behind the planter.
//!
//! Part of a dig is fine; [`missing()`](super::missing()) says what the rest would tell.

use serde::{Deserialize, Serialize};

use super::reading::{LoggedLoad, RowReading};
use super::say;
use crate::quantity::{Bound, Force, Length, Measured, Ratio, Refusal, Speed, bounds};

/// Most seeds, and most spacings, that are taken for one row.
pub const MOST_READINGS: usize = 200;

/// What the planter was set to while the dug rows were planted.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct SettingsInUse {
    /// Added force on each row.
    pub down_force: Option<Force>,
    /// The pressure or notch, as the grower wrote it.
    pub setting: Option<String>,
    /// Depth that the lever stands for.
    pub lever_depth: Option<Length>,
    /// Ground speed.
    pub speed: Option<Speed>,
    /// How full the hoppers were.
    pub box_fill: Option<Ratio>,
}

/// Where it was dug, and how the rows were picked.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Whereabouts {
    /// The place in the field, as the grower wrote it.
    pub place: Option<String>,
    /// Whether the rows were chosen as the plan of the dig asked.
    pub as_planned: Option<bool>,
}

/// A dig that was checked: rows by number, each once, all on the planter, every value possible.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Observation {
    settings: SettingsInUse,
    rows: Vec<RowReading>,
    whereabouts: Whereabouts,
    notes: String,
}

/// Why a dig was not taken. `index` counts from 0 in the list that was given.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ObservationError {
    /// No row at all.
    #[error("a dig needs at least one row")]
    NoRows,
    /// No row has a reading.
    #[error("nothing was read on any row: give at least one depth, spacing or sign")]
    NothingRead,
    /// The planter has no such row.
    #[error("row {row} is not on this planter: rows are counted from 1 to {rows}")]
    NotOnPlanter {
        /// Place in the list.
        index: usize,
        /// The row given.
        row: u16,
        /// Rows of the planter.
        rows: u16,
    },
    /// A row was given before.
    #[error("row {row} was given twice: put its readings together")]
    Twice {
        /// Place of the second one in the list.
        index: usize,
        /// The row.
        row: u16,
    },
    /// Too many readings for one row.
    #[error("{count} {what} on one row; at most {MOST_READINGS} are taken")]
    TooMany {
        /// Place in the list.
        index: usize,
        /// Which list of the row.
        what: &'static str,
        /// How many were given.
        count: usize,
    },
    /// The spacings of a row do not fit into the stretch that was opened for them.
    #[error(
        "the spacings of row {row} add up to {}, but only {} of row were opened: a spacing was given twice, or the stretch is wrong",
        say::inches(*sum),
        say::inches(*stretch)
    )]
    BeyondStretch {
        /// Place in the list.
        index: usize,
        /// The row.
        row: u16,
        /// What the spacings add up to.
        sum: Length,
        /// What was opened.
        stretch: Length,
    },
    /// A value that cannot be.
    #[error("{pointer}: {refusal}")]
    Impossible {
        /// JSON Pointer from the dig: `/rows/0/seed_depths/3`.
        pointer: String,
        /// What is wrong with it.
        refusal: Box<Refusal>,
    },
}

impl Observation {
    /// Checks a dig against the planter it was made behind.
    ///
    /// # Errors
    /// All that is wrong, not only the first.
    pub fn new(
        settings: SettingsInUse,
        mut rows: Vec<RowReading>,
        notes: String,
        rows_of_planter: u16,
    ) -> Result<Self, Vec<ObservationError>> {
        let mut errors = Vec::new();
        if rows.is_empty() {
            errors.push(ObservationError::NoRows);
        } else if rows.iter().all(RowReading::is_empty) {
            errors.push(ObservationError::NothingRead);
        }
        check_numbers(&rows, rows_of_planter, &mut errors);
        check_settings(&settings, &mut errors);
        for (index, row) in rows.iter().enumerate() {
            check_row(index, row, &mut errors);
        }
        if !errors.is_empty() {
            return Err(errors);
        }
        rows.sort_by_key(|r| r.row);
        Ok(Self { settings, rows, whereabouts: Whereabouts::default(), notes })
    }

    /// The same dig at a place, its rows picked in this way.
    #[must_use]
    pub fn at(self, whereabouts: Whereabouts) -> Self {
        Self { whereabouts, ..self }
    }

    /// Where it was dug, and how the rows were picked.
    pub fn whereabouts(&self) -> &Whereabouts {
        &self.whereabouts
    }

    /// What the planter was set to.
    pub fn settings(&self) -> &SettingsInUse {
        &self.settings
    }

    /// The rows, by number.
    pub fn rows(&self) -> &[RowReading] {
        &self.rows
    }

    /// How full the hoppers were, 0 to 1; half full where nobody said so.
    pub(crate) fn box_share(&self) -> f64 {
        self.settings.box_fill.map_or(0.5, Measured::si)
    }

    /// What the grower wrote besides.
    pub fn notes(&self) -> &str {
        &self.notes
    }
}

fn check_numbers(rows: &[RowReading], on_planter: u16, errors: &mut Vec<ObservationError>) {
    let mut seen = std::collections::BTreeSet::new();
    for (index, reading) in rows.iter().enumerate() {
        let row = reading.row;
        if row == 0 || row > on_planter {
            errors.push(ObservationError::NotOnPlanter { index, row, rows: on_planter });
        } else if !seen.insert(row) {
            errors.push(ObservationError::Twice { index, row });
        }
    }
}

fn check_settings(settings: &SettingsInUse, errors: &mut Vec<ObservationError>) {
    let SettingsInUse { down_force, setting: _, lever_depth, speed, box_fill } = settings;
    let at = |name: &str| format!("/settings/{name}");
    check(*down_force, &bounds::DOWN_FORCE, at("down_force"), errors);
    check(*lever_depth, &bounds::PLANTING_DEPTH, at("lever_depth"), errors);
    check(*speed, &bounds::GROUND_SPEED, at("speed"), errors);
    check(*box_fill, &bounds::SHARE, at("box_fill"), errors);
}

fn check_row(index: usize, row: &RowReading, errors: &mut Vec<ObservationError>) {
    let lists = [("seed_depths", &row.seed_depths), ("spacings", &row.spacings)];
    for (what, list) in lists {
        if list.len() > MOST_READINGS {
            let count = list.len();
            errors.push(ObservationError::TooMany { index, what, count });
        }
    }
    for (place, depth) in row.seed_depths.iter().enumerate() {
        let pointer = format!("/rows/{index}/seed_depths/{place}");
        check(Some(*depth), &bounds::SEED_DEPTH, pointer, errors);
    }
    for (place, spacing) in row.spacings.iter().enumerate() {
        let pointer = format!("/rows/{index}/spacings/{place}");
        check(Some(*spacing), &bounds::SEED_SPACING, pointer, errors);
    }
    let at = format!("/rows/{index}/stretch");
    check(row.stretch, &bounds::ROW_LENGTH, at, errors);
    if let Some((sum, stretch)) = row.beyond_stretch() {
        errors.push(ObservationError::BeyondStretch { index, row: row.row, sum, stretch });
    }
    if let Some(LoggedLoad { mean, sd, contact }) = row.logged_load {
        let at = |name: &str| format!("/rows/{index}/logged_load/{name}");
        check(Some(mean), &bounds::GAUGE_WHEEL_LOAD, at("mean"), errors);
        check(sd, &bounds::GAUGE_WHEEL_LOAD, at("sd"), errors);
        check(contact, &bounds::SHARE, at("contact"), errors);
    }
}

fn check<Q: Measured>(
    value: Option<Q>,
    bound: &Bound<Q>,
    pointer: String,
    errors: &mut Vec<ObservationError>,
) {
    let Some(value) = value else { return };
    if let Err(refusal) = bound.parse(value.si(), si_code(bound)) {
        errors.push(ObservationError::Impossible { pointer, refusal });
    }
}

/// The code of the base unit in which `uom` holds a quantity of this kind.
fn si_code<Q: Measured>(_: &Bound<Q>) -> &'static str {
    use crate::quantity::Kind;
    match Q::KIND {
        Kind::Length => "m",
        Kind::Area => "m2",
        Kind::Volume => "m3",
        Kind::Mass => "kg",
        Kind::Force => "N",
        Kind::Pressure => "Pa",
        Kind::Speed => "m/s",
        Kind::Temperature => "K",
        Kind::Angle => "rad",
        Kind::Fraction => "1",
        Kind::PerArea => "1/m2",
        Kind::MassPerArea => "kg/m2",
        Kind::Density => "kg/m3",
        Kind::Time => "s",
        Kind::Flow => "m3/s",
        Kind::VolumePerArea => "m3/m2",
        Kind::ExchangeCapacity => "mol/kg",
        Kind::Acidity => "[pH]",
    }
}
