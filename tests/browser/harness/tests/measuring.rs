//! Sizes are what they are, and what is planted is found.

use super::run_fixture;
use crate::harness::page::{Piece, gap};
use crate::harness::scene::{Scene, Viewport};

#[test]
fn harness_windows_have_the_size_they_are_given() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        for size in Viewport::PHONES.into_iter().chain([Viewport::DESK]) {
            page.size(size).await;
            let inside = page.eval("[innerWidth, innerHeight, devicePixelRatio]").await;
            assert_eq!(inside, serde_json::json!([size.width, size.height, size.scale]));
        }
    });
}

#[test]
fn harness_glyphs_and_boxes_are_measured_right() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        let start = page.the("button", "START").await.rect;
        let note = page.the("button", "NOTE").await.rect;
        assert_eq!((start.width, start.height), (340.0, 128.0));
        assert_eq!((note.width, note.height), (114.0, 116.0));
        assert!((gap(start, note) - 12.0).abs() < 0.01);
        let measured = page.timer_height().await;
        let drawn = page.ink_height("timer").await;
        assert!((measured - drawn).abs() <= 2.0, "{measured} measured, {drawn} drawn");
        assert!((90.0..120.0).contains(&measured), "{measured}");
        assert!((18.0..22.0).contains(&page.glyph_height("REST").await));
    });
}

#[test]
fn harness_contrast_is_that_of_the_text_on_its_own_ground() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        let texts: Vec<Piece> = page.texts().await;
        let of = |text: &str| texts.iter().find(|piece| piece.text == text).expect("it is there");
        // The contrast of #101418 on #f6f4ee and of white on #101418, by WCAG's formula.
        assert!((of("REST").ratio - 16.8).abs() < 0.1, "{:?}", of("REST"));
        assert!((of("START").ratio - 18.5).abs() < 0.1, "{:?}", of("START"));
        assert_eq!(of("START").ground, "#101418");
        assert_eq!(page.ground().await, "#f6f4ee");
    });
}

#[test]
fn harness_clipped_overlapping_and_scrolling_things_are_found() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        assert_eq!(page.clipped_text().await, [""; 0]);
        assert_eq!(page.overlaps().await, [""; 0]);
        assert!(page.scrolls().await.0 <= 0.0 && page.scrolls().await.1 <= 0.0);
        let add = |tag: &str, style: &str, text: &str| {
            format!(
                "{{ const add = document.createElement('{tag}'); add.className = '{style}';
                add.textContent = '{text}'; document.querySelector('main').append(add); }}"
            )
        };
        page.eval(&add("div", "narrow", "much too long")).await;
        page.eval(&add("div", "below", "under the edge")).await;
        page.eval(&add("button", "on-top", "COVER")).await;
        let clipped = page.clipped_text().await;
        assert_eq!(
            clipped,
            ["cut by its box: much too long", "outside the window: under the edge"]
        );
        page.eval(&add("div", "torn", "well-broken")).await;
        let torn = page.clipped_text().await;
        assert!(torn.contains(&"broken inside a word: broken".to_owned()), "{torn:?}");
        let overlaps = page.overlaps().await.join("\n");
        assert!(overlaps.contains("the key START / the key COVER"), "{overlaps}");
        page.size(Viewport::phone(320, 300)).await;
        let (across, down) = page.scrolls().await;
        assert!(across > 0.0 && down > 0.0, "{across} {down}");
    });
}

#[test]
fn harness_the_rules_pass_a_clean_page_and_find_a_planted_fault() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        assert_eq!(page.axe_violations().await, [""; 0]);
        page.eval(
            "document.getElementById('noted').classList.add('pale');
            document.getElementById('note').textContent = ''",
        )
        .await;
        let found = page.axe_violations().await.join("\n");
        assert!(found.contains("color-contrast") && found.contains("button-name"), "{found}");
    });
}
