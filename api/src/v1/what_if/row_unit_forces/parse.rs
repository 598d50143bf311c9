//! From the wire to the balance, with the coefficients that stand in.

use domain::provenance::{self, Coefficients};
use domain::quantity::{Force, Length, Measured, bounds};
use domain::settings::forces::{
    Balance, REFERENCE_DISC, Soil, arm_force, coulter_reaction, opener_reaction,
};

use super::dto::RowUnitForcesIn;
use crate::http::quantity::Quantity;
use crate::http::{ApiError, BadMember, Refused};
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::what_if::contact_loss::{Scatter, scatter_of};
use crate::v1::what_if::member::{number, optional};

/// A row unit that was read, and which coefficients stood in.
pub(super) struct Case {
    pub worked: Worked,
    pub scatter: Scatter,
    pub load_wanted: Option<Force>,
    pub defaults: Vec<Coefficient>,
}

/// A balance with what it was worked out from.
pub(super) struct Worked {
    pub balance: Balance,
    pub soil: Soil,
    pub iron: Iron,
}

/// Openers, coulter and arms as they are.
pub(super) struct Iron {
    pub depth: Length,
    pub disc: Length,
    /// `None` without a coulter on the unit.
    pub coulter_depth: Option<Length>,
    pub opener: Force,
    pub coulter: Force,
    pub draft: Force,
    pub angle: domain::quantity::Angle,
}

impl RowUnitForcesIn {
    pub(super) fn parse(&self, k: &Coefficients) -> Result<Case, ApiError> {
        let mut read = Reader::default();
        let weights = self.weights(k, &mut read);
        let soil = self.soil(k, &mut read);
        let iron = self.iron(k, &mut read);
        let load = self.load_wanted.as_ref();
        let load_wanted =
            optional(&mut read.refused, load, "/load_wanted", &bounds::GAUGE_WHEEL_LOAD);
        let scatter = scatter_of(self.scatter.as_ref(), k, &mut read.refused);
        let Reader { refused, defaults } = read;
        let (Some(iron), Some(soil), Some(scatter)) = (iron, soil, scatter) else {
            return Err(refused.into());
        };
        refused.finish()?;
        Ok(Case { worked: worked(weights, soil, iron), scatter, load_wanted, defaults })
    }

    /// What pushes down or up by itself; opener, coulter and arms come later.
    fn weights(&self, k: &Coefficients, read: &mut Reader) -> Balance {
        let zero = Force::from_si(0.0);
        let unit = optional(
            &mut read.refused,
            self.unit_weight.as_ref(),
            "/unit_weight",
            &bounds::UNIT_WEIGHT,
        );
        let attachments = optional(
            &mut read.refused,
            self.attachment_weight.as_ref(),
            "/attachment_weight",
            &bounds::ATTACHMENT_WEIGHT,
        );
        let down = self.down_force.as_ref();
        let down = optional(&mut read.refused, down, "/down_force", &bounds::DOWN_FORCE);
        let closing = read.force(self.closing_lift.as_ref(), "/closing_lift");
        let cleaner = read.force(self.cleaner_lift.as_ref(), "/cleaner_lift");
        let seed = read.force(self.seed_weight.as_ref(), "/seed_weight");
        Balance {
            unit: read.newtons(unit, self.unit_weight.is_some(), &k.unit_weight),
            seed: seed.unwrap_or(zero),
            attachments: read.newtons(
                attachments,
                self.attachment_weight.is_some(),
                &k.attachment_weight,
            ),
            down_force: down.unwrap_or(zero),
            arms: zero,
            opener: zero,
            coulter: zero,
            cleaner: cleaner.unwrap_or(zero),
            closing: read.newtons(closing, self.closing_lift.is_some(), &k.closing_lift),
        }
    }

    fn soil(&self, k: &Coefficients, read: &mut Reader) -> Option<Soil> {
        let exponent =
            read.plain(self.depth_exponent, "/depth_exponent", (0.5, 1.5), &k.depth_exponent);
        let state = read.plain(self.soil_state, "/soil_state", (0.6, 3.0), &k.soil_moist);
        let residue =
            optional(&mut read.refused, self.residue.as_ref(), "/residue", &bounds::SHARE);
        let share = residue.map_or(0.0, Measured::si);
        if share > 0.0 {
            read.defaults.push(Coefficient::from(&k.residue_force));
        }
        let residue = 1.0 + k.residue_force.value * share;
        Some(Soil { exponent: exponent?, state: state?, residue })
    }

