//! Field by field.

use domain::season::report::{FieldLine, SeasonReport};
use maud::{Markup, html};

use crate::reports::words::In;

pub(super) fn fields(report: &SeasonReport, system: In) -> Markup {
    let several = report.about.planters > 1;
    html! {
        @if !report.fields.is_empty() {
            section {
                h2 { "Field by field" }
                div.wide { table {
                    thead { tr {
                        th scope="col" { "Field" }
                        @if several { th scope="col" { "Planter" } }
                        th scope="col" { "Soil, cover" }
                        th.number scope="col" { "Sheets" }
                        th scope="col" { "Seen" }
                        th.number scope="col" { "Digs" }
                        th scope="col" { "First dig" }
                        th scope="col" { "Last dig" }
                        th.number scope="col" { "Depth at the last" }
                    } }
                    tbody { @for field in report.fields.iter().take(super::MOST_ROWS) {
                        tr {
                            th scope="row" { (field.field.name) }
                            @if several { td { (field.planter.name) } }
                            td { (super::class(field.class)) }
                            td.number { (field.issued) }
                            td { (if field.seen { "yes" } else { "no" }) }
                            td.number { (field.digs) }
                            td { (inside(field.digs, field.first_inside)) }
                            td { (inside(field.digs, field.last_inside)) }
                            td.number { (off(field, system)) }
                        }
                    } }
                } }
                (super::and_more(report.fields.len()))
            }
        }
    }
}

fn inside(digs: u32, it: Option<bool>) -> &'static str {
    match it {
        _ if digs == 0 => "not dug",
        None => "can't tell",
        Some(true) => "in the window",
        Some(false) => "OUT",
    }
}

/// `0.08 in shallow`.
fn off(field: &FieldLine, system: In) -> String {
    let Some(off) = field.last_off else { return "–".to_owned() };
    let shown = system.depth(off);
    match shown.strip_prefix('−') {
        Some(shallow) => format!("{shallow} shallow"),
        None if shown.starts_with("0 ") => "as wanted".to_owned(),
        None => format!("{shown} deep"),
    }
}
