//! The one table of routes: what the server answers and what the API document says.

use actix_web::http::header::{CACHE_CONTROL, CONTENT_SECURITY_POLICY, LOCATION};
use actix_web::middleware::DefaultHeaders;
use actix_web::web;
use actix_web::{HttpResponse, Responder};
use utoipa::openapi::path::HttpMethod;
use utoipa::openapi::security::{HttpAuthScheme, HttpBuilder, SecurityScheme};
use utoipa::{Modify, OpenApi};
use utoipa_swagger_ui::SwaggerUi;

use crate::document::{access, link, open_to_all};
use crate::http::deprecation::{self, GOING};
use crate::http::limits;
use crate::http::member::BadMember;
use crate::http::problem::Problem;
use crate::http::union_tags;
use crate::mail::stop;
use crate::operations::{Described, Operations, Served};
use crate::v1::oauth::dto::OauthError;
use crate::{calendar, health, pages, sheet_links, v1, well_known, writes};

/// Paths that are answered but not part of the API.
pub const UNDOCUMENTED_PATHS: &[&str] = &[
    "/openapi.json",
    "/docs",
    "/calendar/{file}",
    "/sheets/{secret}",
    "/mail/stop/{key}",
    "/go",
    "/go/style.css",
    "/go/script.js",
];

/// Paths in which what follows is a secret: no log tells it.
pub const SECRET_PATHS: &[&str] = &["/calendar/", "/sheets/", "/mail/stop/"];

/// Where the operations of this version are.
const VERSION: &str = "/v1";

/// Every operation whose path is the same in all versions.
fn unversioned(operations: &mut Operations<'_>) {
    health::routes(operations);
    well_known::routes(operations);
    v1::oauth::routes(operations);
}

/// Every operation under `/v1`.
fn versioned(operations: &mut Operations<'_>) {
    v1::sessions::routes(operations);
    v1::accounts::routes(operations);
    // `/accounts/me/mail` and `/access-links/mail` come before what takes any id there.
    v1::mail_wishes::routes(operations);
    v1::access_links::routes(operations);
    v1::machine_clients::routes(operations);
    v1::practice::routes(operations);
    v1::audit_events::routes(operations);
    v1::changes::routes(operations);
    v1::imports::routes(operations);
    v1::growers::routes(operations);
    v1::farms::routes(operations);
    v1::fields::routes(operations);
    v1::planters::routes(operations);
    v1::calibrations::routes(operations);
    v1::inspection_items::routes(operations);
    v1::inspections::routes(operations);
    v1::wear_limits::routes(operations);
    v1::repairs::routes(operations);
    v1::wear::routes(operations);
    v1::parts_list::routes(operations);
    v1::conditions::routes(operations);
    v1::recommendations::routes(operations);
    v1::dig_checks::routes(operations);
    v1::seasons::routes(operations);
    v1::dig_rules::routes(operations);
    v1::adjustments::routes(operations);
    v1::plantings::routes(operations);
    v1::temperatures::routes(operations);
    v1::emergence::routes(operations);
    v1::stand_counts::routes(operations);
    v1::yields::routes(operations);
    v1::timeline::routes(operations);
    v1::trials::routes(operations);
    v1::what_if::routes(operations);
    v1::coefficients::routes(operations);
    v1::coefficient_sets::routes(operations);
    v1::attention::routes(operations);
    v1::calendar_feeds::routes(operations);
    v1::jobs::routes(operations);
    v1::external::routes(operations);
    v1::record_matches::routes(operations);
    v1::record_conflicts::routes(operations);
    v1::records_links::routes(operations);
    v1::webhooks::routes(operations);
}

/// Registers every operation of the API in a server.
pub fn operations(config: &mut web::ServiceConfig) {
    unversioned(&mut Operations::in_server(config));
    config.service(
        web::scope(VERSION).configure(|config| versioned(&mut Operations::in_server(config))),
    );
}

