//! The accessibility rules of WCAG 2.2 AA, on every screen in both orientations.

use crate::harness::run;
use crate::harness::scene::Viewport;
use crate::tour::{self, Kind};

#[test]
fn no_screen_breaks_an_accessibility_rule() {
    run(async |stage| {
        let mut found = Vec::new();
        tour::walk(&stage.page, async |page, stop| {
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
