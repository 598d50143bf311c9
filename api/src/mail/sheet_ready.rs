//! "Your sheet is ready": to a grower who wants to know, with an address that shows it.

use maud::{Markup, html};
use sea_orm::sea_query::Query;
use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter};
use uuid::Uuid;

use super::letter::Letter;
use super::page::page;
use super::stop;
use super::wishes::{self, Whose};
use crate::app::AppState;
use crate::auth::Scope;
use crate::entities::recommendations::Status;
use crate::entities::{farms, fields, growers, jobs, mail_wishes, planters, recommendations};
use crate::http::ApiError;
use crate::jobs::{Failure, NewJob, Task, enqueue};
use crate::sheet_links;

/// Queues the mail about a sheet that was just issued, if its grower wants mail.
///
/// # Errors
/// When the database fails.
pub async fn announce(
    tx: &impl ConnectionTrait,
    app: &AppState,
    (practice_id, recommendation_id): (Uuid, Uuid),
) -> Result<(), ApiError> {
    let Some(grower_id) = wanting_grower(tx, practice_id, recommendation_id).await? else {
        return Ok(());
    };
    let new = NewJob {
        practice_id,
        task: Task::SheetReady { recommendation_id, grower_id },
        run_at: app.clock.now(),
        once_key: Some(format!("sheet_ready {recommendation_id}")),
    };
    enqueue(tx, app, new).await?;
    Ok(())
}

/// The grower of a sheet, where he wants mail about sheets and has an address.
async fn wanting_grower(
    tx: &impl ConnectionTrait,
    practice_id: Uuid,
    recommendation_id: Uuid,
) -> Result<Option<Uuid>, ApiError> {
    let field = Query::select()
        .column(recommendations::Column::FieldId)
        .from(recommendations::Entity)
        .and_where(recommendations::Column::PracticeId.eq(practice_id))
        .and_where(recommendations::Column::Id.eq(recommendation_id))
        .to_owned();
    let farm = Query::select()
        .column(fields::Column::FarmId)
        .from(fields::Entity)
        .and_where(fields::Column::PracticeId.eq(practice_id))
        .and_where(fields::Column::Id.in_subquery(field))
        .to_owned();
    let grower = Query::select()
        .column(farms::Column::GrowerId)
        .from(farms::Entity)
        .and_where(farms::Column::PracticeId.eq(practice_id))
        .and_where(farms::Column::Id.in_subquery(farm))
        .to_owned();
    let wanting = mail_wishes::Entity::find()
        .filter(mail_wishes::Column::PracticeId.eq(practice_id))
        .filter(mail_wishes::Column::GrowerId.in_subquery(grower))
        .filter(mail_wishes::Column::Sheets.eq(true))
        .one(tx)
        .await?;
    Ok(wanting.and_then(|row| row.grower_id))
}

/// What the mail says.
struct Said {
    grower: growers::Model,
    address: String,
    field: String,
    planter: String,
    revision: i32,
    stop_key: String,
}

/// Sends the mail, if the sheet still counts and the grower still wants it.
pub(crate) async fn send(
    app: &AppState,
    job: &jobs::Model,
    recommendation_id: Uuid,
    grower_id: Uuid,
) -> Result<(), Failure> {
    let Some(said) = look(app, job.practice_id, recommendation_id, grower_id).await? else {
        return Ok(());
    };
    let key = (job.practice_id, recommendation_id);
    let link = sheet_links::make(app, key).await?;
    let sent = app.post.send(app, job, letter(app, said, &link.secret)).await;
    if sent.is_err() {
        // Nobody has it: the next try makes its own.
        sheet_links::withdraw(app, (job.practice_id, link.id)).await?;
    }
    sent
}

async fn look(
    app: &AppState,
    practice_id: Uuid,
    recommendation_id: Uuid,
    grower_id: Uuid,
) -> Result<Option<Said>, Failure> {
    let db = &app.db;
    let scope = Scope::of_practice(practice_id);
    let sheet = scope
        .recommendations()
        .filter(recommendations::Column::Id.eq(recommendation_id))
        .filter(recommendations::Column::Status.is_in([Status::Issued, Status::Acknowledged]));
    let wish = wishes::find(db, practice_id, Whose::Grower(grower_id)).await?;
    let grower = growers::Entity::find_by_id((practice_id, grower_id)).one(db).await?;
    let (Some(sheet), Some(wish), Some(grower)) = (sheet.one(db).await?, wish, grower) else {
        return Ok(None);
    };
    let (true, Some(address)) = (wish.sheets, grower.email.clone()) else {
        return Ok(None);
    };
    let field = fields::Entity::find_by_id((practice_id, sheet.field_id)).one(db).await?;
    let planter = planters::Entity::find_by_id((practice_id, sheet.planter_id)).one(db).await?;
    let (Some(field), Some(planter)) = (field, planter) else {
        return Ok(None);
    };
    Ok(Some(Said {
        grower,
        address,
        field: field.name,
        planter: planter.name,
        revision: sheet.revision,
        stop_key: wish.stop_key,
    }))
}

fn letter(app: &AppState, said: Said, secret: &str) -> Letter {
    let Said { grower, address, field, planter, revision, stop_key } = said;
    let sheet = app.settings.public_url.of(&format!("/sheets/{secret}"));
    let stop = stop::address(app, &stop_key);
    let which = if revision > 1 { "A new" } else { "Your" };
    let days = sheet_links::GOOD_FOR.num_days();
    let subject = format!("{which} settings sheet for {field} is ready");
    let text = format!(
        "{subject}: {planter}.\n\n{sheet}\n\nThe address shows this one sheet to whoever has it, for \
         {days} days. Set the planter by it, then walk back and dig.\n\n\
         No more of these mails: {stop}\n"
    );
    Letter {
        name: grower.name,
        address,
        html: looks(&subject, &planter, days, (&sheet, &stop)),
        subject,
        text,
        stop: Some(stop),
    }
}

fn looks(subject: &str, planter: &str, days: i64, (sheet, stop): (&str, &str)) -> Markup {
    page(
        subject,
        &html! {
            p { "For " (planter) ": " a href=(sheet) { "look at the sheet" } "." }
            p { "Set the planter by it, then walk back and dig." }
            p.foot {
                "The address shows this one sheet to whoever has it, for " (days) " days. "
                a href=(stop) { "No more of these mails" } "."
            }
        },
    )
}
