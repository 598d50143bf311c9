//! Work rate, the price of speed, power and seed: published figures and cases by hand.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a broken case must fail loudly")]

mod cases;

use cases::{q, worked_case};
use chrono::NaiveDate;
use domain::conditions::{
    CoverCrop, CoverSpecies, CoverState, Crop, Moisture, PreviousCrop, TextureGroup,
};
use domain::provenance::{Coefficients, Mark};
use domain::quantity::{Area, Force, Length, Measured};
use domain::settings::{
    DraftRow, FieldSeed, Fill, Hauling, Pacing, RowDraft, SeedPack, SeedingGoal, SpeedBound,
    TractionSurface, TractorKind, Work, WorkArea, power, recommend, seed_order, seeding,
    seeding_in, suitable_share, work,
};
use domain::stand::{
    Loss, LossUnit, OutsideTable, SourcedLoss, YieldTable, loss_of_delay, loss_per_day,
};

const K: Coefficients = Coefficients::STANDARD;

fn on(month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2027, month, day).unwrap()
}

fn by<'a>(loss: &'a Loss, region: &str, year: &str, unit: LossUnit) -> &'a SourcedLoss {
    let found = |it: &&SourcedLoss| it.region == region && it.year == year && it.unit == unit;
    loss.by_source.iter().find(found).unwrap_or_else(|| panic!("no {region} {year}: {loss:?}"))
}

#[track_caller]
fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-9, "{found}, not {wanted}");
}

#[test]
fn losses_per_day_are_those_that_were_printed() {
    use LossUnit::{BushelsPerAcre, Percent};
    // University of Illinois 2013: 0.5, 0.7, 0.9 % a day in the thirds of May.
    for (day, percent) in [(5, 0.5), (15, 0.7), (25, 0.9)] {
        let loss = loss_per_day(Crop::Corn, on(5, day), None);
        let one = by(&loss, "Illinois", "2013", Percent);
        near(one.low, percent);
        near(one.high, percent);
        let range = loss.percent.unwrap();
        assert!(range.low <= percent && percent <= range.high, "{range:?}");
    }
    // University of Illinois 2016: 4, 8, 14 % on 10, 20, 30 May.
    let loss = loss_per_day(Crop::Corn, on(5, 15), None);
    near(by(&loss, "Illinois", "2016", Percent).high, 0.4);
    // Ohio State University 2024: up to 1.75 bu/ac; Penn State: about 1 bu/ac.
    near(by(&loss, "Ohio", "2024", BushelsPerAcre).high, 1.75);
    near(by(&loss, "Ohio", "2024", BushelsPerAcre).low, 0.0);
    near(by(&loss, "Pennsylvania", "2020", BushelsPerAcre).low, 1.0);
    // June in Illinois: about 2 bu a day of corn, 0.5 of soybean.
    let june = loss_per_day(Crop::Corn, on(6, 10), None);
    near(by(&june, "Illinois", "2016", BushelsPerAcre).high, 2.0);
    let soybean = loss_per_day(Crop::Soybean, on(6, 20), None);
    near(by(&soybean, "Illinois", "n.d.", BushelsPerAcre).low, 0.5);
    near(by(&soybean, "Virginia", "n.d.", BushelsPerAcre).low, 0.5);
    near(by(&soybean, "Ohio", "2024", BushelsPerAcre).high, 0.5);
    assert!(soybean.percent.is_none(), "no soybean source gives percent");
    let known = loss_per_day(Crop::Soybean, on(6, 20), Some(50.0));
    near(known.percent.unwrap().high, 1.0);
}

#[test]
fn before_the_best_date_waiting_gains_and_outside_the_sources_nothing_is_said() {
    let early = loss_per_day(Crop::Corn, on(4, 12), None);
    let table = by(&early, "Illinois", "1994", LossUnit::Percent);
    assert!(table.high < 0.0, "{table:?}");
    let winter = loss_per_day(Crop::Corn, on(2, 1), Some(200.0));
    assert!(winter.by_source.is_empty() && winter.percent.is_none() && winter.bushels.is_none());
    // 60 days from 10 May pass the end of every source.
    let long = loss_of_delay(Crop::Corn, on(5, 10), (50.0, 60.0), None);
    assert!(long.percent.is_none() && long.by_source.is_empty(), "{long:?}");
}

