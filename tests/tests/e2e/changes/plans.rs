//! A page is one range of one index, on either engine.

use api::auth::{Scope, Sees};
use api::changes::{self, ChangeType};
use api::entities::changes::Entity;
use sea_orm::{ConnectionTrait, DbBackend, QueryTrait, Select, Statement};
use tests::TestApp;
use uuid::Uuid;

/// The rows of the practice and of others, straight into the table.
pub(super) async fn fill(app: &TestApp, count: i64) {
    let state = app.state();
    let backend = state.db.get_database_backend();
    let series = match backend {
        DbBackend::Postgres => format!("generate_series(1, {count}) AS n(n)"),
        _ => format!(
            "(WITH RECURSIVE n(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM n WHERE n < {count}) \
             SELECT n FROM n) AS n"
        ),
    };
    let practice = hex(app.practice_id, backend);
    let own = hex(Uuid::parse_str(&app.own_grower_id).expect("an id"), backend);
    // 499 others, whose changes lie between.
    let other = match backend {
        DbBackend::Postgres => "lpad(to_hex(n.n % 500), 32, '0')::uuid",
        _ => "unhex(printf('%032x', n.n % 500))",
    };
    for sql in [
        format!("DELETE FROM changes WHERE practice_id = {practice}"),
        format!(
            "INSERT INTO changes (practice_id, position, at, type, object_kind, object_id, grower_id) \
             SELECT {practice}, n.n, '2027-04-20T12:00:00Z', \
             CASE WHEN n.n % 1000 = 0 THEN 'dig_check.recorded' ELSE 'field.changed' END, 'field', \
             'object', CASE WHEN n.n % 500 = 0 THEN {own} ELSE {other} END FROM {series}"
        ),
        format!("DELETE FROM change_counters WHERE practice_id = {practice}"),
        format!("INSERT INTO change_counters (practice_id, position) VALUES ({practice}, {count})"),
        "ANALYZE".to_owned(),
    ] {
        state.db.execute_unprepared(&sql).await.unwrap_or_else(|error| panic!("{sql}: {error}"));
    }
}

fn hex(id: Uuid, backend: DbBackend) -> String {
    match backend {
        DbBackend::Postgres => format!("'{id}'::uuid"),
        _ => format!("x'{}'", id.simple()),
    }
}

async fn plan(app: &TestApp, rows: Select<Entity>) -> String {
    let db = &app.state().db;
    let backend = db.get_database_backend();
    let asked = rows.build(backend);
    let explain = match backend {
        DbBackend::Postgres => "EXPLAIN ",
        _ => "EXPLAIN QUERY PLAN ",
    };
    let sql = format!("{explain}{}", asked.sql);
    let asked = Statement { sql, ..asked };
    let (column, rows) = match backend {
        DbBackend::Postgres => ("QUERY PLAN", db.query_all_raw(asked).await),
        _ => ("detail", db.query_all_raw(asked).await),
    };
    let rows = rows.expect("a plan");
    rows.iter().map(|row| row.try_get::<String>("", column).expect("text") + "\n").collect()
}

#[tokio::test]
async fn a_page_is_one_range_of_one_index() {
    let app = TestApp::start().await;
    fill(&app, 50_000).await;
    let practice = Scope::of_practice(app.practice_id);
    let own = Uuid::parse_str(&app.own_grower_id).expect("an id");
    let grower = Scope { practice_id: app.practice_id, sees: Sees::Grower(own) };
    for (scope, types, index) in [
        (practice, vec![], "pk_changes"),
        (practice, vec![ChangeType::DigCheckRecorded], "pk_changes"),
        (grower, vec![], "ix_changes_grower_id_position"),
    ] {
        let plan = plan(&app, changes::query(&scope, (20_000, 25_000), &types, 200)).await;
        let postgres = app.state().db.get_database_backend() == DbBackend::Postgres;
        // SQLite names the index of a primary key by itself.
        let index = match (postgres, index) {
            (false, "pk_changes") => "sqlite_autoindex_changes_1",
            (_, index) => index,
        };
        assert!(plan.contains(index), "{plan}");
        // PostgreSQL may read a range in which few rows are wanted by pages, and put these in order.
        assert!(postgres || !plan.contains("TEMP B-TREE"), "already in order: {plan}");
        assert!(!plan.contains("Seq Scan") && !plan.contains("SCAN"), "{plan}");
        if postgres {
            let range = plan.lines().find(|line| line.contains("Index Cond")).expect("a condition");
            assert!(range.contains("\"position\" > "), "a range: {plan}");
        } else {
            assert!(plan.contains("position>?"), "a range: {plan}");
            assert_eq!(plan.lines().count(), 1, "{plan}");
        }
    }
}

#[tokio::test]
async fn a_page_looks_through_so_much_and_no_more_and_a_grower_finds_his_own_at_once() {
    let app = TestApp::start().await;
    fill(&app, 20_000).await;
    let db = &app.state().db;
    let practice = Scope::of_practice(app.practice_id);
    // One in a thousand is asked for: five in each page of 5000 places.
    let types = [ChangeType::DigCheckRecorded];
    let (mut after, mut pages, mut found) = (0, 0, 0);
    loop {
        let page = changes::page(db, &practice, after, &types, 200).await.expect("a page");
        found += page.changes.len();
        pages += 1;
        after = page.next;
        if !page.more {
            break;
        }
    }
    assert_eq!((pages, found, after), (4, 20, 20_000));
    let own = Uuid::parse_str(&app.own_grower_id).expect("an id");
    let grower = Scope { practice_id: app.practice_id, sees: Sees::Grower(own) };
    let page = changes::page(db, &grower, 0, &[], 200).await.expect("a page");
    assert_eq!((page.changes.len(), page.next, page.more), (40, 20_000, false));
    let page = changes::page(db, &grower, 0, &[], 10).await.expect("a page");
    assert_eq!((page.changes.len(), page.next, page.more), (10, 5_000, true));
    // A place beyond the end leads back to the end.
    let page = changes::page(db, &practice, 99_999, &[], 10).await.expect("a page");
    assert_eq!((page.changes.len(), page.next, page.more), (0, 20_000, false));
}
