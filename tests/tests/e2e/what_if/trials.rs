//! Trials: what is published, what is refused, and that digs make no replications.

use serde_json::{Value, json};
use tests::TestApp;

use super::path;

/// Each way to say how much plots differ, for each calculation that asks.
pub(super) fn scatters() -> Vec<(&'static str, Value)> {
    let ways = [
        json!({"kind": "sampled", "sd_of_plots": 2, "sd_of_samples": 6, "samples": 4}),
        json!({"kind": "cv", "cv_percent": 8, "mean": 200}),
        json!({"kind": "published", "crop": "corn", "mean": 200}),
    ];
    let trial = json!({"design": "randomised_blocks", "treatments": 4, "confidence": 90});
    ways.into_iter()
        .flat_map(|scatter| {
            let power =
                json!({"trial": trial, "replications": 5, "difference": 10, "scatter": scatter});
            let size = json!({"trial": trial, "difference": 10, "scatter": scatter, "power": 0.9});
            [("trial-power", power), ("sample-size", size)]
        })
        .collect()
}

fn number(answer: &Value, at: &str) -> f64 {
    let found = answer.pointer(at).and_then(Value::as_f64);
    found.unwrap_or_else(|| panic!("no {at} in {answer}"))
}

fn near(answer: &Value, at: &str, value: f64, tolerance: f64) {
    let found = number(answer, at);
    assert!((found - value).abs() <= tolerance, "{at}: {found}, not {value}");
}

#[tokio::test]
async fn power_is_that_of_a_second_implementation() {
    let app = TestApp::start().await;
    // Results of R's pwr stored in the tests of statsmodels; pairs scatter by sqrt(2) more than plots.
    let pair = 0.5_f64.sqrt();
    for (design, difference, n, sd, power) in [
        ("paired", 1.0, 30, pair, 0.999_563_600_961),
        ("paired", 0.2, 20, pair, 0.135_956_288_768),
        ("completely_randomised", 0.1, 20, 1.0, 0.060_959_124_654),
    ] {
        let body = json!({"trial": {"design": design}, "replications": n,
            "difference": difference, "scatter": {"kind": "sd", "sd": sd}});
        let answer = app.read_only.post(&path("trial-power"), &body).await.assert_status(200);
        near(&answer.json(), "/power", power, 5e-6);
    }
}

#[tokio::test]
async fn detectable_differences_are_those_of_the_table() {
    let app = TestApp::start().await;
    // In standard deviations of a pair, 80 % power, 5 %: noncentral t.
    let body = json!({"trial": {"design": "paired"}, "difference": 1.5,
        "scatter": {"kind": "sd", "sd": 0.5_f64.sqrt()}});
    let answer = app.read_only.post(&path("sample-size"), &body).await.assert_status(200).json();
    for (n, detectable) in [(3, 3.264), (4, 2.128), (5, 1.682), (6, 1.435), (8, 1.156), (10, 0.996)]
    {
        let ladder = answer["ladder"].as_array().expect("a ladder");
        let rung = ladder.iter().find(|r| r["replications"] == n).expect("a rung");
        near(rung, "/detectable", detectable, 5.1e-4);
    }
    assert_eq!(answer["replications"], 6);
    let hopeless = json!({"trial": {"design": "paired"}, "difference": 0.01,
        "scatter": {"kind": "sd", "sd": 5}});
    let answer = app.read_only.post(&path("sample-size"), &hopeless).await.assert_status(200);
    assert!(answer.json()["replications"].is_null());
    assert!(answer.json()["words"].as_str().is_some_and(|w| w.starts_with("Even 100 pairs")));
}

#[tokio::test]
async fn an_own_scatter_of_yield_is_used_and_named() {
    let app = TestApp::start().await;
    let body = json!({"trial": {"design": "paired"}, "difference": 10,
        "scatter": {"kind": "published", "crop": "corn", "mean": 200}});
    let answer = app.read_only.post(&path("sample-size"), &body).await.assert_status(200).json();
    near(&answer, "/sd", 13.2, 1e-9);
    assert_eq!(answer["defaults"][0]["name"], "trial_scatter_corn");
}

