//! The events of accounts, sessions, links and machine clients.

use serde_json::{Value, json};
use tests::{Farmstead, PASSWORD, TestApp, User};

use super::audit::Trail;

/// Signs in as the lead; gives the path of the session and whoever has its token.
async fn session(trail: &mut Trail<'_>, app: &TestApp) -> (String, User) {
    let body = json!({"email": "lead@example.org", "password": PASSWORD});
    let (made, event) = trail.does(&app.nobody, "create_session", "/v1/sessions", &body).await;
    assert_eq!(event.account_id.to_string(), app.lead.account_id);
    let made = made.json();
    let text = |name: &str| made[name].as_str().expect("text").to_owned();
    (format!("/v1/sessions/{}", text("id")), app.lead.with_token(&text("access_token")))
}

/// Everything that people and machines do with their ways in.
pub(super) async fn people(trail: &mut Trail<'_>, app: &TestApp) {
    let (lead, none) = (&app.lead, Value::Null);
    let (first, user) = session(trail, app).await;
    trail.does(&user, "end_session", &first, &none).await;
    let (_, user) = session(trail, app).await;
    trail.does(&user, "end_present_session", "/v1/sessions/present", &none).await;
    let practice = json!({"advisors_see": "assigned"});
    trail.does(lead, "update_practice", "/v1/practice", &practice).await;
    let ben = json!({"email": "ben@example.org", "display_name": "Ben", "role": "advisor", "units": "us"});
    let (ben, _) = trail.does(lead, "create_account", "/v1/accounts", &ben).await;
    let ben = format!("/v1/accounts/{}", ben.id());
    trail.does(lead, "update_account", &ben, &json!({"role": "read_only"})).await;
    let links = format!("{ben}/password-links");
    let (link, event) = trail.does(lead, "create_password_link", &links, &none).await;
    let token = link.json()["token"].as_str().expect("a token").to_owned();
    assert!(!format!("{event:?}").contains(&token));
    let redeemed = json!({"token": token, "new_password": "the secret of Ben"});
    let path = "/v1/password-links/redeem";
    let (_, event) = trail.does(&app.nobody, "redeem_password_link", path, &redeemed).await;
    assert!(!format!("{event:?}").contains("secret"));
    let change = json!({"current_password": PASSWORD, "new_password": "another secret one"});
    let path = "/v1/accounts/me/password";
    let (_, event) = trail.does(&app.read_only, "change_own_password", path, &change).await;
    assert!(!format!("{event:?}").contains("another"), "names of members, never what they say");
}

/// Links of growers.
pub(super) async fn links(trail: &mut Trail<'_>, app: &TestApp) {
    let body = json!({"grower_id": app.own_grower_id});
    let (made, event) =
        trail.does(&app.lead, "create_access_link", "/v1/access-links", &body).await;
    assert_eq!(event.grower_id.map(|id| id.to_string()), Some(app.own_grower_id.clone()));
    let token = json!({"token": made.json()["token"]});
    let path = "/v1/access-links/redeem";
    let (_, event) = trail.does(&app.nobody, "redeem_access_link", path, &token).await;
    assert_eq!(event.grower_id.map(|id| id.to_string()), Some(app.own_grower_id.clone()));
    let (made, _) = trail.does(&app.lead, "create_access_link", "/v1/access-links", &body).await;
    let path = made.header("location").to_owned();
    trail.does(&app.lead, "revoke_access_link", &path, &Value::Null).await;
}

/// Machine clients; one of them writes.
pub(super) async fn machines(trail: &mut Trail<'_>, app: &TestApp) {
    let (lead, none) = (&app.lead, Value::Null);
    let body = json!({"name": "Records", "role": "records_system", "scopes": ["read", "keep"]});
    let (made, _) = trail.does(lead, "create_machine_client", "/v1/machine-clients", &body).await;
    let (client, secret) = (made.json()["client"].clone(), made.json()["secret"].clone());
    let id = |value: &Value| value["id"].as_str().expect("an id").to_owned();
    let path = format!("/v1/machine-clients/{}", id(&client));
    let form = format!(
        "grant_type=client_credentials&client_id={}&client_secret={}",
        id(&client),
        secret["client_secret"].as_str().expect("shown once")
    );
    let form_type = [("content-type", "application/x-www-form-urlencoded")];
    let token = app.nobody.send_text("POST", "/oauth/token", &form_type, Some(form)).await;
    let token = token.assert_status(200).json()["access_token"].as_str().expect("one").to_owned();
    let mut machine = app.nobody.with_token(&token);
    machine.account_id = machine.get("/v1/accounts/me").await.assert_status(200).id();
    let grower = json!({"name": "From the records"});
    let (_, event) = trail.does(&machine, "create_grower", "/v1/growers", &grower).await;
    assert_eq!(event.client_id.map(|id| id.to_string()), Some(id(&client)));
    trail.does(lead, "update_machine_client", &path, &json!({"name": "The records"})).await;
    let (made, _) =
        trail.does(lead, "create_client_secret", &format!("{path}/secrets"), &none).await;
    let secret = made.header("location").to_owned();
    trail.does(lead, "delete_client_secret", &secret, &none).await;
    trail.does(lead, "delete_machine_client", &path, &none).await;
}

/// A grower who asks to be forgotten.
pub(super) async fn erasure(trail: &mut Trail<'_>, app: &TestApp) {
    let stead = Farmstead::make(&app.lead, "To be forgotten").await;
    trail.goes_on().await;
    let path = format!("/v1/growers/{}/erasure", stead.grower);
    let asked = json!({"reason": "He asked for it."});
    let (_, event) = trail.does(&app.lead, "erase_grower", &path, &asked).await;
    assert_eq!(event.grower_id.map(|id| id.to_string()), Some(stead.grower));
}
