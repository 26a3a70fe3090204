//! Time, moved from outside.

use serde_json::{Value, json};

use super::Page;

impl Page {
    /// Lets `seconds` pass: every timer in turn, with all it leads to.
    pub async fn advance(&self, seconds: f64) {
        self.advance_until("false", seconds).await;
    }

    /// Lets time pass until `condition` (in the page's language) holds, `limit` seconds at most.
    /// Says whether it came to hold.
    pub async fn advance_until(&self, condition: &str, limit: f64) -> bool {
        let stop = format!("() => ({condition})");
        let mut step = format!("__clock.advance({}, {stop})", limit * 1_000.0);
        loop {
            let came = self.eval(&step).await;
            self.note_time(&came);
            if came["stopped"] == true {
                return true;
            }
            if came["done"] == true {
                return false;
            }
            step = format!("__clock.advanceTo({}, {stop})", came["to"]);
        }
    }

    /// Lets time pass until the state word is `word`; fails after `limit` seconds.
    pub async fn advance_to_state(&self, word: &str, limit: f64) {
        let condition = format!("__clock.eyes.stateWord() === {}", json!(word));
        let came = self.advance_until(&condition, limit).await;
        assert!(came, "no {word} within {limit} s; the screen: {:?}", self.look().await);
    }

    /// Lets everything happen that is due already, time standing still.
    pub async fn settle(&self) {
        self.advance(0.0).await;
    }

    /// Somebody sets the wall clock on or back. Nothing else knows of it.
    pub async fn shift_wall(&self, seconds: f64) {
        let ms = seconds * 1_000.0;
        self.eval(&format!("__clock.setWall(__clock.wall() + {ms})")).await;
        self.settle().await;
    }

    /// The phone sleeps: no timer runs, the monotonic clock stands still, the wall clock does not.
    pub async fn sleep(&self, seconds: f64) {
        let sleep = format!("(__clock.sleep({}), __clock.now())", seconds * 1_000.0);
        self.note_time(&self.eval(&sleep).await);
    }

    /// Another page comes in front, or the screen goes dark.
    pub async fn hide(&self) {
        self.eval("__clock.setHidden(true)").await;
        self.settle().await;
    }

    /// The page can be seen again.
    pub async fn show(&self) {
        self.eval("__clock.setHidden(false)").await;
        self.settle().await;
    }

    /// The wall clock as last seen, and the true time since the test began, in milliseconds.
    pub fn times_ms(&self) -> (f64, f64) {
        (self.wall_ms.get(), self.since_ms.get())
    }

    fn note_time(&self, now: &Value) {
        self.wall_ms.set(now["wall"].as_f64().unwrap_or(self.wall_ms.get()));
        self.since_ms.set(now["since"].as_f64().unwrap_or(self.since_ms.get()));
    }
}
