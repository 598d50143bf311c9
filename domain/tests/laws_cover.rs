//! Laws of the cover crop: its nitrogen, the day of its end, the green bridge.

mod cases;

use cases::{covers, planting, q};
use chrono::{Days, TimeDelta};
use domain::conditions::{
    Conditions, CoverCrop, CoverSpecies, CoverStage, CoverState, Crop, TerminationZone,
    cover_nitrogen, green_bridge, termination,
};
use domain::provenance::Coefficients;
use domain::quantity::Measured;
use proptest::prelude::*;

const K: Coefficients = Coefficients::STANDARD;

const STAGES: [CoverStage; 6] = [
    CoverStage::Tillering,
    CoverStage::Jointing,
    CoverStage::Boot,
    CoverStage::Heading,
    CoverStage::Flowering,
    CoverStage::Milk,
];

const ZONES: [TerminationZone; 4] =
    [TerminationZone::One, TerminationZone::Two, TerminationZone::Three, TerminationZone::Four];

fn green_rye(crop: Crop, days_to_planting: Option<i64>, state: CoverState) -> Conditions {
    Conditions {
        planting_date: Some(planting()),
        cover_ended: days_to_planting.map(|days| planting() - TimeDelta::days(days)),
        cover: Some(CoverCrop {
            height: Some(q(24.0, "[in_i]")),
            state: Some(state),
            ..CoverCrop::of(CoverSpecies::CerealRye)
        }),
        ..Conditions::of(crop)
    }
}

proptest! {
    #![proptest_config(cases::law(10_000))]

    #[test]
    fn the_last_day_is_never_later_than_emergence(
        zone in prop::sample::select(ZONES.to_vec()), soybean in any::<bool>(),
        irrigated in any::<bool>(), emerges in 1_u64..40,
    ) {
        let crop = if soybean { Crop::Soybean } else { Crop::Corn };
        let field = Conditions {
            planting_date: Some(planting()),
            termination_zone: Some(zone),
            irrigated: Some(irrigated),
            ..Conditions::of(crop)
        };
        let up = planting() + Days::new(emerges);
        let latest = termination(&field, Some(up)).latest.unwrap();
        prop_assert!(latest < up, "{latest} is not before {up}");
        // Knowing the day of emergence never allows a later day.
        let unknown = termination(&field, None).latest;
        prop_assert!(irrigated || unknown.is_some_and(|day| latest <= day));
    }

    #[test]
    fn missing_observations_of_a_cover_never_narrow_the_range(cover in covers(), stage in prop::sample::select(STAGES.to_vec())) {
        let known = CoverCrop { stage: Some(stage), ..cover };
        let unknown = CoverCrop { stage: None, ..known };
        let (known, unknown) = (cover_nitrogen(&known, &K), cover_nitrogen(&unknown, &K));
        let (a, b) = (known.carbon_to_nitrogen, unknown.carbon_to_nitrogen);
        prop_assert!(b.low <= a.low + 1e-9 && b.high >= a.high - 1e-9);
        prop_assert!(unknown.in_tops.low <= known.in_tops.low);
        prop_assert!(unknown.in_tops.high >= known.in_tops.high);
        prop_assert!(unknown.assumed.len() > known.assumed.len());
    }

    #[test]
    fn ranges_of_a_cover_keep_their_order(cover in covers(), nitrogen in prop::option::of(0.3..8.0_f64)) {
        let cover = CoverCrop { nitrogen: nitrogen.map(|n| q(n, "%")), ..cover };
        let found = cover_nitrogen(&cover, &K);
        let cn = found.carbon_to_nitrogen;
        prop_assert!(cn.low <= cn.likely && cn.likely <= cn.high && cn.low > 0.0);
        for mass in [found.dry_matter, found.in_tops] {
            prop_assert!(mass.low <= mass.likely && mass.likely <= mass.high);
        }
        for credit in &found.available {
            prop_assert!(credit.share > 0.0 && credit.share <= 1.0);
            prop_assert!(credit.nitrogen.si() <= found.in_tops.likely.si() + 1e-12);
        }
    }

    #[test]
    fn a_later_end_never_lowers_the_green_bridge(earlier in 0_i64..60, later in 1_i64..14) {
        let at = |days| green_bridge(&green_rye(Crop::Corn, Some(days), CoverState::GreenRolled), &K);
        prop_assert!(at(earlier - later).risk >= at(earlier).risk);
    }
}
