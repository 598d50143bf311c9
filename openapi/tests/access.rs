//! The committed table of who may do what is what the service would write now.

#[test]
fn the_committed_table_of_access_is_up_to_date() {
    let page = api::routes::access_page().expect("the page");
    let committed = include_str!("../ACCESS.md");
    let first = committed.lines().zip(page.lines()).find(|(committed, now)| committed != now);
    assert!(
        committed == page,
        "openapi/ACCESS.md is stale: cargo run -- openapi --access openapi/ACCESS.md\n\
         first difference: {first:?}"
    );
}
