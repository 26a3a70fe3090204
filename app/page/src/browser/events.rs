//! What happens to the page as a whole: keys, touches, hiding, the address.

use session::timestamp::Timestamp;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;

use super::window;

/// Whether the page is in view.
pub fn is_in_view() -> bool {
    window().document().is_none_or(|document| !document.hidden())
}

/// Listens for the life of the page, `first` before anything else hears of it. One kind of closure
/// for all: each kind brings its own code along, on either side.
fn listen(
    on: &web_sys::EventTarget,
    names: &[&str],
    first: bool,
    heard: Box<dyn Fn(web_sys::Event)>,
) {
    let heard = Closure::wrap(heard);
    for name in names {
        let listener = heard.as_ref().unchecked_ref();
        let _ = on.add_event_listener_with_callback_and_bool(name, listener, first);
    }
    heard.forget();
}

/// Calls back whenever the page comes into view or goes out of it. For the life of the page.
pub fn on_view_change(callback: impl Fn(bool) + Clone + 'static) {
    let again = callback.clone();
    if let Some(document) = window().document() {
        let changed = Box::new(move |_| callback(is_in_view()));
        listen(&document, &["visibilitychange"], false, changed);
    }
    listen(&window(), &["pageshow"], false, Box::new(move |_| again(is_in_view())));
}

/// Keeps what is being typed as if its field were left. A page out of view may never come back, and a
/// step back in the browser's history takes the field away.
pub fn leave_field() {
    let focused = window().document().and_then(|document| document.active_element());
    if let (Some(focused), Ok(change)) = (focused, web_sys::Event::new("change")) {
        change.init_event_with_bubbles("change", true);
        let _ = focused.dispatch_event(&change);
    }
}

/// Whether there is room for a list beside its page, as the styles have it.
pub fn has_room() -> bool {
    let root = window().document().and_then(|document| document.document_element());
    root.is_some_and(|root| root.client_width() >= 1100)
}

/// Calls back whenever the window has another size. For the life of the page.
pub fn on_resize(callback: impl Fn() + 'static) {
    listen(&window(), &["resize"], false, Box::new(move |_| callback()));
}

/// How far down the list beside the page is scrolled, or scrolls it there.
pub fn list_scroll(to: Option<i32>) -> i32 {
    let document = window().document();
    let list = document.and_then(|document| document.query_selector(".desk__list").ok().flatten());
    if let (Some(list), Some(to)) = (&list, to) {
        list.set_scroll_top(to);
    }
    list.map_or(0, |list| list.scroll_top())
}

/// Calls back on every touch and key press, before anything else hears of it. For the life of the
/// page. The callback is told whether a finger or a button came down, and whether it counts as a
/// touch: a finger counts when it is lifted, because only then does a browser let sound begin.
pub fn on_any_touch(callback: impl Fn(bool, bool) + 'static) {
    let touched = move |event: web_sys::Event| {
        let name = event.type_();
        let pointer =
            event.dyn_ref::<web_sys::PointerEvent>().map(web_sys::PointerEvent::pointer_type);
        let is_down = name == "pointerdown";
        let finger_down = is_down && pointer.as_deref() == Some("touch");
        callback(is_down, !finger_down && name != "pointercancel");
    };
    let names = ["pointerdown", "pointerup", "pointercancel", "keydown"];
    listen(&window(), &names, true, Box::new(touched));
}

/// Calls back on every key press that no text field takes. For the life of the page. The key is
/// taken if the callback says so.
pub fn on_key(callback: impl Fn(&str) -> bool + 'static) {
    let pressed = move |event: web_sys::Event| {
        let event: web_sys::KeyboardEvent = event.unchecked_into();
        let typing = event.target().is_some_and(|target| {
            target.has_type::<web_sys::HtmlInputElement>()
                || target.has_type::<web_sys::HtmlTextAreaElement>()
        });
        let modified = event.ctrl_key() || event.alt_key() || event.meta_key();
        if !typing && !modified && !event.repeat() && callback(&event.key()) {
            event.prevent_default();
        } else if !typing && event.repeat() && matches!(event.key().as_str(), " " | "Enter") {
            // A held key is one press; without this the focused button would repeat it.
            event.prevent_default();
        }
    };
    listen(&window(), &["keydown"], false, Box::new(pressed));
}

/// Calls back with text that was pasted outside a text field. For the life of the page.
pub fn on_paste(callback: impl Fn(String) -> bool + 'static) {
    let pasted = move |event: web_sys::Event| {
        let event: web_sys::ClipboardEvent = event.unchecked_into();
        let text = event.clipboard_data().and_then(|data| data.get_data("text").ok());
        if text.is_some_and(&callback) {
            event.prevent_default();
        }
    };
    listen(&window(), &["paste"], false, Box::new(pasted));
}

