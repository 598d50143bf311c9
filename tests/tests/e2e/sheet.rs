//! The page in the cab.

use serde_json::{Value, json};
use tests::{Answer, Farmstead, TestApp, User};

async fn sheet(user: &User, id: &str, units: &str) -> Answer {
    user.get(&format!("/v1/recommendations/{id}/sheet?units={units}")).await.assert_status(200)
}

/// The text as a browser shows it.
fn unescaped(html: &str) -> String {
    html.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}

#[tokio::test]
async fn the_sheet_says_what_the_recommendation_says() {
    let app = TestApp::start().await;
    let stead = Farmstead::make(&app.lead, "Miller & Sons").await;
    let told = app.lead.get(&format!("/v1/recommendations/{}", stead.recommendation)).await.json();
    let page = sheet(&app.lead, &stead.recommendation, "us").await;
    let text = unescaped(&page.text);
    assert_eq!(page.header("content-type"), "text/html; charset=utf-8");
    for name in ["Prairie Advisors", "Miller & Sons", "Home farm", "North forty", "The eight-row"] {
        assert!(text.contains(name), "no {name}");
    }
    let force = &told["settings"]["down_force"];
    for number in [
        format!("{} psi", force["set_on_planter"]["pressure"]["value"].as_f64().unwrap()),
        format!("{} lbf", force["per_row"]["value"].as_f64().unwrap()),
        format!("{:.0} %", force["chance_in_window"].as_f64().unwrap() * 100.0),
        format!("{} in", told["settings"]["depth"]["value"]["value"].as_f64().unwrap()),
        format!("{} mph", told["settings"]["speed"]["value"]["value"].as_f64().unwrap()),
    ] {
        assert!(text.contains(&number), "no {number} in {text}");
    }
    for state in force["as_box_empties"].as_array().unwrap() {
        let load = format!("{} lbf", state["load"]["value"].as_f64().unwrap());
        assert!(text.contains(&load), "no {load}");
    }
    let cautions = told["cautions"].as_array().unwrap();
    assert!(cautions.len() >= 6);
    for caution in cautions {
        assert!(text.contains(caution["text"].as_str().unwrap()), "no {caution}");
    }
    assert!(text.contains("PLANT") && text.contains("come before this sheet"));
    assert!(text.contains("DRAFT, not issued"), "a draft says so");
}

#[tokio::test]
async fn nothing_on_the_sheet_can_run_or_be_fetched() {
    let app = TestApp::start().await;
    let stead =
        Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_draft(&app.lead).await;
    let hostile = "<script>alert(1)</script><img src=x onerror=alert(1)>\"'&";
    let field = format!("/v1/fields/{}", stead.field);
    app.lead.patch(&field, "*", &json!({"name": hostile})).await.assert_status(200);
    let wanted = stead.recommendation_body(&json!({"instructions": [hostile]}));
    let id = app.lead.create("/v1/recommendations", &wanted).await;
    let page = sheet(&app.lead, &id, "us").await;
    let low = page.text.to_lowercase();
    for element in ["<script", "<img", "<link", "<iframe", "http:", "https:", "url(", "@import"] {
        assert!(!low.contains(element), "{element} is on the sheet");
    }
    assert!(unescaped(&page.text).contains("<script>alert(1)"), "the name is there, as text");
    let policy = page.header("content-security-policy");
    let nonce = policy.split("'nonce-").nth(1).and_then(|rest| rest.split('\'').next()).unwrap();
    assert!(policy.starts_with("default-src 'none'; style-src 'nonce-"), "{policy}");
    assert!(page.text.contains(&format!("<style nonce=\"{nonce}\">")));
    let again = sheet(&app.lead, &id, "us").await;
    assert_ne!(again.header("content-security-policy"), policy, "each answer has its own number");
}

#[tokio::test]
async fn the_sheet_comes_in_the_units_that_are_asked_for() {
    let app = TestApp::start().await;
    let stead =
        Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_draft(&app.lead).await;
    let page = sheet(&app.lead, &stead.recommendation, "si").await.text;
    for unit in [" N<", " kPa<", " mm<", " km/h<"] {
        assert!(page.contains(unit), "no {unit}");
    }
    for unit in [" psi<", " mph<", " in<"] {
        assert!(!page.contains(unit), "{unit} on a metric sheet");
    }
    let path = format!("/v1/recommendations/{}/sheet", stead.recommendation);
    app.lead.get(&format!("{path}?units=imperial")).await.assert_problem(422, "invalid_request");
    app.grower.get(&path).await.assert_problem(404, "not_found");
}

