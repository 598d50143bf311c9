//! Each contradiction alone: it is found, and the safer reading is left.

mod cases;

use cases::{planting, q};
use domain::conditions::{
    BallTest, Clash, Conditions, CoverClip, CoverCrop, CoverSpecies, CoverStage, CoverState, Crop,
    Moisture, PreviousCrop, ResidueFeel, SoilMakeup, StrengthClass, TextureClass, Today, TossTest,
};
use domain::provenance::Coefficients;
use domain::quantity::{Length, Measured};
use domain::settings::recommend;

const K: Coefficients = Coefficients::STANDARD;

/// A report that contradicts itself in one way, and what must be left of it.
type Case = (Clash, Conditions, fn(&Conditions) -> bool);

const PUTTY: Option<BallTest> = Some(BallTest::Deforms);
const CRUMBLES: Option<BallTest> = Some(BallTest::Crumbles);

fn bare() -> Conditions {
    Conditions::of(Crop::Corn)
}

fn inches(x: f64) -> Length {
    q(x, "[in_i]")
}

fn rye() -> CoverCrop {
    CoverCrop::of(CoverSpecies::CerealRye)
}

fn with_rye(cover: CoverCrop) -> Conditions {
    Conditions { cover: Some(cover), ..Conditions::of(Crop::Corn) }
}

fn state(state: CoverState) -> CoverCrop {
    CoverCrop { state: Some(state), ..rye() }
}

fn dated(days_before: i64, cover: CoverCrop) -> Conditions {
    Conditions {
        planting_date: Some(planting()),
        cover_ended: Some(planting() - chrono::TimeDelta::days(days_before)),
        ..with_rye(cover)
    }
}

fn wetness() -> Vec<Case> {
    vec![
        (
            Clash::SandYetRibbon,
            Conditions { texture: Some(TextureClass::Sand), ribbon: Some(inches(1.5)), ..bare() },
            |c| c.texture.is_none(),
        ),
        (
            Clash::WaterAgainstFeel,
            Conditions {
                moisture: Some(Moisture::Dry),
                soil: SoilMakeup { water: Some(q(45.0, "%")), ..SoilMakeup::UNKNOWN },
                ..bare()
            },
            |c| c.moisture == Some(Moisture::Wet),
        ),
        (
            Clash::WetYetCrumbles,
            Conditions { moisture: Some(Moisture::AtCapacity), ball: CRUMBLES, ..bare() },
            |c| c.ball.is_none() && c.moisture == Some(Moisture::AtCapacity),
        ),
        (
            Clash::DryYetPutty,
            Conditions { moisture: Some(Moisture::Dry), ball: PUTTY, ..bare() },
            |c| c.moisture == Some(Moisture::Wet),
        ),
        (
            Clash::DryYetRibbon,
            Conditions { moisture: Some(Moisture::Dry), ribbon: Some(inches(4.0)), ..bare() },
            |c| c.moisture == Some(Moisture::Wet),
        ),
    ]
}

fn strength_and_warmth() -> Vec<Case> {
    vec![
        (
            Clash::WholeYetCrumbles,
            Conditions { ball: CRUMBLES, toss: Some(TossTest::LandsWhole), ..bare() },
            |c| c.ball.is_none() && c.toss.is_some(),
        ),
        (
            Clash::RibbonYetCrumbles,
            Conditions { ball: CRUMBLES, ribbon: Some(inches(4.0)), ..bare() },
            |c| c.ball.is_none() && c.ribbon.is_some(),
        ),
        (
            Clash::PuttyYetHard,
            Conditions { ball: PUTTY, penetration: Some(q(500.0, "[psi]")), ..bare() },
            |c| c.penetration.is_none(),
        ),
        (
            Clash::StrengthApart,
            Conditions {
                penetration: Some(q(350.0, "[psi]")),
                strength_class: Some(StrengthClass::Loose),
                ..bare()
            },
            |c| c.penetration.is_none() && c.strength_class.is_some(),
        ),
        (
            Clash::LowAboveNow,
            Conditions {
                soil_temperature: Some(q(48.0, "[degF]")),
                soil_low: Some(q(52.0, "[degF]")),
                ..bare()
            },
            |c| c.soil_low == c.soil_temperature,
        ),
    ]
}

fn cover_and_its_end() -> Vec<Case> {
    vec![
        (Clash::OutsideWithoutCover, Conditions { read_outside_cover: true, ..bare() }, |c| {
            c.read_outside_cover
        }),
        (
            Clash::FlatYetCovered,
            with_rye(CoverCrop {
                height: Some(inches(0.0)),
                ground_cover: Some(q(100.0, "%")),
                ..rye()
            }),
            |c| c.cover.is_some_and(|cover| cover.height.is_none()),
        ),
        (
            Clash::TallYetBare,
            with_rye(CoverCrop {
                height: Some(inches(20.0)),
                ground_cover: Some(q(0.0, "%")),
                ..rye()
            }),
            |c| c.cover.is_some_and(|cover| cover.ground_cover.is_none()),
        ),
        (
            Clash::CrispYetWet,
            Conditions {
                residue_feel: Some(ResidueFeel::Wet),
                ..with_rye(state(CoverState::DeadCrisp))
            },
            |c| c.cover.is_some_and(|cover| cover.state == Some(CoverState::DeadDamp)),
        ),
        (Clash::GreenAfterEnd, dated(30, state(CoverState::GreenStanding)), |c| {
            c.cover.is_some_and(|cover| cover.state == Some(CoverState::Dying))
        }),
        (Clash::CrispTooSoon, dated(2, state(CoverState::DeadCrisp)), |c| {
            c.cover.is_some_and(|cover| cover.state == Some(CoverState::Dying))
        }),
        (Clash::DeadBeforeEnd, dated(-3, state(CoverState::DeadDamp)), |c| c.cover_ended.is_some()),
    ]
}

