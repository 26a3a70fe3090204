//! What a person does on the way to a run: presses, slowly enough not to be taken for water.

use crate::harness::page::Page;

/// From the Bench to Last check, with everything laid out and heard.
pub async fn to_last_check(page: &Page) {
    page.open("").await;
    press(page, "DEVELOP A ROLL").await;
    for key in ["ALL OF THIS IS SO", "ALL HERE", "ALL HERE", "ALL HERE", "CLEAR"] {
        press(page, key).await;
    }
}

/// Presses a button and lets so much time pass that the next press is not taken for water.
pub async fn press(page: &Page, name: &str) {
    page.tap("button", name).await;
    page.advance(0.75).await;
}

/// Presses the one button whose name has these words in it.
pub async fn press_with(page: &Page, words: &str) {
    let buttons = page.buttons().await;
    let found = buttons.iter().find(|button| button.name.contains(words));
    let (x, y) = found.unwrap_or_else(|| panic!("no button with {words}")).rect.centre();
    page.touch_at(x, y).await;
    page.advance(0.75).await;
}

/// Seconds since the test began.
pub fn since(page: &Page) -> f64 {
    page.times_ms().1 / 1_000.0
}
