//! A loop beside the service that ends when it is told to.

use tokio::sync::watch;
use tokio::task::JoinHandle;

/// A running loop.
pub struct Background {
    task: JoinHandle<()>,
    stop: watch::Sender<bool>,
}

/// Tells a loop when to end.
pub type Stopped = watch::Receiver<bool>;

impl Background {
    /// Starts a loop, which must end soon after it is told to.
    pub fn start<F: Future<Output = ()> + Send + 'static>(body: impl FnOnce(Stopped) -> F) -> Self {
        let (stop, stopped) = watch::channel(false);
        Self { task: tokio::spawn(body(stopped)), stop }
    }

    /// Ends the loop once what is in hand is done.
    pub async fn stop(self) {
        self.stop.send_replace(true);
        // A loop that panicked has ended too.
        let _ = self.task.await;
    }
}
