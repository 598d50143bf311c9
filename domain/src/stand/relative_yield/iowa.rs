//! Corn in Iowa: relative yield by window of planting and by stand.

use super::grid::Grid;

/// East-central Iowa, 2006: final stand and window of replanting. The windows leave gaps; the
/// stand of 28,000 to 32,000 has one column. Every cell is the factor of its stand times the
/// factor of its window, rounded.
pub(super) const REPLANT: Grid = Grid {
    dates: &[
        (-10, 0),
        (5, 0),
        (13, 1),
        (19, 1),
        (26, 2),
        (32, 2),
        (41, 3),
        (47, 3),
        (55, 4),
        (59, 4),
    ],
    stands: &[(12.0, 0), (16.0, 1), (20.0, 2), (24.0, 3), (28.0, 4), (32.0, 4)],
    cells: &[
        &[68, 74, 81, 94, 100],
        &[67, 73, 80, 93, 99],
        &[61, 67, 73, 85, 90],
        &[46, 50, 55, 64, 68],
        &[35, 38, 42, 49, 52],
    ],
};

/// Northern Iowa, 2018: delayed planting. The windows follow each other without a gap.
pub(super) const LATE: Grid = Grid {
    dates: &[
        (-10, 0),
        (5, 0),
        (5, 1),
        (15, 1),
        (15, 2),
        (25, 2),
        (25, 3),
        (36, 3),
        (36, 4),
        (46, 4),
    ],
    stands: &[(25.0, 0), (30.0, 1), (35.0, 2), (40.0, 3), (45.0, 4)],
    cells: &[
        &[95, 99, 100, 99, 97],
        &[91, 95, 96, 95, 93],
        &[83, 86, 87, 86, 85],
        &[67, 69, 70, 69, 68],
        &[51, 53, 54, 53, 52],
    ],
};
