//! The events of the season's work: shed, stands, trials.

use api::entities::audit_events::Model;
use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::audit::Trail;
use crate::inspections::{discs, inches, on};
use crate::stands::{day, planting, thousandths};
use crate::trials::{on_rows, reading};

/// Checks of what an event is, and of whose grower.
fn is_about(event: &Model, kind: &str, id: &str, stead: &Farmstead) {
    assert_eq!((event.object_kind.as_str(), event.object_id.as_str()), (kind, id));
    assert_eq!(event.grower_id.map(|id| id.to_string()).as_ref(), Some(&stead.grower), "{kind}");
}

/// A planter in the shed: what was found, mended, measured against, and taken over.
pub(super) async fn shed(trail: &mut Trail<'_>, app: &TestApp, stead: &Farmstead) {
    let at = |what: &str| format!("/v1/planters/{}/{what}", stead.planter);
    let found = on("2027-03-12", discs(&[(1, 14.9), (2, 14.8)]));
    let (made, event) =
        trail.does(&app.grower, "create_inspection", &at("inspections"), &found).await;
    is_about(&event, "inspection", &made.id(), stead);
    let adoption = format!("/v1/inspections/{}/adoption", made.id());
    let (_, event) = trail.does(&app.advisor, "adopt_inspection", &adoption, &Value::Null).await;
    is_about(&event, "planter", &stead.planter, stead);
    let mended =
        json!({"item": "seed_tube", "rows": [3], "repaired_on": "2027-04-01", "new_part": true});
    let (made, event) = trail.does(&app.grower, "create_repair", &at("repairs"), &mended).await;
    is_about(&event, "repair", &made.id(), stead);
    let manual = json!({"parts": [{"item": "opener_diameter", "replace_at": inches(14.0)}]});
    let (_, event) = trail.does(&app.grower, "set_wear_limits", &at("wear-limits"), &manual).await;
    is_about(&event, "wear_limits", &stead.planter, stead);
}

/// What was planted, how warm it was, and what came up.
pub(super) async fn stands(trail: &mut Trail<'_>, app: &TestApp, stead: &Farmstead) {
    let in_field = |what: &str| format!("/v1/fields/{}/{what}", stead.field);
    let (user, plantings) = (&app.grower, in_field("plantings"));
    let (wrong, _) =
        trail.does(user, "create_planting", &plantings, &planting(stead, "2027-03-02")).await;
    let (right, event) =
        trail.does(user, "create_planting", &plantings, &planting(stead, "2027-03-20")).await;
    is_about(&event, "planting", &right.id(), stead);
    let path = format!("/v1/plantings/{}", right.id());
    let note = json!({"note": "Nobody else's business."});
    let (_, event) = trail.does(user, "update_planting", &path, &note).await;
    is_about(&event, "planting", &right.id(), stead);
    assert!(!format!("{event:?}").contains("business"), "names of members, never what they say");
    let path = format!("/v1/plantings/{}", wrong.id());
    let (_, event) = trail.does(user, "delete_planting", &path, &Value::Null).await;
    is_about(&event, "planting", &wrong.id(), stead);
    warmth(trail, app, stead).await;
    let counts = thousandths("2027-04-15", &[31, 29, 32]);
    let (made, event) =
        trail.does(user, "create_stand_count", &in_field("stand-counts"), &counts).await;
    is_about(&event, "stand_count", &made.id(), stead);
    harvest(trail, app, stead).await;
}

/// What the field gave.
async fn harvest(trail: &mut Trail<'_>, app: &TestApp, stead: &Farmstead) {
    let (user, path) = (&app.grower, format!("/v1/fields/{}/yields", stead.field));
    let grain = json!({"value": 8, "unit": "t/har"});
    let given =
        json!({"harvested_on": "2026-10-12", "crop": "corn", "grain": grain, "basis": "dry"});
    let (made, event) = trail.does(user, "create_yield", &path, &given).await;
    is_about(&event, "yield", &made.id(), stead);
    let path = format!("/v1/yields/{}", made.id());
    let note = json!({"note": "The east end was flooded."});
    let (_, event) = trail.does(user, "update_yield", &path, &note).await;
    is_about(&event, "yield", &made.id(), stead);
    let (_, event) = trail.does(user, "delete_yield", &path, &Value::Null).await;
    is_about(&event, "yield", &made.id(), stead);
}

async fn warmth(trail: &mut Trail<'_>, app: &TestApp, stead: &Farmstead) {
    let path = format!("/v1/farms/{}/temperatures", stead.farm);
    let days = json!({"days": [day("2027-04-10", 72.0, 46.0)]});
    let (_, event) = trail.does(&app.grower, "send_temperatures", &path, &days).await;
    is_about(&event, "temperatures", &stead.farm, stead);
    let file = "date,high_f,low_f\n2027-04-11,60,40\n";
    let path = format!("{path}/csv");
    let (_, event) = trail.does_csv(&app.grower, "import_temperatures", &path, file).await;
    is_about(&event, "temperatures", &stead.farm, stead);
}

/// A trial from its design to its end, and one that was thrown away.
pub(super) async fn trials(trail: &mut Trail<'_>, app: &TestApp, stead: &Farmstead) {
    let (user, all, none) = (&app.advisor, "/v1/trials", Value::Null);
    let (draft, _) = trail.does(user, "create_trial", all, &on_rows(stead)).await;
    let path = format!("{all}/{}", draft.id());
    let (_, event) = trail.does(user, "delete_trial", &path, &none).await;
    is_about(&event, "trial", &draft.id(), stead);
    let (made, event) = trail.does(user, "create_trial", all, &on_rows(stead)).await;
    let trial = made.id();
    is_about(&event, "trial", &trial, stead);
    let path = format!("{all}/{trial}");
    let name = json!({"name": "Wheels with spikes"});
    let (_, event) = trail.does(user, "update_trial", &path, &name).await;
    is_about(&event, "trial", &trial, stead);
    let (_, event) = trail.does(user, "start_trial", &format!("{path}/start"), &none).await;
    is_about(&event, "trial", &trial, stead);
    let (plots, found) = (format!("{path}/plots"), reading(1, "emergence", "%", &[92.0]));
    let (_, event) = trail.does(&app.grower, "create_trial_plot", &plots, &found).await;
    is_about(&event, "trial", &trial, stead);
    let (_, event) = trail.does(user, "close_trial", &format!("{path}/close"), &none).await;
    is_about(&event, "trial", &trial, stead);
}
