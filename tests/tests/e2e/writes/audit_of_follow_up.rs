//! The events of following up: the attention list, calendar feeds, mail and its jobs.

use api::entities::audit_events::Model;
use api::jobs::{Failure, attend, lease};
use serde_json::{Value, json};
use tests::{Answer, Farmstead, TestApp};

use super::audit::Trail;

fn is_about(event: &Model, kind: &str, id: &str, grower: Option<&str>) {
    assert_eq!((event.object_kind.as_str(), event.object_id.as_str()), (kind, id));
    assert_eq!(event.grower_id.map(|id| id.to_string()).as_deref(), grower, "{kind}");
}

/// What is put off, taken up again, given to somebody, and when anything comes on the list.
pub(super) async fn attention(trail: &mut Trail<'_>, app: &TestApp) {
    let stead = Farmstead::make(&app.lead, "Waits for a decision").await;
    stead.issue(&app.lead).await;
    let stead = stead.with_dig(&app.lead).await;
    trail.goes_on().await;
    let (key, none) = (format!("dig_failed.{}", stead.recommendation), Value::Null);
    let snooze = format!("/v1/attention/{key}/snooze");
    let later = json!({"until": "2027-04-22", "reason": "The field is under water."});
    let assign = format!("/v1/attention/{key}/assign");
    let to_lead = json!({"account_id": app.lead.account_id});
    for (operation, path, body) in [
        ("snooze_attention", &snooze, &later),
        ("wake_attention", &snooze, &none),
        ("assign_attention", &assign, &to_lead),
        ("unassign_attention", &assign, &none),
    ] {
        let (_, event) = trail.does(&app.advisor, operation, path, body).await;
        is_about(&event, "attention_entry", &key, Some(&stead.grower));
        assert!(!format!("{event:?}").contains("water"), "{operation} keeps no words");
    }
    let (path, limits) = ("/v1/attention-limits", json!({"sheet_unseen_hours": 7}));
    let (_, event) = trail.does(&app.lead, "update_attention_limits", path, &limits).await;
    is_about(&event, "attention_limits", &app.practice_id.to_string(), None);
}

/// A feed of all growers and one of a single grower.
pub(super) async fn feeds(trail: &mut Trail<'_>, app: &TestApp) {
    let (user, all) = (&app.advisor, "/v1/calendar-feeds");
    for grower in [None, Some(app.own_grower_id.as_str())] {
        let wanted = grower.map_or(json!({}), |id| json!({"grower_id": id}));
        let (made, event) = trail.does(user, "create_calendar_feed", all, &wanted).await;
        let made = made.json();
        let id = made["feed"]["id"].as_str().expect("an id");
        is_about(&event, "calendar_feed", id, grower);
        let url = made["url"].as_str().expect("an address");
        let secret = url.rsplit('/').next().expect("a name").trim_end_matches(".ics");
        assert!(!format!("{event:?}").contains(secret));
        let path = format!("{all}/{id}");
        let (_, event) = trail.does(user, "revoke_calendar_feed", &path, &Value::Null).await;
        is_about(&event, "calendar_feed", id, grower);
    }
}

/// What people want by mail, links by mail, and the jobs of mail that failed.
pub(super) async fn mail(trail: &mut Trail<'_>, app: &TestApp) {
    let own = app.own_grower_id.as_str();
    let digest = json!({"digest": "daily", "hour": 6});
    let (_, event) =
        trail.does(&app.advisor, "set_own_mail", "/v1/accounts/me/mail", &digest).await;
    is_about(&event, "account", &app.advisor.account_id, None);
    let path = format!("/v1/growers/{own}/mail");
    let agreed = json!({"sheets": true});
    let (_, event) = trail.does(&app.grower, "set_grower_mail", &path, &agreed).await;
    is_about(&event, "grower", own, Some(own));
    let path = format!("/v1/growers/{own}");
    trail.does(&app.lead, "update_grower", &path, &json!({"email": "miller@example.org"})).await;
    let (path, whom) = ("/v1/access-links/mail", json!({"grower_id": own}));
    let (link, event) = trail.does(&app.advisor, "mail_access_link", path, &whom).await;
    is_about(&event, "grower", own, Some(own));
    let path = format!("/v1/accounts/{}/password-links/mail", app.advisor.account_id);
    let (password, event) = trail.does(&app.lead, "mail_password_link", &path, &Value::Null).await;
    is_about(&event, "account", &app.advisor.account_id, None);
    jobs(trail, app, [&link, &password]).await;
}

/// The server refuses both for good: one is tried again, the other is given up.
async fn jobs(trail: &mut Trail<'_>, app: &TestApp, queued: [&Answer; 2]) {
    let state = app.state();
    for leased in lease(&state.db, state.clock.now(), 100).await.expect("leased") {
        attend(state, &leased, async { Err(Failure::Never("refused".to_owned())) }).await;
    }
    let [again, never] = queued.map(|it| it.json()["job_id"].as_str().expect("an id").to_owned());
    let path = format!("/v1/jobs/{again}/retry");
    let (_, event) = trail.does(&app.lead, "retry_job", &path, &Value::Null).await;
    is_about(&event, "job", &again, None);
    let path = format!("/v1/jobs/{never}");
    let (_, event) = trail.does(&app.lead, "delete_job", &path, &Value::Null).await;
    is_about(&event, "job", &never, None);
}
