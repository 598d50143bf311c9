//! What a field really is.

use domain::conditions::{Crop, Moisture, PreviousCrop, TextureClass, TextureGroup};
use domain::provenance::{Coefficient, Coefficients};
use domain::settings::forces::Soil;

use super::super::dice::Dice;
use super::super::scenario::fields::FieldPlan;
use super::row::Row;
use super::{INCH, InUse, Iron};

const K: Coefficients = Coefficients::STANDARD;

/// The ground of one field on one day.
#[derive(Debug, Clone, Copy)]
pub(in crate::demo) struct Ground {
    /// Opener coefficient, N.
    pub opener: f64,
    /// Coulter coefficient, N.
    pub coulter: f64,
    /// What makes the soil hard to enter.
    pub soil: Soil,
    /// Load lost to each km/h above the reference speed, N.
    pub lost_to_speed: f64,
    /// Standard deviation of the load along the row, N.
    pub scatter: f64,
    /// Most load before the wall smears, N.
    pub bears: f64,
    /// Depth from which the soil is moist, m.
    pub moist_from: f64,
    /// How much harder it is behind a tyre.
    pub in_tracks: f64,
    /// The class of moisture.
    pub moisture: Moisture,
    /// Texture.
    pub texture: TextureClass,
    /// Share of the path under residue or mat.
    pub mat: f64,
    /// The crop.
    pub crop: Crop,
}

fn drawn(dice: &mut Dice, k: &Coefficient) -> f64 {
    dice.triangular(k.low, k.value, k.high)
}

impl Ground {
    /// The ground of a field when it has this moisture.
    ///
    /// What belongs to the field is the same on every day; what belongs to the day is its moisture.
    pub(in crate::demo) fn of(field: &FieldPlan, moisture: Moisture) -> Self {
        let mut dice = Dice::of(&format!("{} ground", field.name));
        let opener = drawn(&mut dice, &K.opener_resistance);
        let coulter = drawn(&mut dice, &K.coulter_resistance);
        let exponent = drawn(&mut dice, &K.depth_exponent);
        let lost_to_speed = drawn(&mut dice, &K.load_lost_to_speed);
        let scatter = drawn(&mut dice, &K.load_scatter);
        let mat = mat(field);
        let rise = drawn(&mut dice, &K.residue_force);
        let in_tracks = dice.triangular(1.0, 1.02, 1.4);
        let mut today = Dice::of(&format!("{} {}", field.name, moisture.words()));
        let state = drawn(&mut today, state(moisture, field.texture));
        let bears = drawn(&mut today, ceiling(moisture));
        Self {
            opener,
            coulter,
            soil: Soil { exponent, state, residue: 1.0 + rise * mat },
            lost_to_speed,
            scatter,
            bears,
            moist_from: moist_from(moisture) + today.scatter(0.1 * INCH),
            in_tracks,
            moisture,
            texture: field.texture,
            mat,
            crop: field.crop,
        }
    }

    /// The same ground, so much harder or softer to enter that the set force holds the furrow only
    /// at `depth` in m; never beyond the published ranges of opener and coulter.
    pub(in crate::demo) fn that_holds(self, iron: &Iron, in_use: &InUse, depth: f64) -> Self {
        let (mut soft, mut hard) = (-1.0, 1.0);
        for _ in 0..40 {
            let share = f64::midpoint(soft, hard);
            let ground = self.moved(share);
            let row = Row { iron, ground: &ground, in_use, number: 2 };
            if row.reached(0.0) > depth {
                soft = share;
            } else {
                hard = share;
            }
        }
        self.moved(soft)
    }

    /// Moved by a share of the way to the hard end (1) or the soft end (-1) of both ranges.
    fn moved(self, share: f64) -> Self {
        let to = |from: f64, k: &Coefficient| {
            let end = if share > 0.0 { k.high } else { k.low };
            from + (end - from) * share.abs()
        };
        let opener = to(self.opener, &K.opener_resistance);
        Self { opener, coulter: to(self.coulter, &K.coulter_resistance), ..self }
    }

    /// Whether the soil is wet enough to smear.
    pub(super) fn smears(&self) -> bool {
        self.moisture >= Moisture::Moist
    }

    /// Whether the soil is fine.
    pub(super) fn fine(&self) -> bool {
        self.texture.group() == TextureGroup::Fine
    }
}

/// Share of the path that meets residue or cover, by eye.
fn mat(field: &FieldPlan) -> f64 {
    let dead: f64 = match field.previous.0 {
        PreviousCrop::Corn => 0.75,
        PreviousCrop::Wheat => 0.6,
        PreviousCrop::Soybean => 0.25,
        PreviousCrop::Other => 0.1,
    };
    if field.cover.is_some() { dead.max(0.9) } else { dead }
}

fn state(moisture: Moisture, texture: TextureClass) -> &'static Coefficient {
    static SET: Coefficients = K;
    match moisture {
        Moisture::Wet | Moisture::AtCapacity => &SET.soil_wet,
        Moisture::Moist => &SET.soil_moist,
        Moisture::SlightlyMoist => &SET.soil_slightly_moist,
        Moisture::Dry if texture.group() == TextureGroup::Fine => &SET.soil_hard_dry,
        Moisture::Dry => &SET.soil_dry,
    }
}

fn ceiling(moisture: Moisture) -> &'static Coefficient {
    static SET: Coefficients = K;
    match moisture {
        Moisture::Wet | Moisture::AtCapacity => &SET.ceiling_wet,
        Moisture::Moist | Moisture::SlightlyMoist => &SET.ceiling_moist,
        Moisture::Dry => &SET.ceiling_dry,
    }
}

fn moist_from(moisture: Moisture) -> f64 {
    INCH * match moisture {
        Moisture::AtCapacity | Moisture::Wet => 0.0,
        Moisture::Moist => 0.6,
        Moisture::SlightlyMoist => 1.2,
        Moisture::Dry => 1.8,
    }
}
