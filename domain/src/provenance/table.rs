//! The table of coefficients: every number of the model stands here once.
//!
//! Low and high are the ends of what is possible; the figure in the middle is the one to start
//! with. The engine treats the three as a triangular distribution.

use super::coefficient::Coefficient;
use super::mark::Mark;
use super::sources;

macro_rules! coefficients {
    ($($name:ident, $symbol:literal, $what:literal, [$low:literal, $value:literal, $high:literal], $unit:literal, $mark:ident, $source:ident, digs: $digs:literal;)*) => {
        /// The set of coefficients in force for a calculation.
        #[derive(Debug, Clone, PartialEq)]
        pub struct Coefficients {
            $(#[doc = $what] pub $name: Coefficient,)*
        }

        impl Coefficients {
            /// The set that ships.
            pub const STANDARD: Self = Self {
                $($name: Coefficient {
                    name: stringify!($name), symbol: $symbol, what: $what,
                    value: $value, low: $low, high: $high, unit: $unit,
                    mark: Mark::$mark, source: sources::$source, corrected_by_digs: $digs,
                },)*
            };

            /// All of them, in the order of the table.
            pub fn all(&self) -> Vec<&Coefficient> {
                vec![$(&self.$name),*]
            }
        }
    };
}

coefficients! {
    unit_weight, "W_u", "Weight of a bare row unit",
        [667.0, 778.0, 890.0], "N", Read, IOWA_DOWNFORCE, digs: false;
    attachment_weight, "W_att", "Weight of what hangs on a row unit: coulter, cleaner, brackets, in-furrow kit",
        [150.0, 350.0, 550.0], "N", Assumption, ASSUMPTION, digs: false;
    seed_density_corn, "rho_corn", "Weight of shelled corn by volume",
        [54.0, 56.0, 58.0], "[lbf_av]/[bu_us]", FromMemory, TEST_WEIGHT, digs: false;
    seed_density_soybean, "rho_soy", "Weight of soybean by volume",
        [58.0, 60.0, 62.0], "[lbf_av]/[bu_us]", FromMemory, TEST_WEIGHT, digs: false;
    hopper_volume, "V_box", "Content of a row hopper whose size nobody gave",
        [0.0, 1.6, 3.0], "[bu_us]", Assumption, ASSUMPTION, digs: false;
    opener_resistance, "K_o", "Upward soil reaction on a 381 mm double-disc opener at 50 mm in moist soil without residue",
        [220.0, 500.0, 1200.0], "N", Assumption, ASSUMPTION, digs: true;
    coulter_resistance, "K_c", "Upward soil reaction on one coulter at 50 mm in moist soil without residue",
        [400.0, 900.0, 2200.0], "N", FromMemory, COULTER_BULLETINS, digs: true;
    depth_exponent, "n", "Exponent of depth in the opener and coulter reaction, between edge bearing and side area",
        [0.5, 1.0, 1.5], "1", Derived, GEOMETRY, digs: true;
    soil_wet, "s_m", "Soil-state factor, wet",
        [0.6, 0.8, 1.0], "1", Assumption, ASSUMPTION, digs: true;
    soil_moist, "s_m", "Soil-state factor, moist",
        [0.8, 1.0, 1.3], "1", Assumption, ASSUMPTION, digs: true;
    soil_slightly_moist, "s_m", "Soil-state factor, slightly moist: midway between moist and dry",
        [1.0, 1.3, 1.7], "1", Assumption, ASSUMPTION, digs: true;
    soil_dry, "s_m", "Soil-state factor, dry",
        [1.2, 1.6, 2.2], "1", Assumption, ASSUMPTION, digs: true;
    soil_hard_dry, "s_m", "Soil-state factor, hard and dry",
        [1.8, 2.4, 3.0], "1", Assumption, ASSUMPTION, digs: true;
    cone_reference, "PR_0", "Cone reading at which the soil-state factor is 1: middle of the band 100 to 200 psi",
        [120.0, 150.0, 190.0], "[psi]", Assumption, PENN_PENETROMETER, digs: true;
    residue_force, "c_res", "Rise of the cutting force under whole corn residue",
        [0.0, 0.116, 0.2], "1", Read, WANG_2018, digs: true;
    coulter_above_opener, "h_c", "Height of the coulter's edge above the opener's",
        [6.0, 8.0, 10.0], "mm", CommonPractice, COMMON_PRACTICE, digs: false;
    closing_lift, "R_cl", "Upward force of the closing wheels on the unit",
        [0.0, 110.0, 222.0], "N", Assumption, ASSUMPTION, digs: false;
    cleaner_fixed, "R_rc", "Upward force of a fixed row cleaner on the unit",
        [0.0, 45.0, 89.0], "N", Assumption, ASSUMPTION, digs: false;
    cleaner_floating, "R_rc", "Upward force of a floating row cleaner on the unit",
        [0.0, 0.0, 45.0], "N", Assumption, ASSUMPTION, digs: false;
    arm_length, "L", "Length of a parallel arm",
        [300.0, 380.0, 500.0], "mm", Assumption, ASSUMPTION, digs: false;
    draft_with_coulter, "H", "Horizontal pull of a no-till row with a coulter",
        [1365.0, 1820.0, 2275.0], "N", FromMemory, ASABE_D497, digs: false;
    draft_without_coulter, "H", "Horizontal pull of a row without a coulter",
        [675.0, 900.0, 1125.0], "N", FromMemory, ASABE_D497, digs: false;
    reference_speed, "v_0", "Speed at which the soil reactions and the load are taken",
        [4.5, 5.0, 5.5], "[mi_i]/h", Read, NEBRASKA_SPEED, digs: false;
    load_lost_to_speed, "b_v", "Gauge-wheel load lost for each km/h above the reference speed",
        [30.0, 74.0, 100.0], "N", Derived, LOAD_AND_SPEED, digs: true;
    load_scatter, "sigma", "Standard deviation of the gauge-wheel load along the row",
        [300.0, 476.0, 525.0], "N", Derived, LOAD_AND_SPEED, digs: false;
    contact_loss_aimed, "p_aim", "Share of the time a gauge wheel may lose contact, aimed at",
        [0.02, 0.05, 0.1], "1", Proposal, OWN_CHOICE, digs: false;
    contact_loss_tolerated, "p_tol", "Share of the time a gauge wheel may lose contact, tolerated",
        [0.05, 0.1, 0.15], "1", Proposal, OWN_CHOICE, digs: false;
    least_load, "G_min", "Least gauge-wheel load: lower edge of the light class",
        [180.0, 180.0, 490.0], "N", Read, HANNA_2010, digs: false;
    ceiling_wet, "G_max", "Most gauge-wheel load that wet soil bears (class edge read; its tie to moisture is an assumption)",
        [400.0, 490.0, 600.0], "N", Assumption, HANNA_2010, digs: true;
    ceiling_moist, "G_max", "Most gauge-wheel load that moist soil bears (class edge read; its tie to moisture is an assumption)",
        [750.0, 890.0, 1000.0], "N", Assumption, HANNA_2010, digs: true;
    ceiling_dry, "G_max", "Most gauge-wheel load that dry soil bears",
        [900.0, 1110.0, 1330.0], "N", Assumption, ASSUMPTION, digs: true;
    frame_reserve, "N_min", "Weight that must stay on the wheels of a frame section, tanks empty",
        [222.0, 445.0, 890.0], "N", Assumption, ASSUMPTION, digs: false;
    digs_to_trust, "k", "Digs at which a correction counts for half: weight n / (n + k)",
        [1.0, 3.0, 6.0], "1", Proposal, OWN_CHOICE, digs: false;
    largest_step, "dF_max", "Largest change of down force after one dig",
        [111.2, 222.411, 222.411], "N", Proposal, OWN_CHOICE, digs: false;
    depth_tolerance, "t", "How far from the target a seed may lie",
        [0.25, 0.25, 0.5], "[in_i]", CommonPractice, COMMON_PRACTICE, digs: false;
    grass_cover_base, "B_g", "Dry matter of rye and small grains 8 in tall at full ground cover",
        [1200.0, 2000.0, 2800.0], "[lb_av]/[acr_us]", Read, DAKOTA_BIOMASS, digs: false;
    grass_cover_slope, "b_g", "Dry matter of small grains for each inch above 8 in",
        [90.0, 150.0, 210.0], "[lb_av]/[acr_us]", FromMemory, SARE_MCCP, digs: false;
    broadleaf_cover_base, "B_b", "Dry matter of broadleaf covers 6 in tall at full ground cover",
        [1200.0, 2000.0, 2800.0], "[lb_av]/[acr_us]", Read, DAKOTA_BIOMASS, digs: false;
    broadleaf_cover_slope, "b_b", "Dry matter of broadleaf covers for each inch above 6 in",
        [90.0, 150.0, 210.0], "[lb_av]/[acr_us]", Read, DAKOTA_BIOMASS, digs: false;
    corn_residue_per_bushel, "m_corn", "Residue left for each bushel of corn (1 ton for 40 bu)",
        [45.0, 50.0, 60.0], "[lb_av]/[bu_us]", Read, NEBRASKA_RESIDUE, digs: false;
    soybean_residue_per_bushel, "m_soy", "Residue left for each bushel of soybean at harvest (1 ton for 30 bu)",
        [40.0, 66.7, 70.0], "[lb_av]/[bu_us]", Read, NEBRASKA_RESIDUE, digs: false;
    wheat_residue_per_bushel, "m_wheat", "Residue left for each bushel of wheat",
        [80.0, 100.0, 110.0], "[lb_av]/[bu_us]", FromMemory, WEPP_MEMORY, digs: false;
    cover_factor_corn, "cf_corn", "Ground covered by corn residue for its mass",
        [2.3, 2.3, 3.4], "m2/kg", Read, GREGORY_1982, digs: false;
    cover_factor_soybean, "cf_soy", "Ground covered by soybean residue for its mass",
        [5.0, 5.2, 5.4], "m2/kg", FromMemory, WEPP_MEMORY, digs: false;
    cover_factor_small_grain, "cf_wheat", "Ground covered by small-grain residue for its mass",
        [5.2, 5.4, 5.6], "m2/kg", FromMemory, WEPP_MEMORY, digs: false;
    green_cooling_corn, "dT_corn", "How much cooler the soil is under living cover at corn planting",
        [0.9, 0.9, 0.9], "K", Read, REED_2019, digs: false;
    green_cooling_soybean, "dT_soy", "How much cooler the soil is under living cover at soybean planting",
        [0.7, 1.55, 2.4], "K", Read, REED_2019, digs: false;
    planting_temperature, "T_min", "Soil temperature at planting depth below which to wait",
        [50.0, 50.0, 50.0], "[degF]", Read, NEBRASKA_TEMPERATURE, digs: false;
    severe_temperature, "T_sev", "Soil temperature soon after planting that harms",
        [40.0, 40.0, 40.0], "[degF]", Read, TENNESSEE_TEMPERATURE, digs: false;
    ribbon_too_wet, "r_max", "Ribbon of soil as found above which it is too wet to plant",
        [3.0, 3.0, 3.0], "[in_i]", Read, PENN_SIDEWALL, digs: false;
    disc_wear_limit, "w_max", "Loss of opener diameter at which discs are replaced when the manual gives no limit",
        [0.5, 0.5, 1.0], "[in_i]", Read, IOWA_CHECKLIST, digs: false;
    field_efficiency, "e", "Field efficiency of a planter that needs tending",
        [0.5, 0.6, 0.8], "1", Read, IOWA_EFFICIENCY, digs: false;
    field_survival_corn, "s_corn", "Share of corn seed sown that becomes plants, early planting (seed about 10 % above the stand wanted)",
        [0.85, 0.909, 0.97], "1", Read, OHIO_SURVIVAL, digs: false;
    field_survival_soybean, "s_soy", "Share of germinating soybean seed that becomes plants",
        [0.7, 0.85, 0.95], "1", Read, NEBRASKA_SEEDING, digs: false;
    cold_rain, "P_cold", "Rain within 48 h that chills seed in soil near the least planting temperature",
        [0.1, 0.25, 0.5], "[in_i]", Proposal, OWN_CHOICE, digs: false;
    near_minimum, "dT_near", "How far above the least planting temperature soil still counts as near it",
        [1.0, 3.0, 5.0], "[degF]", Proposal, OWN_CHOICE, digs: false;
    cool_soil, "T_cool", "Soil temperature at seed depth below which soil counts as cool for depth",
        [52.0, 55.0, 60.0], "[degF]", Proposal, OWN_CHOICE, digs: false;
    depth_corn, "d_corn", "Planting depth of corn, usual range and target",
        [1.5, 2.0, 2.5], "[in_i]", Read, MISSOURI_DEPTH, digs: false;
    depth_corn_dry, "d_dry", "Planting depth of corn in a dry year: at least, start, and most with dry soil and little residue",
        [2.0, 2.5, 3.0], "[in_i]", Read, NEBRASKA_DRY, digs: false;
    depth_corn_cool_wet, "d_cool", "Planting depth of corn in cool, wet no-till soil, up to the top of the all-purpose range",
        [1.5, 1.5, 2.0], "[in_i]", Read, PENN_RESIDUE_NOTE, digs: false;
    depth_soybean, "d_soy", "Planting depth of soybean, standard range",
        [1.0, 1.25, 1.5], "[in_i]", Read, MICHIGAN_SOYBEAN_DEPTH, digs: false;
    depth_soybean_deep, "d_soy_most", "Deepest for soybean: on sand, deepest for best yield, never beyond",
        [1.5, 2.0, 2.5], "[in_i]", Read, IOWA_SOYBEAN_DEPTH, digs: false;
    depth_shift, "dd", "One step by which a condition moves the depth inside the safe range",
        [0.125, 0.25, 0.5], "[in_i]", Proposal, OWN_CHOICE, digs: false;
    soft_soil, "PR_soft", "Cone reading below which soil is too loose for good seed contact and for cutting residue",
        [100.0, 100.0, 100.0], "[psi]", Read, PENN_PENETROMETER, digs: false;
    tall_cover, "h_tall", "Height of cover above which to roll it before planting",
        [18.0, 18.0, 18.0], "[in_i]", Read, PENN_GREEN, digs: false;
    short_cover, "h_short", "Height of cover below which it should not wrap",
        [6.0, 6.0, 6.0], "[in_i]", CommonPractice, COMMON_PRACTICE, digs: false;
    heavy_cover, "B_heavy", "Dry matter of cover that counts as heavy for wrapping",
        [3000.0, 4000.0, 5000.0], "[lb_av]/[acr_us]", Proposal, OWN_CHOICE, digs: false;
    stand_corn, "P_corn", "Final stand of corn when nobody named one, inside the range that gave full yield (28,000 to 32,000)",
        [28_000.0, 31_000.0, 34_000.0], "1/[acr_us]", Assumption, IOWA_STAND, digs: false;
    stand_soybean, "P_soy", "Final stand of soybean, economic range",
        [80_000.0, 100_000.0, 120_000.0], "1/[acr_us]", Read, NEBRASKA_SEEDING, digs: false;
    germination_corn, "g_corn", "Germination of corn seed when nobody read the tag",
        [0.9, 0.95, 0.98], "1", CommonPractice, COMMON_PRACTICE, digs: false;
    germination_soybean, "g_soy", "Germination of soybean seed when nobody read the tag",
        [0.8, 0.9, 0.95], "1", CommonPractice, COMMON_PRACTICE, digs: false;
    corn_floor, "d_min", "Depth above which corn seed never belongs",
        [1.25, 1.25, 1.25], "[in_i]", Read, ILLINOIS_DEPTH, digs: false;
    ruler_step, "g", "Finest step to which seed depth is read with a ruler",
        [0.0625, 0.125, 0.25], "[in_i]", Assumption, ASSUMPTION, digs: false;
    row_spread, "s_rows", "Standard deviation of depth from row to row on a sound planter",
        [0.03, 0.0625, 0.125], "[in_i]", Assumption, ASSUMPTION, digs: false;
    depth_sd_good, "s_good", "Standard deviation of depth within a row that is good",
        [0.2, 0.25, 0.25], "[in_i]", CommonPractice, COMMON_PRACTICE, digs: false;
    largest_depth_step, "dd_max", "Largest change of depth after one dig",
        [0.25, 0.5, 0.5], "[in_i]", Proposal, OWN_CHOICE, digs: false;
    speed_step, "dv", "How much to slow down at a time",
        [0.5, 1.0, 1.0], "[mi_i]/h", CommonPractice, COMMON_PRACTICE, digs: false;
    spacing_sd_limit, "s_meter", "Standard deviation of spacing above which meters are seen to",
        [3.0, 3.0, 3.0], "[in_i]", Read, SPACING_GUIDELINE, digs: false;
    rate_limit, "q", "Share by which the seeding rate may miss the wanted one",
        [0.03, 0.05, 0.1], "1", Proposal, OWN_CHOICE, digs: false;
    emergence_corn, "GDD_corn", "Degree days (°F, air) from planting to emergence of corn",
        [90.0, 115.0, 125.0], "[degF].d", Read, PURDUE_EMERGENCE, digs: false;
    emergence_soybean, "GDD_soy", "Degree days (°F, air) from planting to emergence of soybean",
        [130.0, 145.0, 165.0], "[degF].d", FromMemory, WISCONSIN_SOY, digs: false;
}
