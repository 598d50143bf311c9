//! The records system of a farm office: it says what it knows under its own ids, follows what changed, and reads the
//! sheet in an open form.

use serde_json::{Value, json};

use super::cast::Cast;
use super::report::Report;
use crate::app::Running;
use crate::demo::accounts;
use crate::demo::client::{Body, Client};
use crate::demo::error::Result;
use crate::demo::scenario::people::SignIn;

const SIGN_IN: SignIn =
    SignIn { email: "office@longfurrow.example", password: "ledger-and-lamp-oil" };
/// Its own id of the field.
const FIELD: &str = "/v1/external/office/fields/F-17";

/// The system signs in, sends what it knows, and reads on.
pub(super) async fn linked(
    cast: &Cast,
    running: &Running,
    sheet: &str,
    report: &mut Report<'_>,
) -> Result<()> {
    report.step("The farm office's records system joins in")?;
    accounts::records_system(&running.state, "Farm office", SIGN_IN).await?;
    let office = cast.stranger.sign_in(SIGN_IN).await?;
    let end = office.get("/v1/changes?after=now").await?.expect(200)?;
    let field = sent(&office, report).await?;
    followed(&office, end.text("/next_after")?, &field, report).await?;
    read(&office, sheet, report).await
}

/// A grower, a farm and a field under the ids of the office; gives our id of the field.
async fn sent(office: &Client, report: &mut Report<'_>) -> Result<String> {
    let grower = json!({"name": "Tessaly Orchard and Field"});
    office.give("/v1/external/office/growers/G-4", &grower).await?.expect(201)?;
    let farm = json!({"grower": "G-4", "name": "Upper farm"});
    office.give("/v1/external/office/farms/A-9", &farm).await?.expect(201)?;
    let made = office.give(FIELD, &field("Orchard side")).await?.expect(201)?;
    let id = made.text("/field/id")?.to_owned();
    let inside = made.shown("/field/boundary_area")?;
    report.say(&format!("Its field F-17 is \"Orchard side\" here, {inside} by its boundary."))?;
    let again = office.give(FIELD, &field("Orchard side")).await?.expect(200)?;
    let outcome = again.text("/outcome")?;
    report.holds(outcome == "unchanged", "the same record sent again changes nothing", outcome)?;
    let swapped = office.give(FIELD, &turned()).await?;
    let said = swapped.body().list("/errors");
    let said = said.first().map(|error| error.word("/detail").to_owned()).unwrap_or_default();
    let found = format!("{} {}", swapped.status, swapped.text);
    let held = swapped.status == 422 && !said.is_empty();
    report.holds(held, &format!("latitude before longitude is refused (422): {said}"), &found)?;
    Ok(id)
}

fn field(name: &str) -> Value {
    let ring =
        [[-93.6, 42.0], [-93.595, 42.0], [-93.595, 42.0036], [-93.6, 42.0036], [-93.6, 42.0]];
    feature(name, &json!([ring]))
}

/// The same with latitude first.
fn turned() -> Value {
    let ring =
        [[42.0, -93.6], [42.0, -93.595], [42.0036, -93.595], [42.0036, -93.6], [42.0, -93.6]];
    feature("Orchard side", &json!([ring]))
}

fn feature(name: &str, coordinates: &Value) -> Value {
    json!({
        "type": "Feature",
        "geometry": {"type": "Polygon", "coordinates": coordinates},
        "properties": {"farm": "A-9", "name": name},
    })
}

/// What changed since, each change once.
async fn followed(
    office: &Client,
    after: &str,
    field: &str,
    report: &mut Report<'_>,
) -> Result<()> {
    let page = office.get(&format!("/v1/changes?after={after}")).await?.expect(200)?;
    let changes: Vec<Body> = page.list("/items");
    let told: Vec<&str> = changes.iter().map(|change| change.word("/type")).collect();
    let expected = ["grower.created", "farm.created", "field.created"];
    report.item("changes", &told.join(", "))?;
    let last = changes.last().map(|change| change.word("/object_id")).unwrap_or_default();
    let held = told == expected && last == field;
    report.holds(held, "the change feed tells each change once, in order", &told.join(", "))
}

/// The sheet in a form that other programs read.
async fn read(office: &Client, sheet: &str, report: &mut Report<'_>) -> Result<()> {
    let data = office.get(&format!("/v1/recommendations/{sheet}/adapt")).await?.expect(200)?;
    let version = data.text("/rootSchemaVersion")?.to_owned();
    let sheets = data.list("/documents/recommendations").len();
    let digs = data.list("/documents/workRecords").len();
    let words =
        format!("ADAPT {version}: {sheets} recommendation, {digs} records of work behind it");
    report.item("the sheet", &words)?;
    report.holds(sheets == 1 && digs > 0, "the sheet and its digs leave in an open form", &words)
}
