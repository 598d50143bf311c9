//! The furrow itself: residue in it, its bottom, and whether the seed lies there.

use super::super::finding::Evidence;
use super::super::reading::Bottom;
use super::super::scene::Scene;
use crate::conditions::ResidueFeel;
use crate::planter::DiscVerdict;

pub(in super::super) fn hairpin(scene: &Scene<'_>) -> Option<Evidence> {
    let tucked = scene.tally(|r| r.residue_in_furrow);
    let feel = scene.case.conditions.residue_feel;
    let damp = matches!(feel, Some(ResidueFeel::Pliable | ResidueFeel::Wet));
    tucked.any().then(|| {
        Evidence::default()
            .pro(format!("residue is tucked into the furrow {}", tucked.words()))
            .pro_if(damp, "the residue does not snap")
            .pro_if(scene.discs() == DiscVerdict::Replace, "the discs are worn to their limit")
            .pro_if(scene.shallow(), "seed lies shallow")
            .con_if(feel == Some(ResidueFeel::Crisp), "the residue snaps when it is bent")
            .on(tucked.rows_if_few())
    })
}

pub(in super::super) fn discs_apart(scene: &Scene<'_>) -> Option<Evidence> {
    let ridged = scene.tally(|r| r.bottom.map(|b| b == Bottom::W));
    ridged.any().then(|| {
        Evidence::default()
            .pro(format!("the furrow has a W bottom {}", ridged.words()))
            .pro_if(scene.discs() == DiscVerdict::Replace, "the discs are worn to their limit")
            .con_if(
                scene.discs() == DiscVerdict::Keep,
                "the discs were measured and are within their limit",
            )
            .on(ridged.rows_if_few())
    })
}

pub(in super::super) fn seed_off_bottom(scene: &Scene<'_>) -> Option<Evidence> {
    let above = scene.tally(|r| r.seed_on_bottom.map(|on| !on));
    let even = scene.depth().is_some() && !scene.scattered() && scene.on_target();
    above.any().then(|| {
        Evidence::default()
            .pro(format!("seed lies above the bottom of the furrow {}", above.words()))
            .pro_if(scene.scattered(), "depth scatters from seed to seed")
            .con_if(even, "seed lies evenly and at depth")
            .on(above.rows_if_few())
    })
}
