//! What is to be known about a stand count beside what it says.

use chrono::NaiveDate;
use domain::quantity::Area;
use domain::stand::{
    CountMethod, CountsWanted, EmergenceState, Forecast, StandFound, StandUnits, counts_wanted,
};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use domain::conditions::Crop;

/// Plants above this share of the seeds are a sign of a wrong figure, not of double seed.
const MORE_THAN_SEEDS: f64 = 105.0;

/// What is to be known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum StandNoticeCode {
    /// One count: nobody knows how sure it is.
    OneCount,
    /// All counts are of one place.
    OnePlace,
    /// Fewer counts than are published for such a field.
    FewCounts,
    /// By the temperatures it had hardly begun to come up.
    BeforeEmergence,
    /// Sooner than two weeks after emergence.
    BeforeWindow,
    /// Later than three weeks after emergence.
    AfterWindow,
    /// More plants than seeds: the rate, the row width or the count is wrong.
    MoreThanSeeds,
    /// Plants were late, and nobody said how late.
    HowLateUnknown,
    /// Nobody said how many seeds were planted.
    SeedsUnknown,
}

/// Something to be known about a stand count.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[schema(examples(json!({
    "code": "few_counts",
    "words": "3 counts; published: 5 counts in 16 to 30 ac (North Carolina State University. Corn stand counts, n.d.)."
})))]
pub struct StandNotice {
    /// What it is.
    pub code: StandNoticeCode,
    /// It in words.
    #[schema(example = "All counts are of one place: they say nothing of the rest of the field.")]
    pub words: String,
}

/// A count with what it is held against.
#[derive(Debug, Clone, Copy)]
pub(super) struct About<'a> {
    pub found: &'a StandFound,
    pub crop: Crop,
    pub method: CountMethod,
    pub counts: usize,
    pub late_by: Option<f64>,
    pub area: Option<Area>,
    pub counted_on: NaiveDate,
    pub forecast: &'a Forecast,
}

/// All that is to be known.
pub(super) fn of(about: &About<'_>) -> Vec<StandNotice> {
    let parts = [one(about), few(about), when(about), seeds(about), late(about)];
    parts.into_iter().flatten().collect()
}

fn notice(code: StandNoticeCode, words: impl Into<String>) -> StandNotice {
    StandNotice { code, words: words.into() }
}

fn one(about: &About<'_>) -> Option<StandNotice> {
    if about.counts == 1 {
        let words = "One count: nobody knows how sure it is. Count at several places.";
        return Some(notice(StandNoticeCode::OneCount, words));
    }
    (about.found.population.units == StandUnits::Counts).then(|| {
        let words = "All counts are of one place: they say nothing of the rest of the field.";
        notice(StandNoticeCode::OnePlace, words)
    })
}

fn few(about: &About<'_>) -> Option<StandNotice> {
    let wanted = counts_wanted(about.crop, about.method, about.area);
    let enough = |it: &CountsWanted| usize::try_from(it.least).is_ok_and(|n| about.counts >= n);
    // Sources differ; only a count that none of them would do with is short.
    if wanted.is_empty() || wanted.iter().any(enough) {
        return None;
    }
    let said: Vec<String> =
        wanted.iter().map(|it| format!("{} ({})", it.words, it.source)).collect();
    let words = format!("{} counts; published: {}.", about.counts, said.join("; "));
    Some(notice(StandNoticeCode::FewCounts, words))
}

fn when(about: &About<'_>) -> Option<StandNotice> {
    let Forecast { state, heat, count, earliest, .. } = about.forecast;
    let known = heat.missing.iter().all(|day| *day > about.counted_on);
    let reached = heat.days.last().is_some_and(|day| day.date >= about.counted_on);
    let by_heat = known && reached && count.by_temperature;
    if *state == EmergenceState::NotYet && known && reached {
        let words = match earliest {
            Some(day) => format!(
                "By the temperatures of the farm nothing comes up before {day}: check the day, the planting or the temperatures."
            ),
            None => "By the temperatures of the farm nothing has come up yet: check the day, the planting or the temperatures.".to_owned(),
        };
        return Some(notice(StandNoticeCode::BeforeEmergence, words));
    }
    if !by_heat {
        return None;
    }
    if about.counted_on < count.from {
        let words = format!("Plants may still come: count again from {} on.", count.from);
        return Some(notice(StandNoticeCode::BeforeWindow, words));
    }
    (about.counted_on > count.to).then(|| {
        let words = format!(
            "The best days to count ended on {}: what died since is not in the count.",
            count.to
        );
        notice(StandNoticeCode::AfterWindow, words)
    })
}

fn seeds(about: &About<'_>) -> Option<StandNotice> {
    let Some(emergence) = about.found.emergence else {
        let words = "Nobody said how many seeds were planted: there is no share that came up.";
        return Some(notice(StandNoticeCode::SeedsUnknown, words));
    };
    let surely = emergence.low.unwrap_or(emergence.value) > 100.0;
    (emergence.value > MORE_THAN_SEEDS && surely).then(|| {
        let words = "More plants than seeds: the rate of the planting, the row width of the planter or the count is wrong.";
        notice(StandNoticeCode::MoreThanSeeds, words)
    })
}

fn late(about: &About<'_>) -> Option<StandNotice> {
    let some = about.found.late_share.is_some_and(|share| share > 0.0);
    (some && about.late_by.is_none()).then(|| {
        let words = "Plants were late, and nobody said by how many days: what that costs is open.";
        notice(StandNoticeCode::HowLateUnknown, words)
    })
}
