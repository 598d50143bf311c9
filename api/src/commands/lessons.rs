//! `dibble lessons`

use std::time::Instant;

use api::app::{App, Config};
use api::config::Settings;
use api::entities::practices;
use api::learned::{self, Rebuilt};
use sea_orm::EntityTrait;
use uuid::Uuid;

use super::{BoxError, say};

/// What can be done with what digs taught.
#[derive(Debug, clap::Subcommand)]
pub(crate) enum Command {
    /// Work out anew what each stored dig check taught.
    ///
    /// Needed after a version that reads digs in another way; what was learned follows at once, also
    /// in services that are running. Dig checks themselves are not changed.
    Rebuild(Rebuild),
}

/// Whose lessons.
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
        let made = learned::rebuild(&state.db, id, state.clock.now()).await?;
        let Rebuilt { digs, taught, unreadable } = made;
        let silent = digs.saturating_sub(taught).saturating_sub(unreadable);
        let took = start.elapsed().as_secs_f64();
        say(&format!(
            "{name}: {digs} dig checks, {taught} teach something, {silent} nothing, \
             {unreadable} can't be read; {took:.1} s"
        ));
    }
    Ok(())
}
