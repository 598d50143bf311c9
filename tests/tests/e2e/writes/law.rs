//! Nothing is written twice, whatever comes in which order.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::json;
use tests::{TestApp, User};

use super::{events, replayed};

/// A small generator, so that a failure can be played again.
struct Dice(u64);

impl Dice {
    fn below(&mut self, end: usize) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).expect("small") % end
    }
}

const REQUESTS: usize = 160;

/// What must have happened by what was sent.
#[derive(Default)]
struct Model {
    /// The name and the answer of each key of each user.
    keys: BTreeMap<(usize, usize), (usize, String)>,
    /// Practice and name of each grower.
    growers: BTreeSet<(usize, usize)>,
}

async fn play(app: &TestApp, seed: u64) {
    // The first two share a practice.
    let users: [&User; 3] = [&app.lead, &app.advisor, &app.stranger];
    let (mut dice, mut model, mut done) = (Dice(seed), Model::default(), 0);
    let before = events(app).await.len();
    for step in 0..REQUESTS {
        let (who, key, name) = (dice.below(3), dice.below(9), dice.below(24));
        let keyed = key < 8;
        let body = json!({"name": format!("{seed} {name}")});
        let text = format!("\"{seed}-{key}\"");
        let headers = [("idempotency-key", text.as_str())];
        let headers: &[(&str, &str)] = if keyed { &headers } else { &[] };
        let answer = users[who].send("POST", "/v1/growers", headers, Some(&body)).await;
        let at = format!("seed {seed}, step {step}: {who} {key} {name}");
        let place = (who / 2, name);
        match model.keys.get(&(who, key)).filter(|_| keyed) {
            Some((before, first)) if *before == name => {
                assert!(replayed(&answer), "{at}");
                assert_eq!(&answer.assert_status(201).text, first, "{at}");
            }
            Some(_) => drop(answer.assert_problem(422, "key_reused")),
            None if model.growers.contains(&place) => {
                answer.assert_problem(409, "already_exists");
            }
            None => {
                assert!(!replayed(&answer), "{at}");
                let made = answer.assert_status(201);
                done += 1;
                model.growers.insert(place);
                if keyed {
                    model.keys.insert((who, key), (name, made.text));
                }
            }
        }
    }
    assert!(done > 10 && model.keys.len() > 10, "{done} done");
    assert_eq!(events(app).await.len(), before + done, "one event for each that was done");
    for (practice, user) in [(0, &app.lead), (1, &app.stranger)] {
        let page = user.get("/v1/growers?limit=200").await.json();
        let prefix = format!("{seed} ");
        let names = page["items"].as_array().expect("items").clone();
        let names =
            names.iter().filter_map(|it| it["name"].as_str()?.strip_prefix(&prefix)?.parse().ok());
        let mut there: Vec<usize> = names.collect();
        there.sort_unstable();
        let expected: Vec<usize> =
            model.growers.iter().filter(|it| it.0 == practice).map(|it| it.1).collect();
        assert_eq!(there, expected, "seed {seed}");
    }
}

#[tokio::test]
async fn nothing_is_written_twice_in_any_sequence() {
    let app = TestApp::start().await;
    for seed in [1, 2027, 77_777] {
        play(&app, seed).await;
    }
}
