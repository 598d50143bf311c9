//! No grower sees another's name, land or iron in a report.

use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{dig, report};

#[tokio::test]
async fn a_growers_report_holds_his_own_and_the_others_without_a_name() {
    let app = TestApp::start().await;
    let own = Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_sheet(&app.lead).await;
    dig(&app.grower, &own, "2027-04-20T12:05:00Z", false).await;
    let mut others = Vec::new();
    for n in 0..4 {
        others.push(other(&app, n).await);
    }
    let alone = report(&app.grower, 2027, "").await;
    assert!(alone.get("others").is_none(), "four others are too few: {}", alone["others"]);
    others.push(other(&app, 4).await);

    let mine = report(&app.grower, 2027, "").await;
    assert_eq!((&mine["about"]["of"], &mine["about"]["growers"]), (&json!("grower"), &json!(1)));
    assert_eq!(mine["about"]["digs"], 1);
    assert_eq!(mine["others"]["growers"], 5);
    assert_eq!(mine["others"]["shares"]["first_pass"]["count"], 5);
    assert_eq!(mine["others"]["shares"]["first_pass"]["of"], 5, "his own is not among them");
    assert_eq!(mine["advisors"], json!([]));
    let path = format!("?planter_id={}", own.planter);
    for report in [mine, report(&app.grower, 2027, &path).await] {
        let text = report.to_string();
        assert!(text.contains(&own.field) && text.contains("The eight-row"));
        for (n, other) in others.iter().enumerate() {
            for secret in [&other.grower, &other.farm, &other.field, &other.planter] {
                assert!(!text.contains(secret.as_str()), "{secret} of another grower: {text}");
            }
            assert!(!text.contains(&format!("Secretive {n}")), "{text}");
        }
        assert!(!text.contains("advisor@") && !text.contains(&app.advisor.account_id), "{text}");
    }
    for of in [
        format!("?grower_id={}", others[0].grower),
        format!("?planter_id={}", others[0].planter),
        format!("?advisor_id={}", app.advisor.account_id),
    ] {
        let path = format!("/v1/seasons/2027/report{of}");
        app.grower.get(&path).await.assert_problem(404, "not_found");
        app.stranger.get(&path).await.assert_problem(404, "not_found");
    }
    let seasons = app.grower.get("/v1/seasons").await.assert_status(200).json();
    assert_eq!(seasons["items"][0]["growers"], 1);
    let theirs = report(&app.stranger, 2027, "").await;
    assert_eq!(theirs["about"]["growers"], 0);
}

async fn other(app: &TestApp, n: usize) -> Farmstead {
    let advisor = json!({"name": format!("Secretive {n}"), "advisor_id": app.advisor.account_id});
    let grower = app.lead.create("/v1/growers", &advisor).await;
    let stead = Farmstead::of_grower(&app.lead, &grower).await.with_sheet(&app.lead).await;
    dig(&app.lead, &stead, "2027-04-20T12:05:00Z", true).await;
    stead
}
