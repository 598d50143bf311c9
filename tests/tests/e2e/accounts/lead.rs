//! A practice always has a lead.

use serde_json::json;
use tests::TestApp;

#[tokio::test]
async fn the_last_lead_can_not_be_lowered_or_shut_out() {
    let app = TestApp::start().await;
    let own = format!("/v1/accounts/{}", app.lead.account_id);
    let advisor = format!("/v1/accounts/{}", app.advisor.account_id);
    for change in [json!({"role": "advisor"}), json!({"disabled": true})] {
        app.lead.patch(&own, "*", &change).await.assert_problem(409, "wrong_state");
    }
    app.lead.patch(&own, "*", &json!({"display_name": "Still the lead"})).await.assert_status(200);
    app.lead.patch(&advisor, "*", &json!({"role": "lead"})).await.assert_status(200);
    app.lead.patch(&advisor, "*", &json!({"disabled": true})).await.assert_status(200);
    let lower = json!({"role": "advisor"});
    let answer = app.lead.patch(&own, "*", &lower).await;
    answer.assert_problem(409, "wrong_state");
    app.lead.patch(&advisor, "*", &json!({"disabled": false})).await.assert_status(200);
    app.lead.patch(&own, "*", &lower).await.assert_status(200);
    app.lead.get("/v1/accounts").await.assert_problem(403, "forbidden");
}

#[tokio::test]
async fn two_leads_who_lower_each_other_at_once_do_not_both_succeed() {
    let app = TestApp::start_with(|settings| settings.workers = 4).await;
    let own = format!("/v1/accounts/{}", app.lead.account_id);
    let other = format!("/v1/accounts/{}", app.advisor.account_id);
    app.lead.patch(&other, "*", &json!({"role": "lead"})).await.assert_status(200);
    let body = json!({"email": "lead@example.org", "password": "a long enough one"});
    let session = app.nobody.post("/v1/sessions", &body).await.assert_status(201).json();
    let lead = app.nobody.with_token(session["access_token"].as_str().expect("a token"));
    let lower = json!({"role": "read_only"});
    for _ in 0..8 {
        let (one, two) =
            tokio::join!(lead.patch(&own, "*", &lower), lead.patch(&other, "*", &lower));
        let mut statuses = [one.status, two.status];
        statuses.sort_unstable();
        // The second to come is refused, either as the last lead or because he is none any more.
        assert!(statuses == [200, 409] || statuses == [200, 403], "{statuses:?}");
        let db = &app.state().db;
        let leads = leads(db).await;
        assert_eq!(leads.len(), 1, "{leads:?}");
        raise_both(&app).await;
    }
}

async fn leads(db: &sea_orm::DatabaseConnection) -> Vec<String> {
    use api::auth::role::Role;
    use api::entities::accounts::{Column, Entity};
    use sea_orm::{ColumnTrait, EntityTrait, QueryFilter};
    let rows = Entity::find()
        .filter(Column::Role.eq(Role::Lead))
        .filter(Column::Email.ne("stranger@example.org"))
        .all(db)
        .await
        .expect("accounts");
    rows.into_iter().map(|row| row.email).collect()
}

/// For the next round.
async fn raise_both(app: &TestApp) {
    use api::auth::role::Role;
    use api::entities::accounts::{ActiveModel, Column, Entity};
    use sea_orm::{ActiveValue::Set, ColumnTrait, EntityTrait, QueryFilter};
    let raised = ActiveModel { role: Set(Role::Lead), ..Default::default() };
    Entity::update_many()
        .set(raised)
        .filter(Column::Email.is_in(["lead@example.org", "advisor@example.org"]))
        .exec(&app.state().db)
        .await
        .expect("raised");
}
