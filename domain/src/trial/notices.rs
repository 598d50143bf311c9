//! What is to be known about a layout before it is planted, with the source of each rule.

use super::design::{Design, Order, Treatment, Trying, Way};
use super::layout::{Layout, Plot};
use crate::provenance::{Coefficients, Mark, Reason, sources};
use crate::quantity::unit;

/// Rows of a part beyond which buying them is more than trying.
const FEW_ROWS: usize = 2;

/// All that is to be known.
pub(super) fn notices(design: &Design, plots: &[Plot], k: &Coefficients) -> Vec<Reason> {
    let mut notices = of_blocks(design, k);
    notices.extend(of_order(design));
    match design.way {
        Way::PlanterRows { moved, .. } => notices.extend(of_rows(design, plots, moved)),
        Way::Strips { .. } => {
            notices.extend(of_length(design, k));
            notices.extend(of_strips(design));
        }
        Way::SplitPlanter => {
            notices.extend(of_length(design, k));
            notices.push(Reason::fixed(
                "drive the passes as the map says, so that neither half always lies on the same side; harvest each half by itself",
                Mark::CommonPractice,
                sources::COMMON_PRACTICE,
            ));
        }
    }
    notices.extend(of_tyres(design));
    notices.extend(of_harvest(design));
    notices
}

fn of_blocks(design: &Design, k: &Coefficients) -> Vec<Reason> {
    let wanted = &k.trial_blocks;
    match design.blocks {
        1 => vec![Reason::fixed(
            "one block repeats nothing: what differs may be the ground, and no interval or p-value can be given",
            Mark::Read,
            sources::MICHIGAN_TRIALS,
        )],
        few if f64::from(few) < wanted.value => vec![Reason::made(
            format!(
                "{few} blocks are few: {} are recommended, and 5 or 6 where the effect is small or important",
                wanted.value
            ),
            wanted.mark,
            wanted.source.clone(),
        )],
        _ => Vec::new(),
    }
}

fn of_order(design: &Design) -> Option<Reason> {
    let by_hand =
        matches!(design.way, Way::PlanterRows { moved: false, .. }) && design.rows_were_chosen();
    (design.order == Order::AsListed || by_hand).then(|| {
        Reason::fixed(
            "chance did not decide what lies where: the verdict will say so, since what differs may follow the ground",
            Mark::Read,
            sources::WUEST_1994,
        )
    })
}

fn of_rows(design: &Design, plots: &[Plot], moved: bool) -> Vec<Reason> {
    let mut notices = vec![Reason::fixed(
        "some rows tell how deep, how well closed and how many up; not yield by combine, which takes all rows at once",
        Mark::CommonPractice,
        sources::COMMON_PRACTICE,
    )];
    if !moved {
        notices.push(Reason::fixed(
            "the same rows carry the part in every block, so what is wrong with a row looks like the part: check wear and springs of these rows first, or move the parts between blocks",
            Mark::Derived,
            sources::TWO_STAGE,
        ));
    }
    if let Some(text) = too_many(design, plots) {
        notices.push(Reason::made(text, Mark::CommonPractice, sources::COMMON_PRACTICE));
    }
    for it in rows_of_first_block(design, plots) {
        let odd: Vec<u16> = it.1.iter().copied().filter(|row| design.is_odd_row(*row)).collect();
        if !odd.is_empty() {
            let text = format!(
                "{}: {} at an end or behind a tyre, where soil and frame differ; look at its other rows too",
                it.0.name,
                said(&odd)
            );
            notices.push(Reason::made(text, Mark::CommonPractice, sources::COMMON_PRACTICE));
        }
    }
    notices
}

fn rows_of_first_block<'a>(
    design: &'a Design,
    plots: &'a [Plot],
) -> impl Iterator<Item = (&'a Treatment, &'a Vec<u16>)> {
    plots.iter().filter(|plot| plot.block == 1).filter_map(|plot| {
        design.treatments.get(usize::from(plot.treatment)).map(|it| (it, &plot.rows))
    })
}

fn too_many(design: &Design, plots: &[Plot]) -> Option<String> {
    let many = |(it, rows): (&Treatment, &Vec<u16>)| {
        (!it.control && rows.len() > FEW_ROWS).then_some(rows.len())
    };
    let rows = rows_of_first_block(design, plots).find_map(many)?;
    let text = format!("buy one or two first: {rows} rows cost more and tell little more");
    design.trying.is_part().then_some(text)
}

fn of_strips(design: &Design) -> Option<Reason> {
    design.trying.is_part().then(|| {
        Reason::fixed(
            "strips of a part need a whole set and a change at every strip: try it on one or two rows, or on half the planter, first",
            Mark::CommonPractice,
            sources::COMMON_PRACTICE,
        )
    })
}

fn of_length(design: &Design, k: &Coefficients) -> Option<Reason> {
    let feet = unit("[ft_i]").map_or(0.0, |feet| feet.read(design.strip_length));
    let (least, better) = (&k.trial_strip_least, &k.trial_strip_better);
    if feet < least.value {
        let text = format!(
            "strips of {feet:.0} ft are short: {} ft can do, {} ft or more are better",
            least.value, better.value
        );
        return Some(Reason::made(text, least.mark, least.source.clone()));
    }
    (feet < better.value).then(|| {
        let text =
            format!("{feet:.0} ft can do; {} ft or more tell smaller differences", better.value);
        Reason::made(text, better.mark, better.source.clone())
    })
}

fn of_tyres(design: &Design) -> Option<Reason> {
    let rows = design.tyre_rows();
    let known = !design.planter.behind_tyres.is_empty();
    let matters = matches!(design.way, Way::PlanterRows { .. });
    (matters && !known && !rows.is_empty()).then(|| {
        let text = format!(
            "nobody said which rows run behind tyres: {} were taken to; say it with the planter",
            said(&rows)
        );
        Reason::made(text, Mark::Assumption, sources::ASSUMPTION)
    })
}

fn of_harvest(design: &Design) -> Option<Reason> {
    let rows = design.harvest_rows?;
    let left = design.rows_between_borders();
    let whole = left.checked_div(rows).filter(|passes| *passes > 0)?;
    let over = left - whole * rows;
    let text = if over == 0 {
        format!(
            "the harvester fits: {whole} pass{} of {rows} rows",
            if whole == 1 { "" } else { "es" }
        )
    } else {
        format!("harvest the middle {} of {left} rows, and leave {over} over", whole * rows)
    };
    Some(Reason::made(text, Mark::Derived, sources::GEOMETRY))
}

/// `row 3 lies`, `rows 3 and 6 lie`.
fn said(rows: &[u16]) -> String {
    let numbers: Vec<String> = rows.iter().map(ToString::to_string).collect();
    match numbers.as_slice() {
        [one] => format!("row {one}"),
        [most @ .., last] => format!("rows {} and {last}", most.join(", ")),
        [] => String::new(),
    }
}

/// What can't be concluded from such a layout, beside what the analysis says of any.
pub fn not_told_by(layout: &Layout, trying: Trying) -> Vec<String> {
    let mut told = Vec::new();
    if matches!(layout.way, Way::Strips { .. }) && !layout.randomised {
        told.push(
            "Whether a slope across the field made the difference: the strips lie in the same order in every block."
                .to_owned(),
        );
    }
    if trying == Trying::SeedingRate {
        told.push(
            "Whether more plants came of more seed or of better emergence, unless emergence was read as a share of the seed."
                .to_owned(),
        );
    }
    told
}
