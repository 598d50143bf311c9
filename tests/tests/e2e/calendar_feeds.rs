//! Calendar feeds. Other libraries read them too: `tests/season/check.py` and `calendar.mjs`.

use api::auth::role::Role;
use chrono::TimeDelta;
use serde_json::json;
use tests::{Farmstead, TestApp, User};

/// Makes a feed; gives its id and the path of its file.
async fn feed(user: &User, body: &serde_json::Value) -> (String, String) {
    let made = user.post("/v1/calendar-feeds", body).await.assert_status(201);
    assert_eq!(made.header("cache-control"), "no-store");
    let made = made.json();
    let url = made["url"].as_str().expect("an address");
    let path = url.strip_prefix("http://127.0.0.1:8180").expect("ours").to_owned();
    (made["feed"]["id"].as_str().expect("an id").to_owned(), path)
}

/// The values of a property of all events, unfolded.
fn values(text: &str, name: &str) -> Vec<String> {
    let whole = text.replace("\r\n ", "");
    let lines = whole.split("\r\n").filter_map(|line| line.split_once(':'));
    let named = lines.filter(|(before, _)| before.split(';').next() == Some(name));
    named.map(|(_, value)| value.to_owned()).collect()
}

/// A sheet for 2 in and a dig that is shallower, so that something is due.
async fn due(user: &User, name: &str) -> Farmstead {
    let grower = user.create("/v1/growers", &json!({"name": name})).await;
    Farmstead::of_grower(user, &grower).await.with_sheet(user).await.with_dig(user).await
}

#[tokio::test]
async fn a_feed_is_read_without_signing_in_and_says_what_is_due() {
    let app = TestApp::start().await;
    let zone = json!({"time_zone": "Pacific/Auckland"});
    app.lead.patch("/v1/practice", "*", &zone).await.assert_status(200);
    due(&app.lead, "Lee; Sons, \\ Zoë").await;
    let (id, path) = feed(&app.lead, &json!({"note": "For the phone."})).await;
    let read = app.nobody.get(&path).await.assert_status(200);
    assert_eq!(read.header("content-type"), "text/calendar; charset=utf-8");
    let text = &read.text;
    assert!(text.starts_with("BEGIN:VCALENDAR\r\n") && text.ends_with("END:VCALENDAR\r\n"));
    assert!(text.split("\r\n").all(|line| line.len() <= 75 && !line.contains(['\r', '\n'])));
    let uids = values(text, "UID");
    assert!(uids.iter().any(|uid| uid.starts_with("dig_failed.")), "{text}");
    for name in ["DTSTAMP", "DTSTART", "SEQUENCE", "SUMMARY"] {
        assert_eq!(values(text, name).len(), uids.len(), "{name}");
    }
    assert_eq!(values(text, "X-WR-TIMEZONE"), ["Pacific/Auckland"]);
    let failed = uids.iter().position(|uid| uid.starts_with("dig_failed.")).expect("there");
    assert!(values(text, "SUMMARY")[failed].contains("Lee\\; Sons\\, \\\\ Zoë"), "{text}");
    // Noon in UTC is the next day there.
    assert_eq!(values(text, "DTSTART")[failed], "20270421");

    let tag = read.header("etag").to_owned();
    let again = app.nobody.send("GET", &path, &[("if-none-match", &tag)], None).await;
    assert_eq!((again.assert_status(304).text.as_str(), uids.is_empty()), ("", false));
    let listed = app.lead.get("/v1/calendar-feeds").await.assert_status(200);
    let secret = path.trim_start_matches("/calendar/").trim_end_matches(".ics");
    assert!(listed.text.contains(&id) && !listed.text.contains(secret));
    for wrong in ["/calendar/x.ics", &path[..path.len() - 4], "/calendar/.ics"] {
        app.nobody.get(wrong).await.assert_problem(404, "not_found");
    }
}

