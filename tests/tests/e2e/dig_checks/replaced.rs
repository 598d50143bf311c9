//! Digs for a revision that was replaced meanwhile: kept, judged, learned, and not decided.

use api::entities::dig_lessons;
use chrono::TimeDelta;
use sea_orm::{ColumnTrait, EntityTrait, PaginatorTrait, QueryFilter};
use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{dig_at, digs, issued, notices, revised, stored};

#[tokio::test]
async fn a_dig_for_a_replaced_revision_is_kept_and_says_so() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    app.clock.advance(TimeDelta::hours(1));
    let next = revised(&app, &stead).await;
    let sent = app.grower.post(&digs(&stead), &dig_at(30)).await.assert_status(201);
    let dig = sent.json();
    assert_eq!(dig["recommendation_id"], stead.recommendation.as_str(), "that it was sent to");
    assert_eq!(notices(&dig), ["revision_replaced"]);
    let notice = &dig["notices"][0];
    assert_eq!(notice["recommendation_id"], next.recommendation.as_str(), "the one that counts");
    let words = notice["words"].as_str().expect("words");
    assert!(words.starts_with("A later revision took the place of this one before"), "{words}");

    // Judged against what was really set: 30 psi are 220 lbf. The change stays with the dig.
    let change = &dig["proposal"]["change"];
    assert_eq!(change["kind"], "down_force");
    assert_eq!(change["from"], json!({"value": 220.0, "unit": "[lbf_av]"}));
    assert!(dig.get("adjustment_id").is_none(), "nothing waits for a decision");
    assert_eq!(stored(&app).await, (1, 0));
    let waiting = app.lead.get("/v1/adjustments?status=proposed").await.json();
    assert_eq!(waiting["items"], json!([]));
    use dig_lessons::{Column, Entity};
    let taught = Entity::find().filter(Column::Event.is_not_null());
    assert_eq!(taught.count(&app.state().db).await.expect("a count"), 1, "it teaches");

    let read = format!("/v1/dig-checks/{}", sent.id());
    assert_eq!(app.grower.get(&read).await.assert_status(200).json(), dig);
    let of = |stead: &Farmstead| {
        let (user, path) = (app.grower.clone(), digs(stead));
        async move { user.get(&path).await.assert_status(200).json()["items"].clone() }
    };
    assert_eq!(of(&stead).await, json!([dig]));
    assert_eq!(of(&next).await, json!([]));
}

#[tokio::test]
async fn what_was_not_reported_is_taken_from_the_revision_that_it_was_sent_to() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let path = format!("/v1/recommendations/{}", stead.recommendation);
    let sheet = app.grower.get(&path).await.assert_status(200).json();
    let heavier = json!({"goals": {"down_force": {"value": 300, "unit": "[lbf_av]"}}});
    let next = app.lead.create(&format!("{path}/revise"), &heavier).await;
    let next = Farmstead { recommendation: next, ..stead.clone() };
    next.issue(&app.lead).await;
    let mut body = dig_at(30);
    body["settings"] = json!({});
    let dig = app.grower.post(&digs(&stead), &body).await.assert_status(201).json();
    assert_eq!(notices(&dig), ["revision_replaced"]);
    let words = dig["notices"][0]["words"].as_str().expect("words");
    assert!(words.starts_with("A later revision had taken the place"), "{words}");
    assert_eq!(dig["proposal"]["change"]["from"], sheet["settings"]["down_force"]["per_row"]);
    assert!(dig["assumed"].to_string().contains("down force in use: as advised"));
}

#[tokio::test]
async fn the_timeline_shows_it_where_it_was_dug() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    app.clock.advance(TimeDelta::hours(1));
    let next = revised(&app, &stead).await;
    app.clock.advance(TimeDelta::hours(1));
    let late = app.grower.create(&digs(&stead), &dig_at(30)).await;
    let mut body = dig_at(30);
    body["dug_at"] = json!("2027-04-20T13:45:00Z");
    let dig = app.grower.create(&digs(&next), &body).await;
    for user in [&app.grower, &app.advisor] {
        let path = format!("/v1/fields/{}/timeline", stead.field);
        let page = user.get(&path).await.assert_status(200).json();
        let items = page["items"].as_array().expect("items");
        let kinds: Vec<_> = items.iter().map(|it| it["kind"].as_str().expect("a kind")).collect();
        assert_eq!(
            kinds[kinds.len() - 6..],
            [
                "dig_checked",
                "recommendation_made",
                "recommendation_issued",
                "recommendation_superseded",
                "dig_checked",
                "adjustment_proposed"
            ],
            "by the time at which it was dug, and without a proposal: {kinds:?}"
        );
        let (first, second) = (&items[kinds.len() - 6], &items[kinds.len() - 2]);
        assert_eq!((&first["id"], &second["id"]), (&json!(late), &json!(dig)));
        let says = first["summary"].as_str().expect("a summary");
        let note = "Note: a later revision counts, so this waits for no decision.";
        assert!(says.ends_with(note), "{says}");
        assert!(!second["summary"].as_str().expect("a summary").contains("Note:"));
    }
}
