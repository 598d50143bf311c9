//! Many write at once, through two processes, while somebody follows.

use std::collections::BTreeSet;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use api::app::{App, Config};
use serde_json::{Value, json};
use tests::{TestApp, User};
use tokio::task::JoinSet;

use super::{end, page, text};

const WRITERS: usize = 12;
const EACH: usize = 15;

/// Makes growers; every third one is changed, every fifth one fails half-way with its transaction.
async fn write(user: User, nth: usize) -> Vec<(String, String)> {
    let mut made = Vec::new();
    for round in 0..EACH {
        let name = json!({"name": format!("Writer {nth} round {round}")});
        let id = user.create("/v1/growers", &name).await;
        made.push(("grower.created".to_owned(), id.clone()));
        if round % 3 == 0 {
            let path = format!("/v1/growers/{id}");
            user.patch(&path, "*", &json!({"phone": "555 0100"})).await.assert_status(200);
            made.push(("grower.changed".to_owned(), id));
        }
        if round % 5 == 0 {
            user.post("/v1/growers", &name).await.assert_problem(409, "already_exists");
        }
    }
    made
}

/// Reads on until the writers are done and nothing is left; gives all in the order of reading.
async fn follow(user: User, start: String, at_work: Arc<AtomicUsize>, limit: u16) -> Vec<Value> {
    let (mut found, mut place) = (Vec::new(), start);
    loop {
        let idle = at_work.load(Ordering::SeqCst) == 0;
        let path = format!("/v1/changes?limit={limit}&after={place}");
        let page = user.get(&path).await.assert_status(200).json();
        found.extend(page["items"].as_array().expect("items").iter().cloned());
        place = text(&page, "next_after");
        if idle && page["more"] == false {
            return found;
        }
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn nothing_is_missed_nothing_comes_twice_and_places_are_in_order() {
    let app = TestApp::start_with(|settings| settings.workers = 2).await;
    let config = Config::with_clock(app.state().settings.clone(), app.clock.clone());
    let other = App::build(config).await.expect("a second process");
    let there = app.lead.at(&format!("http://{}", other.address));
    let start = end(&app.lead).await;
    let at_work = Arc::new(AtomicUsize::new(WRITERS));
    let mut readers = JoinSet::new();
    for (user, limit) in [(&app.lead, 3), (&there, 200), (&app.read_only, 7)] {
        readers.spawn(follow(user.clone(), start.clone(), at_work.clone(), limit));
    }
    let mut writers = JoinSet::new();
    for nth in 0..WRITERS {
        let user = if nth % 2 == 0 { app.lead.clone() } else { there.clone() };
        let at_work = at_work.clone();
        writers.spawn(async move {
            let made = write(user, nth).await;
            at_work.fetch_sub(1, Ordering::SeqCst);
            made
        });
    }
    let mut made = BTreeSet::new();
    while let Some(done) = writers.join_next().await {
        made.extend(done.expect("a writer"));
    }
    assert_eq!(made.len(), WRITERS * (EACH + EACH / 3));
    while let Some(read) = readers.join_next().await {
        let read = read.expect("a reader");
        let positions: Vec<i64> =
            read.iter().map(|it| it["position"].as_i64().expect("a number")).collect();
        let first = positions[0];
        let wanted: Vec<i64> = (first..).take(made.len()).collect();
        assert_eq!(positions, wanted, "in order, each once, without gaps");
        let told: BTreeSet<_> =
            read.iter().map(|it| (text(it, "type"), text(it, "object_id"))).collect();
        assert_eq!(told, made);
    }
    // The order is that in which they took hold: no change of a grower comes before its making.
    let (all, _) = super::all_after(&app.lead, Some(&start)).await;
    let mut there_are = BTreeSet::new();
    for change in &all {
        let id = text(change, "object_id");
        match text(change, "type").as_str() {
            "grower.created" => assert!(there_are.insert(id)),
            _ => assert!(there_are.contains(&id)),
        }
    }
    assert_eq!(page(&app.lead, Some("now"), "").await["more"], false);
    other.stop().await.expect("a good end");
}
