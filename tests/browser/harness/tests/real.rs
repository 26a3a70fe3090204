//! With the real clock: what is rendered is found, also on a busy page.

use super::run_fixture;
use crate::harness::scene::{Clock, Scene};

#[test]
fn harness_real_time_tones_are_found_in_the_samples_of_a_busy_page() {
    // Only that each is found about where it was planned: how punctual a page is, is measured
    // where little else has a claim to the machine.
    let scene = Scene { clock: Clock::Real, blocked: true, ..Scene::default() };
    run_fixture(scene, async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.tap("button", "START").await;
        page.advance(17.0).await;
        let heard = page.heard().await;
        let click = heard.presses().into_iter().find(|press| press.what.what == "click");
        let click = click.expect("a click").what.stamp;
        // E2, E1, E3 and the two notes of E2 twice; the tick is a note like any other here.
        let due = [1.0, 3.0, 5.0, 10.0, 15.0, 15.6];
        let onsets = heard.onsets();
        assert_eq!(onsets.len(), due.len(), "{onsets:?}");
        for (onset, due) in onsets.iter().zip(due) {
            let late = |at: f64| at - click - due * 1_000.0;
            let output = onset.what.output_ms.map(late);
            let rendered = late(onset.what.rendered_ms);
            println!("{due} s: output {output:?} ms, rendered {rendered} ms late");
            assert!(output.is_some_and(|late| (-100.0..400.0).contains(&late)), "{output:?}");
            assert!((-100.0..400.0).contains(&rendered), "{rendered}");
        }
    });
}
