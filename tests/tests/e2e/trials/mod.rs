//! Trials: design, map, plots, analysis.

mod analysis;
mod design;
mod map;
mod pages;
mod plots;
mod timeline;

use serde_json::{Value, json};
use tests::{Farmstead, User};

/// A trial of closing wheels on two rows each.
pub(crate) fn on_rows(stead: &Farmstead) -> Value {
    json!({
        "field_id": stead.field,
        "planter_id": stead.planter,
        "name": "Spiked wheels on two rows",
        "design": {
            "crop": "corn",
            "trying": "closing_wheel",
            "treatments": [{"name": "smooth wheels", "control": true}, {"name": "spiked wheels"}],
            "way": {"kind": "planter_rows", "rows_each": 2},
            "blocks": 5,
            "seed": 2027,
            "responses": [{"kind": "emergence", "matters": 3, "spread": 2.5}, {"kind": "furrow_closed"}]
        }
    })
}

/// A trial in strips, with yield.
fn in_strips(stead: &Farmstead, blocks: u16) -> Value {
    json!({
        "field_id": stead.field,
        "planter_id": stead.planter,
        "name": "Lighter down force",
        "design": {
            "crop": "corn",
            "trying": "down_force",
            "treatments": [{"name": "as advised", "control": true}, {"name": "60 lbf less"}],
            "way": {"kind": "strips", "passes_each": 1},
            "blocks": blocks,
            "strip_length": {"value": 800, "unit": "[ft_i]"},
            "harvest_rows": 6,
            "seed": 11,
            "responses": [{"kind": "yield", "matters": 4}]
        }
    })
}

/// Makes a trial and starts it; gives it as it runs.
async fn running(user: &User, body: &Value) -> Value {
    let made = user.post("/v1/trials", body).await.assert_status(201);
    let path = format!("/v1/trials/{}/start", made.id());
    let etag = made.header("etag").to_owned();
    user.send("POST", &path, &[("if-match", &etag)], None).await.assert_status(200).json()
}

fn id(trial: &Value) -> &str {
    trial["id"].as_str().expect("an id")
}

/// The number of the plot of a treatment in a block.
fn plot_of(trial: &Value, block: u64, treatment: &str) -> u64 {
    let plots = trial["layout"]["plots"].as_array().expect("plots");
    let found = plots.iter().find(|it| it["block"] == block && it["treatment"] == treatment);
    found.expect("a plot")["plot"].as_u64().expect("a number")
}

/// Readings of one response on one plot.
pub(super) fn reading(plot: u64, response: &str, unit: &str, values: &[f64]) -> Value {
    json!({"plot": plot, "readings": [{"response": response, "values": {"unit": unit, "values": values}}]})
}
