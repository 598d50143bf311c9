//! Days in the shed: each planter in March, and again when the season is over.
//!
//! What is measured is seen through the truth of the iron. Where discs are worn and nobody knows, nobody
//! measured them in March.

use std::sync::Arc;

use chrono::{NaiveDate, TimeDelta};
use domain::planter::inspection::{ITEMS, Item, ItemCode};
use serde_json::{Value, json};

use super::practice::Practice;
use super::story::Planted;
use crate::clock::{Clock, FixedClock};
use crate::demo::dice::Dice;
use crate::demo::error::{DemoError, Result};
use crate::demo::scenario::fields::FIELDS;
use crate::demo::scenario::make_up::{Fault, PlanterPlan};
use crate::demo::scenario::planters::PLANTERS;
use crate::demo::scenario::{at, day};
use crate::demo::truth::{Iron, Worked};
use crate::demo::wire;
use crate::v1::planters::Makeup;

/// The planter of which somebody wrote the limits of the manual down.
const WITH_MANUAL: usize = 0;

/// One planter on one day in the shed.
struct Visit<'a> {
    plan: &'a PlanterPlan,
    iron: &'a Iron,
    on: NaiveDate,
    /// Acres since March.
    acres: f64,
    /// Whether discs are measured.
    measured: bool,
    name: &'static str,
}

/// The day in March, written down when the practice begins; one row's seed tube is mended at once.
pub(super) async fn in_march(practice: &Practice, clock: &Arc<FixedClock>) -> Result<()> {
    for (place, plan) in PLANTERS.iter().enumerate() {
        clock.advance(TimeDelta::minutes(4));
        let (id, caller) = (practice.planter_id(place)?, practice.voice_of(plan.grower)?);
        if place == WITH_MANUAL {
            let path = format!("/v1/planters/{id}/wear-limits");
            caller.put(&path, "\"0\"", &manual()).await?.expect(200)?;
        }
        let iron = Iron::of(plan);
        let unknown = matches!(plan.fault, Some(Fault::WornDiscs(_)));
        let on = day(3, 9 + u32::try_from(place).unwrap_or(0));
        let visit = Visit { plan, iron: &iron, on, acres: 0.0, measured: !unknown, name: "March" };
        let mut body = visit.body()?;
        let planned: f64 = FIELDS.iter().filter(|it| it.planter == place).map(|it| it.acres).sum();
        if let Some(members) = body.as_object_mut() {
            members.insert(
                "season_plan".to_owned(),
                json!({
                    "area": acres(planned), "from": day(4, 15), "until": day(6, 5)
                }),
            );
        }
        let path = format!("/v1/planters/{id}/inspections");
        caller.post(&path, &body).await?.expect(201)?;
        if let Some(row) = visit.frayed() {
            let body = json!({
                "item": "seed_tube", "rows": [row], "repaired_on": day(3, 28), "new_part": true,
                "cost": {"amount": 38, "currency": "USD"}
            });
            caller.post(&format!("/v1/planters/{id}/repairs"), &body).await?.expect(201)?;
        }
    }
    Ok(())
}

