//! Numbers and names as they stand in a sentence.

use super::trial::{DesignKind, Response, Scale};

/// What a block is called.
pub(super) fn place(design: DesignKind) -> &'static str {
    match design {
        DesignKind::Paired => "pair",
        DesignKind::RandomisedBlocks => "block",
        DesignKind::SplitPlanter => "pass",
        DesignKind::CompletelyRandomised => "plot",
    }
}

/// A number of things: "1 pair", "4 passes".
pub(super) fn counted(number: usize, thing: &str) -> String {
    if number == 1 { format!("1 {thing}") } else { format!("{number} {}", many(thing)) }
}

/// Several of a thing.
pub(super) fn many(thing: &str) -> String {
    if thing.ends_with('s') { format!("{thing}es") } else { format!("{thing}s") }
}

/// With a capital letter.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}

/// "a, b and c".
pub(super) fn listed(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}

/// How numbers of a trial are written: rounded so that what is unsure by `step` shows two digits.
#[derive(Debug, Clone)]
pub(super) struct Numbers {
    decimals: usize,
    /// The unit of a value, with a space before it where one belongs.
    unit: String,
    /// The unit of a difference.
    difference: String,
    what: String,
}

impl Numbers {
    pub(super) fn of(response: &Response, step: f64) -> Self {
        let decimals = (0..8).find(|d: &i32| step * 10_f64.powi(*d) >= 9.5).unwrap_or(8);
        let spaced = |unit: &str| {
            if unit.is_empty() { String::new() } else { format!(" {unit}") }
        };
        let (unit, difference) = match response.scale {
            Scale::Percent => (" %".to_owned(), " percentage points".to_owned()),
            Scale::Measure => (spaced(&response.unit), spaced(&response.unit)),
        };
        let decimals = usize::try_from(decimals).unwrap_or(0);
        Self { decimals, unit, difference, what: response.what.clone() }
    }

    fn bare(&self, value: f64) -> String {
        let text = format!("{value:.*}", self.decimals);
        // No minus before a zero.
        if text.trim_start_matches('-').chars().all(|c| c == '0' || c == '.') {
            text.trim_start_matches('-').to_owned()
        } else {
            text
        }
    }

    /// "87.8 %".
    pub(super) fn value(&self, value: f64) -> String {
        format!("{}{}", self.bare(value), self.unit)
    }

    /// The size of a difference: "3.0 percentage points".
    pub(super) fn size(&self, value: f64) -> String {
        format!("{}{}", self.bare(value.abs()), self.difference)
    }

    /// "3.0 percentage points more emergence", "about the same emergence".
    pub(super) fn more(&self, difference: f64) -> String {
        if self.is_nothing(difference) {
            return format!("the same {}", self.what);
        }
        let way = if difference < 0.0 { "less" } else { "more" };
        format!("{} {way} {}", self.size(difference), self.what)
    }

    /// A range of differences: "from 1.2 less to 5.6 more".
    pub(super) fn range(&self, low: f64, high: f64) -> String {
        let way = |x: f64| if x < 0.0 { "less" } else { "more" };
        if way(low) == way(high) {
            let (near, far) = if low < 0.0 { (high, low) } else { (low, high) };
            format!("{} to {} {}", self.bare(near.abs()), self.bare(far.abs()), way(low))
        } else {
            format!("{} less to {} more", self.bare(low.abs()), self.bare(high.abs()))
        }
    }

    fn is_nothing(&self, difference: f64) -> bool {
        !self.bare(difference.abs()).chars().any(|c| ('1'..='9').contains(&c))
    }
}

/// A chance as people can picture it.
pub(super) fn chance(p: f64) -> String {
    if p < 0.001 {
        return "in fewer than 1 of 1000 trials (p < 0.001)".to_owned();
    }
    let shown = if p < 0.1 { format!("{p:.3}") } else { format!("{p:.2}") };
    if p > 0.4 {
        return format!("in about {:.0} of 10 trials (p = {shown})", (10.0 * p).round());
    }
    format!("in about 1 of {:.0} trials (p = {shown})", (1.0 / p).round())
}
