//! The season of one field, one event after the other.

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use serde_json::json;

use super::practice::Practice;
use super::sheet::in_use;
use super::tally::Tally;
use crate::demo::client::{Body, Client};
use crate::demo::error::{DemoError, Result};
use crate::demo::scenario::fields::{Fate, FieldPlan};
use crate::demo::scenario::make_up::PlanterPlan;
use crate::demo::scenario::planters::PLANTERS;
use crate::demo::scenario::{after, at, before, day, weather};
use crate::demo::truth::{self, Ground, Iron};
use crate::demo::wire;

/// Most digs in one field: then it is planted.
const MOST_DIGS: u32 = 4;

/// The story of one field.
#[derive(Debug)]
pub(super) struct Story<'a> {
    plan: &'a FieldPlan,
    planter: &'a PlanterPlan,
    iron: Iron,
    field_id: String,
    planter_id: String,
    planting: NaiveDate,
    /// Days on which the field is reported anew because rain changed it, the last one first.
    again_on: Vec<NaiveDate>,
    when: DateTime<Utc>,
    next: Step,
    sheet: Option<Body>,
    dug: Option<Body>,
    /// Causes that were looked at.
    mended: Vec<String>,
    /// Whether planting stops until soil or weather change.
    waits: bool,
    tally: Tally,
}

/// What happens next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Step {
    Report,
    Issue,
    Acknowledge,
    Dig,
    Decide,
    Nothing,
}

/// A field that was planted, with the sheet that was followed.
#[derive(Debug)]
pub(super) struct Planted<'a> {
    /// The field as it was planned.
    pub plan: &'a FieldPlan,
    /// The planter.
    pub planter: &'a PlanterPlan,
    /// How the planter really is, after what was mended.
    pub iron: Iron,
    /// Id of the field.
    pub field_id: &'a str,
    /// Id of the planter.
    pub planter_id: &'a str,
    /// The day.
    pub on: NaiveDate,
    /// The sheet.
    pub sheet: &'a Body,
}

impl<'a> Story<'a> {
    /// The story before anything happened.
    pub(super) fn begin(plan: &'a FieldPlan, practice: &Practice, place: usize) -> Result<Self> {
        let planter = PLANTERS.get(plan.planter).ok_or_else(|| lacks("planter"))?;
        let planting = day(plan.planted.0, plan.planted.1);
        let rain = day(5, 6);
        let (first, again_on) = if plan.fate == Fate::Rained {
            (before(rain, 1), vec![before(planting, 1), after(rain, 2)])
        } else {
            (before(planting, 2), Vec::new())
        };
        Ok(Self {
            plan,
            planter,
            iron: Iron::of(planter),
            field_id: practice.field_id(place)?.to_owned(),
            planter_id: practice.planter_id(plan.planter)?.to_owned(),
            planting: if again_on.is_empty() { planting } else { after(rain, 2) },
            again_on,
            when: at(first, 9, minute(place)),
            next: Step::Report,
            sheet: None,
            dug: None,
            mended: Vec::new(),
            waits: false,
            tally: Tally::default(),
        })
    }

    /// When the next event happens.
    pub(super) fn when(&self) -> DateTime<Utc> {
        self.when
    }

    /// Whether nothing more happens.
    pub(super) fn is_over(&self) -> bool {
        self.next == Step::Nothing
    }

    /// How often things happened.
    pub(super) fn tally(&self) -> &Tally {
        &self.tally
    }

    /// Id of the newest sheet.
    pub(super) fn sheet_id(&self) -> Option<&str> {
        self.sheet.as_ref()?.text("/id").ok()
    }

