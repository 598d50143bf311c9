//! Members of a request that are not valid: named one by one, and all at once.

use serde::Serialize;
use utoipa::ToSchema;

use super::error::ApiError;
use super::problem::ProblemCode;

/// One member that is not valid: where, what was given, what is allowed, and why.
#[derive(Debug, Clone, PartialEq, Serialize, ToSchema)]
#[schema(examples(json!({
    "pointer": "/entered_area",
    "detail": "-3 har is outside 0.04 to 4046.9 har",
    "given": "-3 har",
    "allowed": "0.04 to 4046.9 har",
    "why": "a field has an area"
})))]
pub struct BadMember {
    /// JSON Pointer (RFC 6901) into the body, or `?name` for a query parameter.
    #[schema(example = "/entered_area")]
    pub pointer: String,
    /// What is wrong, in a sentence.
    #[schema(example = "-3 har is outside 0.04 to 4046.9 har")]
    pub detail: String,
    /// What was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "-3 har")]
    pub given: Option<String>,
    /// What would be taken.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "0.04 to 4046.9 har")]
    pub allowed: Option<String>,
    /// Why it is so.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "a field has an area")]
    pub why: Option<String>,
}

/// Longest part of a given value that is said back.
const MOST_SAID_BACK: usize = 100;

impl BadMember {
    /// The member at `pointer` is not valid.
    pub fn new(pointer: impl Into<String>, detail: impl Into<String>) -> Self {
        Self {
            pointer: pointer.into(),
            detail: detail.into(),
            given: None,
            allowed: None,
            why: None,
        }
    }

    /// What was given; a long text is cut.
    #[must_use]
    pub fn given(mut self, given: impl std::fmt::Display) -> Self {
        let mut text = given.to_string();
        if let Some((end, _)) = text.char_indices().nth(MOST_SAID_BACK) {
            text.truncate(end);
            text.push('…');
        }
        self.given = Some(text);
        self
    }

    /// What would be taken.
    #[must_use]
    pub fn allowed(mut self, allowed: impl Into<String>) -> Self {
        self.allowed = Some(allowed.into());
        self
    }

    /// Why it is so.
    #[must_use]
    pub fn why(mut self, why: impl Into<String>) -> Self {
        self.why = Some(why.into());
        self
    }
}

/// Gathers the members that are not valid, so that all are named at once.
///
/// ```
/// use api::http::{ApiError, BadMember, Refused};
///
/// fn parse(depth: Result<f64, BadMember>, speed: Result<f64, BadMember>) -> Result<(f64, f64), ApiError> {
///     let mut refused = Refused::default();
///     match (refused.take(depth), refused.take(speed)) {
///         (Some(depth), Some(speed)) => Ok((depth, speed)),
///         _ => Err(refused.into()),
///     }
/// }
/// assert_eq!(parse(Ok(2.0), Ok(5.0)).unwrap(), (2.0, 5.0));
/// assert!(parse(Ok(2.0), Err(BadMember::new("/speed", "too fast"))).is_err());
/// ```
#[derive(Debug, Default)]
pub struct Refused(Vec<BadMember>);

impl Refused {
    /// The value, or nothing and a note of what was wrong.
    pub fn take<T>(&mut self, parsed: Result<T, BadMember>) -> Option<T> {
        parsed.map_err(|member| self.0.push(member)).ok()
    }

    /// The value, or nothing and a note of all that was wrong.
    pub fn take_all<T>(&mut self, parsed: Result<T, Vec<BadMember>>) -> Option<T> {
        parsed.map_err(|members| self.0.extend(members)).ok()
    }

    /// Notes one more.
    pub fn add(&mut self, member: BadMember) {
        self.0.push(member);
    }

    /// Stops here if anything was refused.
    pub fn finish(self) -> Result<(), ApiError> {
        if self.0.is_empty() { Ok(()) } else { Err(self.into()) }
    }

    /// The members noted so far, for a parser inside another.
    pub fn into_members(self) -> Vec<BadMember> {
        self.0
    }
}

impl From<Refused> for ApiError {
    fn from(refused: Refused) -> Self {
        let detail = match refused.0.len() {
            1 => "1 member is not valid.".to_owned(),
            many => format!("{many} members are not valid."),
        };
        Self::new(ProblemCode::InvalidRequest, detail).with_members(refused.0)
    }
}

impl From<BadMember> for ApiError {
    fn from(member: BadMember) -> Self {
        Refused(vec![member]).into()
    }
}

impl From<Vec<BadMember>> for ApiError {
    fn from(members: Vec<BadMember>) -> Self {
        Refused(members).into()
    }
}
