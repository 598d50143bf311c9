//! The committed document is what the service would write now.

#[test]
fn the_committed_document_is_up_to_date() {
    let generated = api::routes::committed_form().expect("the document");
    if openapi::COMMITTED == generated {
        return;
    }
    let first = openapi::COMMITTED
        .lines()
        .zip(generated.lines())
        .enumerate()
        .find(|(_, (committed, now))| committed != now);
    panic!(
        "openapi/openapi.json is stale: cargo run -- openapi --out openapi/openapi.json\n\
         first difference: {first:?}"
    );
}
