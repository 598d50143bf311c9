//! `GET /v1/trials/{id}/analysis/page`: the verdict to print.

use actix_web::web::Data;
use actix_web::{HttpResponse, get};
use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::dto::{AnalysisQuery, ResponseAnalysis, TrialAnalysis};
use super::figures::{TrialEffect, TrialFigures, TrialMean};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{ApiError, Id, Query};
use crate::v1::trials::map::{Facts, STYLE, head, printed};
use crate::v1::trials::measured::label;
use crate::v1::trials::plots::state::Found;
use crate::v1::trials::store;

/// Get the page of what a trial says.
///
/// The verdict, the means and the effects with their intervals as one HTML page to print.
#[utoipa::path(
    tag = "trials", operation_id = "get_trial_analysis_page", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the trial."), AnalysisQuery),
    responses(
        (status = 200, description = "The page.", content_type = "text/html", body = String,
            example = "<!DOCTYPE html><html lang=\"en\"><head><title>Trial</title></head></html>"),
        GetErrors,
    ),
)]
#[get("/trials/{id}/analysis/page")]
pub(super) async fn page(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<AnalysisQuery>,
) -> Result<HttpResponse, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let found = Found::read(&app.db, row.clone()).await?;
    let told = TrialAnalysis::of(&found, &query.0)?;
    let facts = Facts::of(&app.db, row).await?;
    Ok(printed(|nonce| whole(&facts, &told, nonce)))
}

fn whole(facts: &Facts, told: &TrialAnalysis, nonce: &str) -> Markup {
    let title = format!("{}: what it says", facts.row.name);
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style nonce=(nonce) { (PreEscaped(STYLE)) }
            }
            body {
                (head(facts, "What the trial says"))
                main { @for it in &told.responses { (response(it)) } }
                footer { p { "Trial " (facts.row.id) ". Plots are the replications; digs and counts in a plot are averaged." } }
            }
        }
    }
}

fn response(it: &ResponseAnalysis) -> Markup {
    let unit = label(&it.unit);
    html! {
        section {
            h2 { (it.name) @if !unit.is_empty() { ", " (unit) } }
            div.verdict {
                p.word { (it.verdict.headline) }
                ul { @for text in &it.verdict.findings { li { (text) } } }
            }
            @if let Some(figures) = &it.figures {
                (means(&figures.means, unit))
                (effects(figures, it.matters))
            }
            @for text in &it.notices { p { (text) } }
            div.pair {
                div {
                    h2 { "What can't be concluded" }
                    ul { @for text in &it.verdict.cannot_conclude { li { (text) } } }
                }
                div {
                    h2 { "Next" }
                    ul { @for text in &it.verdict.next { li { (text) } } }
                }
            }
        }
    }
}

fn means(means: &[TrialMean], unit: &str) -> Markup {
    html! {
        table {
            thead { tr { th { "Treatment" } th.number { "Plots" } th.number { "Mean " (unit) } th.number { "From" } th.number { "To" } } }
            tbody {
                @for it in means {
                    tr {
                        td { (it.treatment) } td.number { (it.plots) }
                        td.number { (number(it.adjusted.or(it.plain))) }
                        td.number { (number(it.low)) } td.number { (number(it.high)) }
                    }
                }
            }
        }
    }
}

/// The effects with their intervals, beside a line at nothing.
fn effects(figures: &TrialFigures, matters: Option<f64>) -> Markup {
    let ends = figures.effects.iter().flat_map(|it| [Some(it.difference), it.low, it.high]);
    let reach = ends.flatten().chain(matters).map(f64::abs).fold(0.0_f64, f64::max);
    if reach <= 0.0 {
        return html! {};
    }
    let x = |value: f64| 480.0 + value / (reach * 1.1) * 220.0;
    let height = 34 + 26 * figures.effects.len();
    html! {
        svg viewBox=(format!("0 0 720 {height}")) role="img" aria-label="Effects with their intervals" {
            @if let Some(matters) = matters {
                rect x=(x(-matters)) y="4" width=(x(matters) - x(-matters)) height=(height - 22) fill="#ddd" {}
            }
            line x1=(x(0.0)) y1="4" x2=(x(0.0)) y2=(height - 18) stroke="#000" stroke-width="1" stroke-dasharray="3 2" {}
            @for (place, it) in (0_u16..).zip(&figures.effects) { (effect(it, 18.0 + 26.0 * f64::from(place), &x)) }
            text x=(x(0.0)) y=(height - 5) text-anchor="middle" font-size="11" { "no difference" }
            @if matters.is_some() {
                text x="0" y=(height - 5) font-size="11" { "grey: too small to matter" }
            }
        }
    }
}

fn effect(it: &TrialEffect, y: f64, x: &impl Fn(f64) -> f64) -> Markup {
    html! {
        text x="0" y=(y + 4.0) font-size="12" {
            (it.treatment) " less " (it.against) ": " (number(Some(it.difference)))
        }
        @if let (Some(low), Some(high)) = (it.low, it.high) {
            line x1=(x(low)) y1=(y) x2=(x(high)) y2=(y) stroke="#000" stroke-width="2" {}
            @for end in [low, high] {
                line x1=(x(end)) y1=(y - 5.0) x2=(x(end)) y2=(y + 5.0) stroke="#000" stroke-width="2" {}
            }
        }
        circle cx=(x(it.difference)) cy=(y) r="4.5" fill="#000" {}
    }
}

/// Three significant digits or one place, as people write it.
fn number(value: Option<f64>) -> String {
    match value {
        None => "–".to_owned(),
        Some(value) if value.abs() >= 10.0 => format!("{value:.1}"),
        Some(value) => format!("{value:.2}"),
    }
}
