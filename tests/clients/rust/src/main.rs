//! The main job through the generated Rust client: from signing in to the sheet after the dig.

use std::env::var;

use chrono::Utc;
use dibble_client::apis::configuration::Configuration;
use dibble_client::apis::{
    adjustments_api, calibrations_api, conditions_api, dig_checks_api, farms_api, fields_api,
    growers_api, planters_api, recommendations_api as sheets, sessions_api,
};
use dibble_client::models::{self as m, RecommendationStatus::Acknowledged};
use serde_json::{Value, from_value, json};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let tag = |version: i32| format!("\"{version}\"");
    let job: Value = serde_json::from_str(&std::fs::read_to_string("tests/clients/job.json")?)?;
    let mut c = Configuration { base_path: var("DIBBLE_URL")?, ..Configuration::default() };
    let who = m::SignIn::new(var("DIBBLE_EMAIL")?, var("DIBBLE_PASSWORD")?);
    c.bearer_access_token = Some(sessions_api::create_session(&c, who)?.access_token);
    let grower = m::GrowerIn::new("Served by Rust".into());
    let grower = growers_api::create_grower(&c, grower, None)?.id;
    let farm = farms_api::create_farm(&c, m::FarmIn::new(grower, "Home farm".into()), None)?.id;
    let field = m::FieldIn::new(farm, "North forty".into());
    let field = fields_api::create_field(&c, field, None, None)?.id;
    let makeup = from_value(job["makeup"].clone())?;
    let planter = m::PlanterIn::new(grower, makeup, "The eight-row".into());
    let planter = planters_api::create_planter(&c, planter, None)?.id;
    let points = from_value(job["points"].clone())?;
    let bags = m::CalibrationIn::new(Utc::now().date_naive(), points);
    calibrations_api::create_calibration(&c, &planter.to_string(), bags, None, None)?;
    let mut seen = job["conditions"].clone();
    seen["observed_at"] = json!(Utc::now());
    conditions_api::create_conditions_report(&c, &field.to_string(), from_value(seen)?, None)?;
    let mut wanted = m::RecommendationIn::new(field, planter);
    wanted.goals = Some(from_value(job["goals"].clone())?);
    let draft = sheets::create_recommendation(&c, wanted, None, None)?;
    let force = &draft.settings.down_force.per_row;
    assert!(force.unit == "[lbf_av]" && force.value > 0.0 && force.value < 1000.0, "{force:?}");
    let id = draft.id.to_string();
    let issued = sheets::issue_recommendation(&c, &id, &tag(draft.version), None, None)?;
    let sheet = sheets::acknowledge_recommendation(&c, &id, &tag(issued.version), None, None)?;
    assert_eq!(sheet.status, Acknowledged);
    let mut dig = job["dig"].clone();
    dig["dug_at"] = json!(Utc::now());
    let check = dig_checks_api::create_dig_check(&c, &id, from_value(dig)?, None, Some("dig-1"))?;
    let reading = &check.findings.first().ok_or("nothing was found")?.reading;
    let id = check.adjustment_id.ok_or("no change is proposed")?.to_string();
    let change = adjustments_api::get_adjustment(&c, &id, None)?;
    let yes = m::AcceptIn { issue: Some(true), ..m::AcceptIn::default() };
    let version = tag(change.version);
    let change = adjustments_api::accept_adjustment(&c, &id, &version, yes, None, None)?;
    let id = change.next_recommendation_id.ok_or("no next sheet")?.to_string();
    let next = sheets::get_recommendation(&c, &id, None)?;
    let more = &next.settings.down_force.per_row;
    assert_eq!((next.revision, &more.unit), (sheet.revision + 1, &force.unit));
    assert!(more.value > force.value, "{more:?}");
    println!("Rust: {} lbf, dug: {reading}; now {} lbf", force.value, more.value);
    Ok(())
}