#[test]
fn the_price_of_speed_can_be_followed_by_hand() {
    // 12 rows of 30 in at 5 mph and 60 %: 10.9 ac/h (Iowa State University Extension 2018).
    let pacing = Pacing {
        width: q::<Length>(30.0, "[ft_i]"),
        speed: q(5.0, "[mi_i]/h"),
        contact: Some(q(5.2, "[mi_i]/h")),
        load: Some(Force::from_si(800.0)),
        crop: Crop::Corn,
        date: Some(on(5, 10)),
    };
    let goal = Work {
        area: Some(q::<Area>(400.0, "[acr_us]")),
        efficiency: Some(q(60.0, "%")),
        hours_a_day: Some(10.0),
        suitable_share: Some(q(48.0, "%")),
        expected_yield_bu_ac: None,
    };
    let advice = work(&pacing, &goal, &K).unwrap();
    let found = &advice.choice;
    assert!((found.advised.capacity.acres_an_hour() - 10.909).abs() < 1e-3);
    let working = 400.0 / (found.advised.capacity.acres_an_hour() * 10.0);
    near(found.advised.working_days, working);
    near(found.advised.calendar_days, working / 0.48);
    near(found.advised.calendar_low, found.advised.calendar_days);
    // At 4 mph everything takes a quarter longer.
    let price = found.price.as_ref().unwrap();
    near(price.extra_days, working / 0.48 * 0.25);
    // Illinois 2013: 0.7 % a day from 10 to 20 May; the mean acre waits half the days.
    let lost = price.lost.as_ref().unwrap();
    let one = by(lost, "Illinois", "2013", LossUnit::Percent);
    near(one.high, 0.7 * price.extra_days / 2.0);
    assert!(advice.assumed.is_empty());
    assert!(advice.because[0].text.contains("one mph slower: 1.9 more days for 400 ac (162 ha)"));
    assert!(advice.because[0].text.contains("% of yield at this date"), "{:?}", advice.because);
    assert_eq!(found.binds, SpeedBound::Contact);
    near(found.fastest.speed.si(), 5.2 * 0.447_04);
    // Nothing is gained below the reference speed.
    near(price.load_gained.unwrap().si(), 0.0);
    assert_eq!(found.done_by, Some(on(5, 17)), "7.6 days, the first of them 10 May");
    assert_eq!(found.window_until, Some(on(5, 18)));
}

#[test]
fn above_five_mph_slower_gains_the_published_load() {
    let pacing = Pacing {
        width: q::<Length>(20.0, "[ft_i]"),
        speed: q(6.5, "[mi_i]/h"),
        contact: Some(q(7.0, "[mi_i]/h")),
        load: Some(Force::from_si(700.0)),
        crop: Crop::Soybean,
        date: None,
    };
    let advice = work(&pacing, &Work::default(), &K).unwrap();
    let found = &advice.choice;
    assert_eq!(found.area_from, WorkArea::HundredAcres);
    let price = found.price.as_ref().unwrap();
    // 73.95 N for each km/h, 119 N a mph (least squares on four published means).
    assert!((price.load_gained.unwrap().si() - 74.0 * 1.609_344).abs() < 1e-9);
    assert!(price.contact_loss_to.unwrap() < price.contact_loss_from.unwrap());
    assert!(price.lost.is_none() && found.done_by.is_none());
    assert_eq!(found.binds, SpeedBound::Metering, "5.5 mph is below 7 mph");
    assert_eq!(advice.assumed.len(), 3);
    assert!(found.advised.calendar_low < found.advised.calendar_days);
    assert!(found.advised.calendar_days < found.advised.calendar_high);
}

#[test]
fn the_load_of_the_pace_is_that_of_the_sheet() {
    for mph in [4.0, 5.0, 6.5] {
        let mut case = worked_case();
        case.goals.speed = Some(q(mph, "[mi_i]/h"));
        let found = recommend(&case, &K);
        let half = found.down_force.as_box_empties.iter().find(|b| b.fill == Fill::Half).unwrap();
        let work = found.work.unwrap().choice;
        if (found.speed.choice.start.si() - mph * 0.447_04).abs() < 1e-9 {
            let load = work.advised.load.unwrap();
            assert!((load - half.load).si().abs() < 1.0, "{mph}: {load:?} and {:?}", half.load);
        }
    }
}

#[test]
fn draft_is_marked_as_remembered_and_power_follows_the_published_example() {
    // Iowa State University File A3-26: 24 ft at 200 lbf a foot and 6 mph, a factor of 1.5: 115 hp
    // at the PTO. By the drawbar share of two-wheel drive on tilled soil, 0.67: 114.6 hp.
    let hauling = Hauling {
        rows: 24,
        row: RowDraft::Measured(q(200.0, "[lbf_av]")),
        texture: None,
        speed: q(6.0, "[mi_i]/h"),
        tractor: Some(TractorKind::TwoWheel),
        surface: Some(TractionSurface::Tilled),
    };
    let advice = power(&hauling, &K);
    let horsepower = |watts: f64| watts / 745.699_871_582_270_2;
    near(horsepower(advice.choice.drawbar.likely), 76.8);
    assert!((horsepower(advice.choice.pto.likely) - 115.0).abs() < 1.0);
    near(advice.choice.slip_low, 0.11);
    near(advice.choice.slip_high, 0.13);
    assert!(advice.assumed.is_empty());
    let unknown =
        Hauling { row: RowDraft::Table(DraftRow::NoTillCoulter), tractor: None, ..hauling };
    let advice = power(&unknown, &K);
    assert_eq!(advice.choice.steps[0].mark, Mark::FromMemory);
    assert!(
        advice.assumed.iter().any(|a| a.mark == Mark::FromMemory && a.what == "draft of a row")
    );
    let fine = Hauling { texture: Some(TextureGroup::Fine), ..unknown };
    assert!(power(&fine, &K).choice.pull.likely > advice.choice.pull.likely);
}

