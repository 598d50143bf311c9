//! A made-up season, to draw and to print.

use chrono::{Days, NaiveDate, TimeZone, Utc};
use domain::conditions::Crop;
use domain::dig::Cause;
use domain::learning::{CoverClass, SoilClass, SoilGroup};
use domain::quantity::{Area, ArealNumberDensity, Force, Length, Measured, Speed, Time};
use domain::season::report::{
    About, Adjustments, Advice, AdvisorLine, CauseCount, CountedShare, CoverShares, DepthBin,
    DepthDistribution, FieldLine, FieldStand, InWindow, LearnedClass, LoadAtSpeed, MoneyAndTime,
    MoneyLine, Named, Others, ReportOf, SeasonReport, SeedCount, ShedItem, ShedReason, SoFar,
    SoilShares, TrialEffect, TrialSummary, Week, WindowShares, WornPart,
};
use domain::stats::Range;

const ACRE: f64 = 4046.87;

fn named(id: u128, name: &str) -> Named {
    Named { id, name: name.to_owned() }
}

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap_or_default()
}

fn shares(growers: u32, first: (u32, u32), last: (u32, u32)) -> WindowShares {
    WindowShares {
        growers,
        fields_dug: last.1,
        first_pass: CountedShare::of(first.0, first.1),
        dug_again: CountedShare::of(last.0 / 2, last.1 / 2),
        after_adjustment: CountedShare::of(last.0, last.1),
        few_growers: growers < 5,
    }
}

fn about(of: ReportOf, subject: Option<Named>) -> About {
    About {
        of,
        subject,
        practice: "Long Furrow Advice (invented)".to_owned(),
        season: 2026,
        first_day: date("2026-01-01"),
        last_day: date("2026-12-31"),
        time_zone: "America/Chicago".to_owned(),
        as_of: Utc.with_ymd_and_hms(2026, 11, 28, 15, 0, 0).single().unwrap_or_default(),
        so_far: SoFar { days: 365, of: 365, words: "complete".to_owned() },
        growers: if of == ReportOf::Practice { 12 } else { 1 },
        growers_left: u32::from(of == ReportOf::Practice),
        planters: 3,
        fields: 40,
        digs: 77,
    }
}

fn weeks() -> Vec<Week> {
    let rows = [
        (9, 4, 3, 1, 1, 2, 3),
        (14, 11, 8, 4, 3, 5, 9),
        (22, 19, 19, 9, 7, 14, 22),
        (18, 20, 21, 10, 8, 22, 30),
        (0, 2, 6, 3, 3, 26, 33),
        (12, 9, 11, 4, 2, 29, 36),
        (6, 8, 9, 2, 2, 31, 39),
    ];
    let start = date("2026-04-13");
    rows.iter()
        .zip(0_u64..)
        .map(|(row, nth)| Week {
            starts: start.checked_add_days(Days::new(nth * 7)).unwrap_or(start),
            issued: row.0,
            seen: row.1,
            digs: row.2,
            proposed: row.3,
            accepted: row.4,
            in_window: CountedShare::of(row.5, row.6),
        })
        .collect()
}

fn depth() -> DepthDistribution {
    let first = [3, 9, 22, 41, 88, 130, 171, 160, 120, 66, 30, 12, 5, 2];
    let last = [0, 1, 4, 12, 38, 101, 214, 240, 132, 44, 11, 3, 0, 1];
    let bins = first.iter().zip(last).zip(0_u16..).map(|((first, last), nth)| DepthBin {
        off: Length::from_si((f64::from(nth) - 7.0) * 0.003_175),
        first: *first,
        last,
    });
    DepthDistribution {
        bin: Length::from_si(0.003_175),
        bins: bins.collect(),
        least_tolerance: Some(Length::from_si(0.006_35)),
        most_tolerance: Some(Length::from_si(0.006_35)),
        first_within: SeedCount { count: 559, of: 859 },
        last_within: SeedCount { count: 702, of: 801 },
    }
}