fn blocks(values: &[(&str, u32, Value)]) -> Value {
    let plots: Vec<Value> = values
        .iter()
        .map(|(treatment, block, values)| {
            json!({"treatment": treatment, "block": block, "values": values})
        })
        .collect();
    json!({
        "design": "paired", "treatments": ["smooth wheels", "spiked wheels"],
        "control": "smooth wheels", "randomised": true,
        "response": {"what": "emergence", "unit": "%", "better": "higher", "share": true},
        "matters": 2, "plots": plots
    })
}

#[tokio::test]
async fn the_printed_analysis_of_blocks_comes_out() {
    let app = TestApp::start().await;
    let document = super::Document::of(&app).await;
    let mut body = document.body_example(&path("trial-analysis")).clone();
    let answer = app.read_only.post(&path("trial-analysis"), &body).await.assert_status(200).json();
    // Clewer and Scarisbrick 2001, example 10.1, and the full digits of the same analysis.
    near(&answer, "/figures/table/0/f", 12.22, 0.006);
    near(&answer, "/figures/table/1/f", 5.52, 0.006);
    near(&answer, "/figures/least_difference", 1.263_58, 6e-6);
    near(&answer, "/figures/honest_difference", 1.787_62, 6e-6);
    near(&answer, "/figures/relative_efficiency", 3.0409, 6e-5);
    body["design"] = json!("completely_randomised");
    let answer = app.read_only.post(&path("trial-analysis"), &body).await.assert_status(200).json();
    near(&answer, "/figures/table/0/f", 1.45, 0.006);
}

#[tokio::test]
async fn a_verdict_says_what_can_not_be_concluded() {
    let app = TestApp::start().await;
    let found = [(86.0, 91.0), (88.0, 92.0), (84.0, 91.0), (89.0, 93.0), (87.0, 91.0)];
    let mut plots = Vec::new();
    for (block, (smooth, spiked)) in (1..).zip(found) {
        plots.push(("smooth wheels", block, json!([smooth])));
        plots.push(("spiked wheels", block, json!([spiked])));
    }
    let mut body = blocks(&plots);
    let ask = async |body: &Value| {
        app.grower.post(&path("trial-analysis"), body).await.assert_status(200).json()
    };
    let answer = ask(&body).await;
    assert_eq!(answer["verdict"]["outcome"], "matters");
    near(&answer, "/figures/effects/0/difference", 4.8, 1e-9);
    body["randomised"] = json!(false);
    let headline = ask(&body).await["verdict"]["headline"].as_str().expect("text").to_owned();
    assert!(headline.contains("chance did not decide"), "{headline}");
    // One pair, dug fifty times: no trial.
    let many = |at: f64| json!(vec![at; 50]);
    let once = blocks(&[("smooth wheels", 1, many(80.0)), ("spiked wheels", 1, many(95.0))]);
    let answer = ask(&once).await;
    assert_eq!(answer["verdict"]["outcome"], "no_replication");
    assert_eq!(answer["figures"]["effects"][0].get("p"), None, "{answer}");
    near(&answer, "/figures/effects/0/difference", 15.0, 1e-9);
}

