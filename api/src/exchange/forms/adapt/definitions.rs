//! The definitions of figures that we write: code, unit and factor, in one table.

use serde_json::{Value, json};

/// What a figure is called and in which unit it stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Definition {
    /// Its code: of the standard, or with our prefix.
    pub code: &'static str,
    /// What it is, in words.
    pub name: &'static str,
    /// Its unit: a key of the standard's units with an exponent.
    pub unit: &'static str,
    /// What a figure in SI is multiplied by.
    pub times: f64,
    /// Whether it counts something.
    pub whole: bool,
}

const fn of(code: &'static str, name: &'static str, unit: &'static str, times: f64) -> Definition {
    Definition { code, name, unit, times, whole: false }
}

const fn count(code: &'static str, name: &'static str) -> Definition {
    Definition { code, name, unit: "count", times: 1.0, whole: true }
}

macro_rules! definitions {
    ($($(#[$doc:meta])* $name:ident = $made:expr;)*) => {
        $($(#[$doc])* pub(super) const $name: Definition = $made;)*

        /// Every definition that we write, of the standard and our own.
        pub const DEFINITIONS: &[Definition] = &[$($name),*];
    };
}

definitions! {
    /// Seeds to drop.
    SEEDS_WANTED = of("AppliedCountPerAreaTarget", "Seeding rate", "count1ha-1", 1e4);
    /// Seeds that were dropped.
    SEEDS_PLANTED = of("AppliedCountPerAreaActual", "Seeding rate", "count1ha-1", 1e4);
    /// Distance from seed to seed that is wanted.
    SPACING_WANTED = of("SeedSpacingTarget", "Distance from seed to seed", "m", 1.0);
    /// Distance that was found.
    SPACING_FOUND = of("SeedSpacingActual", "Mean distance from seed to seed", "m", 1.0);
    /// Depth that is wanted.
    DEPTH_WANTED = of("SeedingDepthTarget", "Depth of the seed", "m", 1.0);
    /// Depth that was planted at, or found.
    DEPTH_FOUND = of("SeedingDepthActual", "Depth of the seed", "m", 1.0);
    /// Down force to set.
    DOWN_FORCE_WANTED = of("DownforceAppliedTarget", "Down force on a row", "N", 1.0);
    /// Down force that was set.
    DOWN_FORCE_SET = of("DownforceAppliedActual", "Down force on a row", "N", 1.0);
    /// What the gauge wheels are to carry, or carried.
    LOAD = of("DownforceMargin", "Load on the gauge wheels of a row", "N", 1.0);
    /// Speed.
    SPEED = of("Speed", "Speed", "m1sec-1", 1.0);
    /// Liquid to apply.
    LIQUID_WANTED = of("AppliedVolumePerAreaTarget", "Liquid in the furrow", "l1ha-1", 1e7);
    /// Single seeds.
    SINGLES = of("SeedSingulation", "Distances of half to one and a half of the wanted one", "prcnt", 1e2);
    /// Skips.
    SKIPS = of("SeedSkips", "Distances above one and a half of the wanted one", "prcnt", 1e2);
    /// Multiples.
    DOUBLES = of("SeedDoubles", "Distances up to half of the wanted one", "prcnt", 1e2);
    /// Land that was planted.
    AREA_PLANTED = of("AppliedArea", "Land that was planted", "ha", 1e-4);
    /// Distance between rows.
    ROW_SPACING = of("DIBBLE_RowSpacing", "Distance between rows", "m", 1.0);
    /// What the lever must say.
    LEVER = of("DIBBLE_DepthLeverSetting", "Depth that the depth lever must say", "m", 1.0);
    /// Pressure to set.
    PRESSURE = of("DIBBLE_DownForcePressure", "Gauge pressure that gives the down force", "Pa", 1.0);
    /// Low end of the window of the load.
    LOAD_LOW = of("DIBBLE_GaugeWheelLoadLow", "Low end of the window of the load on the gauge wheels", "N", 1.0);
    /// High end of it.
    LOAD_HIGH = of("DIBBLE_GaugeWheelLoadHigh", "High end of the window of the load on the gauge wheels", "N", 1.0);
    /// Height of the coulter.
    COULTER = of("DIBBLE_CoulterAboveOpener", "How much higher the coulter runs than the opener", "m", 1.0);
    /// Spread of the depth.
    DEPTH_SD = of("DIBBLE_SeedingDepthDeviation", "Standard deviation of the depth of all seeds", "m", 1.0);
    /// Tolerance of the depth.
    DEPTH_TOLERANCE = of("DIBBLE_SeedingDepthTolerance", "How far from the depth wanted a seed may lie", "m", 1.0);
    /// Seeds within tolerance.
    WITHIN = of("DIBBLE_SeedsWithinTolerance", "Seeds whose depth lies within tolerance", "prcnt", 1e2);
    /// Seeds that were measured.
    SEEDS_MEASURED = count("DIBBLE_SeedsMeasured", "Seeds whose depth was measured");
    /// Spread of the distances.
    SPACING_CV = of("DIBBLE_SeedSpacingVariationCoefficient",
        "Standard deviation over mean of all distances, misses and multiples included", "prcnt", 1e2);
    /// Hours that a planting took.
    HOURS = of("DIBBLE_PlantingTime", "Time that the planting took", "hr", 1.0);
    /// Plants that stand.
    STAND = of("DIBBLE_PlantsPerArea", "Plants that were counted", "count1ha-1", 1e4);
    /// Low limit of the stand.
    STAND_LOW = of("DIBBLE_PlantsPerAreaLow", "Low limit of the plants, 95 %", "count1ha-1", 1e4);
    /// High limit of it.
    STAND_HIGH = of("DIBBLE_PlantsPerAreaHigh", "High limit of the plants, 95 %", "count1ha-1", 1e4);
    /// Seeds that became plants.
    EMERGENCE = of("DIBBLE_Emergence", "Plants of the seeds that were dropped", "prcnt", 1.0);
}

impl Definition {
    /// Whether it is ours.
    pub fn own(&self) -> bool {
        self.code.starts_with("DIBBLE_")
    }

    /// A figure in SI as the text of a summary value: ten digits, no more than it needs.
    pub fn text(&self, figure: f64) -> String {
        let value = figure * self.times;
        if self.whole {
            return format!("{value:.0}");
        }
        ten_digits(value).to_string()
    }

    /// As it stands in the catalog, where it is ours.
    fn described(&self) -> Value {
        json!({
            "definitionCode": self.code,
            "name": self.name,
            "dataDefinitionBaseTypeCode": "NUMERIC",
            "dataDefinitionStatusCode": "VALID",
            "numericDataTypeDefinitionAttributes": {
                "numericDataTypeCode": if self.whole { "INTEGER" } else { "DOUBLE" },
                "unitOfMeasureCode": self.unit,
            },
        })
    }
}

/// A number with ten digits: more would only show how it was worked out.
pub(super) fn ten_digits(value: f64) -> f64 {
    let rounded = format!("{value:.9e}").parse().unwrap_or(value);
    // Adding 0 makes a negative zero a plain one.
    rounded + 0.0
}

/// Our own definitions, for the catalog.
pub(super) fn own_definitions() -> impl Iterator<Item = Value> {
    DEFINITIONS.iter().filter(|it| it.own()).map(Definition::described)
}

#[cfg(test)]
mod tests {
    use super::*;
    use domain::quantity::unit;

    /// A figure in a unit of the trade, as ADAPT writes it.
    fn told(definition: Definition, value: f64, code: &str) -> f64 {
        let si = unit(code).expect("a unit").to_si(value);
        definition.text(si).parse().expect("a number")
    }

    /// To a few parts in a million: the acre of UCUM is the old survey acre.
    fn near(found: f64, wanted: f64) {
        assert!((found / wanted - 1.0).abs() < 5e-6, "{found} against {wanted}");
    }

    #[test]
    fn figures_are_those_of_published_conversions() {
        for (inches, metres) in [
            (1.5, "0.0381"),
            (1.75, "0.04445"),
            (2.0, "0.0508"),
            (2.25, "0.05715"),
            (2.5, "0.0635"),
        ] {
            let si = unit("[in_i]").expect("a unit").to_si(inches);
            assert_eq!(DEPTH_WANTED.text(si), metres);
        }
        near(told(SEEDS_WANTED, 32_000.0, "1/[acr_us]"), 79_073.722);
        for gallons in [3.0, 5.0, 7.5] {
            // By the exact definitions of gallon and international acre.
            let litres = gallons * 3.785_411_784 / 0.404_685_642_24;
            near(told(LIQUID_WANTED, gallons, "[gal_us]/[acr_us]"), litres);
        }
        near(told(SPEED, 5.0, "[mi_i]/h"), 2.2352);
        near(told(DOWN_FORCE_WANTED, 100.0, "[lbf_av]"), 444.822_161_526);
        near(told(PRESSURE, 30.0, "[psi]"), 206_842.718_8);
    }

    #[test]
    fn every_definition_stands_once_and_ours_bear_our_prefix() {
        let mut codes: Vec<&str> = DEFINITIONS.iter().map(|it| it.code).collect();
        codes.sort_unstable();
        codes.dedup();
        assert_eq!(codes.len(), DEFINITIONS.len());
        assert_eq!(own_definitions().count(), 16);
    }

    #[test]
    fn text_has_no_more_digits_than_it_needs() {
        assert_eq!(DEPTH_WANTED.text(0.1 + 0.2), "0.3");
        assert_eq!(DOWN_FORCE_WANTED.text(-0.0), "0");
        assert_eq!(SEEDS_MEASURED.text(20.0), "20");
    }
}
