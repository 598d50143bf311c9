//! What to set, and one short reason each.

use domain::settings::Inputs;
use maud::{Markup, html};

use super::facts::Facts;
use super::in_furrow;
use super::residue;
use super::words::{cleaner, from_to, pair, quantity, sentence, spring, why};
use super::work;
use crate::v1::recommendations::answer::{
    ClosingOut, DepthOut, DownForceOut, ReachOut, Recommendation, SeedOrderOut, SeedingOut,
    SetOnPlanter, SpeedOut,
};
use crate::v1::recommendations::{DiscVerdict, Verdict};
use crate::v1::trace::Reason;

/// One line of the table.
pub(super) struct Line {
    pub(super) name: &'static str,
    pub(super) set: String,
    pub(super) more: String,
    pub(super) why: String,
}

/// The lines whose reason stays on the fullest page.
const FIRST: [&str; 4] = ["Down force", "Depth", "Speed", "In furrow"];

/// The table of settings.
/// Where the page is full, only the settings that must be right at once keep their reason.
pub(super) fn settings(facts: &Facts, full: bool) -> Markup {
    html! {
        table.settings {
            thead { tr { th { "Setting" } th { (heading(&facts.told)) } th { "Why" } } }
            tbody {
                @for line in lines(&facts.told, decided(&facts.inputs), full) {
                    @let told = !full || FIRST.contains(&line.name);
                    tr {
                        th scope="row" { (line.name) }
                        td colspan=[(!told).then_some("2")] {
                            span.set { (line.set) } " " span { (line.more) }
                        }
                        @if told { td { (unsaid(&line)) } }
                    }
                }
            }
        }
    }
}

/// The reason, without the setting where it begins by saying that again.
fn unsaid(line: &Line) -> String {
    let rest = line.why.strip_prefix(&line.set).and_then(|rest| rest.strip_prefix(": "));
    rest.map_or_else(|| line.why.clone(), sentence)
}

/// The settings hold for the day on which the soil is fit.
fn heading(told: &Recommendation) -> &'static str {
    match told.today.verdict {
        Verdict::Plant => "Set it to",
        Verdict::Wait | Verdict::Stop => "Set it to, once the soil is fit",
    }
}

/// Whether the advisor decided on the down force.
fn decided(inputs: &Inputs) -> bool {
    inputs.goals.down_force.is_some()
}

/// What the page says, for forms that have no place of their own for a setting.
pub(super) fn said(told: &Recommendation, inputs: &Inputs) -> Vec<String> {
    let lines = lines(told, decided(inputs), false);
    let first = format!("{}:", heading(told));
    let settings = lines.into_iter().map(|line| {
        let Line { name, set, more, why } = line;
        format!("{name}: {} {why}", sentence(format!("{set} {more}").trim()))
    });
    std::iter::once(first).chain(settings.map(|it| it.trim().to_owned())).collect()
}

fn lines(told: &Recommendation, decided: bool, full: bool) -> Vec<Line> {
    let settings = &told.settings;
    let mut lines = vec![
        down_force(&settings.down_force, decided),
        depth(&settings.depth),
        speed(&settings.speed),
        residue::coulter_line(&settings.coulter, full),
        Line {
            name: "Row cleaner",
            set: cleaner(settings.row_cleaner.cleaner).to_owned(),
            more: String::new(),
            why: why(&settings.row_cleaner.because),
        },
        closing(&settings.closing),
    ];
    lines.extend(settings.old_rows.as_ref().map(residue::old_rows));
    let order = told.work.as_ref().and_then(|work| work.seed.as_ref());
    lines.extend(settings.seeding.as_ref().map(|it| seeding(it, order)));
    lines.extend(settings.in_furrow.as_ref().map(in_furrow::line));
    // On a page that is full of what is wrong, days and acres wait.
    lines.extend(told.work.as_ref().filter(|_| !full).map(work::line));
    lines.extend(discs(told.discs));
    lines
}