/// The part of the address after the sign `#`.
pub fn fragment() -> String {
    window().location().hash().unwrap_or_default().trim_start_matches('#').to_owned()
}

/// Changes the part of the address after `#`, without a step in the history if `replace`.
pub fn set_fragment(fragment: &str, replace: bool) {
    let address = format!("#{fragment}");
    if replace {
        let history = window().history();
        let replaced = history.and_then(|history| {
            history.replace_state_with_url(&wasm_bindgen::JsValue::NULL, "", Some(&address))
        });
        let _ = replaced;
    } else {
        let _ = window().location().set_hash(&address);
    }
}

/// Calls back when the person changes the address or goes back. For the life of the page.
pub fn on_fragment(callback: impl Fn(String) + 'static) {
    listen(&window(), &["hashchange"], false, Box::new(move |_| callback(fragment())));
}

/// Sets an attribute of the whole page, such as its ground.
pub fn set_root_attribute(name: &str, value: &str) {
    let root = window().document().and_then(|document| document.document_element());
    if let Some(root) = root {
        let _ = root.set_attribute(name, value);
    }
}

/// Sets the page's title.
pub fn set_title(title: &str) {
    if let Some(document) = window().document() {
        document.set_title(title);
    }
}

/// The local time of day at `ms` since 1970, as hours, minutes and seconds.
pub fn time_of_day(ms: i64) -> (u32, u32, u32) {
    #[expect(clippy::cast_precision_loss, reason = "a date in milliseconds fits")]
    let date = js_sys::Date::new(&wasm_bindgen::JsValue::from_f64(ms as f64));
    (date.get_hours(), date.get_minutes(), date.get_seconds())
}

/// The local date at `ms` since 1970 in the person's own way of writing it.
pub fn date(ms: i64) -> String {
    #[expect(clippy::cast_precision_loss, reason = "a date in milliseconds fits")]
    let date = js_sys::Date::new(&wasm_bindgen::JsValue::from_f64(ms as f64));
    let options = js_sys::Object::new();
    for (name, value) in [("day", "numeric"), ("month", "short"), ("year", "numeric")] {
        let _ = js_sys::Reflect::set(&options, &name.into(), &value.into());
    }
    date.to_locale_date_string("en-GB", &options).into()
}

/// An instant by the clock on the person's wall, told as if that were UTC.
fn by_the_wall(at: Timestamp) -> Timestamp {
    #[expect(clippy::cast_precision_loss, reason = "a date in milliseconds fits")]
    let date = js_sys::Date::new(&wasm_bindgen::JsValue::from_f64(at.milliseconds() as f64));
    #[expect(clippy::cast_possible_truncation, reason = "minutes of a zone")]
    let behind_min = date.get_timezone_offset() as i64;
    at.plus_ms(-60_000 * behind_min)
}

/// How far the clock on the person's wall is ahead of UTC now, in milliseconds.
pub fn offset_ms() -> i64 {
    #[expect(clippy::cast_possible_truncation, reason = "a date in milliseconds fits")]
    let now = Timestamp::from_milliseconds(js_sys::Date::now() as i64);
    by_the_wall(now).since_ms(now)
}

/// The person's day of an instant, as `2026-11-25`.
pub fn iso_day(at: Timestamp) -> String {
    by_the_wall(at).to_iso().chars().take(10).collect()
}

/// How many of the person's days lie between two instants: from an evening to the next morning, one.
pub fn days_between(from: Timestamp, until: Timestamp) -> i64 {
    let day = |at| by_the_wall(at).milliseconds().div_euclid(86_400_000);
    (day(until) - day(from)).max(0)
}

/// How many days ago a day such as `2026-03-14` was; nothing if it is no day, or has not come yet.
pub fn days_since(day: &str) -> Option<i64> {
    let midnight = Timestamp::from_iso(&format!("{day}T00:00:00Z"))?.milliseconds();
    #[expect(clippy::cast_possible_truncation, reason = "a date in milliseconds fits")]
    let now = by_the_wall(Timestamp::from_milliseconds(js_sys::Date::now() as i64));
    let days = (now.milliseconds() - midnight).div_euclid(86_400_000);
    (days >= 0).then_some(days)
}

/// Whether the page shows the demonstration.
pub fn is_demo() -> bool {
    window().location().search().is_ok_and(|search| search == DEMO)
}

/// Goes to the demonstration, or back from it.
pub fn show_demo(so: bool) {
    let path = window().location().pathname().unwrap_or_default();
    let _ = window().location().set_href(&format!("{path}{}", if so { DEMO } else { "" }));
}

