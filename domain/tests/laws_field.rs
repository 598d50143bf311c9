//! What must hold for field and seed calculations, whatever the coefficients.

use domain::conditions::{
    Conditions, CoverCrop, CoverSpecies, CoverState, Crop, PreviousCrop, StrengthClass,
    StrengthSoil, TextureClass, biomass, cover_from_mass, depletion, layered_cover, mat_fraction,
    residue_cover, transect_cover, under_cover,
};
use domain::provenance::Coefficients;
use domain::quantity::{ArealNumberDensity, Length, Measured, Pressure, Ratio, Temperature, unit};
use domain::settings::{population, row_length_of_acre, seeding_rate, seeds_in, spacing};
use domain::stand::{Day, spacing_quality, stand_in_row};
use proptest::prelude::*;

const K: Coefficients = Coefficients::STANDARD;

fn q<Q: Measured>(value: f64, code: &str) -> Q {
    let known = unit(code).filter(|u| u.kind == Q::KIND);
    assert!(known.is_some(), "{code} is no unit of this kind");
    Q::from_si(known.map_or(f64::NAN, |u| u.to_si(value)))
}

fn rye(height: f64, ground: f64, state: Option<CoverState>) -> CoverCrop {
    CoverCrop {
        height: Some(q(height, "[in_i]")),
        ground_cover: Some(q(ground, "1")),
        state,
        ..CoverCrop::of(CoverSpecies::CerealRye)
    }
}

fn any_species() -> impl Strategy<Value = CoverSpecies> {
    prop::sample::select(vec![
        CoverSpecies::CerealRye,
        CoverSpecies::Wheat,
        CoverSpecies::Oat,
        CoverSpecies::CrimsonClover,
        CoverSpecies::HairyVetch,
        CoverSpecies::LegumeMix,
    ])
}

fn any_state() -> impl Strategy<Value = Option<CoverState>> {
    prop::sample::select(vec![
        None,
        Some(CoverState::GreenStanding),
        Some(CoverState::GreenRolled),
        Some(CoverState::Dying),
        Some(CoverState::DeadDamp),
        Some(CoverState::DeadCrisp),
    ])
}

fn any_crop() -> impl Strategy<Value = Crop> {
    prop::sample::select(vec![Crop::Corn, Crop::Soybean])
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1e-12)
}

#[test]
fn texture_is_total_and_unique_on_all_whole_points() {
    let mut points = 0;
    for sand in 0..=100_u32 {
        for clay in 0..=(100 - sand) {
            let (s, c) = (f64::from(sand), f64::from(clay));
            let silt = 100.0 - s - c;
            let held: Vec<_> = TextureClass::ALL.iter().filter(|t| t.holds(s, silt, c)).collect();
            assert_eq!(held.len(), 1, "sand {sand}, clay {clay}: {held:?}");
            assert_eq!(*held[0], TextureClass::classify(s, c).unwrap());
            points += 1;
        }
    }
    assert_eq!(points, 5151);
}

