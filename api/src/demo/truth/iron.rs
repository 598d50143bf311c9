//! What a planter really is.

use domain::conditions::Crop;
use domain::planter::{Cleaner, CoulterMount};
use domain::provenance::{Coefficient, Coefficients};

use super::super::dice::Dice;
use super::super::scenario::make_up::{Fault, Hopper, PlanterPlan, Source};
use super::{BUSHEL, INCH, POUND_FORCE};

const K: Coefficients = Coefficients::STANDARD;

/// The iron of one planter.
#[derive(Debug, Clone)]
#[expect(clippy::struct_excessive_bools, reason = "each is a fact of its own about the iron")]
pub(in crate::demo) struct Iron {
    /// Weight of the bare unit, N.
    pub unit: f64,
    /// Weight of the attachments, N.
    pub attachments: f64,
    /// Content of a full hopper, m³; 0 with central fill.
    pub hopper: f64,
    /// Diameter of the new opener disc, m.
    pub disc: f64,
    /// Depth lost to wear that somebody measured, so that the lever allows for it, m.
    pub lost: f64,
    /// Depth lost to wear that nobody knows of, m.
    pub lost_unseen: f64,
    /// Whether there is a coulter on the unit.
    pub coulter_on_unit: bool,
    /// Whether there is a coulter at all.
    pub coulter: bool,
    /// How far the coulter runs above the opener, m.
    pub coulter_above: f64,
    /// Whether there are row cleaners.
    pub has_cleaner: bool,
    /// Lift of the row cleaner, N.
    pub cleaner: f64,
    /// Whether the cleaners run below the surface.
    pub cleaners_deep: bool,
    /// Lift of the closing wheels, N.
    pub closing: f64,
    /// Slope of the arms, tangent of the angle.
    pub slope: f64,
    /// Share of the force believed to be set that really arrives.
    pub arrives: f64,
    /// Share of spacings that are skips, and that are doubles.
    pub skips_doubles: (f64, f64),
    /// Force that the outer rows miss, N.
    pub ends_miss: f64,
    /// Force that the rows behind tyres have more than the others, N.
    pub behind_tyres: f64,
    /// Most that hoppers are filled, 0 to 1.
    pub fill_most: f64,
    /// Whether somebody centred the closing wheels.
    pub closing_centred: bool,
    /// Whether somebody saw to it that the discs cut.
    pub cuts_clean: bool,
    /// A single row that misses a force, N.
    pub odd_row: Option<(u16, f64)>,
    /// Rows.
    pub rows: u16,
}

impl Iron {
    /// The iron of a planter, with what is wrong with it.
    pub(in crate::demo) fn of(plan: &PlanterPlan) -> Self {
        let mut dice = Dice::of(&format!("{} {} iron", plan.grower, plan.name));
        let closing = dice.triangular(0.0, K.closing_lift.value, K.closing_lift.high);
        let cleaner = match plan.cleaner {
            Cleaner::None => 0.0,
            Cleaner::Floating => dice.between(0.0, K.cleaner_floating.high),
            Cleaner::Fixed => dice.triangular(0.0, K.cleaner_fixed.value, K.cleaner_fixed.high),
        };
        let guessed = dice.between(1.4, 2.0);
        let bushels = match plan.hopper {
            Hopper::Central => 0.0,
            Hopper::OnUnit(known) => known.unwrap_or(guessed),
        };
        let (new, measured, _) = plan.discs;
        let iron = Self {
            unit: weighed(&mut dice, plan.unit_weight, &K.unit_weight),
            attachments: weighed(&mut dice, plan.attachments, &K.attachment_weight),
            hopper: bushels * BUSHEL,
            disc: new * INCH,
            lost: measured.map_or(0.0, |now| (new - now) / 2.0) * INCH,
            lost_unseen: 0.0,
            coulter_on_unit: plan.coulter.is_some_and(|(mount, _)| mount == CoulterMount::Unit),
            coulter: plan.coulter.is_some(),
            coulter_above: plan.coulter.and_then(|(_, above)| above).unwrap_or(0.3) * INCH,
            has_cleaner: plan.cleaner != Cleaner::None,
            cleaner,
            cleaners_deep: false,
            closing,
            slope: plan.arm_angle.unwrap_or_else(|| dice.between(-2.0, 4.0)).to_radians().tan(),
            arrives: arrives(&plan.source, &mut dice),
            skips_doubles: (dice.between(0.01, 0.03), dice.between(0.005, 0.02)),
            ends_miss: 0.0,
            behind_tyres: 0.0,
            fill_most: 1.0,
            closing_centred: false,
            cuts_clean: false,
            odd_row: None,
            rows: plan.rows,
        };
        iron.with(plan.fault)
    }

    fn with(mut self, fault: Option<Fault>) -> Self {
        match fault {
            None => {}
            Some(Fault::WornDiscs(lost)) => self.lost_unseen = lost / 2.0 * INCH,
            Some(Fault::CleanersDeep(lift)) => {
                self.cleaner += lift * POUND_FORCE;
                self.cleaners_deep = true;
            }
            Some(Fault::EndsLift(missing)) => self.ends_miss = missing * POUND_FORCE,
            Some(Fault::OddRow(row, missing)) => {
                self.odd_row = Some((row, missing * POUND_FORCE));
            }
            Some(Fault::Meters) => self.skips_doubles = (0.22, 0.1),
        }
        self
    }

    /// Weight of the seed in a hopper that is full to a share, N.
    pub(super) fn seed(&self, crop: Crop, fill: f64) -> f64 {
        let density = match crop {
            Crop::Corn => K.seed_density_corn.value,
            Crop::Soybean => K.seed_density_soybean.value,
        };
        density * POUND_FORCE * self.hopper / BUSHEL * fill
    }

    /// Horizontal pull of a row, N.
    pub(super) fn draft(&self) -> f64 {
        if self.coulter { K.draft_with_coulter.value } else { K.draft_without_coulter.value }
    }

    /// Rows that run behind tyres: two on each side of the middle of a wide planter.
    pub(super) fn behind_tyre(&self, row: u16) -> bool {
        let middle = self.rows / 2;
        self.rows >= 6 && (row == middle - 1 || row == middle + 2)
    }

    /// Whether a row is an outer one.
    pub(super) fn outer(&self, row: u16) -> bool {
        row == 1 || row == self.rows
    }
}

/// A scale is right within two in a hundred; without one the weight lies in the published range.
fn weighed(dice: &mut Dice, entered: Option<f64>, k: &Coefficient) -> f64 {
    let unknown = dice.triangular(k.low, k.value, k.high);
    let off = 1.0 + dice.scatter(0.02);
    entered.map_or(unknown, |pounds| pounds * POUND_FORCE * off)
}

/// What springs, bags and cylinders give of what is believed.
fn arrives(source: &Source, dice: &mut Dice) -> f64 {
    match source {
        Source::WeightOnly => 1.0,
        Source::Springs(_) => dice.between(0.85, 1.03), // springs tire
        Source::Bags([]) => dice.between(0.7, 1.1),     // nobody knows what the gauge means
        Source::Bags(_) => 1.0 + dice.scatter(0.03),
        Source::Oil(oil) if oil.points.is_empty() => dice.between(0.85, 0.98), // seals rub
        Source::Oil(_) => 1.0 + dice.scatter(0.02),
    }
}
