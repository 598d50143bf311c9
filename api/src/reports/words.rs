//! Figures of a season as people write them.

use chrono::NaiveDate;
pub use domain::planter::rows_said as rows;
use domain::quantity::{Area, ArealNumberDensity, Force, Length, Measured, Speed, System, unit};
use domain::season::report::CountedShare;

/// A unit in both systems: UCUM code and digits after the point.
type Both = [(&'static str, usize); 2];

const DEPTH: Both = [("[in_i]", 2), ("mm", 0)];
const AREA: Both = [("[acr_us]", 0), ("har", 0)];
const SPEED: Both = [("[mi_i]/h", 1), ("km/h", 1)];
const LOAD: Both = [("[lbf_av]", 0), ("N", 0)];
const PLANTS: Both = [("1/[acr_us]", 0), ("1/har", 0)];

/// Writes quantities in one system of units.
#[derive(Debug, Clone, Copy)]
pub struct In(pub System);

impl In {
    fn pick(self, both: Both) -> (&'static str, usize) {
        let [us, si] = both;
        match self.0 {
            System::Us => us,
            System::Si => si,
        }
    }

    fn value<Q: Measured>(self, both: Both, quantity: Q) -> f64 {
        unit(self.pick(both).0).map_or(f64::NAN, |unit| unit.read(quantity))
    }

    fn label(self, both: Both) -> &'static str {
        unit(self.pick(both).0).map_or("", |unit| unit.label)
    }

    fn written<Q: Measured>(self, both: Both, quantity: Q) -> String {
        let (_, digits) = self.pick(both);
        format!("{} {}", number(self.value(both, quantity), digits), self.label(both))
    }

    /// `0.25 in`.
    pub fn depth(self, it: Length) -> String {
        self.written(DEPTH, it)
    }

    /// A depth as a number.
    pub fn depth_value(self, it: Length) -> f64 {
        self.value(DEPTH, it)
    }

    /// The unit of depths.
    pub fn depth_unit(self) -> &'static str {
        self.label(DEPTH)
    }

    /// `412 ac`.
    pub fn area(self, it: Area) -> String {
        self.written(AREA, it)
    }

    /// A speed as a number.
    pub fn speed_value(self, it: Speed) -> f64 {
        self.value(SPEED, it)
    }

    /// The unit of speeds.
    pub fn speed_unit(self) -> &'static str {
        self.label(SPEED)
    }

    /// A load as a number.
    pub fn load_value(self, it: Force) -> f64 {
        self.value(LOAD, it)
    }

    /// The unit of loads.
    pub fn load_unit(self) -> &'static str {
        self.label(LOAD)
    }

    /// A population to the hundred, without its unit.
    pub fn plants_value(self, it: ArealNumberDensity) -> f64 {
        (self.value(PLANTS, it) / 100.0).round() * 100.0
    }

    /// The unit of populations.
    pub fn plants_unit(self) -> &'static str {
        self.label(PLANTS)
    }

    /// Wear of a part by land, m per m²: by a thousand acres or by a hundred hectares.
    pub fn wear(self, by_area: f64) -> String {
        match self.0 {
            System::Us => {
                format!("{} in per 1,000 ac", number(by_area * 4_046_872.61 / 0.0254, 2))
            }
            System::Si => format!("{} mm per 100 ha", number(by_area * 1e9, 1)),
        }
    }
}

/// So many digits after the point, zeros at the end dropped, thousands with commas.
pub fn number(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    let text =
        if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    let (sign, figures) = whole.strip_prefix('-').map_or(("", whole), |rest| ("−", rest));
    let sign = if figures == "0" && part.is_empty() { "" } else { sign };
    let mut grouped = String::new();
    for (place, figure) in figures.chars().enumerate() {
        if figures.len() > 4 && place > 0 && (figures.len() - place).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(figure);
    }
    let point = if part.is_empty() { "" } else { "." };
    format!("{sign}{grouped}{point}{part}")
}

