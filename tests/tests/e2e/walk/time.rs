//! A 404 takes as long for an object of someone else as for one that is not there: the time must not
//! tell what exists.

use std::time::{Duration, Instant};

use api::auth::role::Role;
use tests::{TestApp, User};

use super::document::{Operation, operations};
use super::world::World;

/// Requests of each kind in a try.
const MANY: usize = 41;
/// A try fails by bad luck when the computer is busy; three in a row do not.
const TRIES: usize = 3;

/// The middle time of answers for either path, asked in turn.
async fn medians(operation: &Operation, user: &User, paths: [&str; 2]) -> [Duration; 2] {
    let mut times = [Vec::new(), Vec::new()];
    for _ in 0..MANY {
        for (path, times) in paths.iter().zip(&mut times) {
            let start = Instant::now();
            operation.call(user, path).await.assert_status(404);
            times.push(start.elapsed());
        }
    }
    times.map(|mut times| {
        times.sort_unstable();
        times[MANY / 2]
    })
}

/// Alike: within half as much again and a millisecond.
fn are_alike([one, other]: [Duration; 2]) -> bool {
    let (less, more) = (one.min(other), one.max(other));
    more < less + less / 2 + Duration::from_millis(1)
}

#[tokio::test]
async fn someone_elses_object_and_none_at_all_take_alike() {
    let app = TestApp::start().await;
    let theirs = World::make(&app, &app.stranger, &app.stranger, "Their grower").await;
    let reads = operations().into_iter().filter(|it| it.method == "GET" && it.kind().is_some());
    let mut measured = 0;
    for operation in reads {
        if !operation.scope.is_some_and(|scope| scope.roles.contains(&Role::Lead)) {
            continue;
        }
        let (there, nowhere) = (operation.within(&theirs), operation.nowhere());
        let mut seen = Vec::new();
        for _ in 0..TRIES {
            let times = medians(&operation, &app.lead, [&there, &nowhere]).await;
            seen.push(times);
            if are_alike(times) {
                break;
            }
        }
        let alike = seen.last().copied().is_some_and(are_alike);
        assert!(alike, "{}: {seen:?}", operation.id);
        measured += 1;
    }
    assert!(measured > 20, "only {measured} operations measured");
}
