//! Who sees which adjustments, in which order.

use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{decide, dug, path};

#[tokio::test]
async fn a_grower_sees_his_own_and_no_draft_behind_it() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let neighbour = app.lead.create("/v1/growers", &json!({"name": "A neighbour"})).await;
    let theirs = Farmstead::of_grower(&app.lead, &neighbour).await;
    let theirs = theirs.with_sheet(&app.lead).await.with_dig(&app.lead).await;
    app.grower.get(&path(&theirs.adjustment)).await.assert_problem(404, "not_found");
    app.stranger.get(&path(&theirs.adjustment)).await.assert_problem(404, "not_found");
    let own = app.grower.get("/v1/adjustments").await.assert_status(200).json();
    assert_eq!(own["items"].as_array().map(Vec::len), Some(1));
    assert_eq!(own["items"][0]["id"], stead.adjustment.as_str());
    for step in ["accept", "decline"] {
        let answer = decide(&app.grower, &stead.adjustment, step, "*", Some(json!({}))).await;
        answer.assert_problem(403, "forbidden");
    }
    let accepted = decide(&app.lead, &stead.adjustment, "accept", "*", None).await;
    let next = accepted.assert_status(200).json()["next_recommendation_id"].clone();
    let seen = app.grower.get(&path(&stead.adjustment)).await.assert_status(200).json();
    assert_eq!(seen["status"], "accepted");
    assert!(seen.get("next_recommendation_id").is_none(), "it is a draft: {seen}");
    let next = next.as_str().expect("id").to_owned();
    Farmstead { recommendation: next.clone(), ..stead.clone() }.issue(&app.lead).await;
    let seen = app.grower.get("/v1/adjustments").await.assert_status(200).json();
    assert_eq!(seen["items"][0]["next_recommendation_id"], next.as_str());
}

#[tokio::test]
async fn adjustments_are_filtered_and_paged() {
    let app = TestApp::start().await;
    let stead = dug(&app).await;
    let second = stead.clone().with_dig(&app.grower).await;
    let other = app.lead.create("/v1/growers", &json!({"name": "A neighbour"})).await;
    let other = Farmstead::of_grower(&app.lead, &other).await;
    let other = other.with_sheet(&app.lead).await.with_dig(&app.lead).await;
    let no = Some(json!({"reason": "No."}));
    decide(&app.lead, &second.adjustment, "decline", "*", no).await.assert_status(200);
    let ids = |query: String| {
        let user = app.read_only.clone();
        async move {
            let page = user.get(&format!("/v1/adjustments{query}")).await.assert_status(200).json();
            let items = page["items"].as_array().expect("items").clone();
            let ids: Vec<String> =
                items.iter().map(|it| it["id"].as_str().expect("id").to_owned()).collect();
            (ids, page["next_cursor"].as_str().map(str::to_owned))
        }
    };
    let (one, two, three) = (stead.adjustment, second.adjustment, other.adjustment);
    let all = vec![one.clone(), two.clone(), three.clone()];
    assert_eq!(ids(String::new()).await, (all, None));
    assert_eq!(ids("?status=proposed".into()).await.0, [one.clone(), three.clone()]);
    assert_eq!(ids("?status=declined".into()).await.0, std::slice::from_ref(&two));
    assert_eq!(ids("?status=accepted".into()).await.0, [""; 0]);
    assert_eq!(ids(format!("?field_id={}", other.field)).await.0, std::slice::from_ref(&three));
    let of_sheet = format!("?recommendation_id={}&limit=1", stead.recommendation);
    let (first, cursor) = ids(of_sheet.clone()).await;
    assert_eq!(first, [one]);
    let rest = format!("{of_sheet}&cursor={}", cursor.expect("a next page"));
    assert_eq!(ids(rest).await, (vec![two], None));
    for (query, name) in
        [("?status=open", "?status"), ("?limit=0", "?limit"), ("?cursor=x", "?cursor")]
    {
        let answer = app.lead.get(&format!("/v1/adjustments{query}")).await;
        answer.assert_problem(422, "invalid_request").assert_member(name);
    }
}
