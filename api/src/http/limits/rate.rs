//! How many requests a caller may make in a minute, and the `RateLimit` fields that say so
//! (draft-ietf-httpapi-ratelimit-headers-11).
//!
//! A caller has a store of requests that fills up evenly: one that was quiet for a minute may make
//! a minute's requests at once. Each process counts for itself.

use std::num::NonZeroU32;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use actix_web::Error;
use actix_web::body::MessageBody;
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::Method;
use actix_web::http::header::{HeaderMap, HeaderName, HeaderValue};
use actix_web::middleware::Next;
use actix_web::web::Data;
use governor::clock::Clock as Measured;
use governor::middleware::StateInformationMiddleware;
use governor::state::keyed::HashMapStateStore;
use governor::{Quota, RateLimiter};

use super::caller::{Counted, Slots};
use super::outside::OutsideTokens;
use crate::app::AppState;
use crate::clock::Clock;
use crate::config::Limits;
use crate::http::error::ApiError;
use crate::http::problem::ProblemCode;

/// The header that says what is allowed.
pub const POLICY: HeaderName = HeaderName::from_static("ratelimit-policy");
/// The header that says what is left of it.
pub const LEFT: HeaderName = HeaderName::from_static("ratelimit");

/// The window of every limit, in seconds.
const WINDOW: u32 = 60;
/// How often what is known of quiet callers is forgotten.
const SWEEP: Duration = Duration::from_mins(1);

/// Which store a request is taken from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Class {
    /// Whatever changes nothing.
    Reads,
    /// Whatever may change something, and calculations.
    Writes,
    /// Whatever proves who someone is.
    SignIns,
}

impl Class {
    /// The class of a request of someone who has proved who he is, or not.
    pub(super) fn of(method: &Method, is_sign_in: bool) -> Self {
        match *method {
            Method::GET | Method::HEAD | Method::OPTIONS | Method::TRACE => Self::Reads,
            _ if is_sign_in => Self::SignIns,
            _ => Self::Writes,
        }
    }

    /// Its name in the fields.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Reads => "reads",
            Self::Writes => "writes",
            Self::SignIns => "sign_ins",
        }
    }
}

/// Counts the requests of all callers.
#[derive(Debug)]
pub struct RateLimits {
    pub(super) slots: Slots,
    /// Tokens of outside issuers that have proved good.
    pub outside: OutsideTokens,
    reads: Option<Store>,
    writes: Option<Store>,
    sign_ins: Option<Store>,
}

impl RateLimits {
    /// As the settings say; a limit of 0 is none.
    pub fn new(limits: &Limits, clock: &Arc<dyn Clock>) -> Self {
        let store = |quota| NonZeroU32::new(quota).map(|quota| Store::new(quota, clock.clone()));
        Self {
            slots: Slots::default(),
            outside: OutsideTokens::default(),
            reads: store(limits.reads_per_minute),
            writes: store(limits.writes_per_minute),
            sign_ins: store(limits.sign_ins_per_minute),
        }
    }

    /// Takes one request out of the caller's store.
    fn take(&self, class: Class, caller: &Counted) -> Option<Taken> {
        let store = match class {
            Class::Reads => &self.reads,
            Class::Writes => &self.writes,
            Class::SignIns => &self.sign_ins,
        };
        store.as_ref().map(|store| store.take(class, caller))
    }
}

type Limiter = RateLimiter<Counted, HashMapStateStore<Counted>, Ticks, StateInformationMiddleware>;

/// The stores of all callers for one class.
#[derive(Debug)]
struct Store {
    quota: NonZeroU32,
    clock: Ticks,
    limiter: Limiter,
    swept: Mutex<Duration>,
}

impl Store {
    fn new(quota: NonZeroU32, clock: Arc<dyn Clock>) -> Self {
        let clock = Ticks(clock);
        let limiter = RateLimiter::hashmap_with_clock(Quota::per_minute(quota), clock.clone());
        let swept = Mutex::new(clock.now());
        Self { quota, limiter: limiter.with_middleware(), clock, swept }
    }

    fn take(&self, class: Class, caller: &Counted) -> Taken {
        self.sweep();
        let quota = self.quota.get();
        match self.limiter.check_key(caller) {
            Ok(state) => {
                let left = state.remaining_burst_capacity().min(quota);
                let missing = u64::from(quota - left) * u64::from(WINDOW);
                let full_in = missing.div_ceil(u64::from(quota));
                Taken { class, quota, left, seconds: full_in, refused: false }
            }
            Err(not_yet) => {
                let wait = not_yet.wait_time_from(self.clock.now());
                let seconds = wait.as_secs() + u64::from(wait.subsec_nanos() > 0);
                Taken { class, quota, left: 0, seconds: seconds.max(1), refused: true }
            }
        }
    }

    /// Forgets callers who have been quiet, so that what is remembered is bounded by who called in
    /// the last minutes: accounts that exist, and a fixed number of slots for everyone else.
    fn sweep(&self) {
        let now = self.clock.now();
        let mut swept = self.swept.lock().unwrap_or_else(PoisonError::into_inner);
        if now.saturating_sub(*swept) >= SWEEP {
            *swept = now;
            self.limiter.retain_recent();
            self.limiter.shrink_to_fit();
        }
    }
}

/// The application's clock, as the counting library asks for it.
#[derive(Debug, Clone)]
struct Ticks(Arc<dyn Clock>);

impl Measured for Ticks {
    type Instant = Duration;

    fn now(&self) -> Duration {
        self.0.elapsed()
    }
}

/// What became of a request.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Taken {
    class: Class,
    quota: u32,
    left: u32,
    /// Until the store is full again; when refused, until the next request.
    seconds: u64,
    refused: bool,
}

