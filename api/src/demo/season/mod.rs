//! The season, told through the service: who was there, what was reported, advised, dug and
//! decided, in the order in which it happened.

mod practice;
mod shed;
mod sheet;
mod stands;
mod story;
mod tally;
mod trials;

use std::net::SocketAddr;
use std::sync::Arc;

use super::error::{DemoError, Result};
use super::scenario::fields::FIELDS;
use super::scenario::people::{ADVISORS, GROWERS};
use super::scenario::planters::PLANTERS;
use super::scenario::{at, day};
use crate::app::Running;
use crate::clock::{Clock, FixedClock};

pub(super) use practice::Practice;
pub(super) use sheet::in_use;
use story::Story;
use tally::Tally;
use trials::Trials;
pub(super) use trials::rows as trial_rows;

/// The first morning.
pub(super) fn opening() -> chrono::DateTime<chrono::Utc> {
    at(day(4, 1), 8, 0)
}

/// What the season left behind, for whoever looks at it first.
#[derive(Debug, Clone)]
pub struct Told {
    /// A recommendation that somebody dug after.
    pub recommendation_id: String,
    /// Its field.
    pub field_id: String,
    /// Conditions reports.
    pub reports: u32,
    /// Recommendations, each revision counted.
    pub sheets: u32,
    /// Digs.
    pub digs: u32,
    /// Adjustments that were accepted or declined.
    pub decisions: u32,
}

/// Tells the whole season to a running service with an empty database.
pub(super) async fn tell(running: &Running, clock: &Arc<FixedClock>) -> Result<Told> {
    let address: SocketAddr = running.address;
    let practice = Practice::found(running, clock, address).await?;
    shed::in_march(&practice, clock).await?;
    let trials = Trials::lay_out(&practice, clock).await?;
    let mut stories = Vec::with_capacity(FIELDS.len());
    for (place, plan) in FIELDS.iter().enumerate() {
        stories.push(Story::begin(plan, &practice, place)?);
    }
    while let Some(story) = next(&mut stories) {
        clock.set(story.when().max(clock.now()));
        story.act(&practice).await?;
    }
    let planted: Vec<_> = stories.iter().filter_map(Story::planted).collect();
    stands::came_up(&practice, clock, &planted).await?;
    trials.found(&practice, clock).await?;
    shed::when_it_is_over(&practice, clock, &planted).await?;
    Told::of(&stories)
}

/// The story whose next event comes first.
fn next<'a, 'b>(stories: &'b mut [Story<'a>]) -> Option<&'b mut Story<'a>> {
    stories.iter_mut().filter(|story| !story.is_over()).min_by_key(|story| story.when())
}

impl Told {
    fn of(stories: &[Story<'_>]) -> Result<Self> {
        let sum = |count: fn(&Tally) -> u32| stories.iter().map(|s| count(s.tally())).sum();
        let dug = stories.iter().max_by_key(|story| story.tally().digs).ok_or_else(nobody_dug)?;
        Ok(Self {
            recommendation_id: dug.sheet_id().ok_or_else(nobody_dug)?.to_owned(),
            field_id: dug.field_id().to_owned(),
            reports: sum(|tally| tally.reports),
            sheets: sum(|tally| tally.sheets),
            digs: sum(|tally| tally.digs),
            decisions: sum(|tally| tally.decisions),
        })
    }

    /// In one sentence.
    pub fn summary(&self) -> String {
        let Self { reports, sheets, digs, decisions, .. } = self;
        format!(
            "one practice, {} advisors, {} growers, {} planters, {} fields; {reports} conditions \
             reports, {sheets} sheets, {digs} digs, {decisions} decisions on adjustments",
            ADVISORS.len(),
            GROWERS.len(),
            PLANTERS.len(),
            FIELDS.len(),
        )
    }
}

fn nobody_dug() -> DemoError {
    DemoError::Missing { pointer: "a field that was dug".to_owned() }
}
