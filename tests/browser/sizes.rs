//! What a person two metres away, or with a wet glove, must be able to read and hit.
//!
//! One walk through every screen measures all the sizes of a window at each stop.

use crate::harness::engine::Engine;
use crate::harness::page::{Control, Page, Piece};
use crate::harness::run;
use crate::harness::scene::Viewport;
use crate::tour::{self, Kind, Stop};

#[test]
fn every_screen_can_be_read_and_hit_at_every_size_in_its_picture() {
    run(async |stage| {
        let mut found = Vec::new();
        tour::walk(&stage.page, async |page, stop| {
            for size in sizes(stop) {
                page.size(size).await;
                page.settle().await;
                let at = format!("{} {}×{}", stop.name, size.width, size.height);
                found.extend(
                    faults(page, stop, size)
                        .await
                        .into_iter()
                        .map(|fault| format!("{at}: {fault}")),
                );
                page.picture(stop.name).await;
            }
            page.size(Viewport::PORTRAIT).await;
            page.settle().await;
        })
        .await;
        assert!(found.is_empty(), "{} faults:\n{}", found.len(), found.join("\n"));
    });
}

#[test]
fn every_screen_can_be_read_and_hit_in_fahrenheit_on_the_dim_ground_in_its_picture() {
    run(async |stage| {
        let mut found = Vec::new();
        tour::walk_in_fahrenheit(&stage.page, async |page, stop| {
            for size in [Viewport::PORTRAIT, Viewport::LANDSCAPE, Viewport::DESK] {
                page.size(size).await;
                page.settle().await;
                let at = format!("{} {}×{}", stop.name, size.width, size.height);
                let faults = faults(page, stop, size).await.into_iter();
                found.extend(faults.map(|fault| format!("{at}: {fault}")));
                page.picture(&format!("dim-{}", stop.name)).await;
            }
            page.size(Viewport::PORTRAIT).await;
            page.settle().await;
        })
        .await;
        assert!(found.is_empty(), "{} faults:\n{}", found.len(), found.join("\n"));
    });
}

fn sizes(stop: Stop) -> Vec<Viewport> {
    match stop.kind {
        Kind::Desk => {
            vec![Viewport::PORTRAIT, Viewport::LANDSCAPE, Viewport::SMALL, Viewport::DESK]
        }
        Kind::Session | Kind::State(_) => [&Viewport::PHONES[..], &[Viewport::DESK]].concat(),
    }
}

/// What stays in view at a desk.
const BAR: [&str; 11] = [
    "Bench",
    "Rolls",
    "Shelf",
    "Sheets",
    "Settings",
    "ALL HERE",
    "ALL OF THIS",
    "CLEAR",
    "NOT CLEAR",
    "next:",
    "go by the screen",
];

async fn faults(page: &Page, stop: Stop, size: Viewport) -> Vec<String> {
    let texts = page.texts().await;
    let buttons = page.buttons().await;
    let mut faults = page.clipped_text().await;
    // At a desk the bar stays in view, and what is below it is reached by scrolling.
    let under_the_bar = |fault: &String| {
        stop.kind == Kind::Desk
            && fault.split(" / ").any(|name| {
                let name = name.trim_start_matches("the key ");
                BAR.iter().any(|key| name.starts_with(key))
            })
    };
    let overlaps = page.overlaps_at(size).await;
    faults.extend(overlaps.into_iter().filter(|fault| !under_the_bar(fault)));
    match stop.kind {
        Kind::Desk => {
            faults.extend(small_text(&texts, 14.0));
            faults.extend(faint_text(&texts, 4.5));
            faults.extend(small_controls(&buttons, 48.0, 48.0));
            let wide = page.scrolls().await.0;
            if wide > 0.5 {
                faults.push(format!("scrolls sideways by {wide}"));
            }
        }
        Kind::Session | Kind::State(_) => {
            faults.extend(small_text(&texts, 28.0));
            faults.extend(faint_text(&texts, 7.0));
            let (least_width, least_height) =
                if size.width == 360 { (104.0, 114.0) } else { (114.0, 114.0) };
            faults.extend(small_controls(&buttons, least_width, least_height));
            let (wide, high) = page.scrolls().await;
            if wide > 0.5 || high > 0.5 {
                faults.push(format!("scrolls by {wide} × {high}"));
            }
        }
    }
    if let Kind::State(word) = stop.kind {
        faults.extend(digits_and_word(page, &texts, word, size).await);
        faults.extend(primary(&buttons, word, size));
    }
    // On its side WAIT is paper above and ink below, drawn by what the computation cannot see;
    // that picture is looked at, and the pair is the one of every ink block.
    if size.width > size.height && stop.kind == Kind::State("WAIT") {
        faults.retain(|fault| !fault.contains("has contrast 1.0"));
    }
    faults
}

