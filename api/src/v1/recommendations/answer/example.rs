//! One worked case for the API document. The planter and the field are invented.

use chrono::{DateTime, Utc};
use domain::conditions::{
    BallTest, Conditions, CoverCrop, CoverSpecies, CoverState, Crop, Moisture, PreviousCrop,
    TerminationZone, TextureClass,
};
use domain::planter::{
    Arms, Calibration, CalibrationPoint, Cleaner, ClosingPair, Coulter, CoulterMount, DownForce,
    Hopper, OpenerDisc, Planter, RowUnit,
};
use domain::provenance::Coefficients;
use domain::quantity::{Measured, System, unit};
use domain::settings::Inputs;
use uuid::Uuid;

use super::Recommendation;
use crate::entities::recommendations::{Model, Status};
use crate::http::quantity::Quantity;
use crate::v1::recommendations::compute;
use crate::v1::recommendations::goals::{GoalsIn, SeedingIn};
use crate::v1::recommendations::show::Show;

/// What goes into the engine in this case.
pub(super) fn inputs() -> Option<Inputs> {
    let goals = goals().parse("/goals").ok()?;
    Some(Inputs::new(planter()?, field(), goals))
}

fn goals() -> GoalsIn {
    GoalsIn {
        depth: Some(Quantity::new(2.0, "[in_i]")),
        speed: Some(Quantity::new(5.0, "[mi_i]/h")),
        seeding: Some(SeedingIn::Rate { seeds: Quantity::new(34_000.0, "1/[acr_us]") }),
        instructions: vec!["Start on the west side, it dries first.".to_owned()],
        ..GoalsIn::default()
    }
}

/// The case as an answer in US units.
pub(super) fn recommendation() -> Option<Recommendation> {
    let inputs = inputs()?;
    let worked = compute::result(&inputs, &Coefficients::STANDARD);
    let row = row(worked.engine.to_string());
    Some(Recommendation::shown(&row, goals(), &inputs, worked, Show(System::Us)))
}

fn row(engine_version: String) -> Model {
    let id = |n: u128| Uuid::from_u128(0x0196_4f1e_6a00_7000_8000_0000_0000_0000 + n);
    let time: DateTime<Utc> = DateTime::UNIX_EPOCH + chrono::TimeDelta::hours(20928 * 24 + 12);
    Model {
        practice_id: id(0),
        id: id(0x31),
        field_id: id(0x11),
        planter_id: id(0x12),
        conditions_id: id(0x21),
        calibration_id: Some(id(0x13)),
        series_id: id(0x31),
        revision: 1,
        replaces_id: None,
        status: Status::Draft,
        goals: serde_json::Value::Null,
        inputs: serde_json::Value::Null,
        result: serde_json::Value::Null,
        engine_version,
        created_at: time,
        created_by: id(1),
        issued_at: None,
        issued_by: None,
        acknowledged_at: None,
        acknowledged_by: None,
        version: 1,
        coefficient_set_id: Some(id(0x61)),
        updated_at: time,
    }
}

fn q<Q: Measured>(value: f64, code: &str) -> Q {
    Q::from_si(unit(code).map_or(value, |unit| unit.to_si(value)))
}

fn planter() -> Option<Planter> {
    let point =
        |psi, lbf| CalibrationPoint { pressure: q(psi, "[psi]"), force: q(lbf, "[lbf_av]") };
    let calibration = Calibration::from_points(&[point(15.0, 120.0), point(60.0, 420.0)]).ok()?;
    Some(Planter {
        rows: 8,
        row_width: q(30.0, "[in_i]"),
        tyre_rows: Vec::new(),
        unit: RowUnit {
            weight: Some(q(175.0, "[lbf_av]")),
            attachments: None,
            hopper: Hopper::PerRow { volume: Some(q(1.6, "[bu_us]")) },
            opener: OpenerDisc {
                new_diameter: q(15.0, "[in_i]"),
                measured: None,
                manual_limit: None,
            },
            coulter: Some(Coulter {
                mount: CoulterMount::Unit,
                above_opener: Some(q(0.3, "[in_i]")),
            }),
            cleaner: Cleaner::Floating,
            closing: ClosingPair::SpikedAndRubber,
            closing_lift: None,
            arms: Arms { angle: Some(q(0.0, "deg")), bar_too_high: None, length: None },
        },
        down_force: DownForce::AirBag { calibration: Some(calibration) },
        frame: Vec::new(),
        ground_drive: None,
        depth_lever: None,
        closing_owned: Vec::new(),
    })
}

fn field() -> Conditions {
    Conditions {
        texture: Some(TextureClass::SiltLoam),
        moisture: Some(Moisture::Moist),
        ball: Some(BallTest::Crumbles),
        soil_temperature: Some(q(54.0, "[degF]")),
        cover: Some(CoverCrop {
            height: Some(q(24.0, "[in_i]")),
            ground_cover: Some(q(95.0, "%")),
            state: Some(CoverState::GreenStanding),
            ..CoverCrop::of(CoverSpecies::CerealRye)
        }),
        previous_crop: Some(PreviousCrop::Corn),
        previous_yield_bu_ac: Some(200.0),
        planting_date: chrono::NaiveDate::from_ymd_opt(2027, 4, 26),
        termination_zone: Some(TerminationZone::Four),
        ..Conditions::of(Crop::Corn)
    }
}
