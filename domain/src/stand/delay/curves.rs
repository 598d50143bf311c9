//! What published sources say is lost by planting later, each as a curve over the season.

use super::super::relative_yield::YieldTable;
use super::LossUnit;
use crate::conditions::Crop;
use crate::provenance::{Mark, Source, sources};

/// The loss one source gives for planting on a day, against its best day.
///
/// Points are days after 30 April and the loss; straight lines join them and nothing is said
/// outside them. Where the source gives a range, or does not fix the height of its curve, there is
/// a curve for either end.
pub(super) struct Curve {
    pub region: &'static str,
    pub year: &'static str,
    pub source: Source,
    pub mark: Mark,
    pub unit: LossUnit,
    pub either: [Vec<(f64, f64)>; 2],
}

impl Curve {
    fn one(
        (region, year): (&'static str, &'static str),
        (source, mark): (Source, Mark),
        unit: LossUnit,
        points: &[(f64, f64)],
    ) -> Self {
        Self::two((region, year), (source, mark), unit, [points, points])
    }

    fn two(
        (region, year): (&'static str, &'static str),
        (source, mark): (Source, Mark),
        unit: LossUnit,
        either: [&[(f64, f64)]; 2],
    ) -> Self {
        Self { region, year, source, mark, unit, either: either.map(<[(f64, f64)]>::to_vec) }
    }

    /// Loss at a day; `None` outside the curve.
    pub(super) fn loss(points: &[(f64, f64)], day: f64) -> Option<f64> {
        pieces(points).find_map(|((from, a), (to, b))| {
            let inside = day >= from - SLACK && day <= to + SLACK;
            inside.then(|| a + (b - a) * (day - from) / (to - from))
        })
    }

    /// Mean loss of ground planted evenly from a day on; `None` where the curve does not cover it.
    pub(super) fn mean_loss(points: &[(f64, f64)], from: f64, days: f64) -> Option<f64> {
        let to = from + days;
        let first = Self::loss(points, from)?;
        Self::loss(points, to)?;
        if days < SLACK {
            return Some(first);
        }
        let area: f64 = pieces(points)
            .map(|((x, a), (y, b))| {
                let (low, high) = (x.max(from), y.min(to));
                let at = |day: f64| a + (b - a) * (day - x) / (y - x);
                if high > low { (high - low) * f64::midpoint(at(low), at(high)) } else { 0.0 }
            })
            .sum();
        Some(area / days)
    }
}

const SLACK: f64 = 1e-9;

type Point = (f64, f64);

/// Neighbouring points that lie on different days.
fn pieces(points: &[Point]) -> impl Iterator<Item = (Point, Point)> {
    let pairs = points.iter().copied().zip(points.iter().copied().skip(1));
    pairs.filter(|((from, _), (to, _))| to - from > SLACK)
}

/// End of June, in days after 30 April.
const JULY: f64 = 61.0;

/// Every source for a crop.
pub(super) fn curves(crop: Crop) -> Vec<Curve> {
    match crop {
        Crop::Corn => {
            let mut all = corn_percent();
            all.extend(corn_bushels());
            all
        }
        Crop::Soybean => soybean(),
    }
}

fn corn_percent() -> Vec<Curve> {
    use LossUnit::Percent;
    let table = |table: YieldTable, stand: f64| -> Vec<(f64, f64)> {
        table.column(stand).into_iter().map(|(day, percent)| (day, 100.0 - percent)).collect()
    };
    let full = table(YieldTable::WisconsinFullSeason, 34.0);
    let short = table(YieldTable::WisconsinShortSeason, 34.0);
    let stand_table = table(YieldTable::IllinoisDateStand, 30.0);
    vec![
        Curve::one(
            ("Illinois", "1994"),
            (sources::NAFZIGER_1994, Mark::Read),
            Percent,
            &stand_table,
        ),
        Curve::one(
            ("Illinois", "2013"),
            (sources::ILLINOIS_LOSS_2013, Mark::Read),
            Percent,
            // 0.5, 0.7, 0.9 % a day in the thirds of May; 8, 15, 24 % at 10, 20, 30 May.
            &[(0.0, 3.0), (10.0, 8.0), (20.0, 15.0), (30.0, 24.0)],
        ),
        Curve::two(
            ("Illinois", "2016"),
            (sources::ILLINOIS_LOSS_2016, Mark::Read),
            Percent,
            // Within 1 % from 5 to 30 April, best on the 17th; 4, 8, 14 % at 10, 20, 30 May.
            [
                &[(-25.0, 0.0), (-13.0, 0.0), (0.0, 0.0), (10.0, 4.0), (20.0, 8.0), (30.0, 14.0)],
                &[(-25.0, 1.0), (-13.0, 0.0), (0.0, 1.0), (10.0, 4.0), (20.0, 8.0), (30.0, 14.0)],
            ],
        ),
        Curve::one(
            ("northern Iowa", "2018"),
            // Windows of planting, each taken at its middle.
            (sources::IOWA_LATE, Mark::Derived),
            Percent,
            &[(-2.5, 0.0), (10.0, 4.0), (20.0, 13.0), (30.5, 30.0), (41.0, 46.0)],
        ),
        Curve::two(
            ("southern Wisconsin", "2003"),
            (sources::WISCONSIN_EXPECTED, Mark::Read),
            Percent,
            [&full, &short],
        ),
    ]
}

fn corn_bushels() -> Vec<Curve> {
    use LossUnit::BushelsPerAcre;
    vec![
        Curve::two(
            ("Ohio", "2024"),
            (sources::OHIO_LOSS, Mark::Read),
            BushelsPerAcre,
            // Up to 1.75 bu/ac a day after the end of April.
            [&[(0.0, 0.0), (JULY, 0.0)], &[(0.0, 0.0), (JULY, 1.75 * JULY)]],
        ),
        Curve::two(
            ("Pennsylvania", "2020"),
            (sources::PENN_LOSS, Mark::Read),
            BushelsPerAcre,
            // About 1 bu/ac a day after the window opens: mid-April to mid-May, by area.
            [
                &[(-15.0, 0.0), (15.0, 0.0), (JULY, JULY - 15.0)],
                &[(-15.0, 0.0), (JULY, JULY + 15.0)],
            ],
        ),
        Curve::one(
            ("Illinois", "2016"),
            (sources::ILLINOIS_LOSS_2016, Mark::Read),
            BushelsPerAcre,
            // June: about 2 bu a day.
            &[(31.0, 0.0), (JULY, 2.0 * (JULY - 31.0))],
        ),
    ]
}

fn soybean() -> Vec<Curve> {
    use LossUnit::BushelsPerAcre;
    vec![
        Curve::two(
            ("Ohio", "2024"),
            (sources::OHIO_LOSS, Mark::Read),
            BushelsPerAcre,
            // Up to 0.5 bu/ac a day after the end of April.
            [&[(0.0, 0.0), (JULY, 0.0)], &[(0.0, 0.0), (JULY, 0.5 * JULY)]],
        ),
        Curve::one(
            ("Illinois", "n.d."),
            (sources::ILLINOIS_SOY_LOSS, Mark::Read),
            BushelsPerAcre,
            // June: about 0.5 bu/ac a day.
            &[(31.0, 0.0), (JULY, 0.5 * (JULY - 31.0))],
        ),
        Curve::one(
            ("Virginia", "n.d."),
            (sources::VIRGINIA_SOY_LOSS, Mark::Read),
            BushelsPerAcre,
            // After mid-June: about 0.5 bu/ac a day; carried to mid-July.
            &[(46.0, 0.0), (76.0, 15.0)],
        ),
    ]
}
