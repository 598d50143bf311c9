//! What the service does not take: wrong units, impossible values, other people's fields.

use serde_json::{Value, json};

use super::cast::Cast;
use super::report::Report;
use crate::demo::client::Reply;
use crate::demo::error::Result;

/// Tries what must be refused.
pub(super) async fn tried(
    cast: &Cast,
    (field, sheet): (&str, &str),
    report: &mut Report<'_>,
) -> Result<()> {
    report.step("Bad input is refused, and told why")?;
    let conditions = format!("/v1/fields/{field}/conditions");
    let now = cast.now();
    let wrong_unit = json!({
        "observed_at": now, "crop": "corn", "ribbon": {"value": 1.5, "unit": "[psi]"},
    });
    let reply = cast.advisor.post(&conditions, &wrong_unit).await?;
    refused(&reply, "a ribbon measured in psi", "/ribbon", report)?;
    let absurd = json!({
        "observed_at": now, "crop": "corn", "soil_temperature": {"value": 500, "unit": "[degF]"},
    });
    let reply = cast.advisor.post(&conditions, &absurd).await?;
    refused(&reply, "soil at 500 °F", "/soil_temperature", report)?;
    let unknown = json!({"observed_at": now, "crop": "corn", "moisure": "wet"});
    let reply = cast.advisor.post(&conditions, &unknown).await?;
    refused(&reply, "a misspelt member", "/moisure", report)?;
    let digs = format!("/v1/recommendations/{sheet}/dig-checks");
    let slip = json!({
        "dug_at": now,
        "rows": [{"row": 2, "seed_depths": {"unit": "[in_i]", "values": [1.75, 17.5]}}],
    });
    let reply = cast.grower.post(&digs, &slip).await?;
    refused(
        &reply,
        "a seed 17.5 in deep: the point slipped",
        "/rows/0/seed_depths/values/1",
        report,
    )?;
    let no_row = json!({"dug_at": now, "rows": [{"row": 40, "gauge_wheels": "locked"}]});
    let reply = cast.grower.post(&digs, &no_row).await?;
    refused(&reply, "row 40 of 8", "/rows/0/row", report)?;
    others(cast, (field, sheet), report).await
}

/// The refusal names the member, and says what is allowed or why.
fn refused(reply: &Reply, what: &str, pointer: &str, report: &mut Report<'_>) -> Result<()> {
    let errors = reply.body().list("/errors");
    let error = errors.iter().find(|error| error.word("/pointer") == pointer);
    let said = error.map(|error| error.word("/detail").to_owned()).unwrap_or_default();
    let held = reply.status == 422 && !said.is_empty();
    let found = format!("{} {}", reply.status, reply.text.chars().take(160).collect::<String>());
    report.holds(held, &format!("{what} (422, {pointer}): {said}"), &found)
}

async fn others(cast: &Cast, (field, sheet): (&str, &str), report: &mut Report<'_>) -> Result<()> {
    let path = format!("/v1/fields/{field}");
    let reply = cast.neighbour.get(&path).await?;
    answered(&reply, 404, "the neighbour asks for the field: there is no such field", report)?;
    let sheet = format!("/v1/recommendations/{sheet}");
    let reply = cast.neighbour.get(&sheet).await?;
    answered(&reply, 404, "the neighbour asks for the sheet: there is no such sheet", report)?;
    let name = json!({"name": "Mine now"});
    let reply = cast.grower.patch(&path, "\"1\"", &name).await?;
    answered(&reply, 403, "the grower renames a field: only advisors may", report)?;
    let reply = cast.advisor.patch(&path, "\"99\"", &name).await?;
    answered(&reply, 412, "a change to a version that is gone: read it anew first", report)?;
    let reply = cast.stranger.post("/v1/sessions", &wrong_password()).await?;
    answered(&reply, 401, "a wrong password does not sign in", report)
}

fn wrong_password() -> Value {
    json!({"email": super::cast::ADVISOR.sign_in.email, "password": "two-inches-and-open"})
}

fn answered(reply: &Reply, status: u16, what: &str, report: &mut Report<'_>) -> Result<()> {
    report.holds(reply.status == status, &format!("{what} ({status})"), &reply.status.to_string())
}
