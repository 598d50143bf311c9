//! The report of a season, against figures that were counted by hand.

use api::auth::role::Role;
use serde_json::{Value, json};
use tests::{Farmstead, TestApp, User};

use super::{dig, report};

/// Growers with a planter and a sheet each.
async fn growers(user: &User, count: usize) -> Vec<Farmstead> {
    let mut all = Vec::new();
    for n in 0..count {
        let body = json!({"name": format!("Grower {n}")});
        let grower = user.create("/v1/growers", &body).await;
        all.push(Farmstead::of_grower(user, &grower).await.with_sheet(user).await);
    }
    all
}

async fn acknowledge(user: &User, id: &str) {
    let path = format!("/v1/recommendations/{id}/acknowledge");
    user.send("POST", &path, &[("if-match", "*")], None).await.assert_status(200);
}

/// Count, of, and the limits to three digits.
fn share(it: &Value) -> (u64, u64, f64, f64) {
    let whole = |name: &str| it[name].as_u64().unwrap_or_else(|| panic!("no {name}: {it}"));
    let real = |name: &str| it[name].as_f64().unwrap_or_else(|| panic!("no {name}: {it}"));
    (whole("count"), whole("of"), real("low"), real("high"))
}

#[tokio::test]
async fn the_figures_are_those_that_were_counted_by_hand() {
    let app = TestApp::start().await;
    let all = growers(&app.lead, 4).await;
    acknowledge(&app.lead, &all[0].recommendation).await;
    // The first field: out, then in. The second: in. The third: out. The fourth: nobody dug.
    let out = dig(&app.lead, &all[0], "2027-04-20T12:05:00Z", false).await;
    let mut digs = vec![out.clone()];
    digs.push(dig(&app.lead, &all[0], "2027-04-20T12:10:00Z", true).await);
    digs.push(dig(&app.lead, &all[1], "2027-04-20T12:05:00Z", true).await);
    digs.push(dig(&app.lead, &all[2], "2027-04-20T12:05:00Z", false).await);
    let proposed = digs.iter().filter(|dig| dig["adjustment_id"].is_string()).count();
    let adjustment = out["adjustment_id"].as_str().expect("an adjustment");
    let accept = format!("/v1/adjustments/{adjustment}/accept");
    let issue = json!({"issue": true});
    app.lead.send("POST", &accept, &[("if-match", "*")], Some(&issue)).await.assert_status(200);

    let whole = report(&app.lead, 2027, "").await;
    let about = &whole["about"];
    assert_eq!(
        (&about["of"], &about["practice"]),
        (&json!("practice"), &json!("Prairie Advisors"))
    );
    for (name, count) in [("growers", 4), ("planters", 4), ("fields", 4), ("digs", 4)] {
        assert_eq!(about[name], count, "{name}");
    }
    assert_eq!(about["so_far"]["words"], "day 110 of 365: figures so far");
    let advice = &whole["recommendations"];
    assert_eq!((&advice["issued"], &advice["revisions"]), (&json!(4), &json!(5)));
    // Wilson's limits, worked out beside: R's binom.confint(1, 4) and (3, 4).
    assert_eq!(share(&advice["seen"]), (1, 4, 0.046, 0.699));
    assert_eq!(share(&advice["dug"]), (3, 4, 0.301, 0.954));
    assert_eq!(advice["applied"], advice["dug"], "no planting was reported");
    let window = &whole["in_window"]["all"];
    assert_eq!(share(&window["first_pass"]), (1, 3, 0.061, 0.792));
    assert_eq!(share(&window["after_adjustment"]), (2, 3, 0.208, 0.939));
    assert_eq!((&window["dug_again"]["count"], &window["dug_again"]["of"]), (&json!(1), &json!(1)));
    assert_eq!((&window["fields_dug"], &window["few_growers"]), (&json!(3), &json!(true)));
    let soil = &whole["in_window"]["by_soil"];
    assert_eq!(soil.as_array().expect("a list").len(), 1);
    assert_eq!((&soil[0]["soil"], &soil[0]["shares"]), (&json!("medium"), window));
    assert_eq!(whole["in_window"]["by_cover"][0]["cover"], "living");

    let changes = &whole["adjustments"];
    assert_eq!(changes["accepted"], 1);
    assert_eq!(changes["proposed"], proposed, "{changes}");
    assert_eq!(changes["open"], proposed - 1);
    let force = json!({
        "cause": "too_little_force", "proposed": 2, "accepted": 1, "declined": 0
    });
    assert_eq!(changes["causes"][0], force);
    let weeks = whole["weeks"].as_array().expect("weeks");
    assert_eq!(weeks.len(), 1);
    assert_eq!(weeks[0]["starts"], "2027-04-19", "a Monday");
    assert_eq!((&weeks[0]["issued"], &weeks[0]["digs"]), (&json!(5), &json!(4)));
    assert_eq!(share(&weeks[0]["in_window"]), (2, 3, 0.208, 0.939));

    // Four rows of five seeds a dig: three first digs, three last digs.
    assert_eq!(whole["depths"]["first_within"], json!({"count": 20, "of": 60}));
    assert_eq!(whole["depths"]["last_within"], json!({"count": 40, "of": 60}));
    let bins = whole["depths"]["bins"].as_array().expect("bins");
    let seeds = |name: &str| bins.iter().filter_map(|bin| bin[name].as_u64()).sum::<u64>();
    assert_eq!((seeds("first"), seeds("last")), (60, 60));
    let at_target = bins.iter().find(|bin| bin["off"]["value"] == 0.0).expect("seed at depth");
    assert_eq!((&at_target["first"], &at_target["last"]), (&json!(12), &json!(24)));
    assert_eq!(whole["learned"][0]["soil_and_cover"], "medium soil under living cover");
    assert_eq!(whole["learned"][0]["digs"], 4);
    assert_eq!(whole["fields"], json!([]), "fields are listed for a grower or a planter");
    assert_eq!(whole["money_and_time"]["money"], json!([]), "nobody entered a price");
}

