//! A JSON value with its place in the whole, as something serde can read from.

use serde::de::value::BorrowedStrDeserializer;
use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, SeqAccess, Unexpected, Visitor};
use serde::forward_to_deserialize_any;
use serde_json::{Number, Value};

use super::refusal::Refusal;

/// The way from the root to a value.
#[derive(Debug, Clone, Copy)]
pub(super) enum Path<'a> {
    /// The whole.
    Root,
    /// A member of an object.
    Key(&'a Path<'a>, &'a str),
    /// A row of a list.
    Index(&'a Path<'a>, usize),
}

impl Path<'_> {
    /// The JSON Pointer (RFC 6901).
    pub(super) fn pointer(&self) -> String {
        match self {
            Self::Root => String::new(),
            Self::Key(before, key) => format!("{}/{}", before.pointer(), escaped(key)),
            Self::Index(before, index) => format!("{}/{index}", before.pointer()),
        }
    }
}

/// A key as a part of a JSON Pointer.
pub(super) fn escaped(key: &str) -> String {
    key.replace('~', "~0").replace('/', "~1")
}

/// A value at its place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Node<'de, 'p> {
    value: &'de Value,
    path: &'p Path<'p>,
    /// In a query string a number is written as text.
    is_query: bool,
}

impl<'de, 'p> Node<'de, 'p> {
    /// A value of a JSON body.
    pub(super) fn json(value: &'de Value, path: &'p Path<'p>) -> Self {
        Self { value, path, is_query: false }
    }

    /// An object of texts made from a query string.
    pub(super) fn query(value: &'de Value, path: &'p Path<'p>) -> Self {
        Self { value, path, is_query: true }
    }

    fn unexpected(&self) -> Unexpected<'de> {
        match self.value {
            Value::Null => Unexpected::Other("null"),
            Value::Bool(value) => Unexpected::Bool(*value),
            Value::Number(number) => number
                .as_u64()
                .map(Unexpected::Unsigned)
                .or_else(|| number.as_i64().map(Unexpected::Signed))
                .or_else(|| number.as_f64().map(Unexpected::Float))
                .unwrap_or(Unexpected::Other("number")),
            Value::String(text) => Unexpected::Str(text),
            Value::Array(_) => Unexpected::Other("list"),
            Value::Object(_) => Unexpected::Other("object"),
        }
    }

    fn refuse<T>(&self, visitor: &impl Visitor<'de>) -> Result<T, Refusal> {
        Err(Refusal::invalid_type(self.unexpected(), visitor).at(self.path))
    }

    /// A number; in a query string it is parsed from the text.
    fn number<V: Visitor<'de>>(self, visitor: V, whole: bool) -> Result<V::Value, Refusal> {
        let parsed;
        let number = match self.value {
            Value::Number(number) => number,
            Value::String(text) if self.is_query => match text.parse::<Number>() {
                Ok(number) => {
                    parsed = number;
                    &parsed
                }
                Err(_) => return self.refuse(&visitor),
            },
            _ => return self.refuse(&visitor),
        };
        let visited = if let Some(value) = number.as_u64() {
            visitor.visit_u64(value)
        } else if let Some(value) = number.as_i64() {
            visitor.visit_i64(value)
        } else {
            match number.as_f64() {
                Some(value) if whole => match whole_number(value) {
                    Some(value) => visitor.visit_i64(value),
                    None => visitor.visit_f64(value),
                },
                Some(value) => visitor.visit_f64(value),
                None => return self.refuse(&visitor),
            }
        };
        visited.map_err(|refusal: Refusal| refusal.at(self.path))
    }

    fn object<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        let Value::Object(members) = self.value else { return self.refuse(&visitor) };
        let access = Members { node: self, rest: members.iter(), value: None };
        visitor.visit_map(access).map_err(|refusal| refusal.at(self.path))
    }

    fn list<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        let Value::Array(rows) = self.value else { return self.refuse(&visitor) };
        let access = Rows { node: self, rest: rows.iter().enumerate() };
        visitor.visit_seq(access).map_err(|refusal| refusal.at(self.path))
    }
}

