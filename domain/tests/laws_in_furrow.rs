//! Laws of liquids in the furrow: whatever is entered, a stop stays a stop, and no limit grows
//! where the seed bears less.
#![expect(clippy::unwrap_used, reason = "a case that cannot be made must fail loudly")]

mod cases;

use cases::{fields, inputs, q};
use domain::conditions::{Conditions, Crop, Moisture, TextureClass};
use domain::in_furrow::{
    Analysis, CatchBasis, InFurrowAdvice, InFurrowPlan, InFurrowProduct, InFurrowVerdict,
    NeverInFurrow, SaltSoil, SeedMaterial, SeedPlaced, SeedPlacedError, SeedPlacedSoil, Stop,
    catch_test, caught, flow_rate, in_furrow, outlet_flow, outlet_setting, salt_limit, seed_placed,
    tank_plan,
};
use domain::provenance::{Advice, Coefficients};
use domain::quantity::{
    Acidity, Area, ArealMassDensity, ExchangeCapacity, Flow, Length, Measured, Ratio, Speed, Time,
    Volume, VolumePerArea,
};
use domain::settings::recommend;
use proptest::prelude::*;

const K: Coefficients = Coefficients::STANDARD;

fn gallons(x: f64) -> VolumePerArea {
    q(x, "[gal_us]/[acr_us]")
}

fn inches(x: f64) -> Length {
    q(x, "[in_i]")
}

fn mph(x: f64) -> Speed {
    q(x, "[mi_i]/h")
}

fn starter(n: f64, p: f64, k: f64, density: f64) -> InFurrowProduct {
    let analysis = Analysis::new(q(n, "%"), q(p, "%"), q(k, "%")).unwrap();
    InFurrowProduct::Starter { analysis, density: q(density, "[lb_av]/[gal_us]") }
}

fn starters() -> impl Strategy<Value = InFurrowProduct> {
    (0.0..34.0_f64, 0.0..33.0_f64, 0.0..33.0_f64, 7.5..15.0_f64)
        .prop_map(|(n, p, k, density)| starter(n, p, k, density))
}

fn harmful() -> impl Strategy<Value = NeverInFurrow> {
    prop::sample::select(vec![
        NeverInFurrow::Urea,
        NeverInFurrow::Uan,
        NeverInFurrow::AmmoniumThiosulfate,
    ])
}

fn products() -> impl Strategy<Value = InFurrowProduct> {
    let inoculants = (prop::option::of(0..30_u8), prop::option::of(3.0..11.0_f64)).prop_map(
        |(years_since_soybean, ph)| InFurrowProduct::Inoculant {
            years_since_soybean,
            soil_ph: ph.map(Acidity::from_si),
        },
    );
    prop_oneof![starters(), inoculants, Just(InFurrowProduct::ByLabel)]
}

fn plans() -> impl Strategy<Value = InFurrowPlan> {
    let liquid = (prop::option::of(0.01..100.0_f64), prop::option::of(0.01..100.0_f64));
    let rest = (
        prop::option::of(prop::collection::vec(harmful(), 0..4)),
        0..8_u8,
        prop::option::of(1.0..10_000.0_f64),
        prop::option::of(0.01..20_000.0_f64),
        prop::option::of(0.5..100.0_f64),
    );
    (products(), liquid, rest).prop_map(|(product, (rate, part), rest)| {
        let (contains, mixed_with, tank, area, exchange) = rest;
        InFurrowPlan {
            rate: rate.map(gallons),
            product_rate: part.map(gallons),
            contains,
            mixed_with,
            tank: tank.map(|gal| q(gal, "[gal_us]")),
            area: area.map(|acres| q(acres, "[acr_us]")),
            exchange_capacity: exchange.map(|meq| q(meq, "meq/hg")),
            ..InFurrowPlan::of(product)
        }
    })
}

fn run(plan: &InFurrowPlan, field: &Conditions, row: f64, speed: f64) -> Advice<InFurrowAdvice> {
    in_furrow(plan, field, inches(row), Some(mph(speed)), &K)
}

fn limit(width: f64, soil: SaltSoil) -> f64 {
    salt_limit(inches(width), soil, &K).unwrap().limit.si()
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs())
}

