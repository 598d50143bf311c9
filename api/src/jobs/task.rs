//! What can be done, with what it is done to.

use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::entities::jobs::Kind;

/// A job's kind with its payload. Each kind has one handler, in [`carry_out`](super::carry_out).
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "kind")]
pub enum Task {
    /// Mail an account what needs it.
    Digest {
        /// The account.
        account_id: Uuid,
    },
    /// Mail a grower that a sheet is ready.
    SheetReady {
        /// The sheet.
        recommendation_id: Uuid,
        /// The grower.
        grower_id: Uuid,
    },
    /// Mail an account a link that sets its password.
    PasswordLink {
        /// The account.
        account_id: Uuid,
    },
    /// Mail a grower a link that lets him in.
    AccessLink {
        /// The grower.
        grower_id: Uuid,
        /// The account that asked for it.
        made_by: Uuid,
    },
}

impl Task {
    /// Its kind.
    pub fn kind(&self) -> Kind {
        match self {
            Self::Digest { .. } => Kind::Digest,
            Self::SheetReady { .. } => Kind::SheetReady,
            Self::PasswordLink { .. } => Kind::PasswordLink,
            Self::AccessLink { .. } => Kind::AccessLink,
        }
    }

    /// The grower that it is about.
    pub fn grower_id(&self) -> Option<Uuid> {
        match self {
            Self::SheetReady { grower_id, .. } | Self::AccessLink { grower_id, .. } => {
                Some(*grower_id)
            }
            Self::Digest { .. } | Self::PasswordLink { .. } => None,
        }
    }
}
