//! One worked case for each rule of the dig check, and a near case in which it must stay silent.

mod cases;
mod digs;

use cases::q;
use digs::{Setup, good, good_row, in_inches, inches, move_row};
use domain::conditions::{BallTest, CoverState, Moisture, ResidueFeel};
use domain::dig::{
    Bottom, Cause, Change, Class, CleanerRunning, Closure, Flag, LoggedLoad, PrintDepth, RULES,
    Side, Strength, Wall, WheelFeel,
};
use domain::planter::{ClosingPair, DownForce, Notch, Setting};
use domain::quantity::Measured;
use domain::settings::Caution;

struct Case {
    cause: Cause,
    /// The rule speaks, and is dealt with first.
    fires: fn() -> Setup,
    /// What is proposed then.
    proposes: fn(&Change) -> bool,
    /// Near, but the rule must not speak.
    silent: fn() -> Setup,
}

fn free(setup: Setup) -> Setup {
    setup.rows(|r| {
        r.gauge_wheels = Some(WheelFeel::SpinFree);
        r.print = Some(PrintDepth::None);
    })
}

fn scattered(setup: Setup) -> Setup {
    setup.rows(|r| r.seed_depths = inches(&[1.4, 2.6, 1.5, 2.5, 2.0, 2.0]))
}

fn uneven(setup: Setup) -> Setup {
    setup.rows(|r| r.spacings = inches(&[1.0, 12.5, 6.0, 0.5, 10.75]))
}

fn inspects(change: &Change) -> bool {
    matches!(change, Change::Inspect { .. })
}

fn wet(setup: Setup) -> Setup {
    setup.with(|s| {
        s.field.moisture = Some(Moisture::Wet);
        s.field.ball = Some(BallTest::Deforms);
    })
}

