//! The notebook's file: out, looked at, and in.

use serde_json::{Value, json};

use super::rolls::new_roll;
use crate::harness::page::Page;
use crate::harness::scene::{Files, Scene};
use crate::harness::{Stage, environment, run, run_in};
use crate::steps::{self, Steps};

/// A notebook with a roll and a run that was stopped in it; Settings are open.
async fn a_notebook(page: &Page) {
    page.open("").await;
    page.advance(1.0).await;
    new_roll(page, "colour negative 400").await;
    page.lay_out().await;
    page.start_to_developer().await;
    page.stop_here().await;
    page.press("DONE").await;
    page.press("Settings").await;
}

/// Everything that is kept, but for what differs by itself.
async fn stored(page: &Page) -> Value {
    let mut stored = page.eval("__clock.stored()").await;
    for shelf in ["single", "records"] {
        if let Some(kept) = stored["sinkside"][shelf].as_array_mut() {
            let is_habits = |text: &str| text.contains("\"kind\":\"habits\"");
            kept.retain(|kept| shelf == "records" && !kept[1].as_str().is_some_and(is_habits));
        }
    }
    stored
}

/// Gives the page a file as a person picks it, and waits for what it says.
pub async fn pick(page: &Page, text: &str) {
    page.press("READ A FILE").await;
    page.eval(&format!("(__clock.pick({}), 0)", json!(text))).await;
    page.advance(1.0).await;
}

async fn saved(stage: &Stage) -> String {
    let file = stage.page.tap_for_a_file("SAVE A FILE", stage.browser.profile()).await;
    stage.page.advance(1.0).await;
    assert_eq!(faults(&file), None, "by the published schema");
    file
}

/// What is wrong with a file by the schema that is published with the page.
fn faults(file: &str) -> Option<String> {
    let schema = std::fs::read_to_string(environment::bundle().join("notebook.schema.json"));
    let schema = serde_json::from_str(&schema.expect("the schema is published")).expect("JSON");
    let file: Value = serde_json::from_str(file).expect("the file is JSON");
    let mut schemas = boon::Schemas::new();
    let mut compiler = boon::Compiler::new();
    compiler.add_resource("notebook.json", schema).expect("the schema is one");
    let index = compiler.compile("notebook.json", &mut schemas).expect("the schema can be used");
    schemas.validate(&file, index).err().map(|error| error.to_string())
}

#[test]
fn a_notebook_goes_out_and_comes_back_the_same() {
    run(async |stage| {
        let page = &stage.page;
        a_notebook(page).await;
        let file = saved(stage).await;
        page.until_shows("Downloaded. See that it is there.").await;
        let before = stored(page).await;
        let load = page.eval("__clock.now().load").await;
        page.write("Erase everything", "ERASE").await;
        // The page opens anew, at once or a little later.
        page.until(&format!("__clock.now().load > {load}")).await;
        page.until_on("Settings").await;
        page.advance(1.0).await;
        pick(page, &file).await;
        // Under load Firefox takes its time to read a file.
        page.until_shows("READ IT IN").await;
        page.press("READ IT IN").await;
        page.advance(1.0).await;
        page.until_shows("has been read into the notebook").await;
        let after = stored(page).await;
        for shelf in ["runs", "records"] {
            assert_eq!(after["sinkside"][shelf], before["sinkside"][shelf], "{shelf}");
        }
        // What was kept entry by entry as it happened is one text for each run now.
        let texts = |stored: &Value, shelf: &str| -> Vec<String> {
            let kept = stored["sinkside"][shelf].as_array().into_iter().flatten();
            kept.filter_map(|text| text[1].as_str().map(str::to_owned)).collect()
        };
        assert_eq!(texts(&after, "entries"), Vec::<String>::new());
        assert_eq!(texts(&after, "logs"), [format!("[{}]", texts(&before, "entries").join(","))]);
        let again = saved(stage).await;
        let records = |file: &str| -> Value {
            let file: Value = serde_json::from_str(file).expect("the file is JSON");
            file["records"]
                .as_array()
                .map(|records| {
                    records.iter().filter(|record| record["kind"] != "habits").cloned().collect()
                })
                .unwrap_or_default()
        };
        assert_eq!(records(&again), records(&file), "the same but for when it was saved");
        pick(page, &again).await;
        page.until_shows("READ IT IN").await;
        page.press("READ IT IN").await;
        assert_eq!(stored(page).await["sinkside"]["records"], after["sinkside"]["records"]);
        page.press("Rolls").await;
        page.until_shows("colour negative 400").await;
    });
}

#[test]
fn a_broken_file_is_refused_with_its_place_and_nothing_changes() {
    run(async |stage| {
        let page = &stage.page;
        a_notebook(page).await;
        let file = saved(stage).await;
        let before = stored(page).await;
        for (text, says) in [
            (file[..file.len() / 2].to_owned(), "The file is broken at line"),
            ("[]".to_owned(), "This is not a notebook file."),
            (file.replace("\"version\":1,", "\"version\":7,"), "This file is notebook version 7"),
            (file.replace("\"event\":\"started\"", "\"event\":7"), "cannot be read: log[0].event"),
        ] {
            pick(page, &text).await;
            page.until_shows(says).await;
            page.until_shows("Nothing was changed.").await;
            assert_eq!(stored(page).await, before);
        }
    });
}

#[test]
fn a_file_that_was_changed_after_it_was_saved_says_so_and_can_be_read_anyway() {
    run(async |stage| {
        let page = &stage.page;
        a_notebook(page).await;
        let file = saved(stage).await.replace("colour negative 400", "colour negative 800");
        let before = stored(page).await;
        page.eval(&format!("(__clock.drop({}), 0)", json!(file))).await;
        page.advance(1.0).await;
        let said = "This file was changed after it was saved. Nothing was changed here.";
        page.until_shows(said).await;
        assert_eq!(stored(page).await, before);
        page.press("READ ANYWAY").await;
        page.press("Rolls").await;
        page.press_with("ROLL 1").await;
        page.until_shows("changed on two devices").await;
        page.press("KEEP WHAT IS SHOWN").await;
        assert!(!page.shows("changed on two devices").await, "{}", page.words().await);
    });
}

#[test]
fn a_file_waits_until_the_run_is_over() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_developer(page).await;
        page.eval("(location.hash = '#/settings', 0)").await;
        page.advance(1.0).await;
        pick(page, "{}").await;
        let said = "A run is going on. Read the file when it is over.";
        page.until_shows(said).await;
    });
}

#[test]
fn a_saved_file_is_read_back_before_it_counts_as_saved() {
    for (files, says) in [
        (Files::Picker, "Saved, read back, and the same."),
        (Files::PickerThatLoses, "Not saved: the file is not what it should be."),
        (Files::PickerClosed, "Not saved."),
        (Files::Share, "Handed over. See that it arrived."),
    ] {
        run_in(Scene { files, ..Scene::default() }, async |stage| {
            let page = &stage.page;
            page.open("#/settings").await;
            page.advance(1.0).await;
            page.press("SAVE A FILE").await;
            assert!(page.shows(says).await, "{files:?}: {}", page.words().await);
            let counts = matches!(files, Files::Picker | Files::Share);
            assert_eq!(page.shows("No file has been saved yet.").await, !counts, "{files:?}");
        });
    }
}
