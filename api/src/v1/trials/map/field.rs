//! The field from above: strips, halves or places, in the order in which they are reached.

use domain::trial::{Plot, Way};
use maud::{Markup, html};

use super::bar::arrow;
use super::facts::Facts;
use super::ink::{letter, tone};

/// Most plots side by side in one line of the drawing.
const MOST_BESIDE: usize = 16;
/// Width of the drawing.
const WIDTH: f64 = 720.0;
/// Height of a line of it.
const HEIGHT: f64 = 118.0;

/// The plots, block by block.
pub(super) fn field(facts: &Facts) -> Markup {
    let lines = lines(facts);
    let most = lines.iter().map(Vec::len).max().unwrap_or(1).max(4);
    html! {
        section {
            h2 { (heading(facts)) }
            @for line in &lines { (drawn(line, most, facts)) }
        }
    }
}

fn heading(facts: &Facts) -> &'static str {
    match facts.layout.way {
        Way::PlanterRows { .. } => "The places to stop at: at each, every letter is one plot",
        Way::Strips { .. } => "The strips, from the left as you look along the first pass",
        Way::SplitPlanter => {
            "The passes, from the left as you look along the first: each half is one plot"
        }
    }
}

/// Whole blocks in lines of so many plots that they can be read.
fn lines(facts: &Facts) -> Vec<Vec<&Plot>> {
    let each = facts.design.treatments.len().max(1);
    let blocks = (MOST_BESIDE / each).max(1);
    let plots: Vec<&Plot> = facts.layout.plots.iter().collect();
    plots.chunks(blocks * each).map(<[&Plot]>::to_vec).collect()
}

fn drawn(line: &[&Plot], most: usize, facts: &Facts) -> Markup {
    let step = WIDTH / u32::try_from(most).map_or(1.0, f64::from);
    let places = (0_u16..).zip(line);
    html! {
        svg viewBox=(format!("0 0 {WIDTH} {HEIGHT}")) role="img" aria-label="Plots in their order" {
            @for (place, plot) in places {
                @let left = f64::from(place) * step;
                @let middle = left + step / 2.0;
                @let first = plot.block != line.get(usize::from(place).wrapping_sub(1)).map_or(0, |it| it.block);
                @if first {
                    line x1=(left + 0.8) y1="4" x2=(left + 0.8) y2="114" stroke="#000" stroke-width="1.6" {}
                    text x=(left + 5.0) y="13" font-size="11" font-weight="bold" { "Block " (plot.block) }
                }
                rect x=(left + 3.0) y="18" width=(step - 5.0) height="78"
                    fill=(tone(plot.treatment)) stroke="#000" stroke-width="1" {}
                (letter(middle, 42.0, Facts::letter(plot.treatment)))
                rect x=(middle - 11.0) y="58" width="22" height="15" fill="#fff" stroke="#000" stroke-width="0.6" {}
                text x=(middle) y="70" text-anchor="middle" font-size="12" { (plot.number) }
                text x=(middle) y="110" text-anchor="middle" font-size="12" { (below(plot, facts)) }
            }
        }
    }
}

/// The way it is driven, or the rows.
fn below(plot: &Plot, facts: &Facts) -> String {
    match facts.layout.way {
        Way::PlanterRows { .. } => {
            let rows: Vec<String> = plot.rows.iter().map(ToString::to_string).collect();
            let word = if rows.len() == 1 { "row" } else { "rows" };
            if rows.len() > 3 {
                format!("{} rows", rows.len())
            } else {
                format!("{word} {}", rows.join(", "))
            }
        }
        Way::Strips { .. } | Way::SplitPlanter => arrow(plot.heading).to_owned(),
    }
}
