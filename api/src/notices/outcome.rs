//! What came of a try.

use chrono::{DateTime, TimeDelta, Utc};
use reqwest::StatusCode;
use reqwest::header::{HeaderMap, RETRY_AFTER};

use super::schedule::{LONGEST_HOLD, MOST_ATTEMPTS, wait_after};
use crate::outgoing::{OutgoingAnswer, OutgoingError};

/// What came of a try.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Outcome {
    /// The receiver took it.
    Taken { status: u16 },
    /// It did not.
    Refused(Refusal),
}

/// Why a receiver did not take a notice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Refusal {
    pub(super) status: Option<u16>,
    /// In words, for whoever looks after the webhook.
    pub(super) why: String,
    /// How long the receiver wants to be left alone.
    pub(super) stay_away: Option<TimeDelta>,
    /// Whether it wants no more at all.
    pub(super) is_gone: bool,
}

impl Outcome {
    /// By what was answered: 2xx is success and nothing else is; redirects are not followed.
    pub(super) fn of(sent: Result<OutgoingAnswer, OutgoingError>, now: DateTime<Utc>) -> Self {
        let refused = |status, why, stay_away, is_gone| {
            Self::Refused(Refusal { status, why, stay_away, is_gone })
        };
        let answer = match sent {
            Ok(answer) => answer,
            Err(error) => return refused(None, error.to_string(), None, false),
        };
        let status = answer.status;
        if status.is_success() {
            return Self::Taken { status: status.as_u16() };
        }
        let why = if status.is_redirection() {
            format!("The receiver redirects ({}); notices follow no redirect.", status.as_u16())
        } else if status == StatusCode::GONE {
            "The receiver wants no more notices (410).".to_owned()
        } else {
            format!("The receiver answers with status {}.", status.as_u16())
        };
        let busy = matches!(status.as_u16(), 429 | 502 | 503 | 504);
        let stay_away = if busy { retry_after(&answer.headers, now) } else { None };
        refused(Some(status.as_u16()), why, stay_away, status == StatusCode::GONE)
    }
}

impl Outcome {
    /// Whether the receiver wants to be left alone: for a while, or for good.
    pub(super) fn wants_no_more(&self) -> bool {
        match self {
            Self::Taken { .. } => false,
            Self::Refused(refusal) => {
                refusal.is_gone || refusal.stay_away.is_some_and(|wait| wait > TimeDelta::zero())
            }
        }
    }
}

impl Refusal {
    /// Of something that did not even go out.
    pub(super) fn of_ours(why: &str) -> Self {
        Self { status: None, why: why.to_owned(), stay_away: None, is_gone: false }
    }

    /// When it is tried again after this many tries; never when it is dead.
    pub(super) fn next_try(&self, attempts: i32, now: DateTime<Utc>) -> Option<DateTime<Utc>> {
        if self.is_gone || attempts >= MOST_ATTEMPTS {
            return None;
        }
        let wait = wait_after(attempts)?;
        Some(now + self.stay_away.map_or(wait, |asked| asked.max(wait)))
    }
}

/// `Retry-After`: seconds or a date (RFC 9110, section 10.2.3), within bounds.
fn retry_after(headers: &HeaderMap, now: DateTime<Utc>) -> Option<TimeDelta> {
    let text = headers.get(RETRY_AFTER)?.to_str().ok()?.trim();
    let wait = match text.parse::<u32>() {
        Ok(seconds) => TimeDelta::seconds(i64::from(seconds)),
        Err(_date) => DateTime::parse_from_rfc2822(text).ok()?.with_timezone(&Utc) - now,
    };
    Some(wait.clamp(TimeDelta::zero(), LONGEST_HOLD))
}

#[cfg(test)]
mod tests {
    use super::{Outcome, Refusal};
    use crate::outgoing::{OutgoingAnswer, OutgoingError};
    use chrono::{DateTime, TimeDelta, Utc};
    use reqwest::StatusCode;
    use reqwest::header::{HeaderMap, HeaderValue, RETRY_AFTER};

    fn noon() -> DateTime<Utc> {
        "2027-04-20T12:00:00Z".parse().expect("time")
    }

    fn answered(status: u16, retry_after: Option<&str>) -> Outcome {
        let mut headers = HeaderMap::new();
        if let Some(text) = retry_after {
            headers.insert(RETRY_AFTER, HeaderValue::from_str(text).expect("text"));
        }
        let (status, url) = (
            StatusCode::from_u16(status).expect("status"),
            "https://a.example/".parse().expect("url"),
        );
        Outcome::of(Ok(OutgoingAnswer { status, headers, body: "".into(), url }), noon())
    }

    fn refusal(outcome: Outcome) -> Refusal {
        match outcome {
            Outcome::Refused(refusal) => refusal,
            Outcome::Taken { status } => panic!("taken with {status}"),
        }
    }

    #[test]
    fn only_2xx_is_success() {
        for status in [200, 201, 202, 204, 299] {
            assert_eq!(answered(status, None), Outcome::Taken { status });
        }
        for status in [301, 302, 304, 307, 308, 400, 401, 404, 410, 429, 500, 503] {
            let refused = refusal(answered(status, None));
            assert_eq!((refused.status, refused.is_gone), (Some(status), status == 410));
            assert!(refused.why.contains(&status.to_string()));
        }
        assert!(answered(410, None).wants_no_more() && answered(429, Some("7")).wants_no_more());
        for other in [answered(204, None), answered(500, Some("7")), answered(429, Some("0"))] {
            assert!(!other.wants_no_more(), "{other:?}");
        }
        let late = refusal(Outcome::of(Err(OutgoingError::Late { seconds: 20 }), noon()));
        assert_eq!((late.status, late.stay_away), (None, None));
    }

    #[test]
    fn who_asks_to_be_left_alone_is() {
        let asked = |status, text| refusal(answered(status, Some(text))).stay_away;
        assert_eq!(asked(429, "120"), Some(TimeDelta::seconds(120)));
        assert_eq!(asked(503, "Tue, 20 Apr 2027 12:30:00 GMT"), Some(TimeDelta::minutes(30)));
        assert_eq!(asked(503, "Tue, 20 Apr 2027 11:30:00 GMT"), Some(TimeDelta::zero()));
        assert_eq!(asked(429, "4294967295"), Some(TimeDelta::hours(24)));
        for text in ["soon", "-1", "", "99999999999999999999"] {
            assert_eq!(asked(429, text), None, "{text}");
        }
        assert_eq!(asked(500, "120"), None, "only those who are busy");
        let busy = refusal(answered(429, Some("3600")));
        assert_eq!(busy.next_try(1, noon()), Some(noon() + TimeDelta::hours(1)));
        let next = busy.next_try(5, noon()).expect("a next try");
        assert!(next >= noon() + TimeDelta::hours(5), "the schedule holds where it is longer");
    }

    #[test]
    fn after_the_last_try_it_is_dead_and_at_once_where_none_is_wanted() {
        let failed = refusal(answered(500, None));
        assert!(failed.next_try(9, noon()).is_some());
        assert_eq!(failed.next_try(10, noon()), None);
        assert_eq!(refusal(answered(410, None)).next_try(1, noon()), None);
    }
}
