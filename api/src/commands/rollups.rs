//! `dibble rollups`

use std::time::Instant;

use api::app::{App, Config};
use api::config::Settings;
use api::entities::practices;
use api::season::{self, Rebuilt};
use sea_orm::EntityTrait;
use uuid::Uuid;

use super::{BoxError, say};

/// What can be done with what seasons add up to.
#[derive(Debug, clap::Subcommand)]
pub(crate) enum Command {
    /// Count all seasons anew from what is stored.
    ///
    /// Needed after a version that reads digs in another way. Reports of running services follow at
    /// once. Writes of the practice wait meanwhile.
    Rebuild(Rebuild),
}

/// Whose seasons.
#[derive(Debug, clap::Args)]
pub(crate) struct Rebuild {
    /// Id of the only practice to do; all when absent.
    #[arg(long)]
    practice: Option<Uuid>,
    #[command(flatten)]
    settings: Settings,
}

/// Does so and ends.
pub(crate) async fn rebuild(arguments: Rebuild) -> Result<(), BoxError> {
    let Rebuild { practice, settings } = arguments;
    let state = App::state(&Config::of(settings)).await?;
    let mut all = practices::Entity::find().all(&state.db).await?;
    all.retain(|one| practice.is_none_or(|id| one.id == id));
    if let (Some(id), true) = (practice, all.is_empty()) {
        return Err(format!("there is no practice {id}").into());
    }
    for practices::Model { id, name, .. } in all {
        let start = Instant::now();
        let Rebuilt { digs, unreadable, fields } = season::rebuild(&state.db, id).await?;
        let took = start.elapsed().as_secs_f64();
        say(&format!(
            "{name}: {digs} dig checks, {unreadable} can't be read, {fields} seasons of fields; \
             {took:.1} s"
        ));
    }
    Ok(())
}
