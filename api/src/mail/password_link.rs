//! A link that sets a password, to the address of its account.

use maud::html;
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter};
use uuid::Uuid;

use super::letter::Letter;
use super::page::page;
use crate::app::AppState;
use crate::auth::{no_password, password_links};
use crate::db;
use crate::entities::{accounts, jobs};
use crate::jobs::Failure;

/// Makes the link and sends it. Earlier links of the account stop working.
pub(crate) async fn send(
    app: &AppState,
    job: &jobs::Model,
    account_id: Uuid,
) -> Result<(), Failure> {
    let found = accounts::Entity::find_by_id((job.practice_id, account_id))
        .filter(accounts::Column::DisabledAt.is_null())
        .one(&app.db)
        .await?;
    let Some(account) = found.filter(|account| !no_password::is_made_up(&account.email)) else {
        return Ok(());
    };
    let tx = db::begin(&app.db).await?;
    let link = password_links::make(&tx, &account, app.ids.next(), app.clock.now()).await?;
    tx.commit().await?;
    let subject = "Set your password".to_owned();
    let days = password_links::GOOD_FOR.num_days();
    let how = "Send this token with a new password to";
    let place = app.settings.public_url.of("/v1/password-links/redeem");
    let rest = format!(
        "It works once, for {days} days. If nobody told you to expect this, ask the lead of your \
         practice."
    );
    let text = format!("{how} {place}:\n\n{}\n\n{rest}\n", link.token);
    let html = page(
        &subject,
        &html! {
            p { (how) " " code { (place) } ":" }
            p { code { (link.token) } }
            p.foot { (rest) }
        },
    );
    let (name, address) = (account.display_name, account.email);
    app.post.send(app, job, Letter { name, address, subject, text, html, stop: None }).await
}
