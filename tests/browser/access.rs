//! The accessibility rules of WCAG 2.2 AA, on every screen in both orientations; and the names that
//! tests find things by, against those that a screen reader is given.

mod everywhere;
mod keyboard;
mod pixels;
mod states;

use crate::harness::run;
use crate::harness::scene::Viewport;
use crate::steps::{self, Steps};
use crate::tour::{self, Kind};

#[test]
fn no_screen_breaks_an_accessibility_rule_and_things_are_called_as_the_browser_calls_them() {
    run(async |stage| {
        let mut found = Vec::new();
        tour::walk(&stage.page, async |page, stop| {
            let wrong = page.misnamed().await;
            found.extend(wrong.into_iter().map(|wrong| format!("{}: {wrong}", stop.name)));
            let side =
                if stop.kind == Kind::Desk { Viewport::DESK } else { Viewport::LANDSCAPE_BAR };
            for size in [Viewport::PORTRAIT, side] {
                page.size(size).await;
                page.settle().await;
                let broken = page.axe_violations().await;
                found.extend(broken.into_iter().map(|rule| format!("{}: {rule}", stop.name)));
            }
            page.size(Viewport::PORTRAIT).await;
            page.settle().await;
        })
        .await;
        assert!(found.is_empty(), "{}", found.join("\n"));
    });
}

#[test]
fn a_phone_that_was_turned_and_turned_back_has_every_key_where_it_was() {
    const KEYS: &str = "[...document.querySelectorAll('button')].map((key) => {
        const { x, y, width, height } = key.getBoundingClientRect();
        return [key.innerText, x, y, width, height].join(' ');
    })";
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        page.press("DEVELOP A ROLL").await;
        page.press("ALL OF THIS IS SO").await;
        page.lay_out_the_rest().await;
        page.press("Developer").await;
        page.size(Viewport::PORTRAIT).await;
        page.settle().await;
        let upright = page.eval(KEYS).await;
        page.size(Viewport::LANDSCAPE_BAR).await;
        page.settle().await;
        assert_ne!(page.eval(KEYS).await, upright);
        page.size(Viewport::PORTRAIT).await;
        page.settle().await;
        assert_eq!(page.eval(KEYS).await, upright);
        page.touch_digits("401").await;
        page.advance(0.8).await;
        page.until_shows("40.1").await;
    });
}

#[test]
fn a_window_that_grows_lower_below_a_browsers_bar_has_no_key_on_another() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_tempering(page).await;
        for size in [Viewport::PORTRAIT_BAR, Viewport::PORTRAIT, Viewport::phone(390, 640)] {
            page.size(size).await;
            page.settle().await;
            assert_eq!(page.overlaps().await, [""; 0], "{size:?}");
            assert_eq!(page.clipped_text().await, [""; 0], "{size:?}");
        }
    });
}
