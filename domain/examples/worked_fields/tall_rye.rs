//! Tall rye in drought.

use domain::conditions::{
    BallTest, Conditions, CoverClip, CoverCrop, CoverSpecies, CoverStage, CoverState, Crop,
    Moisture, PreviousCrop, TextureClass,
};
use domain::planter::{
    Arms, Calibration, Cleaner, ClosingPair, Coulter, CoulterMount, DownForce, FrameSection,
    Hopper, OpenerDisc, Planter, RowUnit,
};
use domain::settings::{Goals, Inputs};

use crate::{Worked, point, q};

pub(crate) fn field() -> Worked {
    Worked {
        name: "Tall rye in drought",
        story: "Soybean into rye of 50 in at flowering, 1.9 lb dry clipped from 8 sq ft. Silty clay \
                loam, dry, the cone reads 280 psi. Eight rows at 30 in on air bags with three points \
                of calibration, coulters on the frame, no row cleaners; nobody weighed a unit.",
        inputs: Inputs::new(planter(), conditions(), goals()),
    }
}

fn planter() -> Planter {
    let points = [point(15.0, 105.0), point(40.0, 262.0), point(65.0, 428.0)];
    Planter {
        rows: 8,
        row_width: q(30.0, "[in_i]"),
        tyre_rows: Vec::new(),
        unit: RowUnit {
            weight: None,
            attachments: None,
            hopper: Hopper::PerRow { volume: Some(q(3.0, "[bu_us]")) },
            opener: OpenerDisc {
                new_diameter: q(15.0, "[in_i]"),
                measured: None,
                manual_limit: None,
            },
            coulter: Some(Coulter { mount: CoulterMount::Frame, above_opener: None }),
            cleaner: Cleaner::None,
            closing: ClosingPair::SpikedAndRubber,
            closing_lift: None,
            arms: Arms {
                angle: None,
                bar_too_high: Some(q(1.0, "[in_i]")),
                length: Some(q(15.0, "[in_i]")),
            },
        },
        down_force: DownForce::AirBag {
            calibration: Some(Calibration::from_points(&points).unwrap()),
        },
        frame: vec![
            section("left wing", 2, 900.0),
            section("centre", 4, 4_600.0),
            section("right wing", 2, 900.0),
        ],
        ground_drive: None,
        depth_lever: None,
        closing_owned: vec![ClosingPair::TwoSpiked],
    }
}

fn section(name: &str, rows: u16, pounds: f64) -> FrameSection {
    FrameSection {
        name: name.into(),
        rows,
        empty_weight: q(pounds, "[lbf_av]"),
        on_hitch: q(0.0, "[lbf_av]"),
        wheels: if rows > 2 { 2 } else { 1 },
    }
}

fn conditions() -> Conditions {
    Conditions {
        texture: Some(TextureClass::SiltyClayLoam),
        moisture: Some(Moisture::Dry),
        ball: Some(BallTest::Crumbles),
        soil_temperature: Some(q(64.0, "[degF]")),
        penetration: Some(q(280.0, "[psi]")),
        cover: Some(CoverCrop {
            height: Some(q(50.0, "[in_i]")),
            ground_cover: Some(q(100.0, "%")),
            state: Some(CoverState::GreenStanding),
            stage: Some(CoverStage::Flowering),
            clip: Some(CoverClip { dry: q(1.9, "[lb_av]"), area: q(8.0, "[sft_i]") }),
            ..CoverCrop::of(CoverSpecies::CerealRye)
        }),
        previous_crop: Some(PreviousCrop::Corn),
        previous_yield_bu_ac: Some(150.0),
        ..Conditions::of(Crop::Soybean)
    }
}

fn goals() -> Goals {
    Goals { speed: Some(q(4.5, "[mi_i]/h")), ..Goals::default() }
}
