//! Photos of negatives: added, kept, removed, carried in files, and what is no photo.

use std::path::PathBuf;

use serde_json::{Value, json};

use super::rolls::{new_roll, records};
use crate::harness::page::Page;
use crate::harness::scene::{Database, Scene};
use crate::harness::{Stage, run, run_in};
use crate::steps::Steps;

/// The pictures that are drawn, as width, height and where they come from.
const PICTURES: &str = "[...document.querySelectorAll('img')]
    .map((image) => [image.naturalWidth, image.naturalHeight, image.src.split(':')[0]])";

/// Writes a roll down and opens its page.
async fn a_roll(page: &Page) {
    page.open("").await;
    page.advance(1.0).await;
    new_roll(page, "the beach").await;
    to_the_roll(page).await;
}

async fn to_the_roll(page: &Page) {
    page.press("Rolls").await;
    page.press_with("the beach").await;
}

/// A file in the browser's own folder, which goes with the test.
fn file(stage: &Stage, name: &str, bytes: &[u8]) -> PathBuf {
    let path = stage.browser.profile().join(name);
    std::fs::write(&path, bytes).expect("room for a file");
    path
}

/// An uncompressed picture that is not of one colour.
pub fn bitmap(wide: u32, high: u32) -> Vec<u8> {
    let size = 54 + wide * high * 4;
    let mut bytes = b"BM".to_vec();
    for number in [size, 0, 54, 40, wide, high, 1 | 32 << 16, 0, 0, 0, 0, 0, 0] {
        bytes.extend(number.to_le_bytes());
    }
    for at in 0..wide * high {
        let (x, y) = (at % wide, at / wide);
        bytes.extend([x & 255, y & 255, (x ^ y) & 255, 255].map(|part| part.to_le_bytes()[0]));
    }
    bytes
}

/// Adds a picture to the roll that is open.
async fn add(stage: &Stage, name: &str, bytes: &[u8]) {
    let path = file(stage, name, bytes);
    stage.page.press("ADD PHOTOS").await;
    stage.page.choose(&[path]).await;
}

/// Adds pictures that are all different.
async fn add_pictures(stage: &Stage, count: u32) {
    for nth in 1..=count {
        add(stage, &format!("negative {nth}.bmp"), &bitmap(300 + 30 * nth, 200)).await;
        let says = if nth == 1 { "1 photo,".to_owned() } else { format!("{nth} photos,") };
        stage.page.until_shows(&says).await;
    }
    stage.page.advance(1.0).await;
}

/// What is kept on a shelf of the database.
async fn shelf(page: &Page, name: &str) -> Vec<Value> {
    let stored = page.eval("__clock.stored()").await;
    stored["sinkside"][name].as_array().cloned().unwrap_or_default()
}

/// How many pictures are kept: nothing stands in the place of one that is gone.
async fn pictures(page: &Page) -> usize {
    shelf(page, "photos").await.iter().filter(|kept| kept[1] != "").count()
}

/// Waits until so many pictures are drawn.
async fn until_drawn(page: &Page, count: usize) -> Vec<(u32, u32, String)> {
    let drawn = format!(
        "(async () => {{
            const all = [...document.querySelectorAll('img')];
            await __clock.advance(0);
            return all.length === {count} && all.every((image) => image.naturalWidth > 0);
        }})()"
    );
    page.until(&drawn).await;
    serde_json::from_value(page.eval(PICTURES).await).expect("pictures")
}

async fn pick(page: &Page, text: &str) {
    page.press("Settings").await;
    page.press("READ A FILE").await;
    page.eval(&format!("(__clock.pick({}), 0)", json!(text))).await;
    page.advance(1.0).await;
}

async fn saved(stage: &Stage) -> String {
    stage.page.press("Settings").await;
    let file = stage.page.tap_for_a_file("SAVE A FILE", stage.browser.profile()).await;
    let folder = stage.browser.profile().join("saved");
    std::fs::remove_dir_all(&folder).expect("the folder is there");
    std::fs::create_dir(&folder).expect("room for a folder");
    stage.page.advance(1.0).await;
    file
}

async fn erase(page: &Page) {
    let before = page.eval("__clock.now().load").await;
    page.write("Erase everything", "ERASE").await;
    page.until(&format!("__clock.now().load > {before}")).await;
    page.until_on("Settings").await;
    page.advance(1.0).await;
}

