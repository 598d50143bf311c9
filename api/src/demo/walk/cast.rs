//! Who takes part in the walk, and what they know of each other's objects.

use std::sync::Arc;

use chrono::{DateTime, Utc};
use serde_json::json;

use super::report::Report;
use crate::app::Running;
use crate::clock::{Clock, FixedClock};
use crate::demo::accounts;
use crate::demo::client::Client;
use crate::demo::error::Result;
use crate::demo::scenario::fields::{FIELDS, FieldPlan};
use crate::demo::scenario::make_up::PlanterPlan;
use crate::demo::scenario::people::{ADVISORS, AdvisorPlan, GROWERS, GrowerPlan, SignIn};
use crate::demo::scenario::planters::PLANTERS;

/// Who takes part.
pub(super) struct Cast {
    /// The clock of the story.
    pub clock: Arc<FixedClock>,
    /// Nobody in particular.
    pub stranger: Client,
    /// The advisor.
    pub advisor: Client,
    /// The grower whose field it is.
    pub grower: Client,
    /// Another grower of the same practice.
    pub neighbour: Client,
    /// Id of the grower.
    pub grower_id: String,
    /// The field.
    pub field: &'static FieldPlan,
    /// The planter.
    pub planter: &'static PlanterPlan,
}

pub(super) const ADVISOR: &AdvisorPlan = {
    let [first, ..] = &ADVISORS;
    first
};
const FIELD: &FieldPlan = {
    let [first, ..] = &FIELDS;
    first
};
pub(super) const PLANTER: &PlanterPlan = {
    let [first, ..] = &PLANTERS;
    first
};
const GROWER: &GrowerPlan = {
    let [first, ..] = &GROWERS;
    first
};
pub(super) const NEIGHBOUR: &GrowerPlan = {
    let [_, _, third, ..] = &GROWERS;
    third
};
/// For a grower who does not sign in in the season.
const SPARE: SignIn = SignIn { email: "spare@longfurrow.example", password: "spare-for-the-walk" };

impl Cast {
    /// Makes the accounts, signs everybody in, and adds the grower.
    pub(super) async fn gather(
        running: &Running,
        clock: Arc<FixedClock>,
        report: &mut Report<'_>,
    ) -> Result<Self> {
        report.step("Sign in")?;
        let state = &running.state;
        let practice = accounts::practice(state).await?;
        accounts::advisor(state, practice, ADVISOR.name, ADVISOR.sign_in).await?;
        let stranger = Client::stranger(running.address);
        let refused = stranger.get("/v1/growers").await?;
        report.holds(
            refused.status == 401,
            "without signing in nothing can be read (401)",
            &refused.status.to_string(),
        )?;
        let advisor = stranger.sign_in(ADVISOR.sign_in).await?;
        let me = advisor.get("/v1/accounts/me").await?.expect(200)?;
        let name = me.text("/display_name")?.to_owned();
        report.say(&format!("{name}, advisor at {}, signs in.", me.text("/practice")?))?;
        report.holds(name == ADVISOR.name, "the service knows who is calling", &name)?;

        report.step("Know the grower")?;
        let grower_id = add_grower(&advisor, GROWER).await?;
        let neighbour_id = add_grower(&advisor, NEIGHBOUR).await?;
        let (own, other) = (sign_in_of(GROWER), sign_in_of(NEIGHBOUR));
        accounts::grower(state, practice, GROWER.name, own, &grower_id).await?;
        accounts::grower(state, practice, NEIGHBOUR.name, other, &neighbour_id).await?;
        let grower = stranger.sign_in(own).await?;
        let neighbour = stranger.sign_in(other).await?;
        report.say(&format!("{} and {} are clients.", GROWER.name, NEIGHBOUR.name))?;
        let seen = grower.get("/v1/growers").await?.expect(200)?.list("/items");
        let only_own =
            seen.len() == 1 && seen.first().is_some_and(|one| one.word("/id") == grower_id);
        let found = format!("{} growers", seen.len());
        report.holds(only_own, "a grower who signs in sees himself and nobody else", &found)?;
        let (field, planter) = (FIELD, PLANTER);
        Ok(Self { clock, stranger, advisor, grower, neighbour, grower_id, field, planter })
    }

    /// The time in the story.
    pub(super) fn now(&self) -> DateTime<Utc> {
        self.clock.now()
    }

    /// Moves the story on by some minutes.
    pub(super) fn later(&self, minutes: i64) {
        self.clock.advance(chrono::TimeDelta::minutes(minutes));
    }
}

fn sign_in_of(plan: &GrowerPlan) -> SignIn {
    plan.sign_in.unwrap_or(SPARE)
}

async fn add_grower(advisor: &Client, plan: &GrowerPlan) -> Result<String> {
    let body = json!({"name": plan.name, "phone": plan.phone, "notes": plan.notes});
    let made = advisor.post("/v1/growers", &body).await?.expect(201)?;
    Ok(made.text("/id")?.to_owned())
}