fn loads() -> Vec<LoadAtSpeed> {
    let rows = [
        (4.0, 450.0, 1, 0),
        (4.5, 700.0, 3, 3),
        (4.5, 850.0, 1, 0),
        (5.0, 600.0, 4, 2),
        (5.0, 750.0, 9, 9),
        (5.0, 900.0, 2, 0),
        (5.25, 700.0, 5, 4),
        (5.5, 550.0, 3, 1),
        (5.5, 650.0, 2, 2),
        (6.0, 400.0, 2, 0),
        (6.0, 750.0, 1, 1),
        (6.5, 350.0, 1, 0),
    ];
    let at = |row: &(f64, f64, u32, u32)| LoadAtSpeed {
        speed: Speed::from_si(row.0 * 0.447_04),
        load: Force::from_si(row.1),
        digs: row.2,
        inside: row.3,
    };
    rows.iter().map(at).collect()
}

fn trials() -> Vec<TrialSummary> {
    let effect = |treatment: &str, difference: f64, limits: Option<(f64, f64)>| TrialEffect {
        treatment: treatment.to_owned(),
        against: "two rubber wheels".to_owned(),
        difference,
        low: limits.map(|it| it.0),
        high: limits.map(|it| it.1),
        p: limits.map(|_| 0.03),
    };
    vec![
        TrialSummary {
            trial: named(1, "Closing wheels, river bottom"),
            response: "emergence".to_owned(),
            unit: "%".to_owned(),
            design: "4 blocks, 3 treatments, randomised".to_owned(),
            effects: vec![
                effect("one spiked, one rubber", 4.2, Some((0.6, 7.8))),
                effect("two spiked", 2.1, Some((-1.5, 5.7))),
            ],
            verdict: "One spiked, one rubber did better than two rubber wheels here; two spiked can't be told \
                      from either. One field and one season: it says nothing of drier soil."
                .to_owned(),
        },
        TrialSummary {
            trial: named(2, "Cleaners lifted"),
            response: "plants".to_owned(),
            unit: "1/[acr_us]".to_owned(),
            design: "one strip of each".to_owned(),
            effects: vec![effect("lifted", -1200.0, None)],
            verdict: "Without replication nothing can be concluded.".to_owned(),
        },
    ]
}

fn wear() -> Vec<WornPart> {
    vec![
        WornPart {
            planter: named(7, "Long bar"),
            part: "opener_disc".to_owned(),
            words: "opener discs".to_owned(),
            rows: vec![3, 4, 9],
            measured_on: date("2026-03-20"),
            measured: Length::from_si(0.3683),
            limit: Some(Length::from_si(0.3683)),
            wear_per_area: Some(0.003 / (400.0 * ACRE)),
            area_left: Some(Area::from_si(0.0)),
            at_limit_on: Some(date("2026-05-04")),
            replace: true,
        },
        WornPart {
            planter: named(7, "Long bar"),
            part: "closing_disc".to_owned(),
            words: "closing wheels".to_owned(),
            rows: vec![],
            measured_on: date("2026-03-20"),
            measured: Length::from_si(0.33),
            limit: Some(Length::from_si(0.31)),
            wear_per_area: None,
            area_left: None,
            at_limit_on: None,
            replace: false,
        },
    ]
}

fn stands() -> Vec<FieldStand> {
    ["Norcross front", "River bottom, east of the levee road and the old schoolhouse"]
        .iter()
        .map(|name| FieldStand {
            field: named(3, name),
            crop: Crop::Corn,
            planted_on: date("2026-05-01"),
            counted_on: date("2026-05-28"),
            population: ArealNumberDensity::from_si(30_800.0 / ACRE),
            population_low: Some(ArealNumberDensity::from_si(29_500.0 / ACRE)),
            population_high: Some(ArealNumberDensity::from_si(32_100.0 / ACRE)),
            emergence: Some(0.933),
            words: "even, few gaps".to_owned(),
        })
        .collect()
}

fn shed() -> Vec<ShedItem> {
    let item = |reason, words: &str, rows: &[u16], digs| ShedItem {
        planter: named(7, "Long bar"),
        reason,
        words: words.to_owned(),
        rows: rows.to_vec(),
        digs,
        day: Some(date("2026-05-17")),
    };
    vec![
        item(ShedReason::OpenReplacement, "opener discs: replace", &[3, 4, 9], 0),
        item(ShedReason::Wear, "scrapers at their limit within 180 ac", &[], 0),
        item(ShedReason::Digs, "loose arms or bushings", &[6], 4),
    ]
}

