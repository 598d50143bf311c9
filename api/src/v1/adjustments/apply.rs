//! From an accepted change to the goals of the next revision.

use domain::dig::{Cause, Change, Proposal};
use domain::quantity::{Length, System, bounds};
use domain::settings::{Inputs, Recommendation};

use super::lines;
use crate::http::ApiError;
use crate::http::quantity::Quantity;
use crate::v1::dig_checks::answer::words;
use crate::v1::recommendations::goals::GoalsIn;
use crate::v1::recommendations::show::Show;

/// The revision that is followed: its goals as entered, what went into the engine and what came out.
#[derive(Debug)]
pub(super) struct Before {
    /// The goals as entered.
    pub goals: GoalsIn,
    /// What went into the engine.
    pub inputs: Inputs,
    /// What came out.
    pub result: Recommendation,
}

/// The goals of the next revision: those before, the change over them, and what the advisor wants
/// otherwise over both. New quantities are in `system`, to six digits.
///
/// # Errors
/// 422 when the sheet has no line left for an instruction.
pub(super) fn next_goals(
    before: &Before,
    proposal: &Proposal,
    otherwise: &GoalsIn,
    system: System,
) -> Result<GoalsIn, ApiError> {
    let mut goals = before.goals.clone();
    change(&mut goals, before, proposal, system);
    let instructions = if otherwise.instructions.is_empty() {
        goals.instructions
    } else {
        otherwise.instructions.clone()
    };
    let (about, line) = line(&proposal.change, system);
    goals.instructions = lines::with(instructions, about, line)?;
    Ok(over(goals, otherwise))
}

fn change(goals: &mut GoalsIn, before: &Before, proposal: &Proposal, system: System) {
    match &proposal.change {
        Change::DownForce { to, .. } => {
            goals.down_force = Some(Quantity::show(&bounds::DOWN_FORCE, *to, system));
        }
        Change::Depth { from, to, .. } => {
            lever(goals, before, proposal.cause, (*from, *to), system);
        }
        Change::Speed { to, .. } => {
            goals.speed = Some(Quantity::show(&bounds::GROUND_SPEED, *to, system));
        }
        Change::ClosingWheels { to, .. } => goals.closing = Some((*to).into()),
        Change::Inspect { .. }
        | Change::CleanerHeight { .. }
        | Change::ClosingSpring { .. }
        | Change::Coulter { .. }
        | Change::Wait { .. }
        | Change::DigMore { .. }
        | Change::KeepAsIs => {}
    }
}

/// Moves the lever. Only dry soil asks for seed at another depth; else the depth that is wanted
/// stays, and it is the lever that did not tell the truth. With the lever taken for the depth, the
/// next dig would be held against a depth that nobody wants.
fn lever(
    goals: &mut GoalsIn,
    before: &Before,
    cause: Option<Cause>,
    (from, to): (Length, Length),
    system: System,
) {
    let shown = |depth| Quantity::show(&bounds::PLANTING_DEPTH, depth, system);
    goals.lever_depth = Some(shown(to));
    if cause == Some(Cause::DrySeedZone) {
        goals.depth = Some(shown(before.result.depth_used + (to - from)));
    }
}

/// What the change asks for on the sheet, beside its settings, and what it is about.
fn line(change: &Change, system: System) -> (&'static str, Option<String>) {
    let said = || Some(words(change, Show(system)));
    match change {
        Change::Inspect { .. } => (lines::FIRST, said()),
        Change::Wait { .. } => (lines::WAIT, said()),
        Change::CleanerHeight { .. } => ("Row cleaners:", said()),
        Change::ClosingWheels { .. } => ("Closing wheels:", said()),
        Change::ClosingSpring { .. } => ("Closing springs:", said()),
        Change::Coulter { .. } => ("Coulters:", said()),
        Change::DownForce { .. }
        | Change::Depth { .. }
        | Change::Speed { .. }
        | Change::DigMore { .. }
        | Change::KeepAsIs => (lines::FIRST, None),
    }
}

/// Each member that is given goes before what was there.
fn over(goals: GoalsIn, otherwise: &GoalsIn) -> GoalsIn {
    let GoalsIn {
        depth,
        lever_depth,
        speed,
        down_force,
        closing,
        contact_loss,
        seeding,
        in_furrow,
        work,
        instructions: _,
    } = otherwise.clone();
    // A lever set for one depth says nothing about another.
    let lever_before = if depth.is_some() { None } else { goals.lever_depth };
    GoalsIn {
        depth: depth.or(goals.depth),
        lever_depth: lever_depth.or(lever_before),
        speed: speed.or(goals.speed),
        down_force: down_force.or(goals.down_force),
        closing: closing.or(goals.closing),
        contact_loss: contact_loss.or(goals.contact_loss),
        seeding: seeding.or(goals.seeding),
        in_furrow: in_furrow.or(goals.in_furrow),
        work: work.or(goals.work),
        instructions: goals.instructions,
    }
}

