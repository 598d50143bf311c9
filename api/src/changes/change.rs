//! A change.

use std::fmt::Display;

use chrono::{DateTime, Utc};
use uuid::Uuid;

use super::types::ChangeType;
use crate::entities::changes::Model;
use crate::http::ApiError;

/// Something that is another now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// What kind of change.
    pub change_type: ChangeType,
    /// Id of the object, or its name where it has no id.
    pub object_id: String,
    /// The grower whose object it is; `None` of what is the practice's.
    pub grower_id: Option<Uuid>,
    /// The version of the object after the change, where it has one.
    pub version: Option<i32>,
}

impl Change {
    /// An object of the practice.
    pub fn new(change_type: ChangeType, object_id: impl Display) -> Self {
        let object_id = object_id.to_string();
        Self { change_type, object_id, grower_id: None, version: None }
    }

    /// It is of this grower.
    #[must_use]
    pub fn of_grower(mut self, grower_id: Option<Uuid>) -> Self {
        self.grower_id = grower_id;
        self
    }

    /// It has this version now.
    #[must_use]
    pub fn in_version(mut self, version: i32) -> Self {
        self.version = Some(version);
        self
    }

    /// The path where the object is read; `None` when it is gone or read in a list only.
    pub fn href(&self) -> Option<String> {
        self.change_type.path().map(|path| path.replace("{id}", &self.object_id))
    }
}

/// A change that is committed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Recorded {
    /// Its place among the changes of the practice; the first is 1.
    pub position: i64,
    /// When it was made.
    pub at: DateTime<Utc>,
    /// The change.
    pub change: Change,
}

impl TryFrom<Model> for Recorded {
    type Error = ApiError;

    fn try_from(row: Model) -> Result<Self, ApiError> {
        let Model {
            practice_id: _,
            position,
            at,
            change_type,
            object_kind: _,
            object_id,
            grower_id,
            version,
        } = row;
        let unknown = || ApiError::internal(format!("no change is called {change_type}"));
        let change_type = ChangeType::named(&change_type).ok_or_else(unknown)?;
        Ok(Self { position, at, change: Change { change_type, object_id, grower_id, version } })
    }
}
