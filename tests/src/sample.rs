//! Objects that many tests need.

use serde_json::{Value, json};

use crate::User;

/// Paths of the operations on one object of each kind, with what stands for `{id}`.
///
/// A test that walks the API document looks here for the object that a path means; a path without
/// an entry fails that test, so a new resource can't be forgotten.
pub const CATALOGUE: &[(&str, &str)] = &[
    ("/v1/growers/{id}", "grower"),
    ("/v1/farms/{id}", "farm"),
    ("/v1/fields/{id}", "field"),
    ("/v1/planters/{id}", "planter"),
    ("/v1/conditions/{id}", "conditions"),
    ("/v1/recommendations/{id}", "recommendation"),
    ("/v1/dig-checks/{id}", "dig_check"),
    ("/v1/adjustments/{id}", "adjustment"),
    ("/v1/coefficient-sets/{id}", "coefficient_set"),
];

/// A grower with a farm, a field and a planter that has air bags and a calibration.
#[derive(Debug, Clone)]
pub struct Farmstead {
    /// Id of the grower.
    pub grower: String,
    /// Id of the farm.
    pub farm: String,
    /// Id of the field.
    pub field: String,
    /// Id of the planter.
    pub planter: String,
    /// Id of a conditions report of the field; empty without one.
    pub conditions: String,
    /// Id of a draft for the planter in the field, issued before a dig; empty without one.
    pub recommendation: String,
    /// Id of a dig check; empty without one.
    pub dig_check: String,
    /// Id of the adjustment that it proposes; empty without one.
    pub adjustment: String,
    /// Id of the coefficients behind the recommendation; empty without one.
    pub coefficient_set: String,
}

impl Farmstead {
    /// Makes one as `user`, with a conditions report and a draft.
    pub async fn make(user: &User, name: &str) -> Self {
        let grower = user.create("/v1/growers", &json!({"name": name})).await;
        Self::of_grower(user, &grower).await.with_draft(user).await
    }

    /// Adds a conditions report and a draft.
    pub async fn with_draft(mut self, user: &User) -> Self {
        let reports = format!("/v1/fields/{}/conditions", self.field);
        self.conditions = user.create(&reports, &Self::conditions_body()).await;
        self.draft(user, &json!({})).await;
        self
    }

    async fn draft(&mut self, user: &User, goals: &Value) {
        let wanted = self.recommendation_body(goals);
        let made = user.post("/v1/recommendations", &wanted).await.assert_status(201).json();
        let id = |name: &str| made[name].as_str().expect("an id").to_owned();
        self.recommendation = id("id");
        self.coefficient_set = id("coefficient_set_id");
    }

    /// Adds a conditions report and a recommendation that is issued: corn at 2 in, 5 mph.
    pub async fn with_sheet(mut self, user: &User) -> Self {
        let reports = format!("/v1/fields/{}/conditions", self.field);
        self.conditions = user.create(&reports, &Self::conditions_body()).await;
        let goals = json!({
            "depth": {"value": 2, "unit": "[in_i]"}, "speed": {"value": 5, "unit": "[mi_i]/h"}
        });
        self.draft(user, &goals).await;
        self.issue(user).await;
        self
    }

    /// Issues the draft.
    pub async fn issue(&self, user: &User) {
        let path = format!("/v1/recommendations/{}/issue", self.recommendation);
        user.send("POST", &path, &[("if-match", "*")], None).await.assert_status(200);
    }

    /// Digs behind what was issued: shallow seed, free gauge wheels. A second dig is made five minutes
    /// later: at the same time it would be the same one.
    pub async fn with_dig(mut self, user: &User) -> Self {
        let path = format!("/v1/recommendations/{}/dig-checks", self.recommendation);
        let mut body = Self::dig_body();
        if !self.dig_check.is_empty() {
            body["dug_at"] = json!("2027-04-20T11:50:00Z");
        }
        let dig = user.post(&path, &body).await.assert_status(201).json();
        let id = |name: &str| dig[name].as_str().expect("an id").to_owned();
        self.dig_check = id("id");
        self.adjustment = id("adjustment_id");
        self
    }

    /// Makes farm, field, planter and calibration of a grower who is there.
    pub async fn of_grower(user: &User, grower: &str) -> Self {
        let farm =
            user.create("/v1/farms", &json!({"grower_id": grower, "name": "Home farm"})).await;
        let field = user.create("/v1/fields", &Self::field_body(&farm)).await;
        let planter = user.create("/v1/planters", &Self::planter_body(grower)).await;
        let calibrations = format!("/v1/planters/{planter}/calibrations");
        user.create(&calibrations, &Self::calibration_body()).await;
        let none = String::new;
        let grower = grower.to_owned();
        Self {
            grower,
            farm,
            field,
            planter,
            conditions: none(),
            recommendation: none(),
            dig_check: none(),
            adjustment: none(),
            coefficient_set: none(),
        }
    }