/// Every path that is answered, and the methods it takes.
pub fn served() -> Vec<Served> {
    let mut paths = Vec::new();
    unversioned(&mut Operations::in_paths(&mut paths));
    let mut under_version = Vec::new();
    versioned(&mut Operations::in_paths(&mut under_version));
    paths.extend(
        under_version.into_iter().map(|it| Served { path: format!("{VERSION}{}", it.path), ..it }),
    );
    let page = |path: &&str| Served {
        path: (*path).to_owned(),
        methods: match *path {
            "/mail/stop/{key}" => vec![HttpMethod::Get, HttpMethod::Post],
            _ => vec![HttpMethod::Get],
        },
        operation_id: String::new(),
    };
    paths.extend(UNDOCUMENTED_PATHS.iter().map(page));
    paths
}

/// The API document, written from the code.
pub fn document() -> utoipa::openapi::OpenApi {
    let mut document = Document::openapi();
    let mut described = Described::default();
    unversioned(&mut Operations::in_document(&mut described));
    described.put_into(&mut document, "");
    let mut described = Described::default();
    versioned(&mut Operations::in_document(&mut described));
    described.put_into(&mut document, VERSION);
    union_tags::describe(&mut document);
    writes::describe(&mut document);
    limits::describe(&mut document);
    open_to_all(&mut document);
    link(&mut document);
    deprecation::mark(&mut document, GOING);
    document
}

/// The API document as it is committed: indented, with a line end.
pub fn committed_form() -> serde_json::Result<String> {
    Ok(document().to_pretty_json()? + "\n")
}

/// Who may do what, as a page.
///
/// # Errors
/// When the document is not as the page needs it.
pub fn access_page() -> Result<String, String> {
    let document = serde_json::to_value(document()).map_err(|error| error.to_string())?;
    access::page(&document)
}

/// The API document itself, and pages to try it out; they are not part of the API.
pub fn undocumented(config: &mut web::ServiceConfig) {
    let from_ourselves = "default-src 'self'; script-src 'self' 'unsafe-inline'; \
         style-src 'self' 'unsafe-inline'; img-src 'self' data:; frame-ancestors 'none'";
    config
        .route("/openapi.json", web::get().to(openapi_json))
        .route("/docs", web::get().to(docs))
        .service(calendar::show)
        .service(sheet_links::show)
        .service(stop::ask)
        .service(stop::stop)
        .configure(pages::go::routes)
        .service(
            web::scope("/docs")
                .wrap(DefaultHeaders::new().add((CONTENT_SECURITY_POLICY, from_ourselves)))
                .service(
                    SwaggerUi::new("/{_:.*}")
                        .config(utoipa_swagger_ui::Config::from("/openapi.json")),
                ),
        );
}

/// The committed document: a test holds it against the code.
async fn openapi_json() -> impl Responder {
    let document = std::future::ready(openapi::COMMITTED).await;
    HttpResponse::Ok()
        .insert_header((CACHE_CONTROL, "public, max-age=300"))
        .content_type("application/json")
        .body(document)
}

async fn docs() -> impl Responder {
    let page = std::future::ready("/docs/").await;
    HttpResponse::PermanentRedirect().insert_header((LOCATION, page)).finish()
}

