//! What the drivers' common commands do not do, done by each engine's own way.

mod bidi;

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

pub use bidi::{Bidi, plain};

/// The way into a browser past the common commands.
#[derive(Clone, Debug)]
pub enum Reach {
    /// Its own protocol, through the driver.
    Chromium,
    /// The two-way protocol, beside the driver.
    Firefox(Arc<Bidi>),
    /// Orders to the window of our own that the engine runs in, as files in its profile.
    WebKit(PathBuf),
}

/// Gives the window of our own an order, and waits until it has followed it.
pub async fn order(profile: &Path, name: &str, what: &str) {
    // Whole at once: the window looks whenever it likes.
    let (path, aside) = (profile.join(name), profile.join("order"));
    std::fs::write(&aside, what).expect("room for an order");
    std::fs::rename(&aside, &path).expect("the order is given");
    for _ in 0..1_000 {
        tokio::time::sleep(Duration::from_millis(5)).await;
        if !path.exists() {
            return;
        }
    }
    panic!("the window does not follow the order {name}");
}
