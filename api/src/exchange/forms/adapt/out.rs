//! Writes a data set piece by piece: members of the root, lists in them, objects in those.

use serde_json::Value;

use crate::http::ApiError;

/// JSON that is being written.
#[derive(Debug, Default)]
pub(super) struct Out {
    bytes: Vec<u8>,
    list: Option<&'static str>,
    /// Whether a list stands in the present member already.
    lists: bool,
}

impl Out {
    /// What was written since it was last taken.
    pub(super) fn take(&mut self) -> Vec<u8> {
        std::mem::take(&mut self.bytes)
    }

    /// Plain text, between members.
    pub(super) fn raw(&mut self, text: &str) {
        self.bytes.extend_from_slice(text.as_bytes());
    }

    /// Opens a member of the root that holds lists.
    pub(super) fn open(&mut self, name: &str) {
        self.raw(&format!("\"{name}\":{{"));
        self.lists = false;
    }

    /// Closes it.
    pub(super) fn close(&mut self) {
        self.end_list();
        self.raw("}");
    }

    /// Puts an object into a list of the member; the list begins with its first object, so that none is
    /// empty.
    pub(super) fn put(&mut self, list: &'static str, object: &Value) -> Result<(), ApiError> {
        if self.list == Some(list) {
            self.raw(",");
        } else {
            self.end_list();
            if self.lists {
                self.raw(",");
            }
            self.raw(&format!("\"{list}\":["));
            (self.list, self.lists) = (Some(list), true);
        }
        serde_json::to_writer(&mut self.bytes, object).map_err(ApiError::internal)
    }

    fn end_list(&mut self) {
        if self.list.take().is_some() {
            self.raw("]");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Out;
    use serde_json::{Value, json};

    #[test]
    fn lists_are_closed_and_none_is_empty() {
        let mut out = Out::default();
        out.raw("{");
        out.open("documents");
        out.close();
        out.raw(",");
        out.open("catalog");
        for (list, number) in [("farms", 1), ("farms", 2), ("fields", 3)] {
            out.put(list, &json!(number)).expect("JSON");
        }
        out.close();
        out.raw("}");
        let read: Value = serde_json::from_slice(&out.take()).expect("JSON");
        assert_eq!(read, json!({"documents": {}, "catalog": {"farms": [1, 2], "fields": [3]}}));
    }
}
