//! What digs taught about the soils of a season.

use domain::season::report::LearnedClass;
use serde::Serialize;
use utoipa::ToSchema;

use super::SubjectNamed;
use crate::v1::learned::Factor;
use crate::v1::planters::resistance::dto::{PooledCover, PooledSoil};

/// What digs taught about a soil under a cover.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "soil": "medium", "cover": "living", "soil_and_cover": "medium soil under living cover",
    "digs": 37, "before": {"low": 0.62, "middle": 1, "high": 1.61},
    "after": {"low": 0.91, "middle": 1.18, "high": 1.53}
})))]
pub struct SeasonLearned {
    /// The planter, in the report of a planter.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub planter: Option<SubjectNamed>,
    /// The soil.
    pub soil: PooledSoil,
    /// The cover.
    pub cover: PooledCover,
    /// Both in words.
    #[schema(example = "medium soil under living cover")]
    pub soil_and_cover: String,
    /// Digs behind it, of all seasons: of the planter, or of the whole practice.
    #[schema(example = 37)]
    pub digs: u32,
    /// The factor on the resistance that the conditions let expect, without a single dig.
    pub before: Factor,
    /// The same with all digs, for the next field of that soil and cover.
    pub after: Factor,
}

impl From<LearnedClass> for SeasonLearned {
    fn from(it: LearnedClass) -> Self {
        let LearnedClass { planter, class, digs, before, after } = it;
        Self {
            planter: planter.map(Into::into),
            soil: class.soil.into(),
            cover: class.cover.into(),
            soil_and_cover: class.words(),
            digs,
            before: before.into(),
            after: after.into(),
        }
    }
}