#[cfg(test)]
mod tests {
    use super::{Before, next_goals};
    use crate::http::quantity::Quantity;
    use crate::v1::planters::ClosingPair;
    use crate::v1::recommendations::answer::example_inputs;
    use crate::v1::recommendations::compute;
    use crate::v1::recommendations::goals::GoalsIn;
    use domain::dig::{Cause, Change, Proposal};
    use domain::planter::Setting;
    use domain::provenance::Coefficients;
    use domain::quantity::{Measured, System, bounds};
    use domain::settings::CleanerUse;

    fn before() -> Before {
        let inputs = example_inputs().expect("the example parses");
        let goals = GoalsIn {
            depth: Some(Quantity::new(2.0, "[in_i]")),
            speed: Some(Quantity::new(5.0, "[mi_i]/h")),
            instructions: vec!["West side first.".to_owned()],
            ..GoalsIn::default()
        };
        let result = compute::result(&inputs, &Coefficients::STANDARD);
        Before { goals, inputs, result }
    }

    fn proposal(change: Change, cause: Option<Cause>) -> Proposal {
        let (because, next_dig, flags, cautions) = (vec![], vec![], vec![], vec![]);
        Proposal { change, cause, because, next_dig, flags, cautions }
    }

    fn depth(cause: Cause) -> Proposal {
        let inches = |value| bounds::PLANTING_DEPTH.parse(value, "[in_i]").expect("in range");
        let change = Change::Depth { from: inches(2.0), to: inches(2.25), lever: None };
        proposal(change, Some(cause))
    }

    fn next(proposal: &Proposal, otherwise: &GoalsIn) -> GoalsIn {
        next_goals(&before(), proposal, otherwise, System::Us).expect("room on the sheet")
    }

    #[test]
    fn a_lever_that_is_off_moves_the_lever_and_not_the_depth_that_is_wanted() {
        let goals = next(&depth(Cause::LeverOff), &GoalsIn::default());
        assert_eq!(goals.depth, Some(Quantity::new(2.0, "[in_i]")));
        assert_eq!(goals.lever_depth, Some(Quantity::new(2.25, "[in_i]")));
    }

    #[test]
    fn dry_soil_moves_both() {
        let goals = next(&depth(Cause::DrySeedZone), &GoalsIn::default());
        assert_eq!(goals.depth, Some(Quantity::new(2.25, "[in_i]")));
        assert_eq!(goals.lever_depth, Some(Quantity::new(2.25, "[in_i]")));
    }

    #[test]
    fn what_the_engine_can_set_is_a_goal_and_the_rest_stays() {
        let newtons = |value| Measured::from_si(value);
        let change = Change::DownForce {
            from: newtons(990.0),
            to: newtons(1_112.055_403_815_1),
            by: newtons(122.0),
            setting: Setting::Uncalibrated,
        };
        let goals = next(&proposal(change, Some(Cause::TooLittleForce)), &GoalsIn::default());
        let expected =
            GoalsIn { down_force: Some(Quantity::new(250.0, "[lbf_av]")), ..before().goals };
        assert_eq!(goals, expected);
    }

    #[test]
    fn what_it_cannot_set_is_a_line() {
        let lift = Change::CleanerHeight { to: CleanerUse::Lift };
        let goals = next(&proposal(lift, Some(Cause::CleanerWrapped)), &GoalsIn::default());
        assert_eq!(goals.instructions, ["West side first.", "Row cleaners: lift them clear."]);
    }

    #[test]
    fn what_the_advisor_wants_otherwise_wins() {
        let otherwise = GoalsIn {
            closing: Some(ClosingPair::TwoSpiked),
            depth: Some(Quantity::new(45.0, "mm")),
            instructions: vec!["East side first.".to_owned()],
            ..GoalsIn::default()
        };
        let goals = next(&depth(Cause::LeverOff), &otherwise);
        assert_eq!(goals.depth, otherwise.depth);
        assert_eq!(goals.lever_depth, None, "the lever was set for another depth");
        assert_eq!((goals.closing, goals.speed), (otherwise.closing, before().goals.speed));
        assert_eq!(goals.instructions, otherwise.instructions);
    }
}
