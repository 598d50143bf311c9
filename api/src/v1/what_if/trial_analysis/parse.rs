//! From the wire to a trial, every refusal named.

use domain::trial::analysis::{Plot, Response, Scale, Trial, TrialError};

use super::dto::{TrialDataIn, TrialDataPlot};
use crate::http::{ApiError, BadMember, Refused, text};
use crate::v1::what_if::member::{entries, number, whole};
use crate::v1::what_if::trial_plan::{confidence, size};

const MOST_PLOTS: usize = 400;
const MOST_BLOCKS: u32 = 400;
const MOST_VALUES: usize = 200;

impl TrialDataIn {
    pub(super) fn parse(&self) -> Result<Trial, ApiError> {
        let mut refused = Refused::default();
        let why = "a comparison needs two; more than six need another design";
        refused.take(entries("/treatments", self.treatments.len(), (2, 6), why));
        let names = self.names(&mut refused);
        let control =
            self.control.as_ref().and_then(|name| refused.take(place(&names, "/control", name)));
        let confidence = refused.take(confidence("/confidence", self.confidence));
        let what = refused.take(text::line("/response/what", &self.response.what, 60));
        let unit = match &self.response.unit {
            None => Some(String::new()),
            Some(unit) => refused.take(text::line("/response/unit", unit, 20)),
        };
        let matters = self.matters.and_then(|given| refused.take(size("/matters", given)));
        refused.take(entries("/plots", self.plots.len(), (1, MOST_PLOTS), "one field holds fewer"));
        let plots = self.plots.iter().enumerate();
        let plots: Vec<Plot> =
            plots.filter_map(|(at, plot)| plot.parse(at, self, &names, &mut refused)).collect();
        let (Some(confidence), Some(what), Some(unit)) = (confidence, what, unit) else {
            return Err(refused.into());
        };
        refused.finish()?;
        let scale = if self.response.share { Scale::Percent } else { Scale::Measure };
        Ok(Trial {
            design: self.design.into(),
            treatments: names,
            control,
            plots,
            randomised: self.randomised,
            confidence,
            response: Response { what, unit, better: self.response.better.into(), scale },
            matters,
        })
    }

    fn names(&self, refused: &mut Refused) -> Vec<String> {
        let mut names: Vec<String> = Vec::new();
        for (at, given) in self.treatments.iter().enumerate() {
            let pointer = format!("/treatments/{at}");
            let Some(name) = refused.take(text::name(&pointer, given)) else { continue };
            if names.contains(&name) {
                let detail = "Another treatment has this name.";
                refused.add(BadMember::new(pointer, detail).given(&name));
            }
            names.push(name);
        }
        names
    }
}

impl TrialDataPlot {
    fn parse(
        &self,
        at: usize,
        data: &TrialDataIn,
        names: &[String],
        refused: &mut Refused,
    ) -> Option<Plot> {
        let pointer = |name: &str| format!("/plots/{at}/{name}");
        let treatment = refused.take(place(names, &pointer("treatment"), &self.treatment));
        let blocked = domain::trial::analysis::DesignKind::from(data.design).blocked();
        let block = match (self.block, blocked) {
            (None, true) => {
                let detail = "The plots of this design lie in blocks: say in which.";
                refused.add(BadMember::new(pointer("block"), detail));
                None
            }
            (None, false) => Some(1),
            (Some(block), _) => {
                let why = "blocks are counted from 1";
                refused.take(whole(&pointer("block"), block, (1, MOST_BLOCKS), why))
            }
        };
        let why = "a plot is sampled as often as one can walk";
        refused.take(entries(&pointer("values"), self.values.len(), (0, MOST_VALUES), why));
        let (range, why) = if data.response.share {
            ((0.0, 100.0), "a share lies from 0 to 100 %")
        } else {
            ((-1e9, 1e9), "no plot gives more")
        };
        for (i, value) in self.values.iter().enumerate() {
            refused.take(number(&pointer(&format!("values/{i}")), *value, range, why));
        }
        let block = usize::try_from(block?.saturating_sub(1)).ok()?;
        Some(Plot { treatment: treatment?, block, values: self.values.clone() })
    }
}

fn place(names: &[String], pointer: &str, name: &str) -> Result<usize, BadMember> {
    names.iter().position(|n| n == name.trim()).ok_or_else(|| {
        BadMember::new(pointer, "No treatment has this name.").given(name).allowed(names.join(", "))
    })
}

/// Where the plots contradict each other.
pub(super) fn bad(error: TrialError) -> BadMember {
    let pointer = match error {
        TrialError::OneTreatment | TrialError::NotAPair(_) => "/treatments".to_owned(),
        TrialError::NoSuchControl(_) => "/control".to_owned(),
        TrialError::NothingMatters => "/matters".to_owned(),
        TrialError::NoValues | TrialError::NoneLeft { .. } | TrialError::NotJoined => {
            "/plots".to_owned()
        }
        TrialError::Twice { plot, .. } | TrialError::NoSuchTreatment { plot, .. } => {
            format!("/plots/{plot}")
        }
        TrialError::NotANumber { plot } | TrialError::NoShare { plot } => {
            format!("/plots/{plot}/values")
        }
    };
    let mut detail = error.to_string();
    if let TrialError::Twice { first, .. } = error {
        detail = format!(
            "Plot {first} of this list (counted from 0) has the same treatment in the same block: \
             put the values of one plot together, or give it its own block"
        );
    }
    BadMember::new(pointer, format!("{}.", capital(&detail)))
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}
