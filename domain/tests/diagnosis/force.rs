//! Force: how much, and what stands in its way.

use domain::conditions::Moisture;
use domain::dig::{Cause, Change, Flag, LoggedLoad, WheelFeel, judge};
use domain::learning::{Learned, Place, Prior, Reading, SoilClass};
use domain::planter::{DownForce, Notch, Setting};
use domain::quantity::Measured;
use domain::settings::Caution;

use super::cases::q;
use super::digs::{K, Setup, good};
use super::{free, inspects};

/// Worked by hand: free wheels at 42 mm behind a unit of 778 N with 350 N of attachments, 300 N of
/// seed, 1779 N of down force, closing 110 N, arms level, no coulter, no residue (check value F-D10).
#[test]
fn free_wheels_under_a_heavy_spring_are_not_believed() {
    let setup = free(good().deeper(-0.5)).with(|s| {
        s.planter.unit.weight = Some(q(778.0, "N"));
        s.planter.unit.attachments = Some(q(350.0, "N"));
        s.planter.unit.coulter = None;
        s.planter.unit.closing_lift = Some(q(110.0, "N"));
        s.planter.unit.hopper = domain::planter::Hopper::PerRow {
            volume: Some(q(300.0 / (56.0 * 4.448_221_615_260_5), "[bu_us]")),
        };
        s.field.cover = None;
        s.field.previous_crop = None;
        s.field.residue_cover = Some(q(0.0, "%"));
        s.settings.down_force = Some(q(1779.0, "N"));
        s.settings.box_fill = Some(q(100.0, "%"));
        for row in &mut s.rows {
            row.seed_depths = vec![q(42.0, "mm"); 3];
        }
    });
    let judged = setup.judged();
    let resistance = judged.resistance.unwrap();
    let opener = judged.trace.find("resistance that free wheels imply").unwrap();
    let r_o = opener.inputs.iter().find(|i| i.symbol == "R_o").unwrap().value;
    assert!((r_o - 3097.0).abs() <= 1.0, "{r_o}");
    assert!((resistance.value - 3687.0).abs() <= 1.0, "{resistance:?}");
    assert!(!resistance.plausible);
    assert_eq!(judged.proposal.flags, [Flag::ImplausibleResistance]);
    assert!(inspects(&judged.proposal.change));
}

/// By hand, arms level, no residue, no coulter: free wheels at 38.1 mm under 600 N.
/// `R_o` = 778 + 350 + 600 - 110 = 1618 N; K = 1618 / (38.1 / 50) = 2123 N in dry soil.
#[test]
fn free_wheels_measure_the_resistance() {
    let setup = free(good().deeper(-0.5)).with(|s| {
        s.planter.unit.weight = Some(q(778.0, "N"));
        s.planter.unit.attachments = Some(q(350.0, "N"));
        s.planter.unit.coulter = None;
        s.planter.unit.closing_lift = Some(q(110.0, "N"));
        s.planter.unit.hopper = domain::planter::Hopper::Central;
        s.field.cover = None;
        s.field.previous_crop = None;
        s.field.residue_cover = Some(q(0.0, "%"));
        s.field.moisture = Some(Moisture::Dry);
        s.settings.down_force = Some(q(600.0, "N"));
    });
    let judged = setup.judged();
    let implied = judged.resistance.unwrap();
    assert!((implied.value - 2123.4).abs() < 1.0 && implied.plausible, "{implied:?}");
    let words = judged.proposal.change.words();
    assert!(
        words.starts_with("Raise the down force on every row from 135 lbf (600 N) to "),
        "{words}"
    );
    let Change::DownForce { by, .. } = judged.proposal.change else { panic!("no force") };
    assert!((by.si() - judged.trace.find("change of the down force").unwrap().value).abs() < 1e-9);
    assert!(by.si() <= K.largest_learned_step.value + 1e-6, "{by:?}");
    let learned = judged.learned.unwrap();
    assert!(learned.factor.likely > 1.1, "free wheels say that soil asks for more: {learned:?}");
    assert!(learned.set.chance > learned.before.chance, "{learned:?}");
}

/// 120 lbf logged, below the window: one dig moves the estimate, agreeing digs before it move it
/// further and make it narrower.
#[test]
fn agreeing_digs_count_for_more() {
    let setup = good().rows(|r| {
        r.logged_load = Some(LoggedLoad { mean: q(60.0, "[lbf_av]"), sd: None, contact: None });
    });
    let place = Place { class: SoilClass::of(&setup.field), planter: 1, field: 1, season: 2027 };
    let mut learned = Learned::nothing(Prior::of(&K), Reading::of(&K), 2027);
    let mut middles = Vec::new();
    let mut widths = Vec::new();
    for dig in 1..=4_u128 {
        let judged = setup.case(|dug, case| judge(dug, &case.learning(&learned, place, dig)));
        learned.add(&judged.lesson.unwrap());
        let range = learned.posterior(&place).range();
        middles.push(range.likely);
        widths.push(range.high / range.low);
    }
    assert!(middles.windows(2).all(|pair| pair[1] > pair[0]), "{middles:?}");
    assert!(widths.windows(2).all(|pair| pair[1] < pair[0]), "{widths:?}");
}

