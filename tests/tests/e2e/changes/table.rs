//! Every operation that writes says what it tells; every place that writes is known.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use api::changes::{ChangeType, Tells, of_operation};
use serde_json::Value;

/// Operations that leave a trace although they only read.
const TRACED: &[&str] = &["export_grower"];

/// Files that begin a transaction of their own, and why no change is told there.
const OWN_TRANSACTIONS: &[(&str, &str)] = &[
    ("auth/keys/store.rs", "signing keys"),
    ("calendar/kept.rs", "what a feed showed last"),
    ("commands/account.rs", "accounts"),
    ("exchange/intake/laws.rs", "a test"),
    ("exchange/pull/runs/carry_out.rs", "what is taken is told in `exchange::intake`"),
    ("exchange/pull/runs/schedule.rs", "which run is next"),
    ("jobs/lease.rs", "who works on a job"),
    ("learned/rebuild.rs", "worked out anew from digs that were told"),
    ("mail/access_link.rs", "a way in"),
    ("mail/password_link.rs", "a way in"),
    ("mail/schedule.rs", "jobs"),
    ("mail/stop.rs", "what somebody wants by mail"),
    ("notices/fan_out.rs", "deliveries of what was told"),
    ("notices/record.rs", "what came of deliveries"),
    ("season/recount.rs", "sums, counted anew"),
    ("sheet_links.rs", "addresses that show a sheet"),
    ("writes/write.rs", "tells"),
];

fn operations() -> Vec<(String, String, Value)> {
    let document = serde_json::to_value(api::routes::document()).expect("JSON");
    let paths = document["paths"].as_object().expect("paths");
    let each = paths.values().flat_map(|item| item.as_object().expect("operations"));
    each.map(|(method, it)| {
        let id = it["operationId"].as_str().expect("an id").to_owned();
        (method.clone(), id, it["tags"][0].clone())
    })
    .collect()
}

#[test]
fn every_operation_that_writes_has_a_row_and_no_other_has() {
    let (mut writing, mut of_types) = (0, BTreeSet::new());
    for (method, id, tag) in operations() {
        let writes = (method != "get" && tag != "what-if") || TRACED.contains(&id.as_str());
        let row = of_operation(&id);
        assert_eq!(row.is_some(), writes, "{id}: a row in api/src/changes/tells.rs");
        writing += usize::from(writes);
        if let Some(Tells::Of(change_type)) = row {
            of_types.insert(change_type);
        }
    }
    assert!(writing >= 75, "only {writing} operations write");
    // Those that follow from something else.
    for change_type in [ChangeType::SettingsSheetSuperseded, ChangeType::AdjustmentProposed] {
        assert!(of_types.insert(change_type), "{}", change_type.wire());
    }
    let all: BTreeSet<_> = ChangeType::ALL.iter().copied().collect();
    let never: Vec<_> = all.difference(&of_types).map(|it| it.wire()).collect();
    assert!(never.is_empty(), "nothing tells {never:?}");
}

#[test]
fn whoever_begins_a_transaction_of_its_own_is_known() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../api/src");
    let mut found = BTreeSet::new();
    look(&root, &root, &mut found);
    let known: BTreeSet<String> = OWN_TRANSACTIONS.iter().map(|(it, _)| (*it).to_owned()).collect();
    let new: Vec<_> = found.difference(&known).collect();
    assert!(new.is_empty(), "do these tell what they change? {new:?}");
    let gone: Vec<_> = known.difference(&found).collect();
    assert!(gone.is_empty(), "these begin none any more: {gone:?}");
}

fn look(root: &Path, folder: &Path, found: &mut BTreeSet<String>) {
    for entry in fs::read_dir(folder).expect("a folder") {
        let path: PathBuf = entry.expect("an entry").path();
        if path.is_dir() {
            look(root, &path, found);
        } else if fs::read_to_string(&path).is_ok_and(|text| text.contains("db::begin(")) {
            let name = path.strip_prefix(root).expect("inside");
            found.insert(name.to_str().expect("text").replace('\\', "/"));
        }
    }
}
