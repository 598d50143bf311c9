//! The table of contradictions: which members, what contradicts, which reading is the safer one.

use super::super::report::Conditions;
use super::{Clash, cover, soil};
use crate::provenance::{Coefficients, Mark, Source, sources};

/// One rule.
pub(super) struct Rule {
    pub(super) clash: Clash,
    pub(super) members: &'static [&'static str],
    pub(super) what: &'static str,
    pub(super) used: &'static str,
    pub(super) mark: Mark,
    pub(super) source: Source,
    /// Whether the readings contradict each other.
    pub(super) clashes: fn(&Conditions, &Coefficients) -> bool,
    /// Leaves the safer reading.
    pub(super) settle: fn(&mut Conditions, &Coefficients),
}

macro_rules! rules {
    ($($clash:ident [$($member:literal),+]: $what:literal, used $used:literal,
       $mark:ident $source:ident, $clashes:path => $settle:path;)*) => {
        /// The rules. Soil first: no setting helps before the soil is known.
        pub(super) const RULES: &[Rule] = &[$(Rule {
            clash: Clash::$clash, members: &[$($member),+], what: $what, used: $used,
            mark: Mark::$mark, source: sources::$source, clashes: $clashes, settle: $settle,
        }),*];
    };
}

rules! {
    SandYetRibbon ["/texture", "/ribbon"]:
        "sand makes no ribbon, yet this soil does",
        used "the ribbon counts: the texture is taken as not known, fine where it matters; feel it again",
        Read TEXTURE_RIBBON, soil::sand_yet_ribbon => soil::forget_texture;
    WaterAgainstFeel ["/water", "/moisture"]:
        "the probe and the hand find very different water in the soil",
        used "the wetter one counts; probe and squeeze soil from seed depth again",
        Proposal OWN_CHOICE, soil::water_against_feel => soil::go_by_the_wetter;
    WetYetCrumbles ["/moisture", "/ball"]:
        "the soil is wet or full of water by feel, yet a ball of it crumbles",
        used "the feel counts, the ball does not; squeeze soil from seed depth at three places",
        Proposal OWN_CHOICE, soil::wet_yet_crumbles => soil::forget_ball;
    DryYetPutty ["/moisture", "/ball"]:
        "the soil is dry or nearly dry by feel, yet a ball of it deforms like putty",
        used "the ball counts: the soil is taken as wet; squeeze soil from seed depth at three places",
        Read KANSAS_SIDEWALL, soil::dry_yet_putty => soil::take_as_wet;
    DryYetRibbon ["/moisture", "/ribbon"]:
        "the soil is dry or nearly dry by feel, yet it makes a ribbon longer than 3 in as found",
        used "the ribbon counts: the soil is taken as wet; test soil from seed depth at three places",
        Read PENN_SIDEWALL, soil::dry_yet_ribbon => soil::take_as_wet;
    RibbonYetCrumbles ["/ribbon", "/ball"]:
        "the soil makes a ribbon longer than 3 in as found, yet a ball of it crumbles or cracks",
        used "the ribbon counts, the ball does not; test soil from seed depth at three places",
        Read PENN_SIDEWALL, soil::ribbon_yet_crumbles => soil::forget_ball;
    WholeYetCrumbles ["/toss", "/ball"]:
        "a thrown ball lands whole, yet a ball from seed depth crumbles or cracks",
        used "the toss counts, the ball does not; test soil from seed depth at three places",
        Read PENN_SIDEWALL, soil::whole_yet_crumbles => soil::forget_ball;
    PuttyYetHard ["/ball", "/moisture", "/penetration", "/strength_class"]:
        "the soil is like putty or full of water, yet the cone or the knife finds it hard (above 300 psi)",
        used "the wet soil counts, the hardness does not: no force is added for it; push the cone at ten places away from wheel tracks",
        Proposal OWN_CHOICE, soil::putty_yet_hard => soil::forget_hardness;
    StrengthApart ["/penetration", "/strength_class"]:
        "penetrometer and knife are two classes apart or more",
        used "the softer one counts, so that no force is added on a doubt; push the cone at ten places",
        Proposal OWN_CHOICE, soil::strength_apart => soil::go_by_the_softer;
    LowAboveNow ["/soil_low", "/soil_temperature"]:
        "the low that is expected lies above the temperature that was read",
        used "the colder one counts; check both",
        Proposal OWN_CHOICE, soil::low_above_now => soil::go_by_the_colder;
    OutsideWithoutCover ["/read_outside_cover", "/cover"]:
        "the temperature was read outside a cover, yet no cover is reported",
        used "the soil is taken as cooler, as under a living cover; name the cover, or take the mark away",
        Proposal OWN_CHOICE, cover::outside_without_cover => cover::leave;
    FlatYetCovered ["/cover/height", "/cover/ground_cover"]:
        "the cover has no height, yet it covers half the ground or more",
        used "the ground cover counts: the height is taken as not known; measure it at three places",
        Proposal OWN_CHOICE, cover::flat_yet_covered => cover::forget_height;
    TallYetBare ["/cover/ground_cover", "/cover/height"]:
        "the cover stands 2 in tall or more, yet it covers no ground",
        used "the height counts: the ground cover is taken as not known; look straight down at three places",
        Proposal OWN_CHOICE, cover::tall_yet_bare => cover::forget_ground_cover;
    CrispYetWet ["/cover/state", "/residue_feel"]:
        "the dead cover is crisp, yet there is water on the residue",
        used "the water counts: the cover is taken as damp; bend a stem at the hour of planting",
        Proposal OWN_CHOICE, cover::crisp_yet_wet => cover::take_as_damp;
    GreenAfterEnd ["/cover/state", "/cover_ended"]:
        "the cover was ended more than two weeks before planting, yet it is green",
        used "the cover is taken as dying: tough to cut, and its shade still cools; look whether it grows",
        CommonPractice COMMON_PRACTICE, cover::green_after_end => cover::take_as_dying;
    CrispTooSoon ["/cover/state", "/cover_ended"]:
        "the cover was ended less than five days before planting, yet it is dead and crisp",
        used "the cover is taken as dying: tough to cut; bend a stem at the hour of planting",
        CommonPractice COMMON_PRACTICE, cover::crisp_too_soon => cover::take_as_dying;
    DeadBeforeEnd ["/cover/state", "/cover_ended"]:
        "the cover is dead, yet it is to be ended only after planting",
        used "the state counts for cutting, the later day for insects and insurance; correct one of them",
        Proposal OWN_CHOICE, cover::dead_before_end => cover::leave;
    StageAheadOfHeight ["/cover/stage", "/cover/height"]:
        "the cover is said to head or flower, yet it is short for that",
        used "the stage counts, since a ripe cover ties up more nitrogen: the height is taken as not known; measure it at three places",
        Proposal OWN_CHOICE, cover::stage_ahead_of_height => cover::forget_height;
    StageBehindHeight ["/cover/stage", "/cover/height"]:
        "the cover is said to be tillering, yet it is taller than 24 in",
        used "the height counts: the stage is taken as not known; feel the stem for nodes",
        Proposal OWN_CHOICE, cover::stage_behind_height => cover::forget_stage;
    ClipAgainstHeight ["/cover/clip", "/cover/height", "/cover/ground_cover"]:
        "the clip gives more or less dry matter than height and ground cover allow, even with the rule's own 40 % to either side",
        used "the heavier of both counts; clip a few more frames, and check the dry weight and the area",
        Read DAKOTA_BIOMASS, cover::clip_against_height => cover::go_by_the_heavier;
    YieldWithoutResidue ["/residue_cover", "/previous_yield_bu_ac"]:
        "a corn crop of 150 bu/ac or more leaves a mat, yet next to no residue was counted",
        used "the count along the tape is used; unless the field was tilled, baled or burnt, count again at other places",
        Proposal OWN_CHOICE, cover::yield_without_residue => cover::leave;
}