const CASES: &[Case] = &[
    Case {
        cause: Cause::SoilTooWet,
        fires: || wet(good().rows(|r| r.wall = Some(Wall::Shiny))),
        proposes: |c| matches!(c, Change::Wait { .. }),
        silent: || good().rows(|r| r.wall = Some(Wall::Shiny)),
    },
    Case {
        cause: Cause::CleanerTooDeep,
        fires: || {
            free(good().deeper(-0.5)).rows(|r| r.cleaner = Some(CleanerRunning::BelowSurface))
        },
        proposes: |c| matches!(c, Change::CleanerHeight { .. }),
        silent: || good().rows(|r| r.cleaner = Some(CleanerRunning::BelowSurface)),
    },
    Case {
        cause: Cause::CleanerWrapped,
        fires: || good().rows(|r| r.cleaner = Some(CleanerRunning::Wrapped)),
        proposes: |c| matches!(c, Change::CleanerHeight { .. }),
        silent: good,
    },
    Case {
        cause: Cause::FrameLifts,
        fires: || {
            good().with(|s| s.rows.push(good_row(8))).rows(|r| {
                if r.row == 1 || r.row == 8 {
                    r.outer = true;
                    r.gauge_wheels = Some(WheelFeel::SpinFree);
                    move_row(r, -0.5);
                }
            })
        },
        proposes: inspects,
        silent: || free(good().deeper(-0.5)),
    },
    Case {
        cause: Cause::BarTooHigh,
        fires: || {
            free(good().deeper(-0.5)).with(|s| s.planter.unit.arms.angle = Some(q(8.0, "deg")))
        },
        proposes: inspects,
        silent: || free(good().deeper(-0.5)),
    },
    Case {
        cause: Cause::WornOrMisread,
        fires: || good().deeper(-0.3).with(|s| s.planter.unit.opener.measured = None),
        proposes: inspects,
        silent: || good().deeper(-0.3),
    },
    Case {
        cause: Cause::Hairpin,
        fires: || {
            good()
                .rows(|r| r.residue_in_furrow = Some(true))
                .with(|s| s.field.residue_feel = Some(ResidueFeel::Pliable))
        },
        proposes: |c| matches!(c, Change::Wait { .. }),
        silent: || good().with(|s| s.field.residue_feel = Some(ResidueFeel::Pliable)),
    },
    Case {
        cause: Cause::DiscsApart,
        fires: || good().rows(|r| r.bottom = Some(Bottom::W)),
        proposes: inspects,
        silent: good,
    },
    Case {
        cause: Cause::SeedOffBottom,
        fires: || good().rows(|r| r.seed_on_bottom = Some(false)),
        proposes: inspects,
        silent: good,
    },
    Case {
        cause: Cause::LooseUnit,
        fires: || scattered(good()).with(|s| s.settings.speed = Some(q(4.0, "[mi_i]/h"))),
        proposes: inspects,
        silent: || scattered(good()),
    },
    Case {
        cause: Cause::TooMuchForce,
        fires: || {
            good().rows(|r| {
                r.gauge_wheels = Some(WheelFeel::Locked);
                r.print = Some(PrintDepth::Deep);
                r.wall = Some(Wall::Smooth);
            })
        },
        proposes: |c| matches!(c, Change::DownForce { by, .. } if by.si() < 0.0),
        silent: || good().rows(|r| r.print = Some(PrintDepth::Deep)),
    },
    Case {
        cause: Cause::TooLittleForce,
        fires: || free(good().deeper(-0.5)),
        proposes: |c| matches!(c, Change::DownForce { by, .. } if by.si() > 0.0),
        silent: || good().deeper(-0.5),
    },
    Case {
        cause: Cause::TooFast,
        fires: || scattered(good()).with(|s| s.settings.speed = Some(q(6.5, "[mi_i]/h"))),
        proposes: |c| matches!(c, Change::Speed { .. }),
        silent: || good().with(|s| s.settings.speed = Some(q(6.5, "[mi_i]/h"))),
    },
    Case {
        cause: Cause::LeverOff,
        fires: || good().deeper(0.5),
        proposes: |c| matches!(c, Change::Depth { from, to, .. } if to < from),
        silent: || good().deeper(0.1),
    },
    Case {
        cause: Cause::DrySeedZone,
        fires: || good().rows(|r| r.moist_at_seed = Some(false)),
        proposes: |c| matches!(c, Change::Depth { from, to, .. } if to > from),
        silent: || good().row(2, |r| r.moist_at_seed = Some(false)),
    },
    Case {
        cause: Cause::TyreTracks,
        fires: || {
            good().row(4, |r| {
                r.gauge_wheels = Some(WheelFeel::SpinFree);
                move_row(r, -0.5);
            })
        },
        proposes: |c| matches!(c, Change::Inspect { rows, .. } if rows == &[4]),
        silent: || free(good().deeper(-0.5)),
    },
    Case {
        cause: Cause::OddRow,
        fires: || good().row(5, |r| move_row(r, -0.6)),
        proposes: |c| matches!(c, Change::Inspect { rows, .. } if rows == &[5]),
        silent: || good().row(5, |r| move_row(r, -0.1)),
    },
    Case {
        cause: Cause::ClosingTooMild,
        fires: || {
            good()
                .rows(|r| {
                    r.closed = Some(Closure::Open);
                    r.wall = Some(Wall::Smooth);
                })
                .with(|s| {
                    s.planter.unit.closing = ClosingPair::Rubber;
                    s.planter.closing_owned = vec![ClosingPair::TwoSpiked];
                })
        },
        proposes: |c| {
            matches!(c, Change::ClosingWheels { to: ClosingPair::TwoSpiked, owned: true })
        },
        silent: || good().rows(|r| r.wall = Some(Wall::Smooth)),
    },
    Case {
        cause: Cause::ClosingOffCentre,
        fires: || good().rows(|r| r.closed = Some(Closure::Open)),
        proposes: inspects,
        silent: || {
            good().rows(|r| {
                r.closed = Some(Closure::Open);
                r.wall = Some(Wall::Smooth);
            })
        },
    },
    Case {
        cause: Cause::ClosingTooHard,
        fires: || good().rows(|r| r.closed = Some(Closure::OverPacked)),
        proposes: |c| matches!(c, Change::ClosingSpring { .. }),
        silent: || good().row(2, |r| r.closed = Some(Closure::OverPacked)),
    },
    Case {
        cause: Cause::SpacingTooFast,
        fires: || uneven(good()).with(|s| s.settings.speed = Some(q(7.0, "[mi_i]/h"))),
        proposes: |c| matches!(c, Change::Speed { .. }),
        silent: || uneven(good()),
    },
    Case { cause: Cause::Meter, fires: || uneven(good()), proposes: inspects, silent: good },
    Case {
        cause: Cause::RateOff,
        fires: || good().rows(|r| r.spacings = inches(&[6.9, 7.1, 7.0, 6.8, 7.2])),
        proposes: inspects,
        silent: || good().rows(|r| r.spacings = inches(&[6.2, 6.4, 6.3, 6.1, 6.5])),
    },
];

