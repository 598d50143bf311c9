//! The attention list of an account, by mail.

use std::fmt::Write;

use maud::{Markup, html};
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter};
use uuid::Uuid;

use super::letter::Letter;
use super::page::page;
use super::stop;
use super::wishes::{self, Whose};
use crate::app::AppState;
use crate::auth::role::Role;
use crate::auth::{Scope, no_password};
use crate::entities::{accounts, jobs, mail_wishes::Digest};
use crate::jobs::Failure;
use crate::v1::attention::dto::AttentionEntry;
use crate::v1::attention::gather::{Which, gather};
use crate::v1::attention::kinds::Urgency;
use crate::v1::attention::names::Names;
use crate::v1::attention::tends::Tends;
use crate::v1::practice::{self, SeasonCalendar};

/// How many entries a digest tells; the rest is counted.
const TOLD: usize = 50;

/// Sends the list as it is now, if there is anything on it. An advisor gets what is his, a lead what
/// is the practice's, a grower what is his own to do.
pub(crate) async fn send(
    app: &AppState,
    job: &jobs::Model,
    account_id: Uuid,
) -> Result<(), Failure> {
    let practice_id = job.practice_id;
    let wish = wishes::find(&app.db, practice_id, Whose::Account(account_id)).await?;
    let Some(wish) = wish.filter(|wish| wish.digest != Digest::None) else {
        return Ok(());
    };
    let account = accounts::Entity::find_by_id((practice_id, account_id))
        .filter(accounts::Column::DisabledAt.is_null())
        .one(&app.db)
        .await?;
    let Some(account) = account.filter(|account| !no_password::is_made_up(&account.email)) else {
        return Ok(());
    };
    let Some(told) = tell(app, &account).await? else {
        return Ok(());
    };
    let stop = stop::address(app, &wish.stop_key);
    let letter = Letter {
        subject: told.subject(),
        text: told.text(&stop),
        html: told.html(&stop),
        name: account.display_name,
        address: account.email,
        stop: Some(stop),
    };
    app.post.send(app, job, letter).await
}

/// What a digest tells.
struct Told {
    practice: String,
    day: String,
    entries: Vec<AttentionEntry>,
    more: usize,
}

/// None where nothing needs the account.
async fn tell(app: &AppState, account: &accounts::Model) -> Result<Option<Told>, Failure> {
    let practice = practice::store::find(&app.db, account.practice_id).await?;
    let scope = Scope::of_account(account, practice.advisors_see);
    let which = Which {
        mine: (account.role == Role::Advisor).then_some(account.id),
        tends: Tends::of_account(account),
        ..Which::default()
    };
    let mut list = gather(app, scope, which).await?;
    if list.is_empty() {
        return Ok(None);
    }
    let more = list.len().saturating_sub(TOLD);
    list.truncate(TOLD);
    let names = Names::of(&app.db, account.practice_id, &list).await?;
    let today = SeasonCalendar::of(&practice)?.today(app.clock.now());
    Ok(Some(Told {
        practice: practice.name,
        day: today.format("%A, %-d %B").to_string(),
        entries: list.into_iter().map(|entry| AttentionEntry::of(entry, &names)).collect(),
        more,
    }))
}

impl Told {
    fn subject(&self) -> String {
        let now = self.of(Urgency::Now).count();
        let all = self.entries.len().saturating_add(self.more);
        match (now, all) {
            (0, 1) => format!("One thing needs you, {}", self.day),
            (0, all) => format!("{all} things need you, {}", self.day),
            (now, all) => format!("{now} of {all} can't wait, {}", self.day),
        }
    }

    fn of(&self, urgency: Urgency) -> impl Iterator<Item = &AttentionEntry> {
        self.entries.iter().filter(move |entry| entry.urgency == urgency)
    }

    /// The urgencies that have entries.
    fn parts(&self) -> impl Iterator<Item = Urgency> {
        let all = [Urgency::Now, Urgency::Soon, Urgency::WhenYouCan];
        all.into_iter().filter(|urgency| self.of(*urgency).next().is_some())
    }

    fn text(&self, stop: &str) -> String {
        let mut text = format!("{}, {}\n", self.practice, self.day);
        for urgency in self.parts() {
            push(&mut text, format_args!("\n{}\n", urgency.words().to_uppercase()));
            for entry in self.of(urgency) {
                let (head, reason, next) = (head(entry), &entry.reason, &entry.next_step);
                push(&mut text, format_args!("\n- {head}\n  {reason}\n  {next}\n"));
            }
        }
        if self.more > 0 {
            push(&mut text, format_args!("\nAnd {} more.\n", self.more));
        }
        push(&mut text, format_args!("\nNo more of these mails: {stop}\n"));
        text
    }

    fn html(&self, stop: &str) -> Markup {
        page(
            &self.subject(),
            &html! {
                p { (self.practice) ", " (self.day) }
                @for urgency in self.parts() {
                    h2 { (urgency.words()) }
                    ul {
                        @for entry in self.of(urgency) {
                            li {
                                b { (head(entry)) } br;
                                (entry.reason) br;
                                span.next { (entry.next_step) }
                            }
                        }
                    }
                }
                @if self.more > 0 { p { "And " (self.more) " more." } }
                p.foot { a href=(stop) { "No more of these mails" } "." }
            },
        )
    }
}

/// What it is and where: `Dig check due: Miller Brothers, North forty`.
fn head(entry: &AttentionEntry) -> String {
    let names = [&entry.grower, &entry.field, &entry.planter];
    let names: Vec<&str> = names.into_iter().flatten().map(|it| it.name.as_str()).collect();
    if names.is_empty() {
        return entry.kind.title().to_owned();
    }
    format!("{}: {}", entry.kind.title(), names.join(", "))
}

/// Writing into a text never fails.
fn push(text: &mut String, what: std::fmt::Arguments<'_>) {
    if text.write_fmt(what).is_err() {
        tracing::warn!("a text could not be written");
    }
}
