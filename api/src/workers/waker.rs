//! Waking workers.

use tokio::sync::Notify;

/// Wakes workers of this process when something was committed. Those of other processes look by
/// themselves, every few seconds.
#[derive(Debug, Default)]
pub struct Waker(Notify);

impl Waker {
    /// There may be something to do.
    pub fn wake(&self) {
        self.0.notify_one();
    }

    /// Waits until there may be something to do. Being woken many times counts once.
    pub async fn woken(&self) {
        self.0.notified().await;
    }
}
