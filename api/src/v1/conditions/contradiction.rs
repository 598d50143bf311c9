//! Readings that cannot all be true, on the wire.

use domain::conditions;
use serde::Serialize;
use utoipa::ToSchema;

use super::words::ContradictionCode;
use crate::v1::trace::Mark;

/// Readings of a conditions report that cannot all be true. The safer one counts.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "code": "wet_yet_crumbles",
    "members": ["/moisture", "/ball"],
    "what": "the soil is wet or full of water by feel, yet a ball of it crumbles",
    "used": "the feel counts, the ball does not; squeeze soil from seed depth at three places",
    "mark": "proposal",
    "mark_words": "this project's own choice",
    "source": "this project's own choice"
})))]
pub struct Contradiction {
    /// Its name, for programs.
    pub code: ContradictionCode,
    /// The members, as JSON Pointers into the observations.
    #[schema(max_items = 10, example = json!(["/moisture", "/ball"]))]
    pub members: Vec<String>,
    /// What contradicts what.
    #[schema(example = "the soil is wet or full of water by feel, yet a ball of it crumbles")]
    pub what: String,
    /// The reading that is used, and what to look at again.
    #[schema(example = "the feel counts, the ball does not")]
    pub used: String,
    /// How the rule is known.
    pub mark: Mark,
    /// The mark in words.
    #[schema(example = "this project's own choice")]
    pub mark_words: String,
    /// Where it stands.
    #[schema(example = "this project's own choice")]
    pub source: String,
}

impl From<conditions::Contradiction> for Contradiction {
    fn from(found: conditions::Contradiction) -> Self {
        let conditions::Contradiction { clash, members, what, used, mark, source } = found;
        Self {
            code: clash.into(),
            members: members.into_iter().map(std::borrow::Cow::into_owned).collect(),
            what: what.into_owned(),
            used: used.into_owned(),
            mark: mark.into(),
            mark_words: mark.words().to_owned(),
            source: source.into_owned(),
        }
    }
}

/// Contradictions, in order.
pub fn contradictions(found: Vec<conditions::Contradiction>) -> Vec<Contradiction> {
    found.into_iter().map(Contradiction::from).collect()
}
