//! Statistics of trials.

use domain::stats::{
    Dunnett, Tested, bartlett, benjamini_hochberg, brown_forsythe, cochran, effect_for_power,
    grubbs, noncentral_t_above, shapiro_wilk, sign_flip, signed_rank, studentized_critical,
    studentized_tail, t_power,
};
use domain::trial::analysis::{
    Analysis, Better, CheckKind, Confidence, DesignKind, PartPlot, Plot, Response, Scale,
    SplitPlot, SplitTerm, Term, Trial, analyse, split_plot,
};
use domain::trial::power::Planned;
use serde_json::{Value, json};

use crate::args::{Args, Function, one};

pub(crate) const FUNCTIONS: &[(&str, Function)] = &[
    ("studentized_tail", |a| one(studentized_tail(a.num(0), a.whole(1), a.num(2)))),
    ("studentized_critical", |a| one(studentized_critical(a.num(0), a.whole(1), a.num(2)))),
    ("noncentral_t_above", |a| one(noncentral_t_above(a.num(0), a.num(1), a.num(2)))),
    ("t_power", |a| one(t_power(a.num(0), a.num(1), a.num(2)))),
    ("effect_for_power", |a| one(effect_for_power(a.num(0), a.num(1), a.num(2)))),
    ("dunnett_tail", |a| one(Dunnett::of(&a.list(1), a.num(2)).map(|d| d.tail(a.num(0))))),
    ("dunnett_critical", |a| {
        one(Dunnett::of(&a.list(1), a.num(2)).and_then(|d| d.critical(a.num(0))))
    }),
    ("benjamini_hochberg", |a| json!(benjamini_hochberg(&a.list(0)))),
    ("grubbs", |a| grubbs(&a.list(0)).map_or(Value::Null, |f| json!([f.g, f.p]))),
    ("bartlett", |a| tested(bartlett(&a.lists(0)))),
    ("brown_forsythe", |a| tested(brown_forsythe(&a.lists(0)))),
    ("cochran", |a| tested(cochran(&a.list(0), a.num(1)).map(|(_, t)| t))),
    ("shapiro_wilk", |a| tested(shapiro_wilk(&a.list(0)))),
    ("signed_rank", |a| {
        signed_rank(&a.list(0)).map_or(Value::Null, |f| json!([f.above.min(f.below), f.p]))
    }),
    ("sign_flip", |a| sign_flip(&a.list(0)).map_or(Value::Null, |f| json!([f.p]))),
    // design, treatments, control or not, confidence, replications, difference, sd
    ("trial_power", |a| one(planned(a).power(a.whole(4), a.num(5), a.num(6)))),
    // design, treatments, control or not, confidence, difference, sd, power
    ("trial_size", |a| {
        one(planned(a).replications(a.num(4), a.num(5), a.num(6), 100).map(f64::from))
    }),
    // design, treatments, control or -1, confidence, plots of [treatment, block, [values]]
    ("trial", trial),
    // levels on whole plots, levels on parts, confidence, plots of [block, whole, part, value]
    ("split_plot", split),
];

fn tested(found: Option<Tested>) -> Value {
    found.map_or(Value::Null, |t| json!([t.statistic, t.p]))
}

fn design(word: &str) -> DesignKind {
    serde_json::from_value(json!(word)).unwrap()
}

fn confidence(percent: u32) -> Confidence {
    if percent == 90 { Confidence::Ninety } else { Confidence::NinetyFive }
}

fn planned(a: &Args<'_>) -> Planned {
    Planned {
        design: design(a.text(0)),
        treatments: a.whole(1),
        control: a.whole(2) == 1,
        confidence: confidence(a.whole(3)),
    }
}

fn trial(a: &Args<'_>) -> Value {
    let plots = a.0[4].as_array().unwrap().iter().map(|plot| {
        let (treatment, block, values): (usize, usize, Vec<f64>) =
            serde_json::from_value(plot.clone()).unwrap();
        Plot { treatment, block, values }
    });
    let trial = Trial {
        design: design(a.text(0)),
        treatments: (0..a.whole(1)).map(|t| t.to_string()).collect(),
        control: usize::try_from(a.0[2].as_i64().unwrap()).ok(),
        plots: plots.collect(),
        randomised: true,
        confidence: confidence(a.whole(3)),
        response: Response {
            what: "yield".to_owned(),
            unit: String::new(),
            better: Better::Neither,
            scale: Scale::Measure,
        },
        matters: None,
    };
    analyse(&trial).map_or(Value::Null, |found| figures(&found))
}

fn split(a: &Args<'_>) -> Value {
    let plots = a.0[3].as_array().unwrap().iter().map(|plot| {
        let (block, whole, part, value): (usize, usize, usize, f64) =
            serde_json::from_value(plot.clone()).unwrap();
        PartPlot { block, whole, part, values: vec![value] }
    });
    let level = |at| usize::try_from(a.whole(at)).unwrap();
    let trial = SplitPlot {
        wholes: level(0),
        parts: level(1),
        plots: plots.collect(),
        confidence: confidence(a.whole(2)),
    };
    split_plot(&trial).map_or(Value::Null, |found| {
        let line = |term| {
            let line = found.table.iter().find(|l| l.term == term).unwrap();
            json!([line.f, line.error_df, line.p])
        };
        let least = found.least_differences.iter().map(|it| json!([it.se, it.least]));
        json!({
            "wholes": line(SplitTerm::Wholes),
            "parts": line(SplitTerm::Parts),
            "together": line(SplitTerm::Together),
            "means": found.cell_means.concat(),
            "least": least.collect::<Vec<Value>>(),
        })
    })
}

fn figures(found: &Analysis) -> Value {
    let line = |term| found.table.iter().find(|l| l.term == term);
    let check = |kind| {
        let of = found.checks.iter().find(|c| c.kind == kind)?;
        Some([of.statistic?, of.p?])
    };
    let effects = found
        .effects
        .iter()
        .map(|e| json!([e.treatment, e.against, e.difference, e.se, e.t, e.p, e.low, e.high]));
    json!({
        "effects": effects.collect::<Vec<Value>>(),
        "means": found.means.iter().map(|m| m.adjusted).collect::<Vec<_>>(),
        "mean_ses": found.means.iter().map(|m| m.se).collect::<Vec<_>>(),
        "f": line(Term::Treatments).and_then(|l| l.f),
        "p": line(Term::Treatments).and_then(|l| l.p),
        "error": line(Term::Plots).and_then(|l| l.mean_square),
        "df": found.rests_on.error_df,
        "additive": check(CheckKind::SameInAllBlocks),
        "apart": check(CheckKind::OneApart),
        "bell": check(CheckKind::Bell),
        "scatter": check(CheckKind::SameScatter),
        "parts": found.components.map(|c| [c.plots, c.samples]),
    })
}
