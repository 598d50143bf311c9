//! The errors an operation can answer, for the API document, from the table of problems.

use std::collections::BTreeMap;

use utoipa::openapi::{ContentBuilder, Ref, RefOr, Response, ResponseBuilder, Responses};

use super::problem::ProblemCode;

macro_rules! error_sets {
    ($($(#[$doc:meta])* $name:ident: $($code:ident)*;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy)]
        pub struct $name;

        impl utoipa::IntoResponses for $name {
            fn responses() -> BTreeMap<String, RefOr<Response>> {
                responses_of(&[$(ProblemCode::$code),*])
            }
        }
    )*};
}

error_sets! {
    /// Of an operation without a caller.
    PublicErrors: Internal Unavailable;
    /// Of reading one object without a caller.
    PublicGetErrors: NotFound Internal Unavailable;
    /// Of reading one object.
    GetErrors: Unauthenticated Forbidden NotFound InvalidRequest Internal Unavailable;
    /// Of working out anew what is stored.
    RecomputeErrors: Unauthenticated Forbidden NotFound WrongState InvalidRequest Internal
        Unavailable;
    /// Of reading a list.
    ListErrors: Unauthenticated Forbidden InvalidRequest Internal Unavailable;
    /// Of reading a list under an object.
    ListUnderErrors: Unauthenticated Forbidden NotFound InvalidRequest Internal Unavailable;
    /// Of a body that stores nothing.
    ComputeErrors: MalformedJson Unauthenticated Forbidden BodyTooLarge UnsupportedMediaType
        InvalidRequest OutsideValidity Internal Unavailable;
    /// Of a body that stores nothing, about an object.
    ComputeUnderErrors: MalformedJson Unauthenticated Forbidden NotFound BodyTooLarge
        UnsupportedMediaType InvalidRequest OutsideValidity Internal Unavailable;
    /// Of making an object.
    CreateErrors: MalformedJson Unauthenticated Forbidden AlreadyExists BodyTooLarge
        UnsupportedMediaType InvalidRequest Internal Unavailable;
    /// Of making an object whose secret is kept sealed.
    CreateSealedErrors: MalformedJson Unauthenticated Forbidden AlreadyExists WrongState BodyTooLarge
        UnsupportedMediaType InvalidRequest Internal NoSealingKey Unavailable;
    /// Of changing an object whose secret is kept sealed.
    UpdateSealedErrors: MalformedJson Unauthenticated Forbidden NotFound AlreadyExists Stale BodyTooLarge
        UnsupportedMediaType InvalidRequest PreconditionRequired Internal NoSealingKey Unavailable;
    /// Of trying a link to a records system.
    TestLinkErrors: Unauthenticated Forbidden NotFound Internal NoSealingKey Unavailable;
    /// Of asking for a run.
    RunErrors: MalformedJson Unauthenticated Forbidden NotFound WrongState BodyTooLarge
        UnsupportedMediaType InvalidRequest Internal Unavailable;
    /// Of taking records from a file.
    ImportErrors: MalformedJson Unauthenticated Forbidden Stale BodyTooLarge UnsupportedMediaType
        InvalidRequest Internal Unavailable;
    /// Of making an object under another.
    CreateUnderErrors: MalformedJson Unauthenticated Forbidden NotFound WrongState BodyTooLarge
        UnsupportedMediaType InvalidRequest OutsideValidity Internal Unavailable;
    /// Of noting something that is noted once, under an object.
    RecordErrors: MalformedJson Unauthenticated Forbidden NotFound AlreadyExists WrongState BodyTooLarge
        UnsupportedMediaType InvalidRequest Internal Unavailable;
    /// Of reporting what was found under an object, once.
    ReportErrors: MalformedJson Unauthenticated Forbidden NotFound AlreadyExists WrongState
        BodyTooLarge UnsupportedMediaType InvalidRequest Internal Unavailable;
    /// Of changing an object.
    UpdateErrors: MalformedJson Unauthenticated Forbidden NotFound AlreadyExists Stale BodyTooLarge
        UnsupportedMediaType InvalidRequest PreconditionRequired Internal Unavailable;
    /// Of deleting an object.
    DeleteErrors: Unauthenticated Forbidden NotFound InUse Stale Internal Unavailable;
    /// Of deleting an object that must not have left its first status.
    DeleteDraftErrors: Unauthenticated Forbidden NotFound WrongState InUse Stale Internal
        Unavailable;
    /// Of a step of an object from one status to the next.
    StepErrors: MalformedJson Unauthenticated Forbidden NotFound WrongState Stale BodyTooLarge
        UnsupportedMediaType InvalidRequest PreconditionRequired Internal Unavailable;
    /// Of making something that needs no body under an object.
    StepWithoutBodyErrors: Unauthenticated Forbidden NotFound WrongState Stale Internal Unavailable;
    /// Of saying something about an entry that is not stored itself.
    MarkErrors: MalformedJson Unauthenticated Forbidden NotFound BodyTooLarge UnsupportedMediaType
        InvalidRequest Internal Unavailable;
    /// Of making a webhook.
    WebhookErrors: MalformedJson Unauthenticated Forbidden WrongState BodyTooLarge
        UnsupportedMediaType InvalidRequest Internal NoSealingKey Unavailable;
    /// Of changing the secret of a webhook.
    RotationErrors: MalformedJson Unauthenticated Forbidden NotFound Stale BodyTooLarge
        UnsupportedMediaType InvalidRequest Internal NoSealingKey Unavailable;
    /// Of signing in with a link.
    AccessLinkErrors: MalformedJson LinkNotGood BodyTooLarge UnsupportedMediaType InvalidRequest
        TooManyRequests Internal Unavailable;
    /// Of going on with a session.
    RefreshErrors: MalformedJson SessionEnded BodyTooLarge UnsupportedMediaType InvalidRequest
        Internal Unavailable;
    /// Of ending a session.
    EndErrors: Unauthenticated Forbidden NotFound Internal Unavailable;
    /// Of putting a record of a records system.
    ExternalPutErrors: MalformedJson Unauthenticated Forbidden NotFound AlreadyExists DecisionNeeded
        Stale BodyTooLarge UnsupportedMediaType InvalidRequest Internal Unavailable;
    /// Of putting many.
    ExternalBatchErrors: MalformedJson Unauthenticated Forbidden AlreadyExists Stale BodyTooLarge
        UnsupportedMediaType InvalidRequest Internal Unavailable;
    /// Of forgetting the id of a record.
    ExternalDeleteErrors: Unauthenticated Forbidden NotFound InvalidRequest Internal Unavailable;
    /// Of changing an account.
    UpdateAccountErrors: MalformedJson Unauthenticated Forbidden NotFound WrongState Stale
        BodyTooLarge UnsupportedMediaType InvalidRequest PreconditionRequired Internal Unavailable;
    /// Of changing one's own password.
    PasswordErrors: MalformedJson Unauthenticated Forbidden BodyTooLarge UnsupportedMediaType
        InvalidRequest TooManyRequests Internal Unavailable;
    /// Of making a link that sets a password.
    PasswordLinkErrors: Unauthenticated Forbidden NotFound WrongState Internal Unavailable;
    /// Of using a link that sets a password.
    RedeemErrors: MalformedJson LinkGone BodyTooLarge UnsupportedMediaType InvalidRequest
        TooManyRequests Internal Unavailable;
    /// Of signing in.
    SignInErrors: MalformedJson WrongCredentials BodyTooLarge UnsupportedMediaType InvalidRequest
        TooManyRequests Internal Unavailable;
}

/// Adds problems to the responses of an operation; what is named already stays.
pub fn add(responses: &mut Responses, codes: &[ProblemCode]) {
    for (status, more) in responses_of(codes) {
        match (responses.responses.get_mut(&status), more) {
            (Some(RefOr::T(there)), RefOr::T(more)) => {
                for line in more.description.lines() {
                    if !there.description.contains(line) {
                        there.description.push('\n');
                        there.description.push_str(line);
                    }
                }
            }
            (_, more) => {
                responses.responses.insert(status, more);
            }
        }
    }
}

/// One response for each status; codes of the same status share it.
fn responses_of(codes: &[ProblemCode]) -> BTreeMap<String, RefOr<Response>> {
    let mut descriptions: BTreeMap<String, String> = BTreeMap::new();
    for row in codes {
        let text = format!("`{}`: {}. {}", row.code(), row.title(), row.meaning());
        descriptions
            .entry(row.status().as_str().to_owned())
            .and_modify(|before| {
                before.push('\n');
                before.push_str(&text);
            })
            .or_insert(text);
    }
    descriptions
        .into_iter()
        .map(|(status, description)| {
            let content =
                ContentBuilder::new().schema(Some(Ref::from_schema_name("Problem"))).build();
            let response = ResponseBuilder::new()
                .description(description)
                .content("application/problem+json", content)
                .build();
            (status, RefOr::T(response))
        })
        .collect()
}
