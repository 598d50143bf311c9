//! The hopper as it empties, the frame, how sure it all is, and what helps.

use maud::{Markup, html};

use super::facts::Facts;
use super::words::{cut, from_to, hopper as level, percent, quantity, sentence};
use crate::http::quantity::Quantity;
use crate::v1::recommendations::answer::{
    BoxStateOut, FrameOut, HopperChangeOut, HopperOut, SectionOut, SetOnPlanter,
};
use crate::v1::recommendations::{DriveVerdict, FrameVerdict};

/// Letters of the name of a section that fit.
const LONGEST_NAME: usize = 40;

/// The load on the gauge wheels at each level of the hopper, and beside it frame and certainty.
pub(super) fn hopper(facts: &Facts) -> Markup {
    let force = &facts.told.settings.down_force;
    html! {
        div.pair {
            section {
                h2 { "On the gauge wheels as the hopper empties" }
                table.hopper {
                    tbody { @for state in &force.as_box_empties { (state_row(state)) } }
                }
                @if let Some(words) = force.hopper.as_ref().and_then(changes) { p { (words) } }
            }
            section {
                h2 { "How sure" }
                p {
                    b { (percent(force.chance_in_window)) }
                    " chance that this is right at the first try. A row may need anything from "
                    (span(&force.need_low, &force.need_high)) ": so dig."
                    @if let Some(next) = facts.told.measure_next.first() {
                        " To be surer, measure: " (next.measure) "."
                    }
                }
                h2 { "Frame" }
                p {
                    (frame(&force.frame))
                    @if let Some(words) = drive(&force.frame) { " " (words) }
                }
            }
        }
    }
}

fn state_row(state: &BoxStateOut) -> Markup {
    let note = state.note.as_deref().unwrap_or("just right");
    // The engine's "ceiling" is a word of the window, which the sheet does not explain.
    let note = note.replace("above the ceiling:", "heavy:");
    html! {
        tr {
            th scope="row" { (level(state.hopper)) }
            td.number { (quantity(&state.load)) }
            td { (sentence(&note)) }
        }
    }
}

/// What to change as the hopper empties, where something is to be changed.
fn changes(hopper: &HopperOut) -> Option<String> {
    let mut words = String::new();
    if let [first, later @ ..] = hopper.changes.as_slice()
        && !later.is_empty()
    {
        words = format!("One setting does not serve full and empty. Full: {}", set(first));
        for change in later {
            let from = percent(change.from_share);
            words = format!("{words}; from {from} down: {}", set(change));
        }
        words.push_str(". ");
    }
    if let Some(share) = hopper.refill_at {
        words = format!("{words}Refill at {}: below it the wheels are too light.", percent(share));
    }
    (!words.is_empty()).then(|| words.trim_end().to_owned())
}

fn set(change: &HopperChangeOut) -> String {
    match &change.setting {
        SetOnPlanter::WeightOnly {} => "nothing to set".to_owned(),
        SetOnPlanter::Notch { label } => format!("notch {label}"),
        SetOnPlanter::Pressure { pressure, .. } => quantity(pressure),
        SetOnPlanter::Lift { force } => format!("up-lift {}", quantity(force)),
        SetOnPlanter::Uncalibrated {} => push(&change.per_row),
    }
}

/// `120 lbf of down force`; below nothing it is lift.
fn push(force: &Quantity) -> String {
    if force.value < 0.0 {
        format!("{} of lift", quantity(&Quantity::new(-force.value, &force.unit)))
    } else {
        format!("{} of down force", quantity(force))
    }
}

/// `137 to 200 lbf of down force`, or from lift to down force.
fn span(low: &Quantity, high: &Quantity) -> String {
    if low.value < 0.0 {
        format!("{} to {}", push(low), push(high))
    } else {
        format!("{} of down force", from_to(low, high))
    }
}

/// What the ground drive does, where it does not simply grip.
fn drive(frame: &FrameOut) -> Option<String> {
    let drive = frame.ground_drive.as_ref()?;
    (drive.verdict != DriveVerdict::Grips).then(|| sentence(drive.meaning))
}

fn frame(frame: &FrameOut) -> String {
    let lightest = frame
        .sections
        .iter()
        .min_by(|a, b| a.left_on_wheels.value.total_cmp(&b.left_on_wheels.value));
    let (Some(section), true) = (lightest, frame.verdict != FrameVerdict::NotChecked) else {
        return "Not checked: nobody weighed it. Look whether the bar stays down.".to_owned();
    };
    let SectionOut { name, left_on_wheels, most_per_row, .. } = section;
    let (name, left) = (cut(name, LONGEST_NAME), quantity(left_on_wheels));
    match frame.verdict {
        FrameVerdict::Holds => {
            format!("Holds at this setting. Lightest: {name}, {left} left on its wheels.")
        }
        FrameVerdict::Marginal => format!(
            "Little left: {name}, {left} on its wheels. At most {} a row.",
            quantity(most_per_row)
        ),
        FrameVerdict::Lifts | FrameVerdict::NotChecked => format!(
            "LIFTS at {name}. More pressure only lifts the bar. At most {} a row.",
            quantity(most_per_row)
        ),
    }
}

/// The down force that a remedy leaves to be found.
fn needed(need: &Quantity) -> String {
    if need.value > 0.0 {
        format!("it takes {} a row", quantity(need))
    } else {
        "the weight of the unit does it".to_owned()
    }
}

/// What would help, and what the advisor wrote.
pub(super) fn remedies(facts: &Facts) -> Markup {
    let (remedies, lines) = (&facts.told.remedies, &facts.told.instructions);
    html! {
        @if !remedies.is_empty() {
            section.box {
                h2 { "What helps, the gentlest first" }
                ol {
                    @for remedy in remedies {
                        li {
                            (sentence(&remedy.what.text))
                            @if let Some(need) = &remedy.need_then {
                                " Then " (needed(need))
                                (if remedy.enough { ": enough." } else { ": not enough by itself." })
                            }
                        }
                    }
                }
            }
        }
        @if !lines.is_empty() {
            section.said {
                h2 { "Your advisor adds" }
                ul { @for line in lines { li { (line) } } }
            }
        }
    }
}
