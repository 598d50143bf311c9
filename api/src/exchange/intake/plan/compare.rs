//! Three sides: what they said last, what is here, what they say now.

use std::collections::HashMap;

use domain::quantity::unit;
use sea_orm::ConnectionTrait;
use serde_json::Value;
use uuid::Uuid;

use super::known::Known;
use crate::entities::record_conflicts;
use crate::exchange::intake::columns::Member;
use crate::exchange::intake::outcome::{Changed, Disputed, Outcome, PlannedRow};
use crate::exchange::intake::work::Members;
use crate::http::BadMember;

/// Finds what becomes of records that came before.
pub(super) fn tied<C: ConnectionTrait>(
    known: &Known<'_, C>,
    rows: &mut [PlannedRow],
    open: &[usize],
) {
    for index in open {
        let Some(row) = rows.get_mut(*index) else { continue };
        let Some(tie) = row.work.tie.as_ref() else { continue };
        let Some(ours) = tie.ours.as_ref() else { continue };
        let disputes = known.conflicts.get(&tie.id).map(Vec::as_slice).unwrap_or_default();
        let sides = Sides { base: &tie.taken, ours: &ours.members, theirs: &row.work.theirs };
        let Compared { changes, disputed, settled } = sides.compare(disputes);
        row.work.settled = settled;
        if !remake(row, &changes) {
            continue;
        }
        row.settle(match (changes.is_empty(), disputed.is_empty()) {
            (true, true) => Outcome::Unchanged,
            (false, true) => Outcome::Change(changes),
            (_, false) => Outcome::Conflict { changes, disputed },
        });
    }
}

/// The three sides of a record.
struct Sides<'a> {
    base: &'a Members,
    ours: &'a Members,
    theirs: &'a Members,
}

/// What comes of them.
#[derive(Debug, Default, PartialEq)]
struct Compared {
    changes: Vec<Changed>,
    disputed: Vec<Disputed>,
    settled: Vec<Uuid>,
}

impl Sides<'_> {
    /// Member by member. One that is in conflict is held against what was taken before the conflict.
    fn compare(&self, disputes: &[record_conflicts::Model]) -> Compared {
        let disputes: HashMap<&str, &record_conflicts::Model> =
            disputes.iter().map(|row| (row.member.as_str(), row)).collect();
        let mut compared = Compared::default();
        for member in Member::COMPARED.iter().copied() {
            let Some(theirs) = self.theirs.get(member.word()) else { continue };
            let dispute = disputes.get(member.word());
            let base = match dispute {
                Some(row) => row.base.as_ref(),
                None => self.base.get(member.word()),
            };
            let (base, ours) = (value(base), value(self.ours.get(member.word())));
            if same(theirs, &ours) || same(theirs, &base) {
                compared.settled.extend(dispute.map(|row| row.id));
            } else if same(&ours, &base) {
                compared.settled.extend(dispute.map(|row| row.id));
                compared.changes.push(Changed { member, from: ours, to: theirs.clone() });
            } else {
                let (theirs, conflict_id) = (theirs.clone(), dispute.map(|row| row.id));
                compared.disputed.push(Disputed { member, base, ours, theirs, conflict_id });
            }
        }
        compared
    }
}

fn value(value: Option<&Value>) -> Value {
    value.cloned().unwrap_or_default()
}

/// Whether two values say the same: quantities in any unit, numbers however they are written.
pub(in crate::exchange::intake) fn same(a: &Value, b: &Value) -> bool {
    match (a, b) {
        (Value::Number(a), Value::Number(b)) => {
            a.as_f64().zip(b.as_f64()).is_some_and(|(a, b)| a.total_cmp(&b).is_eq())
        }
        (Value::Array(a), Value::Array(b)) => {
            a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same(a, b))
        }
        (Value::Object(a), Value::Object(b)) => match (in_si(a), in_si(b)) {
            (Some(a), Some(b)) => (a - b).abs() <= 1e-9 * a.abs().max(b.abs()),
            _ => {
                a.len() == b.len()
                    && a.iter().all(|(name, a)| b.get(name).is_some_and(|b| same(a, b)))
            }
        },
        (a, b) => a == b,
    }
}

fn in_si(quantity: &Members) -> Option<f64> {
    let unit = unit(quantity.get("unit")?.as_str()?)?;
    quantity.get("value")?.as_f64().map(|value| unit.to_si(value))
}

/// Puts new rows and row spacing into the make-up of a planter; refuses the record when it does not
/// hold together then.
fn remake(row: &mut PlannedRow, changes: &[Changed]) -> bool {
    let said = &row.incoming.said;
    let changes_it = |member: Member| changes.iter().any(|change| change.member == member);
    if changes_it(Member::Makeup) {
        row.work.makeup.clone_from(&said.makeup);
        return true;
    }
    if !changes_it(Member::Rows) && !changes_it(Member::RowSpacing) {
        return true;
    }
    let Some(mut makeup) = row.ours().and_then(|ours| ours.makeup.clone()) else { return true };
    if let Some(rows) = said.rows.filter(|_| changes_it(Member::Rows)) {
        makeup.rows = rows;
    }
    if let Some(spacing) = said.row_spacing.clone().filter(|_| changes_it(Member::RowSpacing)) {
        makeup.row_width = spacing;
    }
    match makeup.parse("/makeup", None) {
        Ok(_) => row.work.makeup = Some(makeup),
        Err(bad) => {
            let at = row.incoming.place.of(Member::Rows);
            let why = "our make-up of the planter would not hold together with it; change it here \
                       first";
            let placed = bad.into_iter().map(|bad| {
                let detail = format!("{} {}", bad.pointer, bad.detail);
                BadMember { pointer: at.clone(), detail, ..bad }.why(why)
            });
            row.refuse(placed.collect());
            return false;
        }
    }
    true
}

