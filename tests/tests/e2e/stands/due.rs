//! Which stands are to be counted.

use api::auth::Scope;
use api::v1::stand_counts::due::stands_due;
use serde_json::json;
use tests::TestApp;

use super::{planted, stead, steady, thousandths};

#[tokio::test]
async fn what_was_not_counted_is_due_two_to_three_weeks_after_emergence() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let id = planted(&app.lead, &stead, "2027-03-25").await;
    let practice = app.lead.get("/v1/practice").await.json()["id"].as_str().expect("id").to_owned();
    let scope = Scope::of_practice(practice.parse().expect("an id"));
    let today = "2027-04-20".parse().expect("a day");
    let due = async || stands_due(&app.state().db, scope, today).await.expect("a list");
    let first = due().await;
    assert_eq!(first.len(), 1);
    assert_eq!(first[0].planting_id.to_string(), id);
    // 13 days to emergence where nobody knows a temperature, then two to three weeks.
    assert_eq!(first[0].from.to_string(), "2027-04-21");
    assert_eq!(first[0].to.to_string(), "2027-04-28");
    let farm = format!("/v1/farms/{}/temperatures", stead.farm);
    let mut days = vec![];
    for date in 26..=31 {
        days.push(super::day(&format!("2027-03-{date:02}"), 80.0, 55.0));
    }
    days.extend(steady(1, 12));
    app.lead.post(&farm, &json!({"days": days})).await.assert_status(200);
    let warm = due().await;
    let forecast = format!("/v1/plantings/{id}/emergence-forecast");
    let told = app.lead.post(&forecast, &json!({})).await.json();
    assert_eq!(told["count_by_temperature"], true, "{told}");
    assert_eq!(told["count_from"], warm[0].from.to_string(), "one answer for both");
    assert_eq!(told["count_to"], warm[0].to.to_string());
    let counts = format!("/v1/fields/{}/stand-counts", stead.field);
    app.lead.create(&counts, &thousandths("2027-04-18", &[30, 31])).await;
    assert!(due().await.is_empty(), "counted");
}