#[test]
fn every_rule_speaks_on_its_case_and_is_dealt_with_first() {
    for case in CASES {
        let judged = (case.fires)().judged();
        let first = judged.findings.first();
        let found: Vec<Cause> = judged.findings.iter().map(|f| f.cause).collect();
        assert_eq!(first.map(|f| f.cause), Some(case.cause), "{:?}: {found:?}", case.cause);
        assert_eq!(judged.proposal.cause, Some(case.cause));
        let change = &judged.proposal.change;
        assert!((case.proposes)(change), "{:?}: {change:?}", case.cause);
        assert!(
            !judged.proposal.next_dig.is_empty(),
            "{:?} says nothing of the next dig",
            case.cause
        );
    }
}

#[test]
fn every_rule_is_silent_on_its_near_case() {
    for case in CASES {
        let judged = (case.silent)().judged();
        let spoke = judged.findings.iter().any(|f| f.cause == case.cause);
        assert!(!spoke, "{:?} spoke: {:?}", case.cause, judged.findings);
    }
}

#[test]
fn every_rule_has_a_case_and_says_all_that_a_reader_needs() {
    let rules: Vec<Cause> = RULES.iter().map(|r| r.cause).collect();
    let cases: Vec<Cause> = CASES.iter().map(|c| c.cause).collect();
    assert_eq!(rules, cases, "one case for each rule, in the order of the table");
    for rule in RULES {
        for words in [rule.when, rule.reading, rule.check, rule.change, rule.size, rule.source] {
            assert!(!words.is_empty(), "{:?}", rule.cause);
        }
    }
    let order: Vec<Class> = RULES.iter().map(|r| r.class).collect();
    assert!(order.is_sorted(), "soil, iron, settings, rows, closing, seed");
}

#[test]
fn a_good_dig_changes_nothing() {
    let judged = good().judged();
    assert_eq!(judged.findings, Vec::new());
    assert_eq!(judged.proposal.change, Change::KeepAsIs);
    let depth = judged.statistics.depth.unwrap();
    assert_eq!(depth.settled.side, Side::Inside);
    assert!(judged.missing.is_empty(), "{:?}", judged.missing);
}

#[test]
fn one_row_settles_nothing_and_asks_for_two_more() {
    let judged = good().with(|s| s.rows.truncate(1)).judged();
    let depth = judged.statistics.depth.clone().unwrap();
    assert!(depth.planter.low.is_none() && !depth.settled.settled);
    assert!(matches!(judged.proposal.change, Change::DigMore { rows: 2, .. }));
    assert!(judged.proposal.cautions.contains(&Caution::DiggingBehind));
}

#[test]
fn one_row_does_not_move_the_planter_whatever_its_signs() {
    let all_wrong = good().with(|s| s.rows.truncate(1)).rows(|r| {
        r.gauge_wheels = Some(WheelFeel::SpinFree);
        r.bottom = Some(Bottom::W);
        r.closed = Some(Closure::OverPacked);
        r.moist_at_seed = Some(false);
        r.cleaner = Some(CleanerRunning::BelowSurface);
        move_row(r, -0.5);
    });
    let judged = all_wrong.judged();
    assert!(matches!(&judged.proposal.change, Change::Inspect { rows, .. } if rows == &[1]));
    assert!(judged.resistance.is_none());
}

