//! `POST /v1/imports/csv`

use actix_web::web::Data;
use actix_web::{HttpRequest, post};

use super::dto::{CsvImport, DecimalMark, ImportReport};
use super::take::{Asked, FileRead, MOST_RECORDS, take};
use super::upload::CsvFile;
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::exchange::files::{of_table, table};
use crate::exchange::intake::System;
use crate::http::responses::ImportErrors;
use crate::http::{ApiError, BadMember, Query, Refused};
use crate::writes::{IdempotencyKey, Write, Written};

/// Import records from a CSV file.
///
/// Growers, farms, fields, planters or yields, one on a line, with a header that names the columns:
///
/// - all: `id` (your id; needed), `version`, `updated_at`; all but yields: `name`
/// - growers: `phone`, `email`
/// - farms, planters: one of `grower_id` (your id), `grower` (name), `our_grower_id`
/// - fields: one of `farm_id`, `farm`, `our_farm_id`; one of `area_ac`, `area_ha`, `area_m2`;
///   `boundary_geojson`
/// - planters: `rows`; `row_spacing_in` or `row_spacing_cm`
/// - yields: one of `field_id`, `field`, `our_field_id`; `harvested_on`, `crop` (corn or soybean,
///   which Dibble works with, by name or by the code of ICASA or EPPO); grain with its water as one of
///   `wet_yield_lb_ac`, `wet_yield_kg_ha`, `wet_yield_t_ha`, `wet_yield_bu_ac` (56 lb of corn, 60 lb of
///   soybean) with `moisture_pct`, or without water as `dry_yield_lb_ac`, `dry_yield_kg_ha`,
///   `dry_yield_t_ha`; `harvested_area_ac` or `harvested_area_ha`; `note`
///
/// Cells are divided by commas, semicolons or tabs. An empty cell says nothing: what is there stays.
/// Decimals have a point, or with `decimal=comma` a comma; thousands have no mark. Text is kept as it is,
/// also where it begins like a formula. The file is UTF-8, or UTF-16 with its byte order mark, or in the
/// `charset` that `Content-Type` names, as `text/csv; charset=windows-1252`; none is guessed. At most
/// 16777216 bytes and 10000 lines. Other columns are left aside and named.
///
/// Send it with `dry_run=true` first: the answer says what would become of each line. Without it the
/// file is taken as a whole, or not at all when a line is refused (422, with every place and reason).
/// What is not in the file stays as it is; nothing is deleted. What looks like an object that is there
/// already waits for a person to say so. So does what was erased here, and nothing that the file says
/// of it is kept.
#[utoipa::path(
    tag = "imports", operation_id = "import_csv", security(("bearer" = ["connect"])),
    params(CsvImport, IdempotencyKey),
    request_body(content = String, content_type = "text/csv", description = "The file.",
        example = "id,name,farm_id,area_ac\nF-12,North forty,FARM-1,38.5\n"),
    responses(
        (status = 200, description = "What became, or would become, of the file.", body = ImportReport),
        ImportErrors,
    ),
)]
#[post("/imports/csv")]
pub(super) async fn import(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    query: Query<CsvImport>,
    request: HttpRequest,
    file: CsvFile,
) -> Result<Written<ImportReport>, ApiError> {
    let CsvImport { system, kind, decimal, dry_run } = query.0;
    let mut refused = Refused::default();
    let system = refused.take(System::parse("?system", &system));
    let kind = refused.take(kind.ok_or_else(|| {
        BadMember::new("?kind", "This parameter is needed.")
            .allowed("growers, farms, fields, planters or yields")
    }));
    let (Some(system), Some(kind)) = (system, kind) else { return Err(refused.into()) };
    let asked = Asked { system, dry_run: dry_run.unwrap_or(false), operation: "import_csv" };
    let decimal = decimal.unwrap_or(DecimalMark::Point).into();
    let read = || {
        let lines = table::read(&file.0.text, MOST_RECORDS)?;
        let records = of_table(kind.into(), &lines, decimal)?;
        Ok(FileRead { records, encoding: file.0.encoding, separator: Some(lines.separator) })
    };
    take(&app, &caller, (write, &request), asked, read).await
}

#[cfg(test)]
mod tests {
    use utoipa::Path;

    use crate::exchange::files::column_names;
    use crate::exchange::intake::Kind;

    #[test]
    fn every_column_is_described() {
        let said = super::import::operation().description.expect("a description");
        for kind in Kind::ALL {
            for name in column_names(*kind).split(", ") {
                assert!(said.contains(&format!("`{name}`")), "{name}");
            }
        }
    }
}
