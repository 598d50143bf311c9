//! What goes over the wire.

mod about;
mod advice;
mod example;
mod learned;
mod season;
mod sections;
mod series;
mod shares;

pub use about::{ReportAbout, ReportKind, SeasonSoFar, SubjectNamed};
pub use advice::{AdjustmentCause, SeasonAdjustments, SeasonAdvice};
pub use learned::SeasonLearned;
pub use season::{Season, SeasonList};
pub use sections::{
    MoneyAndTimeOut, MoneyLineOut, ShedItemOut, ShedReason, StandOfField, TrialEffectOut, TrialOut,
    WearRate, WornPartOut,
};
pub use series::{
    DepthBinOut, DepthDistributionOut, FieldLineOut, LoadAtSpeedOut, SeasonWeek, SeedCountOut,
};
pub use shares::{
    AdvisorShares, CoverWindow, FieldShare, OtherGrowers, SeasonWindow, SoilWindow, WindowOut,
};

use domain::season::report as model;
use serde::Serialize;
use utoipa::ToSchema;

use crate::v1::recommendations::show::Show;

/// The report of a season.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example::report())))]
pub struct SeasonReport {
    /// Of whom, of which season, and how far that is.
    pub about: ReportAbout,
    /// What was advised, seen, applied and dug.
    pub recommendations: SeasonAdvice,
    /// How many fields had load and depth in the window.
    pub in_window: SeasonWindow,
    /// In the report of a grower: all other growers of the practice together, where they are five or
    /// more.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub others: Option<OtherGrowers>,
    /// In the report of a practice: advisor by advisor, by name.
    pub advisors: Vec<AdvisorShares>,
    /// What digs proposed to change, and why.
    pub adjustments: SeasonAdjustments,
    /// What digs taught about the resistance of soils.
    pub learned: Vec<SeasonLearned>,
    /// Parts that wear.
    pub wear: Vec<WornPartOut>,
    /// Stands that were counted.
    pub stands: Vec<StandOfField>,
    /// Trials.
    pub trials: Vec<TrialOut>,
    /// Land, hours and prices, where they are known.
    pub money_and_time: MoneyAndTimeOut,
    /// What is to be mended in the shed, planter by planter.
    pub shed_list: Vec<ShedItemOut>,
    /// Week by week, without weeks in which nothing happened.
    pub weeks: Vec<SeasonWeek>,
    /// Where seed lay against where it was wanted.
    pub depths: DepthDistributionOut,
    /// Loads that were logged, against the speed.
    pub loads: Vec<LoadAtSpeedOut>,
    /// In the report of a grower or a planter: field by field.
    pub fields: Vec<FieldLineOut>,
}

impl SeasonReport {
    /// In these units.
    pub fn of(it: model::SeasonReport, show: Show) -> Self {
        let model::SeasonReport {
            about,
            recommendations,
            in_window,
            others,
            advisors,
            adjustments,
            learned,
            wear,
            stands,
            trials,
            money_and_time,
            shed_list,
            weeks,
            depths,
            loads,
            fields,
        } = it;
        Self {
            about: about.into(),
            recommendations: recommendations.into(),
            in_window: in_window.into(),
            others: others.map(Into::into),
            advisors: advisors.into_iter().map(Into::into).collect(),
            adjustments: adjustments.into(),
            learned: learned.into_iter().map(Into::into).collect(),
            wear: wear.into_iter().map(|it| WornPartOut::of(it, show)).collect(),
            stands: stands.into_iter().map(|it| StandOfField::of(it, show)).collect(),
            trials: trials.into_iter().map(Into::into).collect(),
            money_and_time: MoneyAndTimeOut::of(money_and_time, show),
            shed_list: shed_list.into_iter().map(Into::into).collect(),
            weeks: weeks.into_iter().map(Into::into).collect(),
            depths: DepthDistributionOut::of(depths, show),
            loads: loads.into_iter().map(|it| LoadAtSpeedOut::of(it, show)).collect(),
            fields: fields.into_iter().map(|it| FieldLineOut::of(it, show)).collect(),
        }
    }
}
