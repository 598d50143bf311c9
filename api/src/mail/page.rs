//! The look of mail and of the few pages that mail leads to: plain, one style, nothing fetched.

use maud::{DOCTYPE, Markup, PreEscaped, html};

const STYLE: &str = "body{font-family:Georgia,serif;color:#1d1b16;max-width:38em;margin:1.5em auto;\
     padding:0 1em;line-height:1.45}h1{font-size:1.25em}h2{font-size:1em;margin:1.4em 0 .3em;\
     border-bottom:1px solid #b8ad97}li{margin:.5em 0}.next{color:#4d4a3f}.foot{margin-top:2em;\
     font-size:.85em;color:#6b6658}";

/// A page with this title.
pub(super) fn page(title: &str, body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="referrer" content="no-referrer";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body { h1 { (title) } (body) }
        }
    }
}
