//! A data set, written while it is read: documents first, so that it is known what the catalog must hold.
//! A page of rows is in memory at a time, and beside it only ids.

use actix_web::web::{Bytes, Data};
use futures_util::Stream;
use futures_util::stream::try_unfold;
use sea_orm::EntityTrait;
use serde_json::Value;
use uuid::Uuid;

use super::ROOT_SCHEMA;
use super::catalog;
use super::definitions::own_definitions;
use super::documents::{About, Named};
use super::out::Out;
use super::rows::{self, AT_ONCE, SHEETS_AT_ONCE};
use super::selection::Selection;
use crate::app::AppState;
use crate::entities::{practices, recommendations};
use crate::exchange::forms::external::ExternalIds;
use crate::exchange::forms::settings::Settings;
use crate::http::ApiError;
use crate::v1::recommendations::sheet::spoken;
use crate::v1::recommendations::store::{inputs_of, result_of};

/// What is written next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    Sheets,
    Plantings,
    Digs,
    Stands,
    Growers,
    Parties,
    Farms,
    Fields,
    Boundaries,
    Planters,
    Rest,
}

/// A data set that is being written.
pub struct DataSet {
    app: Data<AppState>,
    what: Selection,
    out: Out,
    named: Named,
    part: Option<Part>,
    after: Uuid,
}

impl DataSet {
    /// Begins one.
    pub fn new(app: Data<AppState>, what: Selection) -> Self {
        let mut out = Out::default();
        out.raw(&format!("{{\"rootSchemaVersion\":\"{ROOT_SCHEMA}\","));
        out.open("documents");
        let named = Named::default();
        Self { app, what, out, named, part: Some(Part::Sheets), after: Uuid::nil() }
    }

    /// All of it at once: for one sheet.
    pub async fn whole(mut self) -> Result<Vec<u8>, ApiError> {
        while let Some(part) = self.part {
            self.step(part).await?;
        }
        Ok(self.out.take())
    }

    /// Piece by piece. What fails before the first piece fails here.
    pub async fn stream(mut self) -> Result<impl Stream<Item = Result<Bytes, ApiError>>, ApiError> {
        self.step(Part::Sheets).await?;
        Ok(try_unfold(self, Self::more))
    }

    async fn more(mut self) -> Result<Option<(Bytes, Self)>, ApiError> {
        loop {
            let bytes = self.out.take();
            if !bytes.is_empty() {
                return Ok(Some((bytes.into(), self)));
            }
            let Some(part) = self.part else { return Ok(None) };
            self.step(part).await?;
        }
    }

    /// Writes a page of a part, and goes on to the next part after the last page.
    async fn step(&mut self, part: Part) -> Result<(), ApiError> {
        let read = match part {
            Part::Sheets => self.sheets().await?,
            Part::Plantings => self.plantings().await?,
            Part::Digs => self.digs().await?,
            Part::Stands => self.stands().await?,
            Part::Growers => self.growers().await?,
            Part::Parties => self.parties().await?,
            Part::Farms => self.farms().await?,
            Part::Fields => self.fields().await?,
            Part::Boundaries => self.boundaries().await?,
            Part::Planters => self.planters().await?,
            Part::Rest => self.rest()?,
        };
        match read {
            Some(last) => self.after = last,
            None => self.go_on(part),
        }
        Ok(())
    }

    fn go_on(&mut self, part: Part) {
        self.after = Uuid::nil();
        self.part = match part {
            Part::Sheets => Some(Part::Plantings),
            Part::Plantings => Some(Part::Digs),
            Part::Digs => Some(Part::Stands),
            Part::Stands => {
                self.out.close();
                self.out.raw(",");
                self.out.open("catalog");
                Some(Part::Growers)
            }
            Part::Growers => Some(Part::Parties),
            Part::Parties => Some(Part::Farms),
            Part::Farms => Some(Part::Fields),
            Part::Fields => Some(Part::Boundaries),
            Part::Boundaries => Some(Part::Planters),
            Part::Planters => Some(Part::Rest),
            Part::Rest => {
                self.out.close();
                self.out.raw("}");
                None
            }
        };
    }

    async fn external(&self, ids: Vec<Uuid>) -> Result<ExternalIds, ApiError> {
        ExternalIds::read(&self.app.db, self.what.scope().practice_id, &ids).await
    }

    async fn sheets(&mut self) -> Result<Option<Uuid>, ApiError> {
        let page = rows::sheets(&self.app.db, self.what, self.after).await?;
        let lands = rows::lands(&self.app.db, self.what, page.iter().map(|it| it.field_id)).await?;
        let external = ExternalIds::default();
        for row in &page {
            let Some(land) = lands.get(&row.field_id) else { continue };
            let about = About { land, external: &external, calendar: &self.what.of.calendar };
            let (settings, said) = self.told(row)?;
            let made = self.named.recommendation(row, &settings, &said, about);
            self.out.put("recommendations", &made)?;
        }
        Ok(last_of(&page, SHEETS_AT_ONCE, |it| it.id))
    }

    /// The figures of a sheet, and what it says in words.
    fn told(&self, row: &recommendations::Model) -> Result<(Settings, Vec<String>), ApiError> {
        let (inputs, worked) = (inputs_of(row)?, result_of(row)?);
        let settings = Settings::of(&inputs, &worked);
        let mut said = spoken(row, self.what.units.into())?;
        said.extend(worked.instructions);
        Ok((settings, said))
    }

    async fn plantings(&mut self) -> Result<Option<Uuid>, ApiError> {
        let page = rows::plantings(&self.app.db, self.what, self.after).await?;
        let lands = rows::lands(&self.app.db, self.what, page.iter().map(|it| it.field_id)).await?;
        let external = ExternalIds::default();
        for row in &page {
            let Some(land) = lands.get(&row.field_id) else { continue };
            let about = About { land, external: &external, calendar: &self.what.of.calendar };
            let made = self.named.planting(row, about);
            self.out.put("workRecords", &made)?;
        }
        Ok(last_of(&page, AT_ONCE, |it| it.id))
    }