/// `2.0` as 2. A number so large that it is not exact is left as it is.
fn whole_number(value: f64) -> Option<i64> {
    const EXACT: f64 = 9_007_199_254_740_992.0; // 2^53
    (value.fract().abs() < f64::MIN_POSITIVE && value.abs() <= EXACT)
        .then(|| format!("{value:.0}").parse().ok())
        .flatten()
}

macro_rules! numbers {
    ($($method:ident $whole:literal)*) => {$(
        fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
            self.number(visitor, $whole)
        }
    )*};
}

impl<'de> Deserializer<'de> for Node<'de, '_> {
    type Error = Refusal;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self.value {
            Value::Null => visitor.visit_unit().map_err(|refusal: Refusal| refusal.at(self.path)),
            Value::Bool(value) => {
                visitor.visit_bool(*value).map_err(|refusal: Refusal| refusal.at(self.path))
            }
            Value::Number(_) => self.number(visitor, false),
            Value::String(text) => {
                let visited = visitor.visit_borrowed_str(text);
                visited.map_err(|refusal: Refusal| refusal.at(self.path).given(text))
            }
            Value::Array(_) => self.list(visitor),
            Value::Object(_) => self.object(visitor),
        }
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self.value {
            Value::String(text) if self.is_query => match text.parse() {
                Ok(value) => visitor.visit_bool(value),
                Err(_) => self.refuse(&visitor),
            },
            _ => self.deserialize_any(visitor),
        }
    }

    numbers! {
        deserialize_i8 true deserialize_i16 true deserialize_i32 true deserialize_i64 true
        deserialize_u8 true deserialize_u16 true deserialize_u32 true deserialize_u64 true
        deserialize_f32 false deserialize_f64 false
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self.value {
            Value::Null => visitor.visit_none(),
            _ => visitor.visit_some(self),
        }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        visitor.visit_newtype_struct(self).map_err(|refusal| refusal.at(self.path))
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        self.list(visitor)
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        self.object(visitor)
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        _fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        self.object(visitor)
    }

    /// A word of a list of words.
    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _name: &'static str,
        _variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        let Value::String(text) = self.value else { return self.refuse(&visitor) };
        visitor
            .visit_enum(BorrowedStrDeserializer::<Refusal>::new(text))
            .map_err(|refusal| refusal.at(self.path))
    }

    forward_to_deserialize_any! {
        i128 u128 char str string bytes byte_buf unit unit_struct tuple tuple_struct identifier
        ignored_any
    }
}

struct Members<'de, 'p> {
    node: Node<'de, 'p>,
    rest: serde_json::map::Iter<'de>,
    value: Option<(&'de str, &'de Value)>,
}

impl<'de> MapAccess<'de> for Members<'de, '_> {
    type Error = Refusal;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Refusal> {
        let Some((key, value)) = self.rest.next() else { return Ok(None) };
        self.value = Some((key, value));
        seed.deserialize(BorrowedStrDeserializer::new(key)).map(Some)
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Refusal> {
        let Some((key, value)) = self.value.take() else {
            return Err(Refusal::custom("a value was asked for before its key"));
        };
        let path = Path::Key(self.node.path, key);
        let node = Node { value, path: &path, is_query: self.node.is_query };
        seed.deserialize(node).map_err(|refusal| refusal.at(&path))
    }
}

struct Rows<'de, 'p> {
    node: Node<'de, 'p>,
    rest: std::iter::Enumerate<std::slice::Iter<'de, Value>>,
}

impl<'de> SeqAccess<'de> for Rows<'de, '_> {
    type Error = Refusal;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Refusal> {
        let Some((index, value)) = self.rest.next() else { return Ok(None) };
        let path = Path::Index(self.node.path, index);
        let node = Node { value, path: &path, is_query: self.node.is_query };
        seed.deserialize(node).map(Some).map_err(|refusal| refusal.at(&path))
    }
}
