//! A roll from the Bench to its page without a finger or a mouse.

use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, LEAD_IN, Steps};

/// Goes from key to key until the focus is on the one of this name, and presses it.
async fn press_by_keys(page: &Page, name: &str) {
    let wanted = name.to_lowercase();
    for _ in 0..150 {
        page.key("Tab").await;
        let focused = "document.activeElement === document.body ? ''
            : document.activeElement.innerText.replace(/\\s+/g, ' ').toLowerCase()";
        let focused = page.eval(focused).await;
        if focused.as_str().is_some_and(|focused| focused.contains(&wanted)) {
            page.key("Enter").await;
            page.advance(0.8).await;
            return;
        }
    }
    panic!("the focus does not come to {name}: {}", page.words().await);
}

#[test]
fn a_whole_roll_by_the_keyboard_alone() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(0.8).await;
        for key in steps::LAYING_OUT {
            press_by_keys(page, key).await;
        }
        assert_eq!(page.heading().await, "Last check");
        press_by_keys(page, "Developer").await;
        for digit in ["4", "0", "1"] {
            page.key(digit).await;
        }
        page.advance(3.0).await;
        page.until_shows("40.1").await;
        page.key(" ").await;
        page.advance(5.0 + steps::PRE_SOAK).await;
        page.key(" ").await;
        page.advance(LEAD_IN + 40.0).await;
        page.key("f").await;
        page.advance(0.8).await;
        press_by_keys(page, "Light got in").await;
        page.key("Escape").await;
        page.advance(steps::DEVELOPER - 40.0 - 2.0).await;
        page.key(" ").await;
        page.advance(LEAD_IN + steps::BLEACH_FIX).await;
        page.key(" ").await;
        page.advance(LEAD_IN + 310.0).await;
        page.key(" ").await;
        page.advance(60.0).await;
        page.key(" ").await;
        page.advance(LEAD_IN + 60.0).await;
        page.key(" ").await;
        page.advance(1.0).await;
        page.key("ArrowRight").await;
        page.advance(1.0).await;
        page.key(" ").await;
        page.advance(1.0).await;
        assert_eq!(page.heading().await, "Hang");
        press_by_keys(page, "DONE").await;
        press_by_keys(page, "DONE").await;
        press_by_keys(page, "Rolls").await;
        press_by_keys(page, "colour negative").await;
        page.until_shows("Bleach-fix 8:00").await;
        assert!(page.shows("Light got in").await, "{}", page.words().await);
        let presses = page.heard().await.presses();
        assert!(presses.iter().all(|press| !press.what.what.starts_with("pointer")));
    });
}
