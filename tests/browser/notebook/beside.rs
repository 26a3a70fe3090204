//! At a desk a list stands beside its page.

use crate::harness::page::Page;
use crate::harness::run_in;
use crate::harness::scene::{Scene, Viewport};
use crate::steps::Steps;

const LIST: &str = "document.querySelector('aside')";

/// What the list says of the row that leads to the open page; nothing if there is none.
async fn marked(page: &Page) -> String {
    let row = format!("{LIST}?.querySelector('[aria-current]')?.innerText ?? ''");
    page.eval(&row).await.as_str().unwrap_or_default().to_owned()
}

#[test]
fn at_a_desk_a_list_stands_beside_its_page_and_leads_from_one_to_the_next() {
    let scene = Scene { viewport: Viewport::DESK, ..Scene::default() };
    run_in(scene, async |stage| {
        let page = &stage.page;
        page.open("?demo").await;
        page.until_shows("5 runs").await;
        page.advance(1.0).await;
        page.press("Rolls").await;
        assert_eq!(page.eval(&format!("{LIST} === null")).await, true, "a list is alone");
        page.press_with("Engine room by lamp").await;
        assert!(marked(page).await.contains("Engine room by lamp"));
        let down = page.eval(&format!("({LIST}.scrollTop = 9999, {LIST}.scrollTop)")).await;
        assert!(down.as_f64().is_some_and(|down| down > 100.0), "{down}");
        page.press_with("The slip at low tide").await;
        page.until_shows("Came out: Thin: the tub was cool").await;
        assert!(marked(page).await.contains("The slip at low tide"));
        assert_eq!(page.eval(&format!("{LIST}.scrollTop")).await, down, "it is where it was");
        page.picture("desk-roll").await;
        // A window that was made small has room for the page alone.
        page.size(Viewport::PORTRAIT).await;
        page.settle().await;
        assert_eq!(page.eval(&format!("{LIST} === null")).await, true);
        page.size(Viewport::DESK).await;
        page.settle().await;
        assert!(marked(page).await.contains("The slip at low tide"));
        for (place, row, heading) in
            [("Sheets", "C-41", "Sheet"), ("Shelf", "BLEACH-FIX", "Solution")]
        {
            page.press(place).await;
            page.press_with(row).await;
            assert_eq!(page.heading().await, heading);
            assert!(marked(page).await.to_lowercase().contains(&row.to_lowercase()));
            page.picture(&format!("desk-{place}")).await;
        }
    });
}

#[test]
fn at_a_desk_the_last_run_stands_beside_the_bench() {
    let scene = Scene { viewport: Viewport::DESK, ..Scene::default() };
    run_in(scene, async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        assert!(!page.shows("Last run").await, "there is none yet");
        page.open("?demo").await;
        page.until_shows("Last run").await;
        page.until_shows("Estimate: it developed as much as").await;
        page.picture("desk-bench").await;
        page.size(Viewport::PORTRAIT).await;
        page.settle().await;
        assert!(!page.shows("Last run").await, "a phone has room for the Bench alone");
    });
}