#[test]
fn the_cleaner_goes_before_the_force() {
    let setup = free(good().deeper(-0.5)).rows(|r| r.cleaner = Some(CleanerRunning::BelowSurface));
    let judged = setup.judged();
    let causes: Vec<Cause> = judged.findings.iter().map(|f| f.cause).collect();
    assert_eq!(causes, [Cause::CleanerTooDeep, Cause::TooLittleForce]);
    assert!(matches!(judged.proposal.change, Change::CleanerHeight { .. }));
}

#[test]
fn wet_soil_goes_before_everything() {
    let setup = wet(good().rows(|r| {
        r.wall = Some(Wall::Shiny);
        r.gauge_wheels = Some(WheelFeel::Locked);
        r.bottom = Some(Bottom::W);
    }));
    let judged = setup.judged();
    assert!(judged.findings.len() >= 3);
    assert!(matches!(judged.proposal.change, Change::Wait { .. }));
}

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
/// `R_o` = 778 + 350 + 600 - 110 = 1618 N; K = 1618 / (38.1 / 50) = 2123 N in dry soil. At 50.8 mm
/// the opener needs 2123 x 1.016 = 2157 N, so the whole correction is the load aimed at plus
/// 2157 - 1618 = 539 N; the first of digs counts 1 / (1 + 3).
#[test]
fn the_size_of_more_force_follows_from_the_balance() {
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
    let trusted = judged.trace.find("correction as far as the digs are trusted").unwrap();
    let aim = setup.case(|_, case| case.window.aim.si());
    let whole = trusted.inputs.iter().find(|i| i.symbol == "dF").unwrap().value;
    let shown = judged.trace.find("whole correction of the down force").unwrap().value;
    assert!((whole - shown).abs() < 1e-9);
    assert!((whole - (aim + 539.3)).abs() < 1.0, "{whole} for an aim of {aim}");
    assert!((trusted.value - whole / 4.0).abs() < 1e-6);
    let words = judged.proposal.change.words();
    assert!(
        words.starts_with("Raise the down force on every row from 135 lbf (600 N) to "),
        "{words}"
    );
    let Change::DownForce { by, .. } = judged.proposal.change else { panic!("no force") };
    assert!((by.si() - judged.trace.find("change of the down force").unwrap().value).abs() < 1e-9);
    assert!((by.si() - 222.411).abs() < 7.0 * 4.45, "{by:?}");
    assert_eq!(judged.proposal.flags, [Flag::HeldToLargestStep]);
}

#[test]
fn agreeing_digs_count_for_more() {
    let shallow = free(good().deeper(-0.1));
    let logged = |digs| {
        let setup = shallow.clone().with(|s| s.digs_before = digs).rows(|r| {
            r.logged_load =
                Some(LoggedLoad { mean: q(120.0, "[lbf_av]"), sd: None, contact: None });
        });
        let judged = setup.judged();
        judged.trace.find("correction as far as the digs are trusted").unwrap().value
    };
    let shares: Vec<f64> = [0, 2, 8].map(|d| logged(d) / logged(0)).to_vec();
    assert!((shares[1] - 2.0).abs() < 1e-9, "3 of 6 against 1 of 4");
    assert!((shares[2] - 3.0).abs() < 1e-9, "9 of 12 against 1 of 4");
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

/// By hand: 250 lbf logged where 176 lbf is aimed at; of the 74 lbf too much a first dig moves a
/// quarter (18.5 lbf), a 27th dig 27 / 30 (67 lbf), held to 50 lbf. Gauges read in whole psi.
#[test]
fn a_logged_load_above_the_ceiling_lowers_the_force() {
    let by = |digs_before| {
        let setup = good().with(|s| s.digs_before = digs_before).rows(|r| {
            r.logged_load =
                Some(LoggedLoad { mean: q(250.0, "[lbf_av]"), sd: None, contact: None });
        });
        let judged = setup.judged();
        assert_eq!(judged.proposal.cause, Some(Cause::TooMuchForce));
        let Change::DownForce { by, .. } = judged.proposal.change else { panic!("no force") };
        (by.si() / 4.448_221_615_260_5, judged.proposal.flags)
    };
    let (first, flags) = by(0);
    assert!((first + 18.5).abs() < 4.0 && flags.is_empty(), "{first} {flags:?}");
    let (late, flags) = by(26);
    assert!((late + 50.0).abs() < 4.0 && late >= -50.001, "{late}");
    assert_eq!(flags, [Flag::HeldToLargestStep]);
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
fn springs_move_by_one_notch() {
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
        domain::dig::judge(dig, &held).proposal.change
    });
    assert!(!matches!(change, Change::DownForce { by, .. } if by.si() > 0.0), "{change:?}");
}

