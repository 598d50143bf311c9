//! Corn in southern Wisconsin, 95 to 115 day zone: percent of the expected yield (2003).

use super::grid::Grid;

const DATES: &[(i16, usize)] = &[(-10, 0), (1, 1), (10, 2), (20, 3), (32, 4), (41, 5), (51, 6)];
/// The first rows of the printed table are known, no others.
const STANDS: &[(f64, usize)] = &[(32.0, 0), (34.0, 1), (36.0, 2)];

/// A hybrid of full season.
pub(super) const FULL_SEASON: Grid = Grid {
    dates: DATES,
    stands: STANDS,
    cells: &[
        &[97, 97, 96],
        &[100, 100, 99],
        &[96, 96, 95],
        &[86, 85, 85],
        &[63, 63, 63],
        &[40, 40, 40],
        &[8, 8, 8],
    ],
};

/// A hybrid of short season.
pub(super) const SHORT_SEASON: Grid = Grid {
    dates: DATES,
    stands: STANDS,
    cells: &[
        &[92, 92, 91],
        &[96, 96, 95],
        &[94, 94, 93],
        &[87, 87, 87],
        &[72, 72, 71],
        &[56, 56, 55],
        &[32, 32, 32],
    ],
};
