//! From the table to ranked findings.

use super::finding::{Class, Finding};
use super::rules::{RULES, Rule};
use super::scene::Scene;
use crate::provenance::Text;

/// Every rule that speaks, ranked: class first, then strength, then the order of the table.
///
/// A cause that concerns only some rows is a matter of those rows, whatever its class.
pub(super) fn findings(scene: &Scene<'_>) -> Vec<(Finding, &'static Rule)> {
    let mut found: Vec<(Finding, &'static Rule)> =
        RULES.iter().filter_map(|rule| Some((finding(rule, scene)?, rule))).collect();
    // The sort is stable, so the order of the table decides between equals.
    found.sort_by_key(|(finding, _)| (finding.class, finding.strength));
    found
}

fn finding(rule: &Rule, scene: &Scene<'_>) -> Option<Finding> {
    let evidence = (rule.sees)(scene)?;
    let class = if evidence.rows.is_empty() { rule.class } else { rule.class.max(Class::SomeRows) };
    Some(Finding {
        cause: rule.cause,
        class,
        strength: evidence.strength(),
        rows: evidence.rows,
        reading: Text::Borrowed(rule.reading),
        check: Text::Borrowed(rule.check),
        change: Text::Borrowed(rule.change),
        evidence_for: evidence.pro,
        evidence_against: evidence.con,
        mark: rule.mark,
        source: Text::Borrowed(rule.source),
    })
}