proptest! {
    #![proptest_config(cases::law(2_000))]

    #[test]
    fn flow_is_linear_in_rate_speed_and_width(
        r in 0.01..100.0_f64, v in 0.5..15.0_f64, w in 1.0..240.0_f64, times in 0.1..10.0_f64,
    ) {
        let flow = |r: f64, v: f64, w: f64| outlet_flow(gallons(r), mph(v), inches(w)).0.si();
        let once = flow(r, v, w);
        prop_assert!(near(flow(r * times, v, w), once * times));
        prop_assert!(near(flow(r, v * times, w), once * times));
        prop_assert!(near(flow(r, v, w * times), once * times));
        let back = flow_rate(Flow::from_si(once), mph(v), inches(w)).unwrap();
        prop_assert!(near(back.si(), gallons(r).si()));
    }

    #[test]
    fn a_catch_test_finds_the_rate_that_was_set(
        r in 0.01..100.0_f64, v in 0.5..15.0_f64, w in 1.0..240.0_f64, s in 1.0..3600.0_f64,
        outlets in 1..40_usize,
    ) {
        let (rate, speed, width) = (gallons(r), mph(v), inches(w));
        let (flow, _) = outlet_flow(rate, speed, width);
        let time: Time = q(s, "s");
        let cups = vec![caught(flow, time); outlets];
        let standing = catch_test(&cups, CatchBasis::Timed { time, speed }, width, &K).unwrap();
        let driven = CatchBasis::Course { length: speed * time };
        let driven = catch_test(&cups, driven, width, &K).unwrap();
        for test in [standing, driven] {
            prop_assert!(near(test.mean.si(), rate.si()));
            prop_assert!(test.outlets.iter().all(|outlet| !outlet.off));
            prop_assert_eq!(test.variation.is_some(), outlets > 1);
            prop_assert!(test.variation.is_none_or(|cv| cv.si() < 1e-9));
        }
        // Ounces on the course of a 128th of an acre are gallons an acre.
        let (setting, _) = outlet_setting(rate, speed, width).unwrap();
        let ounces = domain::quantity::unit("[foz_us]").unwrap().read(setting.on_course);
        prop_assert!(near(ounces, r), "{} {}", ounces, r);
    }

    #[test]
    fn an_outlet_is_off_when_it_misses_the_mean_by_more_than_is_tolerated(
        cups in prop::collection::vec(0.1..100.0_f64, 2..30),
    ) {
        let volumes: Vec<Volume> = cups.iter().map(|oz| q(*oz, "[foz_us]")).collect();
        let basis = CatchBasis::Course { length: q(300.0, "[ft_i]") };
        let test = catch_test(&volumes, basis, inches(30.0), &K).unwrap();
        let mean = cups.iter().sum::<f64>() / f64::from(u32::try_from(cups.len()).unwrap());
        for (cup, outlet) in cups.iter().zip(&test.outlets) {
            let miss = cup / mean - 1.0;
            prop_assert!((outlet.from_mean.si() - miss).abs() < 1e-9);
            if (miss.abs() - 0.05).abs() > 1e-6 {
                prop_assert_eq!(outlet.off, miss.abs() > 0.05);
            }
        }
    }

    #[test]
    fn wider_rows_and_sandier_soil_never_bear_more(w in 15.0..40.0_f64, more in 0.0..25.0_f64) {
        let wider = (w + more).min(40.0);
        for soil in [SaltSoil::Sandy, SaltSoil::MediumOrFine] {
            prop_assert!(limit(wider, soil) <= limit(w, soil) * (1.0 + 1e-12));
        }
        prop_assert!(limit(w, SaltSoil::Sandy) <= limit(w, SaltSoil::MediumOrFine));
        // Never more on a length of row than the most that is printed.
        let on_row = salt_limit(inches(w), SaltSoil::MediumOrFine, &K).unwrap();
        prop_assert!(on_row.pounds_per_thousand_feet <= 0.4592);
    }

    #[test]
    fn no_limit_is_made_up_for_rows_without_one(w in prop_oneof![5.0..14.99_f64, 40.01..60.0_f64]) {
        for soil in [SaltSoil::Sandy, SaltSoil::MediumOrFine] {
            let refused = salt_limit(inches(w), soil, &K).unwrap_err();
            prop_assert!((refused.width - w).abs() < 1e-9);
        }
        let advice = run(&InFurrowPlan::of(starter(10.0, 34.0, 0.0, 11.65)),
                         &Conditions::of(Crop::Corn), w, 5.0);
        prop_assert_eq!(&advice.choice.stops, &vec![Stop::NoPublishedLimit]);
    }

    #[test]
    fn nothing_lifts_a_stop(
        plan in plans(), field in fields(), row in 5.0..60.0_f64, speed in 0.5..15.0_f64,
        bad in prop::option::of(harmful()),
    ) {
        let mut plan = plan;
        if let Some(bad) = bad {
            plan.contains.get_or_insert_default().push(bad);
        }
        let advice = run(&plan, &field, row, speed);
        let it = &advice.choice;
        let soybean = field.crop == Crop::Soybean
            && matches!(plan.product, InFurrowProduct::Starter { .. });
        let harms = plan.contains.iter().flatten().next().is_some();
        if soybean || harms {
            prop_assert_eq!(it.verdict, InFurrowVerdict::Stop);
            prop_assert!(!it.stops.is_empty());
            prop_assert_eq!(it.stops.contains(&Stop::FertilizerOnSoybean), soybean);
        }
        // A stop leaves nothing that could be set.
        prop_assert_eq!(it.verdict == InFurrowVerdict::Stop, !it.stops.is_empty());
        if it.verdict == InFurrowVerdict::Stop {
            prop_assert!(it.rate.is_none() && it.product_rate.is_none() && it.outlet.is_none());
            prop_assert!(it.tank.is_none() && it.salt.is_none());
            prop_assert_eq!(advice.because.len(), it.stops.len());
        }
    }

    #[test]
    fn the_sheet_says_what_the_furrow_bears_at_the_speed_that_is_advised(
        case in inputs(), plan in plans(),
    ) {
        let mut case = case;
        prop_assert!(recommend(&case, &K).in_furrow.is_none());
        case.goals.in_furrow = Some(plan.clone());
        let sheet = recommend(&case, &K);
        let it = sheet.in_furrow.unwrap();
        let soybean = case.field.crop == Crop::Soybean
            && matches!(plan.product, InFurrowProduct::Starter { .. });
        let harms = plan.contains.iter().flatten().next().is_some();
        if soybean || harms {
            prop_assert_eq!(it.choice.verdict, InFurrowVerdict::Stop);
        }
        if let Some(outlet) = it.choice.outlet {
            prop_assert_eq!(outlet.speed, sheet.speed.choice.start);
            let (rate, width) = (it.choice.rate.unwrap(), case.planter.row_width);
            prop_assert!(near(outlet.flow.si(), rate.si() * outlet.speed.si() * width.si()));
        }
        let told = |what: &str| sheet.assumed.iter().any(|a| a.what == what);
        prop_assert!(it.assumed.iter().all(|a| told(&a.what)));
    }

    #[test]
    fn what_may_run_stays_within_the_limit_and_the_wish(
        plan in plans(), field in fields(), row in 5.0..60.0_f64, speed in 0.5..15.0_f64,
    ) {
        let advice = run(&plan, &field, row, speed);
        let it = &advice.choice;
        if let Some(salt) = &it.salt {
            prop_assert!(salt.set.si() <= salt.limit.si() * (1.0 + 1e-9), "{salt:?}");
            prop_assert!(it.product_rate.unwrap().si() <= salt.most.si() * (1.0 + 1e-9));
            prop_assert!(it.product_rate.unwrap().si() > 0.0);
            let over = salt.wanted.is_some_and(|wanted| wanted.si() > salt.limit.si() * (1.0 + 1e-6));
            if over {
                prop_assert_eq!(it.verdict, InFurrowVerdict::Lower);
            }
        }
        if let (Some(rate), Some(wanted)) = (it.rate, plan.rate) {
            prop_assert!(rate.si() <= wanted.si() * (1.0 + 1e-9));
            prop_assert!(it.product_rate.unwrap().si() <= rate.si() * (1.0 + 1e-9));
        }
        prop_assert_eq!(it.rate.is_some(), it.outlet.is_some());
        prop_assert_eq!(it.tank.is_some(), it.rate.is_some() && plan.tank.is_some());
        for step in &it.steps {
            prop_assert!(step.value.is_finite(), "{step:?}");
            prop_assert!(!step.source.is_empty() && step.inputs.iter().all(|i| i.value.is_finite()));
        }
        prop_assert!(it.stops.is_empty() == advice.watch.iter().any(|r| r.text.contains("label")));
    }

    #[test]
    fn sandier_soil_and_a_poorer_soil_test_never_allow_more(
        plan in plans(), field in fields(), row in 15.0..40.0_f64, less in 0.5..8.0_f64,
    ) {
        let mut fine = field;
        fine.crop = Crop::Corn;
        fine.texture = Some(TextureClass::SiltLoam);
        let mut sandy = fine.clone();
        sandy.texture = Some(TextureClass::LoamySand);
        let mut poor = plan.clone();
        poor.exchange_capacity = Some(q(less, "meq/hg"));
        let mut unknown = fine.clone();
        unknown.texture = None;
        let product = |plan: &InFurrowPlan, field: &Conditions| {
            run(plan, field, row, 5.0).choice.product_rate.map(Measured::si)
        };
        let on_fine = product(&plan, &fine);
        for (plan, field) in [(&plan, &sandy), (&poor, &fine), (&poor, &sandy), (&plan, &unknown)] {
            let other = product(plan, field);
            // A weak product may have no limit that anyone reaches on fine soil, and one on sand.
            prop_assert!(other.is_some() || on_fine.is_none());
            prop_assert!(other.unwrap_or(0.0) <= on_fine.unwrap_or(f64::INFINITY) * (1.0 + 1e-9));
        }
    }

    #[test]
    fn a_tank_covers_what_it_holds(
        tank in 1.0..10_000.0_f64, r in 0.01..100.0_f64, part in 0.0..1.0_f64,
        acres in 0.01..20_000.0_f64,
    ) {
        let (tank, rate): (Volume, _) = (q(tank, "[gal_us]"), gallons(r));
        let product = VolumePerArea::from_si(rate.si() * part);
        let to_plant: Area = q(acres, "[acr_us]");
        let (plan, _) = tank_plan(tank, rate, product, Some(to_plant)).unwrap();
        prop_assert!(near(plan.area.si() * rate.si(), tank.si()));
        prop_assert!((plan.product.si() - tank.si() * part).abs() <= 1e-9 * tank.si());
        let fills = f64::from(plan.fills.unwrap());
        prop_assert!(fills * plan.area.si() >= to_plant.si() * (1.0 - 1e-6));
        prop_assert!((fills - 1.0) * plan.area.si() <= to_plant.si() * (1.0 + 1e-6));
        prop_assert!(tank_plan(tank, gallons(0.0), product, None).is_none());
    }

    #[test]
    fn the_stand_equation_falls_with_rows_and_rises_with_furrow_and_loss(
        s in 0.25..12.0_f64, w in 5.0..60.0_f64, t in 1.0..50.0_f64, times in 1.0..2.0_f64,
        material in prop::sample::select(vec![
            SeedMaterial::Urea, SeedMaterial::UreaInhibited, SeedMaterial::Uan,
            SeedMaterial::AmmoniumNitrate,
        ]),
        crop in prop::sample::select(vec![Crop::Corn, Crop::Soybean]),
    ) {
        let case = SeedPlaced {
            crop, material, furrow: inches(s), row_width: inches(w),
            tolerated: Some(Ratio::from_si(t / 100.0)),
            soil: SeedPlacedSoil::MoistMediumOrFine, factor: None,
        };
        let of = |case: &SeedPlaced| -> f64 {
            let (material, _): (ArealMassDensity, _) = seed_placed(case, &K).unwrap();
            material.si()
        };
        let base = of(&case);
        prop_assert!(base > 0.0);
        let tolerated = Some(Ratio::from_si(t * times / 100.0));
        let changed = [
            (SeedPlaced { furrow: inches(s * times), ..case }, base * times),
            (SeedPlaced { row_width: inches(w * times), ..case }, base / times),
            (SeedPlaced { tolerated, ..case }, base * times),
            (SeedPlaced { soil: SeedPlacedSoil::MoistCoarse, ..case }, base * 0.6),
            (SeedPlaced { factor: Some(times), ..case }, base / times),
        ];
        for (changed, expected) in changed {
            prop_assert!(near(of(&changed), expected), "{:?}", changed);
        }
        for soil in [SeedPlacedSoil::DryCoarse, SeedPlacedSoil::DryMediumOrFine] {
            let dry = SeedPlaced { soil, ..case };
            prop_assert_eq!(seed_placed(&dry, &K).unwrap_err(), SeedPlacedError::DryWithoutFactor);
        }
        // It loosens no stop.
        prop_assert_eq!(case.stops().contains(&Stop::FertilizerOnSoybean), crop == Crop::Soybean);
        prop_assert_eq!(
            case.stops().is_empty(),
            crop == Crop::Corn && material == SeedMaterial::AmmoniumNitrate
        );
    }
}

