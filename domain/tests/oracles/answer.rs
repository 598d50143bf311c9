//! What the production code says to a row, and whether that is what the row expects.

/// One value of the production code.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Got {
    Number(f64),
    Word(String),
}

impl From<f64> for Got {
    fn from(value: f64) -> Self {
        Self::Number(value)
    }
}

impl From<&str> for Got {
    fn from(value: &str) -> Self {
        Self::Word(value.to_owned())
    }
}

impl std::fmt::Display for Got {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Number(x) => write!(f, "{x}"),
            Self::Word(w) => write!(f, "{w}"),
        }
    }
}

/// One cell of a data file beside what the production code says.
pub(crate) struct Cell {
    pub(crate) label: String,
    pub(crate) expected: String,
    pub(crate) got: Got,
}

/// All that the production code says to a row.
#[derive(Default)]
pub(crate) struct Answer {
    pub(crate) values: Vec<(&'static str, Vec<Got>)>,
    pub(crate) cells: Vec<Cell>,
}

impl Answer {
    pub(crate) fn one(key: &'static str, got: impl Into<Got>) -> Self {
        Self::default().and(key, got)
    }

    pub(crate) fn list(key: &'static str, got: impl IntoIterator<Item = f64>) -> Self {
        Self::default().and_list(key, got)
    }

    pub(crate) fn and(mut self, key: &'static str, got: impl Into<Got>) -> Self {
        self.values.push((key, vec![got.into()]));
        self
    }

    pub(crate) fn and_list(
        mut self,
        key: &'static str,
        got: impl IntoIterator<Item = f64>,
    ) -> Self {
        self.values.push((key, got.into_iter().map(Got::Number).collect()));
        self
    }

    pub(crate) fn cell(&mut self, label: String, expected: &str, got: impl Into<Got>) {
        self.cells.push(Cell { label, expected: expected.to_owned(), got: got.into() });
    }
}

/// Whether a value is as close to a printed one as the row's tolerance asks.
pub(crate) fn agrees(printed: &str, got: &Got, tolerance: &str) -> bool {
    match got {
        Got::Word(word) => word == printed,
        Got::Number(value) => {
            let expected: f64 = printed.trim().parse().unwrap_or(f64::NAN);
            let allowed = match tolerance.split_once(':') {
                Some(("abs", x)) => x.parse::<f64>().unwrap_or(f64::NAN),
                Some(("rel", x)) => x.parse::<f64>().unwrap_or(f64::NAN) * expected.abs(),
                _ if tolerance == "exact" => 1e-9 * expected.abs().max(1.0),
                _ if tolerance == "digits" => last_place(printed),
                _ => f64::NAN,
            };
            // A difference of exactly the tolerance agrees, whatever its last binary digit is.
            (value - expected).abs() <= allowed * (1.0 + 1e-9)
        }
    }
}

/// One unit of the last printed place: `1.30` gives 0.01, `3.9E-04` gives 0.00001.
fn last_place(printed: &str) -> f64 {
    let lower = printed.trim().to_lowercase();
    let (digits, exponent) = lower.split_once('e').unwrap_or((&lower, "0"));
    let decimals = digits.split_once('.').map_or(0, |(_, d)| d.len());
    let exponent: i32 = exponent.parse().unwrap_or(i32::MAX);
    10_f64.powi(exponent - i32::try_from(decimals).unwrap())
}

#[test]
fn tolerances_are_read_as_they_are_meant() {
    let number = |x: f64| Got::Number(x);
    assert!(agrees("5.74", &number(5.73), "digits") && !agrees("5.74", &number(5.729), "digits"));
    assert!(
        agrees("27804", &number(27805.0), "abs:1") && !agrees("27804", &number(27805.1), "abs:1")
    );
    assert!(agrees("2000", &number(1996.0), "rel:0.002"));
    assert!(!agrees("2000", &number(1995.9), "rel:0.002"));
    assert!(
        agrees("17.5", &number(17.5 + 1e-12), "exact") && !agrees("17.5", &number(17.51), "exact")
    );
    assert!(agrees("3.909475E-04", &number(3.909_474_9e-4), "digits"));
    assert!(!agrees("3.909475E-04", &number(3.9096e-4), "digits"));
    assert!(agrees("keep", &"keep".into(), "exact") && !agrees("keep", &"replace".into(), "exact"));
    assert!(!agrees("1", &number(f64::NAN), "abs:1") && !agrees("1", &number(1.0), "roughly"));
}
