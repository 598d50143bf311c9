//! The whole page, part by part.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::facts::Facts;
use super::{cover, dig, foot, force, head, table};

/// The look: ink on paper, no colours, the system's own letters.
const STYLE: &str = include_str!("style.css");

/// The page. `nonce` is what the policy of the answer lets pass.
pub(super) fn page(facts: &Facts, nonce: &str) -> Markup {
    let title = format!("{}: settings sheet, revision {}", facts.field, facts.told.revision);
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style nonce=(nonce) { (PreEscaped(STYLE)) }
            }
            body class=(density(facts)) {
                (head::head(facts))
                (head::verdict(facts))
                main {
                    (table::settings(facts))
                    (force::hopper(facts))
                    (force::remedies(facts))
                    (cover::cover(facts))
                    (dig::first_dig(facts))
                    (foot::assumed(facts))
                    (foot::cautions(facts))
                }
                (foot::foot(facts))
            }
        }
    }
}

/// Whether the page is so full that what can be left out is left out.
pub(super) fn is_full(facts: &Facts) -> bool {
    density(facts) == FULLEST
}

const FULLEST: &str = "tight least";

/// How much the letters shrink so that it stays one page: by the lines beyond a plain sheet.
fn density(facts: &Facts) -> &'static str {
    let told = &facts.told;
    let wide = |text: &String| 1 + text.chars().count() / 110;
    let instructions: usize = told.instructions.iter().map(wide).sum();
    let remedies: usize = told.remedies.iter().map(|it| wide(&it.what.text)).sum();
    let long_name = usize::from(facts.field.chars().count() > 40);
    let cover = cover::lines(facts);
    let cover: usize = cover.iter().map(wide).sum::<usize>() + usize::from(!cover.is_empty());
    let contradictions = told.contradictions.iter().take(2).map(|it| wide(&it.what) + 1);
    // Its row takes two lines.
    let work = 2 * usize::from(told.work.is_some());
    let said: usize = cover + work + contradictions.sum::<usize>();
    match said + instructions + remedies + told.assumed.len() / 3 + long_name {
        0..=1 => "roomy",
        2..=3 => "close",
        4..=15 => "tight",
        _ => FULLEST,
    }
}
