//! Bytes into JSON, with an end to everything: what only means harm, or says two things at once, is
//! refused with its place before any type is read from it.

use std::cell::RefCell;
use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Number, Value};

use super::node::Path;
use crate::http::error::ApiError;
use crate::http::member::BadMember;
use crate::http::problem::ProblemCode;

/// How deep lists and objects may stand in each other. What the API takes is not half as deep.
pub const DEEPEST: usize = 32;
/// Most rows of one list, or members of one object. Each list has its own, lower, bound as well.
pub const LONGEST_LIST: usize = 10_000;
/// Most characters of one text. Each text has its own, lower, bound as well.
pub const LONGEST_TEXT: usize = 100_000;
/// Most values in all: what is read takes many times the room of what was sent.
pub const MOST_VALUES: usize = 100_000;

/// Reads JSON.
///
/// # Errors
/// 400 for what is no JSON, 422 with the place for what is beyond a bound or given twice.
pub fn parse(bytes: &[u8]) -> Result<Value, ApiError> {
    parse_up_to(bytes, MOST_VALUES)
}

/// The same with another bound for the number of values: for files, which are as long as they are.
///
/// # Errors
/// 400 for what is no JSON, 422 with the place for what is beyond a bound or given twice.
pub fn parse_up_to(bytes: &[u8], most_values: usize) -> Result<Value, ApiError> {
    let limits = Limits { most_values, ..Limits::default() };
    let mut reader = serde_json::Deserializer::from_slice(bytes);
    let seed = Place { limits: &limits, path: &Path::Root, depth: 0 };
    let read = seed.deserialize(&mut reader).and_then(|value| reader.end().map(|()| value));
    let refused = limits.refused.into_inner();
    read.map_err(|error| match refused {
        Some(member) => member.into(),
        None => {
            ApiError::new(ProblemCode::MalformedJson, format!("The body can't be read: {error}."))
        }
    })
}

/// What was used up, and the first thing that was refused.
#[derive(Debug, Default)]
struct Limits {
    most_values: usize,
    values: RefCell<usize>,
    refused: RefCell<Option<BadMember>>,
}

/// A value to be read, at its place.
#[derive(Debug, Clone, Copy)]
struct Place<'a> {
    limits: &'a Limits,
    path: &'a Path<'a>,
    depth: usize,
}

impl Place<'_> {
    /// Notes why, and gives an error to unwind with.
    fn refuse<E: Error>(&self, member: BadMember) -> E {
        self.limits.refused.borrow_mut().get_or_insert(member);
        E::custom("refused")
    }

    fn here(&self, detail: &str, allowed: String) -> BadMember {
        BadMember::new(self.path.pointer(), detail).allowed(allowed)
    }

    fn count<E: Error>(&self) -> Result<(), E> {
        let mut values = self.limits.values.borrow_mut();
        *values += 1;
        let most = self.limits.most_values;
        if *values <= most {
            return Ok(());
        }
        let allowed = format!("at most {most} values in a body");
        Err(self.refuse(self.here("The body holds too many values.", allowed)))
    }

    /// One level further in.
    fn enter<E: Error>(&self) -> Result<usize, E> {
        if self.depth < DEEPEST {
            return Ok(self.depth + 1);
        }
        let allowed = format!("at most {DEEPEST} levels");
        Err(self.refuse(self.here("Lists and objects stand too deep in each other.", allowed)))
    }

    fn check_length<E: Error>(&self, length: usize) -> Result<(), E> {
        if length < LONGEST_LIST {
            return Ok(());
        }
        let allowed = format!("at most {LONGEST_LIST} entries");
        Err(self.refuse(self.here("There are too many entries.", allowed)))
    }

    fn check_text<E: Error>(&self, text: &str) -> Result<(), E> {
        if text.len() <= LONGEST_TEXT || text.chars().nth(LONGEST_TEXT).is_none() {
            return Ok(());
        }
        let allowed = format!("at most {LONGEST_TEXT} characters");
        Err(self.refuse(self.here("The text is too long.", allowed)))
    }

    /// The reader knows a number that is too large for any float; only we know where it stands.
    fn name_number(&self, error: &impl fmt::Display) {
        if error.to_string().starts_with("number out of range") {
            let member = self.here("The number is too large.", "a number below 1.8e308".to_owned());
            self.limits.refused.borrow_mut().get_or_insert(member);
        }
    }
}

impl<'de> DeserializeSeed<'de> for Place<'_> {
    type Value = Value;

    fn deserialize<D: Deserializer<'de>>(self, reader: D) -> Result<Value, D::Error> {
        self.count()?;
        reader.deserialize_any(self).inspect_err(|error| self.name_number(error))
    }
}

