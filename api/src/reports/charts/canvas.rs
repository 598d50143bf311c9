//! What charts are drawn with: straight lines, bars, dots and words, in few colours.
//!
//! Colours differ in lightness too, and no figure rests on colour alone: what is in the window is
//! filled, what is not is hollow. Only attributes, no styles: the policy of the page lets none pass.

use maud::{Markup, html};

/// Text and axes.
pub(super) const INK: &str = "#1c2420";
/// Words of less weight.
pub(super) const QUIET: &str = "#56605a";
/// Lines that help the eye.
pub(super) const RULE: &str = "#d3d8d3";
/// The window.
pub(super) const WINDOW: &str = "#dfe9d8";
/// Its edges.
pub(super) const EDGE: &str = "#7d9472";
/// The first pass: clay.
pub(super) const FIRST: &str = "#c2661b";
/// After adjustment: deep blue.
pub(super) const LAST: &str = "#17506b";
/// An interval round it.
pub(super) const BAND: &str = "#cfdfe8";
/// Too few to compare.
pub(super) const FEW: &str = "#9aa39d";
/// Paper.
pub(super) const PAPER: &str = "#ffffff";

/// Width of a chart. It fills the page.
pub(super) const WIDTH: f64 = 680.0;

/// Size of words.
pub(super) const WORDS: f64 = 12.0;

/// Where words stand about their place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

impl Anchor {
    fn name(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::Middle => "middle",
            Self::End => "end",
        }
    }
}

/// How words look.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hand {
    pub(super) anchor: Anchor,
    pub(super) ink: &'static str,
    pub(super) bold: bool,
}

/// Words from their place on.
pub(super) const PLAIN: Hand = Hand { anchor: Anchor::Start, ink: INK, bold: false };
/// The same, in less weight.
pub(super) const SOFT: Hand = Hand { ink: QUIET, ..PLAIN };
/// The same, bold.
pub(super) const STRONG: Hand = Hand { bold: true, ..PLAIN };

impl Hand {
    pub(super) fn at(self, anchor: Anchor) -> Self {
        Self { anchor, ..self }
    }

    pub(super) fn ink(self, ink: &'static str) -> Self {
        Self { ink, ..self }
    }
}

/// A chart while it is drawn.
pub(super) struct Canvas {
    height: f64,
    drawn: Vec<Markup>,
}

/// To a tenth: finer than any printer.
fn n(value: f64) -> String {
    let text = format!("{value:.1}");
    text.strip_suffix(".0").map(ToOwned::to_owned).unwrap_or(text)
}

impl Canvas {
    pub(super) fn new(height: f64) -> Self {
        Self { height, drawn: Vec::new() }
    }

    pub(super) fn bar(&mut self, from: (f64, f64), to: (f64, f64), fill: &str) {
        let (x, y) = (from.0.min(to.0), from.1.min(to.1));
        let (width, height) = ((to.0 - from.0).abs(), (to.1 - from.1).abs());
        self.drawn.push(html! {
            rect x=(n(x)) y=(n(y)) width=(n(width)) height=(n(height)) fill=(fill) {}
        });
    }

    /// A bar with only an outline.
    pub(super) fn hollow_bar(&mut self, from: (f64, f64), to: (f64, f64), ink: &str) {
        let (x, y) = (from.0.min(to.0), from.1.min(to.1));
        let (width, height) = ((to.0 - from.0).abs(), (to.1 - from.1).abs());
        self.drawn.push(html! {
            rect x=(n(x)) y=(n(y)) width=(n(width)) height=(n(height)) fill=(PAPER)
                stroke=(ink) stroke-width="1" {}
        });
    }

    pub(super) fn line(&mut self, from: (f64, f64), to: (f64, f64), ink: &str, width: f64) {
        self.drawn.push(html! {
            line x1=(n(from.0)) y1=(n(from.1)) x2=(n(to.0)) y2=(n(to.1)) stroke=(ink)
                stroke-width=(n(width)) {}
        });
    }

    pub(super) fn dot(&mut self, at: (f64, f64), radius: f64, ink: &str) {
        self.drawn.push(html! {
            circle cx=(n(at.0)) cy=(n(at.1)) r=(n(radius)) fill=(ink) {}
        });
    }

    pub(super) fn ring(&mut self, at: (f64, f64), radius: f64, ink: &str) {
        self.drawn.push(html! {
            circle cx=(n(at.0)) cy=(n(at.1)) r=(n(radius)) fill=(PAPER) stroke=(ink)
                stroke-width="1.6" {}
        });
    }

    pub(super) fn path(&mut self, points: &[(f64, f64)], ink: &str, width: f64) {
        self.drawn.push(html! {
            polyline points=(corners(points)) fill="none" stroke=(ink) stroke-width=(n(width)) {}
        });
    }

    pub(super) fn area(&mut self, points: &[(f64, f64)], fill: &str) {
        self.drawn.push(html! { polygon points=(corners(points)) fill=(fill) {} });
    }

    pub(super) fn words(&mut self, at: (f64, f64), hand: Hand, words: &str) {
        self.drawn.push(html! {
            text x=(n(at.0)) y=(n(at.1)) text-anchor=(hand.anchor.name()) font-size=(n(WORDS))
                font-weight=[hand.bold.then_some("bold")] fill=(hand.ink) { (words) }
        });
    }

    /// The chart: what it is called and what it shows, for whom does not see it.
    pub(super) fn chart(self, title: &str, shows: &str) -> Markup {
        let view = format!("0 0 {} {}", n(WIDTH), n(self.height));
        html! {
            svg xmlns="http://www.w3.org/2000/svg" viewBox=(view) role="img"
                font-family="Liberation Sans, Arial, Helvetica, sans-serif" {
                title { (title) }
                desc { (shows) }
                @for it in &self.drawn { (it) }
            }
        }
    }
}

fn corners(points: &[(f64, f64)]) -> String {
    let points: Vec<String> = points.iter().map(|(x, y)| format!("{},{}", n(*x), n(*y))).collect();
    points.join(" ")
}
