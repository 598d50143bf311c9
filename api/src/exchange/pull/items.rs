//! JSONPath (RFC 9535): where the records stand in a page.

use std::fmt;

use serde_json::Value;
use serde_json_path::JsonPath;

/// Longest path, in characters.
pub const LONGEST: usize = 200;

/// A path to the records of a page.
#[derive(Clone)]
pub struct Items {
    text: String,
    path: JsonPath,
}

impl Items {
    /// Reads a path. Steps are named one by one: `..` looks at all there is, and `$` inside a filter does so again
    /// for each record, which takes longer than a page is worth.
    ///
    /// # Errors
    /// In words, when it is none, or one that takes too long.
    pub fn parse(text: &str) -> Result<Self, String> {
        if text.chars().count() > LONGEST {
            return Err("The path is too long.".to_owned());
        }
        let bare = outside_quotes(text);
        if bare.contains("..") {
            return Err("Name each step of the path; `..` is not taken.".to_owned());
        }
        if bare.chars().skip(1).any(|letter| letter == '$') {
            return Err("A filter looks at the record, `@`, and not at the page, `$`.".to_owned());
        }
        let path =
            JsonPath::parse(text).map_err(|error| format!("This is no JSONPath: {error}."))?;
        Ok(Self { text: text.to_owned(), path })
    }

    /// As it was written.
    pub fn as_str(&self) -> &str {
        &self.text
    }

    /// The records of a page, each with its place as a JSON Pointer.
    pub fn of<'a>(&self, page: &'a Value) -> Vec<(String, &'a Value)> {
        let found = self.path.query_located(page);
        found.iter().map(|it| (it.location().to_json_pointer(), it.node())).collect()
    }
}

impl fmt::Debug for Items {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

/// The text without what stands in quotes, where any letter may stand.
fn outside_quotes(text: &str) -> String {
    let mut bare = String::new();
    let mut inside: Option<char> = None;
    let mut letters = text.chars();
    while let Some(letter) = letters.next() {
        match inside {
            Some(_) if letter == '\\' => {
                letters.next();
            }
            Some(quote) if letter == quote => inside = None,
            Some(_) => {}
            None if matches!(letter, '"' | '\'') => inside = Some(letter),
            None => bare.push(letter),
        }
    }
    bare
}

#[cfg(test)]
mod tests {
    use super::Items;
    use serde_json::{Value, json};

    fn found(path: &str, page: &Value) -> Vec<String> {
        let items = Items::parse(path).expect(path);
        items.of(page).into_iter().map(|(place, _)| place).collect()
    }

    /// RFC 9535, section 1.5, of the bookstore, less what looks at all there is.
    #[test]
    fn the_examples_of_the_standard_are_followed() {
        let page = json!({"store": {
            "book": [
                {"category": "reference", "author": "A", "title": "One", "price": 8.95},
                {"category": "fiction", "author": "B", "title": "Two", "price": 12.99},
                {"category": "fiction", "author": "C", "title": "Three", "isbn": "1", "price": 8.99},
                {"category": "fiction", "author": "D", "title": "Four", "isbn": "2", "price": 22.99}
            ],
            "bicycle": {"color": "red", "price": 399}
        }});
        let books = |numbers: &[u8]| -> Vec<String> {
            numbers.iter().map(|number| format!("/store/book/{number}")).collect()
        };
        assert_eq!(found("$.store.book[*]", &page), books(&[0, 1, 2, 3]));
        assert_eq!(found("$.store.book[2]", &page), books(&[2]));
        assert_eq!(found("$['store']['book'][-1]", &page), books(&[3]));
        assert_eq!(found("$.store.book[0,1]", &page), books(&[0, 1]));
        assert_eq!(found("$.store.book[:2]", &page), books(&[0, 1]));
        assert_eq!(found("$.store.book[?@.isbn]", &page), books(&[2, 3]));
        assert_eq!(found("$.store.book[?@.price<10]", &page), books(&[0, 2]));
        assert_eq!(found("$.store.book[?@.category=='fiction' && @.price<10]", &page), books(&[2]));
        assert_eq!(found("$.store.nothing[*]", &page), books(&[]));
    }

    #[test]
    fn a_name_may_hold_anything() {
        let page = json!({"a..$'b": [1], "c": [{"d": "$..", "e": 1}]});
        assert_eq!(found(r#"$["a..$'b"][*]"#, &page), ["/a..$'b/0"]);
        assert_eq!(found("$.c[?@.d=='$..']", &page), ["/c/0"]);
    }

    #[test]
    fn what_is_no_path_or_takes_too_long_is_refused() {
        for text in [
            "",
            "data",
            "$.",
            "$.a[",
            "$..a",
            "$..*",
            "$.a[?@..b]",
            "$.a[?@.b == $.c]",
            " $.a",
            &format!("${}", ".a".repeat(100)),
        ] {
            assert!(Items::parse(text).is_err(), "{text}");
        }
    }
}
