//! The page itself breaks.

use crate::harness::run_in;
use crate::harness::scene::Scene;
use crate::steps::{self, Steps};

/// A browser that makes no element any more: nothing that the page wants to show can be shown.
const NO_MORE_ELEMENTS: &str = "for (const [kind, name] of [[Document, 'createElement'], \
     [Node, 'cloneNode']]) kind.prototype[name] = () => { throw new Error('no more elements'); }; 0";

#[test]
fn a_page_that_breaks_in_a_run_says_reload_and_the_run_is_there_again() {
    run_in(Scene { faults_allowed: true, ..Scene::default() }, async |stage| {
        let page = &stage.page;
        let zero = steps::to_developer(page).await;
        page.advance_to(zero + 61.0).await;
        assert!(!page.shows("Something broke.").await, "{}", page.words().await);
        page.eval(NO_MORE_ELEMENTS).await;
        page.tap_only("button", "TEMP").await;
        page.until_shows("Something broke. Reload — your run is saved.").await;
        page.tap_only("link", "Reload").await;
        page.until("__clock.now().load === 2 && document.readyState === 'complete'").await;
        page.until_on("Run: Developer").await;
        assert!(!page.shows("Something broke").await, "{}", page.words().await);
        assert_eq!(page.state_word().await, "AGITATE");
    });
}