#[test]
fn the_lever_moves_by_the_error_to_a_notch() {
    let judged = good().deeper(0.45).judged();
    let Change::Depth { from, to, lever } = judged.proposal.change else { panic!("no depth") };
    assert!((in_inches(from) - 2.0).abs() < 1e-9);
    assert!((in_inches(to) - 1.5).abs() < 1e-9, "0.45 in is nearest to two steps of 0.25 in");
    assert_eq!(lever.map(|l| l.notch), Some(3));
}

#[test]
fn a_lever_at_its_end_is_looked_at() {
    let setup = good().deeper(0.5).with(|s| {
        s.settings.lever_depth = Some(q(1.0, "[in_i]"));
    });
    let proposal = setup.judged().proposal;
    assert_eq!(proposal.cause, Some(Cause::LeverOff));
    assert!(inspects(&proposal.change), "{:?}", proposal.change);
}

#[test]
fn a_lever_moves_the_way_of_the_error_or_not_at_all() {
    // Seed lies 0.45 in too deep under a lever said to stand at 0.9 in: its first notch is 1 in.
    let setup = good().deeper(0.45).with(|s| s.settings.lever_depth = Some(q(0.9, "[in_i]")));
    let change = setup.judged().proposal.change;
    assert!(inspects(&change), "{change:?}");
}

#[test]
fn measured_wear_deepens_the_lever() {
    // Half an inch off the diameter takes a quarter inch of depth; the manual allows an inch.
    let setup = good().deeper(-0.3).with(|s| {
        s.planter.unit.opener.measured = Some(q(14.5, "[in_i]"));
        s.planter.unit.opener.manual_limit = Some(q(14.0, "[in_i]"));
    });
    let judged = setup.judged();
    assert_eq!(judged.proposal.cause, Some(Cause::WornOrMisread));
    let Change::Depth { from, to, .. } = judged.proposal.change else { panic!("no depth") };
    assert!((in_inches(to) - in_inches(from) - 0.25).abs() < 1e-9);
}

#[test]
fn an_odd_row_does_not_move_the_planter() {
    let judged = good().row(5, |r| move_row(r, -0.8)).judged();
    let depth = judged.statistics.depth.unwrap();
    assert_eq!(depth.set_aside.iter().map(|s| s.row).collect::<Vec<_>>(), [5]);
    assert!((in_inches(depth.planter.mean) - 2.0).abs() < 1e-9);
    assert_eq!(depth.settled.side, Side::Inside);
    assert!(judged.ignored.iter().any(|i| i.rows == [5]));
}

#[test]
fn two_odd_rows_of_seven_do_not_hide_each_other() {
    let setup = good().with(|s| s.rows = (2..=8).map(good_row).collect()).rows(|r| {
        r.behind_tyre = false;
        if r.row == 3 || r.row == 6 {
            move_row(r, -0.6);
        }
    });
    let depth = setup.judged().statistics.depth.unwrap();
    assert_eq!(depth.set_aside.iter().map(|s| s.row).collect::<Vec<_>>(), [3, 6]);
}

