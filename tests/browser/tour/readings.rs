//! Readings on the way, by whichever scale the keypad has.

use crate::harness::page::Page;
use crate::steps::Steps;

/// Opens a place and types what the thermometer says there.
pub async fn read(page: &Page, place: &str, tenths: &str) {
    page.press(place).await;
    type_reading(page, tenths).await;
    page.advance(0.8).await;
}

/// Types a reading, given in tenths of a degree Celsius, by the scale that the keypad has.
pub async fn type_reading(page: &Page, tenths: &str) {
    // Where a note stands below the digits there is no room for the scale, which is then not seen.
    let scale = "document.body.textContent.includes('°F')";
    if page.eval(scale).await != true {
        return page.touch_digits(tenths).await;
    }
    let celsius = tenths.parse::<f64>().expect("digits") / 10.0;
    // What cannot be is a slip of another kind by this scale: a digit that is missing.
    let whole = format!("{:.0}", celsius * 1.8 + 32.0);
    page.touch_digits(if whole.starts_with('2') { "20" } else { &whole }).await;
    page.advance(0.8).await;
    // A thermometer of this scale may be read to half a degree.
    if page.has("button", "+½").await {
        page.press("AS READ").await;
    }
}