#[test]
fn a_photo_is_made_smaller_kept_over_a_crash_and_seen_large_by_a_tap() {
    run(async |stage| {
        a_roll(&stage.page).await;
        add(stage, "a long one.bmp", &bitmap(2400, 1500)).await;
        stage.page.until_shows("1 photo,").await;
        stage.page.advance(1.0).await;
        stage.kill();
        stage.start_again(60.0).await;
        let page = &stage.page;
        page.open_to("Bench").await;
        page.advance(1.0).await;
        to_the_roll(page).await;
        page.until_shows("MB on this phone").await;
        assert_eq!(until_drawn(page, 1).await, [(1600, 1000, "blob".to_owned())]);
        page.picture("70-roll-with-a-photo").await;
        page.press("Photo 1, a long one.bmp").await;
        page.until_shows("REMOVE").await;
        let wide = page.eval("document.querySelector('img').clientWidth").await;
        assert!(wide.as_f64().is_some_and(|wide| wide > 300.0), "{wide}");
        assert_eq!(page.axe_violations().await, Vec::<String>::new());
        page.picture("71-photo-large").await;
        page.press("CLOSE").await;
        page.until_shows("ADD PHOTOS").await;
        assert_eq!(page.axe_violations().await, Vec::<String>::new());
    });
}

#[test]
fn a_photo_that_was_removed_comes_back_and_goes_for_good_after_thirty_days() {
    run(async |stage| {
        a_roll(&stage.page).await;
        add_pictures(stage, 2).await;
        let page = &stage.page;
        page.press("Photo 1, negative 1").await;
        page.press("REMOVE").await;
        page.until_shows("1 photo,").await;
        page.press("UNDO").await;
        page.until_shows("2 photos,").await;
        until_drawn(page, 2).await;
        page.press("Photo 1, negative 1").await;
        page.press("REMOVE").await;
        page.shift_wall(29.0 * 86_400.0).await;
        page.reload_to("Roll").await;
        page.until_shows("1 photo,").await;
        assert!(page.has("button", "UNDO").await);
        assert_eq!(pictures(page).await, 2);
        page.shift_wall(2.0 * 86_400.0).await;
        page.reload_to("Roll").await;
        page.until_shows("1 photo,").await;
        assert!(!page.has("button", "UNDO").await);
        assert_eq!(pictures(page).await, 1);
        // With its roll it goes, too.
        page.press("PUT ASIDE").await;
        page.shift_wall(29.0 * 86_400.0).await;
        page.reload_to("Roll").await;
        assert_eq!(pictures(page).await, 1);
        page.shift_wall(2.0 * 86_400.0).await;
        page.reload_to("Roll").await;
        page.advance(1.0).await;
        assert_eq!(pictures(page).await, 0);
    });
}

#[test]
fn a_file_says_how_many_photos_it_leaves_out_and_one_with_them_brings_them_back() {
    run(async |stage| {
        a_roll(&stage.page).await;
        add_pictures(stage, 3).await;
        let without = saved(stage).await;
        let page = &stage.page;
        page.until_shows("This file leaves out 3 photos.").await;
        assert!(without.contains("\"photos_left_out\":3,"), "{without}");
        page.press("put in").await;
        let with = saved(stage).await;
        page.until_shows("Downloaded. See that it is there.").await;
        assert!(!page.shows("leaves out").await, "{}", page.words().await);
        let read: Value = serde_json::from_str(&with).expect("the file is JSON");
        assert_eq!(read["photos"].as_array().map(Vec::len), Some(3));
        assert_eq!(read["photos"][0]["name"], "negative 1.bmp");
        let before = shelf(page, "photos").await;
        erase(page).await;
        // Without: the roll is there, and says what is not.
        pick(page, &without).await;
        page.until_shows("This file leaves out 3 photos.").await;
        page.press("READ IT IN").await;
        page.until_shows("has been read into the notebook").await;
        to_the_roll(page).await;
        page.until_shows("3 photos not on this phone").await;
        // With: they are all there.
        pick(page, &with).await;
        page.until_shows("It holds 3 photos.").await;
        assert!(!page.shows("leaves out").await, "{}", page.words().await);
        page.press("READ IT IN").await;
        page.until_shows("has been read into the notebook").await;
        assert_eq!(shelf(page, "photos").await, before);
        to_the_roll(page).await;
        page.until_shows("3 photos,").await;
        until_drawn(page, 3).await;
    });
}

#[test]
fn what_is_no_photo_is_refused_with_a_sentence_and_nothing_is_lost() {
    run(async |stage| {
        a_roll(&stage.page).await;
        add_pictures(stage, 1).await;
        let html = b"<!doctype html><script>document.title = 'evil'</script><h1>evil</h1>";
        let svg = b"<svg xmlns='http://www.w3.org/2000/svg' onload='document.title=1'/>";
        let broken = bitmap(90, 60)[..40].to_vec();
        for (name, bytes) in
            [("evil.jpg", &html[..]), ("evil.svg", &svg[..]), ("cut.bmp", &broken), ("no.jpg", b"")]
        {
            add(stage, name, bytes).await;
            let page = &stage.page;
            page.until_shows(&format!("{name}: this browser cannot read this picture")).await;
            page.until_shows("The photo was not added; nothing else changed.").await;
            assert_eq!(shelf(page, "photos").await.len(), 1, "{name}");
            assert_eq!(page.eval("document.querySelectorAll('h1').length").await, 1);
            page.advance(1.0).await;
        }
        until_drawn(&stage.page, 1).await;
    });
}

