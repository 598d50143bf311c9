//! How treatments are told apart without colours: a tone or a hatch, and a letter.

use maud::{Markup, html};

/// The patterns that tones refer to; once on a page.
pub(super) fn patterns() -> Markup {
    html! {
        defs {
            pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse"
                patternTransform="rotate(45)" {
                rect width="6" height="6" fill="#fff" {}
                line x1="0" y1="0" x2="0" y2="6" stroke="#000" stroke-width="2" {}
            }
            pattern id="dots" width="6" height="6" patternUnits="userSpaceOnUse" {
                rect width="6" height="6" fill="#fff" {}
                circle cx="3" cy="3" r="1.4" fill="#000" {}
            }
        }
    }
}

/// The tone of a treatment.
pub(super) fn tone(treatment: u16) -> &'static str {
    match treatment {
        0 => "#fff",
        1 => "#333",
        2 => "#bbb",
        3 => "url(#hatch)",
        4 => "url(#dots)",
        _ => "#777",
    }
}

/// A letter on a white disc, which can be read on every tone.
pub(super) fn letter(x: f64, y: f64, letter: char) -> Markup {
    html! {
        circle cx=(x) cy=(y) r="8" fill="#fff" stroke="#000" stroke-width="0.8" {}
        text x=(x) y=(y + 4.2) text-anchor="middle" font-size="12" font-weight="bold" { (letter) }
    }
}
