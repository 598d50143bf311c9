//! Coulter, row cleaner, place of the rows, cautions: one case a rule.

mod cases;

use cases::{q, worked_case, worked_field};
use domain::conditions::{
    Conditions, CoverState, Crop, HairpinRisk, Moisture, PreviousCrop, ResidueFeel, ResidueSpread,
    RowPosition, StrengthClass, WrapRisk,
};
use domain::planter::{
    Arms, Cleaner, ClosingPair, Coulter, CoulterMount, FrameSection, OpenerDisc,
};
use domain::provenance::{Advice, Coefficients, Reason};
use domain::quantity::Measured;
use domain::settings::{
    Caution, CleanerUse, CoulterAdvice, CoulterUse, Inputs, Recommendation, coulter, old_rows,
    recommend, row_cleaner,
};

const K: Coefficients = Coefficients::STANDARD;

fn says(reasons: &[Reason], words: &str) -> bool {
    reasons.iter().any(|r| r.text.contains(words))
}

fn blade(mount: CoulterMount, above: Option<f64>) -> Coulter {
    Coulter { mount, above_opener: above.map(|a| q(a, "[in_i]")) }
}

fn with(c: &Conditions, fitted: Coulter) -> Advice<CoulterAdvice> {
    coulter(c, Some(fitted), &K)
}

#[test]
fn a_coulter_never_runs_deeper_than_the_opener() {
    for (above, advised, words) in [
        (0.3, 7.62, ""),
        (-0.5, 8.0, "0.50 in (13 mm) deeper than the opener"),
        (0.0, 8.0, "runs 0.00 in (0 mm) above the opener"),
        (1.0, 8.0, "1.00 in (25 mm) above the opener"),
    ] {
        let advice = with(&worked_field(), blade(CoulterMount::Unit, Some(above)));
        let height = advice.choice.above_opener.expect("it runs").si() * 1000.0;
        assert!((height - advised).abs() < 1e-9, "{above}: {height}");
        assert!(words.is_empty() || says(&advice.watch, words), "{above}");
        assert_eq!(
            says(&advice.watch, "is usual") || says(&advice.watch, "loosens"),
            !words.is_empty()
        );
    }
    let unknown = with(&worked_field(), blade(CoulterMount::Unit, None));
    assert_eq!(unknown.assumed.len(), 1);
}

#[test]
fn loose_soil_takes_the_coulter_off_under_any_residue() {
    let fitted = blade(CoulterMount::Unit, Some(0.3));
    let mut c = worked_field();
    c.residue_feel = Some(ResidueFeel::Crisp);
    assert_eq!(with(&c, fitted).choice.coulter, CoulterUse::Run);
    c.strength_class = Some(StrengthClass::Loose);
    let loose = with(&c, fitted);
    assert_eq!(loose.choice.coulter, CoulterUse::TakeOff);
    assert!(says(&loose.because, "pushes stiff straw"));
    // Without the coulter the risk is shown without its point.
    assert!((loose.choice.total - K.hairpin_soft.value).abs() < 1e-12);
    (c.cover, c.residue_cover) = (None, Some(q(5.0, "%")));
    let bare = with(&c, fitted);
    assert_eq!(bare.choice.coulter, CoulterUse::Run);
    assert!(says(&bare.because, "little residue to cut"));
}

#[test]
fn mount_and_moisture_are_said() {
    let mut c = worked_field();
    let frame = with(&c, blade(CoulterMount::Frame, Some(0.3)));
    assert!(says(&frame.watch, "lifts the frame"));
    assert!(!says(&frame.watch, "sticky"));
    c.moisture = Some(Moisture::Wet);
    let wet = with(&c, blade(CoulterMount::Unit, Some(0.3)));
    assert!(says(&wet.watch, "sticky") && !says(&wet.watch, "lifts the frame"));
    assert!(says(&wet.watch, "tucked straw") && says(&wet.watch, "sharp"));
}

#[test]
fn without_a_coulter_sharp_openers_do() {
    let advice = coulter(&worked_field(), None, &K);
    assert!(says(&advice.because, "two blades then cut as one"));
    assert_eq!(
        (advice.choice.coulter, advice.choice.hairpins),
        (CoulterUse::NotFitted, HairpinRisk::Low)
    );
    assert!(!advice.choice.points.is_empty(), "standing rye is named");
}