fn stage_and_mass() -> Vec<Case> {
    vec![
        (
            Clash::StageAheadOfHeight,
            with_rye(CoverCrop {
                stage: Some(CoverStage::Flowering),
                height: Some(inches(4.0)),
                ..rye()
            }),
            |c| c.cover.is_some_and(|cover| cover.height.is_none()),
        ),
        (
            Clash::StageBehindHeight,
            with_rye(CoverCrop {
                stage: Some(CoverStage::Tillering),
                height: Some(inches(40.0)),
                ..rye()
            }),
            |c| c.cover.is_some_and(|cover| cover.stage.is_none()),
        ),
        (
            Clash::ClipAgainstHeight,
            with_rye(CoverCrop {
                clip: Some(CoverClip { dry: q(0.01, "[lb_av]"), area: q(8.0, "[sft_i]") }),
                height: Some(inches(24.0)),
                ground_cover: Some(q(95.0, "%")),
                ..rye()
            }),
            |c| c.cover.is_some_and(|cover| cover.clip.is_none()),
        ),
        (
            Clash::YieldWithoutResidue,
            Conditions {
                previous_crop: Some(PreviousCrop::Corn),
                previous_yield_bu_ac: Some(200.0),
                residue_cover: Some(q(0.0, "%")),
                ..bare()
            },
            |c| c.residue_cover.is_some_and(|cover| cover.si() < 0.01),
        ),
    ]
}

fn each() -> Vec<Case> {
    [wetness(), strength_and_warmth(), cover_and_its_end(), stage_and_mass()].concat()
}

#[test]
fn each_contradiction_is_found_alone_and_leaves_the_safer_reading() {
    let all = each();
    for (clash, report, safer) in &all {
        let (settled, found) = report.settled(&K);
        let names: Vec<Clash> = found.iter().map(|it| it.clash).collect();
        assert_eq!(names, [*clash], "{report:?}");
        assert!(safer(&settled), "{clash:?} leaves {settled:?}");
    }
    let mut names: Vec<Clash> = all.iter().map(|(clash, ..)| *clash).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), 21, "a contradiction is never tried");
}

#[test]
fn readings_at_the_limit_do_not_contradict() {
    let fine = [
        Conditions {
            ball: Some(BallTest::Crumbles),
            ribbon: Some(inches(3.0)),
            ..Conditions::of(Crop::Corn)
        },
        Conditions {
            moisture: Some(Moisture::Wet),
            ball: Some(BallTest::Cracks),
            ..Conditions::of(Crop::Corn)
        },
        Conditions {
            ball: Some(BallTest::Deforms),
            penetration: Some(q(300.0, "[psi]")),
            ..Conditions::of(Crop::Corn)
        },
        Conditions {
            soil_low: Some(q(50.0, "[degF]")),
            soil_temperature: Some(q(50.0, "[degF]")),
            ..Conditions::of(Crop::Corn)
        },
        // Half the rule's figure is below its low end of 60 %; 61 % is not.
        with_rye(CoverCrop {
            clip: Some(CoverClip {
                dry: q(0.61 * 2000.0 / 43_560.0, "[lb_av]"),
                area: q(1.0, "[sft_i]"),
            }),
            height: Some(inches(8.0)),
            ground_cover: Some(q(100.0, "%")),
            ..rye()
        }),
    ];
    for report in fine {
        assert!(report.settled(&K).1.is_empty(), "{report:?}");
    }
}

#[test]
fn the_engine_works_with_the_safer_reading() {
    // Warm, crumbling, hard: three readings speak for planting with much force, one says too wet.
    let mut case = cases::worked_case();
    case.field.moisture = Some(Moisture::AtCapacity);
    case.field.ball = Some(BallTest::Crumbles);
    case.field.penetration = Some(q(500.0, "[psi]"));
    case.field.soil_temperature = Some(q(60.0, "[degF]"));
    let careful = recommend(&case, &K);
    assert!(careful.today.choice >= Today::Wait);
    let names: Vec<Clash> = careful.contradictions.iter().map(|it| it.clash).collect();
    assert_eq!(names, [Clash::WetYetCrumbles, Clash::PuttyYetHard]);
    case.field.penetration = None;
    assert_eq!(recommend(&case, &K).down_force.need, careful.down_force.need);
    case.field.moisture = Some(Moisture::Moist);
    let plain = recommend(&case, &K);
    assert!(plain.contradictions.is_empty() && plain.down_force.need >= careful.down_force.need);
}
