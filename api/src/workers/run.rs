//! The loop.

use std::sync::Arc;
use std::time::Duration;

use tokio::sync::watch;
use tokio::task::{JoinError, JoinHandle, JoinSet};

use super::look::Look;
use super::work::Work;

/// The workers of a running service for one kind of work.
#[derive(Debug)]
pub struct Workers {
    stop: watch::Sender<bool>,
    task: JoinHandle<()>,
}

impl Workers {
    /// Starts them; they look for work at least this often.
    pub fn start(work: impl Work, look_every: Duration) -> Self {
        let (stop, stopped) = watch::channel(false);
        Self { stop, task: tokio::spawn(run(Arc::new(work), look_every, stopped)) }
    }

    /// Ends them, after the pieces under way or the time that these have.
    pub async fn stop(self) {
        self.stop.send_replace(true);
        if let Err(error) = self.task.await {
            tracing::warn!(%error, "workers broke");
        }
    }
}

async fn run<W: Work>(work: Arc<W>, look_every: Duration, mut stopped: watch::Receiver<bool>) {
    let mut at_work = JoinSet::new();
    let mut look = Look::of(work.clone());
    loop {
        while let Some(ended) = at_work.try_join_next() {
            note(work.name(), ended);
        }
        look.look(&mut at_work).await;
        tokio::select! {
            // Also when nobody holds the service any more.
            _ = stopped.changed() => break,
            () = work.waker().woken() => {}
            Some(ended) = at_work.join_next() => note(work.name(), ended),
            () = tokio::time::sleep(look_every) => {}
        }
    }
    end(&*work, at_work).await;
}

/// Lets the pieces under way go on for their last time.
async fn end<W: Work>(work: &W, mut at_work: JoinSet<()>) {
    let last = async {
        while let Some(ended) = at_work.join_next().await {
            note(work.name(), ended);
        }
    };
    if tokio::time::timeout(work.last_time(), last).await.is_err() {
        tracing::info!(work = work.name(), "work under way is left to the next start");
        at_work.shutdown().await;
    }
}

/// A piece that broke: its place is free again, and its lease ends by itself.
fn note(work: &'static str, ended: Result<(), JoinError>) {
    if let Err(error) = ended {
        tracing::error!(work, %error, "a piece of work broke");
    }
}
