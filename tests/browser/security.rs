//! What the page may load and run, what leaves it, and what becomes of somebody else's text.

use serde_json::{Value, json};

use crate::harness::page::Page;
use crate::harness::scene::Scene;
use crate::harness::server::Server;
use crate::harness::{environment, run, run_at_first, run_in};
use crate::steps::{self, Steps};

/// What a script on the page might try, and the part of the policy that refuses it. `ELSEWHERE` is
/// another origin that would answer.
const TRIES: [(&str, &str, &str); 13] = [
    ("an inline script", "script-src-elem", "put('script', { textContent: 'ran = 1' })"),
    ("a foreign script", "script-src-elem", "put('script', { src: ELSEWHERE + 'start.js' })"),
    ("a handler in markup", "script-src-attr", "put('p', {}, { onclick: 'ran = 1' }).click()"),
    ("eval", "script-src", "attempt(() => eval('ran = 1'))"),
    ("a function of text", "script-src", "attempt(() => new Function('ran = 1')())"),
    ("a fetch", "connect-src", "fetch(ELSEWHERE + 'sw.js').catch(() => 0)"),
    ("a beacon", "connect-src", "navigator.sendBeacon(ELSEWHERE + 'beacon', 'all of it')"),
    ("a socket", "connect-src", "attempt(() => new WebSocket(ELSEWHERE.replace('http', 'ws')))"),
    ("a picture", "img-src", "put('img', { src: ELSEWHERE + 'icons/icon.svg?all-of-it' })"),
    ("a frame", "frame-src", "put('iframe', { src: ELSEWHERE })"),
    ("an object", "object-src", "put('object', { data: ELSEWHERE + 'icons/icon.svg' })"),
    ("a style in markup", "style-src-attr", "put('p', {}, { style: 'color: red' })"),
    (
        "a form",
        "form-action",
        "put('form', { action: ELSEWHERE + 'form', method: 'post' }).requestSubmit()",
    ),
];

/// What the tries are written with.
const TOOLS: &str = "
    const put = (name, fields, attributes = {}) => {
        const made = Object.assign(document.createElement(name), fields);
        for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
        return document.body.appendChild(made);
    };
    const attempt = (what) => { try { what(); } catch {} };";

#[test]
fn whatever_a_script_on_the_page_tries_the_policy_refuses_and_reports() {
    run_in(Scene { faults_allowed: true, ..Scene::default() }, async |stage| {
        let elsewhere = Server::under(environment::bundle(), "/");
        let page = &stage.page;
        page.open_to("Bench").await;
        for (what, directive, attempt) in TRIES {
            let before = page.heard().await.faults().len();
            let attempt = format!(
                "(() => {{ const ELSEWHERE = {}; {TOOLS} {attempt}; }})()",
                json!(elsewhere.address())
            );
            // As a script of the page's own would: the driver's own scripts are let off otherwise.
            let asked = json!({ "expression": attempt, "allowUnsafeEvalBlockedByCSP": false });
            page.cdp("Runtime.evaluate", asked).await;
            page.wait_real(0.2).await;
            page.settle().await;
            let reported = page.heard().await.faults();
            let wanted = format!("against the policy: {directive} ");
            let is_reported = reported.iter().skip(before).any(|one| one.starts_with(&wanted));
            assert!(is_reported, "{what}: {:?}", &reported[before..]);
        }
        assert_eq!(page.eval("typeof ran").await, "undefined", "something ran");
        assert_eq!(elsewhere.asked(), [], "the other origin was asked");
        assert_eq!(page.heading().await, "Bench");
    });
}

#[test]
fn no_request_leaves_the_origin_in_a_run_a_notebook_and_a_file() {
    run_at_first(async |stage| {
        let page = &stage.page;
        page.open_to("Bench").await;
        page.until_shows("Ready offline.").await;
        page.advance(1.0).await;
        let begun = stage.server.asked();
        page.lay_out().await;
        let zero = page.start_to_developer().await;
        page.advance_to(zero + steps::DEVELOPER).await;
        page.bath_is_out("Developer").await;
        page.wait_out("Bleach-fix", steps::BLEACH_FIX).await;
        page.wash_and_hang().await;
        page.open_the_roll_by_the_write_up().await;
        page.press("Settings").await;
        let file = page.tap_for_a_file("SAVE A FILE", stage.browser.profile()).await;
        page.advance(1.0).await;
        page.press("READ A FILE").await;
        page.eval(&format!("(__clock.pick({}), 0)", json!(file))).await;
        page.advance(1.0).await;
        let during = stage.server.asked();
        println!("{} requests to open the page, {} from then on", begun.len(), during.len());
        assert!(during.is_empty(), "from the first paint on nothing is asked for: {during:?}");
        let names = "performance.getEntriesByType('resource').map((entry) => entry.name)";
        let names: Vec<String> = serde_json::from_value(page.eval(names).await).expect("addresses");
        let origin = stage.server.origin();
        assert!(names.iter().all(|name| name.starts_with(&origin)), "{names:?}");
    });
}

