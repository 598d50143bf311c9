//! Of what a data set is: one sheet and what came of it, or a season.

use uuid::Uuid;

use crate::auth::Scope;
use crate::exchange::forms::facts::SheetFacts;
use crate::season::gather::Of;
use crate::v1::units::Units;

/// Of what a data set is.
#[derive(Debug, Clone, Copy)]
pub struct Selection {
    /// What the caller sees, the season, the time.
    pub of: Of,
    /// Units of what is said in words.
    pub units: Units,
    /// Only this sheet, with what it refers to and what refers to it.
    pub(super) sheet: Option<OneSheet>,
}

/// What one sheet refers to.
#[derive(Debug, Clone, Copy)]
pub(super) struct OneSheet {
    pub(super) id: Uuid,
    pub(super) grower: Uuid,
    pub(super) farm: Uuid,
    pub(super) field: Uuid,
    pub(super) planter: Uuid,
}

impl Selection {
    /// All of a season that is in scope.
    pub fn season(of: Of, units: Units) -> Self {
        Self { of, units, sheet: None }
    }

    /// One sheet. `of` holds what the caller sees; its season is not asked for.
    pub fn sheet(facts: &SheetFacts, of: Of, units: Units) -> Self {
        let sheet = OneSheet {
            id: facts.row.id,
            grower: facts.grower.id,
            farm: facts.farm.id,
            field: facts.field.id,
            planter: facts.planter.id,
        };
        Self { of, units, sheet: Some(sheet) }
    }

    /// What the caller sees.
    pub(super) fn scope(&self) -> Scope {
        self.of.scope
    }
}