#[tokio::test]
async fn costs_are_added_up_by_currency_and_changed_with_their_planting() {
    let app = TestApp::start().await;
    let all = growers(&app.lead, 2).await;
    let mut plantings = Vec::new();
    for (grower, amount, currency) in [(0, 1000.5, "USD"), (0, 20.0, "EUR"), (1, 99.5, "USD")] {
        let body = json!({
            "planter_id": all[grower].planter, "planted_on": "2027-04-20", "crop": "corn",
            "cost": {"amount": amount, "currency": currency}
        });
        let path = format!("/v1/fields/{}/plantings", all[grower].field);
        plantings.push(app.lead.create(&path, &body).await);
    }
    let repair = json!({
        "item": "seed_tube", "rows": [2], "repaired_on": "2027-03-20", "new_part": true,
        "cost": {"amount": 38.0, "currency": "USD"}
    });
    let path = format!("/v1/planters/{}/repairs", all[0].planter);
    let mended = app.lead.post(&path, &repair).await.assert_status(201).json();
    assert_eq!(mended["cost"], repair["cost"]);
    let words = "planting: seed, trip and work";
    let line = |words: &str, currency: &str, amount: f64, entries: u32| json!({"words": words, "currency": currency, "amount": amount, "entries": entries});
    let shed = line("repairs: parts and work", "USD", 38.0, 1);
    let whole = report(&app.lead, 2027, "").await;
    let all_of_it = [line(words, "EUR", 20.0, 1), line(words, "USD", 1100.0, 2), shed];
    assert_eq!(whole["money_and_time"]["money"], json!(all_of_it));
    let other = format!("?grower_id={}", all[1].grower);
    let own = report(&app.lead, 2027, &other).await;
    assert_eq!(own["money_and_time"]["money"], json!([line(words, "USD", 99.5, 1)]));
    assert_eq!(report(&app.lead, 2026, "").await["money_and_time"]["money"], json!([]));
    let path = format!("/v1/plantings/{}", plantings[2]);
    app.lead.patch(&path, "\"1\"", &json!({"cost": null})).await.assert_status(200);
    let own = report(&app.lead, 2027, &other).await;
    assert_eq!(own["money_and_time"]["money"], json!([]));
}