#[tokio::test]
async fn plots_that_contradict_each_other_are_refused() {
    let app = TestApp::start().await;
    let good = blocks(&[
        ("smooth wheels", 1, json!([86])),
        ("spiked wheels", 1, json!([91])),
        ("smooth wheels", 2, json!([85, 87])),
        ("spiked wheels", 2, json!([90])),
    ]);
    app.read_only.post(&path("trial-analysis"), &good).await.assert_status(200);
    for (at, value, pointer) in [
        ("/plots/3/treatment", json!("smooth wheels"), "/plots/3"),
        ("/plots/0/treatment", json!("square wheels"), "/plots/0/treatment"),
        ("/plots/1/values/0", json!(101), "/plots/1/values/0"),
        ("/plots/1/block", json!(0), "/plots/1/block"),
        ("/treatments/1", json!("smooth wheels"), "/treatments/1"),
        ("/treatments", json!(["smooth wheels"]), "/treatments"),
        ("/control", json!("square wheels"), "/control"),
        ("/matters", json!(0), "/matters"),
        ("/confidence", json!(99), "/confidence"),
        ("/response/what", json!(""), "/response/what"),
        ("/plots", json!([]), "/plots"),
    ] {
        let mut bad = good.clone();
        match bad.pointer_mut(at) {
            Some(member) => *member = value,
            None => bad[at.trim_start_matches('/')] = value,
        }
        let answer = app.read_only.post(&path("trial-analysis"), &bad).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    let mut empty = good.clone();
    for plot in empty["plots"].as_array_mut().expect("plots") {
        plot["values"] = json!([]);
    }
    let answer = app.read_only.post(&path("trial-analysis"), &empty).await;
    answer.assert_problem(422, "invalid_request").assert_member("/plots");
}

#[tokio::test]
async fn a_plan_that_can_not_be_is_refused() {
    let app = TestApp::start().await;
    let good = json!({"trial": {"design": "paired"}, "replications": 4, "difference": 5,
        "scatter": {"kind": "sd", "sd": 3}});
    app.read_only.post(&path("trial-power"), &good).await.assert_status(200);
    for (at, name, value) in [
        ("", "replications", json!(1)),
        ("", "replications", json!(101)),
        ("", "difference", json!(0)),
        ("/trial", "treatments", json!(3)),
        ("/trial", "treatments", json!(1)),
        ("/trial", "confidence", json!(80)),
        ("/scatter", "sd", json!(0)),
    ] {
        let mut bad = good.clone();
        bad.pointer_mut(at).expect("a parent")[name] = value;
        let answer = app.read_only.post(&path("trial-power"), &bad).await;
        answer.assert_problem(422, "invalid_request").assert_member(&format!("{at}/{name}"));
    }
}

#[tokio::test]
async fn whole_plots_and_their_parts_have_errors_of_their_own() {
    let app = TestApp::start().await;
    // Yates 1935: three varieties of oats split by four rates of nitrogen, six blocks.
    let oats = include_str!("../../../../domain/tests/data/trial_oats_split_plot.csv");
    let plots: Vec<Value> = oats
        .lines()
        .skip(1)
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            let value: f64 = cells[3].parse().expect("a number");
            let block: u32 = cells[0].trim_start_matches('B').parse().expect("a block");
            json!({"block": block, "whole": cells[1], "part": cells[2], "values": [value]})
        })
        .collect();
    let mut body = json!({
        "whole": {"name": "variety", "levels": ["V1", "V2", "V3"]},
        "part": {"name": "nitrogen", "levels": ["0", "0.2", "0.4", "0.6"]},
        "plots": plots
    });
    let answer = app.read_only.post(&path("split-plot-analysis"), &body).await;
    let answer = answer.assert_status(200).json();
    for (at, f) in [("/table/1/f", 1.485_34), ("/table/3/f", 37.685_647), ("/table/4/f", 0.302_824)]
    {
        near(&answer, at, f, 6e-5);
    }
    assert_eq!(answer["lost_plots"], 0);
    // One of 72 plots lost: the same story, by restricted maximum likelihood.
    body["plots"].as_array_mut().expect("plots").pop();
    let answer = app.read_only.post(&path("split-plot-analysis"), &body).await;
    let answer = answer.assert_status(200).json();
    assert_eq!(answer["lost_plots"], 1);
    assert!(answer.pointer("/table/1/squares").is_none(), "{answer}");
    near(&answer, "/table/3/f", 37.7, 2.0);
    near(&answer, "/table/3/error_df", 44.0, 0.5);
    let said = answer["words"].to_string();
    assert!(said.contains("One plot was lost"), "{said}");
    assert_eq!(answer["trace"].as_array().map(Vec::len), Some(2));
    // None left of one variety at one rate: nothing to compare it by.
    let mut bare = body.clone();
    let plots = bare["plots"].as_array_mut().expect("plots");
    plots.retain(|plot| plot["whole"] != "V2" || plot["part"] != "0.4");
    let answer = app.read_only.post(&path("split-plot-analysis"), &bare).await;
    let refused = answer.assert_problem(422, "invalid_request").assert_member("/plots");
    let detail = refused["detail"].as_str().expect("a detail");
    assert!(detail.contains("No plot is left with V2 and 0.4"), "{detail}");
    body["plots"][1] = body["plots"][0].clone();
    let answer = app.read_only.post(&path("split-plot-analysis"), &body).await;
    answer.assert_problem(422, "invalid_request").assert_member("/plots/1");
}