/// The day after the season: how much each row has worn over the acres that were planted.
pub(super) async fn when_it_is_over(
    practice: &Practice,
    clock: &Arc<FixedClock>,
    planted: &[Planted<'_>],
) -> Result<()> {
    clock.set(at(day(8, 20), 9, 0).max(clock.now()));
    for (place, plan) in PLANTERS.iter().enumerate() {
        clock.advance(TimeDelta::minutes(30));
        let (id, caller) = (practice.planter_id(place)?, practice.voice_of(plan.grower)?);
        let own = || planted.iter().filter(|it| it.planter_id == id);
        let acres: f64 = own().map(|it| it.plan.acres).sum();
        let iron =
            own().max_by_key(|it| it.on).map_or_else(|| Iron::of(plan), |it| it.iron.clone());
        let on = clock.now().date_naive();
        let visit = Visit { plan, iron: &iron, on, acres, measured: true, name: "August" };
        let path = format!("/v1/planters/{id}/inspections");
        caller.post(&path, &visit.body()?).await?.expect(201)?;
    }
    Ok(())
}

impl Visit<'_> {
    /// What is written down.
    fn body(&self) -> Result<Value> {
        let made: Makeup =
            serde_json::from_value(wire::makeup(self.plan)).map_err(|_broken| no_makeup())?;
        let planter = made.parse("/makeup", None).map_err(|_broken| no_makeup())?;
        let mut findings = Vec::new();
        for item in ITEMS.iter().filter(|item| item.needs.has(&planter)) {
            findings.extend(self.finding(item));
        }
        Ok(json!({
            "inspected_on": self.on,
            "findings": findings,
            "area_counter": acres(self.counter_in_march() + self.acres),
            "notes": format!("{} in the shed, on blocks.", self.name),
        }))
    }

    fn finding(&self, item: &Item) -> Vec<Value> {
        let code = item.code.code();
        match item.code {
            ItemCode::OpenerDiameter if self.measured => self.discs(),
            ItemCode::ArmPlayVertical => self.each_row(code, (0.3, 1.2), 0.25),
            ItemCode::GaugeWheelArmPlay => self.each_row(code, (0.02, 0.17), 0.03),
            ItemCode::SeedMeter => {
                vec![json!({"item": code, "measured": acres(self.since_test())})]
            }
            ItemCode::SeedTube => self.seed_tubes(),
            // Some things nobody got round to.
            ItemCode::Wiring | ItemCode::Vacuum | ItemCode::Firmer if self.rolled(code, 0.5) => {
                vec![]
            }
            _ => vec![json!({"item": code, "status": "pass"})],
        }
    }

    fn discs(&self) -> Vec<Value> {
        let worked = Worked { planter: self.plan.name, acres: self.acres, day: self.name };
        let one = |row: u16| {
            let inches = self.iron.tape(row, worked);
            json!({
                "item": "opener_diameter", "rows": [row],
                "measured": {"value": inches, "unit": "[in_i]"}
            })
        };
        (1..=self.plan.rows).map(one).collect()
    }

    /// Play of each row in inches, and what a thousand acres of the planter add.
    fn each_row(&self, code: &str, (low, high): (f64, f64), adds: f64) -> Vec<Value> {
        let one = |row: u16| {
            let words = format!("{} {code} {row}", self.plan.name);
            let inches = Dice::of(&words).between(low, high) + adds * self.acres / 1000.0;
            let read = (inches * 100.0).round() / 100.0;
            json!({"item": code, "rows": [row], "measured": {"value": read, "unit": "[in_i]"}})
        };
        (1..=self.plan.rows).map(one).collect()
    }

    fn seed_tubes(&self) -> Vec<Value> {
        let bad = self.frayed().filter(|_| self.name == "March");
        let good: Vec<u16> = (1..=self.plan.rows).filter(|row| Some(*row) != bad).collect();
        let mut said = vec![json!({"item": "seed_tube", "rows": good, "status": "pass"})];
        said.extend(bad.map(|row| {
            json!({"item": "seed_tube", "rows": [row], "status": "replace", "notes": "Frayed at the end."})
        }));
        said
    }

    /// The row whose seed tube is frayed, on some planters.
    fn frayed(&self) -> Option<u16> {
        let row = Dice::of(&format!("{} tube", self.plan.name)).pick(usize::from(self.plan.rows));
        let row = u16::try_from(row).ok().map(|row| row + 1);
        row.filter(|_| self.rolled("frayed", 0.4))
    }

    fn rolled(&self, what: &str, share: f64) -> bool {
        Dice::of(&format!("{} {what}", self.plan.name)).happens(share)
    }

    /// Meters that are worn were not on a stand for long.
    fn since_test(&self) -> f64 {
        let in_march = if self.plan.fault == Some(Fault::Meters) { 520.0 } else { 0.0 };
        in_march + self.acres
    }

    fn counter_in_march(&self) -> f64 {
        Dice::of(&format!("{} counter", self.plan.name)).between(1500.0, 9000.0).round()
    }
}

/// What the manual says, with prices: all of it invented.
fn manual() -> Value {
    let inches = |value: f64| json!({"value": value, "unit": "[in_i]"});
    json!({
        "blade_thickness": {"value": 3.5, "unit": "mm"},
        "parts": [
            {"item": "opener_diameter", "replace_at": inches(14.5), "price_each": 44, "source": "manual, page 88"},
            {"item": "coulter_diameter", "new_size": inches(17.0), "replace_at": inches(16.0), "price_each": 61},
            {"item": "closing_diameter", "new_size": inches(13.0), "replace_at": inches(12.0), "price_each": 72},
            {"item": "seed_tube", "price_each": 27.5}
        ],
        "currency": "USD"
    })
}

fn acres(value: f64) -> Value {
    json!({"value": value, "unit": "[acr_us]"})
}

fn no_makeup() -> DemoError {
    DemoError::Missing { pointer: "a make-up of the scenario".to_owned() }
}
