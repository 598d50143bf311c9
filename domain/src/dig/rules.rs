//! The rules of the dig check, as one table.
//!
//! Each rule says what is seen, what it means, what to look at first, what to change and by how
//! much, and how the rule is known. Order matters: soil, then iron, then settings, then single
//! rows, closing and seed. No more down force than needed; the cause before the force; one change,
//! then dig again.

use super::change::Action;
use super::finding::{Cause, Class, Evidence};
use super::remedy;
use super::scene::Scene;
use super::signs::{closing, frame, furrow, mechanical, rows, setting, spacing};
use crate::provenance::{Mark, Source, sources};

/// One rule.
#[derive(Clone, Copy)]
pub struct Rule {
    /// What may be wrong.
    pub cause: Cause,
    /// Where it stands in the order.
    pub class: Class,
    /// What is seen.
    pub when: &'static str,
    /// What it means.
    pub reading: &'static str,
    /// What to look at first.
    pub check: &'static str,
    /// What to change.
    pub change: &'static str,
    /// How much.
    pub size: &'static str,
    /// How the rule is known.
    pub mark: Mark,
    /// Its source.
    pub source: Source,
    /// Whether the signs are there.
    pub(super) sees: fn(&Scene<'_>) -> Option<Evidence>,
    /// What it asks for.
    pub(super) acts: fn(&Scene<'_>, &[u16]) -> Action,
}

macro_rules! rules {
    ($($class:ident $cause:ident:
        when $when:literal, means $reading:literal, check $check:literal,
        change $change:literal, by $size:literal, $mark:ident $source:ident,
        $sees:path => $acts:path;)*) => {
        /// The rules, in their order.
        pub const RULES: &[Rule] = &[$(Rule {
            cause: Cause::$cause, class: Class::$class,
            when: $when, reading: $reading, check: $check, change: $change, size: $size,
            mark: Mark::$mark, source: sources::$source,
            sees: $sees, acts: $acts,
        }),*];
    };
}

rules! {
    Soil SoilTooWet:
        when "the wall shines on most rows and the soil is wet, or nobody reported the soil and the wheels are not locked", means "too wet to plant: a smeared wall cannot be mended",
        check "squeeze a ball of soil from seed depth", change "wait", by "until the ball crumbles",
        Read MICHIGAN_SIDEWALL, mechanical::soil_too_wet => remedy::wait_for_soil;
    Mechanical CleanerTooDeep:
        when "the cleaner runs below the surface on most rows", means "the unit rides on its cleaner; it looks like missing down force",
        check "how many cleaners turn: about a third at any time is right", change "raise the cleaner", by "until it just brushes",
        CommonPractice COMMON_PRACTICE, mechanical::cleaner_too_deep => remedy::raise_cleaner;
    Mechanical CleanerWrapped:
        when "the cleaner is wrapped", means "it drags cover along, carries the unit and hinders closing",
        check "clear it and see whether it wraps again", change "in living cover lift it clear, else clear it", by "all rows",
        Read IOWA_ROLL, mechanical::cleaner_wrapped => remedy::free_cleaner;
    Mechanical BarTooHigh:
        when "the arms slope down to the rear by an inch of bar height or more", means "the pull of the row lifts the unit",
        check "bar height, planter down, no down force", change "level the arms", by "to level",
        Derived STATICS, frame::bar_too_high => remedy::level_the_arms;
    Mechanical BarTooLow:
        when "the arms slope up to the rear by an inch of bar height or more, and the wheels are locked or leave a deep print", means "the pull of the row presses the unit down",
        check "bar height, planter down, no down force", change "level the arms", by "to level",
        Derived STATICS, frame::bar_too_low => remedy::level_the_arms;
    Mechanical FrameLifts:
        when "the outer rows lie surely shallower, or their wheels and prints show less load than on most other rows", means "the ends of the frame lift: more force lifts them further",
        check "planter down: does the bar rise at the ends as force is raised", change "weight on the wings", by "until they stay down, tanks empty",
        Derived STATICS, frame::frame_lifts => remedy::weigh_the_wings;
    Mechanical WornOrMisread:
        when "every row is shallow by the same small amount, the wheels do not spin free", means "worn discs, a lever that reads deeper than it is, or bar height; not down force",
        check "disc diameter, lever against a measured furrow, bar height", change "replace, or deepen by what the wear takes", by "half the loss of diameter",
        Derived GEOMETRY, mechanical::worn_or_misread => remedy::measure_discs;
    Mechanical Hairpin:
        when "residue is tucked into the furrow", means "residue was bent, not cut: blunt or parted discs, damp residue, or too shallow; not force first",
        check "disc edge and touch; does the residue snap", change "sharpen or replace, wait until it is dry, or lift the coulter in living cover", by "all rows",
        Read NEBRASKA_RIGHT_MOVES, furrow::hairpin => remedy::clear_hairpins;
    Mechanical DiscsApart:
        when "the furrow has a W bottom", means "the discs do not touch as they should, or are worn",
        check "touch length with two cards", change "shim or replace", by "to the touch length of the manual",
        Read IOWA_CHECKLIST, furrow::discs_apart => remedy::bring_discs_together;
    Mechanical SeedOffBottom:
        when "seed lies above the bottom of the furrow", means "firmer, seed tube or bounce; not down force",
        check "firmer and tube", change "mend or renew", by "the rows concerned",
        CommonPractice COMMON_PRACTICE, furrow::seed_off_bottom => remedy::see_to_the_tube;
    Mechanical LooseUnit:
        when "depth scatters within rows although the planter is slow, or on single rows that carry load much more than on the others", means "loose arms or bushings let the unit bounce",
        check "lift the unit and push it sideways: it should not be easy", change "new bushings", by "the rows concerned",
        Read PENN_READY, mechanical::loose_unit => remedy::tighten_unit;
    Mechanical UnevenRows:
        when "rows that carry load differ by more than the tolerance (standard deviation), and no single row stands out", means "depth stops, levers or springs stand otherwise from row to row",
        check "lever, stop and spring of each row", change "set all rows alike", by "the same notch and an unworn stop on every row",
        CommonPractice COMMON_PRACTICE, mechanical::uneven_rows => remedy::set_rows_alike;
    Setting TooMuchForce:
        when "the wheels are locked, or a deep print with a shiny wall, or the logged load is above the ceiling", means "more load than this soil bears",
        check "does the wall crumble between the fingers", change "less down force", by "to the setting with the best chance by this dig and all earlier ones, at most 200 lbf at once",
        CommonPractice COMMON_PRACTICE, setting::too_much_force => remedy::lighter;
    Setting TooLittleForce:
        when "the wheels spin free and seed is not deep, or the logged load is below the window", means "the opener carries the unit: more resistance than weight",
        check "cleaner, bar height and frame first", change "more down force", by "to the setting with the best chance by this dig and all earlier ones, at most 200 lbf at once",
        Derived STATICS, setting::too_little_force => remedy::heavier;
    Setting TooFast:
        when "depth scatters within rows, with the mean within tolerance", means "the unit bounces",
        check "drive a strip one mph slower", change "slow down", by "1 mph",
        Read BADUA_2021, setting::too_fast => remedy::slower;
    Setting LeverOff:
        when "the mean is surely off, and the wheels carry load", means "the stop is reached, so the stop is wrong",
        check "is the lever in the same notch on all rows", change "move the lever", by "the error of the mean, to the nearest notch, at most half an inch",
        CommonPractice COMMON_PRACTICE, setting::lever_off => remedy::deepen_by_error;
    Setting DrySeedZone:
        when "the soil around the seed is dry at the depth that was wanted", means "seed will come up unevenly",
        check "how deep does moist soil lie", change "deeper, or wait for rain", by "one notch, never below what is safe",
        Read PURDUE_DEPTH, setting::dry_seed_zone => remedy::follow_moisture;
    SomeRows TyreTracks:
        when "only rows behind tyres are shallow or spin free", means "packed soil behind tyres, not the setting",
        check "do these rows have a setting of their own", change "one step more on these rows, or accept it", by "these rows only",
        Read WISCONSIN_ADJUST, rows::tyre_tracks => remedy::look_behind_tyres;
    SomeRows OddRow:
        when "a single row differs from the others", means "something is wrong on that row, not with the planter",
        check "compare it part by part with its neighbour", change "mend that row", by "that row only",
        CommonPractice COMMON_PRACTICE, rows::odd_row => remedy::look_at_row;
    Closing ClosingTooMild:
        when "the furrow stays open and its walls stand smooth", means "the closing wheels do not break the wall, or it is too wet",
        check "is the soil fit", change "keener closing wheels on two rows; do not only add spring", by "two rows first",
        Read COLORADO_TEN, closing::too_mild => remedy::other_wheels;
    Closing ClosingOffCentre:
        when "the furrow stays open although its walls crumble, or on some rows only", means "the closing wheels miss the furrow",
        check "do the wheels straddle the line of the openers", change "centre them, set the gap", by "the rows concerned",
        Read NEBRASKA_CLOSING, closing::off_centre => remedy::centre_wheels;
    Closing ClosingTooHard:
        when "the soil over the seed is packed or crusted", means "the closing wheels press too hard, or off centre",
        check "does the soil over the seed open with a small tool", change "lighter spring", by "one step",
        Read IOWA_WET, closing::too_hard => remedy::ease_closing;
    Seed SpacingTooFast:
        when "spacing scatters by more than 3 in, above 5.5 mph", means "the faster, the more spacing scatters (in all five conditions of a field study)",
        check "spacing at a lower speed", change "slow down", by "1 mph",
        Read YAZGI_2015, spacing::spacing_too_fast => remedy::slower;
    Seed Meter:
        when "spacing scatters by more than 3 in", means "the meters place seed unevenly",
        check "meters on a stand", change "mend or recalibrate", by "the rows concerned",
        Read SPACING_GUIDELINE, spacing::meter => remedy::see_to_meters;
    Seed RateOff:
        when "the mean spacing misses the rate by more than 5 %", means "the drive does not turn the meters as it should",
        check "rate setting, drive, slip", change "correct the drive", by "by the share it is off",
        CommonPractice COMMON_PRACTICE, spacing::rate_off => remedy::see_to_drive;
}
