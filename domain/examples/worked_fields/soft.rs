//! Soft and moist with thin cover.

use domain::conditions::{
    BallTest, Conditions, CoverCrop, CoverSpecies, CoverState, Crop, Moisture, PreviousCrop,
    TextureClass,
};
use domain::in_furrow::{Analysis, InFurrowPlan, InFurrowProduct};
use domain::planter::{
    Arms, Cleaner, ClosingPair, Coulter, CoulterMount, DepthLever, DownForce, Hopper, Notch,
    OpenerDisc, Planter, RowUnit,
};
use domain::settings::{Goals, Inputs, SeedingGoal};

use crate::{Worked, q};

pub(crate) fn field() -> Worked {
    Worked {
        name: "Soft and moist, thin cover",
        story: "Corn into wheat drilled thin after soybean. Silt loam, moist, the ball crumbles, the \
                cone reads 90 psi. Starter 10-34-0 in the furrow, 4 gal/ac. Six rows at 30 in with springs of four notches; one row was weighed.",
        inputs: Inputs::new(planter(), conditions(), goals()),
    }
}

fn planter() -> Planter {
    let notch =
        |(label, lbf): (&str, f64)| Notch { label: label.into(), force: q(lbf, "[lbf_av]") };
    let notches = [("1", 0.0), ("2", 125.0), ("3", 250.0), ("4", 400.0)].map(notch).to_vec();
    Planter {
        rows: 6,
        row_width: q(30.0, "[in_i]"),
        tyre_rows: Vec::new(),
        unit: RowUnit {
            weight: Some(q(172.0, "[lbf_av]")),
            attachments: Some(q(64.0, "[lbf_av]")),
            hopper: Hopper::PerRow { volume: Some(q(1.6, "[bu_us]")) },
            opener: OpenerDisc {
                new_diameter: q(15.0, "[in_i]"),
                measured: Some(q(14.75, "[in_i]")),
                manual_limit: Some(q(14.5, "[in_i]")),
            },
            coulter: Some(Coulter {
                mount: CoulterMount::Unit,
                above_opener: Some(q(0.25, "[in_i]")),
            }),
            cleaner: Cleaner::Floating,
            closing: ClosingPair::Rubber,
            closing_lift: Some(q(20.0, "[lbf_av]")),
            arms: Arms { angle: Some(q(2.0, "deg")), bar_too_high: None, length: None },
        },
        down_force: DownForce::Spring { notches },
        frame: Vec::new(),
        ground_drive: None,
        depth_lever: Some(DepthLever {
            first: q(1.0, "[in_i]"),
            step: q(0.25, "[in_i]"),
            notches: 10,
        }),
        closing_owned: vec![ClosingPair::SpikedAndRubber],
    }
}

fn conditions() -> Conditions {
    Conditions {
        texture: Some(TextureClass::SiltLoam),
        moisture: Some(Moisture::Moist),
        ball: Some(BallTest::Crumbles),
        soil_temperature: Some(q(54.0, "[degF]")),
        penetration: Some(q(90.0, "[psi]")),
        cover: Some(CoverCrop {
            height: Some(q(6.0, "[in_i]")),
            ground_cover: Some(q(35.0, "%")),
            state: Some(CoverState::GreenStanding),
            ..CoverCrop::of(CoverSpecies::Wheat)
        }),
        previous_crop: Some(PreviousCrop::Soybean),
        previous_yield_bu_ac: Some(55.0),
        ..Conditions::of(Crop::Corn)
    }
}

fn goals() -> Goals {
    Goals {
        speed: Some(q(5.0, "[mi_i]/h")),
        seeding: Some(SeedingGoal::Stand {
            plants: Some(q(32_000.0, "1/[acr_us]")),
            germination: Some(q(95.0, "%")),
            survival: None,
        }),
        in_furrow: Some(starter()),
        ..Goals::default()
    }
}

/// 10-34-0 at 11.65 lb a gallon, 4 gallons an acre with nothing added.
fn starter() -> InFurrowPlan {
    let product = InFurrowProduct::Starter {
        analysis: Analysis::new(q(10.0, "%"), q(34.0, "%"), q(0.0, "%")).unwrap(),
        density: q(11.65, "[lb_av]/[gal_us]"),
    };
    InFurrowPlan {
        rate: Some(q(4.0, "[gal_us]/[acr_us]")),
        contains: Some(Vec::new()),
        tank: Some(q(300.0, "[gal_us]")),
        ..InFurrowPlan::of(product)
    }
}
