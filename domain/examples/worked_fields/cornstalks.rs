//! Heavy cornstalks in 15 in rows at 6 mph.

use domain::conditions::{
    BallTest, Conditions, Crop, Moisture, PreviousCrop, ResidueFeel, ResidueSpread, RowPosition,
    TextureClass,
};
use domain::planter::{
    Arms, Cleaner, ClosingPair, Cylinder, DownForce, Hopper, OpenerDisc, Planter, RowUnit, Side,
};
use domain::settings::{Goals, Inputs, SeedingGoal, Work};

use crate::{Worked, q};

pub(crate) fn field() -> Worked {
    Worked {
        name: "Heavy cornstalks, 15 in rows, 6 mph",
        story: "Soybean between stalks of 240 bushels of corn, spread in bands and pliable. Clay loam, \
                slightly moist. Sixteen rows at 15 in with hydraulic cylinders, seed on the frame, \
                floating cleaners, no coulters.",
        inputs: Inputs::new(planter(), conditions(), goals()),
    }
}

fn planter() -> Planter {
    let cylinder = Cylinder {
        bore: q(1.25, "[in_i]"),
        rod: q(0.75, "[in_i]"),
        side: Side::Cap,
        lever_ratio: 0.3,
        most: q(2_200.0, "[psi]"),
    };
    Planter {
        rows: 16,
        row_width: q(15.0, "[in_i]"),
        tyre_rows: Vec::new(),
        unit: RowUnit {
            weight: Some(q(160.0, "[lbf_av]")),
            attachments: Some(q(45.0, "[lbf_av]")),
            hopper: Hopper::Central,
            opener: OpenerDisc {
                new_diameter: q(15.0, "[in_i]"),
                measured: Some(q(14.9, "[in_i]")),
                manual_limit: Some(q(14.5, "[in_i]")),
            },
            coulter: None,
            cleaner: Cleaner::Floating,
            closing: ClosingPair::CastIron,
            closing_lift: Some(q(30.0, "[lbf_av]")),
            arms: Arms { angle: Some(q(-1.0, "deg")), bar_too_high: None, length: None },
        },
        down_force: DownForce::Hydraulic {
            cylinder,
            calibration: None,
            lift: Some(q(100.0, "[lbf_av]")),
        },
        frame: Vec::new(),
        ground_drive: None,
        depth_lever: None,
        closing_owned: vec![ClosingPair::SpikedAndRubber],
    }
}

fn conditions() -> Conditions {
    Conditions {
        texture: Some(TextureClass::ClayLoam),
        moisture: Some(Moisture::SlightlyMoist),
        ball: Some(BallTest::Crumbles),
        soil_temperature: Some(q(60.0, "[degF]")),
        previous_crop: Some(PreviousCrop::Corn),
        previous_yield_bu_ac: Some(240.0),
        residue_feel: Some(ResidueFeel::Pliable),
        residue_spread: Some(ResidueSpread::Banded),
        row_position: Some(RowPosition::BetweenOldRows),
        start_hour: Some(11),
        ..Conditions::of(Crop::Soybean)
    }
}

fn goals() -> Goals {
    Goals {
        speed: Some(q(6.0, "[mi_i]/h")),
        seeding: Some(SeedingGoal::Rate { seeds: q(140_000.0, "1/[acr_us]") }),
        work: Some(Work { area: Some(q(160.0, "[acr_us]")), ..Work::default() }),
        ..Goals::default()
    }
}