#[test]
fn ten_thirty_four_on_corn_by_hand() {
    // 11.65 lb/gal at 10 % N is 1.165 lb/gal; 8 lb/ac in 30 in rows is 6.867 gal/ac, set at 6.8.
    let mut field = Conditions::of(Crop::Corn);
    field.texture = Some(TextureClass::SiltLoam);
    field.moisture = Some(Moisture::Dry);
    let plan = InFurrowPlan {
        rate: Some(gallons(10.0)),
        contains: Some(Vec::new()),
        tank: Some(q(400.0, "[gal_us]")),
        area: Some(q(120.0, "[acr_us]")),
        ..InFurrowPlan::of(starter(10.0, 34.0, 0.0, 11.65))
    };
    let advice = run(&plan, &field, 30.0, 5.0);
    let it = &advice.choice;
    assert_eq!(it.verdict, InFurrowVerdict::Lower);
    let salt = it.salt.as_ref().unwrap();
    let gal = |rate: VolumePerArea| domain::quantity::unit("[gal_us]/[acr_us]").unwrap().read(rate);
    assert!((gal(salt.most) - 6.867).abs() < 0.001 && (gal(it.rate.unwrap()) - 6.8).abs() < 1e-9);
    assert!(advice.because[0].text.contains("11.7 lb/ac"), "{:?}", advice.because);
    assert!(advice.watch.iter().any(|r| r.text.starts_with("dry soil")));
    assert!(advice.assumed.is_empty(), "{:?}", advice.assumed);
    let tank = it.tank.unwrap();
    // 400 / 6.8 is 58.8 ac: three tanks for 120 ac.
    assert_eq!(tank.fills, Some(3));
    // 6.8 x 5 x 30 / 5,940 x 128.
    let ounces = domain::quantity::unit("[foz_us]").unwrap().read(it.outlet.unwrap().in_a_minute);
    assert!((ounces - 21.980).abs() < 0.001, "{ounces}");
    for name in ["N + K2O in the product", "most N + K2O in the furrow", "flow through an outlet"] {
        assert!(it.steps.iter().any(|step| step.step == name), "no {name}");
    }
}

