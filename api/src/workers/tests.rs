//! The loop with pieces that are slow, that break, and that come while nobody looks.

use std::collections::VecDeque;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};
use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};

use super::{Places, Waker, Work, Workers};
use crate::clock::{Clock, FixedClock};
use crate::http::ApiError;

/// What a piece does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Piece {
    Takes(Duration),
    Hangs,
    Breaks,
}

#[derive(Debug)]
struct Inside {
    clock: FixedClock,
    waker: Waker,
    queue: Mutex<VecDeque<Piece>>,
    /// What is begun before the queue fails; for ever when there is none.
    fails_after: Mutex<Option<usize>>,
    looks: AtomicUsize,
    sweeps: AtomicUsize,
    at_once: AtomicUsize,
    most_at_once: AtomicUsize,
    done: AtomicUsize,
    dropped: AtomicUsize,
    database_is_away: AtomicBool,
}

/// Work from a queue in memory.
#[derive(Debug, Clone)]
struct Queue {
    inside: Arc<Inside>,
    places: usize,
    last_time: Duration,
}

impl Queue {
    fn of(pieces: impl IntoIterator<Item = Piece>) -> Self {
        let noon = "2027-04-20T12:00:00Z".parse().expect("a time");
        let inside = Arc::new(Inside {
            clock: FixedClock::new(noon),
            waker: Waker::default(),
            queue: Mutex::new(pieces.into_iter().collect()),
            fails_after: Mutex::default(),
            looks: AtomicUsize::default(),
            sweeps: AtomicUsize::default(),
            at_once: AtomicUsize::default(),
            most_at_once: AtomicUsize::default(),
            done: AtomicUsize::default(),
            dropped: AtomicUsize::default(),
            database_is_away: AtomicBool::default(),
        });
        Self { inside, places: 3, last_time: Duration::from_secs(20) }
    }

    fn add(&self, piece: Piece) {
        self.inside.queue.lock().expect("a lock").push_back(piece);
    }

    fn left(&self) -> usize {
        self.inside.queue.lock().expect("a lock").len()
    }

    fn done(&self) -> usize {
        self.inside.done.load(Ordering::SeqCst)
    }

    fn at_once(&self) -> usize {
        self.inside.at_once.load(Ordering::SeqCst)
    }

    fn looks(&self) -> usize {
        self.inside.looks.load(Ordering::SeqCst)
    }

    fn answer(&self) -> Result<(), ApiError> {
        if self.inside.database_is_away.load(Ordering::SeqCst) {
            return Err(ApiError::internal("the database is away"));
        }
        Ok(())
    }

    /// Waits until something is so.
    async fn until(&self, is_so: impl Fn(&Self) -> bool) {
        let waits = async {
            while !is_so(self) {
                tokio::time::sleep(Duration::from_millis(2)).await;
            }
        };
        let come = tokio::time::timeout(Duration::from_secs(20), waits).await;
        assert!(come.is_ok(), "waited in vain: {self:?}");
    }
}

/// Counts a piece that is under way, and one that is dropped before its end.
struct UnderWay<'a>(&'a Inside, bool);

impl<'a> UnderWay<'a> {
    fn begin(inside: &'a Inside) -> Self {
        let now = inside.at_once.fetch_add(1, Ordering::SeqCst) + 1;
        inside.most_at_once.fetch_max(now, Ordering::SeqCst);
        Self(inside, false)
    }
}

impl Drop for UnderWay<'_> {
    fn drop(&mut self) {
        self.0.at_once.fetch_sub(1, Ordering::SeqCst);
        let ended = if self.1 { &self.0.done } else { &self.0.dropped };
        ended.fetch_add(1, Ordering::SeqCst);
    }
}

impl Work for Queue {
    type Piece = Piece;

    fn name(&self) -> &'static str {
        "pieces"
    }

    fn places(&self) -> usize {
        self.places
    }

    fn last_time(&self) -> Duration {
        self.last_time
    }

    fn clock(&self) -> &dyn Clock {
        &self.inside.clock
    }

    fn waker(&self) -> &Waker {
        &self.inside.waker
    }

    async fn sweep(&self, _now: DateTime<Utc>) -> Result<u64, ApiError> {
        self.inside.sweeps.fetch_add(1, Ordering::SeqCst);
        self.answer().map(|()| 0)
    }

    async fn schedule(&self, _now: DateTime<Utc>) -> Result<(), ApiError> {
        self.inside.looks.fetch_add(1, Ordering::SeqCst);
        self.answer()
    }

    async fn take(
        &self,
        _now: DateTime<Utc>,
        places: &mut Places<'_, Self>,
    ) -> Result<(), ApiError> {
        while places.free() > 0 {
            let mut fails_after = self.inside.fails_after.lock().expect("a lock");
            match fails_after.as_mut() {
                Some(0) => {
                    *fails_after = None;
                    return Err(ApiError::internal("the database is away"));
                }
                Some(left) => *left -= 1,
                None => {}
            }
            let Some(piece) = self.inside.queue.lock().expect("a lock").pop_front() else {
                break;
            };
            places.begin(piece);
        }
        Ok(())
    }

    async fn carry_out(&self, piece: Piece) {
        let mut under_way = UnderWay::begin(&self.inside);
        match piece {
            Piece::Takes(time) => tokio::time::sleep(time).await,
            Piece::Hangs => std::future::pending().await,
            Piece::Breaks => panic!("a piece that breaks"),
        }
        under_way.1 = true;
    }
}

