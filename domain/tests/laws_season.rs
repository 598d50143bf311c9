//! Laws of the sums of a season, for any history.

use std::collections::BTreeSet;

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use domain::dig::Cause;
use domain::learning::{CoverClass, SoilClass, SoilGroup};
use domain::season::{
    DigFacts, DigSeen, FieldSeason, Outcome, Planted, Proposed, Revision, Sums, Totals,
};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::{
    Just, ProptestConfig, Strategy, any, prop_assert, prop_assert_eq, prop_oneof, proptest,
};
use proptest::sample::Index;

/// Hours around the season: before it, in it, after it.
const HOURS: std::ops::Range<i64> = -2_000..11_000;

fn start() -> DateTime<Utc> {
    "2027-01-01T00:00:00Z".parse().unwrap_or_default()
}

fn at(hours: i64) -> DateTime<Utc> {
    start() + TimeDelta::hours(hours)
}

fn day(at: DateTime<Utc>) -> NaiveDate {
    at.date_naive()
}

fn facts() -> impl Strategy<Value = DigFacts> {
    let ground = prop_oneof![
        Just(SoilClass { soil: SoilGroup::Medium, cover: CoverClass::Living }),
        Just(SoilClass { soil: SoilGroup::Fine, cover: CoverClass::NoCover }),
    ];
    let cause = prop_oneof![Just(Cause::Hairpin), Just(Cause::TooLittleForce)];
    let inside = (option::of(any::<bool>()), option::of(any::<bool>()));
    let figures = (-20_000_i64..20_000, option::of(0_i64..3_000), 0_u32..20);
    let counts = (proptest::bool::weighted(0.9), proptest::bool::weighted(0.8));
    (ground, counts, inside, figures, option::of(cause)).prop_map(
        |(class, (once, tells), (depth_inside, load_inside), (off, load_n, seeds), cause)| {
            DigFacts {
                class,
                once,
                tells,
                depth_inside,
                load_inside,
                off_um: Some(off),
                tolerance_um: 6_350,
                speed_mm_s: 2_235,
                load_n,
                depths: vec![(off / 3_175, seeds)],
                within: seeds / 2,
                seeds,
                cause,
                iron: cause.into_iter().filter(|it| *it == Cause::Hairpin).collect(),
            }
        },
    )
}

#[derive(Debug, Clone)]
struct History {
    revisions: Vec<Revision>,
    digs: Vec<DigSeen>,
    proposed: Vec<Proposed>,
    planted: Vec<Planted>,
}

fn history() -> impl Strategy<Value = History> {
    let revision = (0_u128..3, HOURS, option::of(0_i64..500)).prop_map(|(series, hours, seen)| {
        Revision { series, issued_at: at(hours), seen_at: seen.map(|more| at(hours + more)) }
    });
    let dig = (0_u128..3, HOURS, facts());
    let outcome = prop_oneof![
        Just(Outcome::Open),
        HOURS.prop_map(|hours| Outcome::Accepted(at(hours))),
        Just(Outcome::Declined),
    ];
    let proposed = (any::<Index>(), HOURS, outcome);
    let planted = (option::of(0_u128..3), HOURS)
        .prop_map(|(series, hours)| Planted { series, on: day(at(hours)) });
    (vec(revision, 0..6), vec(dig, 0..10), vec(proposed, 0..6), vec(planted, 0..3)).prop_map(
        |(revisions, digs, proposed, planted)| {
            let digs: Vec<DigSeen> = (1..)
                .zip(digs)
                .map(|(id, (series, hours, facts))| DigSeen {
                    id,
                    series,
                    dug_at: at(hours),
                    facts,
                })
                .collect();
            let of = |(which, hours, outcome): (Index, i64, Outcome)| {
                let dig = if digs.is_empty() { 99 } else { which.get(&digs).id };
                Proposed { dig, at: at(hours), outcome }
            };
            let proposed = proposed.into_iter().map(of).collect();
            History { revisions, digs, proposed, planted }
        },
    )
}

fn sums(it: &History) -> Sums {
    let span = (start(), "2028-01-01T00:00:00Z".parse().unwrap_or_default());
    let whole = FieldSeason {
        revisions: &it.revisions,
        digs: &it.digs,
        proposed: &it.proposed,
        planted: &it.planted,
        span,
        days: (day(span.0), day(span.1)),
        day: &day,
    };
    whole.sums().0
}

