//! From the wire to the domain: the only way, with all that is wrong at once.

use domain::planter::Planter;
use domain::quantity::{Length, Measured, bounds};
use domain::trial::{self, Design, DesignFault, Order, Rows, Treatment, Way};

use super::design::{MOST_SAMPLES, TreatmentIn, TrialDesign, TrialWay};
use super::measured;
use super::words::{ResponseKind, TrialOrder};
use crate::http::{BadMember, Refused, text};
use crate::v1::units::Units;

/// Longest name of a treatment.
const TREATMENT_MOST: usize = 60;
/// Samples of a plot where nobody says.
pub(super) const SAMPLES: u16 = 3;

impl TrialDesign {
    /// The same with units and seed, where they were left to us.
    pub(super) fn settled(&self, units: Units, seed: u32) -> Self {
        let drawn = self.order == TrialOrder::Randomised;
        Self {
            responses: self.responses.iter().map(|it| it.settled(units)).collect(),
            seed: self.seed.or(drawn.then_some(seed)),
            ..self.clone()
        }
    }

    /// The design as the domain knows it, for this planter.
    pub(super) fn parse(&self, planter: &Planter) -> Result<Design, Vec<BadMember>> {
        let mut refused = Refused::default();
        for member in self.faults().into_iter().chain(measured::faults(self)) {
            refused.add(member);
        }
        let strip_length = refused.take(self.length());
        let design = Design {
            trying: self.trying.into(),
            treatments: self.treatments.iter().map(TreatmentIn::to_domain).collect(),
            way: self.way.to_domain(),
            blocks: self.blocks,
            border_rows: if self.by_rows() { 0 } else { self.border_rows.unwrap_or(1) },
            strip_length: strip_length.unwrap_or_else(|| Length::from_si(0.0)),
            harvest_rows: self.harvest_rows,
            order: match self.order {
                TrialOrder::Randomised => Order::Randomised { seed: self.seed.unwrap_or_default() },
                TrialOrder::AsListed => Order::AsListed,
            },
            planter: Rows {
                count: planter.rows,
                width: planter.row_width,
                behind_tyres: planter.tyre_rows.clone(),
            },
        };
        for fault in design.faults() {
            refused.add(member_of(&fault, "/design"));
        }
        let bad = refused.into_members();
        if bad.is_empty() { Ok(design) } else { Err(bad) }
    }

    /// Whether it lies on rows of the planter.
    pub fn by_rows(&self) -> bool {
        matches!(self.way, TrialWay::PlanterRows { .. })
    }

    /// Samples of a plot.
    pub fn samples(&self) -> u16 {
        self.samples.unwrap_or(SAMPLES)
    }

    fn length(&self) -> Result<Length, BadMember> {
        match &self.strip_length {
            Some(given) => given.parse("/design/strip_length", &bounds::STRIP_LENGTH),
            None if self.by_rows() => Ok(Length::from_si(0.0)),
            None => Err(BadMember::new("/design/strip_length", "Say how long a strip is.")
                .allowed("20 to 10000 [ft_i]")),
        }
    }

    fn faults(&self) -> Vec<BadMember> {
        let mut bad = Vec::new();
        for (place, it) in self.treatments.iter().enumerate() {
            let at = format!("/design/treatments/{place}/name");
            bad.extend(text::line(&at, &it.name, TREATMENT_MOST).err());
        }
        if let Some(question) = &self.question {
            bad.extend(text::notes("/design/question", question).err());
        }
        let mut whole = |at: &str, value: u16, (least, most): (u16, u16)| {
            if !(least..=most).contains(&value) {
                let member = BadMember::new(at, format!("{value} is outside {least} to {most}."));
                bad.push(member.given(value).allowed(format!("{least} to {most}")));
            }
        };
        whole("/design/samples", self.samples(), (1, MOST_SAMPLES));
        whole("/design/border_rows", self.border_rows.unwrap_or(1), (0, 32));
        whole("/design/harvest_rows", self.harvest_rows.unwrap_or(1), (1, 64));
        match self.way {
            TrialWay::PlanterRows { rows_each, .. } => {
                whole("/design/way/rows_each", rows_each, (1, 16));
            }
            TrialWay::Strips { passes_each } => {
                whole("/design/way/passes_each", passes_each, (1, 8));
            }
            TrialWay::SplitPlanter {} => {}
        }
        if self.order == TrialOrder::AsListed && self.seed.is_some() {
            let detail = "A layout as listed is not drawn, so it has no seed.";
            bad.push(BadMember::new("/design/seed", detail));
        }
        let weighed = self.responses.iter().any(|it| it.kind == ResponseKind::Yield);
        if self.by_rows() && weighed && self.harvest_rows.is_some() {
            bad.push(
                BadMember::new(
                    "/design/harvest_rows",
                    "Some rows of a pass can't be harvested by machine.",
                )
                .why("a combine takes all rows of the pass at once; harvest such rows by hand, or lay out strips"),
            );
        }
        bad
    }
}

impl TreatmentIn {
    fn to_domain(&self) -> Treatment {
        Treatment {
            name: self.name.trim().to_owned(),
            control: self.control,
            rows: self.rows.clone(),
        }
    }
}

impl TrialWay {
    fn to_domain(&self) -> Way {
        match *self {
            Self::PlanterRows { rows_each, moved } => Way::PlanterRows { each: rows_each, moved },
            Self::Strips { passes_each } => Way::Strips { passes: passes_each },
            Self::SplitPlanter {} => Way::SplitPlanter,
        }
    }
}

/// A fault of the domain at its member.
pub(super) fn member_of(fault: &DesignFault, at: &str) -> BadMember {
    let treatment = |place: &usize| format!("{at}/treatments/{place}");
    let pointer = match fault {
        DesignFault::Treatments(_) | DesignFault::SplitNeedsTwo(_) => format!("{at}/treatments"),
        DesignFault::SameName { treatment: place, .. } => format!("{}/name", treatment(place)),
        DesignFault::TwoControls { treatment: place } => format!("{}/control", treatment(place)),
        DesignFault::Blocks(_) => format!("{at}/blocks"),
        DesignFault::NoSuchRow { treatment: it, place, .. }
        | DesignFault::RowTwice { treatment: it, place, .. } => {
            format!("{}/rows/{place}", treatment(it))
        }
        DesignFault::RowsOfSome { treatment: place }
        | DesignFault::OnlyOddRows { treatment: place } => format!("{}/rows", treatment(place)),
        DesignFault::TooFewRows { .. } | DesignFault::NotByRows => format!("{at}/way"),
        DesignFault::AllBorder { .. } => format!("{at}/border_rows"),
        DesignFault::HarvestTooWide { .. } => format!("{at}/harvest_rows"),
    };
    let text = fault.to_string();
    let member = BadMember::new(pointer, text);
    match fault {
        DesignFault::Treatments(many) => member
            .given(many)
            .allowed(format!("2 to {} treatments", trial::design::MOST_TREATMENTS)),
        DesignFault::Blocks(many) => {
            member.given(many).allowed(format!("1 to {} blocks", trial::design::MOST_BLOCKS))
        }
        DesignFault::NoSuchRow { row, rows, .. } => {
            member.given(row).allowed(format!("1 to {rows}"))
        }
        DesignFault::RowTwice { row, .. } => member.given(row),
        DesignFault::HarvestTooWide { harvest, left } => {
            member.given(harvest).allowed(format!("at most {left}"))
        }
        _ => member,
    }
}
