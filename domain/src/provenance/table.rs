//! The table of coefficients: every number of the model stands here once.
//!
//! Low and high are the ends of what is possible; the figure in the middle is the one to start
//! with. The engine reads the three as a triangular distribution; those of the resistance of soil
//! (`K_o`, `K_c`, `s_m`) by ratios: half of the cases lie below the likely figure and half above.
//!
//! A practice may put its own figure in the place of one that ships. How far it may go stands in
//! the row as `within: [least, most]`, in the unit of the row; without it the rule of [`Within::of`]
//! holds.

use super::coefficient::{Coefficient, Within};
use super::mark::Mark;
use super::sources;
use super::trace::Text;

macro_rules! coefficients {
    (@within $low:literal, $high:literal) => {
        Within::of($low, $high)
    };
    (@within $low:literal, $high:literal, $least:literal, $most:literal) => {
        Within { least: $least, most: $most }
    };
    ($($name:ident, $symbol:literal, $what:literal, [$low:literal, $value:literal, $high:literal], $unit:literal, $mark:ident, $source:ident, digs: $digs:literal $(, within: [$least:literal, $most:literal])?;)*) => {
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
                    mark: Mark::$mark, source: Text::Borrowed(sources::$source), corrected_by_digs: $digs,
                    within: coefficients!(@within $low, $high $(, $least, $most)?),
                },)*
            };

            /// All of them, in the order of the table.
            pub fn all(&self) -> Vec<&Coefficient> {
                vec![$(&self.$name),*]
            }

            /// All of them, to be changed.
            pub(super) fn all_mut(&mut self) -> Vec<&mut Coefficient> {
                vec![$(&mut self.$name),*]
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
        [0.5, 1.0, 1.5], "1", Derived, GEOMETRY, digs: true, within: [0.2, 3.0];
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
    soil_state, "s_m", "Soil-state factor, as far as the model goes",
        [0.6, 1.0, 3.0], "1", Assumption, ASSUMPTION, digs: false;
    cone_loose, "PR", "Cone reading of soil that is loose by knife or probe (upper end read)",
        [50.0, 75.0, 100.0], "[psi]", Assumption, PENN_PENETROMETER, digs: false;
    cone_good, "PR", "Cone reading of soil that is good by knife or probe (ends read, middle derived)",
        [100.0, 150.0, 200.0], "[psi]", Derived, PENN_PENETROMETER, digs: false;
    cone_firm, "PR", "Cone reading of soil that is firm by knife or probe (ends read, middle derived)",
        [200.0, 250.0, 300.0], "[psi]", Derived, PENN_PENETROMETER, digs: false;
    cone_hard, "PR", "Cone reading of soil that is hard by knife or probe (lower end read)",
        [300.0, 350.0, 450.0], "[psi]", Assumption, PENN_PENETROMETER, digs: false;
    organic_carbon, "OC", "Organic carbon of the topsoil where nobody had it tested",
        [0.8, 1.5, 3.0], "%", Assumption, ASSUMPTION, digs: false;
    strength_formula_error, "e_PR", "Cone reading for each unit of what the strength formula says",
        [0.5, 1.0, 2.0], "1", Assumption, ASSUMPTION, digs: false;
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
    arms_level, "theta", "Slope of arms that nobody measured and that are taken as level",
        [-3.0, 0.0, 3.0], "deg", Assumption, ASSUMPTION, digs: false;
    draft_with_coulter, "H", "Horizontal pull of a no-till row with a coulter",
        [1365.0, 1820.0, 2275.0], "N", FromMemory, ASABE_D497, digs: false;
    draft_without_coulter, "H", "Horizontal pull of a row without a coulter",
        [675.0, 900.0, 1125.0], "N", FromMemory, ASABE_D497, digs: false;
    reference_speed, "v_0", "Speed at which the soil reactions and the load are taken",
        [4.5, 5.0, 5.5], "[mi_i]/h", Read, NEBRASKA_SPEED, digs: false, within: [2.0, 10.0];
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
    drive_friction, "mu", "Grip of a ground-drive wheel: the pull it gives for each unit of weight on it",
        [0.3, 0.45, 0.6], "1", Assumption, ASSUMPTION, digs: false, within: [0.1, 1.2];
    calibration_miss, "m", "Share of the highest measured force by which a check point may miss the calibration",
        [0.03, 0.05, 0.1], "1", Proposal, OWN_CHOICE, digs: false;
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
        [0.9, 0.9, 0.9], "K", Read, REED_2019, digs: false, within: [0.0, 5.0];
    green_cooling_soybean, "dT_soy", "How much cooler the soil is under living cover at soybean planting",
        [0.7, 1.55, 2.4], "K", Read, REED_2019, digs: false, within: [0.0, 5.0];
    planting_temperature, "T_min", "Soil temperature at planting depth below which to wait",
        [50.0, 50.0, 50.0], "[degF]", Read, NEBRASKA_TEMPERATURE, digs: false, within: [32.0, 70.0];
    severe_temperature, "T_sev", "Soil temperature soon after planting that harms",
        [40.0, 40.0, 40.0], "[degF]", Read, TENNESSEE_TEMPERATURE, digs: false, within: [25.0, 60.0];
    ribbon_too_wet, "r_max", "Ribbon of soil as found above which it is too wet to plant",
        [3.0, 3.0, 3.0], "[in_i]", Read, PENN_SIDEWALL, digs: false;
    disc_wear_limit, "w_max", "Loss of opener diameter at which discs are replaced when the manual gives no limit",
        [0.5, 0.5, 1.0], "[in_i]", Read, IOWA_CHECKLIST, digs: false, within: [0.1, 1.5];
    wear_reading, "s_w", "How far a reading of wear in the shed scatters about the truth: standard deviation of a tape or ruler on a worn part",
        [0.4, 0.8, 1.6], "mm", Assumption, ASSUMPTION, digs: false;
    wear_watched, "q_w", "Share of the wear that a part may have that must be left, or it is watched",
        [0.1, 0.25, 0.5], "1", Proposal, OWN_CHOICE, digs: false, within: [0.0, 0.9];
    field_efficiency, "e", "Field efficiency of a planter that needs tending",
        [0.5, 0.6, 0.8], "1", Read, IOWA_EFFICIENCY, digs: false, within: [0.2, 1.0];
    field_survival_corn, "s_corn", "Share of corn seed sown that becomes plants, early planting (seed about 10 % above the stand wanted)",
        [0.85, 0.909, 0.97], "1", Read, OHIO_SURVIVAL, digs: false, within: [0.3, 1.0];
    field_survival_soybean, "s_soy", "Share of germinating soybean seed that becomes plants",
        [0.7, 0.85, 0.95], "1", Read, NEBRASKA_SEEDING, digs: false, within: [0.2, 1.0];
    cold_rain, "P_cold", "Rain within 48 h that chills seed in soil near the least planting temperature",
        [0.1, 0.25, 0.5], "[in_i]", Proposal, OWN_CHOICE, digs: false;
    near_minimum, "dT_near", "How far above the least planting temperature soil still counts as near it",
        [1.0, 3.0, 5.0], "[degF]", Proposal, OWN_CHOICE, digs: false;
    cool_soil, "T_cool", "Soil temperature at seed depth below which soil counts as cool for depth",
        [52.0, 55.0, 60.0], "[degF]", Proposal, OWN_CHOICE, digs: false, within: [40.0, 80.0];
    depth_corn, "d_corn", "Planting depth of corn, usual range and target",
        [1.5, 2.0, 2.5], "[in_i]", Read, MISSOURI_DEPTH, digs: false, within: [0.5, 4.0];
    depth_corn_dry, "d_dry", "Planting depth of corn in a dry year: at least, start, and most with dry soil and little residue",
        [2.0, 2.5, 3.0], "[in_i]", Read, NEBRASKA_DRY, digs: false, within: [0.5, 4.0];
    depth_corn_cool_wet, "d_cool", "Planting depth of corn in cool, wet no-till soil, up to the top of the all-purpose range",
        [1.5, 1.5, 2.0], "[in_i]", Read, PENN_RESIDUE_NOTE, digs: false, within: [0.5, 4.0];
    depth_soybean, "d_soy", "Planting depth of soybean, standard range",
        [1.0, 1.25, 1.5], "[in_i]", Read, MICHIGAN_SOYBEAN_DEPTH, digs: false, within: [0.5, 3.0];
    depth_soybean_deep, "d_soy_most", "Deepest for soybean: on sand, deepest for best yield, never beyond",
        [1.5, 2.0, 2.5], "[in_i]", Read, IOWA_SOYBEAN_DEPTH, digs: false, within: [0.5, 3.0];
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
        [0.9, 0.95, 0.98], "1", CommonPractice, COMMON_PRACTICE, digs: false, within: [0.3, 1.0];
    germination_soybean, "g_soy", "Germination of soybean seed when nobody read the tag",
        [0.8, 0.9, 0.95], "1", CommonPractice, COMMON_PRACTICE, digs: false, within: [0.3, 1.0];
    corn_floor, "d_min", "Depth above which corn seed never belongs",
        [1.25, 1.25, 1.25], "[in_i]", Read, ILLINOIS_DEPTH, digs: false, within: [0.5, 2.0];
    ruler_step, "g", "Finest step to which seed depth is read with a ruler",
        [0.0625, 0.125, 0.25], "[in_i]", Assumption, ASSUMPTION, digs: false;
    row_spread, "s_rows", "Standard deviation of depth from row to row on a sound planter",
        [0.03, 0.0625, 0.125], "[in_i]", Assumption, ASSUMPTION, digs: false;
    depth_sd_good, "s_good", "Standard deviation of depth within a row that is good",
        [0.2, 0.25, 0.25], "[in_i]", CommonPractice, COMMON_PRACTICE, digs: false;
    usual_spread_worth, "nu_0", "Degrees of freedom that the usual spread of depth is worth when digs are pooled with it",
        [2.0, 4.0, 10.0], "1", Proposal, OWN_CHOICE, digs: false;
    dig_half_width, "q_dig", "Half-width wanted of the interval of the mean depth, as a share of the tolerance: what is left is room for the mean to be off",
        [0.5, 0.67, 1.0], "1", Proposal, OWN_CHOICE, digs: false, within: [0.1, 1.0];
    dig_rows_least, "k_dig", "Rows to dig at the least: one at each end, one behind a tyre, one between",
        [3.0, 4.0, 5.0], "1", Proposal, OWN_CHOICE, digs: false, within: [1.0, 64.0];
    dig_seeds_least, "n_dig", "Seeds to dig on a row at the least",
        [3.0, 3.0, 5.0], "1", Proposal, OWN_CHOICE, digs: false, within: [1.0, 20.0];
    dig_seeds_most, "N_dig", "Seeds to dig on a row at the most",
        [8.0, 10.0, 15.0], "1", Proposal, OWN_CHOICE, digs: false, within: [2.0, 100.0];
    dig_row_work, "c_dig", "Work of walking to another row and opening it, in seeds that could be dug meanwhile",
        [0.5, 1.5, 4.0], "1", Assumption, ASSUMPTION, digs: false;
    dig_from_stop, "L_dig", "Distance to dig behind the place where the planter stopped, so that full speed was held",
        [100.0, 100.0, 200.0], "[ft_i]", Read, CANOLA_DIG, digs: false;
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
    cn_grass_vegetative, "CN_veg", "C:N of a grass cover before its stems grow (low end, very young rye, from memory)",
        [12.0, 26.0, 30.0], "1", Read, NRCS_CN, digs: false;
    cn_grass_flowering, "CN_flow", "C:N of rye in flower (range is this project's own)",
        [30.0, 37.0, 50.0], "1", Read, NRCS_CN, digs: false;
    cn_legume, "CN_leg", "C:N of a legume cover: hairy vetch 11, late-sown legume 10, legume hay 17 (crimson clover in bloom up to 20, from memory)",
        [10.0, 11.0, 20.0], "1", Read, NRCS_CN, digs: false;
    cn_balance, "CN_0", "C:N at which microbes neither take nitrogen from the soil nor release any",
        [24.0, 24.0, 24.0], "1", Read, NRCS_CN, digs: false;
    tops_carbon, "C", "Carbon in dry plant matter",
        [0.4, 0.42, 0.45], "1", FromMemory, TOPS_CARBON, digs: false, within: [0.2, 0.6];
    grass_in_grass_mix, "w_g", "Share of grass in the dry matter of a mix that grasses lead",
        [0.5, 0.7, 0.9], "1", Assumption, ASSUMPTION, digs: false, within: [0.0, 1.0];
    grass_in_legume_mix, "w_l", "Share of grass in the dry matter of a mix that legumes lead",
        [0.1, 0.3, 0.5], "1", Assumption, ASSUMPTION, digs: false, within: [0.0, 1.0];
    tops_n_legume_young, "N_leg", "Nitrogen in the tops of annual legumes before flowering",
        [0.035, 0.0375, 0.04], "1", Read, COVER_CROPS_UNIT, digs: false;
    tops_n_legume_flowering, "N_leg_f", "Nitrogen in the tops of annual legumes in flower",
        [0.03, 0.0325, 0.035], "1", Read, COVER_CROPS_UNIT, digs: false;
    tops_n_grass_young, "N_grass", "Nitrogen in the tops of grasses before flowering",
        [0.02, 0.025, 0.03], "1", Read, COVER_CROPS_UNIT, digs: false;
    tops_n_grass_flowering, "N_grass_f", "Nitrogen in the tops of grasses in flower",
        [0.015, 0.02, 0.025], "1", Read, COVER_CROPS_UNIT, digs: false;
    tie_up_mass, "B_tie", "Dry matter above which a cover with a high C:N is taken to tie up nitrogen",
        [1000.0, 1500.0, 2000.0], "[lb_av]/[acr_us]", Proposal, OWN_CHOICE, digs: false;
    starter_nitrogen, "N_start", "Nitrogen placed with the planter for corn after a grass cover, beside the row",
        [50.0, 60.0, 70.0], "[lb_av]/[acr_us]", Read, IOWA_GUIDE_SHEET, digs: false;
    kill_gap_corn, "t_gap", "Days between the end of a rye cover and corn that are safest",
        [10.0, 14.0, 14.0], "d", Read, IOWA_RYE, digs: false;
    armyworm_scout, "p_look", "Plants fed on by armyworm at which to look again (15 to 20 %)",
        [0.15, 0.15, 0.2], "1", Read, OHIO_ARMYWORM, digs: false;
    armyworm_act, "p_arm", "Plants infested by armyworm at which to act: 25 % in one state, above 50 % in another",
        [0.25, 0.25, 0.5], "1", Read, PENN_ARMYWORM, digs: false, within: [0.05, 1.0];
    cutworm_act, "p_cut", "Corn plants cut or tunnelled by black cutworm at which to act",
        [0.03, 0.03, 0.03], "1", Read, OHIO_CUTWORM, digs: false;
    slugs_act, "n_slug", "Slugs on a plant at the spike stage that cost more than they are worth leaving",
        [5.0, 5.0, 5.0], "1", Read, VIRGINIA_SLUGS, digs: false;
    spray_temperature, "T_spray", "Daytime air temperature that a herbicide needs to end a cover",
        [55.0, 55.0, 55.0], "[degF]", Read, PENN_RESIDUE_NOTE, digs: false, within: [32.0, 80.0];
    salt_fine_20, "Q_20", "Most N + K2O in the furrow of corn, medium or fine soil, 20 in rows",
        [12.0, 12.0, 12.0], "[lb_av]/[acr_us]", Read, KANSAS_SALT, digs: false, within: [0.5, 12.0];
    salt_fine_30, "Q_30", "Most N + K2O in the furrow of corn, medium or fine soil, 30 in rows",
        [8.0, 8.0, 8.0], "[lb_av]/[acr_us]", Read, KANSAS_SALT, digs: false, within: [0.5, 8.0];
    salt_fine_40, "Q_40", "Most N + K2O in the furrow of corn, medium or fine soil, 40 in rows",
        [6.0, 6.0, 6.0], "[lb_av]/[acr_us]", Read, KANSAS_SALT, digs: false, within: [0.5, 6.0];
    salt_sandy_20, "Q_20", "Most N + K2O in the furrow of corn, sandy soil, 20 in rows",
        [8.0, 8.0, 8.0], "[lb_av]/[acr_us]", Read, KANSAS_SALT, digs: false, within: [0.5, 8.0];
    salt_sandy_30, "Q_30", "Most N + K2O in the furrow of corn, sandy soil, 30 in rows",
        [6.0, 6.0, 6.0], "[lb_av]/[acr_us]", Read, KANSAS_SALT, digs: false, within: [0.5, 6.0];
    salt_sandy_40, "Q_40", "Most N + K2O in the furrow of corn, sandy soil, 40 in rows",
        [4.0, 4.0, 4.0], "[lb_av]/[acr_us]", Read, KANSAS_SALT, digs: false, within: [0.5, 4.0];
    salt_rows, "W", "Rows for which a limit of N + K2O in the furrow is given: narrowest, usual, widest",
        [15.0, 30.0, 40.0], "[in_i]", Proposal, OWN_CHOICE, digs: false, within: [15.0, 40.0];
    salt_low_exchange, "Q_low", "Most N + K2O in the furrow of corn on soil of low exchange capacity",
        [5.0, 5.0, 5.0], "[lb_av]/[acr_us]", Read, MICHIGAN_SALT, digs: false, within: [0.5, 5.0];
    salt_high_exchange, "Q_high", "Most N + K2O in the furrow of corn on soil of higher exchange capacity",
        [8.0, 8.0, 8.0], "[lb_av]/[acr_us]", Read, MICHIGAN_SALT, digs: false, within: [0.5, 8.0];
    low_exchange, "CEC_low", "Exchange capacity below which the lower limit holds, and from which the higher one does; between them the source gives none",
        [7.0, 7.5, 8.0], "meq/hg", Read, MICHIGAN_SALT, digs: false, within: [7.0, 30.0];
    salt_any_soil, "Q_any", "Most N + K2O in the furrow of corn, whatever the soil",
        [10.0, 10.0, 10.0], "[lb_av]/[acr_us]", Read, VIRGINIA_SALT, digs: false, within: [0.5, 10.0];
    in_furrow_step, "dR", "Step to which an in-furrow rate is set",
        [0.05, 0.1, 0.25], "[gal_us]/[acr_us]", Proposal, OWN_CHOICE, digs: false, within: [0.01, 1.0];
    outlet_tolerance, "q", "Share by which an outlet may miss the mean of all outlets",
        [0.05, 0.05, 0.1], "1", CommonPractice, COMMON_PRACTICE, digs: false, within: [0.01, 0.1];
    most_partners, "n", "Most products that share a tank with another",
        [2.0, 3.0, 3.0], "1", CommonPractice, COMMON_PRACTICE, digs: false, within: [1.0, 3.0];
    stand_slope_urea_corn, "C", "Change of the stand of corn for each lb/ac of urea with the seed",
        [-0.965, -0.965, -0.965], "%.[acr_us]/[lb_av]", Read, DAKOTA_SEED_PLACED, digs: false;
    stand_slope_urea_soybean, "C", "Change of the stand of soybean for each lb/ac of urea with the seed",
        [-3.33, -3.33, -3.33], "%.[acr_us]/[lb_av]", Read, DAKOTA_SEED_PLACED, digs: false;
    stand_slope_urea_inhibited_corn, "C", "Change of the stand of corn for each lb/ac of urea with a urease inhibitor with the seed",
        [-0.434, -0.434, -0.434], "%.[acr_us]/[lb_av]", Read, DAKOTA_SEED_PLACED, digs: false;
    stand_slope_urea_inhibited_soybean, "C", "Change of the stand of soybean for each lb/ac of urea with a urease inhibitor with the seed",
        [-3.403, -3.403, -3.403], "%.[acr_us]/[lb_av]", Read, DAKOTA_SEED_PLACED, digs: false;
    stand_slope_uan_corn, "C", "Change of the stand of corn for each lb/ac of 28-0-0 with the seed",
        [-0.236, -0.236, -0.236], "%.[acr_us]/[lb_av]", Read, DAKOTA_SEED_PLACED, digs: false;
    stand_slope_uan_soybean, "C", "Change of the stand of soybean for each lb/ac of 28-0-0 with the seed",
        [-1.703, -1.703, -1.703], "%.[acr_us]/[lb_av]", Read, DAKOTA_SEED_PLACED, digs: false;
    stand_slope_ammonium_nitrate_corn, "C", "Change of the stand of corn for each lb/ac of ammonium nitrate with the seed",
        [-0.215, -0.215, -0.215], "%.[acr_us]/[lb_av]", Read, DAKOTA_SEED_PLACED, digs: false;
    stand_slope_ammonium_nitrate_soybean, "C", "Change of the stand of soybean for each lb/ac of ammonium nitrate with the seed",
        [-2.378, -2.378, -2.378], "%.[acr_us]/[lb_av]", Read, DAKOTA_SEED_PLACED, digs: false;
    stand_loss_of_tables, "T", "Stand loss for which tables of seed-placed fertilizer are made; half the loss halves the rate",
        [5.0, 10.0, 10.0], "%", Read, DAKOTA_SEED_PLACED_RULES, digs: false;
    coarse_cut_moist, "c", "Cut of seed-placed fertilizer on coarse soil, moist, as printed",
        [0.4, 0.4, 0.4], "1", Read, DAKOTA_SEED_PLACED_RULES, digs: false, within: [0.4, 0.9];
    coarse_cut_dry, "c", "Cut of seed-placed fertilizer on coarse soil, dry, as printed",
        [0.2, 0.2, 0.2], "1", Read, DAKOTA_SEED_PLACED_RULES, digs: false, within: [0.2, 0.9];
    salt_index_ammonium_nitrate, "SI", "Salt index of ammonium nitrate (sodium nitrate 100)",
        [105.0, 105.0, 105.0], "1", FromMemory, RADER_1943, digs: false;
    salt_index_map, "SI", "Salt index of monoammonium phosphate (sodium nitrate 100)",
        [30.0, 30.0, 30.0], "1", FromMemory, RADER_1943, digs: false;
    salt_index_dap, "SI", "Salt index of diammonium phosphate (sodium nitrate 100)",
        [34.0, 34.0, 34.0], "1", FromMemory, RADER_1943, digs: false;
    salt_index_urea, "SI", "Salt index of urea (sodium nitrate 100)",
        [75.0, 75.0, 75.0], "1", FromMemory, RADER_1943, digs: false;
    salt_index_tsp, "SI", "Salt index of triple superphosphate (sodium nitrate 100)",
        [10.0, 10.0, 10.0], "1", FromMemory, RADER_1943, digs: false;
    salt_index_kcl, "SI", "Salt index of potassium chloride (sodium nitrate 100)",
        [116.0, 116.0, 116.0], "1", FromMemory, RADER_1943, digs: false;
    salt_index_10_34_0, "SI", "Salt index of 10-34-0; products for the furrow stay below 20",
        [20.0, 20.0, 20.0], "1", CommonPractice, COMMON_PRACTICE, digs: false;
    inoculant_years, "y", "Years without soybean after which an inoculant is used",
        [3.0, 3.0, 4.0], "a", CommonPractice, COMMON_PRACTICE, digs: false;
    inoculant_acid, "pH", "Soil pH below which an inoculant is used",
        [5.8, 5.8, 5.8], "[pH]", CommonPractice, COMMON_PRACTICE, digs: false, within: [4.0, 7.0];
    inoculant_alkaline, "pH", "Soil pH above which an inoculant is used",
        [8.0, 8.0, 8.0], "[pH]", CommonPractice, COMMON_PRACTICE, digs: false, within: [7.0, 10.0];
    little_residue, "c_little", "Share of the path under residue and mat below which there is nothing to cut, tuck or move",
        [0.1, 0.2, 0.3], "1", Proposal, OWN_CHOICE, digs: false;
    bare_enough, "c_bare", "Share of the path under residue and mat below which dry soil counts as having little residue",
        [0.2, 0.3, 0.4], "1", Proposal, OWN_CHOICE, digs: false, within: [0.0, 1.0];
    much_residue, "c_much", "Share of the path under residue and mat above which soybean goes to the shallow end",
        [0.5, 0.6, 0.7], "1", Proposal, OWN_CHOICE, digs: false, within: [0.0, 1.0];
    matted, "c_mat", "Share of the path under residue and mat from which the slot counts as matted for closing",
        [0.4, 0.5, 0.6], "1", Proposal, OWN_CHOICE, digs: false, within: [0.0, 1.0];
    early_corn, "t_early", "Day of the year before which corn counts as early (25 April) when nobody read the soil temperature",
        [105.0, 115.0, 125.0], "d", Proposal, OWN_CHOICE, digs: false;
    early_soybean, "t_early", "Day of the year before which soybean counts as early (1 May) when nobody read the soil temperature",
        [111.0, 121.0, 131.0], "d", Proposal, OWN_CHOICE, digs: false;
    late_soybean, "t_late", "Day of the year after which soybean counts as late (1 June)",
        [142.0, 152.0, 162.0], "d", Proposal, OWN_CHOICE, digs: false;
    dew_gone, "h_dry", "Hour of the day from which dead straw cuts well: late morning",
        [9.0, 10.0, 11.0], "h", FromMemory, RESIDUE_HOURS, digs: false, within: [0.0, 24.0];
    dew_falls, "h_dew", "Hour of the day from which straw turns tough again: early evening",
        [18.0, 20.0, 21.0], "h", FromMemory, RESIDUE_HOURS, digs: false, within: [0.0, 24.0];
    days_to_crisp, "t_crisp", "Days from the kill until a cover is dry and easy to cut (10 to 14)",
        [10.0, 12.0, 14.0], "d", CommonPractice, COMMON_PRACTICE, digs: false;
    hairpin_dying, "p", "Hairpin points: dying, yellow cover",
        [1.5, 2.0, 3.0], "1", Proposal, OWN_CHOICE, digs: false;
    hairpin_damp, "p", "Hairpin points: dead, damp mat",
        [1.5, 2.0, 3.0], "1", Proposal, OWN_CHOICE, digs: false;
    hairpin_standing, "p", "Hairpin points: living, standing cover",
        [0.0, 0.0, 0.5], "1", Proposal, OWN_CHOICE, digs: false;
    hairpin_crisp, "p", "Hairpin points: dead, crisp mat",
        [0.0, 0.0, 0.5], "1", Proposal, OWN_CHOICE, digs: false;
    hairpin_heavy_mat, "p", "Hairpin points: a heavy cover that lies on the ground and is not crisp",
        [0.0, 0.5, 1.0], "1", Proposal, OWN_CHOICE, digs: false;
    hairpin_stiff, "p", "Hairpin points: lying stems at heading or beyond",
        [0.0, 0.5, 1.0], "1", Proposal, OWN_CHOICE, digs: false;
    hairpin_across, "p", "Hairpin points: cover rolled across or at an angle to the rows",
        [0.5, 1.0, 2.0], "1", Proposal, OWN_CHOICE, digs: false;
    hairpin_wet, "p", "Hairpin points: wet residue at the hour of planting",
        [0.5, 1.0, 2.0], "1", Proposal, OWN_CHOICE, digs: false;
    hairpin_pliable, "p", "Hairpin points: residue that bends and does not snap",
        [0.25, 0.5, 1.0], "1", Proposal, OWN_CHOICE, digs: false;
    hairpin_dew, "p", "Hairpin points: a start in the hours of dew when nobody felt the residue",
        [0.0, 0.5, 1.0], "1", Proposal, OWN_CHOICE, digs: false;
    hairpin_piles, "p", "Hairpin points: residue in piles",
        [0.5, 1.0, 2.0], "1", Proposal, OWN_CHOICE, digs: false;
    hairpin_bands, "p", "Hairpin points: residue in bands behind the combine",
        [0.0, 0.5, 1.0], "1", Proposal, OWN_CHOICE, digs: false;
    hairpin_soft, "p", "Hairpin points: soft soil under the residue",
        [0.5, 1.0, 2.0], "1", Proposal, OWN_CHOICE, digs: false;
    hairpin_coulter, "p", "Hairpin points: a coulter ahead of the opener on soft soil",
        [0.5, 1.0, 2.0], "1", Proposal, OWN_CHOICE, digs: false;
    hairpin_some, "p_some", "Points from which there is some risk of hairpins",
        [0.5, 1.0, 1.5], "1", Proposal, OWN_CHOICE, digs: false;
    hairpin_high, "p_high", "Points from which the risk of hairpins is high",
        [1.5, 2.0, 2.5], "1", Proposal, OWN_CHOICE, digs: false;
    hairpin_most, "p_most", "Points at which the risk of hairpins ends",
        [3.0, 3.0, 3.0], "1", Proposal, OWN_CHOICE, digs: false;
    wrap_dying, "w", "Wrap points: dying, yellow cover",
        [1.0, 2.0, 2.0], "1", Proposal, OWN_CHOICE, digs: false;
    wrap_green_tall, "w", "Wrap points: tall living stems",
        [0.5, 1.0, 2.0], "1", Proposal, OWN_CHOICE, digs: false;
    wrap_damp_long, "w", "Wrap points: long damp stems",
        [0.5, 1.0, 2.0], "1", Proposal, OWN_CHOICE, digs: false;
    wrap_vines, "w", "Wrap points: vining legumes that are not dry",
        [0.5, 1.0, 2.0], "1", Proposal, OWN_CHOICE, digs: false;
    wrap_across, "w", "Wrap points: cover rolled across or at an angle to the rows",
        [0.5, 1.0, 2.0], "1", Proposal, OWN_CHOICE, digs: false;
    wrap_heavy, "w", "Wrap points: a heavy cover",
        [0.5, 1.0, 2.0], "1", Proposal, OWN_CHOICE, digs: false;
    wrap_some, "w_some", "Points from which there is some risk of wrapping",
        [0.5, 1.0, 1.5], "1", Proposal, OWN_CHOICE, digs: false;
    wrap_high, "w_high", "Points from which the risk of wrapping is high",
        [1.5, 2.0, 2.5], "1", Proposal, OWN_CHOICE, digs: false;
    wall_coarse, "f_tex", "Sidewall factor: sand and loamy sand",
        [0.0, 0.25, 0.5], "1", Proposal, OWN_CHOICE, digs: false;
    wall_moderately_coarse, "f_tex", "Sidewall factor: sandy loam",
        [0.25, 0.5, 0.75], "1", Proposal, OWN_CHOICE, digs: false;
    wall_medium, "f_tex", "Sidewall factor: loam, silt loam, silt, sandy clay loam",
        [0.75, 1.0, 1.25], "1", Proposal, OWN_CHOICE, digs: false;
    wall_fine, "f_tex", "Sidewall factor: clay loam and finer",
        [1.25, 1.5, 2.0], "1", Proposal, OWN_CHOICE, digs: false;
    wall_dry, "f_m", "Sidewall factor: dry soil",
        [0.0, 0.0, 0.1], "1", Proposal, OWN_CHOICE, digs: false;
    wall_slightly_moist, "f_m", "Sidewall factor: slightly moist soil",
        [0.1, 0.25, 0.4], "1", Proposal, OWN_CHOICE, digs: false;
    wall_moist, "f_m", "Sidewall factor: moist soil",
        [0.3, 0.5, 0.7], "1", Proposal, OWN_CHOICE, digs: false;
    wall_wet, "f_m", "Sidewall factor: wet soil, or a ball that deforms, or a ribbon that is too long",
        [0.8, 1.0, 1.2], "1", Proposal, OWN_CHOICE, digs: false;
    wall_at_capacity, "f_m", "Sidewall factor: soil at field capacity",
        [1.2, 1.5, 2.0], "1", Proposal, OWN_CHOICE, digs: false;
    wall_load, "G_ref", "Gauge-wheel load at which the sidewall factor of force is 1: lower edge of the heavy class",
        [490.0, 890.0, 890.0], "N", Derived, HANNA_2010, digs: false;
    wall_some, "w_some", "Product of the sidewall factors from which there is some risk",
        [0.4, 0.5, 0.6], "1", Proposal, OWN_CHOICE, digs: false;
    wall_high, "w_high", "Product of the sidewall factors from which the risk is high",
        [0.7, 0.8, 0.9], "1", Proposal, OWN_CHOICE, digs: false;
    closing_depth, "d_cl", "Planting depth at which angled closing wheels work best; shallower slots open up",
        [1.75, 2.0, 2.25], "[in_i]", Read, MICHIGAN_SIDEWALL_LATER, digs: false;
    old_row_distance, "x_row", "Distance of the new row from the old one in corn on corn",
        [4.0, 5.0, 6.0], "[in_i]", Read, NEBRASKA_DRY, digs: false;
    ask_wall, "w_wall", "Weight of breaking the wall when closing wheels are ranked: walls that stand",
        [2.0, 3.0, 4.0], "1", Proposal, OWN_CHOICE, digs: false;
    ask_firm, "w_firm", "Weight of firming when closing wheels are ranked: moist soil with standing walls",
        [0.5, 1.0, 1.5], "1", Proposal, OWN_CHOICE, digs: false;
    ask_firm_loose, "w_firm", "Weight of firming when closing wheels are ranked: dry soil, or light soil that crumbles in",
        [1.0, 2.0, 3.0], "1", Proposal, OWN_CHOICE, digs: false;
    ask_wet, "w_wet", "Weight of bearing wet soil when closing wheels are ranked: wet soil",
        [2.0, 3.0, 4.0], "1", Proposal, OWN_CHOICE, digs: false;
    ask_wet_moist, "w_wet", "Weight of bearing wet soil when closing wheels are ranked: moist soil",
        [0.5, 1.0, 1.5], "1", Proposal, OWN_CHOICE, digs: false;
    ask_moisture, "w_keep", "Weight of keeping moisture in when closing wheels are ranked: dry soil",
        [1.0, 2.0, 3.0], "1", Proposal, OWN_CHOICE, digs: false;
    ask_mat, "w_mat", "Weight of closing through a mat when closing wheels are ranked: a matted slot",
        [0.5, 1.0, 2.0], "1", Proposal, OWN_CHOICE, digs: false;
    ask_seed, "w_seed", "Weight of leaving the seed where it lies when closing wheels are ranked: always",
        [1.0, 1.5, 2.0], "1", Proposal, OWN_CHOICE, digs: false;
    close_call, "w_near", "Points by which two pairs of closing wheels may differ and still be a close call",
        [0.5, 1.0, 2.0], "1", Proposal, OWN_CHOICE, digs: false;
    closing_rubber_wall, "k", "two rubber wheels, breaking the wall (grade ours, 0 to 3): a no-till slot may stay open behind them",
        [0.0, 0.0, 1.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    closing_rubber_firm, "k", "two rubber wheels, firming (grade ours, 0 to 3): good contact and firming in mellow soil",
        [2.0, 3.0, 3.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    closing_rubber_wet, "k", "two rubber wheels, bearing wet soil (grade ours, 0 to 3): soil builds up on them when it is too wet",
        [0.0, 0.0, 1.0], "1", Proposal, MICHIGAN_SIDEWALL_LATER, digs: false, within: [0.0, 3.0];
    closing_rubber_moisture, "k", "two rubber wheels, keeping moisture in (grade ours, 0 to 3): a firmed slot dries slowly",
        [2.0, 3.0, 3.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    closing_rubber_mat, "k", "two rubber wheels, closing through a mat (grade ours, 0 to 3): other wheels gave 2 % more emergence at three no-till sites",
        [0.0, 0.0, 1.0], "1", Proposal, DREWRY_2020, digs: false, within: [0.0, 3.0];
    closing_rubber_seed, "k", "two rubber wheels, leaving the seed where it lies (grade ours, 0 to 3): nothing reaches into the slot",
        [3.0, 3.0, 3.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    closing_iron_wall, "k", "two cast-iron wheels, breaking the wall (grade ours, 0 to 3): by weight, without an edge",
        [0.0, 1.0, 2.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    closing_iron_firm, "k", "two cast-iron wheels, firming (grade ours, 0 to 3): their own weight gives much closing force",
        [2.0, 3.0, 3.0], "1", Proposal, PENN_CLOSING, digs: false, within: [0.0, 3.0];
    closing_iron_wet, "k", "two cast-iron wheels, bearing wet soil (grade ours, 0 to 3): heavy, so they press a wet wall",
        [0.0, 1.0, 2.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    closing_iron_moisture, "k", "two cast-iron wheels, keeping moisture in (grade ours, 0 to 3): a firmed slot dries slowly",
        [2.0, 3.0, 3.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    closing_iron_mat, "k", "two cast-iron wheels, closing through a mat (grade ours, 0 to 3): weight presses through some of it",
        [0.0, 1.0, 2.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    closing_iron_seed, "k", "two cast-iron wheels, leaving the seed where it lies (grade ours, 0 to 3): nothing reaches into the slot",
        [3.0, 3.0, 3.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    closing_mixed_wall, "k", "one spiked and one rubber wheel, breaking the wall (grade ours, 0 to 3): the spike breaks one wall",
        [1.0, 2.0, 3.0], "1", Proposal, COLORADO_TEN, digs: false, within: [0.0, 3.0];
    closing_mixed_firm, "k", "one spiked and one rubber wheel, firming (grade ours, 0 to 3): the rubber firms the other wall",
        [1.0, 2.0, 3.0], "1", Proposal, COLORADO_TEN, digs: false, within: [0.0, 3.0];
    closing_mixed_wet, "k", "one spiked and one rubber wheel, bearing wet soil (grade ours, 0 to 3): for cool, moist planting in heavy soils",
        [1.0, 2.0, 3.0], "1", Proposal, COLORADO_TEN, digs: false, within: [0.0, 3.0];
    closing_mixed_moisture, "k", "one spiked and one rubber wheel, keeping moisture in (grade ours, 0 to 3): one half of the slot is left open to the air",
        [1.0, 2.0, 3.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    closing_mixed_mat, "k", "one spiked and one rubber wheel, closing through a mat (grade ours, 0 to 3): wheels other than plain rubber gave more emergence",
        [1.0, 2.0, 3.0], "1", Proposal, DREWRY_2020, digs: false, within: [0.0, 3.0];
    closing_mixed_seed, "k", "one spiked and one rubber wheel, leaving the seed where it lies (grade ours, 0 to 3): a spike can pull seed up",
        [1.0, 2.0, 3.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    closing_spiked_wall, "k", "two spiked wheels, breaking the wall (grade ours, 0 to 3): break both walls, the most aggressive closing",
        [2.0, 3.0, 3.0], "1", Proposal, COLORADO_TEN, digs: false, within: [0.0, 3.0];
    closing_spiked_firm, "k", "two spiked wheels, firming (grade ours, 0 to 3): leave the slot loose, use a firmer",
        [0.0, 0.0, 1.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    closing_spiked_wet, "k", "two spiked wheels, bearing wet soil (grade ours, 0 to 3): open a wet slot to the air",
        [1.0, 2.0, 3.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    closing_spiked_moisture, "k", "two spiked wheels, keeping moisture in (grade ours, 0 to 3): dry the slot out",
        [0.0, 0.0, 1.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    closing_spiked_mat, "k", "two spiked wheels, closing through a mat (grade ours, 0 to 3): wheels other than plain rubber gave more emergence",
        [1.0, 2.0, 3.0], "1", Proposal, DREWRY_2020, digs: false, within: [0.0, 3.0];
    closing_spiked_seed, "k", "two spiked wheels, leaving the seed where it lies (grade ours, 0 to 3): can till seed out",
        [0.0, 0.0, 1.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    closing_finger_wall, "k", "finger wheels, breaking the wall (grade ours, 0 to 3): fingers crumble the wall",
        [1.0, 2.0, 3.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    closing_finger_firm, "k", "finger wheels, firming (grade ours, 0 to 3): leave soil looser over the seed",
        [0.0, 1.0, 2.0], "1", Proposal, IOWA_WET, digs: false, within: [0.0, 3.0];
    closing_finger_wet, "k", "finger wheels, bearing wet soil (grade ours, 0 to 3): for wetter soils, they leave soil looser over the seed",
        [2.0, 3.0, 3.0], "1", Proposal, IOWA_WET, digs: false, within: [0.0, 3.0];
    closing_finger_moisture, "k", "finger wheels, keeping moisture in (grade ours, 0 to 3): looser soil dries faster",
        [0.0, 1.0, 2.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    closing_finger_mat, "k", "finger wheels, closing through a mat (grade ours, 0 to 3): wheels other than plain rubber gave more emergence",
        [1.0, 2.0, 3.0], "1", Proposal, DREWRY_2020, digs: false, within: [0.0, 3.0];
    closing_finger_seed, "k", "finger wheels, leaving the seed where it lies (grade ours, 0 to 3): fingers reach into a shallow slot",
        [0.0, 1.0, 2.0], "1", Proposal, COMMON_PRACTICE, digs: false, within: [0.0, 3.0];
    suitable_share, "q", "Share of the calendar days that are fit for fieldwork: central Illinois, 10 April to 20 May, mean and range of 1980 to 2010",
        [0.22, 0.48, 0.77], "1", Read, ILLINOIS_FIELD_DAYS, digs: false, within: [0.05, 1.0];
    hours_a_day, "h", "Hours in the field on a day that is fit",
        [8.0, 10.0, 14.0], "h/d", Assumption, ASSUMPTION, digs: false, within: [1.0, 24.0];
    meter_speed, "v_m", "Speed that most planters are designed for; mechanical meters commonly run at 4.5 to 5.5 mph",
        [4.5, 5.0, 5.5], "[mi_i]/h", Read, NEBRASKA_SPEED, digs: false;
    draft_mounted, "A", "Draft of a row of a mounted planter on a prepared seedbed, seeding only",
        [375.0, 500.0, 625.0], "N", FromMemory, ASABE_D497, digs: false;
    draft_with_products, "A", "Draft of a row of a drawn planter on a prepared seedbed with seed, fertilizer and herbicide",
        [1162.5, 1550.0, 1937.5], "N", FromMemory, ASABE_D497, digs: false;
    draft_zone_till, "A", "Draft of a row of a zone-till planter with three fluted coulters a row",
        [2210.0, 3400.0, 4590.0], "N", FromMemory, ASABE_D497, digs: false;
    draft_medium, "F_2", "Draft of a no-till row with one coulter in medium soil, against fine soil",
        [0.96, 0.96, 0.96], "1", FromMemory, ASABE_D497, digs: false;
    draft_coarse, "F_3", "Draft of a no-till row with one coulter in coarse soil, against fine soil",
        [0.92, 0.92, 0.92], "1", FromMemory, ASABE_D497, digs: false;
    draft_zone_medium, "F_2", "Draft of a zone-till row in medium soil, against fine soil",
        [0.94, 0.94, 0.94], "1", FromMemory, ASABE_D497, digs: false;
    draft_zone_coarse, "F_3", "Draft of a zone-till row in coarse soil, against fine soil",
        [0.82, 0.82, 0.82], "1", FromMemory, ASABE_D497, digs: false;
    pto_of_engine, "r_pto", "Power at the PTO for the power at the flywheel",
        [0.9, 0.9, 0.9], "1", Read, ARIZONA_POWER, digs: false, within: [0.5, 1.0];
    kernels_per_bag, "n_corn", "Kernels in a bag of seed corn",
        [80_000.0, 80_000.0, 80_000.0], "1", FromMemory, SEED_TRADE, digs: false;
    soybean_per_unit, "n_soy", "Seeds in a unit of soybean seed",
        [140_000.0, 140_000.0, 140_000.0], "1", FromMemory, SEED_TRADE, digs: false;
    kernels_per_pound, "n_lb_corn", "Kernels in a pound of seed corn, by grade: the tag says",
        [1300.0, 1500.0, 1800.0], "1/[lb_av]", FromMemory, SEED_TRADE, digs: false;
    soybeans_per_pound, "n_lb_soy", "Seeds in a pound of soybean seed; lots differ: the tag says",
        [2500.0, 2800.0, 3500.0], "1/[lb_av]", FromMemory, SEED_TRADE, digs: false;
    seed_spare, "z", "Share of seed to order above the need, for filling, overlap and what stays in the planter",
        [0.0, 0.03, 0.05], "1", Assumption, ASSUMPTION, digs: false;
    green_soybean_rate, "c_g", "Seed to add to the rate of soybean that is planted into living cover",
        [0.0, 0.05, 0.1], "1", FromMemory, GREEN_SOYBEAN, digs: false;
    resistance_factor, "phi", "Resistance of soil to opener and coulter, over what the conditions let expect; the ends follow from those of the opener coefficient and of moist soil",
        [0.352, 1.0, 3.12], "1", Assumption, OWN_CHOICE, digs: true, within: [0.352, 3.12];
    practices_differ, "tau_1", "Standard deviation of ln(phi) between practices",
        [0.1, 0.2, 0.3], "1", Proposal, OWN_CHOICE, digs: false;
    classes_differ, "tau_2", "Standard deviation of ln(phi) between soil and cover classes",
        [0.1, 0.2, 0.3], "1", Proposal, OWN_CHOICE, digs: false;
    planters_differ, "tau_3", "Standard deviation of ln(phi) between planters in a class: weights nobody knows included",
        [0.15, 0.24, 0.35], "1", Proposal, OWN_CHOICE, digs: false;
    fields_differ, "tau_4", "Standard deviation of ln(phi) between fields of a planter in a class",
        [0.06, 0.12, 0.2], "1", Proposal, OWN_CHOICE, digs: false;
    seasons_differ, "tau_5", "Standard deviation of ln(phi) between seasons of a field",
        [0.03, 0.06, 0.15], "1", Proposal, OWN_CHOICE, digs: false;
    digs_differ, "tau_6", "Standard deviation of ln(phi) between digs of a field in one season: place and hour",
        [0.03, 0.06, 0.12], "1", Proposal, OWN_CHOICE, digs: false;
    forgotten_a_year, "q", "What each year adds to the spread between seasons, as a standard deviation of ln(phi)",
        [0.05, 0.1, 0.2], "1", Proposal, OWN_CHOICE, digs: false;
    answers_misread, "e_1", "Share of the answers of a dig that are wrong",
        [0.02, 0.05, 0.1], "1", Assumption, ASSUMPTION, digs: false;
    digs_absurd, "e_2", "Share of the digs that say nothing, whatever they seem to say",
        [0.02, 0.05, 0.1], "1", Assumption, ASSUMPTION, digs: false;
    wheel_free, "G_free", "Gauge-wheel load below which a wheel spins at the touch of a hand",
        [20.0, 120.0, 220.0], "N", Assumption, ASSUMPTION, digs: false;
    wheel_locked_spread, "s_lock", "Standard deviation of the load at which a wheel cannot be turned, as a share of what the soil bears",
        [0.05, 0.12, 0.2], "1", Assumption, ASSUMPTION, digs: false;
    row_push_spread, "s_push", "Standard deviation from row to row of what pushes the units down",
        [30.0, 60.0, 120.0], "N", Assumption, ASSUMPTION, digs: false;
    soil_spots, "s_spot", "Standard deviation of the resistance from spot to spot, as a share of it",
        [0.1, 0.2, 0.3], "1", Assumption, ASSUMPTION, digs: false;
    harder_behind_tyres, "f_tyre", "How much harder soil is behind a tyre",
        [1.0, 1.1, 1.4], "1", Assumption, ASSUMPTION, digs: false;
    logged_load_spread, "s_log", "Standard deviation of a logged mean load of a row",
        [30.0, 60.0, 150.0], "N", Assumption, ASSUMPTION, digs: false;
    seed_from_furrow, "s_seed", "Standard deviation of a seed depth about the furrow's: tape, stop of the row, roughness",
        [0.07, 0.105, 0.2], "[in_i]", Assumption, ASSUMPTION, digs: false;
    seeds_worth, "n_eff", "Independent readings that the seeds of one row are worth, neighbours resembling each other",
        [1.0, 3.0, 6.0], "1", Assumption, ASSUMPTION, digs: false;
    largest_learned_step, "dF_learned", "Largest change of down force after one dig, where learned digs carry it",
        [222.411, 889.644, 889.644], "N", Proposal, OWN_CHOICE, digs: false;
    unasked_change_worth, "dp_0", "Gain in the chance of being in the window for which the down force is changed although no sign asks for it",
        [0.05, 0.15, 0.3], "1", Proposal, OWN_CHOICE, digs: false;
    change_worth, "dp", "Gain in the chance of being in the window for which a change of down force is worth a stop",
        [0.0, 0.01, 0.05], "1", Proposal, OWN_CHOICE, digs: false;
    trial_blocks, "r", "Blocks of a trial: how often each treatment is repeated",
        [2.0, 4.0, 6.0], "1", Read, WUEST_1994, digs: false, within: [2.0, 12.0];
    trial_strip_least, "l_min", "Length of a trial strip that can do",
        [250.0, 300.0, 750.0], "[ft_i]", Read, WUEST_1994, digs: false;
    trial_strip_better, "l", "Length of a trial strip from which on it is better",
        [300.0, 750.0, 1000.0], "[ft_i]", Read, WUEST_1994, digs: false;
    trial_scatter_corn, "CV_corn", "Scatter of corn yield from plot to plot where nothing was tried: neighbouring strips, single plots, small plots of the 1930s",
        [3.0, 6.6, 17.2], "%", Derived, UNIFORMITY_TRIALS, digs: false;
    trial_scatter_soybean, "CV_soy", "Scatter of soybean yield from plot to plot where nothing was tried: neighbouring rows over their whole length, all rows, single plats",
        [4.0, 6.8, 14.0], "%", Derived, UNIFORMITY_TRIALS, digs: false;
    market_moisture_corn, "m_corn", "Water in corn as it is sold, by wet weight",
        [0.14, 0.155, 0.16], "1", FromMemory, MARKET_MOISTURE, digs: false, within: [0.05, 0.3];
    market_moisture_soybean, "m_soy", "Water in soybean as it is sold, by wet weight",
        [0.12, 0.13, 0.14], "1", FromMemory, MARKET_MOISTURE, digs: false, within: [0.05, 0.3];
}