#[test]
fn rows_that_agree_to_the_last_digit_are_not_known_better_than_the_ruler() {
    let setup = good().with(|s| s.rows.truncate(2)).rows(|r| r.seed_depths = inches(&[2.125]));
    let depth = setup.judged().statistics.depth.unwrap();
    // One reading of an eighth of an inch: 0.125 / sqrt(12) = 0.0361 in; t(0.975, 1) = 12.706.
    let half = in_inches(depth.planter.high.unwrap() - depth.planter.mean);
    assert!((half - 12.706 * 0.036_08 / 2.0_f64.sqrt()).abs() < 1e-3, "{half}");
    assert!(!depth.settled.settled);
}

/// By hand: seeds 0.1 in apart, so `s_w` = 0.1581 in, rows alike, five seeds a row: one row mean has
/// 0.0707 in. The mean is 0.05 in from the edge. t(0.975, 9) 0.0707 / sqrt(10) = 0.0506 in is too
/// wide, t(0.975, 10) 0.0707 / sqrt(11) = 0.0475 in is not: 11 rows, two of which are dug.
#[test]
fn the_rows_that_settle_it_follow_from_both_stages() {
    let setup = good().with(|s| s.planter.rows = 24).with(|s| s.rows.truncate(2));
    let setup = setup.rows(|r| r.seed_depths = inches(&[2.0, 2.1, 2.2, 2.3, 2.4]));
    let depth = setup.judged().statistics.depth.unwrap();
    assert_eq!((depth.settled.side, depth.settled.more_rows), (Side::Open, Some(9)));
}

#[test]
fn strength_weighs_what_speaks_for_and_against() {
    let strength = |setup: Setup| setup.judged().findings[0].strength;
    assert_eq!(strength(free(good().deeper(-0.5))), Strength::Strong);
    assert_eq!(strength(free(good())), Strength::Likely, "free and no print, but at depth");
    let deep_cleaner = good().deeper(-0.5).rows(|r| r.cleaner = Some(CleanerRunning::BelowSurface));
    assert_eq!(strength(deep_cleaner), Strength::Strong, "two readings for it are enough");
    let only_free = good().rows(|r| r.gauge_wheels = Some(WheelFeel::SpinFree));
    assert_eq!(strength(only_free), Strength::Possible, "free, but at depth");
}

#[test]
fn seed_above_the_bottom_measures_no_resistance() {
    let free = free(good().deeper(-0.5));
    assert!(free.judged().resistance.is_some());
    let above = free.row(2, |r| r.seed_on_bottom = Some(false)).judged();
    assert!(above.resistance.is_none());
    assert!(above.ignored.iter().any(|i| i.rows == [2]));
}

#[test]
fn a_lever_nobody_reported_allows_for_worn_discs() {
    let setup = good().deeper(0.5).with(|s| {
        s.settings.lever_depth = None;
        s.planter.unit.opener.measured = Some(q(14.5, "[in_i]"));
        s.planter.unit.opener.manual_limit = Some(q(14.0, "[in_i]"));
    });
    let Change::Depth { from, to, .. } = setup.judged().proposal.change else { panic!("no depth") };
    assert!((in_inches(from) - 2.25).abs() < 1e-9, "2 in and half of the half inch that is worn");
    assert!((in_inches(to) - 1.75).abs() < 1e-9);
}

#[test]
fn nothing_measured_asks_for_depth() {
    let setup = good().rows(|r| {
        *r = domain::dig::RowReading {
            wall: Some(Wall::Crumbly),
            ..domain::dig::RowReading::of(r.row)
        };
    });
    let judged = setup.judged();
    assert!(judged.statistics.depth.is_none());
    assert!(matches!(judged.proposal.change, Change::DigMore { rows: 3, .. }));
    assert!(judged.missing.iter().any(|m| m.what == "depth of the seeds"));
}

#[test]
fn green_cover_lifts_the_cleaners_and_dead_cover_clears_them() {
    let wrapped = || good().rows(|r| r.cleaner = Some(CleanerRunning::Wrapped));
    assert!(matches!(wrapped().judged().proposal.change, Change::CleanerHeight { .. }));
    let dead = wrapped().with(|s| {
        if let Some(cover) = &mut s.field.cover {
            cover.state = Some(CoverState::DeadCrisp);
        }
    });
    assert!(inspects(&dead.judged().proposal.change));
}