#[cfg(test)]
mod tests {
    use super::{Compared, Members, Sides, same};
    use crate::entities::record_conflicts;
    use crate::exchange::intake::columns::Member;
    use proptest::prelude::*;
    use serde_json::{Value, json};
    use uuid::Uuid;

    fn members(name: Option<&str>) -> Members {
        name.map(|name| ("name".to_owned(), json!(name))).into_iter().collect()
    }

    fn compare(base: Option<&str>, ours: Option<&str>, theirs: Option<&str>) -> Compared {
        let (base, ours, theirs) = (members(base), members(ours), members(theirs));
        Sides { base: &base, ours: &ours, theirs: &theirs }.compare(&[])
    }

    fn counts(compared: &Compared) -> (usize, usize) {
        (compared.changes.len(), compared.disputed.len())
    }

    #[test]
    fn each_side_may_change_and_both_make_a_conflict() {
        let outcome = |base, ours, theirs| counts(&compare(base, ours, theirs));
        assert_eq!(outcome(Some("A"), Some("A"), Some("A")), (0, 0));
        assert_eq!(outcome(Some("A"), Some("A"), Some("B")), (1, 0), "they changed it");
        assert_eq!(outcome(Some("A"), Some("B"), Some("A")), (0, 0), "we did: ours stays");
        assert_eq!(outcome(Some("A"), Some("B"), Some("B")), (0, 0), "both alike");
        assert_eq!(outcome(Some("A"), Some("B"), Some("C")), (0, 1), "both");
        assert_eq!(outcome(None, None, Some("B")), (1, 0), "nobody spoke of it before");
        assert_eq!(outcome(None, Some("A"), Some("B")), (0, 1), "only we did");
        assert_eq!(outcome(Some("A"), None, Some("A")), (0, 0), "we emptied it");
        assert_eq!(outcome(Some("A"), None, Some("B")), (0, 1));
        assert_eq!(outcome(Some("A"), Some("B"), None), (0, 0), "they say nothing of it");
    }

    #[test]
    fn a_conflict_is_held_against_what_was_taken_before_it() {
        let row = record_conflicts::Model {
            practice_id: Uuid::nil(),
            id: Uuid::from_u128(7),
            external_id: Uuid::nil(),
            grower_id: None,
            member: "name".to_owned(),
            base: Some(json!("A")),
            theirs: json!("C"),
            version: 1,
            created_at: chrono::DateTime::UNIX_EPOCH,
            updated_at: chrono::DateTime::UNIX_EPOCH,
        };
        // They said C last, which is kept; ours is B.
        let outcome = |ours: &str, theirs: &str| {
            let (base, ours, theirs) =
                (members(Some("C")), members(Some(ours)), members(Some(theirs)));
            let sides = Sides { base: &base, ours: &ours, theirs: &theirs };
            sides.compare(std::slice::from_ref(&row))
        };
        let again = outcome("B", "C");
        assert_eq!(counts(&again), (0, 1), "the same conflict");
        assert_eq!(again.disputed[0].conflict_id, Some(Uuid::from_u128(7)));
        assert_eq!(again.disputed[0].base, json!("A"));
        assert_eq!(counts(&outcome("B", "D")), (0, 1));
        for (ours, theirs, changes) in [("B", "A", 0), ("B", "B", 0), ("A", "D", 1)] {
            let settled = outcome(ours, theirs);
            assert_eq!(counts(&settled), (changes, 0), "{ours} {theirs}");
            assert_eq!(settled.settled, [Uuid::from_u128(7)]);
        }
    }

    #[test]
    fn quantities_are_compared_by_what_they_measure() {
        let of = |value: f64, unit: &str| json!({"value": value, "unit": unit});
        assert!(same(&of(30.0, "[in_i]"), &of(76.2, "cm")));
        assert!(!same(&of(30.0, "[in_i]"), &of(30.0, "cm")));
        assert!(same(&json!([42, -93.0]), &json!([42.0, -93])));
        assert!(!same(&json!([42, -93]), &json!([42])));
        assert!(!same(&Value::Null, &json!(0)));
        assert!(same(&json!({"type": "Polygon"}), &json!({"type": "Polygon"})));
    }

    proptest! {
        /// Whatever was said: once it is taken, the same record changes nothing.
        #[test]
        fn what_was_taken_is_taken_no_more(
            base in proptest::option::of("[ab]"),
            ours in proptest::option::of("[abc]"),
            theirs in proptest::option::of("[abcd]"),
        ) {
            let (base, mut ours, theirs) =
                (members(base.as_deref()), members(ours.as_deref()), members(theirs.as_deref()));
            let first = Sides { base: &base, ours: &ours, theirs: &theirs }.compare(&[]);
            for change in &first.changes {
                prop_assert_eq!(change.member, Member::Name);
                ours.insert("name".to_owned(), change.to.clone());
            }
            // What they said last is kept, also where it is in conflict.
            let mut taken = base;
            taken.extend(theirs.clone());
            let again = Sides { base: &taken, ours: &ours, theirs: &theirs }.compare(&[]);
            prop_assert_eq!(counts(&again), (0, 0));
        }
    }
}