fn together(all: &[Sums]) -> Sums {
    let mut sum = Sums::default();
    for one in all {
        sum.add(one);
    }
    sum
}

proptest! {
    #![proptest_config(ProptestConfig::default())]

    #[test]
    fn the_order_in_which_rows_are_read_does_not_matter(it in history()) {
        let mut turned = it.clone();
        turned.revisions.reverse();
        turned.digs.reverse();
        turned.proposed.reverse();
        turned.planted.reverse();
        prop_assert_eq!(sums(&it), sums(&turned));
    }

    #[test]
    fn parts_add_up_to_the_whole_in_any_order(all in vec(history(), 1..6), cut in any::<Index>()) {
        let parts: Vec<Sums> = all.iter().map(sums).collect();
        let whole = together(&parts);
        let mut turned = parts.clone();
        turned.reverse();
        prop_assert_eq!(&whole, &together(&turned));
        let (left, right) = parts.split_at(cut.index(parts.len()));
        prop_assert_eq!(&whole, &together(&[together(left), together(right)]));
        let stored = serde_json::to_string(&whole).expect("text");
        prop_assert_eq!(&whole, &serde_json::from_str::<Sums>(&stored).expect("sums"));
    }

    #[test]
    fn the_weeks_add_up_to_the_season(all in vec(history(), 1..6)) {
        let mut totals = Totals::default();
        for it in &all {
            totals.add_grower(&sums(it));
        }
        let (weeks, sum) = (totals.weeks(), &totals.sums);
        prop_assert_eq!(weeks.iter().map(|week| week.digs).sum::<u32>(), sum.digs);
        prop_assert_eq!(weeks.iter().map(|week| week.issued).sum::<u32>(), sum.revisions);
        // At the end of the last week in which somebody dug, fields stand as at their last dig.
        let end = weeks.last().and_then(|week| week.in_window);
        let shares = totals.shares();
        prop_assert_eq!(end, shares.after_adjustment);
        let (told, inside) = sum.classes.values().fold((0, 0), |(told, inside), class| {
            (told + class.last.0, inside + class.last.1)
        });
        prop_assert_eq!(end.map_or((0, 0), |it| (it.of, it.count)), (told, inside));
    }

    #[test]
    fn no_part_is_more_than_its_whole(it in history()) {
        let sum = sums(&it);
        prop_assert!(sum.seen <= sum.issued && sum.dug <= sum.applied && sum.applied <= sum.issued);
        prop_assert!(sum.issued <= sum.revisions);
        prop_assert!(sum.adjustments.accepted + sum.adjustments.declined <= sum.adjustments.proposed);
        for class in sum.classes.values() {
            for (of, inside) in [class.first, class.again, class.last] {
                prop_assert!(inside <= of && of <= class.dug);
            }
            prop_assert!(class.again.0 <= class.last.0);
        }
        prop_assert_eq!(sum.fields == 0, sum.is_empty());
    }

    #[test]
    fn what_happened_in_another_season_changes_nothing(it in history()) {
        let inside = |at: DateTime<Utc>| start() <= at && at.date_naive() < day(at_end());
        let mut only = it.clone();
        only.digs.retain(|dig| inside(dig.dug_at));
        let kept: BTreeSet<u128> = only.digs.iter().map(|dig| dig.id).collect();
        only.proposed.retain(|proposed| kept.contains(&proposed.dig));
        only.planted.retain(|planted| inside(planted.on.and_hms_opt(1, 0, 0).expect("a time").and_utc()));
        only.revisions.retain(|it| inside(it.issued_at) || it.seen_at.is_some_and(inside));
        prop_assert_eq!(sums(&it), sums(&only));
    }

    #[test]
    fn a_dig_that_was_sent_twice_counts_once(it in history(), which in any::<Index>()) {
        let mut again = it.clone();
        if let Some(first) = it.digs.get(which.index(it.digs.len().max(1))) {
            let facts = DigFacts { once: false, ..first.facts.clone() };
            again.digs.push(DigSeen { id: 1_000, facts, ..first.clone() });
        }
        prop_assert_eq!(sums(&it), sums(&again));
    }
}

fn at_end() -> DateTime<Utc> {
    "2028-01-01T00:00:00Z".parse().unwrap_or_default()
}
