//! On every screen: one voice for a screen reader, nothing that moves by itself, keys for the left
//! hand, and a window as small as zoom makes it.

use serde_json::json;

use crate::harness::engine::Engine;
use crate::harness::page::{Control, Page};
use crate::harness::run;
use crate::harness::scene::Viewport;
use crate::tour::{self, Kind, Stop};

/// A desk at 200 %: half of 1280 × 800.
const DESK_ZOOMED: Viewport = Viewport { width: 640, height: 400, scale: 2, mobile: false };
/// The narrowest window that a page must do with (WCAG 2.2, 1.4.10).
const NARROW: Viewport = Viewport::phone(320, 568);
/// A phone at 200 %: half of 390 × 844, upright and on its side.
const PHONE_ZOOMED: [Viewport; 2] = [Viewport::phone(195, 422), Viewport::phone(422, 195)];

/// One walk for all of it: to reach every screen takes longer than to look at it.
#[test]
fn every_screen_has_one_voice_keeps_still_and_fits_either_hand_and_the_smallest_window() {
    run(async |stage| {
        // A wish for less motion is set by Chromium's own protocol.
        let wishes_for_less = Engine::chosen() == Engine::Chromium;
        if wishes_for_less {
            let less = json!([{ "name": "prefers-reduced-motion", "value": "reduce" }]);
            let less = json!({ "features": less });
            stage.page.cdp("Emulation.setEmulatedMedia", less).await;
        }
        let mut found = Vec::new();
        let mut mirrored = 0;
        tour::walk(&stage.page, async |page, stop| {
            let mut faults = more_than_one_voice(page, stop).await;
            if wishes_for_less {
                faults.extend(what_moves(page).await);
            }
            if stop.kind != Kind::Desk {
                faults.extend(wrong_for_the_left_hand(page, &mut mirrored).await);
            }
            faults.extend(wrong_in_small_windows(page, stop).await);
            found.extend(faults.into_iter().map(|fault| format!("{}: {fault}", stop.name)));
            page.size(Viewport::PORTRAIT).await;
            page.settle().await;
        })
        .await;
        println!("{mirrored} side keys are mirrored");
        assert!(found.is_empty(), "{} faults:\n{}", found.len(), found.join("\n"));
        assert!(mirrored >= 55, "only {mirrored} keys are mirrored");
    });
}

/// One voice for a screen reader, and one heading.
async fn more_than_one_voice(page: &Page, stop: Stop) -> Vec<String> {
    let mut faults = Vec::new();
    let voices = count(page, "#app :is([role=status], [aria-live=polite], [role=log])").await;
    let most = if stop.kind == Kind::Desk { 2.0 } else { 1.0 };
    if !(1.0..=most).contains(&voices) {
        faults.push(format!("{voices} voices"));
    }
    let headings = count(page, "h1").await;
    let mains = count(page, "main").await;
    let timers = count(page, "[role=timer]:not([aria-live=off])").await;
    if (headings, mains, timers) != (1.0, 1.0, 0.0) {
        faults.push(format!("{headings} h1, {mains} main, {timers}"));
    }
    faults
}

/// What moves by itself.
async fn what_moves(page: &Page) -> Option<String> {
    let moving = "document.getAnimations().filter((one) => one.playState === 'running').length";
    let moving = page.eval(moving).await.as_f64().unwrap_or_default();
    (moving > 0.0).then(|| format!("{moving} things move"))
}

async fn count(page: &Page, selector: &str) -> f64 {
    let all = format!(
        "[...document.querySelectorAll('{selector}')].filter((one) => one.checkVisibility()).length"
    );
    page.eval(&all).await.as_f64().unwrap_or_default()
}

/// Keys beside a screen of a session that stay there for the left hand, and what the other hand cuts off.
/// Counts those that went over.
async fn wrong_for_the_left_hand(page: &Page, mirrored: &mut u32) -> Vec<String> {
    page.size(Viewport::LANDSCAPE_BAR).await;
    page.settle().await;
    let (right, before) = (page.buttons().await, cut(page).await);
    page.eval("(document.documentElement.dataset.keys = 'left', 0)").await;
    page.settle().await;
    let (left, after) = (page.buttons().await, cut(page).await);
    page.eval("(document.documentElement.dataset.keys = 'right', 0)").await;
    let mut faults: Vec<_> = after.into_iter().filter(|fault| !before.contains(fault)).collect();
    // The digits of a keypad stay in their order.
    let is_pad = right.iter().any(|key| key.name == "5");
    for key in right.iter().filter(|key| is_at_the_side(key) && !is_pad) {
        let there = left.iter().find(|other| other.name == key.name);
        let there = there.map_or(f64::INFINITY, |there| there.rect.x);
        // A row across the whole screen has no side.
        if (there - key.rect.x).abs() > 1.0 {
            *mirrored += 1;
            if there + key.rect.width > f64::from(Viewport::LANDSCAPE_BAR.width) * 0.55 {
                faults.push(format!("\"{}\" is at {there:.0}", key.name));
            }
        }
    }
    faults
}

/// Whether a key stands in the column at the right edge.
fn is_at_the_side(key: &Control) -> bool {
    let width = f64::from(Viewport::LANDSCAPE_BAR.width);
    key.rect.x + key.rect.width > width - 40.0 && key.rect.width < width / 2.0
}

/// What is cut off, and what lies on something else. On its side the whole field may be the key.
async fn cut(page: &Page) -> Vec<String> {
    let mut cut = page.clipped_text().await;
    cut.extend(page.overlaps_at(Viewport::LANDSCAPE_BAR).await);
    cut
}

/// What is cut off in the smallest of windows, and keys that are not reached there.
async fn wrong_in_small_windows(page: &Page, stop: Stop) -> Vec<String> {
    let desk = [DESK_ZOOMED, NARROW];
    let session = [NARROW, PHONE_ZOOMED[0], PHONE_ZOOMED[1]];
    let sizes = if stop.kind == Kind::Desk { &desk[..] } else { &session[..] };
    let mut found = Vec::new();
    for &size in sizes {
        page.size(size).await;
        page.settle().await;
        let faults = too_small_for(page, stop, size).await;
        let at = |fault| format!("{}×{}: {fault}", size.width, size.height);
        found.extend(faults.into_iter().map(at));
    }
    found
}

async fn too_small_for(page: &Page, stop: Stop, size: Viewport) -> Vec<String> {
    let mut faults = page.clipped_text().await;
    let (across, _) = page.scrolls().await;
    if across > 1.0 {
        faults.push(format!("scrolls sideways by {across}"));
    }
    if stop.kind != Kind::Desk {
        faults.extend(page.overlaps_at(size).await);
    }
    let (wide, high) = (f64::from(size.width) + 1.0, f64::from(size.height) + 1.0);
    let out = |key: &&Control| {
        let rect = key.rect;
        let below = stop.kind != Kind::Desk && rect.y + rect.height > high;
        rect.x < -1.0 || rect.x + rect.width > wide || below
    };
    let keys = page.buttons().await;
    faults.extend(keys.iter().filter(out).map(|key| format!("\"{}\" is outside", key.name)));
    faults
}
