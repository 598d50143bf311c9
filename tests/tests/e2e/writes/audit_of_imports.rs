//! The events of what is taken from files.

use serde_json::json;
use tests::{Farmstead, TestApp};

use super::audit::Trail;

/// A grower from a CSV file, a field from GeoJSON, and a grower from task data.
pub(super) async fn imports(trail: &mut Trail<'_>, app: &TestApp) {
    let path = "/v1/imports/csv?system=audited&kind=growers";
    let file = "id,name\nG-1,From a file\n";
    let (_, event) = trail.does_csv(&app.lead, "import_csv", path, file).await;
    assert_eq!(event.object_kind, "grower");
    assert_eq!(event.grower_id.map(|id| id.to_string()), Some(event.object_id.clone()));
    let dry = format!("{path}&dry_run=true");
    let csv = [("content-type", "text/csv")];
    let file = Some("id,name\nG-2,Another\n".to_owned());
    app.lead.send_text("POST", &dry, &csv, file).await.assert_status(200);
    let stead = Farmstead::make(&app.lead, "Mapped").await;
    trail.goes_on().await;
    let map = json!({"type": "FeatureCollection", "features": [{
        "type": "Feature", "id": "F-1", "geometry": null,
        "properties": {"name": "Far corner", "our_farm_id": stead.farm}
    }]});
    let path = "/v1/imports/geojson?system=audited";
    let (_, event) = trail.does(&app.records_system, "import_geojson", path, &map).await;
    assert_eq!(event.object_kind, "field");
    assert_eq!(event.grower_id.map(|id| id.to_string()), Some(stead.grower));
    let tasks =
        "<ISO11783_TaskData VersionMajor=\"4\"><CTR A=\"CTR1\" B=\"Ann\"/></ISO11783_TaskData>";
    let path = "/v1/imports/task-data?system=audited";
    let (_, event) = trail.does_xml(&app.lead, "import_task_data", path, tasks).await;
    assert_eq!(event.object_kind, "grower");
}
