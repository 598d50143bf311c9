//! What is to be known about a dig beside what it says.

use domain::dig::Notice;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;
use uuid::Uuid;

use crate::v1::dig_checks::words::DigNoticeCode;

/// Something to be known about a dig: that it came early, late or twice, and what follows from that.
/// It says what held when the dig came in, and is never changed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[schema(examples(json!({
    "code": "revision_replaced",
    "words": "A later revision took the place of this one before the dig came in.",
    "recommendation_id": "01964f1e-6a00-7000-8000-000000000032"
})))]
pub struct DigNotice {
    /// What it is, for programs.
    pub code: DigNoticeCode,
    /// The same for people.
    #[schema(example = "A later revision took the place of this one before the dig came in.")]
    pub words: String,
    /// With `revision_replaced`: the revision that counts. With `dug_before_issue` and
    /// `settings_not_reported`: the revision that counted when it was dug, if there was one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub recommendation_id: Option<Uuid>,
    /// With `same_readings` and `resembles_another`: the other dig check.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub dig_check_id: Option<Uuid>,
}

impl DigNotice {
    /// One that names nothing else.
    pub(in crate::v1::dig_checks) fn plain(notice: Notice) -> Self {
        let Notice { code, words } = notice;
        let words = words.into_owned();
        Self { code: code.into(), words, recommendation_id: None, dig_check_id: None }
    }

    /// One that names a revision.
    pub(in crate::v1::dig_checks) fn about_sheet(notice: Notice, id: Option<Uuid>) -> Self {
        Self { recommendation_id: id, ..Self::plain(notice) }
    }

    /// One that names another dig check.
    pub(in crate::v1::dig_checks) fn about_dig(notice: Notice, id: Uuid) -> Self {
        Self { dig_check_id: Some(id), ..Self::plain(notice) }
    }
}