    /// What was planted; nothing while the sheet lies in the drawer or unseen.
    pub(super) fn planted(&self) -> Option<Planted<'_>> {
        match self.plan.fate {
            Fate::Draft | Fate::Unseen => return None,
            Fate::NoDig | Fate::Open | Fate::Declined | Fate::Worked | Fate::Rained => {}
        }
        Some(Planted {
            plan: self.plan,
            planter: self.planter,
            iron: self.iron.clone(),
            field_id: &self.field_id,
            planter_id: &self.planter_id,
            on: self.planting,
            sheet: self.sheet.as_ref()?,
        })
    }

    /// Id of the field.
    pub(super) fn field_id(&self) -> &str {
        &self.field_id
    }

    /// Lets the next event happen.
    pub(super) async fn act(&mut self, practice: &Practice) -> Result<()> {
        let advisor = practice.advisor_of(self.plan.grower)?;
        let grower = practice.voice_of(self.plan.grower)?;
        match self.next {
            Step::Report => self.report(advisor).await,
            Step::Issue => self.issue(advisor).await,
            Step::Acknowledge => self.acknowledge(grower).await,
            Step::Dig => self.dig(grower).await,
            Step::Decide => self.decide(advisor).await,
            Step::Nothing => Ok(()),
        }
    }

    fn then(&mut self, next: Step, minutes: i64) {
        self.next = next;
        self.when += TimeDelta::minutes(minutes);
    }

    fn on(&mut self, next: Step, when: DateTime<Utc>) {
        self.next = next;
        self.when = when.max(self.when);
    }

    /// Reports the conditions and has the sheet worked out, the first time or anew.
    async fn report(&mut self, advisor: &Client) -> Result<()> {
        let today = self.when.date_naive();
        let body = wire::conditions(self.plan, today, self.planting);
        let path = format!("/v1/fields/{}/conditions", self.field_id);
        let report = advisor.post(&path, &body).await?.expect(201)?;
        self.tally.reports += 1;
        self.tally.sheets += 1;
        let made = match self.sheet.as_ref() {
            None => {
                let body = json!({
                    "field_id": self.field_id,
                    "planter_id": self.planter_id,
                    "goals": wire::goals(self.plan.crop, self.planter.speed),
                });
                advisor.post("/v1/recommendations", &body).await?
            }
            Some(sheet) => {
                let path = format!("/v1/recommendations/{}/revise", sheet.text("/id")?);
                advisor.post(&path, &json!({"conditions_id": report.text("/id")?})).await?
            }
        };
        self.sheet = Some(made.expect(201)?);
        match self.plan.fate {
            Fate::Draft => self.then(Step::Nothing, 0),
            _ => self.then(Step::Issue, 25),
        }
        Ok(())
    }

    async fn issue(&mut self, advisor: &Client) -> Result<()> {
        self.sheet = Some(step(advisor, self.sheet()?, "issue").await?);
        let unseen = self.plan.fate == Fate::Unseen;
        // After a dig the grower stands beside the planter; before it he looks in the evening.
        let minutes = if self.tally.digs > 0 { 10 } else { 7 * 60 };
        self.then(if unseen { Step::Nothing } else { Step::Acknowledge }, minutes);
        Ok(())
    }

    async fn acknowledge(&mut self, grower: &Client) -> Result<()> {
        self.sheet = Some(step(grower, self.sheet()?, "acknowledge").await?);
        if let Some(again) = self.again_on.pop() {
            let planting = day(self.plan.planted.0, self.plan.planted.1);
            self.planting = if self.again_on.is_empty() { planting } else { self.planting };
            self.on(Step::Report, at(again, 9, 20));
        } else if self.plan.fate == Fate::NoDig || self.waits || self.tally.digs >= MOST_DIGS {
            self.then(Step::Nothing, 0);
        } else if self.tally.digs > 0 {
            self.then(Step::Dig, 75);
        } else {
            self.on(Step::Dig, at(self.planting, 10, 15));
        }
        Ok(())
    }

    /// The grower walks back, digs, and sends what he found.
    async fn dig(&mut self, grower: &Client) -> Result<()> {
        let fill = match self.tally.digs {
            0 => 0.9,
            1 => 0.7,
            2 => 0.5,
            _ => 0.3,
        };
        let sheet = self.sheet()?;
        let set = in_use(sheet, self.planter, fill)?;
        let today = self.when.date_naive();
        let moisture = weather::moisture(today, self.plan.texture, self.plan.green());
        let ground = Ground::of(self.plan, moisture);
        let words = format!("{} dig {}", self.plan.name, self.tally.digs + 1);
        let dug = truth::dig(&self.iron, &ground, &set, &words);
        let body = wire::dig_check(self.when, sheet, &set, &dug);
        let path = format!("/v1/recommendations/{}/dig-checks", sheet.text("/id")?);
        let judged = grower.post(&path, &body).await?.expect(201)?;
        self.tally.digs += 1;
        let more = judged.word("/proposal/change/kind") == "dig_more";
        let asks = judged.text("/adjustment_id").is_ok();
        self.dug = Some(judged);
        match self.plan.fate {
            Fate::Open => self.then(Step::Nothing, 0),
            _ if asks => self.then(Step::Decide, 40),
            _ if more && self.tally.digs < MOST_DIGS => self.then(Step::Dig, 30),
            _ => self.then(Step::Nothing, 0),
        }
        Ok(())
    }

    /// The advisor accepts what the dig proposes, or declines it.
    async fn decide(&mut self, advisor: &Client) -> Result<()> {
        let dug = self.dug.take().ok_or_else(|| lacks("dig"))?;
        let path = format!("/v1/adjustments/{}", dug.text("/adjustment_id")?);
        let read = advisor.get(&path).await?.expect(200)?;
        self.tally.decisions += 1;
        let cause = dug.word("/proposal/cause").to_owned();
        if let Some(reason) = self.reason_against(&dug, &cause) {
            let path = format!("{path}/decline");
            let body = json!({"reason": reason});
            advisor.step(&path, read.tag()?, Some(&body)).await?.expect(200)?;
            self.then(Step::Nothing, 0);
            return Ok(());
        }
        let path = format!("{path}/accept");
        let accepted = advisor.step(&path, read.tag()?, None).await?.expect(200)?;
        self.mend(&dug, cause);
        let path = format!("/v1/recommendations/{}", accepted.text("/next_recommendation_id")?);
        self.tally.sheets += 1;
        self.sheet = Some(advisor.get(&path).await?.expect(200)?);
        self.then(Step::Issue, 5);
        Ok(())
    }

    /// Why the advisor does not follow a proposal.
    fn reason_against(&self, dug: &Body, cause: &str) -> Option<&'static str> {
        let looks = dug.word("/proposal/change/kind") == "inspect";
        if self.plan.fate == Fate::Declined {
            Some("Rain is an hour away: finish the field as it is.")
        } else if looks && self.mended.iter().any(|before| before == cause) {
            Some("Looked at already. Finish the field, and see to it in the shed.")
        } else {
            None
        }
    }

    /// Whoever is told what may be wrong looks at it and mends what he finds.
    fn mend(&mut self, dug: &Body, cause: String) {
        let iron = self.iron.clone();
        match dug.word("/proposal/change/kind") {
            "inspect" | "cleaner_height" => {
                self.iron = iron.mended(&cause);
                self.mended.push(cause);
            }
            "coulter" => self.iron = iron.without_coulters(),
            "wait" => self.waits = true,
            _ => {}
        }
    }

    fn sheet(&self) -> Result<&Body> {
        self.sheet.as_ref().ok_or_else(|| lacks("sheet"))
    }
}

/// Takes a step with a recommendation as it was last read.
async fn step(client: &Client, sheet: &Body, verb: &str) -> Result<Body> {
    let path = format!("/v1/recommendations/{}", sheet.text("/id")?);
    let read = client.get(&path).await?.expect(200)?;
    client.step(&format!("{path}/{verb}"), read.tag()?, None).await?.expect(200)
}

/// Spreads the mornings of an advisor over the hour.
fn minute(place: usize) -> u32 {
    u32::try_from(place * 7 % 50).unwrap_or(0)
}

fn lacks(what: &str) -> DemoError {
    DemoError::Missing { pointer: format!("the {what} of a story") }
}
