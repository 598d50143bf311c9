//! Each rule of the table: it speaks, it stays silent on its near case, it knows what speaks against.

use domain::dig::{Cause, Change, Class, RULES, Strength};

use super::digs::Setup;
use super::{iron, settings};

pub(crate) struct Case {
    /// What is found.
    pub(crate) cause: Cause,
    /// The rule speaks, and is dealt with first.
    pub(crate) fires: fn() -> Setup,
    /// What is proposed then.
    pub(crate) proposes: fn(&Change) -> bool,
    /// Near, but the rule must not speak.
    pub(crate) silent: fn() -> Setup,
    /// The rule speaks, with a reading against it.
    pub(crate) against: fn() -> Setup,
    /// That reading.
    pub(crate) says: &'static str,
}

pub(crate) fn cases() -> impl Iterator<Item = &'static Case> {
    iron::CASES.iter().chain(settings::CASES)
}

#[test]
fn every_rule_speaks_on_its_case_and_is_dealt_with_first() {
    for case in cases() {
        let judged = (case.fires)().judged();
        let first = judged.findings.first();
        let found: Vec<Cause> = judged.findings.iter().map(|f| f.cause).collect();
        assert_eq!(first.map(|f| f.cause), Some(case.cause), "{:?}: {found:?}", case.cause);
        assert_eq!(judged.proposal.cause, Some(case.cause));
        let change = &judged.proposal.change;
        assert!((case.proposes)(change), "{:?}: {change:?}", case.cause);
        assert!(
            !judged.proposal.next_dig.is_empty(),
            "{:?} says nothing of the next dig",
            case.cause
        );
    }
}

#[test]
fn every_rule_is_silent_on_its_near_case() {
    for case in cases() {
        let judged = (case.silent)().judged();
        let spoke = judged.findings.iter().any(|f| f.cause == case.cause);
        assert!(!spoke, "{:?} spoke: {:?}", case.cause, judged.findings);
    }
}

#[test]
fn every_rule_has_a_case_and_says_all_that_a_reader_needs() {
    let rules: Vec<Cause> = RULES.iter().map(|r| r.cause).collect();
    let cases: Vec<Cause> = cases().map(|c| c.cause).collect();
    assert_eq!(rules, cases, "one case for each rule, in the order of the table");
    for rule in RULES {
        for words in [rule.when, rule.reading, rule.check, rule.change, rule.size, rule.source] {
            assert!(!words.is_empty(), "{:?}", rule.cause);
        }
    }
    let order: Vec<Class> = RULES.iter().map(|r| r.class).collect();
    assert!(order.is_sorted(), "soil, iron, settings, rows, closing, seed");
}

#[test]
fn every_rule_names_what_speaks_against_it() {
    for case in cases() {
        let judged = (case.against)().judged();
        let finding = judged.findings.iter().find(|f| f.cause == case.cause);
        let finding = finding.unwrap_or_else(|| panic!("{:?}: {:?}", case.cause, judged.findings));
        let said = finding.evidence_against.iter().any(|words| words.contains(case.says));
        assert!(said, "{finding:?}");
        assert_ne!(finding.strength, Strength::Strong, "{finding:?}");
        assert!(!finding.evidence_for.is_empty(), "{finding:?}");
    }
}
