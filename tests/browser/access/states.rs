//! The states of a run, told apart by everybody: without colour, and in the person's own colours.

use serde_json::json;

use super::pixels::{self, Colour, SIGHTS, Share};
use crate::harness::page::Page;
use crate::harness::run;
use crate::steps::{self, Steps};

/// Letters and what they stand on, as they look to anybody.
const LETTERS: f64 = 7.0;
/// The ground of REST against the ground of AGITATE, as they look to anybody.
const FLIP: f64 = 9.0;

/// Something seen at a state: its name, the colours of the screen, and those of its left edge.
type Seen = (&'static str, Vec<Share>, Vec<Share>);

async fn see(page: &Page, name: &'static str) -> Seen {
    if name != "FAULT" {
        assert_eq!(page.state_word().await, name, "{}", page.words().await);
    }
    (name, pixels::colours(page, 1.0).await, pixels::colours(page, 0.025).await)
}

/// The states of a run, each as it is on the screen.
async fn states(page: &Page) -> Vec<Seen> {
    let zero = page.start_to_developer().await;
    let mut seen = Vec::new();
    for (at, name) in [(-4.0, "WAIT"), (4.0, "POUR"), (15.0, "AGITATE"), (50.0, "REST")] {
        page.advance_to(zero + at).await;
        seen.push(see(page, name).await);
    }
    page.press("FAULT").await;
    seen.push(see(page, "FAULT").await);
    page.press("BACK TO THE RUN").await;
    page.advance_to(zero + steps::DEVELOPER + 5.0).await;
    seen.push(see(page, "OVER").await);
    seen
}

fn of<'a>(seen: &'a [Seen], name: &str) -> &'a Seen {
    seen.iter().find(|seen| seen.0 == name).expect("it was seen")
}

fn ground(seen: &[Seen], name: &str) -> Colour {
    of(seen, name).1[0].0
}

/// How much of the left edge is of another colour than most of it.
fn hatched(seen: &[Seen], name: &str) -> f64 {
    1.0 - of(seen, name).2[0].1
}

#[test]
fn every_state_is_told_apart_by_whoever_sees_colours_otherwise_or_none() {
    for theme in ["bright", "dim"] {
        run(async |stage| {
            let page = &stage.page;
            page.open("#/settings").await;
            page.advance(1.0).await;
            page.press(theme).await;
            page.press("Bench").await;
            page.lay_out().await;
            let seen = states(page).await;
            println!("{theme}: contrast of letters with the ground, and of REST with AGITATE");
            for sight in SIGHTS {
                let letters = seen.iter().map(|(name, all, _)| {
                    let (ground, ink) = pixels::ground_and_ink(all);
                    (*name, sight.contrast(ground, ink))
                });
                let letters: Vec<_> = letters.collect();
                let flip = sight.contrast(ground(&seen, "REST"), ground(&seen, "AGITATE"));
                println!("{:12} {letters:.1?} flip {flip:.1}", sight.name);
                assert!(letters.iter().all(|(_, contrast)| *contrast >= LETTERS), "{letters:?}");
                assert!(flip >= FLIP, "{}: {flip}", sight.name);
            }
            let (rest, over) = (hatched(&seen, "REST"), hatched(&seen, "OVER"));
            assert!(over > 0.2 && rest < 0.05, "the frame of OVER: {over:.2}, of REST: {rest:.2}");
        });
    }
}

#[test]
fn every_state_is_told_apart_in_the_colours_that_a_person_forces() {
    for scheme in ["light", "dark"] {
        run(async |stage| {
            let page = &stage.page;
            let forced = json!([
                { "name": "forced-colors", "value": "active" },
                { "name": "prefers-color-scheme", "value": scheme },
            ]);
            page.cdp("Emulation.setEmulatedMedia", json!({ "features": forced })).await;
            steps::to_last_check(page).await;
            let seen = states(page).await;
            for (name, all, _) in &seen {
                let (ground, ink) = pixels::ground_and_ink(all);
                let contrast = pixels::contrast(ground, ink);
                println!("forced, {scheme}: {name} {contrast:.1}");
                assert!(contrast >= LETTERS, "{name}: {contrast}");
            }
            let flip = pixels::contrast(ground(&seen, "REST"), ground(&seen, "AGITATE"));
            assert!(flip >= FLIP, "REST and AGITATE: {flip}");
            let (rest, over) = (hatched(&seen, "REST"), hatched(&seen, "OVER"));
            assert!(over > 0.2 && rest < 0.05, "the frame of OVER: {over:.2}, of REST: {rest:.2}");
        });
    }
}
