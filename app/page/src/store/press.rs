//! Presses: a second touch too soon after the first is water, not a finger.

use leptos::prelude::*;

use super::Store;

/// Between two touches of keys.
const APART_MS: f64 = 700.0;
/// Between two touches of the keypad.
const DIGITS_APART_MS: f64 = 80.0;

impl Store {
    /// Whether a touch of a key counts.
    pub fn accepts_press(self) -> bool {
        self.accepts_after(APART_MS)
    }

    /// Whether a touch of a digit counts.
    pub fn accepts_digit(self) -> bool {
        self.accepts_after(DIGITS_APART_MS)
    }

    /// The screen has changed under the finger by itself: what comes now was meant for before.
    pub(super) fn hold_presses(self) {
        let now = self.mono_ms();
        self.live.update_value(|live| live.pressed_mono_ms = now);
    }

    fn accepts_after(self, apart_ms: f64) -> bool {
        let now = self.mono_ms();
        let accepts = self.live.with_value(|live| now - live.pressed_mono_ms >= apart_ms);
        if accepts {
            self.live.update_value(|live| live.pressed_mono_ms = now);
        }
        accepts
    }

    fn mono_ms(self) -> f64 {
        self.read_both().1
    }
}
