//! Corn in Illinois: percent of the best yield by planting date and final stand (Nafziger 1994).

use super::grid::Grid;

/// The last date on which the source had plots; later rows are its own extrapolation.
pub(super) const LAST_OBSERVED_DAY: f64 = 25.0;

/// 13 dates, 10 April to 9 June, by 14 stands, 10,000 to 36,000 an acre.
pub(super) const DATE_AND_STAND: Grid = Grid {
    dates: &[
        (-20, 0),
        (-15, 1),
        (-10, 2),
        (-5, 3),
        (0, 4),
        (5, 5),
        (10, 6),
        (15, 7),
        (20, 8),
        (25, 9),
        (30, 10),
        (35, 11),
        (40, 12),
    ],
    stands: &[
        (10.0, 0),
        (12.0, 1),
        (14.0, 2),
        (16.0, 3),
        (18.0, 4),
        (20.0, 5),
        (22.0, 6),
        (24.0, 7),
        (26.0, 8),
        (28.0, 9),
        (30.0, 10),
        (32.0, 11),
        (34.0, 12),
        (36.0, 13),
    ],
    cells: &[
        &[62, 68, 73, 78, 82, 85, 88, 91, 92, 93, 94, 94, 93, 91],
        &[65, 71, 76, 81, 85, 88, 91, 94, 95, 96, 97, 96, 96, 94],
        &[67, 73, 78, 83, 87, 90, 93, 96, 97, 98, 99, 98, 98, 96],
        &[68, 74, 79, 84, 88, 92, 94, 97, 98, 99, 100, 100, 99, 97],
        &[68, 74, 79, 84, 88, 92, 95, 97, 99, 100, 100, 100, 99, 97],
        &[67, 73, 79, 83, 87, 91, 94, 96, 98, 99, 99, 99, 98, 97],
        &[65, 71, 77, 82, 86, 89, 92, 94, 96, 97, 97, 97, 96, 95],
        &[63, 69, 74, 79, 83, 87, 89, 92, 93, 94, 95, 95, 94, 92],
        &[59, 65, 71, 75, 80, 83, 86, 88, 90, 91, 91, 91, 90, 89],
        &[55, 61, 66, 71, 75, 79, 81, 84, 85, 86, 87, 87, 86, 84],
        &[49, 55, 61, 65, 70, 73, 76, 78, 80, 81, 81, 81, 80, 79],
        &[43, 49, 54, 59, 63, 67, 70, 72, 74, 75, 75, 75, 74, 73],
        &[36, 42, 47, 52, 56, 60, 62, 65, 66, 67, 68, 68, 67, 65],
    ],
};

/// The smooth curve through the table, percent: quadratic in date and in stand, without a product
/// of the two. Every cell lies within 0.53 point of it; its best is 30,330 plants on 28 April.
pub(super) fn fitted(day: f64, thousands: f64) -> f64 {
    let date = -0.062_815_8 * day - 0.018_511_5 * day * day;
    let stand = 4.693_269 * thousands - 0.077_372_1 * thousands * thousands;
    28.757_9 + date + stand
}
