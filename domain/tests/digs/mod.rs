//! Digs for the tests: one good dig that worked cases change, and generators of many.
#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::allow_attributes,
    reason = "each test binary uses its own part of this, and a broken dig must fail loudly"
)]

use domain::conditions::Conditions;
use domain::dig::{
    Bottom, CleanerRunning, Closure, Context, Judgement, LoggedLoad, Observation, PrintDepth,
    RowReading, SettingsInUse, Wall, WheelFeel, Whereabouts, judge,
};
use domain::planter::{DepthLever, Planter};
use domain::provenance::Coefficients;
use domain::quantity::Length;
use domain::settings::{Goals, Inputs, SeedingGoal, recommend};
use proptest::prelude::*;

use super::cases::{q, worked_field, worked_planter};

pub(crate) const K: Coefficients = Coefficients::STANDARD;

/// Everything that a judgement rests on.
#[derive(Debug, Clone)]
pub(crate) struct Setup {
    pub(crate) planter: Planter,
    pub(crate) field: Conditions,
    pub(crate) goals: Goals,
    pub(crate) settings: SettingsInUse,
    pub(crate) rows: Vec<RowReading>,
}

/// Five rows at depth, in contact, covered: nothing to change.
pub(crate) fn good() -> Setup {
    let mut planter = worked_planter();
    planter.unit.opener.measured = Some(planter.unit.opener.new_diameter);
    planter.depth_lever =
        Some(DepthLever { first: q(1.0, "[in_i]"), step: q(0.25, "[in_i]"), notches: 12 });
    Setup {
        planter,
        field: worked_field(),
        goals: Goals {
            depth: Some(q(2.0, "[in_i]")),
            speed: Some(q(5.0, "[mi_i]/h")),
            seeding: Some(SeedingGoal::Rate { seeds: q(34_000.0, "1/[acr_us]") }),
            ..Goals::default()
        },
        settings: SettingsInUse {
            down_force: Some(q(200.0, "[lbf_av]")),
            setting: Some("27 psi".to_owned()),
            lever_depth: Some(q(2.0, "[in_i]")),
            speed: Some(q(5.0, "[mi_i]/h")),
            box_fill: Some(q(50.0, "%")),
        },
        rows: [1, 2, 4, 5, 7].map(good_row).to_vec(),
    }
}

/// A row of the good dig: row 1 is outer, row 4 runs behind a tyre.
pub(crate) fn good_row(row: u16) -> RowReading {
    RowReading {
        behind_tyre: row == 4,
        outer: row == 1,
        seed_depths: inches(&[1.95, 2.05, 2.0, 1.9, 2.1]),
        spacings: inches(&[6.1, 6.2, 5.6, 6.7, 6.15]),
        // Long enough for all spacings that cases put in.
        stretch: Some(q(6.0, "[ft_i]")),
        gauge_wheels: Some(WheelFeel::TurnWithEffort),
        logged_load: None,
        print: Some(PrintDepth::Light),
        wall: Some(Wall::Crumbly),
        bottom: Some(Bottom::V),
        residue_in_furrow: Some(false),
        seed_on_bottom: Some(true),
        closed: Some(Closure::Closed),
        moist_at_seed: Some(true),
        cleaner: Some(CleanerRunning::JustBrushing),
        ..RowReading::of(row)
    }
}

pub(crate) fn inches(values: &[f64]) -> Vec<Length> {
    values.iter().map(|v| q(*v, "[in_i]")).collect()
}

pub(crate) fn in_inches(length: Length) -> f64 {
    length.value / 0.0254
}

impl Setup {
    /// Changes every row.
    #[must_use]
    pub(crate) fn rows(mut self, change: impl Fn(&mut RowReading)) -> Self {
        self.rows.iter_mut().for_each(change);
        self
    }

    /// Changes one row.
    #[must_use]
    pub(crate) fn row(mut self, row: u16, change: impl Fn(&mut RowReading)) -> Self {
        self.rows.iter_mut().filter(|r| r.row == row).for_each(change);
        self
    }

    /// Changes anything else.
    #[must_use]
    pub(crate) fn with(mut self, change: impl Fn(&mut Self)) -> Self {
        change(&mut self);
        self
    }

    /// Moves every seed of every row by some inches.
    #[must_use]
    pub(crate) fn deeper(self, by: f64) -> Self {
        self.rows(|r| move_row(r, by))
    }

    pub(crate) fn dig(&self) -> Observation {
        let place = Whereabouts { place: Some("flat".to_owned()), as_planned: Some(true) };
        Observation::new(self.settings.clone(), self.rows.clone(), String::new(), self.planter.rows)
            .unwrap()
            .at(place)
    }

    pub(crate) fn judged(&self) -> Judgement {
        self.case(judge)
    }

