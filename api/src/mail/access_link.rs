//! A link that lets a grower in, to the grower's address.

use chrono::TimeDelta;
use maud::html;
use sea_orm::EntityTrait;
use uuid::Uuid;

use super::letter::Letter;
use super::page::page;
use crate::app::AppState;
use crate::auth::Scope;
use crate::db;
use crate::entities::{access_links, growers, jobs};
use crate::http::ProblemCode;
use crate::jobs::Failure;
use crate::v1::access_links::store::{self, NewLink};

/// How long a link is good for.
const GOOD_FOR: TimeDelta = TimeDelta::days(14);

/// Makes the link and sends it.
pub(crate) async fn send(
    app: &AppState,
    job: &jobs::Model,
    grower_id: Uuid,
    made_by: Uuid,
) -> Result<(), Failure> {
    let grower = growers::Entity::find_by_id((job.practice_id, grower_id)).one(&app.db).await?;
    let Some((name, Some(address))) = grower.map(|grower| (grower.name, grower.email)) else {
        return Ok(());
    };
    let (link, token) = make(app, job.practice_id, (grower_id, made_by)).await?;
    let url = app.settings.public_url.of(&format!("/go#{token}"));
    let subject = "Your way in".to_owned();
    let rest = format!(
        "The link lets whoever has it in, once, until {}. If nobody told you to expect it, ask your \
         advisor.",
        link.expires_at.format("%-d %B")
    );
    let text = format!("{url}\n\n{rest}\n");
    let html = page(
        &subject,
        &html! {
            p { a href=(url) { "Open your sheets" } }
            p.foot { (rest) }
        },
    );
    let letter = Letter { name, address, subject, text, html, stop: None };
    let sent = app.post.send(app, job, letter).await;
    if sent.is_err() {
        // Nobody has it: the next try makes its own.
        store::revoke(&app.db, &link, app.clock.now()).await?;
    }
    sent
}

async fn make(
    app: &AppState,
    practice_id: Uuid,
    (grower_id, made_by): (Uuid, Uuid),
) -> Result<(access_links::Model, String), Failure> {
    let now = app.clock.now();
    let note = Some("By mail.".to_owned());
    let new = NewLink { grower_id, note, expires_at: now + GOOD_FOR, single_use: true };
    let tx = db::begin(&app.db).await?;
    let made = store::insert(&tx, app, (Scope::of_practice(practice_id), made_by), new).await;
    let made = made.map_err(|error| match error.code() {
        ProblemCode::WrongState => {
            Failure::Never("The account of the grower is disabled.".to_owned())
        }
        _ => Failure::from(error),
    })?;
    tx.commit().await?;
    Ok(made)
}