/// Text that would do something if it were taken for markup, an address or an order of letters.
const EVIL: [&str; 4] = [
    "<img src=x onerror=\"window.hacked=1\">",
    "<script>window.hacked=2</script>",
    "javascript:window.hacked=3",
    "\u{202e}desrever\u{200f}\u{7}\u{1b}[31m &amp; {{hacked}} ${hacked}",
];

fn evil() -> String {
    EVIL.join(" ")
}

/// A file of another phone that holds such text in every field that is shown.
fn evil_file() -> String {
    let record = |nth: u32, kind: &str, fields: Value| {
        let mut record = json!({
            "kind": kind, "id": format!("{nth:032x}"), "rev": 1, "schema": 1, "deleted": false,
            "edited_at": "2026-03-01T10:00:00.000Z", "device": "fedcba9876543210", "parents": [],
        });
        if let (Some(record), Some(fields)) = (record.as_object_mut(), fields.as_object()) {
            record.extend(fields.clone());
        }
        record
    };
    let at = "2026-03-01T10:00:00.000Z";
    let text = evil();
    let records = [
        record(
            1,
            "roll",
            json!({
                "stock": text, "camera": text, "lens": text, "note": text, "judgement": text,
                "next_time": text, "filed_as": text,
            }),
        ),
        record(
            2,
            "solution",
            json!({
                "name": text, "note": text, "bath": "developer",
                "events": [{ "at": at, "event": "mixed", "note": text }],
            }),
        ),
        record(3, "trial", json!({ "question": text, "differs": text })),
        record(4, "vessel", json!({ "name": text, "vessel": "bottle", "material": text })),
        record(5, "thermometer", json!({ "name": text })),
    ];
    let file = json!({ "format": "notebook", "version": 1, "exported_at": at, "records": records });
    file.to_string()
}

/// What of the evil text has become more than text, on the screen as it is.
async fn markup(page: &Page) -> Vec<String> {
    let made =
        "[...document.querySelectorAll('#app :is(img, script, iframe, object, embed, form), \
        #app [onerror], #app [href^=\"javascript\" i]')].map((one) => one.outerHTML)
        .concat(typeof hacked === 'undefined' ? [] : ['it ran'])";
    serde_json::from_value(page.eval(made).await).expect("texts")
}

/// Everything that can be read on the screen, in fields too.
async fn read(page: &Page) -> String {
    let fields =
        "[...document.querySelectorAll('input, textarea')].map((one) => one.value).join(' ')";
    let fields = page.eval(fields).await;
    format!("{} {}", page.words().await, fields.as_str().unwrap_or_default())
}

#[test]
fn text_from_a_strangers_file_stays_text_on_every_screen_that_shows_it() {
    run(async |stage| {
        let page = &stage.page;
        page.open("#/settings").await;
        page.advance(1.0).await;
        page.press("READ A FILE").await;
        page.eval(&format!("(__clock.pick({}), 0)", json!(evil_file()))).await;
        page.advance(1.0).await;
        let keys = page.button_names().await;
        let reads = |name: &&String| name.starts_with("READ IT") || name.starts_with("READ ANYWAY");
        let key = keys.iter().find(reads);
        page.press(key.unwrap_or_else(|| panic!("it can be read in: {keys:?}"))).await;
        page.until_shows("has been read into the notebook").await;
        let id = |nth: u32| format!("{nth:032x}");
        let mut shown = 0;
        for place in [
            "#/rolls".to_owned(),
            format!("#/rolls/{}", id(1)),
            format!("#/rolls/{}/edit", id(1)),
            format!("#/rolls/{}/faults", id(1)),
            format!("#/rolls/{}/compare", id(1)),
            "#/learned".to_owned(),
            "#/shelf".to_owned(),
            format!("#/shelf/{}/label", id(2)),
            format!("#/shelf/{}/clip", id(2)),
            format!("#/shelf/{}", id(2)),
            "#/trials".to_owned(),
            format!("#/trials/{}", id(3)),
            "#/vessels".to_owned(),
            "#/settings".to_owned(),
            "#/bench".to_owned(),
        ] {
            page.eval(&format!("(location.hash = {}, 0)", json!(place))).await;
            page.advance(1.0).await;
            assert_eq!(markup(page).await, Vec::<String>::new(), "on {place}");
            if read(page).await.contains(EVIL[0]) {
                shown += 1;
                println!("shown as it is on {place}, {}", page.heading().await);
            }
        }
        assert!(shown >= 6, "it was shown on {shown} screens only");
    });
}

/// From the film hanging to the page of its roll.
trait ByTheWriteUp {
    async fn open_the_roll_by_the_write_up(&self);
}

impl ByTheWriteUp for Page {
    async fn open_the_roll_by_the_write_up(&self) {
        self.press("DONE").await;
        self.press("DONE").await;
        self.press("Rolls").await;
        self.press_with("colour negative").await;
    }
}
