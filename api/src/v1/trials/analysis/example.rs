//! The example of the API document, made by the code that it is an example of.

use domain::trial::analysis::{
    Better, Confidence, DesignKind, Plot, Response, Scale, Trial, analyse,
};
use serde_json::{Value, json};

use super::figures::figures;

/// An analysis of five blocks.
pub(super) fn analysis() -> Value {
    let treatments = vec!["smooth wheels".to_owned(), "spiked wheels".to_owned()];
    let found = [(86.0, 91.0), (88.0, 92.0), (84.0, 91.0), (89.0, 93.0), (87.0, 91.0)];
    let plots = found.iter().enumerate().flat_map(|(block, (smooth, spiked))| {
        [(0, smooth), (1, spiked)].map(|(treatment, value)| Plot {
            treatment,
            block,
            values: vec![*value],
        })
    });
    let trial = Trial {
        design: DesignKind::SplitPlanter,
        treatments: treatments.clone(),
        control: Some(0),
        plots: plots.collect(),
        randomised: true,
        confidence: Confidence::NinetyFive,
        response: Response {
            what: "emergence".to_owned(),
            unit: "%".to_owned(),
            better: Better::Higher,
            scale: Scale::Percent,
        },
        matters: Some(3.0),
    };
    let Ok(analysis) = analyse(&trial) else { return Value::Null };
    json!({
        "trial_id": "01964f1e-6a00-7000-8000-000000000051",
        "status": "running",
        "randomised": true,
        "plots": 10,
        "responses": [{
            "response": "emergence",
            "name": "emergence",
            "unit": "%",
            "matters": 3,
            "recorded": 10,
            "notices": [],
            "verdict": analysis.verdict,
            "figures": figures(&analysis, &treatments)
        }]
    })
}
