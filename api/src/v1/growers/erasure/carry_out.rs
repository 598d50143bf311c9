//! The erasure: deletes, strips, counts.

use sea_orm::{ActiveModelTrait, ActiveValue::Set, DatabaseTransaction};

use super::delete::{Deleting, accounts_of};
use super::dto::{ErasedKind, ErasedPart, Erasure};
use super::strip::Stripping;
use crate::auth::{Scope, Sees};
use crate::entities::{grower_erasures, growers};
use crate::exchange::pull::runs;
use crate::http::ApiError;
use crate::ids::Ids;
use crate::season;
use crate::v1::author::Author;
use crate::writes;

/// Erases what names or finds a grower. Gives what was done, and the grower's new version.
pub(super) async fn carry_out(
    tx: &DatabaseTransaction,
    ids: &Ids,
    by: Author,
    grower: growers::Model,
    reason: String,
) -> Result<(Erasure, i32), ApiError> {
    let (practice_id, grower_id) = (grower.practice_id, grower.id);
    let scope = Scope { practice_id, sees: Sees::Grower(grower_id) };
    let strip = Stripping { tx, scope, now: by.now };
    let version = strip.grower(grower).await?;
    let mut parts = vec![part(ErasedKind::Grower, 0, 1)];
    parts.extend(Deleting { tx, scope }.reach(grower_id).await?);
    parts.extend(Deleting { tx, scope }.external(grower_id, (ids, by.now)).await?);
    // They refer to land that goes.
    season::forget(tx, practice_id, Some(grower_id)).await?;
    parts.extend(work(Deleting { tx, scope }, strip).await?);
    season::recount_grower(tx, practice_id, grower_id).await?;
    parts.extend(doors(Deleting { tx, scope }, strip).await?);
    parts.push(part(ErasedKind::AuditEvents, 0, strip.audit_events().await?));
    parts.push(part(ErasedKind::Changes, 0, strip.changes().await?));
    // Answers that are kept for requests that come again hold what was erased.
    writes::forget_answers(tx, practice_id).await?;
    // And so may what was said of runs over records links.
    runs::store::forget_reports(tx, practice_id).await?;
    let report = serde_json::to_value(&parts).map_err(ApiError::internal)?;
    let row = grower_erasures::ActiveModel {
        practice_id: Set(practice_id),
        id: Set(by.id),
        grower_id: Set(grower_id),
        erased_at: Set(by.now),
        erased_by: Set(by.account_id),
        reason: Set(reason.clone()),
        report: Set(report),
    };
    row.insert(tx).await?;
    let (id, erased_at, erased_by) = (by.id, by.now, by.account_id);
    Ok((Erasure { id, grower_id, erased_at, erased_by, reason, parts }, version))
}

/// The grower's land, iron and digs. What refers to something goes before it.
async fn work(delete: Deleting<'_>, strip: Stripping<'_>) -> Result<Vec<ErasedPart>, ApiError> {
    let stands = delete.stands().await?;
    let recommendations = delete.recommendations().await?;
    let conditions = delete.conditions_reports().await?;
    let calibrations = delete.calibrations().await?;
    let trials = delete.trials().await?;
    let shed = delete.shed().await?;
    let planters = delete.planters().await?;
    let fields = delete.fields().await?;
    let farms = delete.farms().await?;
    let mut parts = vec![
        part(ErasedKind::Farms, farms, strip.farms().await?),
        part(ErasedKind::Fields, fields, strip.fields().await?),
        part(ErasedKind::Planters, planters, strip.planters().await?),
        part(ErasedKind::Calibrations, calibrations, strip.calibrations().await?),
        part(ErasedKind::ConditionsReports, conditions, strip.conditions_reports().await?),
        part(ErasedKind::Recommendations, recommendations, strip.recommendations().await?),
        part(ErasedKind::DigChecks, 0, strip.dig_checks().await?),
        part(ErasedKind::Lessons, 0, strip.lessons().await?),
        part(ErasedKind::Adjustments, 0, strip.adjustments().await?),
    ];
    parts.extend(trials);
    parts.extend(stands);
    parts.extend(shed);
    Ok(parts)
}

