//! Laws of work rate, planting dates, seed orders and power, whatever goes in.
#![expect(clippy::unwrap_used, reason = "a broken case must fail loudly")]

mod cases;

use cases::{inputs, q};
use chrono::{Days, NaiveDate};
use domain::conditions::{Crop, TextureGroup};
use domain::provenance::Coefficients;
use domain::quantity::{Area, ArealNumberDensity, Force, Length, Measured, Ratio, Speed};
use domain::settings::{
    DraftRow, FieldSeed, Hauling, Pacing, RowDraft, SeedPack, TractionSurface, TractorKind, Work,
    power, recommend, seed_order, work,
};
use domain::stand::{YieldTable, loss_of_delay, loss_per_day};
use proptest::prelude::*;

const K: Coefficients = Coefficients::STANDARD;

fn april(day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2027, 4, day).unwrap()
}

fn later(date: NaiveDate, days: u64) -> NaiveDate {
    date.checked_add_days(Days::new(days)).unwrap()
}

fn plants(thousands: f64) -> ArealNumberDensity {
    q(thousands * 1000.0, "1/[acr_us]")
}

fn crops() -> impl Strategy<Value = Crop> {
    prop_oneof![Just(Crop::Corn), Just(Crop::Soybean)]
}

fn goals() -> impl Strategy<Value = Work> {
    let share = || prop::option::of((0.01..=1.0_f64).prop_map(Ratio::from_si));
    let area = prop::option::of((0.01..20_000.0_f64).prop_map(|a| q(a, "[acr_us]")));
    let hours = prop::option::of(0.5..=24.0_f64);
    let expected = prop::option::of(1.0..400.0_f64);
    (area, share(), hours, share(), expected).prop_map(
        |(area, efficiency, hours_a_day, suitable_share, expected_yield_bu_ac)| Work {
            area,
            efficiency,
            hours_a_day,
            suitable_share,
            expected_yield_bu_ac,
        },
    )
}

fn pacing(rows: u16, mph: f64, crop: Crop, date: Option<NaiveDate>) -> Pacing {
    Pacing {
        width: q::<Length>(30.0, "[in_i]") * f64::from(rows),
        speed: q(mph, "[mi_i]/h"),
        contact: Some(q(7.0, "[mi_i]/h")),
        load: Some(Force::from_si(900.0)),
        crop,
        date,
    }
}

fn haul(rows: u16, row: DraftRow, texture: Option<TextureGroup>, mph: f64) -> Hauling {
    Hauling {
        rows,
        row: RowDraft::Table(row),
        texture,
        speed: q(mph, "[mi_i]/h"),
        tractor: None,
        surface: None,
    }
}

fn draft_rows() -> impl Strategy<Value = DraftRow> {
    prop::sample::select(vec![
        DraftRow::MountedSeedOnly,
        DraftRow::DrawnSeedOnly,
        DraftRow::DrawnWithProducts,
        DraftRow::NoTillCoulter,
        DraftRow::ZoneTill,
    ])
}

fn textures() -> impl Strategy<Value = Option<TextureGroup>> {
    prop::option::of(prop::sample::select(vec![
        TextureGroup::Coarse,
        TextureGroup::ModeratelyCoarse,
        TextureGroup::Medium,
        TextureGroup::Fine,
    ]))
}