/// Springs that are far too weak, a wing that lifts, long names, every kind of line.
async fn worst_case(app: &TestApp) -> (Farmstead, String) {
    let mut stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let long = "The long-named one down by the river past the second bridge where the road turns ";
    let mut planter = Farmstead::planter_body(&app.own_grower_id);
    planter["name"] = json!(format!("{long} sixteen-row")[..90].trim());
    let makeup = &mut planter["makeup"];
    makeup["rows"] = json!(16);
    makeup["unit"]["opener"]["measured"] = json!({"value": 14.4, "unit": "[in_i]"});
    makeup["unit"].as_object_mut().unwrap().remove("arms");
    makeup["unit"].as_object_mut().unwrap().remove("weight");
    makeup["unit"]["coulter"] = json!({"mount": "unit"});
    makeup["down_force"] = json!({"kind": "spring", "notches": [
        {"label": "1", "force": {"value": 0, "unit": "[lbf_av]"}},
        {"label": "2", "force": {"value": 60, "unit": "[lbf_av]"}}
    ]});
    makeup["frame"] = json!([{
        "name": "left wing with the liquid tank and the markers", "rows": 8,
        "empty_weight": {"value": 500, "unit": "[lbf_av]"},
        "on_hitch": {"value": 0, "unit": "[lbf_av]"}, "wheels": 2
    }]);
    makeup["closing_owned"] = json!(["two_spiked", "finger"]);
    stead.planter = app.lead.create("/v1/planters", &planter).await;
    let field = json!({"name": format!("{long}{long}")[..110].trim()});
    app.lead.patch(&format!("/v1/fields/{}", stead.field), "*", &field).await.assert_status(200);
    let mut seen = Farmstead::conditions_body();
    seen["moisture"] = json!("dry");
    seen["penetration"] = json!({"value": 350, "unit": "[psi]"});
    seen["rain"] = json!({"value": 1.5, "unit": "[in_i]"});
    for member in ["cover", "previous_yield_bu_ac", "texture", "ribbon"] {
        seen.as_object_mut().unwrap().remove(member);
    }
    seen["cover"] = json!({"species": "cereal_rye"});
    app.lead.create(&format!("/v1/fields/{}/conditions", stead.field), &seen).await;
    let line = "Stop at the waterway, fold the left wing, look at every cleaner for wrapped rye, and \
                call before you start.";
    let wanted = stead.recommendation_body(&json!({
        "speed": {"value": 7, "unit": "[mi_i]/h"},
        "seeding": {"kind": "stand"},
        "instructions": [line, line, line, line, line]
    }));
    let id = app.lead.create("/v1/recommendations", &wanted).await;
    (stead, id)
}

#[tokio::test]
async fn a_planter_that_cannot_reach_says_so_with_what_helps() {
    let app = TestApp::start().await;
    let (_stead, id) = worst_case(&app).await;
    let told = app.lead.get(&format!("/v1/recommendations/{id}")).await.json();
    let page = sheet(&app.lead, &id, "us").await;
    let text = unescaped(&page.text);
    assert!(text.contains("NOT ENOUGH") && text.contains("What helps"));
    let remedies = told["remedies"].as_array().unwrap();
    assert!(remedies.len() >= 4, "{remedies:?}");
    let said = |remedy: &Value| remedy["what"]["text"].as_str().unwrap()[1..].to_owned();
    for remedy in remedies {
        assert!(text.contains(&said(remedy)), "no {remedy}");
    }
}

#[tokio::test]
async fn a_page_that_is_too_full_keeps_what_matters_and_leaves_the_rest_out() {
    let app = TestApp::start().await;
    let (stead, id) = worst_case(&app).await;
    let plain = Farmstead::make(&app.lead, "Plain Acres").await;
    let page = sheet(&app.lead, &plain.recommendation, "us").await.text;
    assert!(page.contains("<table class=\"write\">") && !page.contains("Write on the back"));
    let told = app.lead.get(&format!("/v1/recommendations/{id}")).await.json();
    let mut goals = told["goals"].clone();
    let lines: Vec<String> = (1..=5).map(|n| format!("{n} {}.", "go easy ".repeat(24))).collect();
    goals["instructions"] = json!(lines);
    let told = app.lead.post("/v1/recommendations", &stead.recommendation_body(&goals)).await;
    let told = told.assert_status(201).json();
    let page = unescaped(&sheet(&app.lead, told["id"].as_str().unwrap(), "us").await.text);
    assert!(!page.contains("<table class=\"write\">") && page.contains("Write on the back"));
    let cautions = told["cautions"].as_array().unwrap().iter();
    for text in cautions.map(|it| it["text"].as_str().unwrap()).chain(lines.iter().map(|it| &**it))
    {
        assert!(page.contains(text), "no {text}");
    }
}

#[tokio::test]
async fn old_rows_and_the_hour_are_on_the_sheet() {
    let app = TestApp::start().await;
    let stead =
        Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_draft(&app.lead).await;
    let page = sheet(&app.lead, &stead.recommendation, "us").await.text;
    assert!(page.contains("Beside the old row") && page.contains("about 5 in off it"));
    assert!(!page.contains("start after about"));
    let mut seen = Farmstead::conditions_body();
    seen["cover"]["state"] = json!("dead_damp");
    seen["start_hour"] = json!(7);
    seen["previous_crop"] = json!("soybean");
    app.lead.create(&format!("/v1/fields/{}/conditions", stead.field), &seen).await;
    let id = app.lead.create("/v1/recommendations", &stead.recommendation_body(&json!({}))).await;
    let page = sheet(&app.lead, &id, "us").await.text;
    assert!(
        page.contains("start after about 10 o'clock")
            || page.contains("start after about 10 o&#39;clock"),
        "{page}"
    );
    assert!(!page.contains("Old rows"));
}
