//! How long the list takes for a large practice. Run it alone:
//!
//! `cargo test --release -p tests --test e2e a_large_practice -- --ignored --nocapture`
//!
//! And how little records systems add to it: `records_cost_the_list_little`.

use std::time::Instant;

use api::exchange::pull::runs::work_off;
use sea_orm::{ConnectionTrait, DbBackend, Statement};
use serde_json::json;
use tests::{Farmstead, TestApp};
use uuid::Uuid;

const GROWERS: u32 = 2000;
const FIELDS_EACH: u32 = 10;
/// Digs of each sheet.
const DIGS_EACH: u32 = 10;

/// A key that is not there yet: the kind in the first bytes, the number in the last.
fn id(kind: u8, number: u32) -> Uuid {
    Uuid::from_u128(
        (0x0196_0000_0000_7000_8000_0000_0000_0000 | u128::from(number)) + (u128::from(kind) << 40),
    )
}

fn sql_id(backend: DbBackend, id: Uuid) -> String {
    match backend {
        DbBackend::Sqlite => format!("X'{}'", id.simple()),
        _ => format!("'{id}'::uuid"),
    }
}

/// Copies a row with another key and other references.
struct Copier<'a> {
    app: &'a TestApp,
    backend: DbBackend,
}

impl Copier<'_> {
    async fn columns(&self, table: &str) -> Vec<String> {
        let sql = match self.backend {
            DbBackend::Sqlite => format!("SELECT name FROM pragma_table_info('{table}')"),
            _ => format!(
                "SELECT column_name AS name FROM information_schema.columns WHERE table_name = '{table}'"
            ),
        };
        let rows =
            self.app.state().db.query_all_raw(Statement::from_string(self.backend, sql)).await;
        rows.expect("columns").iter().map(|row| row.try_get("", "name").expect("a name")).collect()
    }

    /// Many copies of the one row of a table, each with some columns set.
    async fn many(&self, table: &str, of: Uuid, copies: Vec<Vec<(&str, String)>>) {
        let columns = self.columns(table).await;
        for some in copies.chunks(100) {
            let rows: Vec<String> = some
                .iter()
                .map(|set| {
                    let values: Vec<&str> = columns
                        .iter()
                        .map(|name| {
                            let given = set.iter().find(|(known, _)| known == name);
                            given.map_or(name.as_str(), |(_, value)| value.as_str())
                        })
                        .collect();
                    format!(
                        "SELECT {} FROM {table} WHERE practice_id = {} AND id = {}",
                        values.join(", "),
                        sql_id(self.backend, self.app.practice_id),
                        sql_id(self.backend, of)
                    )
                })
                .collect();
            let sql = format!(
                "INSERT INTO {table} ({}) {}",
                columns.join(", "),
                rows.join(" UNION ALL ")
            );
            self.app.state().db.execute_unprepared(&sql).await.expect("copied");
        }
    }
}

#[tokio::test]
#[ignore = "measures"]
async fn a_large_practice_has_its_list_in_well_under_a_second() {
    let app = TestApp::start().await;
    let stead = Farmstead::make(&app.lead, "The first").await;
    stead.issue(&app.lead).await;
    let stead = stead.with_dig(&app.lead).await;
    let backend = app.state().db.get_database_backend();
    let copier = Copier { app: &app, backend };
    let of = |text: &str| Uuid::parse_str(text).expect("an id");
    let key = |kind, number| sql_id(backend, id(kind, number));
    let text = |number: u32| format!("'copy {number}'");
    let growers = (1..=GROWERS).map(|n| vec![("id", key(1, n)), ("name", text(n))]).collect();
    copier.many("growers", of(&stead.grower), growers).await;
    let farms = (1..=GROWERS).map(|n| vec![("id", key(2, n)), ("grower_id", key(1, n))]).collect();
    copier.many("farms", of(&stead.farm), farms).await;
    let planters =
        (1..=GROWERS).map(|n| vec![("id", key(3, n)), ("grower_id", key(1, n))]).collect();
    copier.many("planters", of(&stead.planter), planters).await;
    let all = || (0..GROWERS * FIELDS_EACH).map(|n| (n + 1, n / FIELDS_EACH + 1));
    let fields =
        all().map(|(n, g)| vec![("id", key(4, n)), ("farm_id", key(2, g)), ("name", text(n))]);
    copier.many("fields", of(&stead.field), fields.collect()).await;
    let reports = all().map(|(n, _)| vec![("id", key(5, n)), ("field_id", key(4, n))]);
    copier.many("conditions_reports", of(&stead.conditions), reports.collect()).await;
    let sheets = all().map(|(n, g)| {
        vec![
            ("id", key(6, n)),
            ("series_id", key(6, n)),
            ("field_id", key(4, n)),
            ("planter_id", key(3, g)),
            ("conditions_id", key(5, n)),
        ]
    });
    copier.many("recommendations", of(&stead.recommendation), sheets.collect()).await;
    let digs = (0..GROWERS * FIELDS_EACH * DIGS_EACH).map(|n| {
        vec![
            ("id", key(7, n + 1)),
            ("recommendation_id", key(6, n / DIGS_EACH + 1)),
            ("fingerprint", format!("'copy {n}'")),
        ]
    });
    copier.many("dig_checks", of(&stead.dig_check), digs.collect()).await;
    app.state().db.execute_unprepared("ANALYZE").await.expect("analysed");

    app.clock.set("2027-04-26T12:00:00Z".parse().expect("a time"));
    let lead = super::lead(&app);
    for path in ["/v1/attention", "/v1/attention?kind=dig_failed", "/v1/attention?mine=true"] {
        lead.get(path).await.assert_status(200);
        let begun = Instant::now();
        let body = lead.get(path).await.assert_status(200).json();
        let took = begun.elapsed();
        println!("{path}: {took:?}, {}", body["counts"]);
        assert!(took.as_millis() < 1000, "{path}: {took:?}");
    }
}

