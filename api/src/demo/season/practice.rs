//! The practice as the service knows it: accounts, growers, farms, fields, planters.

use std::net::SocketAddr;
use std::sync::Arc;

use chrono::TimeDelta;
use serde_json::json;

use crate::app::Running;
use crate::clock::{Clock, FixedClock};
use crate::demo::accounts;
use crate::demo::client::Client;
use crate::demo::error::{DemoError, Result};
use crate::demo::scenario::fields::{FIELDS, FieldPlan};
use crate::demo::scenario::make_up::PlanterPlan;
use crate::demo::scenario::people::{ADVISORS, GROWERS, GrowerPlan};
use crate::demo::scenario::planters::PLANTERS;
use crate::demo::scenario::{at, day, place};
use crate::demo::wire;

/// The practice, with everybody signed in.
#[derive(Debug)]
pub(in crate::demo) struct Practice {
    stranger: Client,
    advisors: Vec<Client>,
    growers: Vec<Grower>,
    planters: Vec<String>,
    fields: Vec<String>,
}

#[derive(Debug)]
struct Grower {
    id: String,
    farms: Vec<String>,
    caller: Option<Client>,
}

impl Practice {
    /// Every farm: the place of its grower, and its id.
    pub(super) fn farms(&self) -> Vec<(usize, &str)> {
        let growers = self.growers.iter().enumerate();
        growers
            .flat_map(|(at, grower)| grower.farms.iter().map(move |id| (at, id.as_str())))
            .collect()
    }

    /// Makes the practice in an empty database.
    pub(super) async fn found(
        running: &Running,
        clock: &Arc<FixedClock>,
        address: SocketAddr,
    ) -> Result<Self> {
        let state = &running.state;
        let id = accounts::practice(state).await?;
        for advisor in ADVISORS {
            accounts::advisor(state, id, advisor.name, advisor.sign_in).await?;
        }
        let mut practice = Self {
            stranger: Client::stranger(address),
            advisors: Vec::new(),
            growers: Vec::new(),
            planters: Vec::new(),
            fields: Vec::new(),
        };
        practice.sign_in().await?;
        for plan in &GROWERS {
            clock.advance(TimeDelta::minutes(20));
            let grower = practice.add_grower(plan).await?;
            if let Some(sign_in) = plan.sign_in {
                accounts::grower(state, id, plan.name, sign_in, &grower.id).await?;
            }
            practice.growers.push(grower);
        }
        practice.add_land_and_iron(clock).await?;
        practice.sign_in().await?;
        Ok(practice)
    }

    async fn sign_in(&mut self) -> Result<()> {
        self.advisors.clear();
        for advisor in ADVISORS {
            self.advisors.push(self.stranger.sign_in(advisor.sign_in).await?);
        }
        for (grower, plan) in self.growers.iter_mut().zip(&GROWERS) {
            if let Some(sign_in) = plan.sign_in {
                grower.caller = Some(self.stranger.sign_in(sign_in).await?);
            }
        }
        Ok(())
    }

    async fn add_grower(&self, plan: &GrowerPlan) -> Result<Grower> {
        let advisor = self.advisor(plan.advisor)?;
        let me = advisor.get("/v1/accounts/me").await?.expect(200)?;
        let body = json!({
            "name": plan.name,
            "advisor_id": me.text("/id")?,
            "phone": plan.phone,
            "notes": plan.notes,
        });
        let made = advisor.post("/v1/growers", &body).await?.expect(201)?;
        let id = made.text("/id")?.to_owned();
        let mut farms = Vec::new();
        for name in plan.farms {
            let body = json!({"grower_id": id, "name": name});
            let farm = advisor.post("/v1/farms", &body).await?.expect(201)?;
            farms.push(farm.text("/id")?.to_owned());
        }
        Ok(Grower { id, farms, caller: None })
    }