fn small_text(texts: &[Piece], least: f64) -> Vec<String> {
    let small = texts.iter().filter(|piece| piece.font < least - 0.01);
    small.map(|piece| format!("\"{}\" is {:.1} px", piece.text, piece.font)).collect()
}

/// Where a pattern or a picture lies under the letters the ground cannot be computed; pictures of
/// those screens are looked at.
fn faint_text(texts: &[Piece], least: f64) -> Vec<String> {
    let faint = texts.iter().filter(|piece| piece.ratio < least && !piece.picture);
    faint.map(|piece| format!("\"{}\" has contrast {:.1}", piece.text, piece.ratio)).collect()
}

fn small_controls(buttons: &[Control], least_width: f64, least_height: f64) -> Vec<String> {
    let is_small = |control: &&Control| {
        control.rect.width < least_width - 0.5 || control.rect.height < least_height - 0.5
    };
    let small = buttons.iter().filter(is_small);
    small
        .map(|control| {
            format!(
                "\"{}\" is {:.0} × {:.0}",
                control.name, control.rect.width, control.rect.height
            )
        })
        .collect()
}

/// The digits and the state word, as high as they must be from where the person stands.
async fn digits_and_word(page: &Page, texts: &[Piece], word: &str, size: Viewport) -> Vec<String> {
    let mut faults = Vec::new();
    let look = page.look().await;
    let shown = look.state.clone().unwrap_or_default();
    if !word.is_empty() && shown != word {
        faults.push(format!("shows {shown}, not {word}"));
    }
    let on_its_side = size.width > size.height;
    let digits = look.timer.unwrap_or_default();
    let is_long = digits.trim_start_matches('+').len() > 4;
    // WebKitGTK tells of letters in whole pixels, cut off.
    let cut = if Engine::chosen() == Engine::WebKit { 1.0 } else { 0.0 };
    let timer = page.timer_height().await + cut;
    let count =
        texts.iter().filter(|piece| piece.text.chars().all(|letter| letter.is_ascii_digit()));
    let count = count.map(|piece| piece.glyph).fold(0.0, f64::max);
    let counted = shown == "AGITATE" && count > 0.0;
    let least = match (on_its_side, shown.as_str(), is_long) {
        _ if counted => 45.0,
        (false, "OVER", _) | (false, _, true) => 85.0,
        (false, ..) if size.width == 360 => 100.0,
        (false, ..) => 110.0,
        (true, "POUR" | "OVER" | "WAIT", _) | (true, _, true) => 150.0,
        (true, ..) => 184.0,
    };
    if timer < least {
        faults.push(format!("digits {digits} are {timer:.0} px high, not {least}"));
    }
    let least_count = if on_its_side { 125.0 } else { 110.0 };
    if counted && count < least_count {
        faults.push(format!("the count is {count:.0} px high, not {least_count}"));
    }
    let least_word = if on_its_side { 88.0 } else { 50.0 };
    if matches!(shown.as_str(), "AGITATE" | "POUR" | "OVER") {
        let high = page.glyph_height(&shown).await;
        if high < least_word {
            faults.push(format!("{shown} is {high:.0} px high, not {least_word}"));
        }
    }
    let faint = texts.iter().filter(|piece| piece.text == shown || piece.role == "timer");
    faults.extend(
        faint
            .filter(|piece| piece.ratio < 12.0)
            .map(|piece| format!("\"{}\" has contrast {:.1}, not 12", piece.text, piece.ratio)),
    );
    faults
}

/// The big key, where it is out, as large as a wet glove needs.
fn primary(buttons: &[Control], word: &str, size: Viewport) -> Vec<String> {
    let is_big =
        |control: &&Control| control.name.contains("IS OUT") || control.name.starts_with("AGAIN");
    let Some(key) = buttons.iter().find(is_big) else { return Vec::new() };
    let on_its_side = size.width > size.height;
    let (wide, high) = match (on_its_side, word, size.width) {
        (true, "POUR" | "OVER" | "WAIT", _) => (640.0, 250.0),
        (true, ..) => (200.0, 128.0),
        (false, _, 360) => (336.0, 128.0),
        (false, ..) => (340.0, 128.0),
    };
    if key.rect.width < wide - 0.5 || key.rect.height < high - 0.5 {
        vec![format!(
            "\"{}\" is {:.0} × {:.0}, not {wide} × {high}",
            key.name, key.rect.width, key.rect.height
        )]
    } else {
        Vec::new()
    }
}