fn fields() -> Vec<FieldLine> {
    let names =
        ["Norcross front", "River bottom, east of the levee road", "Schoolhouse", "Back eighty"];
    names
        .iter()
        .zip(0_u32..)
        .map(|(name, nth)| FieldLine {
            field: named(u128::from(nth), name),
            planter: named(7, "Long bar"),
            class: SoilClass { soil: SoilGroup::Medium, cover: CoverClass::Living },
            issued: 1 + nth % 3,
            seen: nth != 2,
            digs: nth,
            first_inside: (nth > 0).then_some(nth == 3),
            last_inside: (nth > 0).then_some(nth != 2),
            last_off: (nth > 0).then(|| Length::from_si(-0.002 * f64::from(nth))),
        })
        .collect()
}

fn in_window() -> InWindow {
    InWindow {
        all: shares(12, (18, 40), (31, 39)),
        by_soil: vec![
            SoilShares { soil: SoilGroup::Coarse, shares: shares(2, (2, 4), (3, 4)) },
            SoilShares { soil: SoilGroup::Medium, shares: shares(9, (11, 24), (20, 24)) },
            SoilShares { soil: SoilGroup::Fine, shares: shares(6, (5, 12), (8, 11)) },
        ],
        by_cover: vec![
            CoverShares { cover: CoverClass::NoCover, shares: shares(6, (8, 14), (12, 14)) },
            CoverShares { cover: CoverClass::Living, shares: shares(8, (6, 17), (13, 17)) },
            CoverShares { cover: CoverClass::Dead, shares: shares(4, (4, 9), (6, 8)) },
        ],
    }
}

/// A report of the whole practice.
pub(super) fn practice() -> SeasonReport {
    SeasonReport {
        about: about(ReportOf::Practice, None),
        recommendations: Advice {
            issued: 48,
            revisions: 90,
            seen: CountedShare::of(41, 48),
            applied: CountedShare::of(39, 48),
            dug: CountedShare::of(39, 48),
        },
        in_window: in_window(),
        others: None,
        advisors: vec![
            AdvisorLine { advisor: Some(named(21, "Owen Tarrick")), growers: 4, shares: None },
            AdvisorLine {
                advisor: Some(named(22, "Ruth Amsel")),
                growers: 8,
                shares: Some(shares(8, (14, 30), (25, 30))),
            },
        ],
        adjustments: Adjustments {
            proposed: 49,
            accepted: 38,
            declined: 8,
            open: 3,
            causes: vec![
                CauseCount {
                    cause: Some(Cause::TooLittleForce),
                    proposed: 21,
                    accepted: 18,
                    declined: 2,
                },
                CauseCount {
                    cause: Some(Cause::WornOrMisread),
                    proposed: 12,
                    accepted: 9,
                    declined: 3,
                },
                CauseCount { cause: None, proposed: 16, accepted: 11, declined: 3 },
            ],
        },
        learned: vec![LearnedClass {
            planter: None,
            class: SoilClass { soil: SoilGroup::Medium, cover: CoverClass::Living },
            digs: 34,
            before: Range { low: 0.5, likely: 1.0, high: 2.0 },
            after: Range { low: 1.02, likely: 1.18, high: 1.36 },
        }],
        wear: wear(),
        stands: stands(),
        trials: trials(),
        money_and_time: MoneyAndTime {
            plantings: 31,
            planted: Area::from_si(2480.0 * ACRE),
            plantings_with_hours: 12,
            planted_with_hours: Area::from_si(1010.0 * ACRE),
            hours: Time::from_si(98.0 * 3600.0),
            money: vec![MoneyLine {
                words: "parts for the shed list".to_owned(),
                currency: "USD".to_owned(),
                amount: 1840.0,
                entries: 3,
            }],
        },
        shed_list: shed(),
        weeks: weeks(),
        depths: depth(),
        loads: loads(),
        fields: Vec::new(),
    }
}

/// A report of one grower, with half the season to come.
pub(super) fn grower() -> SeasonReport {
    let few =
        InWindow { all: shares(1, (1, 3), (2, 3)), by_soil: Vec::new(), by_cover: Vec::new() };
    let mut about = about(ReportOf::Grower, Some(named(5, "Obrecht Brothers")));
    about.so_far = SoFar { days: 151, of: 365, words: "day 151 of 365: figures so far".to_owned() };
    (about.planters, about.fields, about.digs) = (1, 4, 6);
    SeasonReport {
        about,
        in_window: few,
        others: Some(Others { growers: 11, shares: shares(11, (17, 37), (29, 36)) }),
        advisors: Vec::new(),
        fields: fields(),
        loads: loads().into_iter().take(4).collect(),
        ..practice()
    }
}