proptest! {
    #![proptest_config(cases::law(2_000))]

    #[test]
    fn slower_never_finishes_earlier_nor_loses_contact_more_often(
        goal in goals(), rows in 1..64_u16, mph in 0.5..15.0_f64, crop in crops(), day in 1..30_u32,
    ) {
        let found = work(&pacing(rows, mph, crop, Some(april(day))), &goal, &K).unwrap().choice;
        prop_assert!(found.advised.calendar_low <= found.advised.calendar_days + 1e-9);
        prop_assert!(found.advised.calendar_days <= found.advised.calendar_high + 1e-9);
        let Some(slower) = found.slower else {
            prop_assert!(mph < 2.0 + 1e-9, "only a crawl has nothing slower");
            return Ok(());
        };
        prop_assert!(slower.speed < found.advised.speed);
        prop_assert!(slower.working_days >= found.advised.working_days);
        prop_assert!(slower.calendar_days >= found.advised.calendar_days);
        prop_assert!(slower.calendar_high >= found.advised.calendar_high - 1e-9);
        prop_assert!(slower.load.unwrap() >= found.advised.load.unwrap());
        prop_assert!(slower.contact_loss.unwrap() <= found.advised.contact_loss.unwrap() + 1e-12);
        let price = found.price.unwrap();
        prop_assert!(price.extra_days >= 0.0);
        prop_assert!(price.extra_low <= price.extra_days && price.extra_days <= price.extra_high);
        prop_assert!(found.fastest.speed.si() <= 5.5 * 0.447_04 + 1e-9);
    }

    #[test]
    fn faster_wider_longer_days_never_take_more_days(
        goal in goals(), rows in 1..60_u16, mph in 0.5..14.0_f64, more in 0.0..1.0_f64,
    ) {
        let days = |rows: u16, mph: f64, goal: &Work| {
            work(&pacing(rows, mph, Crop::Corn, None), goal, &K).unwrap().choice.advised.calendar_days
        };
        let base = days(rows, mph, &goal);
        prop_assert!(days(rows + 1, mph, &goal) <= base);
        prop_assert!(days(rows, mph + more, &goal) <= base + 1e-9);
        let hours = goal.hours_a_day.unwrap_or(10.0);
        let longer = Work { hours_a_day: Some((hours + more).min(24.0)), ..goal };
        prop_assert!(days(rows, mph, &longer) <= base * (1.0 + 1e-9));
        let area = goal.area.unwrap_or_else(|| q(100.0, "[acr_us]"));
        let larger = Work { area: Some(area * (1.0 + more)), ..goal };
        prop_assert!(days(rows, mph, &larger) >= base * (1.0 - 1e-9));
    }

    #[test]
    fn later_never_yields_more_after_the_best_date(
        day in 0..60_u64, more in 0..20_u64, thousands in 10.0..45.0_f64,
    ) {
        // The Illinois table is at its best from 25 to 30 April, the Wisconsin one on 1 May.
        let first = NaiveDate::from_ymd_opt(2027, 5, 1).unwrap();
        let (early, late) = (later(first, day), later(first, day + more));
        let mut asked = 0;
        for table in YieldTable::ALL {
            let at = |date| table.at(date, plants(thousands));
            if let (Ok(early), Ok(late)) = (at(early), at(late)) {
                prop_assert!(late.percent <= early.percent + 1e-9, "{table:?} {early:?} {late:?}");
                prop_assert!((0.0..=100.0).contains(&late.percent));
                asked += 1;
            }
        }
        prop_assert!(asked > 0 || day + more > 46 || !(12.0..=36.0).contains(&thousands));
    }

    #[test]
    fn more_plants_never_yield_less_up_to_the_best_stand(
        day in 0..85_u64, thousands in 10.0..35.0_f64, more in 0.0..10.0_f64,
    ) {
        let date = later(april(10), day);
        for (table, best) in [
            (YieldTable::IllinoisDateStand, 30.0),
            (YieldTable::IowaReplant, 32.0),
            (YieldTable::IowaLatePlanting, 35.0),
        ] {
            let thicker = (thousands + more).min(best);
            if let (Ok(thin), Ok(thick)) = (table.at(date, plants(thousands)), table.at(date, plants(thicker))) {
                prop_assert!(thousands > best || thick.percent >= thin.percent - 1e-9, "{table:?}");
            }
        }
    }

    #[test]
    fn between_cells_the_illinois_table_stays_by_its_smooth_curve(day in 0..60_u64, thousands in 10.0..36.0_f64) {
        let (date, stand) = (later(april(10), day), plants(thousands));
        let read = YieldTable::IllinoisDateStand.at(date, stand).unwrap();
        let fitted = YieldTable::IllinoisDateStand.fitted(date, stand).unwrap();
        // 0.53 at the cells; straight lines over 5 days and 2,000 plants add h² f'' / 8: 0.12 and 0.08.
        prop_assert!((read.percent - fitted).abs() < 0.53 + 0.2, "{} and {fitted}", read.percent);
        prop_assert_eq!(read.extrapolated_by_source, date > NaiveDate::from_ymd_opt(2027, 5, 25).unwrap());
    }

    #[test]
    fn a_longer_delay_never_costs_less_after_the_best_date(
        crop in crops(), day in 0..40_u64, fast in 0.0..20.0_f64, slow in 0.0..10.0_f64,
        more in 0.0..10.0_f64, expected in prop::option::of(20.0..300.0_f64),
    ) {
        let date = later(NaiveDate::from_ymd_opt(2027, 5, 1).unwrap(), day);
        let cost = |slower: f64| loss_of_delay(crop, date, (fast, slower), expected);
        let none = cost(fast);
        for range in [none.percent, none.bushels].into_iter().flatten() {
            prop_assert!(range.low.abs() < 1e-9 && range.high.abs() < 1e-9);
        }
        let (short, long) = (cost(fast + slow), cost(fast + slow + more));
        for one in &long.by_source {
            let before = short.by_source.iter().find(|s| s.source == one.source && s.unit == one.unit);
            let before = before.expect("a shorter time is covered where a longer one is");
            prop_assert!(one.low >= before.low - 1e-9 && one.high >= before.high - 1e-9);
            prop_assert!(one.low <= one.high && one.low >= -1e-9);
        }
        prop_assert!(expected.is_none() || long.percent.is_some() == long.bushels.is_some());
    }

    #[test]
    fn loss_per_day_is_a_range(crop in crops(), day in 0..120_u64, expected in prop::option::of(20.0..300.0_f64)) {
        let loss = loss_per_day(crop, later(april(1), day), expected);
        for range in [loss.percent, loss.bushels].into_iter().flatten() {
            prop_assert!(range.low <= range.high && range.high.is_finite());
        }
        prop_assert_eq!(loss.by_source.is_empty(), loss.percent.is_none() && loss.bushels.is_none());
    }

    #[test]
    fn a_seed_order_is_never_below_the_need_and_grows_with_it(
        crop in crops(),
        fields in prop::collection::vec((0.01..20_000.0_f64, 1_000.0..400_000.0_f64), 0..8),
        per_unit in prop::option::of(1_000.0..1e6_f64), spare in prop::option::of(0.0..1.0_f64),
        more in (0.0..500.0_f64, 1_000.0..400_000.0_f64),
    ) {
        let field = |(acres, rate): &(f64, f64)| FieldSeed { area: q(*acres, "[acr_us]"), rate: q(*rate, "1/[acr_us]") };
        let mut fields: Vec<FieldSeed> = fields.iter().map(field).collect();
        let pack = SeedPack { seeds_per_unit: per_unit, seeds_per_pound: None, spare: spare.map(Ratio::from_si) };
        let order = seed_order(crop, &fields, &pack, &K);
        let ordered = order.units * order.seeds_per_unit;
        prop_assert!(ordered >= order.with_spare * (1.0 - 2e-9));
        prop_assert!(order.with_spare >= order.seeds);
        prop_assert!(ordered < order.with_spare + order.seeds_per_unit, "never a whole unit too much");
        prop_assert!(order.pounds_low <= order.pounds && order.pounds <= order.pounds_high);
        fields.push(field(&more));
        let larger = seed_order(crop, &fields, &pack, &K);
        prop_assert!(larger.units >= order.units && larger.seeds >= order.seeds);
    }

    #[test]
    fn power_grows_with_rows_speed_and_never_shrinks_on_the_way_to_the_engine(
        rows in 1..63_u16, row in draft_rows(), texture in textures(), mph in 0.5..14.0_f64, more in 0.0..1.0_f64,
    ) {
        let base = power(&haul(rows, row, texture, mph), &K).choice;
        for wider in [base.draft_per_row, base.pull, base.drawbar, base.pto, base.engine] {
            prop_assert!(wider.low <= wider.likely && wider.likely <= wider.high && wider.low > 0.0);
        }
        prop_assert!(base.pto.low > base.drawbar.low && base.engine.low > base.pto.low);
        let faster = power(&haul(rows, row, texture, mph + more), &K).choice;
        prop_assert!(faster.drawbar.likely >= base.drawbar.likely && faster.pto.high >= base.pto.high);
        // No term for speed: the pull stays, power goes up with speed alone.
        prop_assert_eq!(faster.pull, base.pull);
        let wider = power(&haul(rows + 1, row, texture, mph), &K).choice;
        prop_assert!(wider.pto.likely > base.pto.likely);
    }

    #[test]
    fn knowing_tractor_and_ground_never_widens_the_power(
        rows in 1..64_u16, row in draft_rows(), mph in 0.5..15.0_f64,
        tractor in prop::sample::select(TractorKind::ALL.to_vec()),
        surface in prop::sample::select(vec![TractionSurface::Firm, TractionSurface::Soft]),
    ) {
        let unknown = haul(rows, row, None, mph);
        let known = Hauling { tractor: Some(tractor), surface: Some(surface), ..unknown };
        let (wide, narrow) = (power(&unknown, &K).choice.pto, power(&known, &K).choice.pto);
        prop_assert!(wide.low <= narrow.low + 1e-6 && narrow.high <= wide.high + 1e-6);
    }

    #[test]
    fn each_recommendation_has_its_pace_and_power(case in inputs(), acres in prop::option::of(0.01..20_000.0_f64)) {
        let mut case = case;
        case.goals.work = Some(Work { area: acres.map(|a| q::<Area>(a, "[acr_us]")), ..Work::default() });
        let found = recommend(&case, &K);
        let work = found.work.unwrap().choice;
        let speed: Speed = found.speed.choice.start;
        prop_assert!((work.advised.speed - speed).si().abs() < 1e-12);
        prop_assert_eq!(work.seed.is_some(), acres.is_some() && found.seeding.is_some());
        prop_assert!((found.power.unwrap().choice.speed - speed).si().abs() < 1e-12);
    }
}