    pub(crate) fn case<T>(&self, ask: impl FnOnce(&Observation, &Context<'_>) -> T) -> T {
        let inputs = Inputs::new(self.planter.clone(), self.field.clone(), self.goals.clone());
        let sheet = recommend(&inputs, &K);
        ask(&self.dig(), &Context::of_sheet(&inputs, &sheet, &K))
    }
}

pub(crate) fn move_row(row: &mut RowReading, by: f64) {
    for depth in &mut row.seed_depths {
        *depth += q::<Length>(by, "[in_i]");
    }
}

fn option<T: Clone + std::fmt::Debug + 'static>(
    strategy: impl Strategy<Value = T> + 'static,
) -> impl Strategy<Value = Option<T>> {
    prop::option::of(strategy)
}

fn one_of<T: Clone + std::fmt::Debug + 'static>(all: &[T]) -> impl Strategy<Value = Option<T>> {
    option(prop::sample::select(all.to_vec()))
}

fn lengths(most: u32, count: usize) -> impl Strategy<Value = Vec<Length>> {
    // Readings by an eighth of an inch as well as exact ones, so that ties and zero spread occur.
    let one = prop_oneof![0.0..f64::from(most), (0..=most * 8).prop_map(|n| f64::from(n) / 8.0)];
    prop::collection::vec(one.prop_map(|v| q(v, "[in_i]")), 0..count)
}

fn readings(row: u16) -> impl Strategy<Value = RowReading> {
    let feel = (
        one_of(&[WheelFeel::SpinFree, WheelFeel::TurnWithEffort, WheelFeel::Locked]),
        one_of(&[PrintDepth::None, PrintDepth::Light, PrintDepth::Deep]),
        one_of(&[Wall::Crumbly, Wall::Smooth, Wall::Shiny]),
        one_of(&[Bottom::V, Bottom::W]),
        one_of(&[Closure::Closed, Closure::Open, Closure::OverPacked]),
        one_of(&[
            CleanerRunning::JustBrushing,
            CleanerRunning::BelowSurface,
            CleanerRunning::Wrapped,
        ]),
        option((0.0..1500.0_f64, option(0.0..300.0_f64), option(0.0..100.0_f64))),
    );
    let yes = prop::array::uniform3(option(any::<bool>()));
    let place = (any::<bool>(), any::<bool>());
    (place, lengths(6, 9), lengths(40, 12), feel, yes).prop_map(
        move |((behind_tyre, outer), seed_depths, spacings, feel, [tucked, bottom_ok, moist])| {
            let (gauge_wheels, print, wall, bottom, closed, cleaner, load) = feel;
            RowReading {
                row,
                behind_tyre,
                outer,
                seed_depths,
                spacings,
                stretch: None,
                gauge_wheels,
                logged_load: load.map(|(mean, sd, contact)| LoggedLoad {
                    mean: q(mean, "[lbf_av]"),
                    sd: sd.map(|s| q(s, "[lbf_av]")),
                    contact: contact.map(|c| q(c, "%")),
                }),
                print,
                wall,
                bottom,
                residue_in_furrow: tucked,
                seed_on_bottom: bottom_ok,
                closed,
                moist_at_seed: moist,
                cleaner,
            }
        },
    )
}

/// One row at least, with one reading at least.
pub(crate) fn rows(most: u16) -> impl Strategy<Value = Vec<RowReading>> {
    let on = prop::sample::subsequence((1..=most).collect::<Vec<u16>>(), 1..=usize::from(most));
    on.prop_flat_map(|rows| rows.into_iter().map(readings).collect::<Vec<_>>()).prop_map(
        |mut rows| {
            if rows.iter().all(RowReading::is_empty) {
                rows[0].wall = Some(Wall::Crumbly);
            }
            rows
        },
    )
}

pub(crate) fn settings() -> impl Strategy<Value = SettingsInUse> {
    (option(-200.0..600.0_f64), option(0.5..4.0_f64), option(1.0..12.0_f64), option(0.0..100.0_f64))
        .prop_map(|(force, depth, speed, fill)| SettingsInUse {
            down_force: force.map(|f| q(f, "[lbf_av]")),
            setting: None,
            lever_depth: depth.map(|d| q(d, "[in_i]")),
            speed: speed.map(|s| q(s, "[mi_i]/h")),
            box_fill: fill.map(|f| q(f, "%")),
        })
}

/// Any dig behind any planter in any field.
pub(crate) fn setups() -> impl Strategy<Value = Setup> {
    let lever = option((0.5..1.5_f64, 0.1..0.4_f64, 4..16_u8));
    (super::cases::inputs(), lever, settings(), rows(6)).prop_map(
        |(inputs, lever, settings, mut rows)| {
            let mut planter = inputs.planter;
            planter.depth_lever = lever.map(|(first, step, notches)| DepthLever {
                first: q(first, "[in_i]"),
                step: q(step, "[in_i]"),
                notches,
            });
            rows.retain(|r| r.row <= planter.rows);
            if rows.iter().all(RowReading::is_empty) {
                rows = vec![RowReading { print: Some(PrintDepth::Light), ..RowReading::of(1) }];
            }
            Setup { planter, field: inputs.field, goals: inputs.goals, settings, rows }
        },
    )
}
