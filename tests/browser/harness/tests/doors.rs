//! Touch, keys, paste, and the doors of the browser that may be shut.

use serde_json::json;

use super::run_fixture;
use crate::harness::page::Control;
use crate::harness::scene::{Database, Persist, Scene, Vibration, Viewport, WakeLock};

#[test]
fn harness_a_tap_is_a_finger_and_a_slide_off_is_none() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(4.0).await;
        page.press_and_slide_off("button", "NOTE").await;
        assert!(page.body_text().await.contains("noted 0"));
        page.tap("button", "note").await;
        page.until("document.body.innerText.includes('noted 1')").await;
        assert!(page.body_text().await.contains("noted 1"));
        let presses = page.heard().await.presses();
        let last: Vec<_> =
            presses.iter().rev().take(3).map(|press| press.what.what.as_str()).collect();
        assert_eq!(last, ["click", "pointerup", "pointerdown"]);
        assert_eq!((presses[0].what.by.as_str(), presses[0].what.stamp), ("touch", 4_000.0));
    });
}

#[test]
fn harness_a_desk_has_a_mouse() {
    run_fixture(Scene { viewport: Viewport::DESK, ..Scene::default() }, async |stage| {
        stage.page.open("").await;
        stage.page.tap("button", "NOTE").await;
        assert_eq!(stage.page.heard().await.presses()[0].what.by, "mouse");
    });
}

#[test]
fn harness_keys_repeat_and_texts_are_pasted() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.eval("keys = []; addEventListener('keydown', (event) => keys.push([event.key, event.code, event.repeat].join('/'))); 0").await;
        page.key(" ").await;
        page.key_held("PageDown", 2).await;
        page.key("F9").await;
        let expected = json!([
            " /Space/false",
            "PageDown/PageDown/false",
            "PageDown/PageDown/true",
            "PageDown/PageDown/true",
            "F9/F9/false",
        ]);
        assert_eq!(page.eval("keys").await, expected);
        page.tap("textbox", "Typed").await;
        page.type_text("3a").await;
        page.paste("8,9").await;
        assert_eq!(page.eval("document.getElementById('typed').value").await, "3a8,9");
    });
}

#[test]
fn harness_storage_refuses_in_each_of_its_ways() {
    for database in [Database::Throws, Database::Refused] {
        run_fixture(Scene { database, ..Scene::default() }, async |stage| {
            stage.page.open("").await;
            stage.page.tap("button", "NOTE").await;
            assert_eq!(stage.page.status_text().await, "Not kept.", "{database:?}");
        });
    }
    run_fixture(Scene { database: Database::NeverCallsBack, ..Scene::default() }, async |stage| {
        stage.page.open("").await;
        stage.page.tap("button", "NOTE").await;
        assert_eq!(stage.page.status_text().await, "");
    });
}

#[test]
fn harness_a_full_database_aborts_and_what_it_holds_can_be_read_and_put() {
    run_fixture(Scene::default(), async |stage| {
        let page = &mut stage.page;
        page.open("").await;
        page.tap("button", "NOTE").await;
        page.change(|scene| scene.database = Database::Full).await;
        page.reload().await;
        page.tap("button", "NOTE").await;
        assert_eq!(page.status_text().await, "Not kept: QuotaExceededError.");
        let committed = "opened = indexedDB.open('notes'); ended = new Promise((resolve) => {
            opened.onsuccess = () => {
                const writing = opened.result.transaction('notes', 'readwrite');
                const put = writing.objectStore('notes').put(1);
                put.onsuccess = () => writing.commit();
                writing.oncomplete = () => resolve('kept');
                writing.onabort = () => resolve(writing.error.name);
            };
        })";
        assert_eq!(page.eval(committed).await, "QuotaExceededError");
        page.eval("__clock.store('notes', 'notes', 'not a note')").await;
        let stored = page.eval("__clock.stored()").await;
        assert_eq!(stored["notes"]["notes"][0][1]["text"], "a note");
        assert_eq!(stored["notes"]["notes"][1][1], "not a note");
        assert_eq!(page.heard().await.write_durabilities(), ["strict", "strict", "default"]);
    });
}

#[test]
fn harness_the_small_doors_can_be_shut() {
    let shut = Scene {
        wake_lock: WakeLock::Absent,
        vibration: Vibration::Absent,
        persist: Persist::Absent,
        ..Scene::default()
    };
    run_fixture(shut, async |stage| {
        stage.page.open("").await;
        let there =
            "['wakeLock', 'vibrate', 'storage'].map((door) => navigator[door] === undefined)";
        assert_eq!(stage.page.eval(there).await, json!([true, true, true]));
    });
    let refused =
        Scene { wake_lock: WakeLock::Refused, persist: Persist::NeverSettles, ..Scene::default() };
    run_fixture(refused, async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.tap("button", "START").await;
        page.eval("answered = false; navigator.storage.persist().then(() => (answered = true)); 0")
            .await;
        page.advance(60.0).await;
        assert_eq!(page.eval("answered").await, false);
        let heard = page.heard().await;
        assert_eq!(heard.wake_locks(), ["refused"]);
        assert_eq!((heard.vibrations().len(), heard.persist_asked()), (1, 1));
    });
}

#[test]
fn harness_what_the_phone_is_like_changes_at_the_next_load() {
    run_fixture(Scene::default(), async |stage| {
        stage.page.open("").await;
        stage.page.change(|scene| scene.persist = Persist::Refused).await;
        stage.page.reload().await;
        assert_eq!(stage.page.eval("navigator.storage.persist()").await, false);
    });
}

#[test]
fn harness_a_finger_can_rest_on_a_button_while_time_passes() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.hold("button", "NOTE", 1.5).await;
        assert!(page.body_text().await.contains("noted 1"));
        let presses = page.heard().await.presses();
        assert!((presses[1].at - presses[0].at - 1.5).abs() < 0.001);
    });
}

#[test]
fn harness_things_are_found_by_role_and_name_only() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        assert_eq!(page.button_names().await, ["START", "NOTE"]);
        assert!(page.has("button", "no").await && !page.has("button", "STOP").await);
        let controls: Vec<Control> = page.controls().await;
        assert_eq!(controls[2].role, "textbox");
        let (x, y) = controls[0].rect.centre();
        assert!(controls[0].rect.holds(x, y) && !controls[1].rect.holds(x, y));
        page.tap_only("button", "START").await;
        assert_eq!(page.state_word().await, "POUR");
        page.eval("document.getElementById('start').remove()").await;
        assert_eq!(page.button_names().await, ["NOTE"]);
    });
}