impl Taken {
    fn put_into(self, headers: &mut HeaderMap) {
        let Self { class, quota, left, seconds, refused: _ } = self;
        let name = class.name();
        for (header, value) in [
            (POLICY, format!("\"{name}\";q={quota};w={WINDOW}")),
            (LEFT, format!("\"{name}\";r={left};t={seconds}")),
        ] {
            if let Ok(value) = HeaderValue::from_str(&value) {
                headers.insert(header, value);
            }
        }
    }

    fn refusal(self) -> ApiError {
        let Self { class, quota, seconds, .. } = self;
        let detail = format!(
            "More than {quota} {} in a minute. Wait {seconds} s.",
            class.name().replace('_', "-"),
        );
        ApiError::try_later(ProblemCode::TooManyRequests, detail, seconds)
    }
}

/// Counts every request but those that ask whether the service is well.
pub async fn limit_rate<B: MessageBody + 'static>(
    request: ServiceRequest,
    next: Next<B>,
) -> Result<ServiceResponse<B>, Error> {
    let Some(taken) = take(&request) else { return next.call(request).await };
    let outcome =
        if taken.refused { Err(taken.refusal().into()) } else { next.call(request).await };
    match outcome {
        Ok(mut answer) => {
            taken.put_into(answer.headers_mut());
            Ok(answer)
        }
        Err(mut error) => {
            error.add_response_mapper(move |mut answer| {
                taken.put_into(answer.headers_mut());
                answer
            });
            Err(error)
        }
    }
}

fn take(request: &ServiceRequest) -> Option<Taken> {
    let app = request.app_data::<Data<AppState>>()?;
    if request.path().starts_with("/health/") {
        return None;
    }
    let (class, caller) = super::caller::of(request, app);
    app.rates.take(class, &caller)
}

#[cfg(test)]
mod tests {
    use super::{Class, Counted, Limits, RateLimits, Taken};
    use crate::auth::network::Network;
    use crate::clock::FixedClock;
    use actix_web::http::Method;
    use actix_web::http::header::HeaderMap;
    use chrono::{DateTime, TimeDelta};
    use std::sync::Arc;
    use uuid::Uuid;

    fn limits(reads_per_minute: u32) -> (Arc<FixedClock>, RateLimits) {
        let clock = Arc::new(FixedClock::new(DateTime::UNIX_EPOCH + TimeDelta::days(20_000)));
        let limits = Limits { reads_per_minute, ..Limits::none() };
        let as_clock: Arc<dyn crate::clock::Clock> = clock.clone();
        (clock, RateLimits::new(&limits, &as_clock))
    }

    fn account(n: u128) -> Counted {
        Counted::Account(Uuid::from_u128(n))
    }

    #[test]
    fn a_store_runs_out_for_one_caller_and_fills_up_evenly() {
        let (clock, limits) = limits(3);
        let take = |n| limits.take(Class::Reads, &account(n)).expect("a limit");
        let first = take(1);
        assert_eq!((first.left, first.seconds, first.refused), (2, 20, false));
        assert_eq!((take(1).left, take(1).left), (1, 0));
        let refused = take(1);
        assert_eq!((refused.left, refused.seconds, refused.refused), (0, 20, true));
        assert!(!take(2).refused, "another caller has his own");
        clock.advance(TimeDelta::seconds(19));
        assert_eq!((take(1).refused, take(1).seconds), (true, 1));
        clock.advance(TimeDelta::seconds(1));
        assert!(!take(1).refused);
        clock.advance(TimeDelta::seconds(600));
        assert_eq!(take(1).left, 2, "no more than a minute's requests are saved up");
    }

    #[test]
    fn no_limit_counts_nothing() {
        let (_, limits) = limits(0);
        assert_eq!(limits.take(Class::Reads, &account(1)), None);
        assert_eq!(limits.take(Class::Writes, &account(1)), None);
    }

    #[test]
    fn callers_who_went_quiet_are_forgotten() {
        let (clock, limits) = limits(5);
        for n in 0..1000 {
            limits.take(Class::Reads, &account(n));
        }
        let store = limits.reads.as_ref().expect("a limit");
        assert_eq!(store.limiter.len(), 1000);
        clock.advance(TimeDelta::seconds(61));
        limits.take(Class::Reads, &account(1));
        assert_eq!(store.limiter.len(), 1);
    }

    #[test]
    fn a_flood_of_addresses_fills_no_more_than_the_slots() {
        let (_, limits) = limits(5);
        for n in 0..200_000_u32 {
            let address = std::net::IpAddr::from(n.to_be_bytes());
            limits.take(Class::Reads, &limits.slots.of(Network(address)));
        }
        assert!(limits.reads.as_ref().expect("a limit").limiter.len() <= 65_536);
    }

    #[test]
    fn the_fields_are_those_of_the_draft() {
        let taken =
            Taken { class: Class::SignIns, quota: 30, left: 29, seconds: 2, refused: false };
        let mut headers = HeaderMap::new();
        taken.put_into(&mut headers);
        assert_eq!(headers.get("ratelimit-policy").expect("set"), "\"sign_ins\";q=30;w=60");
        assert_eq!(headers.get("ratelimit").expect("set"), "\"sign_ins\";r=29;t=2");
    }

    #[test]
    fn what_only_reads_is_told_from_the_rest() {
        assert_eq!(Class::of(&Method::GET, true), Class::Reads);
        assert_eq!(Class::of(&Method::POST, true), Class::SignIns);
        assert_eq!(Class::of(&Method::DELETE, false), Class::Writes);
    }
}
