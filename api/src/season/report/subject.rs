//! Of whom a report is, and whether the caller may have it.

use domain::season::report::{Named, ReportOf};
use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter};
use uuid::Uuid;

use crate::auth::{Scope, Sees};
use crate::entities::{accounts, growers};
use crate::http::{ApiError, BadMember, Refused};
use crate::v1::planters;

/// Of whom a report is asked for; at most one.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Asked {
    /// Of this grower.
    pub grower_id: Option<Uuid>,
    /// Of this planter.
    pub planter_id: Option<Uuid>,
    /// Of the growers of this advisor.
    pub advisor_id: Option<Uuid>,
}

/// Of whom a report is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Subject {
    /// Of what kind.
    pub of: ReportOf,
    /// Whose name it bears.
    pub named: Option<Named>,
    /// The grower, where it is of one.
    pub grower_id: Option<Uuid>,
    /// The planter, where it is of one.
    pub planter_id: Option<Uuid>,
    /// What the caller sees, narrowed to the subject.
    pub scope: Scope,
}

impl Asked {
    /// Refuses more than one subject.
    ///
    /// # Errors
    /// 422 that names each.
    pub fn check(self) -> Result<(), ApiError> {
        let given = [
            ("?grower_id", self.grower_id),
            ("?planter_id", self.planter_id),
            ("?advisor_id", self.advisor_id),
        ];
        let named: Vec<_> = given.into_iter().filter_map(|(name, id)| Some((name, id?))).collect();
        let mut refused = Refused::default();
        if named.len() > 1 {
            for (name, id) in named {
                let why = "A report is of one grower, one planter or one advisor.";
                refused
                    .add(BadMember::new(name, why).given(id).allowed("at most one of the three"));
            }
        }
        refused.finish()
    }

    /// The subject, as far as it is in scope.
    ///
    /// # Errors
    /// 404 for someone else's.
    pub async fn find(self, db: &impl ConnectionTrait, scope: Scope) -> Result<Subject, ApiError> {
        self.check()?;
        if let Some(id) = self.planter_id {
            return of_planter(db, scope, id).await;
        }
        let own = match scope.sees {
            Sees::Grower(own) => Some(own),
            Sees::Practice | Sees::AdvisedBy(_) => None,
        };
        if let Some(id) = self.advisor_id {
            return of_advisor(db, scope, id).await;
        }
        if let Some(id) = self.grower_id.or(own) {
            return of_grower(db, scope, id).await;
        }
        match scope.sees {
            Sees::AdvisedBy(own) => of_advisor(db, scope, own).await,
            Sees::Practice | Sees::Grower(_) => Ok(Subject {
                of: ReportOf::Practice,
                named: None,
                grower_id: None,
                planter_id: None,
                scope,
            }),
        }
    }
}

async fn of_grower(db: &impl ConnectionTrait, scope: Scope, id: Uuid) -> Result<Subject, ApiError> {
    let found = scope.growers().filter(growers::Column::Id.eq(id)).one(db).await?;
    let grower = found.ok_or_else(|| ApiError::not_found("grower"))?;
    Ok(Subject {
        of: ReportOf::Grower,
        named: Some(Named { id: id.as_u128(), name: grower.name }),
        grower_id: Some(id),
        planter_id: None,
        scope: Scope { sees: Sees::Grower(id), ..scope },
    })
}

async fn of_planter(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<Subject, ApiError> {
    let planter = planters::store::find(db, scope, id).await?;
    Ok(Subject {
        of: ReportOf::Planter,
        named: Some(Named { id: id.as_u128(), name: planter.name }),
        grower_id: Some(planter.grower_id),
        planter_id: Some(id),
        scope: Scope { sees: Sees::Grower(planter.grower_id), ..scope },
    })
}

/// Growers learn nothing of accounts, and advisors who see their own growers nothing of colleagues.
async fn of_advisor(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<Subject, ApiError> {
    let may = match scope.sees {
        Sees::Practice => true,
        Sees::AdvisedBy(own) => own == id,
        Sees::Grower(_) => false,
    };
    let found = accounts::Entity::find_by_id((scope.practice_id, id)).one(db).await?;
    let account = found.filter(|_| may).ok_or_else(|| ApiError::not_found("advisor"))?;
    Ok(Subject {
        of: ReportOf::Advisor,
        named: Some(Named { id: id.as_u128(), name: account.display_name }),
        grower_id: None,
        planter_id: None,
        scope: Scope { sees: Sees::AdvisedBy(id), ..scope },
    })
}
