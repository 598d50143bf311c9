//! Laws that the judgement of a dig keeps, whatever was dug.

mod cases;
mod digs;

use digs::{K, Setup, good, in_inches, inches, setups};
use domain::dig::{
    Change, Class, Flag, Judgement, Observation, ObservationError, RowReading, SettingsInUse,
};
use domain::planter::DownForce;
use domain::quantity::{Force, Length, Measured};
use proptest::prelude::*;

/// Turns the order of rows, and of the readings of each row, by some places.
fn turned(setup: &Setup, by: usize) -> Setup {
    let mut turned = setup.clone();
    for row in &mut turned.rows {
        let (depths, spacings) = (row.seed_depths.len(), row.spacings.len());
        row.seed_depths.rotate_left(by % depths.max(1));
        row.spacings.rotate_left(by % spacings.max(1));
        row.spacings.reverse();
    }
    let rows = turned.rows.len();
    turned.rows.rotate_left(by % rows);
    turned
}

fn within_share(judged: &Judgement) -> Option<f64> {
    judged.statistics.depth.as_ref().map(|d| d.within.share)
}

proptest! {
    #![proptest_config(cases::law(500))]

    #[test]
    fn every_number_is_finite_and_survives_the_wire(setup in setups()) {
        // The lesson goes its own way: it is kept apart from the judgement.
        let judged = Judgement { lesson: None, ..setup.judged() };
        let json = serde_json::to_string(&judged).unwrap();
        // A number that is not finite becomes null, and null is no number.
        let back: Judgement = serde_json::from_str(&json).unwrap();
        prop_assert_eq!(&back, &judged);
        let again = serde_json::to_string(&back).unwrap();
        prop_assert_eq!(again, json);
    }

    #[test]
    fn intervals_hold_their_values(setup in setups()) {
        let judged = setup.judged();
        let Some(depth) = judged.statistics.depth else { return Ok(()) };
        let planter = depth.planter;
        prop_assert_eq!(planter.low.is_some(), planter.rows >= 2);
        if let (Some(low), Some(high)) = (planter.low, planter.high) {
            prop_assert!(low <= planter.mean && planter.mean <= high);
        }
        let shares = depth.rows.iter().map(|r| r.within).chain([depth.within]);
        for share in shares.chain(depth.above_floor.map(|f| f.share)) {
            prop_assert!(0.0 <= share.low && share.low <= share.share);
            prop_assert!(share.share <= share.high && share.high <= 1.0);
            prop_assert!(share.worth >= 1.0 && share.worth <= f64::from(share.of) + 1e-9);
        }
        let spread = depth.spread;
        if let (Some(low), Some(mid), Some(high)) = (spread.within_low, spread.within, spread.within_high) {
            prop_assert!(low <= mid && mid <= high);
        }
        prop_assert!(spread.intraclass.is_none_or(|i| (0.0..=1.0).contains(&i)));
    }

    #[test]
    fn rows_add_up_to_the_whole(setup in setups()) {
        let judged = setup.judged();
        let dug = setup.rows.iter().filter(|r| !r.seed_depths.is_empty()).count();
        let Some(depth) = judged.statistics.depth else {
            prop_assert_eq!(dug, 0);
            return Ok(());
        };
        prop_assert_eq!(depth.rows.len(), dug);
        prop_assert_eq!(depth.rows.iter().map(|r| r.seeds).sum::<u32>(), depth.seeds);
        let total: f64 = depth.rows.iter().map(|r| f64::from(r.seeds) * r.mean.si()).sum();
        prop_assert!((total / f64::from(depth.seeds) - depth.mean.si()).abs() < 1e-12);
        let hits: f64 = depth.rows.iter().map(|r| r.within.share * f64::from(r.seeds)).sum();
        prop_assert!((hits / f64::from(depth.seeds) - depth.within.share).abs() < 1e-12);
        let aside = depth.set_aside.len();
        prop_assert_eq!(usize::try_from(depth.planter.rows).unwrap() + aside, dug);
        prop_assert!(depth.set_aside.iter().all(|s| depth.rows.iter().any(|r| r.row == s.row)));
    }

    #[test]
    fn the_order_of_digging_does_not_matter(setup in setups(), by in 1_usize..7) {
        // A lesson lists the depths as they were dug.
        let judged = |s: &Setup| Judgement { lesson: None, ..s.judged() };
        prop_assert_eq!(judged(&turned(&setup, by)), judged(&setup));
    }

    #[test]
    fn seeds_at_the_target_never_lower_the_share(setup in setups(), more in 1_usize..5) {
        let before = within_share(&setup.judged());
        let target = setup.case(|_, case| case.depth_target);
        let richer = setup.clone().with(|s| {
            let row = s.rows.first_mut().unwrap();
            row.seed_depths.extend(std::iter::repeat_n(target, more));
        });
        let after = within_share(&richer.judged()).unwrap();
        prop_assert!(after >= before.unwrap_or(0.0) - 1e-12);
    }

    #[test]
    fn moving_every_seed_and_the_target_moves_the_mean_only(by in -0.5..1.0_f64, setup in setups()) {
        let start = setup.with(|s| {
            s.goals.depth = Some(cases::q(2.0, "[in_i]"));
            for row in &mut s.rows {
                row.seed_depths.retain(|d| (0.5..5.0).contains(&in_inches(*d)));
                row.wall = Some(domain::dig::Wall::Crumbly);
            }
        });
        let moved = start.clone().deeper(by).with(|s| s.goals.depth = Some(cases::q(2.0 + by, "[in_i]")));
        let (a, b) = (start.judged().statistics.depth, moved.judged().statistics.depth);
        let (Some(a), Some(b)) = (a, b) else { return Ok(()) };
        let off = |d: &domain::dig::DepthStatistics| (d.planter.mean - d.target).si();
        prop_assert!((off(&a) - off(&b)).abs() < 1e-9);
        let sd = |l: Option<Length>| l.map_or(-1.0, Measured::si);
        prop_assert!((sd(a.sd) - sd(b.sd)).abs() < 1e-9);
        prop_assert!((sd(a.spread.between) - sd(b.spread.between)).abs() < 1e-6);
        prop_assert_eq!(a.set_aside.len(), b.set_aside.len());
    }

    #[test]
    fn there_is_one_proposal_with_its_reason_and_cautions(setup in setups()) {
        let judged = setup.judged();
        let proposal = &judged.proposal;
        let first = judged.findings.first();
        let unasked = matches!(proposal.change, Change::DownForce { .. }) && proposal.cause.is_none();
        // Only what is wrong on some rows waits for a change that no sign asks for.
        prop_assert!(!unasked || first.is_none_or(|f| !f.rows.is_empty()), "{first:?}");
        prop_assert!(unasked || proposal.cause == first.map(|f| f.cause), "{first:?}");
        prop_assert!(!proposal.because.is_empty());
        let words = proposal.change.words();
        prop_assert!(words.ends_with('.') && words.len() < 320, "{words}");
        prop_assert!(!words.contains("..") && !words.contains("NaN"), "{words}");
        prop_assert!(!proposal.next_dig.is_empty());
        prop_assert!(proposal.cautions.contains(&domain::settings::Caution::ManualWins));
        let reaches_under = !matches!(
            proposal.change,
            Change::Speed { .. } | Change::Wait { .. } | Change::DigMore { .. } | Change::KeepAsIs
        );
        let blocks = proposal.cautions.contains(&domain::settings::Caution::BlockAndRelieve);
        prop_assert_eq!(reaches_under, blocks);
        prop_assert!(judged.findings.is_sorted_by_key(|f| (f.class, f.strength)));
        prop_assert!(judged.findings.iter().all(|f| !f.evidence_for.is_empty()));
    }

    #[test]
    fn a_change_is_bounded_by_its_step(setup in setups()) {
        match setup.judged().proposal.change {
            Change::DownForce { from, to, by, .. } => {
                prop_assert!((to - from - by).si().abs() < 1e-9 && by.si().abs() > 1.0);
                bounded_force(&setup, from, to)?;
            }
            Change::Depth { from, to, .. } => {
                let step = (to - from).si().abs();
                prop_assert!(step <= K.largest_depth_step.value * 0.0254 + 1e-6 && step > 1e-4);
                prop_assert!(to.si() >= 0.0);
            }
            Change::Speed { from, to } => {
                let slower = (from - to).si() / 0.447_04;
                prop_assert!(slower > 0.0 && slower <= K.speed_step.value + 1e-9);
            }
            _ => {}
        }
    }

    #[test]
    fn no_more_force_while_a_mechanical_cause_or_wet_soil_explains_it(setup in setups()) {
        let judged = setup.judged();
        let explained = judged.findings.iter().any(|f| f.class <= Class::Mechanical);
        let raised = matches!(judged.proposal.change, Change::DownForce { by, .. } if by.si() > 0.0);
        prop_assert!(!(explained && raised), "{:?}", judged.findings);
        let implausible = judged.proposal.flags.contains(&Flag::ImplausibleResistance);
        prop_assert!(!(implausible && raised));
    }

    #[test]
    fn force_moves_only_the_way_the_wheels_say(setup in setups()) {
        use domain::dig::WheelFeel;
        let no_log = setup.rows(|r| r.logged_load = None);
        let locked = no_log.clone().rows(|r| r.gauge_wheels = Some(WheelFeel::Locked)).judged();
        let raised = matches!(locked.proposal.change, Change::DownForce { by, .. } if by.si() > 0.0);
        prop_assert!(!raised, "locked wheels never ask for more");
        let free = no_log.rows(|r| {
            r.gauge_wheels = Some(WheelFeel::SpinFree);
            r.print = None;
        });
        let lowered = matches!(free.judged().proposal.change, Change::DownForce { by, .. } if by.si() < 0.0);
        prop_assert!(!lowered, "free wheels never ask for less");
    }

    #[test]
    fn a_row_that_is_not_there_or_twice_is_refused(setup in setups(), over in 1_u16..40) {
        let rows = setup.planter.rows;
        let mut off = setup.rows.clone();
        off.push(RowReading { moist_at_seed: Some(true), ..RowReading::of(rows + over) });
        let index = off.len() - 1;
        let refused = Observation::new(SettingsInUse::default(), off, String::new(), rows);
        prop_assert_eq!(
            refused.unwrap_err(),
            [ObservationError::NotOnPlanter { index, row: rows + over, rows }]
        );
        let mut twice = setup.rows;
        let row = twice[0].row;
        twice.push(twice[0].clone());
        let index = twice.len() - 1;
        let refused = Observation::new(SettingsInUse::default(), twice, String::new(), rows);
        prop_assert_eq!(refused.unwrap_err(), [ObservationError::Twice { index, row }]);
    }
}

