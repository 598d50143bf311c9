//! Records that wait below others.

use std::collections::BTreeSet;

use super::Named;
use crate::entities::record_matches::Model;
use crate::exchange::intake::incoming::{Kind, Parent, TheirRef};

/// The records that wait below others, directly or not. They are added to those.
pub fn below(waiting: Vec<Model>, of: &mut BTreeSet<Named>) -> Vec<Model> {
    let (mut found, mut rest) = (Vec::new(), waiting);
    // Parents come before what belongs to them.
    for kind in Kind::ALL.iter().copied() {
        let of_kind = |row: &mut Model| {
            row.kind == kind && parent(row).is_some_and(|parent| of.contains(&parent))
        };
        let some: Vec<Model> = rest.extract_if(.., of_kind).collect();
        of.extend(some.iter().map(Named::from));
        found.extend(some);
    }
    found
}

/// What a record belongs to, where it says so by their id.
fn parent(row: &Model) -> Option<Named> {
    let kind = row.kind.parent()?;
    let said = row.record.get("parent")?.clone();
    match serde_json::from_value(said) {
        Ok(Parent::Theirs(their_id)) => {
            Some(Named { system: row.system.clone(), record: TheirRef { kind, their_id } })
        }
        Ok(Parent::Ours(_) | Parent::Named(_)) | Err(_) => None,
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use chrono::DateTime;
    use serde_json::json;
    use uuid::Uuid;

    use super::{Model, Named, below};
    use crate::exchange::intake::{IntakeWait, Kind, TheirRef};

    fn waits(system: &str, kind: Kind, their_id: &str, parent: &str) -> Model {
        Model {
            practice_id: Uuid::nil(),
            id: Uuid::nil(),
            system: system.to_owned(),
            kind,
            their_id: their_id.to_owned(),
            their_version: None,
            their_updated_at: None,
            waits_for: IntakeWait::Parent,
            grower_id: None,
            record: json!({"parent": {"theirs": parent}, "name": "any"}),
            candidates: json!([]),
            version: 1,
            created_at: DateTime::UNIX_EPOCH,
            updated_at: DateTime::UNIX_EPOCH,
            erased_at: None,
        }
    }

    #[test]
    fn all_that_hangs_below_is_found_in_any_order() {
        let waiting = vec![
            waits("records", Kind::Yield, "Y-1", "F-1"),
            waits("records", Kind::Field, "F-1", "A-1"),
            waits("records", Kind::Planter, "P-1", "G-1"),
            waits("records", Kind::Farm, "A-1", "G-1"),
            waits("records", Kind::Farm, "A-2", "G-2"),
            waits("office", Kind::Farm, "A-1", "G-1"),
            // Under a field whose id is that of the grower.
            waits("records", Kind::Yield, "Y-2", "G-1"),
        ];
        let record = TheirRef { kind: Kind::Grower, their_id: "G-1".to_owned() };
        let mut of = BTreeSet::from([Named { system: "records".to_owned(), record }]);
        let found = below(waiting, &mut of);
        let ids: Vec<&str> = found.iter().map(|row| row.their_id.as_str()).collect();
        assert_eq!(ids, ["A-1", "F-1", "P-1", "Y-1"]);
        assert_eq!(of.len(), 5);
    }
}
