//! The queue, on either engine: nothing lost, nothing done by two at once.

use std::collections::HashMap;
use std::sync::{Arc, Mutex};

use api::db;
use api::jobs::{
    Failure, LEASE, Leased, MOST_ATTEMPTS, NewJob, Task, any_due, attend, enqueue, fail, finish,
    lease,
};
use chrono::{TimeDelta, Utc};
use serde_json::json;
use tests::TestApp;
use uuid::Uuid;

/// Queues a job that does nothing: its account is nobody's.
async fn queue(app: &TestApp, once_key: Option<&str>) -> Option<Uuid> {
    let state = app.state();
    let tx = db::begin(&state.db).await.expect("a transaction");
    let new = NewJob {
        practice_id: app.practice_id,
        task: Task::PasswordLink { account_id: Uuid::nil() },
        run_at: state.clock.now(),
        once_key: once_key.map(str::to_owned),
    };
    let id = enqueue(&tx, state, new).await.expect("queued");
    tx.commit().await.expect("committed");
    id
}

async fn take(app: &TestApp, most: u64) -> Vec<Leased> {
    let state = app.state();
    lease(&state.db, state.clock.now(), most).await.expect("leased")
}

async fn job(app: &TestApp, id: Uuid) -> serde_json::Value {
    app.lead.get(&format!("/v1/jobs/{id}")).await.assert_status(200).json()
}

#[tokio::test]
async fn a_job_is_there_with_its_change_or_not_at_all() {
    let app = TestApp::start().await;
    let state = app.state();
    let tx = db::begin(&state.db).await.expect("a transaction");
    let task = Task::PasswordLink { account_id: Uuid::nil() };
    let (practice_id, run_at) = (app.practice_id, state.clock.now());
    enqueue(&tx, state, NewJob { practice_id, task, run_at, once_key: None })
        .await
        .expect("queued");
    tx.rollback().await.expect("rolled back");
    assert!(!any_due(&state.db, run_at).await.expect("a look"));
    queue(&app, None).await.expect("stored");
    assert!(any_due(&state.db, run_at).await.expect("a look"));
    assert!(!any_due(&state.db, run_at - TimeDelta::seconds(1)).await.expect("a look"));
}

#[tokio::test]
async fn what_has_the_same_key_is_queued_once() {
    let app = TestApp::start().await;
    assert!(queue(&app, Some("one")).await.is_some());
    assert!(queue(&app, Some("one")).await.is_none());
    assert!(queue(&app, Some("two")).await.is_some());
    assert_eq!(take(&app, 10).await.len(), 2);
}

#[tokio::test]
async fn a_worker_that_dies_before_it_says_done_is_followed_by_another() {
    let app = TestApp::start().await;
    let id = queue(&app, None).await.expect("stored");
    let dead = take(&app, 10).await.pop().expect("a job");
    assert_eq!((dead.job.id, dead.job.attempts), (id, 1));
    assert!(take(&app, 10).await.is_empty(), "somebody is at it");
    app.clock.advance(LEASE - TimeDelta::seconds(1));
    assert!(take(&app, 10).await.is_empty(), "still");
    app.clock.advance(TimeDelta::seconds(1));
    let next = take(&app, 10).await.pop().expect("the same job again");
    assert_eq!((next.job.id, next.job.attempts), (id, 2));
    // The first was only slow: it has lost the job and marks nothing.
    let (db, now) = (&app.state().db, app.state().clock.now());
    assert!(!finish(db, &dead, now).await.expect("marked"));
    let failure = Failure::Never("late".to_owned());
    assert!(!fail(db, &dead, &failure, now).await.expect("marked"));
    assert_eq!(job(&app, id).await["status"], "waiting");
    assert!(finish(db, &next, now).await.expect("marked"));
    assert!(!finish(db, &next, now).await.expect("marked"), "once");
    assert_eq!(job(&app, id).await["status"], "done");
    app.clock.advance(LEASE + LEASE);
    assert!(take(&app, 10).await.is_empty());
}

