//! Products that share a tank: the label first, then a jar.

use super::plan::InFurrowPlan;
use crate::provenance::{Coefficients, Mark, Reason, sources};

/// One addition to the jar, in its turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct JarStep {
    /// What goes in.
    pub add: &'static str,
    /// How much of each.
    pub amount: &'static str,
}

const fn jar(add: &'static str, amount: &'static str) -> JarStep {
    JarStep { add, amount }
}

/// What goes into the jar, in order (Utah State University Extension 2012). Shake after each; judge
/// after 15 minutes.
pub const JAR_TEST: [JarStep; 10] = [
    jar("the water that will be used", "1 pint (0.5 L)"),
    jar("products in soluble pouches", "1 tablespoon (15 mL)"),
    jar("wettable powders", "1 tablespoon (15 mL)"),
    jar("dry flowables", "1 tablespoon (15 mL)"),
    jar("capsule suspensions", "1 teaspoon (5 mL)"),
    jar("emulsifiable concentrates", "1 teaspoon (5 mL)"),
    jar("soluble liquids", "1 teaspoon (5 mL)"),
    jar("soluble powders", "1 teaspoon (5 mL)"),
    jar("adjuvants", "1 teaspoon (5 mL)"),
    jar("fertilizer", "1.1 g"),
];

/// The whole jar test in a sentence.
fn jar_test() -> String {
    let order: Vec<String> =
        JAR_TEST.iter().map(|step| format!("{} {}", step.amount, step.add)).collect();
    format!("jar test first, shaking after each: {}; judge it after 15 minutes", order.join(", "))
}

/// What to heed where products share the tank.
pub(super) fn mixing(plan: &InFurrowPlan, k: &Coefficients) -> Vec<Reason> {
    if plan.mixed_with == 0 {
        return Vec::new();
    }
    let mut heed = vec![
        Reason::fixed(
            "mixing is unlawful where one label forbids it; read them all first",
            Mark::Read,
            sources::MICHIGAN_MIXING,
        ),
        Reason::made(jar_test(), Mark::Read, sources::UTAH_JAR),
        Reason::fixed(
            "a jar shows whether a mix flows, not whether it spares the seed or works",
            Mark::Read,
            sources::MICHIGAN_MIXING,
        ),
    ];
    let most = &k.most_partners;
    if f64::from(plan.mixed_with) > most.value {
        let text = format!(
            "{} other products in the tank: take no more than {:.0}",
            plan.mixed_with, most.value
        );
        heed.insert(1, Reason::made(text, most.mark, most.source.clone()));
    }
    heed
}