#[tokio::test]
async fn a_planting_that_was_reported_is_evidence_too_with_land_and_hours() {
    let app = TestApp::start().await;
    let all = growers(&app.lead, 2).await;
    let body = json!({
        "planter_id": all[0].planter, "planted_on": "2027-04-20", "crop": "corn",
        "recommendation_id": all[0].recommendation,
        "area": {"value": 40, "unit": "[acr_us]"}, "hours": 2
    });
    let path = format!("/v1/fields/{}/plantings", all[0].field);
    let planting = app.lead.create(&path, &body).await;
    let whole = report(&app.lead, 2027, "").await;
    assert_eq!(whole["recommendations"]["applied"]["count"], 1);
    assert_eq!(whole["recommendations"]["dug"]["count"], 0);
    let money = &whole["money_and_time"];
    assert_eq!((&money["plantings"], &money["hours"]), (&json!(1), &json!(2.0)));
    assert_eq!(money["planted"], json!({"value": 40.0, "unit": "[acr_us]"}));
    assert_eq!(money["area_per_hour"], json!({"value": 20.0, "unit": "[acr_us]"}));
    let other = format!("?grower_id={}", all[1].grower);
    assert_eq!(report(&app.lead, 2027, &other).await["money_and_time"]["plantings"], 0);
    app.lead.delete(&format!("/v1/plantings/{planting}")).await.assert_status(204);
    let whole = report(&app.lead, 2027, "").await;
    assert_eq!(whole["recommendations"]["applied"]["count"], 0);
}

#[tokio::test]
async fn a_report_is_of_one_grower_planter_or_advisor() {
    let app = TestApp::start().await;
    let all = growers(&app.lead, 2).await;
    dig(&app.lead, &all[0], "2027-04-20T12:05:00Z", true).await;
    let of = |name: &str, id: &str| format!("?{name}={id}");
    let grower = report(&app.lead, 2027, &of("grower_id", &all[0].grower)).await;
    assert_eq!(grower["about"]["subject"]["name"], "Grower 0");
    assert_eq!((&grower["about"]["fields"], &grower["about"]["digs"]), (&json!(1), &json!(1)));
    let line = &grower["fields"][0];
    assert_eq!(line["field"]["id"], all[0].field.as_str());
    assert_eq!((&line["first_inside"], &line["last_inside"]), (&json!(true), &json!(true)));
    let planter = report(&app.lead, 2027, &of("planter_id", &all[1].planter)).await;
    assert_eq!(planter["about"]["of"], "planter");
    assert_eq!((&planter["about"]["fields"], &planter["about"]["digs"]), (&json!(1), &json!(0)));
    let nobodys = report(&app.lead, 2027, &of("advisor_id", &app.advisor.account_id)).await;
    assert_eq!(nobodys["about"]["fields"], 0);
    let his = json!({"advisor_id": app.advisor.account_id});
    app.lead.patch(&format!("/v1/growers/{}", all[0].grower), "*", &his).await.assert_status(200);
    let his = report(&app.lead, 2027, &of("advisor_id", &app.advisor.account_id)).await;
    assert_eq!((&his["about"]["of"], &his["about"]["fields"]), (&json!("advisor"), &json!(1)));

    let two = format!("?grower_id={}&planter_id={}", all[0].grower, all[0].planter);
    let refused = app.lead.get(&format!("/v1/seasons/2027/report{two}")).await;
    let refused = refused.assert_problem(422, "invalid_request");
    refused.assert_member("?grower_id");
    refused.assert_member("?planter_id");
    for season in ["1999", "27", "summer"] {
        let path = format!("/v1/seasons/{season}/report");
        app.lead.get(&path).await.assert_problem(404, "not_found");
    }
    let si = report(&app.lead, 2027, "?units=si").await;
    assert_eq!(si["depths"]["bin"], json!({"value": 3.175, "unit": "mm"}));
    let empty = report(&app.lead, 2031, "").await;
    assert_eq!(empty["about"]["so_far"]["words"], "the season has not begun");
    assert_eq!(
        empty["recommendations"],
        json!({"issued": 0, "revisions": 0}),
        "no share of nothing"
    );
}