#[test]
fn a_photo_in_a_file_that_is_not_what_its_roll_lists_is_left_and_the_rest_is_read() {
    run(async |stage| {
        a_roll(&stage.page).await;
        add_pictures(stage, 2).await;
        stage.page.press("Settings").await;
        stage.page.press("put in").await;
        let mut read: Value = serde_json::from_str(&saved(stage).await).expect("JSON");
        // Markup in the place of a picture.
        read["photos"][0]["jpeg_base64"] = "PGltZyBzcmM9eCBvbmVycm9yPWFsZXJ0KDEpPg==".into();
        let page = &stage.page;
        erase(page).await;
        pick(page, &read.to_string()).await;
        page.until_shows("It holds 1 photo.").await;
        page.until_shows("This file leaves out 1 photo.").await;
        page.until_shows("In it, 1 photo cannot be read in; everything else can.").await;
        page.press("READ IT IN").await;
        page.until_shows("has been read into the notebook").await;
        to_the_roll(page).await;
        page.until_shows("1 photo not on this phone").await;
        until_drawn(page, 1).await;
    });
}

#[test]
fn storage_without_room_for_a_photo_says_so_and_keeps_the_notebook() {
    run(async |stage| {
        a_roll(&stage.page).await;
        add_pictures(stage, 1).await;
        let rolls = records(&stage.page, "roll").await;
        stage.page.eval("__clock.database = 'full'; 0").await;
        add(stage, "one more.bmp", &bitmap(90, 60)).await;
        let page = &stage.page;
        page.until_shows("one more.bmp: Not kept: storage full. The photo was not added").await;
        assert_eq!(records(page, "roll").await, rolls);
        assert_eq!(shelf(page, "photos").await.len(), 1);
        page.eval("__clock.database = 'normal'; 0").await;
        page.advance(1.0).await;
        add(stage, "one more.bmp", &bitmap(90, 60)).await;
        stage.page.until_shows("2 photos,").await;
    });
}

#[test]
fn a_phone_without_storage_says_that_photos_cannot_be_kept() {
    for database in [Database::Refused, Database::Throws] {
        run_in(Scene { database, ..Scene::default() }, async |stage| {
            let page = &stage.page;
            a_roll(page).await;
            page.until_shows("Photos cannot be kept.").await;
            assert!(page.shows("Not kept:").await, "{}", page.words().await);
            assert!(!page.has("button", "ADD PHOTOS").await);
        });
    }
}

/// The shelves of the database before there were photos.
const BEFORE: &str = "['runs', 'entries', 'single', 'records']";

#[test]
fn a_notebook_from_before_photos_were_kept_opens_with_its_rolls_and_takes_photos() {
    run(async |stage| {
        let page = &stage.page;
        a_roll(page).await;
        let before = page.eval("__clock.stored()").await;
        // From a place of the same host where the page is not open.
        page.load("notebook.schema.json").await;
        let made = format!(
            "(async () => {{
                const before = {before};
                const asked = (request) => new Promise((on, off) => {{
                    request.onsuccess = () => on(request.result);
                    request.onerror = () => off(request.error);
                }});
                await asked(indexedDB.deleteDatabase('sinkside'));
                const request = indexedDB.open('sinkside', 2);
                request.onupgradeneeded = () =>
                    {BEFORE}.forEach((shelf) => request.result.createObjectStore(shelf));
                const database = await asked(request);
                const writing = database.transaction({BEFORE}, 'readwrite');
                for (const shelf of {BEFORE}) {{
                    for (const [key, text] of before.sinkside[shelf]) {{
                        writing.objectStore(shelf).put(text, key);
                    }}
                }}
                await new Promise((on) => (writing.oncomplete = on));
                const names = [...database.objectStoreNames].length;
                database.close();
                return names;
            }})()"
        );
        assert_eq!(page.eval(&made).await, 4);
        page.open_to("Bench").await;
        page.advance(1.0).await;
        to_the_roll(page).await;
        add_pictures(stage, 1).await;
        let page = &stage.page;
        let after = page.eval("__clock.stored()").await;
        for shelf in ["runs", "entries"] {
            assert_eq!(after["sinkside"][shelf], before["sinkside"][shelf], "{shelf}");
        }
        assert_eq!(records(page, "roll").await[0]["stock"], "the beach");
    });
}
