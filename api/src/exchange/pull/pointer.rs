//! JSON Pointer (RFC 6901): where one value stands in a record.

use serde_json::Value;

/// Longest pointer, in characters.
pub const LONGEST: usize = 200;

/// A pointer that can be followed; `""` is the whole record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pointer(String);

impl Pointer {
    /// Reads a pointer.
    ///
    /// # Errors
    /// In words, when it is none.
    pub fn parse(text: &str) -> Result<Self, &'static str> {
        if text.chars().count() > LONGEST {
            return Err("The pointer is too long.");
        }
        if text.chars().any(char::is_control) {
            return Err("The pointer holds a control character.");
        }
        if !text.is_empty() && !text.starts_with('/') {
            return Err("A JSON Pointer begins with a slash, as /owner/id.");
        }
        let lone = |rest: &str| !rest.starts_with(['0', '1']);
        if text.split('~').skip(1).any(lone) {
            return Err("In a JSON Pointer ~ is written ~0, and / inside a name ~1.");
        }
        Ok(Self(text.to_owned()))
    }

    /// As it was written.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// What stands there; `null` is nothing.
    pub fn find<'a>(&self, record: &'a Value) -> Option<&'a Value> {
        record.pointer(&self.0).filter(|value| !value.is_null())
    }
}

#[cfg(test)]
mod tests {
    use super::Pointer;
    use serde_json::{Value, json};

    /// RFC 6901, section 5.
    #[test]
    fn the_examples_of_the_standard_are_followed() {
        let document = json!({
            "foo": ["bar", "baz"], "": 0, "a/b": 1, "c%d": 2, "e^f": 3, "g|h": 4, "i\\j": 5, "k\"l": 6,
            " ": 7, "m~n": 8
        });
        let expected: [(&str, Value); 12] = [
            ("", document.clone()),
            ("/foo", json!(["bar", "baz"])),
            ("/foo/0", json!("bar")),
            ("/", json!(0)),
            ("/a~1b", json!(1)),
            ("/c%d", json!(2)),
            ("/e^f", json!(3)),
            ("/g|h", json!(4)),
            ("/i\\j", json!(5)),
            ("/k\"l", json!(6)),
            ("/ ", json!(7)),
            ("/m~0n", json!(8)),
        ];
        for (text, value) in expected {
            let pointer = Pointer::parse(text).expect(text);
            assert_eq!(pointer.find(&document), Some(&value), "{text}");
        }
    }

    #[test]
    fn what_is_no_pointer_is_refused() {
        for text in ["a", "#/a", "a/b", "/a~", "/a~2b", "/~01~", "/a\n", &"/a".repeat(101)] {
            assert!(Pointer::parse(text).is_err(), "{text}");
        }
        assert_eq!(Pointer::parse("/a").expect("good").find(&json!({"a": null})), None);
        assert_eq!(Pointer::parse("/a/01").expect("good").find(&json!({"a": [1, 2]})), None);
    }
}