fn bounded_force(setup: &Setup, from: Force, to: Force) -> Result<(), TestCaseError> {
    let by = (to - from).si();
    prop_assert!(by.abs() <= K.largest_learned_step.value + 1e-6, "{by} N");
    if let DownForce::Spring { notches } = &setup.planter.down_force {
        prop_assert!(notches.iter().any(|n| (n.force - to).si().abs() < 1e-6), "not a notch");
    }
    if let Some((least, most)) = setup.planter.down_force.reach() {
        prop_assert!(by < 0.0 || to <= most + Force::from_si(1e-6), "above reach");
        prop_assert!(by > 0.0 || to >= least - Force::from_si(1e-6), "below reach");
    }
    let frame = setup.case(|_, case| case.frame_most);
    prop_assert!(by < 0.0 || frame.is_none_or(|most| to <= most + Force::from_si(1e-6)));
    Ok(())
}

#[test]
fn what_cannot_be_is_refused_with_its_place() {
    let dig = |rows, settings| Observation::new(settings, rows, String::new(), 8);
    assert_eq!(dig(vec![], SettingsInUse::default()).unwrap_err(), [ObservationError::NoRows]);
    let empty = vec![RowReading::of(1)];
    assert_eq!(dig(empty, SettingsInUse::default()).unwrap_err(), [ObservationError::NothingRead]);
    let mut deep = RowReading::of(2);
    deep.seed_depths = inches(&[2.0, 7.5]);
    let settings = SettingsInUse { speed: Some(cases::q(40.0, "[mi_i]/h")), ..Default::default() };
    let errors = dig(vec![deep, RowReading::of(0)], settings).unwrap_err();
    let pointers: Vec<String> = errors
        .iter()
        .filter_map(|e| match e {
            ObservationError::Impossible { pointer, .. } => Some(pointer.clone()),
            _ => None,
        })
        .collect();
    assert_eq!(pointers, ["/settings/speed", "/rows/0/seed_depths/1"]);
    assert!(errors.contains(&ObservationError::NotOnPlanter { index: 1, row: 0, rows: 8 }));
    let mut endless = RowReading::of(1);
    endless.seed_depths = vec![Length::from_si(f64::NAN); 2];
    endless.spacings = inches(&[6.0; 201]);
    let errors = dig(vec![endless], SettingsInUse::default()).unwrap_err();
    assert_eq!(errors.len(), 3, "two depths that are no number, one list too long: {errors:?}");
}

#[test]
fn a_good_dig_is_good_however_many_rows_are_dug() {
    for rows in 2..=8_u16 {
        let setup = good().with(|s| s.rows = (1..=rows).map(digs::good_row).collect());
        assert_eq!(setup.judged().proposal.change, Change::KeepAsIs, "{rows} rows");
    }
}
