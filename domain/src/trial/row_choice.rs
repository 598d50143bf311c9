//! Which rows of the planter carry which treatment.
//!
//! Rows are taken in sets of neighbours, one row for each treatment, so that what is compared runs
//! side by side: first off the ends and the tyre tracks, then with the tyre tracks, then with the
//! ends. A set on the left has its mirror image on the right, with the treatments in the mirrored
//! order, so that no treatment lies further left than another.

use super::design::{Design, DesignFault};
use super::layout::Plot;
use super::plots::{draws, listed, next};
use super::randomise::Draws;

/// Tries with mirrored orders, then with free ones, until no treatment has only odd rows.
const MIRRORED_TRIES: u32 = 50;
const TRIES: u32 = 400;

/// The rows of each treatment, in the order of the treatments.
type Choice = Vec<Vec<u16>>;

/// One plot for each treatment in each block: its rows at one place in the field.
pub(super) fn plots(design: &Design, each: u16, moved: bool) -> Result<Vec<Plot>, DesignFault> {
    let mut draws = draws(design);
    let mut choice = choose(design, each, draws.as_mut())?;
    let mut plots = Vec::new();
    for block in 1..=design.blocks {
        if moved && block > 1 {
            choice = next_choice(design, each, draws.as_mut(), &choice)?;
        }
        for treatment in listed(design) {
            let rows = choice.get(usize::from(treatment)).cloned().unwrap_or_default();
            let number = next(&plots);
            plots.push(Plot { number, block, place: block, treatment, rows, heading: None });
        }
    }
    Ok(plots)
}

/// The rows of the next block: drawn anew, or each treatment on the rows of the one before it.
fn next_choice(
    design: &Design,
    each: u16,
    draws: Option<&mut Draws>,
    before: &Choice,
) -> Result<Choice, DesignFault> {
    if draws.is_some() && !design.rows_were_chosen() {
        return choose(design, each, draws);
    }
    let mut turned = before.clone();
    match draws {
        Some(draws) => draws.shuffle(&mut turned),
        None => turned.rotate_right(1),
    }
    Ok(turned)
}

fn choose(
    design: &Design,
    each: u16,
    mut draws: Option<&mut Draws>,
) -> Result<Choice, DesignFault> {
    if design.rows_were_chosen() {
        return Ok(design.treatments.iter().map(|it| sorted(it.rows.clone())).collect());
    }
    let many = design.treatments.len();
    for allowed in rows_by_worth(design) {
        let sets = sets_of(&allowed, many);
        if sets.len() < usize::from(each) || each == 0 {
            continue;
        }
        for round in 0..TRIES {
            let mirrored = round < MIRRORED_TRIES;
            let choice = assign(&sets, (many, each, mirrored), draws.as_deref_mut(), round);
            let fair = |rows: &Vec<u16>| !rows.iter().all(|row| design.is_odd_row(*row));
            if choice.iter().all(fair) {
                return Ok(choice);
            }
        }
    }
    let needed = u32::from(each) * u32::try_from(many).unwrap_or(u32::MAX);
    Err(DesignFault::TooFewRows { needed, rows: design.planter.count })
}

/// The rows that may be taken, the best alone first.
fn rows_by_worth(design: &Design) -> [Vec<u16>; 3] {
    let tyres = design.tyre_rows();
    let count = design.planter.count;
    let inner = |row: &u16| *row != 1 && *row != count;
    let all = || 1..=count;
    [
        all().filter(|row| inner(row) && !tyres.contains(row)).collect(),
        all().filter(inner).collect(),
        all().collect(),
    ]
}

/// Sets of neighbours from left to right; what is over is left out at both ends alike.
fn sets_of(rows: &[u16], many: usize) -> Vec<Vec<u16>> {
    let over = rows.len().checked_rem(many).unwrap_or(0);
    let kept = rows.get(over / 2..rows.len() - (over - over / 2)).unwrap_or_default();
    kept.chunks_exact(many.max(1)).map(<[u16]>::to_vec).collect()
}

/// Takes sets and gives each treatment one row of each.
fn assign(
    sets: &[Vec<u16>],
    (many, each, mirrored): (usize, u16, bool),
    mut draws: Option<&mut Draws>,
    round: u32,
) -> Choice {
    let mut choice = vec![Vec::new(); many];
    let mut order: Vec<usize> = (0..many).collect();
    for pair in pairs(sets, each, draws.as_deref_mut()) {
        match draws.as_deref_mut() {
            Some(draws) => draws.shuffle(&mut order),
            None => order.rotate_right(usize::try_from(round).unwrap_or(0) % many.max(1)),
        }
        for (side, set) in pair.iter().enumerate() {
            if side == 1 && mirrored {
                order.reverse();
            } else if side == 1 {
                match draws.as_deref_mut() {
                    Some(draws) => draws.shuffle(&mut order),
                    None => order.rotate_right(1),
                }
            }
            for (treatment, row) in order.iter().zip(set.iter()) {
                if let Some(rows) = choice.get_mut(*treatment) {
                    rows.push(*row);
                }
            }
        }
    }
    choice.into_iter().map(sorted).collect()
}

/// So many sets: pairs of mirror images, and one alone where the number is odd, the middle one first.
fn pairs<'a>(sets: &'a [Vec<u16>], each: u16, draws: Option<&mut Draws>) -> Vec<Vec<&'a Vec<u16>>> {
    let half = sets.len() / 2;
    let left = sets.iter().take(half);
    let mut mirrored: Vec<Vec<&Vec<u16>>> =
        left.zip(sets.iter().rev()).map(|(left, right)| vec![left, right]).collect();
    let middle = (sets.len() % 2 == 1).then(|| sets.get(half)).flatten();
    let mut side = false;
    // Without draws, the pairs nearest the middle come first.
    mirrored.reverse();
    if let Some(draws) = draws {
        draws.shuffle(&mut mirrored);
        side = draws.coin();
    }
    let wanted = usize::from(each);
    let mut taken: Vec<Vec<&Vec<u16>>> = mirrored.iter().take(wanted / 2).cloned().collect();
    if wanted % 2 == 1 {
        let spare = mirrored.get(wanted / 2).and_then(|pair| pair.get(usize::from(side)).copied());
        taken.extend(middle.or(spare).map(|set| vec![set]));
    }
    // More than the pairs hold: the middle one besides.
    let have: usize = taken.iter().map(Vec::len).sum();
    if have < wanted {
        taken.extend(middle.map(|set| vec![set]));
    }
    taken
}

fn sorted(mut rows: Vec<u16>) -> Vec<u16> {
    rows.sort_unstable();
    rows
}
