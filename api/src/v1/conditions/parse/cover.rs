//! The cover crop, its end, and what was counted in it.

use chrono::{Days, NaiveDate};
use domain::conditions::{CoverClip, CoverCrop, Pests};
use domain::quantity::bounds;

use super::super::dto::{ConditionsIn, CoverClipIn, CoverCropIn, PestsIn};
use super::Reader;
use crate::http::{BadMember, Refused};

/// How long before and after planting a cover may be ended, in days.
const DAYS_BEFORE: u64 = 60;
const DAYS_AFTER: u64 = 14;
/// Most slugs on a plant.
const MOST_SLUGS: f64 = 100.0;

impl CoverCropIn {
    pub(super) fn parse(&self, refused: &mut Refused) -> CoverCrop {
        let Self { species, height, ground_cover, state, stage, clip, nitrogen, rolled } = self;
        let clip = clip.as_ref().and_then(|clip| clip.parse(refused));
        let mut read = Reader(refused);
        CoverCrop {
            height: read.take("/cover/height", height.as_ref(), &bounds::COVER_HEIGHT),
            ground_cover: read.take("/cover/ground_cover", ground_cover.as_ref(), &bounds::SHARE),
            state: state.map(Into::into),
            stage: stage.map(Into::into),
            clip,
            nitrogen: read.take("/cover/nitrogen", nitrogen.as_ref(), &bounds::TOPS_NITROGEN),
            rolled: rolled.map(Into::into),
            ..CoverCrop::of((*species).into())
        }
    }
}

impl CoverClipIn {
    fn parse(&self, refused: &mut Refused) -> Option<CoverClip> {
        let dry = refused.take(self.dry.parse("/cover/clip/dry", &bounds::WEIGHED_MASS));
        let area = refused.take(self.area.parse("/cover/clip/area", &bounds::SAMPLED_AREA));
        let clip = CoverClip { dry: dry?, area: area? };
        let bound = &bounds::DRY_MATTER;
        let (most, unit) = (bound.most, bound.us);
        let density = clip.density()?;
        let pounds = bound.show(density, domain::quantity::System::Us).0;
        if pounds <= most {
            return Some(clip);
        }
        refused.add(
            BadMember::new("/cover/clip", "This is more dry matter than a field can grow.")
                .given(format!("{pounds:.0} {unit}"))
                .allowed(format!("at most {most} {unit}"))
                .why(bound.why),
        );
        None
    }
}

impl PestsIn {
    pub(super) fn parse(&self, refused: &mut Refused) -> Pests {
        let Self { slugs_per_plant, armyworm, cutworm } = self;
        let slugs_per_plant = slugs_per_plant.and_then(|given| refused.take(slugs(given)));
        let mut read = Reader(refused);
        Pests {
            slugs_per_plant,
            armyworm: read.take("/pests/armyworm", armyworm.as_ref(), &bounds::SHARE),
            cutworm: read.take("/pests/cutworm", cutworm.as_ref(), &bounds::SHARE),
        }
    }
}

fn slugs(given: f64) -> Result<f64, BadMember> {
    if (0.0..=MOST_SLUGS).contains(&given) {
        return Ok(given);
    }
    Err(BadMember::new("/pests/slugs_per_plant", "This number of slugs is outside the range.")
        .given(given)
        .allowed(format!("0 to {MOST_SLUGS} on a plant"))
        .why("a plant of a few leaves carries no more"))
}

/// The day on which the cover was ended: near the day of planting, and of a cover.
pub(super) fn ended(given: &ConditionsIn, refused: &mut Refused) -> Option<NaiveDate> {
    let ended = given.cover_ended?;
    if given.cover.is_none() {
        let detail = "A cover that was ended must be named: give its species.";
        refused.add(BadMember::new("/cover", detail));
    }
    let Some(planting) = given.planting_date else {
        let detail = "The end of the cover is held against the day of planting: give it too.";
        refused.add(BadMember::new("/planting_date", detail));
        return None;
    };
    let first = planting.checked_sub_days(Days::new(DAYS_BEFORE)).unwrap_or(planting);
    let last = planting.checked_add_days(Days::new(DAYS_AFTER)).unwrap_or(planting);
    if (first..=last).contains(&ended) {
        return Some(ended);
    }
    refused.add(
        BadMember::new("/cover_ended", "This day lies too far from the day of planting.")
            .given(ended)
            .allowed(format!("{first} to {last}"))
            .why(
                "a cover that died in winter is dead residue, and none may live on beside the crop",
            ),
    );
    None
}
