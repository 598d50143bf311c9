//! Two trials of the season: closing wheels on some rows, and down force in strips.

use std::sync::Arc;

use chrono::NaiveDate;
use domain::planter::ClosingPair;
use serde_json::{Value, json};

use super::practice::Practice;
use crate::clock::{Clock, FixedClock};
use crate::demo::client::{Body, Client};
use crate::demo::error::{DemoError, Result};
use crate::demo::scenario::fields::{FIELDS, FieldPlan};
use crate::demo::scenario::planters::PLANTERS;
use crate::demo::scenario::{after, at, day, weather};
use crate::demo::truth::{self, Ground, InUse, Iron};

const INCH: f64 = 0.0254;
/// The field with the wheels, and the one with the strips.
const WHEELS: usize = 4;
const STRIPS: usize = 8;
/// What the strips with less force really gave more, bu/ac: nothing that five blocks could show.
const LESS_FORCE_GIVES: f64 = 1.5;
/// Usual yield of that field, bu/ac.
const USUAL: f64 = 212.0;
/// Length of a strip, ft, and rows that were harvested of each.
const LENGTH: f64 = 900.0;
const HARVESTED: f64 = 12.0;

/// The trials of the season.
#[derive(Debug)]
pub(super) struct Trials {
    wheels: Body,
    strips: Body,
}

impl Trials {
    /// Lays them out and starts them, before anything is planted.
    pub(super) async fn lay_out(practice: &Practice, clock: &Arc<FixedClock>) -> Result<Self> {
        clock.set(at(day(4, 14), 10, 0).max(clock.now()));
        let wheels = started(practice, WHEELS, "Spiked wheels on two rows", &wheels()).await?;
        let strips = started(practice, STRIPS, "A quarter less down force", &strips()).await?;
        Ok(Self { wheels, strips })
    }

    /// Looks at the rows after emergence, weighs the strips in autumn, and closes both.
    pub(super) async fn found(&self, practice: &Practice, clock: &Arc<FixedClock>) -> Result<()> {
        self.look(practice, clock).await?;
        clock.set(at(day(10, 6), 16, 0).max(clock.now()));
        self.weigh(practice).await?;
        for (trial, place) in [(&self.wheels, WHEELS), (&self.strips, STRIPS)] {
            step(practice.advisor_of(field(place)?.grower)?, trial.text("/id")?, "close").await?;
        }
        Ok(())
    }

    async fn look(&self, practice: &Practice, clock: &Arc<FixedClock>) -> Result<()> {
        let plan = field(WHEELS)?;
        let planted = day(plan.planted.0, plan.planted.1);
        let looked = after(planted, 24);
        clock.set(at(looked, 17, 0).max(clock.now()));
        let grower = practice.voice_of(plan.grower)?;
        let iron = PLANTERS.get(plan.planter).map(Iron::of).ok_or_else(|| lacks("planter"))?;
        let moisture = weather::moisture(planted, plan.texture, plan.green());
        let ground = Ground::of(plan, moisture);
        let path = format!("/v1/trials/{}/plots", self.wheels.text("/id")?);
        for plot in self.wheels.list("/layout/plots") {
            let body = seen(&plot, (&iron, &ground), looked)?;
            grower.post(&path, &body).await?.expect(201)?;
        }
        Ok(())
    }

    async fn weigh(&self, practice: &Practice) -> Result<()> {
        let grower = practice.voice_of(field(STRIPS)?.grower)?;
        let path = format!("/v1/trials/{}/plots", self.strips.text("/id")?);
        for plot in self.strips.list("/layout/plots") {
            let body = weighed(&plot)?;
            grower.post(&path, &body).await?.expect(201)?;
        }
        Ok(())
    }
}

/// What the grower found at one plot; one was washed out.
fn seen(plot: &Body, (iron, ground): (&Iron, &Ground), looked: NaiveDate) -> Result<Value> {
    let number = plot.number("/plot")?;
    if (number - 6.0).abs() < 0.5 {
        return Ok(json!({"plot": 6, "observed_on": looked, "lost": "Washed out by the storm."}));
    }
    let spiked = plot.text("/treatment")? == SPIKED;
    let closing = if spiked { ClosingPair::SpikedAndRubber } else { ClosingPair::Rubber };
    let words = format!("wheels plot {number}");
    let found = truth::plot((iron, ground), &IN_USE, closing, &rows(plot), &words);
    Ok(json!({
        "plot": number,
        "observed_on": looked,
        "readings": [
            {"response": "furrow_closed", "values": {"unit": "%", "values": found.closed}},
            {"response": "emergence", "values": {"unit": "%", "values": found.up}},
        ],
    }))
}