fn down_force(it: &DownForceOut, decided: bool) -> Line {
    let force = quantity(&it.per_row);
    let on_each = format!("{force} of down force on each row");
    let (set, more) = match &it.set_on_planter {
        SetOnPlanter::WeightOnly {} => ("Nothing to set".to_owned(), "weight alone".to_owned()),
        SetOnPlanter::Notch { label } => (format!("Notch {label}"), on_each),
        SetOnPlanter::Pressure { pressure, from } => {
            (quantity(pressure), format!("{on_each}, by {from}"))
        }
        SetOnPlanter::Lift { force } => (format!("Up-lift {}", quantity(force)), on_each),
        SetOnPlanter::Uncalibrated {} => (
            force,
            "on each row; nobody calibrated this planter: find the pressure by digging".into(),
        ),
    };
    let window = format!(
        "Keeps {} on the gauge wheels: down often enough, without smearing the wall.",
        from_to(&it.window.low, &it.window.ceiling)
    );
    let why = match &it.reach {
        ReachOut::TooLittle { short_by, frame_is_the_limit, rides_out } => {
            let frame = if *frame_is_the_limit { " The frame is the limit." } else { "" };
            let out = if *rides_out { " The unit rides out of the ground." } else { "" };
            let short = quantity(short_by);
            format!("NOT ENOUGH: {short} short on each row.{frame}{out} See what helps, below.")
        }
        ReachOut::TooMuch { over_by } => {
            format!(
                "TOO HEAVY by {} on each row, as light as it goes. See what helps, below.",
                quantity(over_by)
            )
        }
        ReachOut::Within {} if !it.window.room => {
            "Wet soil: as light as it goes. No force both keeps the wheels down and spares the \
             wall; waiting is better."
                .to_owned()
        }
        // A force that is within reach, and held back on a doubt: the sheet must not call it kept.
        ReachOut::Within {} if it.as_box_empties.iter().all(|state| state.load.value <= 0.0) => {
            "TOO LIGHT as it was worked out: the wheels carry nothing. Dig before you go on."
                .to_owned()
        }
        ReachOut::Within {} if decided => format!("Decided by your advisor. {window}"),
        ReachOut::Within {} => window,
    };
    Line { name: "Down force", set, more, why }
}

fn depth(it: &DepthOut) -> Line {
    let lever = it.lever.as_ref().map_or_else(
        || {
            let worn = it.lever_depth != it.value;
            worn.then(|| format!("lever at {}: the discs are worn", quantity(&it.lever_depth)))
        },
        |lever| {
            Some(format!("notch {} of the lever gives {}", lever.notch, quantity(&lever.depth)))
        },
    );
    let safe = format!("Safe here: {}.", from_to(&it.safe_low, &it.safe_high));
    let why = match (it.decided, it.is_safe) {
        (true, true) => format!("Decided by your advisor. {safe}"),
        (true, false) => format!("Decided by your advisor, OUTSIDE of what is safe. {safe}"),
        (false, _) => format!("{} {safe}", base_and_move(&it.because)),
    };
    let measured = "from the soil under the mat";
    let more = lever.map_or_else(|| measured.to_owned(), |lever| format!("{measured}; {lever}"));
    Line { name: "Depth", set: quantity(&it.value), more, why }
}

/// The usual depth of the crop, and what moved it last.
fn base_and_move(because: &[Reason]) -> String {
    let base = why(because);
    let last = because.iter().skip(1).last();
    last.map_or_else(|| base.clone(), |it| format!("{base} {}", sentence(&it.text)))
}

fn speed(it: &SpeedOut) -> Line {
    Line {
        name: "Speed",
        set: quantity(&it.value),
        more: if it.most == it.value {
            "and no faster".to_owned()
        } else {
            format!("never above {}", quantity(&it.most))
        },
        why: why(&it.because),
    }
}

fn closing(it: &ClosingOut) -> Line {
    let set = sentence(pair(it.pair));
    let mut more = spring(it.spring).to_owned();
    if it.drag_chain {
        more.push_str(", with a drag chain");
    }
    if it.change {
        more.push_str("; try them on two rows before you change the rest");
    } else if let Some(other) = it.try_on_two_rows {
        more += "; worth a try on two rows: ";
        more += pair(other);
    }
    let set = set.trim_end_matches('.').to_owned();
    Line { name: "Closing", set, more, why: why(&it.because) }
}

fn seeding(it: &SeedingOut, order: Option<&SeedOrderOut>) -> Line {
    Line {
        name: "Seeding",
        set: quantity(&it.rate).replace("per ", "seeds per "),
        more: format!(
            "one every {}; {:.0} seeds in {} of row{}",
            quantity(&it.spacing),
            it.seeds_in_thousandth,
            quantity(&it.thousandth_acre),
            work::order(order)
        ),
        why: why(&it.because),
    }
}

fn discs(discs: DiscVerdict) -> Option<Line> {
    match discs {
        DiscVerdict::Keep | DiscVerdict::NotMeasured => None,
        DiscVerdict::Replace => Some(Line {
            name: "Opener discs",
            set: "Replace them".to_owned(),
            more: "before you blame the settings".to_owned(),
            why: "Worn to their limit.".to_owned(),
        }),
    }
}