#[test]
fn a_thinned_starter_is_judged_by_the_product_in_it() {
    let mut field = Conditions::of(Crop::Corn);
    field.texture = Some(TextureClass::SiltLoam);
    let thinned = |product: f64| InFurrowPlan {
        rate: Some(gallons(10.0)),
        product_rate: Some(gallons(product)),
        ..InFurrowPlan::of(starter(10.0, 34.0, 0.0, 11.65))
    };
    let within = run(&thinned(5.0), &field, 30.0, 5.0).choice;
    assert_eq!(within.verdict, InFurrowVerdict::Run);
    assert_eq!(within.rate, Some(gallons(10.0)));
    let over = run(&thinned(8.5), &field, 30.0, 5.0).choice;
    assert_eq!(over.verdict, InFurrowVerdict::Lower);
    // The same mix: 6.8 of 8.5 is 80 %.
    assert!(near(over.rate.unwrap().si(), gallons(8.0).si()), "{over:?}");
}

#[test]
fn a_soil_test_between_the_printed_figures_is_read_as_the_stricter() {
    let mut field = Conditions::of(Crop::Corn);
    field.texture = Some(TextureClass::SiltLoam);
    let limit = |meq: f64| {
        let plan = InFurrowPlan {
            exchange_capacity: Some(ExchangeCapacity::from_si(meq / 100.0)),
            ..InFurrowPlan::of(starter(10.0, 34.0, 0.0, 11.65))
        };
        let salt = run(&plan, &field, 30.0, 5.0).choice.salt.unwrap();
        domain::quantity::unit("[lb_av]/[acr_us]").unwrap().read(salt.limit)
    };
    for (meq, pounds) in [(3.0, 5.0), (6.99, 5.0), (7.5, 5.0), (8.0, 8.0), (20.0, 8.0)] {
        assert!((limit(meq) - pounds).abs() < 1e-9, "{meq}");
    }
}