#[tokio::test]
async fn a_job_whose_worker_always_dies_is_given_up() {
    let app = TestApp::start().await;
    let id = queue(&app, None).await.expect("stored");
    for attempt in 1..=MOST_ATTEMPTS {
        let taken = take(&app, 10).await.pop().expect("a job");
        assert_eq!(taken.job.attempts, attempt);
        app.clock.advance(LEASE);
    }
    assert!(take(&app, 10).await.is_empty());
    let job = job(&app, id).await;
    assert_eq!(job["status"], "dead");
    assert!(job["last_error"].as_str().expect("why").contains("ended in the middle"));
}

/// Many workers on one queue: each job is taken by one of them.
#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn no_two_workers_hold_one_job() {
    let app = Arc::new(TestApp::start().await);
    const JOBS: usize = 60;
    for _ in 0..JOBS {
        queue(&app, None).await.expect("stored");
    }
    let taken = Arc::<Mutex<HashMap<Uuid, usize>>>::default();
    let workers: Vec<_> = (0..6)
        .map(|_| {
            let (app, taken) = (app.clone(), taken.clone());
            tokio::spawn(async move {
                let mut mine = 0;
                loop {
                    let leased = take(&app, 3).await;
                    if leased.is_empty() {
                        return mine;
                    }
                    for leased in leased {
                        *taken.lock().expect("taken").entry(leased.job.id).or_default() += 1;
                        mine += 1;
                        tokio::task::yield_now().await;
                        let (db, now) = (&app.state().db, app.state().clock.now());
                        assert!(finish(db, &leased, now).await.expect("marked"));
                    }
                }
            })
        })
        .collect();
    let mut shares = Vec::new();
    for worker in workers {
        shares.push(worker.await.expect("a worker"));
    }
    let taken = taken.lock().expect("taken");
    assert_eq!(taken.len(), JOBS);
    assert!(taken.values().all(|times| *times == 1), "{taken:?}");
    assert_eq!(shares.iter().sum::<usize>(), JOBS, "{shares:?}");
}

#[tokio::test]
async fn what_fails_is_tried_later_and_what_never_works_is_dead_at_once() {
    let app = TestApp::start().await;
    let again = queue(&app, None).await.expect("stored");
    let never = queue(&app, None).await.expect("stored");
    let state = app.state();
    for leased in take(&app, 10).await {
        let failure = if leased.job.id == again {
            Failure::Again("not now".to_owned())
        } else {
            Failure::Never("not ever".to_owned())
        };
        attend(state, &leased, async { Err(failure) }).await;
    }
    let told = job(&app, again).await;
    assert_eq!(
        (told["status"].as_str(), told["last_error"].as_str()),
        (Some("waiting"), Some("not now"))
    );
    let next: chrono::DateTime<Utc> =
        told["next_try_at"].as_str().expect("a time").parse().expect("a time");
    let wait = (next - state.clock.now()).num_seconds();
    assert!((15..45).contains(&wait), "{wait} s");
    assert_eq!(job(&app, never).await["status"], "dead");
    assert!(take(&app, 10).await.is_empty());
    app.clock.advance(TimeDelta::seconds(45));
    assert_eq!(take(&app, 10).await.len(), 1, "the dead one stays dead");
    let dead = app.lead.get("/v1/jobs?status=dead").await.assert_status(200).json();
    assert_eq!(dead["items"][0]["id"], json!(never));
    app.lead.delete(&format!("/v1/jobs/{never}")).await.assert_status(204);
    app.lead.get(&format!("/v1/jobs/{never}")).await.assert_problem(404, "not_found");
    app.stranger.get(&format!("/v1/jobs/{again}")).await.assert_problem(404, "not_found");
}

/// A change wakes the workers of the process: nobody waits for their next look.
#[tokio::test]
async fn workers_wake_when_something_was_committed_and_stop_in_good_order() {
    let folder = tempfile::TempDir::new().expect("a folder");
    let dir = folder.path().to_owned();
    let app = TestApp::start_with(|settings| {
        settings.job_seconds = 3600;
        settings.mail.dir = Some(dir);
    })
    .await;
    let path = format!("/v1/accounts/{}/password-links/mail", app.advisor.account_id);
    let queued = app.lead.send("POST", &path, &[], None).await.assert_status(202).json();
    let path = format!("/v1/jobs/{}", queued["job_id"].as_str().expect("an id"));
    for _ in 0..100 {
        if app.lead.get(&path).await.json()["status"] == "done" {
            app.stop().await;
            return;
        }
        tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    }
    panic!("the workers sleep on");
}
