//! The committed table of what each form can carry is what the service would write now.

#[test]
fn the_committed_table_of_forms_is_up_to_date() {
    let page = api::exchange::forms::carried::page();
    let committed = include_str!("../FORMATS.md");
    let first = committed.lines().zip(page.lines()).find(|(committed, now)| committed != now);
    assert!(
        committed == page,
        "openapi/FORMATS.md is stale: cargo run -- openapi --formats openapi/FORMATS.md\n\
         first difference: {first:?}"
    );
}
