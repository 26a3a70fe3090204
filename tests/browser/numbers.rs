//! The model in a browser: the same bits as natively, and how long it takes.

use crate::harness::scene::{Clock, Scene};
use crate::harness::{environment, run_on};
use crate::steps::Steps;

#[test]
fn the_model_gives_the_same_bits_in_a_browser_as_natively_and_real_time_is_printed() {
    let scene = Scene { clock: Clock::Real, ..Scene::default() };
    run_on(environment::bench(), scene, async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.until_shows("done").await;
        let words = page.words().await;
        println!("{words}");
        let natively = bench::digest();
        assert!(words.contains(&natively), "natively {natively}, in the browser: {words}");
        let count: u32 =
            natively.split(' ').next().and_then(|count| count.parse().ok()).unwrap_or(0);
        assert!(count > 3_000, "{natively}");
    });
}
