//! What is shown, and to whom.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::{dig, dig_at, issued, known, neighbour, path, range, width};

#[tokio::test]
async fn digs_teach_their_field_much_and_a_planter_next_door_a_little() {
    let app = TestApp::start().await;
    let (own, other) = (issued(&app).await, neighbour(&app).await);
    let before = known(&app.grower, &own).await;
    assert_eq!(before["planter_id"], own.planter.as_str());
    assert_eq!((&before["season"], &before["digs"]), (&json!(2027), &json!(0)));
    assert_eq!(before["classes"], json!([]), "nobody dug");
    assert!(before.get("last_dug_at").is_none());
    let (_, nothing, _) = range(&before["without_digs"]);

    dig(&app.grower, &own, &dig_at(30)).await;
    let one = known(&app.grower, &own).await;
    dig(&app.grower, &own, &dig_at(45)).await;
    let two = known(&app.grower, &own).await;
    assert_eq!((&two["digs"], &two["digs_that_teach_nothing"]), (&json!(2), &json!(0)));
    assert_eq!(two["last_dug_at"], "2027-04-20T12:45:00Z");
    assert_eq!(two["without_digs"], before["without_digs"]);
    let class = &two["classes"][0];
    assert_eq!((&class["soil"], &class["cover"]), (&json!("medium"), &json!("living")));
    assert_eq!(class["soil_and_cover"], "medium soil under living cover");
    let field = &class["fields"][0];
    assert_eq!((&field["field_id"], &field["name"]), (&json!(own.field), &json!("North forty")));
    assert_eq!(field["last_dug_at"], "2027-04-20T12:45:00Z");
    let counts = json!({
        "here_this_season": 2, "field": 2, "planter": 2, "soil_and_cover": 2, "practice": 2
    });
    assert_eq!(field["digs"], counts);
    let words = field["words"].as_str().expect("words");
    let wanted = "from 2 digs on this planter in medium soil under living cover, 2 of them here \
        this season: soil asks ";
    assert!(words.starts_with(wanted), "{words}");

    // Free wheels and shallow seed: the soil asks for more. Each step away learns less.
    let next_door = known(&app.lead, &other).await;
    let there = &next_door["classes"][0];
    assert_eq!((&next_door["digs"], &there["fields"]), (&json!(0), &json!([])));
    assert_eq!(
        (&there["digs"]["planter"], &there["digs"]["soil_and_cover"]),
        (&json!(0), &json!(2))
    );
    assert!(
        there["words"].as_str().expect("words").starts_with("from 2 digs on other planters in")
    );
    let middle = |it: &Value| range(&it["resistance"]).1;
    let steps = [middle(field), middle(class), middle(there), nothing];
    assert!(steps.windows(2).all(|pair| pair[0] > pair[1]), "{steps:?}");
    let widths = [
        width(&field["resistance"]),
        width(&class["resistance"]),
        width(&there["resistance"]),
        width(&before["without_digs"]),
    ];
    assert!(widths.windows(2).all(|pair| pair[0] < pair[1]), "{widths:?}");
    let first = &one["classes"][0]["fields"][0]["resistance"];
    assert!(width(&field["resistance"]) < width(first), "a second dig says more");
}

#[tokio::test]
async fn what_a_planter_learned_is_for_its_grower_and_the_practice() {
    let app = TestApp::start().await;
    let (own, other) = (issued(&app).await, neighbour(&app).await);
    dig(&app.grower, &own, &dig_at(30)).await;
    let whole = known(&app.lead, &own).await;
    assert_eq!(known(&app.grower, &own).await, whole);
    assert_eq!(known(&app.read_only, &own).await, whole);
    app.grower.get(&path(&other)).await.assert_problem(404, "not_found");
    app.stranger.get(&path(&own)).await.assert_problem(404, "not_found");
    let theirs = Farmstead::make(&app.stranger, "Their grower").await;
    let theirs = known(&app.stranger, &theirs).await;
    assert_eq!(theirs["classes"], json!([]), "nothing crosses from practice to practice");
}

#[tokio::test]
async fn another_season_can_be_asked_about_and_one_ahead_can_not() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    dig(&app.grower, &stead, &dig_at(30)).await;
    let this = known(&app.lead, &stead).await;
    let at = |season: &str| format!("{}?season={season}", path(&stead));
    let last = app.lead.get(&at("2026")).await.assert_status(200).json();
    let field = |it: &Value| it["classes"][0]["fields"][0].clone();
    assert_eq!(last["season"], 2026);
    assert_eq!(field(&last)["digs"]["here_this_season"], 0);
    assert_eq!(field(&last)["digs"]["field"], 1);
    assert!(width(&field(&last)["resistance"]) > width(&field(&this)["resistance"]));
    assert_eq!(app.lead.get(&at("2027")).await.json(), this);
    for season in ["2028", "1999", "-1", "70000"] {
        let answer = app.lead.get(&at(season)).await.assert_problem(422, "invalid_request");
        assert_eq!(answer.assert_member("?season")["allowed"], "a year from 2000 to 2027");
    }
    app.lead.get(&at("soon")).await.assert_problem(422, "invalid_request");
    let unknown = format!("{}?fruit=1", path(&stead));
    app.lead.get(&unknown).await.assert_problem(422, "invalid_request");
}

#[tokio::test]
async fn a_field_shows_the_planters_that_were_dug_behind_in_it() {
    let app = TestApp::start().await;
    let (own, other) = (issued(&app).await, neighbour(&app).await);
    let path = |field: &str| format!("/v1/fields/{field}/resistance");
    let nothing = app.grower.get(&path(&own.field)).await.assert_status(200).json();
    assert_eq!((&nothing["digs"], &nothing["planters"]), (&json!(0), &json!([])));
    let mut planter = Farmstead::planter_body(&own.grower);
    planter["name"] = json!("The old one");
    let mut old = own.clone();
    old.planter = app.lead.create("/v1/planters", &planter).await;
    let old = old.with_sheet(&app.lead).await;
    let mut plain = dig_at(30);
    plain["settings"] = json!({"down_force": {"value": 220, "unit": "[lbf_av]"}});
    dig(&app.grower, &old, &plain).await;
    dig(&app.grower, &own, &dig_at(40)).await;
    let field = app.grower.get(&path(&own.field)).await.assert_status(200).json();
    assert_eq!((&field["digs"], &field["season"]), (&json!(2), &json!(2027)));
    let names: Vec<&Value> =
        field["planters"].as_array().expect("a list").iter().map(|it| &it["name"]).collect();
    assert_eq!(names, ["The eight-row", "The old one"], "the last dug first");
    for (shown, stead) in field["planters"].as_array().expect("a list").iter().zip([&own, &old]) {
        let planter = known(&app.grower, stead).await;
        let there = &planter["classes"][0]["fields"][0];
        for member in ["resistance", "digs", "last_dug_at", "words"] {
            assert_eq!(shown[member], there[member], "{member}");
        }
        assert_eq!(shown["digs"]["planter"], 1);
    }
    assert_eq!(field["without_digs"], nothing["without_digs"]);
    app.grower.get(&path(&other.field)).await.assert_problem(404, "not_found");
    app.stranger.get(&path(&own.field)).await.assert_problem(404, "not_found");
    let ahead = format!("{}?season=2028", path(&own.field));
    app.lead.get(&ahead).await.assert_problem(422, "invalid_request").assert_member("?season");
}
