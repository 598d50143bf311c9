//! The next down force: what this dig and all earlier ones say about the soil, weighed against the
//! window.

use super::context::Context;
use super::finding::Finding;
use super::observation::Observation;
use super::statistics::Statistics;
use crate::learning::{
    Decided, DigEvent, Learned, Lessons, Need, Place, Posterior, Prior, Reading, SetForce,
    SoilClass, Steps, Taught, chance_in_window, decide, event_of_dig, factor_of_row, need_of_row,
};
use crate::quantity::{Force, Measured, Speed};

/// Digs that are known, and the place of this one among them.
#[derive(Debug, Clone, Copy)]
pub struct Memory<'a> {
    /// What earlier digs taught.
    pub learned: &'a Learned,
    /// Where this one belongs.
    pub place: Place,
    /// Its number.
    pub dig: u128,
}

/// The down force that a dig leads to.
#[derive(Debug, Clone)]
pub(super) struct Decision {
    /// What was decided.
    pub decided: Decided,
    /// What was learned, for a reader, where the force moves.
    pub taught: Taught,
    /// The same where it stays.
    pub staying: Taught,
    /// What this dig teaches; none where a cleaner carried the units, or no row speaks.
    pub event: Option<DigEvent>,
}

impl Decision {
    pub(super) fn of(
        dig: &Observation,
        case: &Context<'_>,
        statistics: &Statistics,
        findings: &[Finding],
    ) -> Self {
        if let Some(memory) = case.memory {
            return Self::remembering(memory, dig, case, statistics, findings);
        }
        let k = case.coefficients;
        let class = SoilClass::of(case.conditions);
        let place = Place { class, planter: 0, field: 0, season: 0 };
        let learned = Learned::nothing(Prior::of(k), Reading::of(k), place.season);
        let memory = Memory { learned: &learned, place, dig: 0 };
        Self::remembering(memory, dig, case, statistics, findings)
    }

    fn remembering(
        memory: Memory<'_>,
        dig: &Observation,
        case: &Context<'_>,
        statistics: &Statistics,
        findings: &[Finding],
    ) -> Self {
        let Memory { learned, place, dig: id } = memory;
        let event = event_of_dig(id, place, dig, case, statistics, findings);
        let before = learned.lessons(&place);
        let after =
            event.as_ref().map_or_else(|| before.clone(), |event| learned.lessons_hearing(event));
        let asked = Asked::of(dig, case);
        let (known, now) = (asked.factor(&before), asked.factor(&after));
        let decided = asked.decide(&now);
        let set = |force: f64, chance: f64| SetForce { force: Force::from_si(force), chance };
        let as_set = asked.in_use.si();
        let chance_as_set = chance_in_window(&asked.need, &now, as_set);
        let stays = set(as_set, chance_as_set);
        let told = |set| Taught::by_a_dig(&after, now.range(), known.range(), set, stays);
        let taught = told(set(decided.force, decided.chance));
        Self { decided, taught, staying: told(stays), event }
    }
}

/// A row at the moment of the question.
struct Asked<'a> {
    case: &'a Context<'a>,
    need: Need,
    in_use: Force,
    speed: Speed,
}

impl<'a> Asked<'a> {
    fn of(dig: &Observation, case: &'a Context<'a>) -> Self {
        let (depth, speed) = (case.depth_target, case.speed_in_use(dig));
        let need = need_of_row(
            case.planter,
            case.conditions,
            case.coefficients,
            depth,
            speed,
            case.window,
        );
        Self { case, need, in_use: case.force_in_use(dig), speed }
    }

    fn factor(&self, lessons: &Lessons) -> Posterior {
        let case = self.case;
        let at = (case.depth_target, self.speed);
        factor_of_row(case.planter, case.conditions, case.coefficients, at, Some(lessons))
    }

    fn decide(&self, posterior: &Posterior) -> Decided {
        let case = self.case;
        let steps = Steps::of(case.coefficients, case.frame_most);
        decide(&case.planter.down_force, &self.need, posterior, Some(self.in_use.si()), &steps)
    }
}
