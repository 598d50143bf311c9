//! Planters.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

fn with(pointer: &str, value: Value) -> Value {
    let mut body = Farmstead::planter_body("01964f1e-6a00-7000-8000-000000000001");
    let (parent, member) = pointer.rsplit_once('/').expect("a pointer");
    match body.pointer_mut(parent).expect("there") {
        Value::Object(members) => {
            members.insert(member.to_owned(), value);
        }
        other => panic!("{other} is no object"),
    }
    body
}

#[tokio::test]
async fn a_makeup_is_answered_as_it_was_entered() {
    let app = TestApp::start().await;
    let mut given = Farmstead::planter_body(&app.own_grower_id);
    let makeup = json!({
        "rows": 16,
        "row_width": {"value": 76.2, "unit": "cm"},
        "unit": {
            "weight": {"value": 79.4, "unit": "kgf"},
            "attachments": {"value": 350.0, "unit": "N"},
            "hopper": {"kind": "central"},
            "opener": {
                "new_diameter": {"value": 15.0, "unit": "[in_i]"},
                "measured": {"value": 14.6, "unit": "[in_i]"},
                "manual_limit": {"value": 14.5, "unit": "[in_i]"}
            },
            "coulter": {"mount": "frame"},
            "cleaner": "none",
            "closing": "two_spiked",
            "closing_lift": {"value": 110.0, "unit": "N"},
            "arms": {"bar_too_high": {"value": 1.5, "unit": "[in_i]"}}
        },
        "down_force": {
            "kind": "hydraulic",
            "cylinder": {
                "bore": {"value": 32.0, "unit": "mm"},
                "rod": {"value": 16.0, "unit": "mm"},
                "side": "rod",
                "lever_ratio": 1.2,
                "most_pressure": {"value": 3000.0, "unit": "[psi]"}
            },
            "lift": {"value": 200.0, "unit": "[lbf_av]"}
        },
        "frame": [{
            "name": "left wing", "rows": 6,
            "empty_weight": {"value": 3000.0, "unit": "[lbf_av]"},
            "on_hitch": {"value": 0.0, "unit": "[lbf_av]"},
            "wheels": 2
        }],
        "depth_lever": {
            "first": {"value": 0.5, "unit": "[in_i]"},
            "step": {"value": 0.25, "unit": "[in_i]"},
            "notches": 14
        },
        "closing_owned": ["rubber", "finger"]
    });
    given["makeup"] = makeup.clone();
    let made = app.advisor.post("/v1/planters", &given).await.assert_status(201);
    assert_eq!(made.json()["makeup"], makeup);
    let path = format!("/v1/planters/{}", made.id());
    assert_eq!(app.grower.get(&path).await.assert_status(200).json(), made.json());

    let springs = json!({"kind": "spring", "notches": [
        {"label": "1", "force": {"value": 0.0, "unit": "[lbf_av]"}},
        {"label": "2", "force": {"value": 125.0, "unit": "[lbf_av]"}}
    ]});
    let mut other = makeup.clone();
    other["down_force"] = springs.clone();
    let changed = app.advisor.patch(&path, "\"1\"", &json!({"makeup": other})).await;
    let changed = changed.assert_status(200).json();
    assert_eq!(changed["makeup"]["down_force"], springs);
    assert_eq!(changed["name"], "The eight-row");
}

#[tokio::test]
async fn each_bad_member_of_a_makeup_is_named() {
    let app = TestApp::start().await;
    let inches = |value: f64| json!({"value": value, "unit": "[in_i]"});
    let pounds = |value: f64| json!({"value": value, "unit": "[lbf_av]"});
    let notch = |force: f64| json!({"label": "n", "force": pounds(force)});
    for (at, value, pointer) in [
        ("/makeup/rows", json!(0), "/makeup/rows"),
        ("/makeup/rows", json!(65), "/makeup/rows"),
        ("/makeup/rows", json!(8.5), "/makeup/rows"),
        ("/makeup/row_width", inches(300.0), "/makeup/row_width"),
        ("/makeup/unit/weight", pounds(9000.0), "/makeup/unit/weight"),
        ("/makeup/unit/cleaner", json!("brush"), "/makeup/unit/cleaner"),
        ("/makeup/unit/hopper", json!({"kind": "bag"}), "/makeup/unit/hopper/kind"),
        (
            "/makeup/unit/hopper",
            json!({"kind": "per_row", "volume": {"value": "x", "unit": "L"}}),
            "/makeup/unit/hopper/volume/value",
        ),
        ("/makeup/unit/opener/measured", inches(16.0), "/makeup/unit/opener/measured"),
        ("/makeup/unit/arms/angle", json!({"value": 80, "unit": "deg"}), "/makeup/unit/arms/angle"),
        ("/makeup/down_force", json!({"kind": "spring"}), "/makeup/down_force/notches"),
        (
            "/makeup/down_force",
            json!({"kind": "spring", "notches": []}),
            "/makeup/down_force/notches",
        ),
        (
            "/makeup/down_force",
            json!({"kind": "spring", "notches": [notch(100.0), notch(90.0)]}),
            "/makeup/down_force/notches/1/force",
        ),
        (
            "/makeup/down_force",
            json!({"kind": "air_bag", "pressure": 3}),
            "/makeup/down_force/pressure",
        ),
        (
            "/makeup/frame",
            json!([{"name": "all", "rows": 9, "empty_weight": pounds(3000.0),
                "on_hitch": pounds(0.0), "wheels": 2}]),
            "/makeup/frame",
        ),
    ] {
        let mut body = with(at, value);
        body["grower_id"] = json!(app.own_grower_id);
        let answer = app.lead.post("/v1/planters", &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
}

#[tokio::test]
async fn a_planter_with_a_calibration_is_not_deleted() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let path = format!("/v1/planters/{}", stead.planter);
    app.lead.delete(&path).await.assert_problem(409, "in_use");
    let mut body = Farmstead::planter_body(&app.own_grower_id);
    body["name"] = json!("A spare");
    let spare = app.lead.create("/v1/planters", &body).await;
    app.lead.delete(&format!("/v1/planters/{spare}")).await.assert_status(204);
}
