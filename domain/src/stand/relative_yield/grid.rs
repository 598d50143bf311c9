//! Reading a printed table of dates and stands, at its cells and between them.

/// A printed table. Each node names the row, or the column, that it stands for; two nodes of one
/// row are the ends of a window in which the source prints one figure.
pub(super) struct Grid {
    /// Days after 30 April, ascending, with the row of the cells. Two nodes on one day are a jump:
    /// the day itself belongs to the earlier window.
    pub dates: &'static [(i16, usize)],
    /// Thousands of plants an acre, ascending, with the column of the cells.
    pub stands: &'static [(f64, usize)],
    /// Percent, a row a date or window.
    pub cells: &'static [&'static [u8]],
}

/// What a table says at a date and a stand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Reading {
    /// Percent.
    pub percent: f64,
    /// Whether the source prints this figure; else it lies between printed ones.
    pub printed: bool,
}

/// Rounding of a unit must not push a figure out of a table.
const SLACK: f64 = 1e-6;

/// Two nodes and how far between them.
#[derive(Clone, Copy)]
struct Between {
    first: usize,
    second: usize,
    share: f64,
}

impl Between {
    fn is_printed(self) -> bool {
        self.first == self.second || self.share < SLACK || self.share > 1.0 - SLACK
    }

    fn mix(self, first: f64, second: f64) -> f64 {
        first + self.share * (second - first)
    }
}

impl Grid {
    /// The figure at so many days after 30 April and so many thousand plants an acre; between
    /// cells it follows straight lines, first along the stand, then along the date.
    ///
    /// `None` outside the table.
    pub(super) fn read(&self, day: f64, thousands: f64) -> Option<Reading> {
        let date = bracket(self.dates.iter().map(|(day, row)| (f64::from(*day), *row)), day)?;
        let stand = bracket(self.stands.iter().copied(), thousands)?;
        let along = |row: usize| {
            let cell = |column: usize| Some(f64::from(*self.cells.get(row)?.get(column)?));
            Some(stand.mix(cell(stand.first)?, cell(stand.second)?))
        };
        Some(Reading {
            percent: date.mix(along(date.first)?, along(date.second)?),
            printed: date.is_printed() && stand.is_printed(),
        })
    }

    /// First and last day.
    pub(super) fn days(&self) -> (i16, i16) {
        let at = |node: Option<&(i16, usize)>| node.map_or(0, |(day, _)| *day);
        (at(self.dates.first()), at(self.dates.last()))
    }

    /// Thinnest and thickest stand, thousands an acre.
    pub(super) fn thousands(&self) -> (f64, f64) {
        let at = |node: Option<&(f64, usize)>| node.map_or(0.0, |(x, _)| *x);
        (at(self.stands.first()), at(self.stands.last()))
    }
}

/// The first pair of neighbours that holds `x` between them.
fn bracket(nodes: impl Iterator<Item = (f64, usize)> + Clone, x: f64) -> Option<Between> {
    nodes.clone().zip(nodes.skip(1)).find_map(|((from, first), (to, second))| {
        let wide = to - from > SLACK;
        let inside = x >= from - SLACK && x <= to + SLACK;
        (wide && inside).then(|| Between {
            first,
            second,
            share: ((x - from) / (to - from)).clamp(0.0, 1.0),
        })
    })
}