#[test]
fn wet_ground_is_soft_under_the_tractor() {
    let mut case = worked_case();
    let firm = recommend(&case, &K).power.unwrap().choice;
    assert_eq!(firm.surface, TractionSurface::Firm);
    case.field.moisture = Some(Moisture::Wet);
    let soft = recommend(&case, &K).power.unwrap().choice;
    assert_eq!(soft.surface, TractionSurface::Soft);
    assert!(soft.pto.likely > firm.pto.likely);
}

#[test]
fn an_order_is_rounded_up_to_whole_units() {
    let field =
        |acres: f64| FieldSeed { area: q(acres, "[acr_us]"), rate: q(32_000.0, "1/[acr_us]") };
    let exact = SeedPack { spare: Some(q(0.0, "%")), ..SeedPack::default() };
    // 100 ac x 32,000 = 3,200,000 kernels: 40 bags of 80,000 and not one more.
    let order = seed_order(Crop::Corn, &[field(60.0), field(40.0)], &exact, &K);
    near(order.units, 40.0);
    let more = seed_order(Crop::Corn, &[field(100.1)], &exact, &K);
    near(more.units, 41.0);
    let none = seed_order(Crop::Corn, &[], &exact, &K);
    near(none.units, 0.0);
    // 140,000 seeds at 2,800 a pound are 50 lb.
    let tag = SeedPack { seeds_per_pound: Some(2800.0), ..exact };
    let acre = FieldSeed { area: q(1.0, "[acr_us]"), rate: q(140_000.0, "1/[acr_us]") };
    let soybean = seed_order(Crop::Soybean, &[acre], &tag, &K);
    assert!((soybean.pounds - 50.0).abs() < 1e-6 && (soybean.pounds_high - 50.0).abs() < 1e-6);
    near(soybean.units, 1.0);
    assert!(soybean.assumed.iter().all(|a| a.what != "seeds in a pound"));
}

#[test]
fn soybean_planted_green_gets_more_seed_and_says_from_where() {
    let goal = SeedingGoal::Stand {
        plants: Some(q(100_000.0, "1/[acr_us]")),
        germination: Some(q(95.0, "%")),
        survival: Some(q(85.0, "%")),
    };
    let mut field = worked_case().field;
    field.crop = Crop::Soybean;
    let width = q(15.0, "[in_i]");
    let bare = seeding(goal, Crop::Soybean, width, &K);
    let green = seeding_in(goal, &field, width, &K);
    let ratio = green.choice.rate.si() / bare.choice.rate.si();
    near(ratio, 1.0 + K.green_soybean_rate.value);
    assert!(green.because.iter().any(|r| r.mark == Mark::FromMemory));
    field.cover = Some(CoverCrop {
        state: Some(CoverState::DeadCrisp),
        ..CoverCrop::of(CoverSpecies::CerealRye)
    });
    near(seeding_in(goal, &field, width, &K).choice.rate.si(), bare.choice.rate.si());
    let corn = worked_case().field;
    let usual = seeding_in(goal, &corn, width, &K);
    near(usual.choice.rate.si(), seeding(goal, Crop::Corn, width, &K).choice.rate.si());
    assert_eq!(corn.previous_crop, Some(PreviousCrop::Corn));
}

#[test]
fn tables_refuse_what_they_do_not_cover() {
    let stand = |p: f64| q(p, "1/[acr_us]");
    let illinois = YieldTable::IllinoisDateStand;
    assert!(matches!(illinois.at(on(4, 9), stand(30_000.0)), Err(OutsideTable::Date { .. })));
    assert!(matches!(illinois.at(on(6, 10), stand(30_000.0)), Err(OutsideTable::Date { .. })));
    assert!(matches!(illinois.at(on(5, 1), stand(9_900.0)), Err(OutsideTable::Stand { .. })));
    assert!(illinois.fitted(on(6, 10), stand(30_000.0)).is_none());
    let said = illinois.at(on(5, 1), stand(40_000.0)).unwrap_err().to_string();
    assert_eq!(said, "the table covers 10000 to 36000 plants an acre");
    let said = illinois.at(on(7, 1), stand(30_000.0)).unwrap_err().to_string();
    assert_eq!(said, "the table covers planting from 10 April to 9 June");
    let late = illinois.at(on(5, 30), stand(30_000.0)).unwrap();
    assert!(late.extrapolated_by_source && late.printed);
    let between = YieldTable::IowaReplant.at(on(5, 9), stand(24_000.0)).unwrap();
    assert!(!between.printed);
    near(between.percent, 93.5);
}

#[test]
fn shares_of_days_count_both_ends() {
    near(suitable_share(20.0, on(4, 10), on(5, 20)).unwrap(), 20.0 / 41.0);
    assert!(suitable_share(42.0, on(4, 10), on(5, 20)).is_none());
    assert!(suitable_share(1.0, on(5, 20), on(5, 10)).is_none());
}
