//! The plots of a trial as they stand after all entries.

use std::collections::BTreeMap;

use domain::trial::{Layout, Plot};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder};
use serde::de::DeserializeOwned;
use uuid::Uuid;

use super::entry::{LostContent, PlantedContent, ValuesContent};
use crate::auth::Scope;
use crate::entities::trial_entries::{self, Column, Kind};
use crate::entities::trials;
use crate::http::ApiError;
use crate::v1::trials::design::TrialDesign;
use crate::v1::trials::measured::{Wanted, wanted};
use crate::v1::trials::store;

/// A trial with what was found on its plots.
#[derive(Debug)]
pub struct Found {
    /// The row.
    pub row: trials::Model,
    /// What is compared.
    pub design: TrialDesign,
    /// What lies where.
    pub layout: Layout,
    /// What is measured.
    pub wanted: Vec<Wanted>,
    entries: BTreeMap<Key, trial_entries::Model>,
}

/// Plot, kind and response of an entry.
type Key = (u16, &'static str, String);

impl Found {
    /// Reads all entries of a trial; of what was corrected the last counts.
    pub async fn read(db: &impl ConnectionTrait, row: trials::Model) -> Result<Self, ApiError> {
        let scope = Scope::of_practice(row.practice_id);
        let rows = scope
            .trial_entries()
            .filter(Column::TrialId.eq(row.id))
            .order_by_asc(Column::Revision)
            .order_by_asc(Column::Id)
            .all(db)
            .await?;
        let mut entries = BTreeMap::new();
        for entry in rows {
            let plot = u16::try_from(entry.plot).map_err(ApiError::internal)?;
            entries.insert((plot, word(entry.kind), entry.response.clone()), entry);
        }
        let (design, layout) = (store::design_of(&row)?, store::layout_of(&row)?);
        let wanted = wanted(&design);
        Ok(Self { row, design, layout, wanted, entries })
    }

    /// The last entry of a kind for a plot.
    pub fn last(&self, plot: u16, kind: Kind, response: &str) -> Option<&trial_entries::Model> {
        self.entries.get(&(plot, word(kind), response.to_owned()))
    }

    /// What was read of a response on a plot.
    pub fn values(&self, plot: u16, response: &str) -> Result<Option<ValuesContent>, ApiError> {
        self.last(plot, Kind::Values, response).map(content).transpose()
    }

    /// The treatment that somebody saw on a plot.
    pub fn planted(&self, plot: u16) -> Result<Option<u16>, ApiError> {
        let found = self.last(plot, Kind::Planted, "").map(content::<PlantedContent>);
        Ok(found.transpose()?.map(|it| it.treatment))
    }

    /// The treatment of a plot: as planted where somebody said, else as laid out.
    pub fn treatment(&self, plot: &Plot) -> Result<u16, ApiError> {
        Ok(self.planted(plot.number)?.unwrap_or(plot.treatment))
    }

    /// Why a plot is lost, where it is.
    pub fn lost(&self, plot: u16) -> Result<Option<String>, ApiError> {
        let found = self.last(plot, Kind::Lost, "").map(content::<LostContent>);
        Ok(found.transpose()?.and_then(|it| it.reason))
    }

    /// The response of this word.
    pub fn response(&self, key: &str) -> Option<&Wanted> {
        self.wanted.iter().find(|it| it.key == key)
    }

    /// Id of the trial.
    pub fn id(&self) -> Uuid {
        self.row.id
    }
}

/// What stands in an entry.
pub(super) fn content<T: DeserializeOwned>(row: &trial_entries::Model) -> Result<T, ApiError> {
    serde_json::from_value(row.content.clone()).map_err(ApiError::internal)
}

fn word(kind: Kind) -> &'static str {
    match kind {
        Kind::Values => "values",
        Kind::Planted => "planted",
        Kind::Lost => "lost",
    }
}
