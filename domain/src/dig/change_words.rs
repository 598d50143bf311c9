//! The change in one sentence that a grower reads.

use super::change::{Change, SpringMove};
use super::say;
use crate::planter::{ClosingPair, Setting};
use crate::quantity::System;
use crate::quantity::bounds::ELEMENT_PRESSURE;
use crate::settings::{CleanerUse, CoulterUse};

impl Change {
    /// One sentence: US units first, SI in brackets.
    pub fn words(&self) -> String {
        match self {
            Self::Inspect { what, rows } if rows.is_empty() => format!("Look first at {what}."),
            Self::Inspect { what, rows } => format!("Look on {} at {what}.", say::rows(rows)),
            Self::DownForce { from, to, by, setting } => {
                let verb = if by.value < 0.0 { "Lower" } else { "Raise" };
                let (from, to) = (say::pounds(*from), say::pounds(*to));
                format!("{verb} the down force on every row from {from} to {to}{}.", how(setting))
            }
            Self::Depth { from, to, lever } => {
                let verb = if to < from { "shallower" } else { "deeper" };
                let notch = lever.map_or_else(String::new, |l| format!(": notch {}", l.notch));
                let (from, to) = (say::inches(*from), say::inches(*to));
                format!("Set the lever {verb}, from {from} to {to}{notch}.")
            }
            Self::Speed { from, to } => {
                format!("Slow down from {} to {}.", say::mph(*from), say::mph(*to))
            }
            Self::CleanerHeight { to } => format!("Row cleaners: {}.", cleaner(*to)),
            Self::ClosingWheels { to, owned } => {
                let where_from = if *owned { "from the shed" } else { "borrowed" };
                format!("Try {} ({where_from}) on two rows.", pair(*to))
            }
            Self::ClosingSpring { to: SpringMove::Lighter } => {
                "Closing springs: one step lighter.".to_owned()
            }
            Self::ClosingSpring { to: SpringMove::Tighter } => {
                "Closing springs: one step tighter.".to_owned()
            }
            Self::Coulter { to } => format!("Coulters: {}.", coulter(*to)),
            Self::Wait { until } => format!("Do not plant yet. Wait for this: {until}."),
            Self::DigMore { rows: 0, look_for } => {
                format!("Dig again and look for: {}.", look_for.join("; "))
            }
            Self::DigMore { rows, look_for } => {
                let noun = if *rows == 1 { "row" } else { "rows" };
                format!("Dig {rows} more {noun} and look for: {}.", look_for.join("; "))
            }
            Self::KeepAsIs => "Go on planting with these settings.".to_owned(),
        }
    }
}

fn how(setting: &Setting) -> String {
    match setting {
        Setting::WeightOnly => String::new(),
        Setting::Notch { label } => format!(", notch {label}"),
        Setting::Pressure { pressure, .. } => {
            let (psi, _) = ELEMENT_PRESSURE.show(*pressure, System::Us);
            let (kpa, _) = ELEMENT_PRESSURE.show(*pressure, System::Si);
            format!(", {psi:.0} psi ({kpa:.0} kPa)")
        }
        Setting::Lift { force } => format!(", up-lift {}", say::pounds(*force)),
        Setting::Uncalibrated => {
            "; nobody calibrated the bags, so find the pressure with a scale".to_owned()
        }
    }
}

fn cleaner(to: CleanerUse) -> &'static str {
    match to {
        CleanerUse::NotFitted => "none",
        CleanerUse::Skim => "raise them until they part the residue and do not touch the soil",
        CleanerUse::Float => "let them float, just brushing",
        CleanerUse::Lift => "lift them clear",
    }
}

fn coulter(to: CoulterUse) -> &'static str {
    match to {
        CoulterUse::NotFitted => "none",
        CoulterUse::Run => "run them",
        CoulterUse::TakeOff => "take them off or lift them clear",
    }
}

fn pair(to: ClosingPair) -> &'static str {
    match to {
        ClosingPair::Rubber => "two rubber wheels",
        ClosingPair::CastIron => "two cast-iron wheels",
        ClosingPair::SpikedAndRubber => "one spiked and one rubber wheel",
        ClosingPair::TwoSpiked => "two spiked wheels",
        ClosingPair::Finger => "finger wheels",
    }
}