    fn iron(&self, k: &Coefficients, read: &mut Reader) -> Option<Iron> {
        let refused = &mut read.refused;
        let depth = refused.take(self.depth.parse("/depth", &bounds::PLANTING_DEPTH));
        let disc = self.disc_diameter.as_ref();
        let disc = optional(refused, disc, "/disc_diameter", &bounds::DISC_DIAMETER);
        let above = self.coulter_above_opener.as_ref();
        let at = "/coulter_above_opener";
        let above = optional(refused, above, at, &bounds::COULTER_ABOVE_OPENER);
        let angle = self.arm_angle.as_ref();
        let angle = optional(refused, angle, "/arm_angle", &bounds::ARM_ANGLE);
        let draft = optional(refused, self.draft.as_ref(), "/draft", &bounds::ROW_DRAFT);
        let opener = read.force(self.opener_resistance.as_ref(), "/opener_resistance");
        let coulter = read.force(self.coulter_resistance.as_ref(), "/coulter_resistance");
        if self.coulter_resistance.is_some() && self.coulter_above_opener.is_none() {
            read.refused.add(
                BadMember::new("/coulter_resistance", "There is no coulter on the unit.")
                    .why("a coulter is told by coulter_above_opener"),
            );
        }
        let opener = read.newtons(opener, self.opener_resistance.is_some(), &k.opener_resistance);
        let with_coulter = self.coulter_above_opener.is_some();
        let coulter = if with_coulter {
            read.newtons(coulter, self.coulter_resistance.is_some(), &k.coulter_resistance)
        } else {
            Force::from_si(0.0)
        };
        let level = self.arm_angle.is_none();
        let usual = if with_coulter { &k.draft_with_coulter } else { &k.draft_without_coulter };
        // With level arms the draft has no say, so its default is not worth a word.
        let draft = if level && draft.is_none() {
            Force::from_si(usual.value)
        } else {
            read.newtons(draft, self.draft.is_some(), usual)
        };
        let depth = depth?;
        Some(Iron {
            depth,
            disc: disc.unwrap_or_else(|| Length::from_si(REFERENCE_DISC)),
            coulter_depth: above.map(|above| depth - above),
            opener,
            coulter,
            draft,
            angle: angle.unwrap_or_else(|| Measured::from_si(0.0)),
        })
    }
}

/// Reads members and notes which coefficients stood in.
#[derive(Default)]
struct Reader {
    refused: Refused,
    defaults: Vec<Coefficient>,
}

impl Reader {
    fn force(&mut self, given: Option<&Quantity>, pointer: &str) -> Option<Force> {
        optional(&mut self.refused, given, pointer, &bounds::ROW_FORCE)
    }

    /// A force, or the coefficient where none was given.
    fn newtons(&mut self, read: Option<Force>, given: bool, k: &provenance::Coefficient) -> Force {
        read.unwrap_or_else(|| {
            if !given {
                self.defaults.push(Coefficient::from(k));
            }
            Force::from_si(k.value)
        })
    }

    /// A plain number, or the coefficient where none was given.
    fn plain(
        &mut self,
        given: Option<f64>,
        pointer: &str,
        range: (f64, f64),
        k: &provenance::Coefficient,
    ) -> Option<f64> {
        let Some(given) = given else {
            self.defaults.push(Coefficient::from(k));
            return Some(k.value);
        };
        self.refused.take(number(pointer, given, range, "the model is not carried further"))
    }
}

fn worked(weights: Balance, soil: Soil, iron: Iron) -> Worked {
    let zero = Force::from_si(0.0);
    let balance = Balance {
        arms: arm_force(iron.draft, iron.angle),
        opener: opener_reaction(iron.opener.si(), iron.depth, soil, iron.disc),
        coulter: iron
            .coulter_depth
            .map_or(zero, |depth| coulter_reaction(iron.coulter.si(), depth, soil)),
        ..weights
    };
    Worked { balance, soil, iron }
}
