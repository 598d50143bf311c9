//! From the wire to a trial, every refusal named.

use domain::trial::analysis::{PartPlot, SplitPlot};

use super::dto::{SplitFactor, SplitPart, SplitPlotIn};
use crate::http::{ApiError, BadMember, Refused, text};
use crate::v1::what_if::member::{entries, number, whole};
use crate::v1::what_if::trial_plan::confidence;

/// A trial and the names that its words use.
pub(super) struct Parsed {
    pub trial: SplitPlot,
    pub wholes: Factor,
    pub parts: Factor,
}

/// A factor.
pub(super) struct Factor {
    pub name: String,
    pub levels: Vec<String>,
}

impl SplitPlotIn {
    pub(super) fn parse(&self) -> Result<Parsed, ApiError> {
        let mut refused = Refused::default();
        let wholes = self.whole.parse("/whole", &mut refused);
        let parts = self.part.parse("/part", &mut refused);
        let confidence = refused.take(confidence("/confidence", self.confidence));
        let why = "two levels of each factor in one block make four plots";
        refused.take(entries("/plots", self.plots.len(), (4, 400), why));
        let (Some(wholes), Some(parts), Some(confidence)) = (wholes, parts, confidence) else {
            return Err(refused.into());
        };
        let plots = self.plots.iter().enumerate();
        let plots: Vec<PartPlot> = plots
            .filter_map(|(at, plot)| plot.parse(at, (&wholes, &parts), &mut refused))
            .collect();
        refused.finish()?;
        let trial =
            SplitPlot { wholes: wholes.levels.len(), parts: parts.levels.len(), plots, confidence };
        Ok(Parsed { trial, wholes, parts })
    }
}

impl SplitFactor {
    fn parse(&self, at: &str, refused: &mut Refused) -> Option<Factor> {
        let name = refused.take(text::line(&format!("{at}/name"), &self.name, 60));
        let why = "a comparison needs two";
        refused.take(entries(&format!("{at}/levels"), self.levels.len(), (2, 8), why))?;
        let mut levels: Vec<String> = Vec::new();
        for (i, given) in self.levels.iter().enumerate() {
            let pointer = format!("{at}/levels/{i}");
            let level = refused.take(text::name(&pointer, given))?;
            if levels.contains(&level) {
                let detail = "Another level has this name.";
                refused.add(BadMember::new(pointer, detail).given(&level));
            }
            levels.push(level);
        }
        Some(Factor { name: name?, levels })
    }
}

impl SplitPart {
    fn parse(
        &self,
        at: usize,
        (wholes, parts): (&Factor, &Factor),
        refused: &mut Refused,
    ) -> Option<PartPlot> {
        let pointer = |name: &str| format!("/plots/{at}/{name}");
        let why = "blocks are counted from 1";
        let block = refused.take(whole(&pointer("block"), self.block, (1, 400), why));
        let of_whole = refused.take(wholes.place(&pointer("whole"), &self.whole));
        let part = refused.take(parts.place(&pointer("part"), &self.part));
        let why = "a plot that was measured has a value";
        refused.take(entries(&pointer("values"), self.values.len(), (1, 200), why));
        for (i, value) in self.values.iter().enumerate() {
            let why = "no plot gives more";
            refused.take(number(&pointer(&format!("values/{i}")), *value, (-1e9, 1e9), why));
        }
        let block = usize::try_from(block?.saturating_sub(1)).ok()?;
        let (of_whole, part) = (of_whole?, part?);
        Some(PartPlot { block, whole: of_whole, part, values: self.values.clone() })
    }
}

impl Factor {
    fn place(&self, pointer: &str, name: &str) -> Result<usize, BadMember> {
        self.levels.iter().position(|level| level == name.trim()).ok_or_else(|| {
            BadMember::new(pointer, "No level has this name.")
                .given(name)
                .allowed(self.levels.join(", "))
        })
    }
}
