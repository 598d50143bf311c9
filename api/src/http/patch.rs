//! A member of a change: absent (leave it), `null` (empty it) or a value (set it).

use serde::{Deserialize, Deserializer};

/// A member of a `PATCH` body that may be emptied. Needs `#[serde(default)]` on the field.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Patch<T> {
    /// The member was not sent: leave what is there.
    #[default]
    Absent,
    /// `null` was sent: empty it.
    Null,
    /// A value was sent: set it.
    Value(T),
}

impl<T> Patch<T> {
    /// What is there afterwards.
    pub fn over(self, before: Option<T>) -> Option<T> {
        match self {
            Self::Absent => before,
            Self::Null => None,
            Self::Value(value) => Some(value),
        }
    }

    /// Checks a value that was sent.
    pub fn try_map<U, E>(self, check: impl FnOnce(T) -> Result<U, E>) -> Result<Patch<U>, E> {
        Ok(match self {
            Self::Absent => Patch::Absent,
            Self::Null => Patch::Null,
            Self::Value(value) => Patch::Value(check(value)?),
        })
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Patch<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Option::<T>::deserialize(deserializer).map(|value| value.map_or(Self::Null, Self::Value))
    }
}

/// For an optional member that is never `null`:
/// `#[serde(default, deserialize_with = "present")] #[schema(nullable = false)]`.
pub fn present<'de, D: Deserializer<'de>, T: Deserialize<'de>>(
    deserializer: D,
) -> Result<Option<T>, D::Error> {
    T::deserialize(deserializer).map(Some)
}

#[cfg(test)]
mod tests {
    use super::{Patch, present};
    use serde::Deserialize;

    #[derive(Debug, Deserialize)]
    struct Change {
        #[serde(default)]
        notes: Patch<String>,
        #[serde(default, deserialize_with = "present")]
        name: Option<String>,
    }

    #[test]
    fn absent_null_and_a_value_are_three_things() {
        let read = |json| serde_json::from_str::<Change>(json);
        assert_eq!(read("{}").expect("empty").notes, Patch::Absent);
        assert_eq!(read(r#"{"notes":null}"#).expect("null").notes, Patch::Null);
        assert_eq!(read(r#"{"notes":"a"}"#).expect("text").notes, Patch::Value("a".to_owned()));
        assert_eq!(read("{}").expect("empty").name, None);
        assert!(read(r#"{"name":null}"#).is_err());
        assert_eq!(Patch::Absent.over(Some(1)), Some(1));
        assert_eq!(Patch::Null.over(Some(1)), None);
        assert_eq!(Patch::Value(2).over(Some(1)), Some(2));
    }
}