#[tokio::test]
async fn advisors_are_set_beside_each_other_only_with_five_growers() {
    let app = TestApp::start().await;
    let colleague = app.someone("colleague", Role::Advisor, None).await;
    let all = growers(&app.lead, 9).await;
    for (n, stead) in all.iter().enumerate() {
        let advisor = if n < 5 { &app.advisor } else { &colleague };
        let his = json!({"advisor_id": advisor.account_id});
        let path = format!("/v1/growers/{}", stead.grower);
        app.lead.patch(&path, "*", &his).await.assert_status(200);
        dig(&app.lead, stead, "2027-04-20T12:05:00Z", n % 2 == 0).await;
    }
    let whole = report(&app.lead, 2027, "").await;
    let lines = whole["advisors"].as_array().expect("lines");
    assert_eq!(lines.len(), 2);
    assert_eq!(lines[0]["advisor"]["name"], "advisor", "by name, not by share");
    assert_eq!(lines[0]["shares"]["first_pass"]["of"], 5);
    assert_eq!(lines[0]["shares"]["first_pass"]["count"], 3);
    assert_eq!(lines[1]["growers"], 4);
    assert!(lines[1].get("shares").is_none(), "four growers are too few: {}", lines[1]);
    assert_eq!(whole["in_window"]["all"]["few_growers"], false);

    // An advisor who sees only the growers that he looks after gets a report of them.
    let setting = json!({"advisors_see": "assigned"});
    app.lead.patch("/v1/practice", "*", &setting).await.assert_status(200);
    let his = report(&colleague, 2027, "").await;
    assert_eq!((&his["about"]["of"], &his["about"]["growers"]), (&json!("advisor"), &json!(4)));
    assert_eq!(his["about"]["subject"]["name"], "colleague");
    assert_eq!(his["advisors"], json!([]));
    for of in [
        format!("?grower_id={}", all[0].grower),
        format!("?planter_id={}", all[0].planter),
        format!("?advisor_id={}", app.advisor.account_id),
    ] {
        let path = format!("/v1/seasons/2027/report{of}");
        colleague.get(&path).await.assert_problem(404, "not_found");
    }
    let seasons = colleague.get("/v1/seasons").await.assert_status(200).json();
    assert_eq!(seasons["items"][0]["fields"], 4);
}

#[tokio::test]
async fn who_left_counts_without_a_name() {
    let app = TestApp::start().await;
    let all = growers(&app.lead, 2).await;
    dig(&app.lead, &all[0], "2027-04-20T12:05:00Z", true).await;
    let path = format!("/v1/growers/{}/erasure", all[0].grower);
    let reason = json!({"reason": "asked by letter"});
    let any = [("if-match", "*")];
    app.lead.send("POST", &path, &any, Some(&reason)).await.assert_status(200);
    let whole = report(&app.lead, 2027, "").await;
    assert_eq!(
        (&whole["about"]["growers"], &whole["about"]["growers_left"]),
        (&json!(2), &json!(1))
    );
    assert_eq!(whole["about"]["digs"], 1, "digs stay");
    assert!(!whole.to_string().contains("Grower 0"), "{whole}");
    let path = format!("/v1/growers/{}/erasure", all[1].grower);
    app.lead.send("POST", &path, &any, Some(&reason)).await.assert_status(200);
    let whole = report(&app.lead, 2027, "").await;
    assert_eq!(whole["about"]["growers"], 1, "nobody dug there, so nothing is left of it");
}