impl<'de> Visitor<'de> for Place<'_> {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("any JSON value")
    }

    fn visit_unit<E: Error>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_bool<E: Error>(self, value: bool) -> Result<Value, E> {
        Ok(Value::Bool(value))
    }

    fn visit_u64<E: Error>(self, value: u64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_i64<E: Error>(self, value: i64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_f64<E: Error>(self, value: f64) -> Result<Value, E> {
        Ok(Number::from_f64(value).map_or(Value::Null, Value::Number))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Value, E> {
        self.check_text(text)?;
        Ok(Value::String(text.to_owned()))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut rows: A) -> Result<Value, A::Error> {
        let depth = self.enter()?;
        let mut list = Vec::new();
        loop {
            let path = Path::Index(self.path, list.len());
            let place = Place { limits: self.limits, path: &path, depth };
            let Some(value) = rows.next_element_seed(place)? else { return Ok(list.into()) };
            self.check_length(list.len())?;
            list.push(value);
        }
    }

    fn visit_map<A: MapAccess<'de>>(self, mut members: A) -> Result<Value, A::Error> {
        let depth = self.enter()?;
        let mut object = Map::new();
        while let Some(key) = members.next_key::<String>()? {
            let path = Path::Key(self.path, &key);
            let place = Place { limits: self.limits, path: &path, depth };
            place.check_text(&key)?;
            if object.contains_key(&key) {
                let allowed = "each member once".to_owned();
                return Err(self.refuse(place.here("This member is given twice.", allowed)));
            }
            let value = members.next_value_seed(place)?;
            self.check_length(object.len())?;
            object.insert(key, value);
        }
        Ok(object.into())
    }
}

#[cfg(test)]
mod tests {
    use super::{DEEPEST, LONGEST_LIST, LONGEST_TEXT, MOST_VALUES, parse};
    use crate::http::ProblemCode;
    use proptest::prelude::*;
    use serde_json::{Value, json};

    fn refused(text: &str) -> String {
        let error = parse(text.as_bytes()).expect_err("refused");
        assert_eq!(error.code(), ProblemCode::InvalidRequest, "{error}");
        assert_eq!(error.members().len(), 1);
        error.members()[0].pointer.clone()
    }

    fn nested(levels: usize) -> String {
        "[".repeat(levels) + &"]".repeat(levels)
    }

    #[test]
    fn what_is_in_bounds_is_read_as_it_stands() {
        let text = r#"{"a": [1, -2, 2.5, null, true, "\u00e9 x"], "b": {"a": {}}}"#;
        let whole = json!({"a": [1, -2, 2.5, null, true, "é x"], "b": {"a": {}}});
        assert_eq!(parse(text.as_bytes()).expect("valid"), whole);
        assert!(parse(nested(DEEPEST).as_bytes()).is_ok());
        assert!(parse(format!("[{}0]", "0,".repeat(LONGEST_LIST - 1)).as_bytes()).is_ok());
        assert!(parse(format!("\"{}\"", "é".repeat(LONGEST_TEXT)).as_bytes()).is_ok());
    }

    #[test]
    fn what_is_beyond_a_bound_is_refused_at_its_place() {
        assert_eq!(refused(&nested(DEEPEST + 1)), "/0".repeat(DEEPEST));
        assert_eq!(
            refused(&format!("{{\"a\":{}}}", nested(500_000))),
            "/a".to_owned() + &"/0".repeat(DEEPEST - 1)
        );
        assert_eq!(refused(&format!("{{\"a\":[{}0]}}", "0,".repeat(LONGEST_LIST))), "/a");
        assert_eq!(refused(&format!("[\"{}\"]", "é".repeat(LONGEST_TEXT + 1))), "/0");
        let wide = format!("[{}0]", "0,".repeat(9_999));
        let many = format!("[{}0]", format!("{wide},").repeat(MOST_VALUES / 10_000));
        assert!(refused(&many).starts_with("/9/"));
        let members: Vec<String> = (0..=LONGEST_LIST).map(|n| format!("\"{n}\":0")).collect();
        assert_eq!(refused(&format!("{{{}}}", members.join(","))), "");
    }

    #[test]
    fn a_member_given_twice_is_refused_wherever_it_stands() {
        assert_eq!(refused(r#"{"a": 1, "a": 1}"#), "/a");
        assert_eq!(refused(r#"{"a": [{"b/c": 1, "d": 2, "b\u002fc": 3}]}"#), "/a/0/b~1c");
    }

    #[test]
    fn a_number_beyond_any_float_is_refused_at_its_place() {
        assert_eq!(refused(r#"{"a": [1, 1e999]}"#), "/a/1");
        assert_eq!(refused(&format!("[{}]", "9".repeat(100_000))), "/0");
        assert!(parse(b"[1e308, 18446744073709551616, 1e-999]").is_ok());
    }

    #[test]
    fn what_is_no_json_is_another_matter() {
        for text in ["", "{", "[1,]", "{\"a\":1,}", "nul", "NaN", "[] x", "\"\\ud800\"", "{1:2}"] {
            let error = parse(text.as_bytes()).expect_err(text);
            assert_eq!(error.code(), ProblemCode::MalformedJson, "{text}");
        }
        assert!(parse(&[b'"', 0xff, b'"']).is_err());
    }

    fn any_json() -> impl Strategy<Value = Value> {
        let leaf = prop_oneof![
            Just(Value::Null),
            any::<bool>().prop_map(Value::from),
            any::<i64>().prop_map(Value::from),
            any::<f64>().prop_map(Value::from),
            ".{0,12}".prop_map(Value::from),
        ];
        leaf.prop_recursive(5, 60, 6, |inner| {
            prop_oneof![
                prop::collection::vec(inner.clone(), 0..6).prop_map(Value::from),
                prop::collection::hash_map(".{0,6}", inner, 0..6)
                    .prop_map(|all| Value::Object(all.into_iter().collect())),
            ]
        })
    }

    proptest! {
        #[test]
        fn it_reads_what_the_library_reads(value in any_json()) {
            let text = value.to_string();
            let ours = parse(text.as_bytes()).expect("in bounds");
            let theirs: Value = serde_json::from_str(&text).expect("JSON");
            prop_assert_eq!(ours, theirs);
        }

        #[test]
        fn no_bytes_make_it_panic(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
            let theirs = serde_json::from_slice::<Value>(&bytes).is_ok();
            prop_assert!(parse(&bytes).is_err() || theirs);
        }
    }
}
