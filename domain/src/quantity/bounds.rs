//! The one table of bounds: used by validation, by the OpenAPI document and by tests.
//!
//! A range says what is physically possible or sensible to enter, with room to spare. It is not
//! advice; advice is worked out by the engine. Ranges without a source are the project's own.

use super::bound::{Bound, Refusal};
use super::kind::{Kind, Measured};
use super::{
    Acidity, Angle, Area, ArealMassDensity, ArealNumberDensity, ExchangeCapacity, Flow, Force,
    Length, Mass, MassDensity, Pressure, Ratio, Speed, Temperature, Time, Volume, VolumePerArea,
};

/// A row of the table without its type, for documents and tests.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// The name of the quantity.
    pub name: &'static str,
    /// What it measures.
    pub kind: Kind,
    /// Least value allowed, in `us`.
    pub least: f64,
    /// Greatest value allowed, in `us`.
    pub most: f64,
    /// UCUM code in US units.
    pub us: &'static str,
    /// UCUM code in SI units.
    pub si: &'static str,
    /// Why the range is what it is.
    pub why: &'static str,
}

macro_rules! bounds {
    ($($(#[$doc:meta])* $name:ident $wire:literal: $quantity:ty = $least:literal to $most:literal, $us:literal, $si:literal, $why:literal;)*) => {
        $($(#[$doc])* pub const $name: Bound<$quantity> =
            Bound::new($wire, ($least, $most), ($us, $si), $why);)*

        /// Takes a value by the name of its row and gives it in the SI base unit of its kind;
        /// `None` for a name that is not in the table.
        pub fn parse(name: &str, value: f64, code: &str) -> Option<Result<f64, Box<Refusal>>> {
            $(if name == $wire {
                return Some($name.parse(value, code).map(Measured::si));
            })*
            None
        }

        /// Every row, in order.
        pub fn table() -> Vec<Row> {
            vec![$(Row {
                name: $name.name,
                kind: <$quantity as Measured>::KIND,
                least: $name.least,
                most: $name.most,
                us: $name.us,
                si: $name.si,
                why: $name.why,
            }),*]
        }
    };
}

bounds! {
    /// Setting or measured depth of the seed below the soil surface.
    PLANTING_DEPTH "planting_depth": Length = 0.25 to 5.0, "[in_i]", "mm", "below a quarter inch seed lies on the surface; planter openers do not place seed below 5 in";
    /// One measured seed depth, zero when the seed lies on the surface.
    SEED_DEPTH "seed_depth": Length = 0.0 to 6.0, "[in_i]", "mm", "a seed lies between the surface and the reach of an opener";
    /// A seed-to-seed distance along the row.
    SEED_SPACING "seed_spacing": Length = 0.0 to 120.0, "[in_i]", "cm", "ten feet of empty row is a plugged meter, not a spacing";
    /// Distance between rows.
    ROW_WIDTH "row_width": Length = 5.0 to 60.0, "[in_i]", "cm", "planters for corn and soybean run on rows from 7 to 40 in";
    /// Working width.
    WORKING_WIDTH "working_width": Length = 1.0 to 150.0, "[ft_i]", "m", "no planter is wider than 150 ft";
    /// A stretch of row that was counted or measured.
    ROW_LENGTH "row_length": Length = 0.5 to 2000.0, "[ft_i]", "m", "a count needs some row, and a walk ends somewhere";
    /// A stretch of row without plants.
    ROW_GAP "row_gap": Length = 0.0 to 2000.0, "[ft_i]", "m", "a gap is no shorter than nothing and no longer than the row that was counted";
    /// Where a plant stands along a tape.
    TAPE_POSITION "tape_position": Length = 0.0 to 2400.0, "[in_i]", "m", "a tape along a row starts at 0, and nobody lays out more than 200 ft";
    /// Inside diameter of a hoop for counting plants.
    HOOP_DIAMETER "hoop_diameter": Length = 6.0 to 120.0, "[in_i]", "cm", "counting hoops are 18 to 36 in, and one of 10 ft is the largest that is thrown";
    /// Standard deviation of seed depths, within a row or from row to row.
    DEPTH_SD "depth_sd": Length = 0.0 to 2.0, "[in_i]", "mm", "depths that scatter by more than 2 in were not planted to a depth";
    /// How far from the depth that is wanted a seed may lie.
    DEPTH_TOLERANCE "depth_tolerance": Length = 0.05 to 2.0, "[in_i]", "mm", "a ruler reads no finer than this, and more than 2 in tolerates everything";
    /// Diameter of a disc.
    DISC_DIAMETER "disc_diameter": Length = 8.0 to 30.0, "[in_i]", "mm", "opener discs are 13 to 16 in new, coulters up to 25 in";
    /// Thickness of the blade of an opener disc.
    BLADE_THICKNESS "blade_thickness": Length = 0.08 to 0.3, "[in_i]", "mm", "opener blades are 3 to 4 mm thick when new";
    /// Stretch along which two opener discs touch.
    CONTACT_LENGTH "contact_length": Length = 0.0 to 8.0, "[in_i]", "mm", "discs touch along a few inches, and not at all when they are worn";
    /// Play of an arm at its end.
    ARM_PLAY "arm_play": Length = 0.0 to 8.0, "[in_i]", "mm", "a row unit with more than 8 in of play has come off";
    /// Height of the bottom of the toolbar over the ground.
    TOOLBAR_HEIGHT "toolbar_height": Length = 8.0 to 50.0, "[in_i]", "cm", "toolbars run around 20 in over the ground";
    /// Diameter of a closing wheel.
    CLOSING_WHEEL_DIAMETER "closing_wheel_diameter": Length = 4.0 to 24.0, "[in_i]", "mm", "closing wheels are around a foot across";
    /// Gap between two closing wheels at the bottom.
    CLOSING_GAP "closing_gap": Length = 0.0 to 8.0, "[in_i]", "mm", "wheels further apart than 8 in do not close a furrow";
    /// Area that a planter has planted, or is still to plant; also what its counter shows.
    PLANTED_AREA "planted_area": Area = 0.0 to 1_000_000.0, "[acr_us]", "har", "a planter does some thousand acres a season, and its counter runs for years";
    /// Wear of a part over an area.
    WEAR_OVER_AREA "wear_over_area": Length = -8.0 to 8.0, "[in_i]", "mm", "a part that loses more than 8 in is gone";
    /// Height of the coulter's edge above the opener's.
    COULTER_ABOVE_OPENER "coulter_above_opener": Length = -1.0 to 3.0, "[in_i]", "mm", "a coulter more than 3 in above the opener does not cut";
    /// Length of a parallel arm.
    ARM_LENGTH "arm_length": Length = 6.0 to 40.0, "[in_i]", "mm", "shorter or longer arms are not built";
    /// How much too high the toolbar runs (negative: too low).
    BAR_HEIGHT_ERROR "bar_height_error": Length = -8.0 to 8.0, "[in_i]", "mm", "8 in off the level of the arms is a fault to mend, not to calculate with";
    /// Height of the cover crop.
    COVER_HEIGHT "cover_height": Length = 0.0 to 84.0, "[in_i]", "cm", "rye seldom passes 7 ft";
    /// Length of a soil ribbon pressed from soil as found.
    RIBBON_LENGTH "ribbon_length": Length = 0.0 to 6.0, "[in_i]", "mm", "a longer ribbon breaks by its own weight";
    /// Rain expected or fallen.
    RAIN "rain": Length = 0.0 to 15.0, "[in_i]", "mm", "more than 15 in is not a planting forecast";
    /// Depth at which the soil temperature was read.
    TEMPERATURE_DEPTH "temperature_depth": Length = 1.0 to 6.0, "[in_i]", "mm", "seed-zone temperature is read between 1 and 6 in";
    /// One step of the depth lever.
    DEPTH_STEP "depth_step": Length = 0.05 to 1.0, "[in_i]", "mm", "steps are commonly an eighth to a quarter inch";
    /// Bore or rod diameter of a hydraulic cylinder.
    CYLINDER_DIAMETER "cylinder_diameter": Length = 0.25 to 6.0, "[in_i]", "mm", "down-force cylinders are around 1 to 2 in";
    /// Force added to a row unit by spring, bag or cylinder; negative lifts.
    DOWN_FORCE "down_force": Force = -500.0 to 1200.0, "[lbf_av]", "N", "no row-unit element gives more than 1,200 lbf, nor lifts by more than 500 lbf";
    /// Load on the gauge wheels of a row.
    GAUGE_WHEEL_LOAD "gauge_wheel_load": Force = 0.0 to 1500.0, "[lbf_av]", "N", "a wheel cannot pull; more than 1,500 lbf would crush the bearing";
    /// A force in a calculation.
    ROW_FORCE "row_force": Force = 0.0 to 2000.0, "[lbf_av]", "N", "forces on one row unit stay below 2,000 lbf";
    /// Horizontal pull of one row unit.
    ROW_DRAFT "row_draft": Force = 0.0 to 1500.0, "[lbf_av]", "N", "planter rows pull a few hundred pounds";
    /// Weight of one row unit, or of what hangs on it, as a force.
    UNIT_WEIGHT "unit_weight": Force = 20.0 to 800.0, "[lbf_av]", "N", "row units weigh 150 to 200 lbf without attachments and seed";
    /// Weight of the attachments carried by a unit.
    ATTACHMENT_WEIGHT "attachment_weight": Force = 0.0 to 500.0, "[lbf_av]", "N", "coulters, cleaners and brackets together stay below 500 lbf";
    /// Weight carried by the frame or a part of it.
    FRAME_WEIGHT "frame_weight": Force = 0.0 to 80_000.0, "[lbf_av]", "N", "the heaviest planters with full tanks stay below 80,000 lbf";
    /// Pull that a ground drive needs at its wheels.
    DRIVE_PULL "drive_pull": Force = 1.0 to 3000.0, "[lbf_av]", "N", "turning seed meters takes a pull, and less than 3,000 lbf";
    /// Pressure of an air bag or cylinder.
    ELEMENT_PRESSURE "element_pressure": Pressure = 0.0 to 4000.0, "[psi]", "kPa", "tractor hydraulics end near 3,000 psi, air bags near 100 psi";
    /// Cone penetrometer reading.
    PENETRATION_RESISTANCE "penetration_resistance": Pressure = 0.0 to 800.0, "[psi]", "MPa", "above 800 psi the cone stops";
    /// Ground speed.
    GROUND_SPEED "ground_speed": Speed = 0.5 to 15.0, "[mi_i]/h", "km/h", "below half a mile an hour the planter stands; none plants above 15 mph";
    /// Temperature of the soil.
    SOIL_TEMPERATURE "soil_temperature": Temperature = 20.0 to 120.0, "[degF]", "Cel", "frozen below 32 °F, and no seed zone reaches 120 °F";
    /// Temperature of the air.
    AIR_TEMPERATURE "air_temperature": Temperature = -60.0 to 140.0, "[degF]", "Cel", "the range of weather records";
    /// Angle of the parallel arms below the horizontal, toolbar to unit; negative slopes up.
    ARM_ANGLE "arm_angle": Angle = -30.0 to 30.0, "deg", "deg", "beyond 30 degrees the arms are near their stops";
    /// Content of one hopper.
    HOPPER_VOLUME "hopper_volume": Volume = 0.0 to 5.0, "[bu_us]", "L", "row hoppers hold up to about 3 bu; 0 with central fill";
    /// Area of a field.
    FIELD_AREA "field_area": Area = 0.01 to 20_000.0, "[acr_us]", "har", "a field is more than a garden and less than a county";
    /// Seeds or plants per area.
    SEED_POPULATION "seed_population": ArealNumberDensity = 1000.0 to 400_000.0, "1/[acr_us]", "1/har", "corn is near 30,000, soybean near 140,000 per acre";
    /// Share from 0 to 1.
    SHARE "share": Ratio = 0.0 to 100.0, "%", "%", "a share lies between nothing and all";
    /// Share that must be above nothing.
    POSITIVE_SHARE "positive_share": Ratio = 1.0 to 100.0, "%", "%", "nothing grows from a lot that does not germinate";
    /// Chance of losing contact that an advisor aims at.
    CONTACT_LOSS "contact_loss": Ratio = 1.0 to 15.0, "%", "%", "below 1 % no load is enough, and above 15 % depth is not kept";
    /// Grip of a ground-drive wheel: pull for each unit of weight on it.
    DRIVE_FRICTION "drive_friction": Ratio = 10.0 to 90.0, "%", "%", "a wheel on soil pulls from a tenth to nine tenths of its load";
    /// Dry matter of cover or residue.
    DRY_MATTER "dry_matter": ArealMassDensity = 0.0 to 25_000.0, "[lb_av]/[acr_us]", "kg/har", "the heaviest stalks and covers stay below 25,000 lb/ac";
    /// Bulk density of the soil.
    BULK_DENSITY "bulk_density": MassDensity = 0.7 to 2.0, "g/cm3", "g/cm3", "mineral topsoils lie between 0.9 and 1.8 g/cm3";
    /// A mass that was weighed.
    WEIGHED_MASS "weighed_mass": Mass = 0.0 to 2000.0, "[lb_av]", "kg", "a clip sample or one row unit, not the planter";
    /// Area that was clipped or counted.
    SAMPLED_AREA "sampled_area": Area = 0.25 to 2000.0, "[sft_i]", "m2", "a frame of a quarter square foot is the least that tells anything";
    /// Organic carbon in the topsoil, by mass.
    ORGANIC_CARBON "organic_carbon": Ratio = 0.0 to 20.0, "%", "%", "above 20 % it is peat, and none of this holds on peat";
    /// Water in the soil, by volume.
    SOIL_WATER "soil_water": Ratio = 1.0 to 60.0, "%", "%", "air-dry soil holds a few percent, and pores seldom more than 60 %";
    /// Nitrogen in the dry tops of a cover crop.
    TOPS_NITROGEN "tops_nitrogen": Ratio = 0.3 to 8.0, "%", "%", "straw has 0.5 % and young legumes up to 6 % of nitrogen";
    /// Nitrogen on an area.
    NITROGEN_RATE "nitrogen_rate": ArealMassDensity = 0.0 to 2000.0, "[lb_av]/[acr_us]", "kg/har", "the heaviest covers hold a few hundred pounds an acre";
    /// Liquid that a planter or a band applies.
    APPLICATION_RATE "application_rate": VolumePerArea = 0.01 to 100.0, "[gal_us]/[acr_us]", "L/har", "inoculants run at a few fluid ounces an acre, starters at 2 to 30 gal";
    /// Liquid through one outlet.
    OUTLET_FLOW "outlet_flow": Flow = 0.0 to 20.0, "[gal_us]/min", "L/min", "an outlet of a planter gives tenths of a gallon a minute";
    /// Liquid caught under one outlet; nothing where it is plugged.
    CATCH_VOLUME "catch_volume": Volume = 0.0 to 1280.0, "[foz_us]", "mL", "nobody catches more than 10 gal under one outlet";
    /// Time over which liquid was caught.
    CATCH_TIME "catch_time": Time = 1.0 to 3600.0, "s", "s", "less than a second can't be timed, and no catch takes an hour";
    /// Content of the tank for liquids.
    TANK_VOLUME "tank_volume": Volume = 1.0 to 10_000.0, "[gal_us]", "L", "planter tanks hold up to about 1,000 gal, trailers several thousand";
    /// Density of a liquid fertilizer.
    FERTILIZER_DENSITY "fertilizer_density": MassDensity = 7.5 to 15.0, "[lb_av]/[gal_us]", "kg/L", "water weighs 8.3 lb/gal, the heaviest liquid fertilizers near 14";
    /// Width that one outlet serves: the row, the band or the width between nozzles.
    OUTLET_WIDTH "outlet_width": Length = 1.0 to 240.0, "[in_i]", "cm", "a band is a few inches wide, and no outlet serves more than 20 ft";
    /// Width of the seed furrow over which seed-placed fertilizer spreads.
    FURROW_WIDTH "furrow_width": Length = 0.25 to 12.0, "[in_i]", "mm", "double-disc furrows are about 1 in wide, sweeps spread over several";
    /// Nutrients or material placed with the seed.
    SEED_PLACED "seed_placed": ArealMassDensity = 0.0 to 500.0, "[lb_av]/[acr_us]", "kg/har", "more than a few dozen pounds an acre with the seed kills it";
    /// Cation exchange capacity of the soil.
    CATION_EXCHANGE "cation_exchange": ExchangeCapacity = 0.5 to 100.0, "meq/hg", "cmol/kg", "sands hold 1 to 5 meq/100 g, heavy clays up to 50";
    /// Soil pH.
    SOIL_PH "soil_ph": Acidity = 3.0 to 11.0, "[pH]", "[pH]", "farmed soils lie between about 4 and 9";
    /// Water for plants in a layer of soil: held or missing.
    LAYER_WATER "layer_water": Length = 0.0 to 15.0, "[in_i]", "mm", "five feet of the best soil hold about 12 in for plants";
    /// Length of a strip of a trial.
    STRIP_LENGTH "strip_length": Length = 20.0 to 10_000.0, "[ft_i]", "m", "a strip is longer than a garden bed and shorter than two miles";
    /// Width that a harvester took from a plot.
    HARVESTED_WIDTH "harvested_width": Length = 1.0 to 300.0, "[ft_i]", "m", "at least one row was harvested, and a plot is no field";
    /// Grain from one plot, as it came.
    PLOT_WEIGHT "plot_weight": Mass = 0.1 to 300_000.0, "[lb_av]", "kg", "less can't be weighed in a wagon, and no plot fills five trucks";
    /// Water in harvested grain, by wet weight.
    GRAIN_MOISTURE "grain_moisture": Ratio = 3.0 to 50.0, "%", "%", "grain that is threshed holds between 3 and 50 % of water";
    /// Yield of grain.
    GRAIN_YIELD "grain_yield": ArealMassDensity = 0.0 to 45_000.0, "[lb_av]/[acr_us]", "t/har", "the highest yields ever weighed stay below 45,000 lb/ac";
}
