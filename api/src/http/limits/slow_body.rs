//! A body that does not arrive: a limit for the whole, and for how slowly it may come.

use std::io;
use std::time::Duration;

use actix_web::dev::Payload;
use actix_web::error::{PayloadError, UrlencodedError};
use actix_web::web::Bytes;
use futures_util::{Stream, StreamExt, stream};
use tokio::time::{Instant, timeout_at};

/// A body may be slow for this long before its rate counts.
const GRACE: Duration = Duration::from_secs(3);
/// What must have come each second after that, on average.
const BYTES_PER_SECOND: u64 = 500;

/// The same body, which breaks off when it comes too slowly or takes longer than `limit`.
pub fn paced(payload: Payload, limit: Duration) -> Payload {
    if matches!(payload, Payload::None) {
        return payload;
    }
    let pace = Pace { limit, grace: GRACE, started: None, received: 0 };
    Payload::Stream { payload: Box::pin(read(payload, pace)) }
}

fn read(payload: Payload, pace: Pace) -> impl Stream<Item = Result<Bytes, PayloadError>> {
    stream::unfold(Some((payload, pace)), |going| async move {
        let (mut payload, mut pace) = going?;
        match timeout_at(pace.deadline(), payload.next()).await {
            Ok(Some(Ok(bytes))) => {
                pace.received += u64::try_from(bytes.len()).unwrap_or(u64::MAX);
                Some((Ok(bytes), Some((payload, pace))))
            }
            Ok(Some(Err(error))) => Some((Err(error), None)),
            Ok(None) => None,
            Err(_elapsed) => Some((Err(too_slow()), None)),
        }
    })
}

#[derive(Debug, Clone, Copy)]
struct Pace {
    limit: Duration,
    grace: Duration,
    started: Option<Instant>,
    received: u64,
}

impl Pace {
    /// When the next part must be there; the first look at the body starts the clock.
    fn deadline(&mut self) -> Instant {
        let started = *self.started.get_or_insert_with(Instant::now);
        let due = self.received.saturating_mul(1000) / BYTES_PER_SECOND;
        started + self.grace.saturating_add(Duration::from_millis(due)).min(self.limit)
    }
}

fn too_slow() -> PayloadError {
    PayloadError::Io(io::ErrorKind::TimedOut.into())
}

/// Whether an error of reading a body says that it came too slowly.
pub fn is_too_slow(error: &actix_web::Error) -> bool {
    let by = |payload: &PayloadError| matches!(payload, PayloadError::Io(cause) if cause.kind() == io::ErrorKind::TimedOut);
    error.as_error::<PayloadError>().is_some_and(by)
        || matches!(error.as_error(), Some(UrlencodedError::Payload(payload)) if by(payload))
}

#[cfg(test)]
mod tests {
    use super::{Pace, is_too_slow, paced, read};
    use actix_web::dev::Payload;
    use actix_web::error::PayloadError;
    use actix_web::web::Bytes;
    use futures_util::{StreamExt, pin_mut, stream};
    use std::time::Duration;
    use tokio::time::{Instant, sleep};

    const MS: Duration = Duration::from_millis(1);

    /// A body in `parts` parts, one every `pause`.
    fn drip(parts: u32, size: usize, pause: Duration) -> Payload {
        let chunks = stream::unfold(0, move |n| async move {
            if n == parts {
                return None;
            }
            sleep(pause).await;
            Some((Ok(Bytes::from(vec![b'x'; size])), n + 1))
        });
        Payload::Stream { payload: Box::pin(chunks) }
    }

    /// Length, error and time of a body that may drip for `grace` and take `limit` in all.
    async fn length(
        payload: Payload,
        grace: Duration,
        limit: Duration,
    ) -> (usize, Option<PayloadError>, Duration) {
        let started = Instant::now();
        let body = read(payload, Pace { limit, grace, started: None, received: 0 });
        pin_mut!(body);
        let mut length = 0;
        while let Some(part) = body.next().await {
            match part {
                Ok(bytes) => length += bytes.len(),
                Err(error) => {
                    assert!(body.next().await.is_none(), "it ends there");
                    return (length, Some(error), started.elapsed());
                }
            }
        }
        (length, None, started.elapsed())
    }

    #[tokio::test]
    async fn a_body_that_keeps_coming_is_read_to_its_end() {
        let (length, error, _) = length(drip(20, 300, 20 * MS), 300 * MS, 60_000 * MS).await;
        assert_eq!((length, error.is_none()), (6000, true));
    }

    #[tokio::test]
    async fn a_body_that_drips_breaks_off_after_the_grace() {
        let (length, error, after) = length(drip(1000, 1, 20 * MS), 200 * MS, 60_000 * MS).await;
        assert!(is_too_slow(&error.expect("broken off").into()));
        assert!(length < 20, "{length}");
        assert!(after >= 200 * MS && after < 2000 * MS, "{after:?}");
    }

    #[tokio::test]
    async fn a_body_that_never_ends_breaks_off_at_the_limit() {
        let (length, error, after) = length(drip(100_000, 9000, MS), 5000 * MS, 200 * MS).await;
        assert!(is_too_slow(&error.expect("broken off").into()));
        assert!(length > 9000 && after >= 200 * MS && after < 2000 * MS, "{length} {after:?}");
    }

    #[test]
    fn another_fault_is_not_slowness_and_no_body_is_left_alone() {
        assert!(!is_too_slow(&PayloadError::Overflow.into()));
        assert!(matches!(paced(Payload::None, MS), Payload::None));
        let mut pace = Pace { limit: MS, grace: MS, started: None, received: u64::MAX };
        assert!(pace.deadline() <= Instant::now() + MS);
    }
}