#[test]
fn wrapping_limits_the_cleaner() {
    use CoverState::{DeadCrisp, Dying, GreenStanding};
    let cover = |height: f64, state| {
        let mut c = worked_field();
        if let Some(cover) = &mut c.cover {
            (cover.height, cover.state) = (Some(q(height, "[in_i]")), Some(state));
            cover.ground_cover = Some(q(60.0, "%"));
        }
        c
    };
    for (c, fitted, runs, wrap) in [
        (cover(20.0, GreenStanding), Cleaner::Floating, CleanerUse::Float, WrapRisk::Some),
        (cover(20.0, GreenStanding), Cleaner::Fixed, CleanerUse::Lift, WrapRisk::Some),
        (cover(40.0, GreenStanding), Cleaner::Floating, CleanerUse::Float, WrapRisk::High),
        (cover(20.0, Dying), Cleaner::Floating, CleanerUse::Lift, WrapRisk::High),
        (cover(20.0, DeadCrisp), Cleaner::Floating, CleanerUse::Skim, WrapRisk::Low),
        (cover(4.0, GreenStanding), Cleaner::Floating, CleanerUse::Skim, WrapRisk::Low),
    ] {
        let choice = row_cleaner(&c, fitted, &K).choice;
        assert_eq!((choice.cleaner, choice.wrap), (runs, wrap), "{:?}", c.cover);
    }
    // A short living cover over little dead residue: off.
    let mut short = cover(4.0, GreenStanding);
    (short.previous_crop, short.residue_cover) = (Some(PreviousCrop::Soybean), Some(q(10.0, "%")));
    let off = row_cleaner(&short, Cleaner::Floating, &K);
    assert_eq!(off.choice.cleaner, CleanerUse::Lift);
    assert!(says(&off.because, "short living cover"), "{:?}", off.because);
}

#[test]
fn piles_and_bands_and_mounts_are_said_of_the_cleaner() {
    let mut c = worked_field();
    c.cover = None;
    let watch = |c: &Conditions, fitted| row_cleaner(c, fitted, &K).watch;
    assert!(says(&watch(&c, Cleaner::Fixed), "carries the unit"));
    assert!(!says(&watch(&c, Cleaner::Floating), "carries the unit"));
    assert!(!says(&watch(&c, Cleaner::Floating), "piles"));
    c.residue_spread = Some(ResidueSpread::Piles);
    assert!(says(&watch(&c, Cleaner::Floating), "not for the piles"));
    assert!(!says(&watch(&c, Cleaner::None), "not for the piles"));
    c.residue_spread = Some(ResidueSpread::Banded);
    assert!(says(&watch(&c, Cleaner::Floating), "in the bands"));
    c.moisture = Some(Moisture::Wet);
    assert!(says(&watch(&c, Cleaner::Floating), "off the ground"));
    let none = row_cleaner(&c, Cleaner::None, &K);
    assert!(says(&none.because, "must cut what lies there"));
    assert!(says(&row_cleaner(&worked_field(), Cleaner::None, &K).because, "none is needed"));
}

#[test]
fn rows_run_beside_old_corn_and_on_old_rows_in_a_rotation() {
    use RowPosition::{Across, BesideOldRow, BetweenOldRows, OnOldRow};
    let place = |crop, before, reported| {
        let c =
            Conditions { previous_crop: before, row_position: reported, ..Conditions::of(crop) };
        old_rows(&c, &K)
    };
    let corn = Some(PreviousCrop::Corn);
    // University of Nebraska 2013: corn on corn about 5 in beside the old row; rotation on it.
    let beside = place(Crop::Corn, corn, None).expect("advice");
    assert_eq!(beside.choice.run, BesideOldRow);
    assert!((beside.choice.beside.expect("a distance").si() - 0.127).abs() < 1e-9);
    assert!(beside.watch.is_empty());
    let root = place(Crop::Corn, corn, Some(OnOldRow)).expect("advice");
    assert!(says(&root.watch, "root balls") && says(&root.watch, "guidance line"));
    let tracks = place(Crop::Soybean, corn, Some(BetweenOldRows)).expect("advice");
    assert_eq!((tracks.choice.run, tracks.choice.beside), (OnOldRow, None));
    assert!(says(&tracks.watch, "wheel tracks") && says(&tracks.because, "in a rotation"));
    let right = place(Crop::Soybean, corn, Some(OnOldRow)).expect("advice");
    assert!(right.watch.is_empty());
    assert!(place(Crop::Soybean, corn, None).is_none());
    assert!(place(Crop::Corn, corn, Some(Across)).is_none());
}

