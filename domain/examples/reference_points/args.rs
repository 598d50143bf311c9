//! The arguments of a question and the shape of an answer.

use domain::quantity::{Measured, unit};
use serde_json::{Value, json};

/// A function that can be asked for.
pub(crate) type Function = fn(&Args<'_>) -> Value;

/// What came after the name.
pub(crate) struct Args<'a>(pub(crate) &'a [Value]);

impl Args<'_> {
    pub(crate) fn num(&self, at: usize) -> f64 {
        self.0[at].as_f64().unwrap()
    }

    pub(crate) fn whole(&self, at: usize) -> u32 {
        u32::try_from(self.0[at].as_u64().unwrap()).unwrap()
    }

    pub(crate) fn text(&self, at: usize) -> &str {
        self.0[at].as_str().unwrap()
    }

    pub(crate) fn list(&self, at: usize) -> Vec<f64> {
        numbers(&self.0[at])
    }

    pub(crate) fn lists(&self, at: usize) -> Vec<Vec<f64>> {
        self.0[at].as_array().unwrap().iter().map(numbers).collect()
    }

    /// A quantity from its number and a UCUM code.
    pub(crate) fn q<Q: Measured>(&self, at: usize, code: &str) -> Q {
        quantity(self.num(at), code)
    }
}

pub(crate) fn quantity<Q: Measured>(value: f64, code: &str) -> Q {
    let unit = unit(code).unwrap();
    assert_eq!(unit.kind, Q::KIND, "{code} is of another kind");
    Q::from_si(unit.to_si(value))
}

/// A quantity as a number in a unit.
pub(crate) fn shown<Q: Measured>(quantity: Q, code: &str) -> f64 {
    let unit = unit(code).unwrap();
    assert_eq!(unit.kind, Q::KIND, "{code} is of another kind");
    unit.read(quantity)
}

/// One number, or nothing.
pub(crate) fn one(value: impl Into<Option<f64>>) -> Value {
    value.into().map_or(Value::Null, |v| json!([v]))
}

fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect()
}