    async fn digs(&mut self) -> Result<Option<Uuid>, ApiError> {
        let page = rows::digs(&self.app.db, self.what, self.after).await?;
        let fields = page.iter().filter_map(|it| self.named.field_of_sheet(it.recommendation_id));
        let lands = rows::lands(&self.app.db, self.what, fields).await?;
        let external = ExternalIds::default();
        for row in &page {
            let field = self.named.field_of_sheet(row.recommendation_id);
            let Some(land) = field.and_then(|id| lands.get(&id)) else { continue };
            let about = About { land, external: &external, calendar: &self.what.of.calendar };
            if let Some(made) = self.named.dig(row, about)? {
                self.out.put("workRecords", &made)?;
            }
        }
        Ok(last_of(&page, AT_ONCE, |it| it.id))
    }

    async fn stands(&mut self) -> Result<Option<Uuid>, ApiError> {
        let page = rows::stands(&self.app.db, self.what, self.after).await?;
        let lands = rows::lands(&self.app.db, self.what, page.iter().map(|it| it.field_id)).await?;
        let external = ExternalIds::default();
        for row in &page {
            let Some(land) = lands.get(&row.field_id) else { continue };
            let about = About { land, external: &external, calendar: &self.what.of.calendar };
            if let Some(made) = self.named.stand(row, about)? {
                self.out.put("workRecords", &made)?;
            }
        }
        Ok(last_of(&page, AT_ONCE, |it| it.id))
    }

    async fn growers(&mut self) -> Result<Option<Uuid>, ApiError> {
        let page = rows::growers(&self.app.db, self.what, self.after).await?;
        let external = self.external(page.iter().map(|it| it.id).collect()).await?;
        self.put_all("growers", page.iter().map(|it| catalog::grower(it, &external)))?;
        Ok(last_of(&page, AT_ONCE, |it| it.id))
    }

    async fn parties(&mut self) -> Result<Option<Uuid>, ApiError> {
        if self.after.is_nil() {
            let id = self.what.scope().practice_id;
            let practice = practices::Entity::find_by_id(id).one(&self.app.db).await?;
            self.put_all("parties", practice.iter().map(catalog::practice_as_party))?;
        }
        let page = rows::growers(&self.app.db, self.what, self.after).await?;
        self.put_all("parties", page.iter().map(catalog::grower_as_party))?;
        Ok(last_of(&page, AT_ONCE, |it| it.id))
    }

    async fn farms(&mut self) -> Result<Option<Uuid>, ApiError> {
        let page = rows::farms(&self.app.db, self.what, self.after).await?;
        let external = self.external(page.iter().map(|it| it.id).collect()).await?;
        self.put_all("farms", page.iter().map(|it| catalog::farm(it, &external)))?;
        Ok(last_of(&page, AT_ONCE, |it| it.id))
    }

    async fn fields(&mut self) -> Result<Option<Uuid>, ApiError> {
        let page = rows::fields(&self.app.db, self.what, self.after).await?;
        let external = self.external(page.iter().map(|it| it.id).collect()).await?;
        for row in &page {
            self.out.put("fields", &catalog::field(row, &external)?)?;
        }
        Ok(last_of(&page, AT_ONCE, |it| it.id))
    }

    async fn boundaries(&mut self) -> Result<Option<Uuid>, ApiError> {
        let page = rows::fields(&self.app.db, self.what, self.after).await?;
        for row in &page {
            if let Some(boundary) = catalog::boundary(row)? {
                self.out.put("fieldBoundaries", &boundary)?;
            }
        }
        Ok(last_of(&page, AT_ONCE, |it| it.id))
    }

    async fn planters(&mut self) -> Result<Option<Uuid>, ApiError> {
        let page = rows::planters(&self.app.db, self.what, self.after).await?;
        let external = self.external(page.iter().map(|it| it.id).collect()).await?;
        self.put_all("devices", page.iter().map(|it| catalog::device(it, &external)))?;
        Ok(last_of(&page, AT_ONCE, |it| it.id))
    }

    /// What is named by documents only.
    fn rest(&mut self) -> Result<Option<Uuid>, ApiError> {
        let (crops, seasons) = (self.named.crops(), self.named.seasons());
        let calendar = self.what.of.calendar;
        let zones: Vec<_> = self.named.zones.iter().copied().collect();
        let liquids: Vec<_> = self.named.liquids.iter().copied().collect();
        self.put_all("crops", crops.iter().map(|it| catalog::crop(it)))?;
        self.put_all("seasons", seasons.into_iter().map(|it| catalog::season(it, &calendar)))?;
        self.put_all("cropZones", zones.into_iter().map(catalog::zone))?;
        let seeds = crops.iter().map(|it| catalog::seed(it));
        self.put_all("products", seeds.chain(liquids.into_iter().map(catalog::liquid)))?;
        self.put_all("customDataTypeDefinitions", own_definitions())?;
        Ok(None)
    }

    fn put_all(
        &mut self,
        list: &'static str,
        objects: impl IntoIterator<Item = Value>,
    ) -> Result<(), ApiError> {
        objects.into_iter().try_for_each(|object| self.out.put(list, &object))
    }
}

/// The last row of a page that may have one after it.
fn last_of<T>(page: &[T], most: u64, id: impl Fn(&T) -> Uuid) -> Option<Uuid> {
    let full = u64::try_from(page.len()).is_ok_and(|rows| rows >= most);
    page.last().filter(|_| full).map(id)
}
