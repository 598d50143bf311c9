//! Work rate, seed and power of one recommendation.

use super::down_force::DownForceAdvice;
use super::draft::{DraftRow, Hauling, PowerAdvice, RowDraft, power, surface_of};
use super::goals::Goals;
use super::seed_order::{FieldSeed, SeedPack, seed_order};
use super::seeding::SeedingAdvice;
use super::speed::SpeedAdvice;
use super::work::{Pacing, WorkAdvice, WorkArea, load_at, work};
use crate::conditions::{Conditions, TextureClass};
use crate::planter::Planter;
use crate::provenance::{Advice, Coefficients};
use crate::quantity::{Force, Speed};

/// What is hauled, where.
#[derive(Clone, Copy)]
pub(super) struct Haul<'a> {
    pub planter: &'a Planter,
    pub field: &'a Conditions,
    pub goals: &'a Goals,
    /// The speed for which the forces were worked out.
    pub wanted: Speed,
    /// The speed that is advised.
    pub speed: SpeedAdvice,
    pub force: &'a DownForceAdvice,
}

impl Haul<'_> {
    /// Acres, days, the price of speed, and seed for the area.
    pub(super) fn work(
        &self,
        seeding: Option<&SeedingAdvice>,
        k: &Coefficients,
    ) -> Option<Advice<WorkAdvice>> {
        let goal = self.goals.work.unwrap_or_default();
        let pacing = Pacing {
            width: self.planter.row_width * f64::from(self.planter.rows),
            speed: self.speed.start,
            contact: Some(self.speed.most),
            load: Some(load_at(self.load(), self.wanted, self.speed.start, k)),
            crop: self.field.crop,
            date: self.field.planting_date,
        };
        let mut advice = work(&pacing, &goal, k)?;
        let choice = &mut advice.choice;
        let area = (choice.area_from == WorkArea::Given).then_some(choice.area);
        choice.seed = area.zip(seeding).map(|(area, seeding)| {
            let here = FieldSeed { area, rate: seeding.rate };
            seed_order(self.field.crop, &[here], &SeedPack::default(), k)
        });
        Some(advice)
    }

    /// Draft and power at the advised speed.
    pub(super) fn power(&self, k: &Coefficients) -> Advice<PowerAdvice> {
        let hauling = Hauling {
            rows: self.planter.rows,
            row: RowDraft::Table(DraftRow::of(self.planter)),
            texture: self.field.texture.map(TextureClass::group),
            speed: self.speed.start,
            tractor: None,
            surface: self.field.moisture.map(surface_of),
        };
        power(&hauling, k)
    }

    /// The likely load with a half-full hopper at the speed of the forces; below nothing when the
    /// unit rides out. What is set, less what is needed for the aim, is what it lies above the aim.
    fn load(&self) -> Force {
        self.force.per_row - self.force.need + self.force.window.aim
    }
}