    /// The id of the object of this kind, as in [`CATALOGUE`].
    pub fn id_of(&self, kind: &str) -> Option<&str> {
        match kind {
            "grower" => Some(&self.grower),
            "farm" => Some(&self.farm),
            "field" => Some(&self.field),
            "planter" => Some(&self.planter),
            "conditions" => Some(&self.conditions),
            "recommendation" => Some(&self.recommendation),
            "dig_check" => Some(&self.dig_check),
            "adjustment" => Some(&self.adjustment),
            "coefficient_set" => Some(&self.coefficient_set),
            _ => None,
        }
    }

    /// A field of a farm, with a boundary of about 227 acres and an entered area.
    pub fn field_body(farm: &str) -> Value {
        json!({
            "farm_id": farm,
            "name": "North forty",
            "boundary": {"type": "Polygon", "coordinates": [[
                [-93.62, 42.03], [-93.61, 42.03], [-93.61, 42.04], [-93.62, 42.04], [-93.62, 42.03]
            ]]},
            "entered_area": {"value": 40, "unit": "[acr_us]"},
            "texture_class": "silt_loam"
        })
    }

    /// An eight-row planter with air bags.
    pub fn planter_body(grower: &str) -> Value {
        json!({
            "grower_id": grower,
            "name": "The eight-row",
            "makeup": {
                "rows": 8,
                "row_width": {"value": 30, "unit": "[in_i]"},
                "unit": {
                    "weight": {"value": 175, "unit": "[lbf_av]"},
                    "hopper": {"kind": "per_row", "volume": {"value": 1.6, "unit": "[bu_us]"}},
                    "opener": {"new_diameter": {"value": 15.0, "unit": "[in_i]"}},
                    "coulter": {"mount": "unit", "above_opener": {"value": 8, "unit": "mm"}},
                    "cleaner": "floating",
                    "closing": "spiked_and_rubber",
                    "arms": {"angle": {"value": 0, "unit": "deg"}}
                },
                "down_force": {"kind": "air_bag"}
            }
        })
    }

    /// Two points on air bags.
    pub fn calibration_body() -> Value {
        json!({
            "calibrated_on": "2027-04-03",
            "points": [
                {"pressure": {"value": 15.0, "unit": "[psi]"}, "force": {"value": 120.0, "unit": "[lbf_av]"}},
                {"pressure": {"value": 60.0, "unit": "[psi]"}, "force": {"value": 420.0, "unit": "[lbf_av]"}}
            ]
        })
    }

    /// Silt loam, moist, rye two feet tall and green over cornstalks.
    pub fn conditions_body() -> Value {
        json!({
            "observed_at": "2027-04-20T10:30:00Z",
            "crop": "corn",
            "planting_date": "2027-04-21",
            "texture": "silt_loam",
            "moisture": "moist",
            "ball": "crumbles",
            "ribbon": {"value": 0.5, "unit": "[in_i]"},
            "soil_temperature": {"value": 54, "unit": "[degF]"},
            "soil_low": {"value": 51, "unit": "[degF]"},
            "cover": {
                "species": "cereal_rye",
                "height": {"value": 24, "unit": "[in_i]"},
                "ground_cover": {"value": 100, "unit": "%"},
                "state": "green_standing"
            },
            "previous_crop": "corn",
            "previous_yield_bu_ac": 200
        })
    }

    /// Four rows, half an inch too shallow, with gauge wheels that spin free.
    pub fn dig_body() -> Value {
        let row = |row: u16, depths: [f64; 5]| {
            json!({
                "row": row, "seed_depths": {"unit": "[in_i]", "values": depths},
                "gauge_wheels": "spin_free", "wall": "crumbly", "bottom": "v",
                "seed_on_bottom": true
            })
        };
        json!({
            "dug_at": "2027-04-20T11:45:00Z",
            "settings": {
                "pressure": {"value": 30.0, "unit": "[psi]"},
                "speed": {"value": 5.0, "unit": "[mi_i]/h"},
                "box_fill": {"value": 50.0, "unit": "%"}
            },
            "rows": [
                row(2, [1.5, 1.625, 1.5, 1.625, 1.5]),
                row(3, [1.5, 1.5, 1.625, 1.5, 1.625]),
                row(6, [1.625, 1.5, 1.5, 1.625, 1.5]),
                row(7, [1.5, 1.625, 1.625, 1.5, 1.5])
            ]
        })
    }

    /// What is asked of the service for the planter in the field.
    pub fn recommendation_body(&self, goals: &Value) -> Value {
        json!({"field_id": self.field, "planter_id": self.planter, "goals": goals})
    }
}