/// Growers with records that wait and records that are gone, ten of each.
const WITH_RECORDS: u32 = 2000;
/// Links that have failed every hour for a month.
const LINKS: u32 = 50;
const RUNS_EACH: u32 = 720;

#[tokio::test]
#[ignore = "measures"]
async fn records_cost_the_list_little() {
    let app = TestApp::start().await;
    let (grower, farm) = crate::external::upstream(&app).await;
    crate::external::put(&app, "growers/G-2", &json!({"name": "miller brothers"})).await;
    let waiting = crate::external::only(&app, "/v1/record-matches").await;
    let link = json!({
        "name": "Gone", "system": "records", "base_url": "http://127.0.0.1:9/", "auth": {"kind": "none"},
        "resources": {"growers": {"path": "/g", "items": "$[*]", "id": "/id", "name": "/name"}}
    });
    let link = app.lead.create("/v1/records-links", &link).await;
    let run =
        app.lead.post(&format!("/v1/records-links/{link}/runs"), &json!({"mode": "apply"})).await;
    let run = run.assert_status(202).id();
    work_off(app.state()).await.expect("worked off");
    let backend = app.state().db.get_database_backend();
    let copier = Copier { app: &app, backend };
    let of = |text: &str| Uuid::parse_str(text).expect("an id");
    let key = |kind, number| sql_id(backend, id(kind, number));
    let text = |number: u32| format!("'copy {number}'");
    let rows = || (0..WITH_RECORDS * 10).map(|n| (n + 1, n / 10 + 1));

    let growers = (1..=WITH_RECORDS).map(|n| vec![("id", key(1, n)), ("name", text(n))]).collect();
    copier.many("growers", of(&grower), growers).await;
    let farms =
        rows().map(|(n, g)| vec![("id", key(2, n)), ("grower_id", key(1, g)), ("name", text(n))]);
    copier.many("farms", of(&farm), farms.collect()).await;
    let tie = "SELECT id FROM external_ids WHERE kind = 'farm'";
    let tie =
        app.state().db.query_one_raw(Statement::from_string(backend, tie)).await.expect("a row");
    let tie: Uuid = tie.expect("a tie").try_get("", "id").expect("an id");
    let ties = rows().map(|(n, g)| {
        vec![
            ("id", key(3, n)),
            ("their_id", text(n)),
            ("object_id", key(2, n)),
            ("grower_id", key(1, g)),
            ("gone_since", "first_seen_at".to_owned()),
        ]
    });
    copier.many("external_ids", tie, ties.collect()).await;
    let matches = rows()
        .map(|(n, g)| vec![("id", key(4, n)), ("their_id", text(n)), ("grower_id", key(1, g))]);
    copier
        .many("record_matches", of(waiting["id"].as_str().expect("an id")), matches.collect())
        .await;
    let links = (1..=LINKS).map(|n| vec![("id", key(5, n)), ("name", text(n))]).collect();
    copier.many("records_links", of(&link), links).await;
    let runs = (0..LINKS * RUNS_EACH)
        .map(|n| vec![("id", key(6, n + 1)), ("link_id", key(5, n / RUNS_EACH + 1))]);
    copier.many("records_runs", of(&run), runs.collect()).await;
    app.state().db.execute_unprepared("ANALYZE").await.expect("analysed");

    for (kind, wanted) in [
        ("records_wait", WITH_RECORDS + 1),
        ("records_gone", WITH_RECORDS),
        ("records_link_failed", LINKS + 1),
    ] {
        let path = format!("/v1/attention?kind={kind}");
        app.lead.get(&path).await.assert_status(200);
        let begun = Instant::now();
        let body = app.lead.get(&path).await.assert_status(200).json();
        let took = begun.elapsed();
        let counts = &body["counts"];
        println!("{kind}: {took:?}, {counts}");
        let all = ["now", "soon", "when_you_can"].map(|urgency| counts[urgency].as_u64());
        assert_eq!(all.into_iter().flatten().sum::<u64>(), u64::from(wanted), "{kind}");
        assert!(took.as_millis() < 1000, "{kind}: {took:?}");
    }
}
