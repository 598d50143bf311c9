//! Daily temperatures by a file of comma-separated values.

use serde_json::{Value, json};
use tests::{Answer, Farmstead, TestApp, User};

use super::stead;

const CSV: (&str, &str) = ("content-type", "text/csv");

async fn send(user: &User, stead: &Farmstead, query: &str, text: &str) -> Answer {
    let path = format!("/v1/farms/{}/temperatures/csv{query}", stead.farm);
    user.send_text("POST", &path, &[CSV], Some(text.to_owned())).await
}

async fn kept(app: &TestApp, stead: &Farmstead) -> Vec<Value> {
    let path = format!("/v1/farms/{}/temperatures", stead.farm);
    app.lead.get(&path).await.assert_status(200).json()["items"].as_array().expect("items").clone()
}

#[tokio::test]
async fn a_file_as_a_spreadsheet_writes_it_is_taken() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let text = "\u{feff}Date,Rain,Low (°C),\"High (°C)\"\r\n2027-04-10,0,5.5,20\r\n\r\n2027-04-12,3,\"6\",21.5\r\n";
    let taken = send(&app.grower, &stead, "?station=Yard", text).await.assert_status(200).json();
    assert_eq!((&taken["taken"], &taken["refused"]), (&json!(2), &json!(0)));
    assert_eq!(taken["ignored_columns"], json!(["Rain"]));
    assert_eq!(taken["missing"], json!(["2027-04-11"]));
    assert_eq!(taken["days"][1]["line"], 4);
    let kept = kept(&app, &stead).await;
    assert_eq!(kept[0]["high"], json!({"value": 20.0, "unit": "Cel"}));
    assert_eq!((&kept[1]["low"]["value"], &kept[1]["station"]), (&json!(6.0), &json!("Yard")));
}

#[tokio::test]
async fn a_dry_run_says_all_and_stores_nothing() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let text = "date,tmax_f,tmin_f,kind,station\n2027-04-10,72,46,,\n2027-04-11,40,60,,\n2027-04-25,70,50,expected,forecast\n";
    let dry = send(&app.grower, &stead, "?dry_run=true", text).await.assert_status(200).json();
    assert_eq!(
        (&dry["dry_run"], &dry["taken"], &dry["refused"]),
        (&json!(true), &json!(2), &json!(1))
    );
    let refused = &dry["days"][1];
    assert_eq!((&refused["line"], &refused["column"]), (&json!(3), &json!("tmin_f")));
    assert!(kept(&app, &stead).await.is_empty());
    let real = send(&app.grower, &stead, "", text).await.assert_status(200).json();
    assert_eq!(real["days"], dry["days"]);
    assert_eq!(kept(&app, &stead).await.len(), 2, "the good lines are taken");
    let again = send(&app.grower, &stead, "?dry_run=true", text).await.assert_status(200).json();
    assert_eq!((&again["unchanged"], &again["taken"]), (&json!(2), &json!(0)));
}

#[tokio::test]
async fn what_can_not_be_understood_is_refused_by_line_and_column() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    for (query, text, pointer) in [
        ("", "", "#row=1"),
        ("", "date;high_f;low_f\n2027-04-10;60;40\n", "#row=1"),
        ("", "date,high,low\n2027-04-10,60,40\n", "#cell=1,2"),
        ("", "date,high_f\n", "#row=1"),
        ("", "date,high (K),low (K)\n", "#cell=1,2"),
        ("?unit=psi", "date,high,low\n", "?unit"),
    ] {
        let answer = send(&app.lead, &stead, query, text).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    let path = format!("/v1/farms/{}/temperatures/csv", stead.farm);
    let json = [("content-type", "application/json")];
    let answer = app.lead.send_text("POST", &path, &json, Some("{}".to_owned())).await;
    let answer = answer.assert_problem(415, "unsupported_media_type");
    assert_eq!(answer.header("accept"), "text/csv");
    app.read_only
        .send_text("POST", &path, &[CSV], Some("date,high_f,low_f\n".to_owned()))
        .await
        .assert_status(403);
}

#[tokio::test]
async fn a_file_that_is_too_long_is_refused_as_a_whole() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let mut text = "date,high_f,low_f\n".to_owned();
    for _ in 0..4001 {
        text.push_str("2027-04-10,60,40\n");
    }
    let answer = send(&app.lead, &stead, "", &text).await;
    answer.assert_problem(422, "invalid_request").assert_member("#row=4002");
    assert!(kept(&app, &stead).await.is_empty());
}

#[tokio::test]
async fn a_key_makes_a_file_safe_to_send_again() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let path = format!("/v1/farms/{}/temperatures/csv", stead.farm);
    let key = ("idempotency-key", "0f8fad5b-d9cb-469f-a165-70867728950e");
    let text = |high: u32| Some(format!("date,high_f,low_f\n2027-04-10,{high},40\n"));
    let first = app.lead.send_text("POST", &path, &[CSV, key], text(60)).await.assert_status(200);
    let again = app.lead.send_text("POST", &path, &[CSV, key], text(60)).await.assert_status(200);
    assert_eq!(first.json(), again.json(), "taken, not unchanged");
    assert_eq!(again.header("idempotency-replayed"), "true");
    let other = app.lead.send_text("POST", &path, &[CSV, key], text(61)).await;
    other.assert_problem(422, "key_reused");
}
