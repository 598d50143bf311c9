//! What the pages of a trial say, gathered from the rows they rest on.

use domain::trial::Layout;
use sea_orm::{ConnectionTrait, EntityTrait};

use crate::auth::Scope;
use crate::entities::{practices, trials};
use crate::http::ApiError;
use crate::v1::trials::design::TrialDesign;
use crate::v1::trials::measured::{Wanted, wanted};
use crate::v1::trials::store;
use crate::v1::{farms, fields, growers, planters};

/// What the pages of a trial say.
#[derive(Debug)]
pub(in crate::v1::trials) struct Facts {
    pub practice: String,
    pub grower: String,
    pub farm: String,
    pub field: String,
    pub planter: String,
    /// Rows of the planter as it is made up now.
    pub planter_rows: u16,
    pub row: trials::Model,
    pub design: TrialDesign,
    pub layout: Layout,
    pub wanted: Vec<Wanted>,
}

impl Facts {
    /// Reads the names. The caller may see the trial, and so what it names.
    pub(in crate::v1::trials) async fn of(
        db: &impl ConnectionTrait,
        row: trials::Model,
    ) -> Result<Self, ApiError> {
        let scope = Scope::of_practice(row.practice_id);
        let practice = practices::Entity::find_by_id(row.practice_id).one(db).await?;
        let field = fields::store::find(db, scope, row.field_id).await?;
        let farm = farms::store::find(db, scope, field.farm_id).await?;
        let grower = growers::store::find(db, scope, farm.grower_id).await?;
        let planter = planters::store::find(db, scope, row.planter_id).await?;
        let design = store::design_of(&row)?;
        Ok(Self {
            practice: practice.map(|row| row.name).unwrap_or_default(),
            grower: grower.name,
            farm: farm.name,
            field: field.name,
            planter_rows: planters::store::makeup(&planter)?.rows,
            planter: planter.name,
            layout: store::layout_of(&row)?,
            wanted: wanted(&design),
            design,
            row,
        })
    }

    /// The letter of a treatment.
    pub(in crate::v1::trials) fn letter(place: u16) -> char {
        u8::try_from(place).ok().and_then(|place| b'A'.checked_add(place)).map_or('?', char::from)
    }
}
