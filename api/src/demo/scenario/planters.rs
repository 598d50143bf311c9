//! The planters, each of another make-up.

use domain::planter::{Cleaner, ClosingPair, CoulterMount, Side};

use super::make_up::{Fault, Hopper, Oil, PlanterPlan, Section, Source};

const fn section(name: &'static str, rows: u16, weight: f64, hitch: f64, wheels: u16) -> Section {
    Section { name, rows, weight, hitch, wheels }
}

/// What most of them have in common.
const BASE: PlanterPlan = PlanterPlan {
    grower: 0,
    name: "",
    rows: 8,
    row_width: 30.0,
    source: Source::WeightOnly,
    unit_weight: None,
    attachments: None,
    hopper: Hopper::OnUnit(Some(1.6)),
    discs: (15.0, None, Some(14.5)),
    coulter: None,
    cleaner: Cleaner::Floating,
    closing: ClosingPair::Rubber,
    closing_owned: &[],
    arm_angle: Some(0.0),
    lever: None,
    sections: &[],
    speed: 5.0,
    fault: None,
};

const UNIT_COULTER: Option<(CoulterMount, Option<f64>)> = Some((CoulterMount::Unit, Some(0.3)));

/// Every planter.
pub(in crate::demo) const PLANTERS: [PlanterPlan; 14] = [
    PlanterPlan {
        name: "Home planter",
        source: Source::Bags(&[(15.0, 120.0), (60.0, 420.0)]),
        unit_weight: Some(175.0),
        attachments: Some(82.0),
        coulter: UNIT_COULTER,
        closing: ClosingPair::SpikedAndRubber,
        closing_owned: &[ClosingPair::Rubber],
        discs: (15.0, Some(14.9), Some(14.5)),
        lever: Some((1.0, 0.25, 11)),
        ..BASE
    },
    PlanterPlan {
        grower: 1,
        name: "Bar with bags",
        rows: 12,
        source: Source::Bags(&[(2.0, 14.0), (25.0, 190.0), (45.0, 352.0), (65.0, 497.0)]),
        unit_weight: Some(168.0),
        hopper: Hopper::OnUnit(Some(3.0)),
        closing_owned: &[ClosingPair::SpikedAndRubber],
        lever: Some((1.0, 0.25, 11)),
        sections: &[
            section("left wing", 4, 3300.0, 0.0, 2),
            section("centre", 4, 6100.0, 900.0, 4),
            section("right wing", 4, 3300.0, 0.0, 2),
        ],
        ..BASE
    },
    PlanterPlan {
        grower: 2,
        name: "Big planter",
        rows: 16,
        source: Source::Oil(Oil {
            bore_rod: (1.25, 0.75),
            side: Side::Cap,
            lever_ratio: 0.35,
            most: 2000.0,
            lift: Some(150.0),
            points: &[],
        }),
        unit_weight: Some(186.0),
        attachments: Some(64.0),
        hopper: Hopper::Central,
        closing: ClosingPair::TwoSpiked,
        closing_owned: &[ClosingPair::SpikedAndRubber],
        lever: Some((0.75, 0.25, 13)),
        sections: &[
            section("left wing", 5, 4700.0, 0.0, 2),
            section("centre", 6, 11_500.0, 1800.0, 4),
            section("right wing", 5, 4700.0, 0.0, 2),
        ],
        speed: 5.5,
        ..BASE
    },
    PlanterPlan {
        grower: 3,
        name: "Spring planter",
        rows: 6,
        source: Source::Springs(&[0.0, 125.0, 250.0, 400.0]),
        coulter: Some((CoulterMount::Frame, None)),
        cleaner: Cleaner::None,
        closing: ClosingPair::CastIron,
        closing_owned: &[ClosingPair::SpikedAndRubber],
        ..BASE
    },
    PlanterPlan {
        grower: 4,
        name: "Old discs",
        source: Source::Springs(&[0.0, 100.0, 200.0, 300.0, 400.0]),
        unit_weight: Some(165.0),
        discs: (15.0, None, Some(14.5)),
        closing: ClosingPair::SpikedAndRubber,
        lever: Some((1.0, 0.25, 9)),
        fault: Some(Fault::WornDiscs(0.75)),
        ..BASE
    },
    PlanterPlan {
        grower: 5,
        name: "Bags never calibrated",
        rows: 12,
        source: Source::Bags(&[]),
        hopper: Hopper::OnUnit(None),
        closing_owned: &[ClosingPair::TwoSpiked],
        arm_angle: None,
        ..BASE
    },
    PlanterPlan {
        grower: 6,
        name: "Bean planter",
        rows: 15,
        row_width: 15.0,
        source: Source::Springs(&[0.0, 110.0, 220.0, 330.0]),
        unit_weight: Some(158.0),
        attachments: Some(35.0),
        cleaner: Cleaner::None,
        lever: Some((0.5, 0.25, 9)),
        ..BASE
    },
    PlanterPlan {
        grower: 6,
        name: "Fixed cleaners",
        source: Source::Bags(&[(20.0, 150.0), (60.0, 430.0)]),
        unit_weight: Some(180.0),
        attachments: Some(90.0),
        cleaner: Cleaner::Fixed,
        closing: ClosingPair::SpikedAndRubber,
        fault: Some(Fault::CleanersDeep(300.0)),
        ..BASE
    },
    PlanterPlan {
        grower: 7,
        name: "Wide wings",
        rows: 24,
        source: Source::Oil(Oil {
            bore_rod: (1.5, 0.75),
            side: Side::Cap,
            lever_ratio: 0.3,
            most: 1500.0,
            lift: None,
            points: &[(50.0, 22.0), (600.0, 280.0), (1000.0, 475.0)],
        }),
        unit_weight: Some(190.0),
        attachments: Some(55.0),
        hopper: Hopper::Central,
        closing: ClosingPair::Finger,
        lever: Some((0.75, 0.25, 13)),
        sections: &[
            section("left wing", 8, 8200.0, 0.0, 4),
            section("centre", 8, 16_000.0, 2500.0, 6),
            section("right wing", 8, 8200.0, 0.0, 4),
        ],
        speed: 5.5,
        ..BASE
    },
    PlanterPlan {
        grower: 8,
        name: "Plain four-row",
        rows: 4,
        unit_weight: Some(205.0),
        attachments: Some(150.0),
        coulter: UNIT_COULTER,
        cleaner: Cleaner::None,
        speed: 4.5,
        ..BASE
    },
    PlanterPlan {
        grower: 9,
        name: "Narrow rows",
        rows: 11,
        row_width: 15.0,
        hopper: Hopper::Central,
        unit_weight: Some(172.0),
        attachments: Some(60.0),
        discs: (13.5, Some(13.0), None),
        closing: ClosingPair::CastIron,
        speed: 4.5,
        ..BASE
    },
    PlanterPlan {
        grower: 10,
        name: "Wide rows",
        rows: 6,
        row_width: 36.0,
        source: Source::Springs(&[0.0, 125.0, 250.0, 375.0]),
        coulter: UNIT_COULTER,
        hopper: Hopper::OnUnit(Some(2.0)),
        closing: ClosingPair::SpikedAndRubber,
        fault: Some(Fault::OddRow(4, 190.0)),
        ..BASE
    },
    PlanterPlan {
        grower: 11,
        name: "Long bar",
        rows: 12,
        source: Source::Springs(&[0.0, 125.0, 250.0, 400.0]),
        unit_weight: Some(170.0),
        hopper: Hopper::Central,
        discs: (15.0, Some(14.4), Some(14.5)),
        coulter: UNIT_COULTER,
        closing_owned: &[ClosingPair::SpikedAndRubber],
        arm_angle: Some(3.0),
        fault: Some(Fault::EndsLift(260.0)),
        ..BASE
    },
    PlanterPlan {
        grower: 2,
        name: "Worn meters",
        rows: 12,
        source: Source::Bags(&[(5.0, 42.0), (55.0, 405.0)]),
        attachments: Some(75.0),
        hopper: Hopper::OnUnit(Some(3.0)),
        closing: ClosingPair::SpikedAndRubber,
        speed: 6.0,
        fault: Some(Fault::Meters),
        ..BASE
    },
];