/// `1 dig`, `12 digs`.
pub fn count(many: impl Into<u64>, one: &str, more: &str) -> String {
    let many = many.into();
    format!("{} {}", whole(many), if many == 1 { one } else { more })
}

/// `12,000`.
pub fn whole(many: u64) -> String {
    let text = many.to_string();
    let mut grouped = String::new();
    for (place, figure) in text.chars().enumerate() {
        if text.len() > 4 && place > 0 && (text.len() - place).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(figure);
    }
    grouped
}

/// `72 %`.
pub fn percent(share: f64) -> String {
    format!("{:.0} %", share * 100.0)
}

/// `31 of 40 (78 %)`.
pub fn of(share: CountedShare) -> String {
    format!("{} of {} ({})", share.count, share.of, percent(share.share))
}

/// `63 to 88 %`.
pub fn limits(share: CountedShare) -> String {
    format!("{:.0} to {:.0} %", share.low * 100.0, share.high * 100.0)
}

/// `5 May`.
pub fn day(day: NaiveDate) -> String {
    day.format("%-d %b").to_string()
}

/// `5 May 2026`.
pub fn date(day: NaiveDate) -> String {
    day.format("%-d %B %Y").to_string()
}

/// The label of a unit by its UCUM code.
pub fn unit_label(code: &str) -> &str {
    match code {
        "[bu_us]/[acr_us]" => "bu/ac",
        other => unit(other).map_or(other, |unit| unit.label),
    }
}

/// What a part is, without the rows that stand beside it.
pub fn without_rows(words: &str) -> &str {
    words.split_once(", row").map_or(words, |(part, _)| part)
}

/// With a capital and a full stop.
pub fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|letter| letter.to_uppercase().to_string());
    let mut made = first.unwrap_or_default() + letters.as_str();
    if !made.is_empty() && !made.ends_with(['.', '!', '?']) {
        made.push('.');
    }
    made
}

#[cfg(test)]
mod tests {
    use domain::quantity::{Area, Length, Measured, System};

    use super::{In, count, number, rows, whole, without_rows};

    #[test]
    fn figures_read_as_people_write_them() {
        assert_eq!(
            (number(0.50, 2), number(-0.004, 2), number(-1.25, 2)),
            ("0.5".into(), "0".into(), "−1.25".into())
        );
        assert_eq!(
            (number(12_345.6, 0), whole(1234), whole(12_345)),
            ("12,346".into(), "1234".into(), "12,345".into())
        );
        assert_eq!(
            (count(1_u32, "dig", "digs"), count(0_u32, "dig", "digs")),
            ("1 dig".into(), "0 digs".into())
        );
        assert_eq!(
            (rows(&[]), rows(&[3]), rows(&[3, 4, 9])),
            (String::new(), "row 3".into(), "rows 3, 4 and 9".into())
        );
        assert_eq!(
            (rows(&[1, 2, 3, 4]), rows(&[1, 3, 4, 5])),
            ("rows 1 to 4".into(), "rows 1 and 3 to 5".into())
        );
        assert_eq!(
            (without_rows("opener discs, rows 3 and 4"), without_rows("a chain")),
            ("opener discs", "a chain")
        );
    }

    #[test]
    fn quantities_are_in_the_units_of_the_reader() {
        let (us, si) = (In(System::Us), In(System::Si));
        assert_eq!(us.depth(Length::from_si(0.0127)), "0.5 in");
        assert_eq!(si.depth(Length::from_si(0.0127)), "13 mm");
        assert_eq!(
            (us.area(Area::from_si(404_687.261)), si.area(Area::from_si(404_687.261))),
            ("100 ac".into(), "40 ha".into())
        );
        // A millimetre on a hundred hectares, and an inch on a thousand acres.
        assert_eq!(si.wear(0.001 / 1e6), "1 mm per 100 ha");
        assert_eq!(us.wear(0.0254 / 4_046_872.61), "1 in per 1,000 ac");
    }
}
