//! What the next run need not fetch again.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};

use crate::exchange::intake::Kind;

/// What is kept from one run that was applied to the next.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Remembered {
    /// The resources of which all records were taken. Where one was refused or waits for a person, all are
    /// fetched and judged again.
    #[serde(default)]
    pub resources: Vec<KnownResource>,
}

/// A resource.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KnownResource {
    /// What its records are.
    pub kind: Kind,
    /// When the run began in which it was fetched.
    pub began_at: DateTime<Utc>,
    /// Its pages, in their order; none where they have no versions.
    #[serde(default)]
    pub pages: Vec<KnownPage>,
}

/// A page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KnownPage {
    /// Its address.
    pub url: String,
    /// Its version.
    pub etag: String,
}

impl Remembered {
    /// The resource of a kind.
    pub fn of(&self, kind: Kind) -> Option<&KnownResource> {
        self.resources.iter().find(|resource| resource.kind == kind)
    }
}
