//! How long ten thousand fields take. Run by hand: `cargo test --release -p tests records_links::load -- --ignored --nocapture`.

use std::time::Instant;

use serde_json::json;
use tests::TestApp;

use super::land::{Land, link_to, system_of};
use super::{Link, counts};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
#[ignore = "measures"]
async fn ten_thousand_fields() {
    let app = TestApp::start().await;
    let mut land = Land::with(10_000);
    land.page_size = 200;
    let (system, land) = system_of(land).await;
    let link = Link::make(&app.lead, &link_to(&system)).await;
    let begun = Instant::now();
    assert_eq!(counts(&link.apply(&app).await, "field")["created"], 10_000);
    let first = begun.elapsed();
    let begun = Instant::now();
    assert_eq!(counts(&link.apply(&app).await, "field")["unchanged"], 10_000);
    let second = begun.elapsed();
    land.lock().expect("a lock").versions = true;
    link.change(&json!({"changes": {"kind": "etag"}})).await;
    link.apply(&app).await;
    let begun = Instant::now();
    assert_eq!(counts(&link.apply(&app).await, "field")["not_modified"], true);
    let third = begun.elapsed();
    println!(
        "10,000 fields: pulled and applied {first:?}; unchanged {second:?}; by versions {third:?}"
    );
    system.stop().await;
}