const SELDOM: Duration = Duration::from_hours(1);
const OFTEN: Duration = Duration::from_millis(5);
const SHORT: Piece = Piece::Takes(Duration::from_millis(10));

#[tokio::test]
async fn all_is_done_and_never_more_at_once_than_there_are_places() {
    let queue = Queue::of([SHORT; 20]);
    // Nobody looks again but when a place becomes free.
    let workers = Workers::start(queue.clone(), SELDOM);
    queue.until(|it| it.done() == 20).await;
    workers.stop().await;
    assert_eq!(queue.inside.most_at_once.load(Ordering::SeqCst), 3);
}

#[tokio::test]
async fn what_hangs_keeps_its_own_place_and_what_breaks_none() {
    let pieces = [Piece::Hangs, Piece::Breaks, Piece::Hangs, Piece::Breaks, SHORT, SHORT, SHORT];
    let queue = Queue { last_time: Duration::ZERO, ..Queue::of(pieces) };
    let workers = Workers::start(queue.clone(), SELDOM);
    queue.until(|it| it.done() == 3).await;
    assert_eq!((queue.at_once(), queue.left()), (2, 0));
    workers.stop().await;
}

#[tokio::test]
async fn being_woken_is_enough_even_while_they_look() {
    let queue = Queue::of([]);
    // Before they wait: it is not lost.
    queue.inside.waker.wake();
    let workers = Workers::start(queue.clone(), SELDOM);
    queue.until(|it| it.looks() == 2).await;
    queue.add(SHORT);
    tokio::time::sleep(Duration::from_millis(50)).await;
    assert_eq!((queue.done(), queue.looks()), (0, 2), "nobody looks without being woken");
    queue.inside.waker.wake();
    queue.until(|it| it.done() == 1).await;
    workers.stop().await;
}

#[tokio::test]
async fn what_another_process_left_is_found_by_looking() {
    let queue = Queue::of([]);
    let workers = Workers::start(queue.clone(), OFTEN);
    queue.until(|it| it.looks() > 1).await;
    queue.add(SHORT);
    queue.until(|it| it.done() == 1).await;
    workers.stop().await;
}

#[tokio::test]
async fn a_look_that_fails_ends_nothing_and_loses_nothing() {
    let queue = Queue::of([SHORT; 5]);
    queue.inside.database_is_away.store(true, Ordering::SeqCst);
    // Two are taken, then taking fails.
    *queue.inside.fails_after.lock().expect("a lock") = Some(2);
    let workers = Workers::start(queue.clone(), SELDOM);
    // The failed sweep and schedule kept nobody from taking; the two made place for the rest.
    queue.until(|it| it.done() == 5).await;
    workers.stop().await;
    assert_eq!(queue.inside.dropped.load(Ordering::SeqCst), 0);
}

#[tokio::test]
async fn it_is_swept_at_the_start_and_once_an_hour() {
    let queue = Queue::of([]);
    let workers = Workers::start(queue.clone(), OFTEN);
    let sweeps = || queue.inside.sweeps.load(Ordering::SeqCst);
    queue.until(|it| it.looks() > 5).await;
    assert_eq!(sweeps(), 1);
    queue.inside.clock.advance(TimeDelta::minutes(59));
    let looks = queue.looks();
    queue.until(|it| it.looks() > looks + 5).await;
    assert_eq!(sweeps(), 1);
    queue.inside.clock.advance(TimeDelta::minutes(1));
    let looks = queue.looks();
    queue.until(|it| it.looks() > looks + 5).await;
    assert_eq!(sweeps(), 2);
    workers.stop().await;
}

#[tokio::test]
async fn the_end_waits_for_what_is_under_way_and_begins_nothing_new() {
    let slow = Piece::Takes(Duration::from_millis(200));
    let queue = Queue::of([slow; 5]);
    let workers = Workers::start(queue.clone(), OFTEN);
    queue.until(|it| it.at_once() == 3).await;
    workers.stop().await;
    assert_eq!((queue.done(), queue.at_once(), queue.left()), (3, 0, 2));
    assert_eq!(queue.inside.dropped.load(Ordering::SeqCst), 0);
}

#[tokio::test]
async fn what_goes_on_for_too_long_at_the_end_is_dropped() {
    let last_time = Duration::from_millis(30);
    let queue = Queue { last_time, ..Queue::of([Piece::Hangs, Piece::Hangs]) };
    let workers = Workers::start(queue.clone(), OFTEN);
    queue.until(|it| it.at_once() == 2).await;
    let began = std::time::Instant::now();
    workers.stop().await;
    assert!(began.elapsed() >= last_time);
    assert_eq!((queue.done(), queue.at_once()), (0, 0));
    assert_eq!(queue.inside.dropped.load(Ordering::SeqCst), 2);
}

#[tokio::test]
async fn they_end_when_nobody_holds_the_service_any_more() {
    let queue = Queue::of([]);
    drop(Workers::start(queue.clone(), SELDOM));
    // Ours alone is left.
    queue.until(|it| Arc::strong_count(&it.inside) == 1).await;
}