/// What the wagon said.
fn weighed(plot: &Body) -> Result<Value> {
    let (number, block) = (plot.number("/plot")?, plot.number("/block")?);
    let less = plot.text("/treatment")? == LESS;
    let effect = if less { LESS_FORCE_GIVES } else { 0.0 };
    let place = (block.to_string(), number.to_string());
    let bushels = truth::strip(USUAL, effect, (&place.0, &place.1), "strips");
    let moisture = 0.178;
    let acres = HARVESTED * 2.5 * LENGTH / 43_560.0;
    let pounds = bushels * acres * 56.0 * (1.0 - 0.155) / (1.0 - moisture);
    Ok(json!({
        "plot": number,
        "observed_on": day(10, 6),
        "harvest": {
            "weight": {"value": pounds.round(), "unit": "[lb_av]"},
            "moisture": {"value": 17.8, "unit": "%"},
        },
    }))
}

/// The planter as it ran; what closes a furrow does not depend on it.
const IN_USE: InUse = InUse {
    force: 700.0,
    lever: 2.0 * INCH,
    speed: 8.0,
    fill: 0.5,
    spacing: 6.0 * INCH,
    closing: ClosingPair::Rubber,
};

/// The rows of a plot.
pub(in crate::demo) fn rows(plot: &Body) -> Vec<u16> {
    let rows = plot.list("/rows");
    rows.iter().filter_map(|row| u16::try_from(row.json.as_u64()?).ok()).collect()
}

const SPIKED: &str = "one spiked wheel";
const LESS: &str = "a quarter less";

fn wheels() -> Value {
    json!({
        "crop": "corn",
        "trying": "closing_wheel",
        "question": "Does one spiked wheel close the furrow better under rolled rye?",
        "treatments": [{"name": "two smooth wheels", "control": true}, {"name": SPIKED}],
        "way": {"kind": "planter_rows", "rows_each": 2},
        "blocks": 6,
        "seed": 41,
        "responses": [
            {"kind": "furrow_closed", "matters": 5, "spread": 8},
            {"kind": "emergence", "matters": 3, "spread": 4},
        ],
    })
}

fn strips() -> Value {
    json!({
        "crop": "corn",
        "trying": "down_force",
        "question": "Is a quarter less down force worth anything at harvest?",
        "treatments": [{"name": "as the sheet says", "control": true}, {"name": LESS}],
        "way": {"kind": "strips", "passes_each": 1},
        "blocks": 5,
        "border_rows": 2,
        "strip_length": {"value": LENGTH, "unit": "[ft_i]"},
        "harvest_rows": HARVESTED,
        "seed": 42,
        "responses": [{"kind": "yield", "unit": "[bu_us]/[acr_us]", "matters": 4, "spread": 4}],
    })
}

async fn started(practice: &Practice, place: usize, name: &str, design: &Value) -> Result<Body> {
    let plan = field(place)?;
    let advisor = practice.advisor_of(plan.grower)?;
    let body = json!({
        "field_id": practice.field_id(place)?,
        "planter_id": practice.planter_id(plan.planter)?,
        "name": name,
        "design": design,
    });
    let made = advisor.post("/v1/trials", &body).await?.expect(201)?;
    step(advisor, made.text("/id")?, "start").await
}

/// Takes a step with a trial as it is.
async fn step(advisor: &Client, id: &str, verb: &str) -> Result<Body> {
    let path = format!("/v1/trials/{id}");
    let read = advisor.get(&path).await?.expect(200)?;
    advisor.step(&format!("{path}/{verb}"), read.tag()?, None).await?.expect(200)
}

fn field(place: usize) -> Result<&'static FieldPlan> {
    FIELDS.get(place).ok_or_else(|| lacks("field"))
}

fn lacks(what: &str) -> DemoError {
    DemoError::Missing { pointer: format!("the {what} of a trial") }
}