    async fn add_land_and_iron(&mut self, clock: &Arc<FixedClock>) -> Result<()> {
        clock.set(at(day(4, 2), 9, 0));
        for (place, plan) in FIELDS.iter().enumerate() {
            clock.advance(TimeDelta::minutes(5));
            let id = self.add_field(place, plan).await?;
            self.fields.push(id);
        }
        clock.set(at(day(4, 7), 9, 0));
        for plan in &PLANTERS {
            clock.advance(TimeDelta::minutes(30));
            let id = self.add_planter(plan, clock).await?;
            self.planters.push(id);
        }
        Ok(())
    }

    async fn add_field(&self, place: usize, plan: &FieldPlan) -> Result<String> {
        let grower = self.growers.get(plan.grower).ok_or_else(|| not_there("grower"))?;
        let farm = grower.farms.get(plan.farm).ok_or_else(|| not_there("farm"))?;
        let mut body = json!({
            "farm_id": farm,
            "name": plan.name,
            "texture_class": plan.texture,
        });
        // Some advisors walk the edge, others write down what the grower says.
        let area = json!({"value": plan.acres, "unit": "[acr_us]"});
        let (member, value) = if place % 7 == 6 {
            ("entered_area", area)
        } else {
            ("boundary", place::rectangle(section(plan), quarter(place), plan.acres))
        };
        if let Some(members) = body.as_object_mut() {
            members.insert(member.to_owned(), value);
        }
        let advisor = self.advisor_of(plan.grower)?;
        let made = advisor.post("/v1/fields", &body).await?.expect(201)?;
        Ok(made.text("/id")?.to_owned())
    }

    async fn add_planter(&self, plan: &PlanterPlan, clock: &FixedClock) -> Result<String> {
        let grower = self.growers.get(plan.grower).ok_or_else(|| not_there("grower"))?;
        let advisor = self.advisor_of(plan.grower)?;
        let body = json!({"grower_id": grower.id, "name": plan.name, "makeup": wire::makeup(plan)});
        let made = advisor.post("/v1/planters", &body).await?.expect(201)?;
        let id = made.text("/id")?.to_owned();
        if let Some(body) = wire::calibration(plan, clock.now().date_naive()) {
            let path = format!("/v1/planters/{id}/calibrations");
            advisor.post(&path, &body).await?.expect(201)?;
        }
        Ok(id)
    }

    fn advisor(&self, place: usize) -> Result<&Client> {
        self.advisors.get(place).ok_or_else(|| not_there("advisor"))
    }

    /// Whoever advises a grower.
    pub(super) fn advisor_of(&self, grower: usize) -> Result<&Client> {
        self.advisor(GROWERS.get(grower).map_or(0, |plan| plan.advisor))
    }

    /// Whoever speaks for a grower: the grower, or the advisor whom he calls.
    pub(super) fn voice_of(&self, grower: usize) -> Result<&Client> {
        let own = self.growers.get(grower).and_then(|grower| grower.caller.as_ref());
        own.map_or_else(|| self.advisor_of(grower), Ok)
    }

    /// Id of a field.
    pub(super) fn field_id(&self, place: usize) -> Result<&str> {
        self.fields.get(place).map(String::as_str).ok_or_else(|| not_there("field"))
    }

    /// Id of a planter.
    pub(super) fn planter_id(&self, place: usize) -> Result<&str> {
        self.planters.get(place).map(String::as_str).ok_or_else(|| not_there("planter"))
    }
}

/// Each farm has a square mile of its own; two farms of a grower lie a row apart.
fn section(plan: &FieldPlan) -> usize {
    plan.grower % 8 + 8 * (plan.grower / 8) + 16 * plan.farm
}

/// The quarters of a square mile are filled in the order of the list; a grower's fields follow one
/// another there, so four in a row never share one.
fn quarter(place: usize) -> usize {
    place % 4
}

fn not_there(what: &str) -> DemoError {
    DemoError::Missing { pointer: format!("the {what} of the scenario") }
}
