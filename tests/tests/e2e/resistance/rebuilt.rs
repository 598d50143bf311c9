//! Lessons made again from the dig checks.

use std::time::Duration;

use api::entities::{dig_checks, dig_lessons, lesson_counters};
use api::learned::{self, Rebuilt};
use sea_orm::{ColumnTrait, EntityTrait, PaginatorTrait, QueryFilter, QueryOrder};
use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{afresh, base, dig, dig_at, held, issued, known, practice, second};

/// Digs of many kinds: one sent twice, one with a cleaner that carries the units, others rows.
async fn all_kinds(app: &TestApp) -> Farmstead {
    let stead = issued(app).await;
    for minute in [5, 10, 15] {
        dig(&app.grower, &stead, &dig_at(minute)).await;
    }
    let mut with_words = dig_at(15);
    with_words["notes"] = json!("Sent again, with a note.");
    dig(&app.grower, &stead, &with_words).await;
    let mut carried = dig_at(20);
    for row in carried["rows"].as_array_mut().expect("rows") {
        row["cleaner"] = json!("below_surface");
    }
    dig(&app.grower, &stead, &carried).await;
    let mut logged = dig_at(25);
    for row in logged["rows"].as_array_mut().expect("rows") {
        row["gauge_wheels"] = json!("turn_with_effort");
        row["logged_load"] = json!({"mean": {"value": 101.7, "unit": "[lbf_av]"}});
    }
    dig(&app.grower, &stead, &logged).await;
    stead
}

#[tokio::test]
async fn lessons_made_anew_are_the_same_to_the_last_bit() {
    let app = TestApp::start().await;
    let stead = all_kinds(&app).await;
    let (state, practice) = (app.state(), practice(&app).await);
    let rows = || async {
        let all = dig_lessons::Entity::find().order_by_asc(dig_lessons::Column::Id);
        all.all(&state.db).await.expect("lessons")
    };
    let (before, shown) = (rows().await, known(&app.lead, &stead).await);
    let learned_before = afresh(&app, 2027).await;
    assert_eq!(before.len(), 6);
    assert_eq!(shown["digs"], 4, "a dig sent with other words counts once: {shown}");
    assert_eq!(shown["digs_that_teach_nothing"], 2);

    let made = learned::rebuild(&state.db, practice, state.clock.now()).await.expect("rebuilt");
    assert_eq!(made, Rebuilt { digs: 6, taught: 4, unreadable: 0 });
    let after = rows().await;
    for (old, new) in before.iter().zip(&after) {
        assert!(new.seq > 6, "no number is used twice");
        assert_eq!(*old, dig_lessons::Model { seq: old.seq, ..new.clone() });
    }
    assert_eq!(known(&app.lead, &stead).await, shown);
    assert_eq!(*afresh(&app, 2027).await, *learned_before);

    // A process that held the old ones takes in what comes next on top of the new ones.
    dig(&app.grower, &stead, &dig_at(40)).await;
    assert_eq!(known(&app.lead, &stead).await["digs"], 5);
    assert_eq!(*held(&app, 2027).await, *afresh(&app, 2027).await);
}

/// Waits until a process that starts has filled in all lessons.
async fn filled_in(app: &TestApp) {
    let db = &app.state().db;
    let wanted = dig_checks::Entity::find().count(db).await.expect("count");
    for _ in 0..200 {
        if dig_lessons::Entity::find().count(db).await.expect("count") == wanted {
            return;
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    panic!("not filled in after ten seconds");
}

#[tokio::test]
async fn a_process_that_starts_fills_in_what_older_versions_did_not_keep() {
    let app = TestApp::start().await;
    let stead = all_kinds(&app).await;
    let (shown, before) = (known(&app.lead, &stead).await, afresh(&app, 2027).await);
    let db = &app.state().db;
    dig_lessons::Entity::delete_many().exec(db).await.expect("as before there were lessons");
    lesson_counters::Entity::delete_many().exec(db).await.expect("as before there were lessons");
    assert_ne!(*afresh(&app, 2027).await, *before);
    let second_one = second(&app).await;
    let there = app.lead.at(&base(&second_one));
    filled_in(&app).await;
    assert_eq!(*afresh(&app, 2027).await, *before);
    assert_eq!(known(&there, &stead).await, shown);

    // An older version that runs beside stores digs without lessons.
    let of_some = dig_lessons::Column::Seq.lte(3);
    let gone = dig_lessons::Entity::delete_many().filter(of_some).exec(db).await.expect("gone");
    assert_eq!(gone.rows_affected, 3);
    let third = second(&app).await;
    filled_in(&app).await;
    assert_eq!(*afresh(&app, 2027).await, *before);
    assert_eq!(known(&app.lead.at(&base(&third)), &stead).await, shown);
    assert_eq!(known(&there, &stead).await, shown, "also where they were held");
    let again = learned::fill_in(db, practice(&app).await, app.state().clock.now()).await;
    assert_eq!(again.expect("nothing to do"), Rebuilt::default());
    second_one.stop().await.expect("a good end");
    third.stop().await.expect("a good end");
}