#[tokio::test]
async fn a_change_raises_the_sequence_and_what_is_done_is_called_off() {
    let app = TestApp::start().await;
    let stead = due(&app.lead, "Grower").await;
    let (_, path) = feed(&app.lead, &json!({})).await;
    let of = |text: &str, name: &str| -> Option<String> {
        let place = values(text, "UID").iter().position(|uid| uid.starts_with("dig_failed."))?;
        values(text, name).get(place).cloned()
    };
    let first = app.nobody.get(&path).await.text;
    assert_eq!(of(&first, "SEQUENCE").as_deref(), Some("0"));
    let key = format!("dig_failed.{}", stead.recommendation);
    let later = json!({"until": "2027-04-25", "reason": "Under water."});
    app.lead.post(&format!("/v1/attention/{key}/snooze"), &later).await.assert_status(200);
    app.clock.advance(TimeDelta::hours(1));
    let second = app.nobody.get(&path).await.text;
    assert_eq!(of(&second, "SEQUENCE").as_deref(), Some("1"));
    assert_eq!(of(&second, "DTSTART").as_deref(), Some("20270425"), "on the day it comes back");
    assert_eq!(of(&second, "DTSTAMP").as_deref(), Some("20270420T130000Z"));
    app.clock.advance(TimeDelta::hours(1));
    assert_eq!(app.nobody.get(&path).await.text, second, "nothing changed");

    let decline = json!({"reason": "Rain."});
    let path_of = format!("/v1/adjustments/{}/decline", stead.adjustment);
    app.lead.send("POST", &path_of, &[("if-match", "*")], Some(&decline)).await.assert_status(200);
    let off = app.nobody.get(&path).await.text;
    // It is off target still, and so another event of the same name; then the field is done.
    assert_eq!(of(&off, "SEQUENCE").as_deref(), Some("2"));
    assert_ne!(of(&off, "STATUS").as_deref(), Some("CANCELLED"));
    app.clock.advance(TimeDelta::days(15));
    let gone = app.nobody.get(&path).await.text;
    assert_eq!(of(&gone, "STATUS").as_deref(), Some("CANCELLED"));
    app.clock.advance(TimeDelta::days(22));
    assert_eq!(of(&app.nobody.get(&path).await.text, "STATUS"), None);
}

#[tokio::test]
async fn a_feed_shows_what_its_account_sees_and_ends_with_it() {
    let app = TestApp::start().await;
    let setting = json!({"advisors_see": "assigned"});
    app.lead.patch("/v1/practice", "*", &setting).await.assert_status(200);
    let own = due(&app.advisor, "Own grower").await;
    let other = due(&app.lead, "Hidden grower").await;
    let (id, path) = feed(&app.advisor, &json!({})).await;
    let text = app.nobody.get(&path).await.assert_status(200).text;
    assert!(text.contains("Own grower") && !text.contains("Hidden"), "{text}");
    let hidden = json!({"grower_id": other.grower});
    let refused = app.advisor.post("/v1/calendar-feeds", &hidden).await;
    refused.assert_problem(422, "invalid_request").assert_member("/grower_id");
    let (_, only) = feed(&app.lead, &json!({"grower_id": own.grower})).await;
    let text = app.nobody.get(&only).await.assert_status(200).text;
    assert!(text.contains("Own grower") && !text.contains("Hidden"), "{text}");
    let person = app.someone("person", Role::Grower, Some(&own.grower)).await;
    let (_, persons) = feed(&person, &json!({})).await;
    let text = app.nobody.get(&persons).await.assert_status(200).text;
    assert!(text.contains("Own grower") && !text.contains("Hidden"), "{text}");

    app.lead.get(&format!("/v1/calendar-feeds/{id}")).await.assert_problem(404, "not_found");
    app.lead.delete(&format!("/v1/calendar-feeds/{id}")).await.assert_problem(404, "not_found");
    let account = format!("/v1/accounts/{}", app.advisor.account_id);
    app.lead.patch(&account, "*", &json!({"disabled": true})).await.assert_status(200);
    app.nobody.get(&path).await.assert_problem(404, "not_found");
    let feeds = app.lead.get("/v1/calendar-feeds").await.json();
    let mine = feeds["items"][0]["id"].as_str().expect("an id").to_owned();
    app.lead.delete(&format!("/v1/calendar-feeds/{mine}")).await.assert_status(204);
    app.nobody.get(&only).await.assert_problem(404, "not_found");
    app.lead.get(&format!("/v1/calendar-feeds/{mine}")).await.assert_problem(404, "not_found");
}