/// The ways in.
async fn doors(delete: Deleting<'_>, strip: Stripping<'_>) -> Result<Vec<ErasedPart>, ApiError> {
    let Sees::Grower(grower_id) = strip.scope.sees else {
        return Err(ApiError::internal("only one grower is erased at a time"));
    };
    let accounts = accounts_of(strip.scope.practice_id, grower_id);
    Ok(vec![
        part(ErasedKind::Sessions, delete.sessions(&accounts).await?, 0),
        part(ErasedKind::PasswordLinks, delete.password_links(&accounts).await?, 0),
        part(ErasedKind::OutsideIdentities, delete.outside_identities(&accounts).await?, 0),
        part(ErasedKind::Accounts, 0, strip.accounts(accounts).await?),
        part(ErasedKind::AccessLinks, 0, strip.access_links(grower_id).await?),
    ])
}

pub(super) fn part(kind: ErasedKind, deleted: u64, kept: u64) -> ErasedPart {
    ErasedPart { kind, deleted, kept, why: why(kind).to_owned() }
}

fn why(kind: ErasedKind) -> &'static str {
    match kind {
        ErasedKind::Grower => {
            "An entry without name and contacts stays, since what is kept belongs to it."
        }
        ErasedKind::Farms => "Those with kept fields stay; their names are gone.",
        ErasedKind::Fields => {
            "Those that were dug in stay with the class of their soil; name, boundary, area and notes \
             are gone."
        }
        ErasedKind::Planters => {
            "Those that were dug behind stay with their make-up; their names are gone."
        }
        ErasedKind::Calibrations | ErasedKind::ConditionsReports => {
            "Those that a kept recommendation rests on stay; their notes are gone."
        }
        ErasedKind::Recommendations => {
            "Those that were dug for stay, since a dig is judged against its recommendation; they name \
             nobody."
        }
        ErasedKind::DigChecks => {
            "What the practice has learned rests on the readings; place and notes are gone."
        }
        ErasedKind::Lessons => "What the practice has learned; they hold readings and ids only.",
        ErasedKind::Adjustments => {
            "They say what a dig changed; the reasons that people gave are gone."
        }
        ErasedKind::Sessions => "Nobody is signed in any more.",
        ErasedKind::PasswordLinks => "No password can be set any more.",
        ErasedKind::OutsideIdentities => "Nobody can sign in by another issuer any more.",
        ErasedKind::Accounts => {
            "Closed for good, without name, address and password; digs and the audit trail refer to \
             their ids."
        }
        ErasedKind::AttentionMarks => "Nobody is told to see to the grower any more.",
        ErasedKind::CalendarFeeds => "No calendar shows anything of the grower any more.",
        ErasedKind::MailWishes => "No mail goes out to the grower any more.",
        ErasedKind::Jobs => "Mail to the grower that waited is not sent.",
        ErasedKind::SheetLinks => "The addresses in mails show no sheet any more.",
        ErasedKind::AccessLinks => "Revoked; their notes are gone.",
        ErasedKind::TrialEntries => "What was found on plots is gone.",
        ErasedKind::Plantings
        | ErasedKind::Temperatures
        | ErasedKind::StandCounts
        | ErasedKind::Yields => {
            "What was planted, how warm it was, what came up and what was harvested is gone; nothing \
             that is kept rests on it."
        }
        ErasedKind::ExternalIds | ErasedKind::RecordMatches | ErasedKind::RecordConflicts => {
            "What records systems said is gone, and their ids."
        }
        ErasedKind::ErasedMarks => {
            "A hash of each id that a records system gave: what comes under it again waits for a person, \
             and nothing that it says is kept."
        }
        ErasedKind::Trials => "Layouts and names are gone; nothing that is kept rests on them.",
        ErasedKind::Inspections | ErasedKind::Repairs | ErasedKind::WearLimits => {
            "What was found and mended in the shed is gone; nothing that is kept rests on it."
        }
        ErasedKind::Changes => "Who follows the practice must miss nothing; they hold ids only.",
        ErasedKind::AuditEvents => {
            "Who did what and when must stay provable; it holds ids and names of members, no values."
        }
    }
}
