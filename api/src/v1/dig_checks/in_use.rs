//! From what stands on the gauge, the bracket and the lever to force and depth.

use domain::dig::{SettingsInUse, Usual, usual};
use domain::planter::{DownForce, Planter};
use domain::quantity::{Bound, Force, Length, Measured, Pressure, bounds};

use super::meant::meant;
use super::observation::SettingsInUseIn;
use crate::http::quantity::Quantity;
use crate::http::{BadMember, Refused};
use crate::v1::plain;

/// The settings of `planter` while the dug rows were planted.
pub(super) fn settings(
    given: &SettingsInUseIn,
    planter: &Planter,
    refused: &mut Refused,
) -> SettingsInUse {
    let SettingsInUseIn { down_force, pressure, notch, lever_depth, lever_notch, speed, box_fill } =
        given;
    one_way_only(given, refused);
    let mut read = Reader(refused);
    let force = read.take("down_force", down_force.as_ref(), &bounds::DOWN_FORCE);
    let gauge = read.take("pressure", pressure.as_ref(), &bounds::ELEMENT_PRESSURE);
    let depth = read.take_meant(
        "lever_depth",
        lever_depth.as_ref(),
        (&bounds::PLANTING_DEPTH, &usual::LEVER_DEPTH),
    );
    let speed = read.take_meant("speed", speed.as_ref(), (&bounds::GROUND_SPEED, &usual::SPEED));
    let box_fill = read.take("box_fill", box_fill.as_ref(), &bounds::SHARE);
    let by_gauge =
        gauge.and_then(|gauge| refused.take(force_of_pressure(planter, gauge)).flatten());
    let by_notch = notch.as_ref().and_then(|label| refused.take(force_of_notch(planter, label)));
    let by_lever = lever_notch.and_then(|notch| refused.take(depth_of_notch(planter, notch)));
    SettingsInUse {
        down_force: force.or(by_gauge).or(by_notch),
        setting: pressure.as_ref().map(plain::quantity).or_else(|| notch.clone()),
        lever_depth: depth.or(by_lever),
        speed,
        box_fill,
    }
}

struct Reader<'a>(&'a mut Refused);

impl Reader<'_> {
    fn take<Q: Measured>(
        &mut self,
        name: &str,
        given: Option<&Quantity>,
        bound: &Bound<Q>,
    ) -> Option<Q> {
        given.and_then(|it| self.0.take(it.parse(&format!("/settings/{name}"), bound)))
    }

    /// The same, with a guess at the unit where the value can't be.
    fn take_meant<Q: Measured>(
        &mut self,
        name: &str,
        given: Option<&Quantity>,
        (bound, usual): (&Bound<Q>, &Usual<Q>),
    ) -> Option<Q> {
        let given = given?;
        let parsed = given.parse(&format!("/settings/{name}"), bound);
        self.0.take(parsed.map_err(|bad| meant(bad, usual, given.value, &given.unit)))
    }
}

/// Two ways to say one thing would leave open which one holds.
fn one_way_only(given: &SettingsInUseIn, refused: &mut Refused) {
    let ways = [
        ("down_force", given.down_force.is_some()),
        ("pressure", given.pressure.is_some()),
        ("notch", given.notch.is_some()),
    ];
    for (name, _) in ways.iter().filter(|(_, said)| *said).skip(1) {
        let detail = "The down force is given in two ways: leave one of them out.";
        refused.add(BadMember::new(format!("/settings/{name}"), detail));
    }
    if given.lever_depth.is_some() && given.lever_notch.is_some() {
        let detail = "The lever is given in two ways: leave one of them out.";
        refused.add(BadMember::new("/settings/lever_notch", detail));
    }
}

/// The force that a pressure gives; nothing where nobody can know, outside what was calibrated too.
fn force_of_pressure(planter: &Planter, pressure: Pressure) -> Result<Option<Force>, BadMember> {
    let calibration = match &planter.down_force {
        DownForce::AirBag { calibration } | DownForce::Hydraulic { calibration, .. } => calibration,
        DownForce::WeightOnly | DownForce::Spring { .. } => {
            let detail = "This planter has no air bags or cylinders, so there is no pressure.";
            return Err(BadMember::new("/settings/pressure", detail));
        }
    };
    if let Some(calibration) = calibration {
        let (least, most) = calibration.pressure_range();
        let inside = pressure >= least && pressure <= most;
        return Ok(inside.then(|| calibration.force_at(pressure)));
    }
    Ok(match &planter.down_force {
        DownForce::Hydraulic { cylinder, .. } => {
            Some(cylinder.force_at(pressure)).filter(|_| pressure <= cylinder.most)
        }
        DownForce::AirBag { .. } | DownForce::WeightOnly | DownForce::Spring { .. } => None,
    })
}

fn force_of_notch(planter: &Planter, label: &str) -> Result<Force, BadMember> {
    let pointer = "/settings/notch";
    let DownForce::Spring { notches } = &planter.down_force else {
        return Err(BadMember::new(pointer, "This planter has no springs with notches."));
    };
    let labels = || notches.iter().map(|n| n.label.as_str()).collect::<Vec<_>>().join(", ");
    let found = notches.iter().find(|n| n.label == label.trim());
    found.map(|n| n.force).ok_or_else(|| {
        BadMember::new(pointer, "The spring has no such notch.").given(label).allowed(labels())
    })
}

/// What the lever says at a notch: wear is no matter of the lever.
fn depth_of_notch(planter: &Planter, notch: u8) -> Result<Length, BadMember> {
    let pointer = "/settings/lever_notch";
    let Some(lever) = planter.depth_lever else {
        let detail = "The steps of this planter's lever are not known: give `lever_depth`.";
        return Err(BadMember::new(pointer, detail).given(notch));
    };
    if notch == 0 || notch > lever.notches {
        return Err(BadMember::new(pointer, "The lever has no such notch.")
            .given(notch)
            .allowed(format!("1 to {}", lever.notches)));
    }
    Ok(lever.first + lever.step * f64::from(notch - 1))
}