/// What the document says beside the operations.
#[derive(Debug, OpenApi)]
#[openapi(
    info(
        title = "Dibble",
        description = "Settings for every row of every client's planter, the digs that check them, \
            and the adjustments that follow.\n\n\
            Every measured number carries its unit, `{\"value\": 1.75, \"unit\": \"[in_i]\"}`, as a \
            UCUM code; any listed unit of the right dimension is taken, and what was entered is \
            answered as it was entered. Errors are problem details (RFC 9457). Lists come in pages; \
            `next_cursor` is absent on the last one. What can change carries an `ETag`; send it as \
            `If-Match` with a change. Unknown members and parameters are refused. Times are UTC.\n\n\
            Requests are counted: the headers `RateLimit-Policy` and `RateLimit` say how many a minute \
            are allowed and left (`q`, `r`), and in how many seconds all are back (`t`). A cursor is \
            good for its own list with the same filters; a page has a weak `ETag`, and one that is known \
            by `If-None-Match` is 304. `traceparent` (W3C trace context) is gone on \
            with; `traceresponse` names the trace.",
        license(name = "Apache-2.0", identifier = "Apache-2.0"),
    ),
    servers((url = "/", description = "This service")),
    components(schemas(Problem, BadMember, OauthError)),
    tags(
        (name = "sessions", description = "Signing in, staying signed in, signing out."),
        (name = "accounts", description = "The accounts of the practice, and one's own."),
        (name = "practice", description = "The practice and its settings."),
        (name = "audit", description = "Who did what and when."),
        (name = "access-links", description = "Links that let a grower in without a password."),
        (name = "machine-clients", description = "Programs that sign in, and their tokens."),
        (name = "growers", description = "The clients of the practice."),
        (name = "farms", description = "The farms of a grower."),
        (name = "fields", description = "The fields of a farm, with boundary or entered area."),
        (name = "planters", description = "The planters of a grower, row by row."),
        (name = "calibrations", description = "Down force against pressure, measured on a planter."),
        (name = "inspections", description = "Planters in the shed: the checklist, wear, limits, parts."),
        (name = "conditions", description = "What was seen and felt in a field before planting."),
        (name = "recommendations", description = "Settings for a planter in a field, and the page for the cab."),
        (name = "dig-checks", description = "What was found behind the planter, and what it says."),
        (name = "seasons", description = "The seasons of the practice, and what came of each."),
        (name = "adjustments", description = "The change that a dig proposes, and the decision."),
        (name = "plantings", description = "What was planted, when, and with which planter."),
        (name = "temperatures", description = "Highest and lowest air temperature of each day at a farm."),
        (name = "trials", description = "What is tried, laid out so that it means something, and what it says."),
        (name = "stand-counts", description = "What was counted after emergence, and what it says."),
        (name = "yields", description = "What was harvested from the fields."),
        (name = "what-if", description = "Each calculation alone; nothing is stored."),
        (name = "coefficients", description = "The numbers in force: coefficients, units, bounds."),
        (name = "attention", description = "What needs somebody, worked out from what is there; calendars of it."),
        (name = "webhooks", description = "Notices of changes, sent to an address."),
        (name = "changes", description = "What changed, in order, for whoever follows the practice."),
        (name = "imports", description = "Records from files, with a dry run."),
        (name = "records-links", description = "Links to records systems whose records are fetched."),
        (name = "jobs", description = "Work of the service that follows a change, such as mail."),
        (name = "external-ids", description = "What records systems say, by their own ids; what waits for a person."),
        (name = "service", description = "Whether the service is well, and what its problems mean."),
    ),
    modifiers(&Bearer),
)]
struct Document;

struct Bearer;

impl Modify for Bearer {
    fn modify(&self, document: &mut utoipa::openapi::OpenApi) {
        let scheme = HttpBuilder::new()
            .scheme(HttpAuthScheme::Bearer)
            .bearer_format("JWT")
            .description(Some(
                "The access token of `POST /v1/sessions`. What the role of the account may do is \
                 named with each operation: `read`, `keep`, `advise`, `dig`, `report`, `connect`, \
                 `acknowledge`, `manage`, `audit`. A token may carry fewer of them as its `scope`. Tokens are made and checked as \
                 the best current practice asks (RFC8725).",
            ))
            .build();
        if let Some(components) = &mut document.components {
            components.add_security_scheme("bearer", SecurityScheme::Http(scheme));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Described, Operations, unversioned, versioned};

    #[test]
    fn no_two_schemas_share_a_name() {
        let mut described = Described::default();
        unversioned(&mut Operations::in_document(&mut described));
        versioned(&mut Operations::in_document(&mut described));
        let clashes = described.clashes();
        assert!(clashes.is_empty(), "{clashes:?}");
    }
}
