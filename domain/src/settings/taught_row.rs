//! A row in soil of which digs have taught something.
//!
//! Digs tell the load, and the load tells the reaction of opener and coulter over what the
//! conditions let expect, with everything that nobody weighed in it. So the lessons bear on the
//! lift as a whole: each lift that was expected counts as often as the factor it stands for has
//! become likelier.

use super::down_force::{DownForceAdvice, chosen_without_digs, half_full};
use super::need::{Lift, likely_speed_loss, untaught_balance};
use super::row::Row;
use super::window::Window;
use crate::learning::{Lessons, Posterior, SetForce, Taught};
use crate::planter::Planter;
use crate::provenance::{Coefficients, Input, Mark, Step, Text};
use crate::quantity::{Force, Measured};
use crate::stats::{Range, Spread};

/// The row, with what digs taught about it.
pub(super) fn with_lessons(row: Row, lessons: Option<&Lessons>) -> Row {
    let Some(lessons) = lessons.filter(|lessons| lessons.any()) else { return row };
    let taught = TaughtRow::of(&row, half_full(&row), lessons);
    Row { taught: Some(taught), ..row }
}

/// What digs taught about a row, and what that changed about its down force.
pub(super) fn learned(
    planter: &Planter,
    row: &Row,
    window: &Window,
    decided: Option<Force>,
    advice: &DownForceAdvice,
    k: &Coefficients,
) -> Option<Taught> {
    let taught = row.taught.as_ref()?;
    let before = chosen_without_digs(planter, row, window, decided, k);
    let set = SetForce { force: advice.per_row, chance: advice.chance_in_window };
    let before = SetForce { force: Force::from_si(before.force), chance: before.chance };
    Some(Taught::on_a_sheet(&taught.lessons, taught.factor, taught.without_digs, set, before))
}

/// What digs make of a row.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct TaughtRow {
    lessons: Lessons,
    /// The middle of the factor, over the middle without digs: what opener and coulter are
    /// multiplied by in the sum.
    pub scale: f64,
    /// The factor in this field: 5 %, middle and 95 %.
    pub factor: Range,
    /// The same without digs.
    pub without_digs: Range,
}

impl TaughtRow {
    /// The lessons, for a row that knows nothing of them yet.
    pub(super) fn of(row: &Row, box_share: f64, lessons: &Lessons) -> Self {
        let lift = Lift::of(row).with_seed(box_share, None);
        let at = Scale::of(row, box_share);
        let with = at.posterior(lift, lessons).range();
        let before = at.expected(lift).range();
        let scale = with.likely / before.likely.max(1e-9);
        Self { lessons: lessons.clone(), scale, factor: with, without_digs: before }
    }

    /// What opener and coulter are multiplied by, as a step of the sum.
    pub(super) fn step(&self) -> Step {
        let over = |factor: f64| factor / self.without_digs.likely.max(1e-9);
        Step {
            step: Text::Borrowed("resistance by digs, over what was expected without them"),
            formula: Text::Borrowed("phi = middle of the factor with digs / middle without"),
            inputs: vec![Input::new("digs", f64::from(self.lessons.digs.practice), "1")],
            value: self.scale,
            unit: Text::Borrowed("1"),
            low: Some(over(self.factor.low)),
            high: Some(over(self.factor.high)),
            source: Text::Borrowed("the digs of this practice"),
            mark: Mark::Learned,
        }
    }

    /// A lift that was expected at a hopper level, by what the digs say.
    pub(super) fn weigh(&self, row: &Row, box_share: f64, lift: Spread) -> Spread {
        let at = Scale::of(row, box_share);
        let posterior = at.posterior(lift, &self.lessons);
        let steps =
            posterior.steps().map(|(from, to, chance)| (at.lift(from), at.lift(to), chance));
        Spread::by_steps(steps)
    }
}

/// How a factor and a lift belong together at the likely figures: lift = `metal` x factor + `rest`.
pub(super) struct Scale {
    metal: f64,
    rest: f64,
}

impl Scale {
    /// Of a row at a hopper level, before any lesson.
    pub(super) fn of(row: &Row, box_share: f64) -> Self {
        let balance = untaught_balance(row, box_share);
        let metal = balance.opener.si() + balance.coulter.si();
        let lift = likely_speed_loss(row).si() - balance.sum().si();
        Self { metal: metal.max(1e-9), rest: lift - metal }
    }

    fn lift(&self, factor: f64) -> f64 {
        self.metal * factor + self.rest
    }

    /// What the engine expects of the factor.
    pub(super) fn expected(&self, lift: Spread) -> Posterior {
        let curve = lift.curve();
        Posterior::expected(|factor| curve.below(self.lift(factor)))
    }

    /// The same with what digs say.
    pub(super) fn posterior(&self, lift: Spread, lessons: &Lessons) -> Posterior {
        let curve = lift.curve();
        lessons.weigh(|factor| curve.below(self.lift(factor)))
    }
}
