//! How tall the page becomes at each size of letters, from what is on it.

/// Height of the paper between its margins, US Letter, the shorter of the two, in mm: 263,
/// less what an estimate may be wrong by.
pub(super) const PAGE: f64 = 256.0;

/// A size of letters, and what each thing on the page adds to its height, in mm.
///
/// Fitted to 162 printed sheets of an invented season, the pages that are nearly full counting
/// most; those come out at most 7 mm taller than estimated. No sheet of that season was short
/// enough for the largest letters, so their estimate was raised by 4 mm.
pub(super) struct Size {
    /// The class of the body.
    pub(super) class: &'static str,
    letter: f64,
    row: f64,
    item: f64,
    heading: f64,
    rest: f64,
}

/// A line to write on beyond the three of every sheet, mm.
const LINE: f64 = 7.0;

/// The sizes, the largest first.
pub(super) const SIZES: [Size; 5] = [
    Size { class: "roomy", letter: 0.0446, row: -4.56, item: 0.45, heading: 7.48, rest: 140.1 },
    Size { class: "close", letter: 0.0325, row: -0.70, item: 1.63, heading: 6.59, rest: 92.0 },
    Size { class: "tight snug", letter: 0.0267, row: -0.06, item: 0.62, heading: 7.83, rest: 81.8 },
    Size { class: "tight", letter: 0.0233, row: 1.23, item: 1.12, heading: 7.51, rest: 59.4 },
    Size { class: "tight least", letter: 0.0122, row: 2.15, item: 2.14, heading: 7.34, rest: 69.2 },
];

impl Size {
    /// The height of this page, in mm.
    pub(super) fn height(&self, html: &str) -> f64 {
        let many = |tag: &str| count(html.matches(tag).count());
        self.rest
            + self.letter * letters(html)
            + self.row * many("<tr>")
            + self.item * many("<li>")
            + self.heading * many("<h2>")
            + LINE * many("<tr class=\"more\">")
    }
}

/// Letters outside the tags.
fn letters(html: &str) -> f64 {
    let mut inside = false;
    count(
        html.chars()
            .filter(|letter| {
                let tag = inside || *letter == '<';
                inside = tag && *letter != '>';
                !tag
            })
            .count(),
    )
}

fn count(many: usize) -> f64 {
    u32::try_from(many).map_or(f64::MAX, f64::from)
}

#[cfg(test)]
mod tests {
    use super::{SIZES, letters};

    #[test]
    fn only_what_is_read_counts() {
        assert!((letters("<p class=\"x\">Seed <b>at</b></p>") - 7.0).abs() < 1e-9);
    }

    #[test]
    fn smaller_letters_make_a_lower_page() {
        // As much as on a usual sheet.
        let page = format!(
            "{}{}{}{}",
            "<h2>What</h2>".repeat(9),
            "<tr></tr>".repeat(16),
            "<li></li>".repeat(9),
            "ten little".repeat(420)
        );
        let heights: Vec<f64> = SIZES.iter().map(|size| size.height(&page)).collect();
        assert!(heights.is_sorted_by(|a, b| a > b), "{heights:?}");
    }
}