#[test]
fn a_logged_load_wins_over_a_turn_by_hand() {
    let setup = free(good()).rows(|r| {
        r.logged_load = Some(LoggedLoad { mean: q(180.0, "[lbf_av]"), sd: None, contact: None });
    });
    let judged = setup.judged();
    assert!(judged.findings.iter().all(|f| f.cause != Cause::TooLittleForce));
    assert!(judged.ignored.iter().any(|i| i.what == "how the gauge wheels turn"));
}

/// 250 lbf logged where 176 lbf is aimed at and 200 lbf is the ceiling: five rows log it, so most of
/// the 74 lbf too much goes at once, and never more.
#[test]
fn a_logged_load_above_the_ceiling_lowers_the_force() {
    let setup = good().rows(|r| {
        r.logged_load = Some(LoggedLoad { mean: q(250.0, "[lbf_av]"), sd: None, contact: None });
    });
    let judged = setup.judged();
    assert_eq!(judged.proposal.cause, Some(Cause::TooMuchForce));
    let Change::DownForce { by, .. } = judged.proposal.change else { panic!("no force") };
    let pounds = by.si() / 4.448_221_615_260_5;
    assert!((-100.0..=-50.0).contains(&pounds), "{pounds} lbf");
}

fn with_springs(setup: Setup) -> Setup {
    setup.with(|s| {
        let notch =
            |label: &str, lbf: f64| Notch { label: label.to_owned(), force: q(lbf, "[lbf_av]") };
        s.planter.down_force = DownForce::Spring {
            notches: vec![notch("0", 0.0), notch("1", 125.0), notch("2", 250.0), notch("3", 400.0)],
        };
        s.settings.down_force = Some(q(125.0, "[lbf_av]"));
    })
}

#[test]
fn springs_move_by_notches() {
    let judged = with_springs(free(good().deeper(-0.5))).judged();
    let Change::DownForce { to, setting, .. } = judged.proposal.change else { panic!("no force") };
    assert!((to.si() / 4.448_221_615_260_5 - 250.0).abs() < 1e-6);
    assert_eq!(setting, Setting::Notch { label: "2".to_owned() });
    assert!(judged.proposal.cautions.contains(&Caution::SpringsStoreEnergy));
    assert!(judged.proposal.cautions.contains(&Caution::BlockAndRelieve));
}

#[test]
fn a_planter_at_its_end_slows_down() {
    let setup = with_springs(free(good().deeper(-0.5)))
        .with(|s| s.settings.down_force = Some(q(400.0, "[lbf_av]")));
    let flagged = setup.judged();
    // 400 lbf and still free: plausible only with a strong soil, so either answer holds the force.
    assert!(!matches!(flagged.proposal.change, Change::DownForce { .. }));
    let weight_only = free(good().deeper(-0.2)).with(|s| {
        s.planter.down_force = DownForce::WeightOnly;
        s.settings.down_force = Some(q(0.0, "[lbf_av]"));
    });
    assert!(matches!(weight_only.judged().proposal.change, Change::Speed { .. }));
}

#[test]
fn locked_wheels_below_the_lowest_pressure_do_not_raise_it() {
    // The bags are measured from 15 psi (120 lbf) upwards; 105 lbf cannot be found on the gauge.
    let setup = good().rows(|r| r.gauge_wheels = Some(WheelFeel::Locked)).with(|s| {
        s.field.moisture = Some(Moisture::Wet);
        s.settings.down_force = Some(q(105.0, "[lbf_av]"));
    });
    let change = setup.judged().proposal.change;
    assert!(!matches!(change, Change::DownForce { by, .. } if by.si() >= 0.0), "{change:?}");
    // Logged 15 N above the ceiling of 490 N: a first dig asks for 4 N less, and the nearest
    // pressure on the gauge is 22 N more.
    let logged = setup.with(|s| s.settings.down_force = Some(q(115.0, "[lbf_av]"))).rows(|r| {
        r.logged_load = Some(LoggedLoad { mean: q(505.0, "N"), sd: None, contact: None });
    });
    let judged = logged.judged();
    assert_eq!(judged.proposal.cause, Some(Cause::TooMuchForce));
    assert!(inspects(&judged.proposal.change), "{:?}", judged.proposal.change);
}

#[test]
fn a_frame_without_weight_holds_the_force() {
    let setup = free(good().deeper(-0.5));
    let change = setup.case(|dig, case| {
        let held = domain::dig::Context { frame_most: Some(q(200.0, "[lbf_av]")), ..*case };
        judge(dig, &held).proposal.change
    });
    assert!(!matches!(change, Change::DownForce { by, .. } if by.si() > 0.0), "{change:?}");
}

#[test]
fn seed_above_the_bottom_measures_no_resistance() {
    let free = free(good().deeper(-0.5));
    assert!(free.judged().resistance.is_some());
    let above = free.row(2, |r| r.seed_on_bottom = Some(false)).judged();
    assert!(above.resistance.is_none());
    assert!(above.ignored.iter().any(|i| i.rows == [2]));
}