/// Whether the page was opened from the home screen, where a browser keeps its tabs apart from that;
/// nothing where it does not.
pub fn is_from_home() -> Option<bool> {
    super::property(&window().navigator(), "standalone")?.as_bool()
}

/// What the address has when the page shows the demonstration.
const DEMO: &str = "?demo";

/// Loads the page anew.
pub fn reload() {
    let _ = window().location().reload();
}

/// Lets the person pick a file, and calls back with its text.
pub fn pick_text(callback: impl Fn(String) + Clone + 'static) {
    let read = move |files: web_sys::FileList| {
        if let Some(file) = files.get(0) {
            read_text(&file, callback.clone());
        }
    };
    pick("application/json,.json", Box::new(read));
}

/// Lets the person pick files of a kind.
pub fn pick(kind: &str, callback: Box<dyn Fn(web_sys::FileList)>) {
    let Some(document) = window().document() else { return };
    let Ok(input) = document.create_element("input") else { return };
    let input: web_sys::HtmlInputElement = input.unchecked_into();
    input.set_type("file");
    input.set_accept(kind);
    input.set_multiple(kind == super::photos::KIND);
    let picked = input.clone();
    let listener = Closure::<dyn Fn()>::new(move || {
        if let Some(files) = picked.files() {
            callback(files);
        }
    });
    input.set_onchange(Some(listener.as_ref().unchecked_ref()));
    listener.forget();
    input.click();
}

/// Calls back with the text of a file.
fn read_text(file: &web_sys::File, callback: impl Fn(String) + 'static) {
    let text = file.text();
    leptos::task::spawn_local(async move {
        let text = wasm_bindgen_futures::JsFuture::from(text).await;
        callback(text.ok().and_then(|text| text.as_string()).unwrap_or_default());
    });
}

/// Calls back with the text of a file that is dropped on the page. For the life of the page.
pub fn on_drop(callback: impl Fn(String) + Clone + 'static) {
    let dropped = move |event: web_sys::Event| {
        let event: web_sys::DragEvent = event.unchecked_into();
        // Without this the browser would leave the page for the file.
        event.prevent_default();
        let files = event.data_transfer().and_then(|data| data.files());
        if event.type_() == "drop"
            && let Some(file) = files.and_then(|files| files.get(0))
        {
            read_text(&file, callback.clone());
        }
    };
    listen(&window(), &["dragover", "drop"], false, Box::new(dropped));
}

/// Where the page mounts.
pub fn app_place() -> Option<web_sys::HtmlElement> {
    let place = window().document().and_then(|document| document.get_element_by_id("app"));
    place.and_then(|place| place.dyn_into().ok())
}

/// A finger or a mouse leaves no focus behind: the next key of a pedal is meant for the big button,
/// not for what was touched last. For the life of the page.
pub fn leave_no_focus_behind() {
    let clicked = |event: web_sys::Event| {
        let event: web_sys::MouseEvent = event.unchecked_into();
        // A press of a key counts no clicks.
        let focused = window().document().and_then(|document| document.active_element());
        let focused = focused.and_then(|element| element.dyn_into::<web_sys::HtmlElement>().ok());
        if let Some(focused) =
            focused.filter(|element| event.detail() != 0 && element.tag_name() == "BUTTON")
        {
            let _ = focused.blur();
        }
    };
    listen(&window(), &["click"], false, Box::new(clicked));
}

/// Whether the keyboard's focus is visibly on a button, so that a key press is meant for it.
pub fn is_focus_on_a_button() -> bool {
    let focused = window().document().and_then(|document| document.active_element());
    focused.is_some_and(|element| {
        // WebKit does not show the focus that an arrow has moved to a half; a finger leaves none there.
        let visible = element.matches(":focus-visible, .halves > button").unwrap_or(false);
        visible && matches!(element.tag_name().as_str(), "BUTTON" | "A" | "SUMMARY" | "SELECT")
    })
}

/// Moves the keyboard's focus to one of two halves. Says whether there are halves.
pub fn focus_key(nth: u32) -> bool {
    let Some(document) = window().document() else { return false };
    let place = format!(".halves > button:nth-child({})", nth + 1);
    let half = document.query_selector(&place).ok().flatten();
    let half = half.and_then(|half| half.dyn_into::<web_sys::HtmlElement>().ok());
    half.is_some_and(|half| half.focus().is_ok())
}

/// Moves to the top of the page.
pub fn to_top() {
    let _ = super::call(&window(), "scrollTo", &[0.into(), 0.into()]);
}

/// Opens the browser's own way of printing.
pub fn print() {
    let _ = super::call(&window(), "print", &[]);
}