fn told(change: impl Fn(&mut Inputs)) -> Recommendation {
    let mut case = worked_case();
    change(&mut case);
    recommend(&case, &K)
}

#[test]
fn cautions_follow_what_is_handled() {
    let has = |caution, change: &dyn Fn(&mut Inputs)| told(change).cautions.contains(&caution);
    let section = |name: &str| FrameSection {
        name: name.to_owned(),
        rows: 4,
        empty_weight: q(4000.0, "[lbf_av]"),
        on_hitch: q(0.0, "[lbf_av]"),
        wheels: 2,
    };
    for always in [
        Caution::BlockAndRelieve,
        Caution::DiggingBehind,
        Caution::TreatedSeedLabel,
        Caution::InFurrowLabel,
        Caution::ManualWins,
    ] {
        assert!(has(always, &|_| {}), "{always:?}");
    }
    assert!(has(Caution::AirUnderPressure, &|_| {}));
    assert!(!has(Caution::OilUnderPressure, &|_| {}) && !has(Caution::WingsAndMarkers, &|_| {}));
    assert!(has(Caution::WingsAndMarkers, &|i| {
        i.planter.frame = vec![section("left"), section("right")];
    }));
    // The closing spring of the worked case is light: it stores energy. Floating wheels have none.
    assert!(has(Caution::SpringsStoreEnergy, &|_| {}));
    let floats = |i: &mut Inputs| {
        i.planter.unit.closing = ClosingPair::CastIron;
        i.field.moisture = Some(Moisture::Wet);
    };
    assert!(!has(Caution::SpringsStoreEnergy, &floats));
    let clean = |i: &mut Inputs| i.field.cover = None;
    assert!(!has(Caution::ResiduesOnParts, &clean));
    assert!(has(Caution::ResiduesOnParts, &|_| {}), "stems wrap on the cleaner");
    assert!(has(Caution::ResiduesOnParts, &|i| {
        clean(i);
        i.planter.closing_owned = vec![ClosingPair::SpikedAndRubber];
        i.planter.unit.closing = ClosingPair::Rubber;
    }));
    assert!(has(Caution::ResiduesOnParts, &|i| {
        clean(i);
        i.planter.unit.opener = OpenerDisc {
            new_diameter: q(15.0, "[in_i]"),
            measured: Some(q(14.4, "[in_i]")),
            manual_limit: None,
        };
    }));
    assert!(has(Caution::ResiduesOnParts, &|i| {
        clean(i);
        i.field.strength_class = Some(StrengthClass::Loose);
    }));
}

#[test]
fn what_to_keep_in_mind_follows_the_case() {
    let said = |words, change: &dyn Fn(&mut Inputs)| says(&told(change).keep_in_mind, words);
    for always in ["values to start with", "judge it by depth and contact"] {
        assert!(said(always, &|_| {}), "{always}");
    }
    assert!(said("planting green", &|_| {}));
    assert!(!said("planting green", &|i| i.field.cover = None));
    assert!(!said("wet soil", &|_| {}));
    assert!(said("wet soil", &|i| i.field.moisture = Some(Moisture::Wet)));
    assert!(!said("height of the bar with", &|_| {}));
    assert!(said("height of the bar with", &|i| i.planter.unit.arms = Arms::default()));
    assert!(said("lacks weight", &|_| {}), "nobody weighed the frame");
    assert!(said("deep cleaner looks like", &|_| {}));
    assert!(!said("deep cleaner looks like", &|i| {
        i.planter.unit.cleaner = Cleaner::None;
        i.planter.unit.opener.measured = Some(i.planter.unit.opener.new_diameter);
    }));
}

#[test]
fn a_smearing_wall_is_said_beside_plant() {
    let worked = told(|i| {
        i.field.texture = Some(domain::conditions::TextureClass::SiltyClayLoam);
        i.field.moisture = Some(Moisture::Wet);
    });
    let wall = worked.wall.as_ref().expect("a wall");
    let product: f64 = wall.choice.factors.iter().map(|factor| factor.worth).product();
    assert!((wall.choice.product - product).abs() < 1e-12);
    let heaviest = worked.down_force.as_box_empties.iter().map(|b| b.load.si()).fold(0.0, f64::max);
    assert!((wall.choice.load.si() - heaviest).abs() < 1e-9);
    let high = wall.choice.risk == domain::settings::WallRisk::High;
    assert!(high, "wet, fine soil under {heaviest} N");
    assert!(says(&worked.today.watch, "likely to smear"));
    assert!(!says(&told(|_| {}).today.watch, "likely to smear"));
}