#[test]
fn texture_refuses_what_cannot_be() {
    for (sand, clay) in [
        (-0.1, 10.0),
        (10.0, -0.1),
        (100.1, 0.0),
        (60.0, 41.0),
        (f64::NAN, 1.0),
        (1.0, f64::INFINITY),
    ] {
        assert!(TextureClass::classify(sand, clay).is_err(), "sand {sand}, clay {clay}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn texture_is_unique_between_whole_points(sand in 0.0..100.0_f64, share in 0.0..1.0_f64) {
        let clay = (100.0 - sand) * share;
        let silt = (100.0 - sand - clay).max(0.0);
        let held = TextureClass::ALL.iter().filter(|t| t.holds(sand, silt, clay)).count();
        prop_assert_eq!(held, 1);
    }

    #[test]
    fn cover_never_falls_with_mass(cf in 0.0..10.0_f64, low in 0.0..3.0_f64, more in 0.0..3.0_f64) {
        let cover = |m: f64| cover_from_mass(q(m, "kg/m2"), cf).si();
        prop_assert!(cover(low + more) >= cover(low));
        prop_assert!((0.0..=0.999).contains(&cover(low)));
    }

    #[test]
    fn layers_cover_more_than_any_of_them(a in 0.0..1.0_f64, b in 0.0..1.0_f64, c in 0.0..1.0_f64) {
        let all = layered_cover(&[q(a, "1"), q(b, "1"), q(c, "1")]).si();
        prop_assert!(all >= a.max(b).max(c) - 1e-12 && all <= 1.0);
        let other = layered_cover(&[q(c, "1"), q(a, "1"), q(b, "1")]).si();
        prop_assert!(close(all, other));
    }

    #[test]
    fn taller_or_denser_cover_is_never_lighter(
        species in any_species(), height in 0.0..80.0_f64, taller in 0.0..10.0_f64,
        ground in 0.0..1.0_f64, denser in 0.0..0.5_f64,
    ) {
        let weigh = |h: f64, g: f64| biomass(
            &CoverCrop { species, ..rye(h, g.min(1.0), None) }, &K,
        );
        let (less, more) = (weigh(height, ground), weigh(height + taller, ground + denser));
        prop_assert!(more.likely >= less.likely && more.low >= less.low && more.high >= less.high);
        prop_assert!(less.low <= less.likely && less.likely <= less.high);
    }

    #[test]
    fn unmeasured_cover_never_narrows_the_range(
        species in any_species(), height in 4.0..36.0_f64, ground in 0.5..1.0_f64,
    ) {
        let known = CoverCrop { species, ..rye(height, ground, None) };
        let measured = biomass(&known, &K);
        for gap in [CoverCrop { height: None, ..known }, CoverCrop { ground_cover: None, ..known }] {
            let wide = biomass(&gap, &K);
            prop_assert!(wide.low <= measured.low && wide.high >= measured.high);
            prop_assert!(!wide.assumed.is_empty() && measured.assumed.is_empty());
        }
    }

    #[test]
    fn mat_never_falls_with_cover_or_residue(
        state in any_state(), height in 0.0..70.0_f64, taller in 0.0..10.0_f64,
        ground in 0.0..1.0_f64, bushels in 0.0..300.0_f64, more in 0.0..60.0_f64,
    ) {
        let mut field = Conditions::of(Crop::Corn);
        field.previous_crop = Some(PreviousCrop::Corn);
        field.previous_yield_bu_ac = Some(bushels);
        field.cover = Some(rye(height, ground, state));
        let less = mat_fraction(&field, &K);
        field.previous_yield_bu_ac = Some(bushels + more);
        let with_residue = mat_fraction(&field, &K);
        field.cover = Some(rye(height + taller, ground, state));
        let with_both = mat_fraction(&field, &K);
        prop_assert!(with_residue.likely >= less.likely && with_both.likely >= with_residue.likely);
        prop_assert!(with_residue.low >= less.low && with_residue.high >= less.high);
        prop_assert!(less.low >= 0.0 && less.low <= less.likely);
        prop_assert!(less.likely <= less.high && less.high <= 1.0);
    }

    #[test]
    fn measured_residue_wins(cover in 0.0..1.0_f64, bushels in 0.0..300.0_f64) {
        let mut field = Conditions::of(Crop::Soybean);
        field.previous_crop = Some(PreviousCrop::Corn);
        field.previous_yield_bu_ac = Some(bushels);
        field.residue_cover = Some(q(cover, "1"));
        let found = residue_cover(&field, &K);
        prop_assert!(close(found.likely, cover) && close(found.low, cover) && close(found.high, cover));
        prop_assert!(found.assumed.is_empty());
    }

    #[test]
    fn missing_residue_never_narrows_the_range(bushels in 120.0..250.0_f64) {
        let mut field = Conditions::of(Crop::Corn);
        field.previous_crop = Some(PreviousCrop::Corn);
        field.previous_yield_bu_ac = Some(bushels);
        let known = residue_cover(&field, &K);
        field.previous_yield_bu_ac = None;
        let no_yield = residue_cover(&field, &K);
        field.previous_crop = None;
        let nothing = residue_cover(&field, &K);
        prop_assert!(no_yield.low <= known.low && no_yield.high >= known.high);
        prop_assert!(nothing.low <= no_yield.low && nothing.high >= no_yield.high);
        prop_assert!(!no_yield.assumed.is_empty() && !nothing.assumed.is_empty());
    }

    #[test]
    fn cover_never_warms_the_soil(crop in any_crop(), fahrenheit in 20.0..120.0_f64) {
        let outside: Temperature = q(fahrenheit, "[degF]");
        let zone = under_cover(outside, crop, &K);
        prop_assert!(zone.high <= outside && zone.low <= zone.likely && zone.likely <= zone.high);
    }

    #[test]
    fn strength_never_rises_with_water_nor_falls_with_density(
        clay in 5.0..40.0_f64, carbon in 0.0..5.0_f64, density in 0.9..1.7_f64,
        denser in 0.0..0.1_f64, water in 0.10..0.45_f64, wetter in 0.0..0.1_f64,
    ) {
        let at = |db: f64, theta: f64| {
            StrengthSoil::new(clay, carbon, q(db, "g/cm3")).unwrap().resistance(theta).unwrap().0
        };
        prop_assert!(at(density, water + wetter) <= at(density, water));
        prop_assert!(at(density + denser, water) >= at(density, water));
    }

    #[test]
    fn strength_and_its_inverse_agree(
        clay in 5.0..40.0_f64, carbon in 0.0..4.0_f64, density in 1.0..1.7_f64, water in 0.10..0.5_f64,
    ) {
        let soil = StrengthSoil::new(clay, carbon, q(density, "g/cm3")).unwrap();
        let (strength, _) = soil.resistance(water).unwrap();
        let (back, _) = soil.water_at(strength).unwrap();
        prop_assert!((back - water).abs() < 1e-6, "{back} is not {water}");
    }

    #[test]
    fn harder_soil_is_never_a_looser_class(psi in 0.0..700.0_f64, more in 0.0..100.0_f64) {
        let class = |x: f64| StrengthClass::of(q::<Pressure>(x, "[psi]"));
        prop_assert!(class(psi + more) >= class(psi));
    }

    #[test]
    fn seeds_fill_their_area(seeds in 1_000.0..400_000.0_f64, width in 5.0..60.0_f64) {
        let rate: ArealNumberDensity = q(seeds, "1/[acr_us]");
        let row: Length = q(width, "[in_i]");
        let apart = spacing(rate, row).unwrap();
        // Population x spacing x row width is one seed on its own piece of ground.
        prop_assert!(close(rate.si() * apart.si() * row.si(), 1.0));
        prop_assert!(close(population(apart, row).unwrap().si(), rate.si()));
        let length = row_length_of_acre(0.001, row).unwrap();
        prop_assert!(close(seeds_in(rate, row, length) * 1000.0, seeds));
        let counted = stand_in_row(seeds_in(rate, row, length), length, row).unwrap();
        prop_assert!(close(counted.population.si(), rate.si()));
    }

    #[test]
    fn worse_seed_needs_a_higher_rate(
        stand in 10_000.0..200_000.0_f64, germination in 0.5..0.99_f64, survival in 0.5..0.99_f64,
        worse in 0.0..0.4_f64,
    ) {
        let rate = |g: f64, s: f64| {
            seeding_rate(q(stand, "1/[acr_us]"), q(g, "1"), q(s, "1")).unwrap().si()
        };
        let base = rate(germination, survival);
        prop_assert!(base >= q::<ArealNumberDensity>(stand, "1/[acr_us]").si());
        prop_assert!(rate(germination - worse, survival) >= base);
        prop_assert!(rate(germination, survival - worse) >= base);
    }

    #[test]
    fn degree_days_stay_between_nothing_and_36(low in -40.0..120.0_f64, span in 0.0..60.0_f64) {
        let day = Day::new(q(low + span, "[degF]"), q(low, "[degF]")).unwrap();
        let warmer = Day::new(q(low + span + 1.0, "[degF]"), q(low + 1.0, "[degF]")).unwrap();
        prop_assert!((-1e-9..=36.0 + 1e-9).contains(&day.degree_days()));
        prop_assert!(warmer.degree_days() >= day.degree_days() - 1e-9);
    }

    #[test]
    fn spacing_indices_share_the_whole(
        spacings in prop::collection::vec(0.0..40.0_f64, 1..60), meant in 1.0..20.0_f64, scale in 0.5..3.0_f64,
    ) {
        let lengths = |by: f64| spacings.iter().map(|s| q(s * by, "[in_i]")).collect::<Vec<Length>>();
        let found = spacing_quality(&lengths(1.0), q(meant, "[in_i]")).unwrap();
        let sum = found.multiples_percent + found.quality_of_feed_percent + found.miss_percent;
        prop_assert!((sum - 100.0).abs() < 1e-9);
        let r = found.regions;
        let counted = r.multiples + r.singles + r.one_skip + r.two_skips + r.more_skips;
        prop_assert_eq!(usize::try_from(counted).unwrap(), spacings.len());
        // The indices know ratios only: another unit of length gives the same.
        let scaled = spacing_quality(&lengths(scale), q(meant * scale, "[in_i]")).unwrap();
        let near_edge = spacings.iter().any(|s| {
            [0.5, 1.5, 2.5, 3.5].iter().any(|edge| (s / meant - edge).abs() < 1e-6)
        });
        prop_assume!(!near_edge);
        prop_assert_eq!(scaled.regions, found.regions);
    }

    #[test]
    fn depletion_is_a_share(capacity in 0.1..3.0_f64, share in 0.0..1.0_f64) {
        let (used, _) = depletion(q(capacity, "[in_i]"), q(capacity * share, "[in_i]")).unwrap();
        prop_assert!((used.si() - share).abs() < 1e-9);
        prop_assert!(depletion(q(capacity, "[in_i]"), q(capacity * 1.001, "[in_i]")).is_err());
    }
}

#[test]
fn wrong_inputs_are_refused() {
    let nothing: Length = q(0.0, "m");
    let row: Length = q(30.0, "[in_i]");
    assert!(
        spacing(q(0.0, "1/har"), row).is_err() && spacing(q(80_000.0, "1/har"), nothing).is_err()
    );
    assert!(population(nothing, row).is_err() && row_length_of_acre(0.001, nothing).is_err());
    let all: Ratio = q(1.0, "1");
    for share in [0.0, -0.1, 1.1, f64::NAN] {
        assert!(seeding_rate(q(80_000.0, "1/har"), q(share, "1"), all).is_err(), "{share}");
    }
    assert!(transect_cover(1, 0).is_err() && transect_cover(101, 100).is_err());
    assert!(Day::new(q(50.0, "[degF]"), q(51.0, "[degF]")).is_err());
    assert!(spacing_quality(&[], row).is_err() && spacing_quality(&[row], nothing).is_err());
    assert!(spacing_quality(&[q(-1.0, "m")], row).is_err());
    let soil = |clay, carbon, db| StrengthSoil::new(clay, carbon, q(db, "g/cm3"));
    assert!(soil(4.9, 2.0, 1.3).is_err() && soil(40.1, 2.0, 1.3).is_err());
    assert!(soil(20.0, 5.1, 1.3).is_err() && soil(20.0, 2.0, 1.9).is_err());
    assert!(soil(20.0, 2.0, 1.3).unwrap().resistance(0.099).is_err());
    assert!(soil(20.0, 2.0, 1.3).unwrap().resistance(f64::NAN).is_err());
}
