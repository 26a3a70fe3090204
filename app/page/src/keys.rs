//! Keys of a keyboard, a pedal or a remote: any key is the big button.

use leptos::prelude::*;
use session::Command;
use session::entry::{Look, With};
use session::view::{Scene, view};

use crate::browser::events;
use crate::route::Route;
use crate::store::{Held, Overlay, Store};

/// Keys that a keyboard needs for itself.
const NOT_THE_BUTTON: [&str; 22] = [
    "Tab",
    "Shift",
    "Control",
    "Alt",
    "AltGraph",
    "Meta",
    "CapsLock",
    "NumLock",
    "ScrollLock",
    "ContextMenu",
    "ArrowUp",
    "ArrowDown",
    "Home",
    "End",
    "PrintScreen",
    "Pause",
    "Insert",
    "Delete",
    "AudioVolumeUp",
    "AudioVolumeDown",
    "AudioVolumeMute",
    "Dead",
];

/// Keys that are the big button even where not every key is.
const BUTTON: [&str; 4] = [" ", "Enter", "PageUp", "PageDown"];

/// Listens to keys and pasted text for the life of the page.
pub fn connect(store: Store) {
    events::on_key(move |key| pressed(store, key));
    events::on_paste(move |text| {
        let typing = store.overlay.get_untracked() == Overlay::Temp
            && store.route.get_untracked().is_session();
        if typing {
            store.paste_reading(&text);
        }
        let files = store.route.get_untracked() == Route::Settings;
        if files {
            store.look_at_file(text);
        }
        typing || files
    });
    events::on_drop(move |text| {
        if store.route.get_untracked() == Route::Settings {
            store.look_at_file(text);
        }
    });
}

/// What a key does. Says whether it was taken.
fn pressed(store: Store, key: &str) -> bool {
    let route = store.route.get_untracked();
    if !route.is_session() || store.held.get_untracked() == Held::Elsewhere {
        return false;
    }
    if matches!(key, " " | "Enter") && events::is_focus_on_a_button() {
        return false;
    }
    if route == Route::Dark {
        // Any key: hands find no button in the dark.
        store.dark_asks.set(true);
        return true;
    }
    match store.overlay.get_untracked() {
        Overlay::Temp => typed(store, key),
        Overlay::Fault
        | Overlay::Late
        | Overlay::Answer(_)
        | Overlay::Water(_)
        | Overlay::Bottle(_)
        | Overlay::Times(_)
        | Overlay::Gap(_) => leave_overlay(store, key),
        // It goes by itself: whoever goes on before that is asked no more.
        Overlay::TubDone => {
            leave_overlay(store, key) || {
                store.close_overlay();
                on_screen(store, &route, key)
            }
        }
        Overlay::None if is_function_key(key) || NOT_THE_BUTTON.contains(&key) => false,
        Overlay::None => on_screen(store, &route, key),
    }
}

/// The function keys of a keyboard. Those above twelve are on no keyboard: pedals send them.
fn is_function_key(key: &str) -> bool {
    let number = key.strip_prefix('F').map(str::parse::<u8>);
    matches!(number, Some(Ok(1..=12)))
}

fn typed(store: Store, key: &str) -> bool {
    if store.asked_back.get_untracked().is_some() {
        return leave_overlay(store, key);
    }
    match key.as_bytes() {
        [digit @ b'0'..=b'9'] => store.type_digit(digit - b'0'),
        // The point comes by itself.
        b"." | b"," => {}
        b"Backspace" => store.type_back(),
        b"Escape" | b" " | b"Enter" | b"PageUp" | b"PageDown" => store.close_overlay(),
        [letter] if letter.is_ascii_graphic() => {
            store.typing_hint.set(crate::typed::ONLY_DIGITS.to_owned());
        }
        _ => return false,
    }
    true
}

fn leave_overlay(store: Store, key: &str) -> bool {
    let leaves = matches!(key, "Escape" | " " | "Enter" | "PageUp" | "PageDown");
    if leaves && store.accepts_press() {
        store.close_overlay();
    }
    leaves
}

fn on_screen(store: Store, route: &Route, key: &str) -> bool {
    let in_run = *route == Route::Run;
    match (key, in_run) {
        ("t" | "T", true) => press(store, Store::open_temp),
        ("f" | "F", true) => press(store, |store| store.overlay.set(Overlay::Fault)),
        ("u" | "U", _) => press(store, undo_or_redo),
        ("r" | "R", _) => store.repeat(),
        ("m" | "M", true) => press(store, Store::toggle_words),
        ("Escape", _) => return false,
        ("ArrowLeft", true) => return events::focus_key(0),
        ("ArrowRight", true) => return events::focus_key(1),
        ("ArrowLeft" | "ArrowRight", false) => return false,
        _ if !store.habits.with_untracked(|habits| habits.any_key) && !BUTTON.contains(&key) => {
            return false;
        }
        _ => press(store, big_button),
    }
    true
}

fn press(store: Store, action: impl Fn(Store)) {
    if store.accepts_press() {
        action(store);
    }
}

/// The same key takes a tap back and brings it again.
fn undo_or_redo(store: Store) {
    let now = store.read_clock();
    let redo = store.run.with_untracked(|open| {
        open.as_ref().is_some_and(|open| session::command::redoable(&open.run, now).is_some())
    });
    let _ = store.dispatch(if redo { Command::Redo } else { Command::Undo });
}

/// What the big key says: that the tank is full, in practice, or that it is empty.
pub fn big_key(store: Store) -> Command {
    let now = store.read_clock();
    let filling =
        store.run.with_untracked(|open| open.as_ref().is_some_and(|open| open.run.is_filling(now)));
    if filling { Command::TankIsFull } else { Command::TankIsEmpty { ago_ms: 0 } }
}

/// What the big button of the screen does.
fn big_button(store: Store) {
    let route = store.route.get_untracked();
    if route == Route::Tempering {
        return crate::screens::tempering::do_next(store);
    }
    if route == Route::ToTheDark {
        return store.go_dark();
    }
    let now = store.read_clock();
    let scene =
        store.run.with_untracked(|open| open.as_ref().map(|open| view(&open.run, now).scene));
    let Some(scene) = scene else { return };
    let command = match scene {
        Scene::Washing(_) => Command::Judge(Look::Clear),
        Scene::Asking { .. } => Command::Choose(With::With),
        Scene::Ready => {
            let _ = store.start(untrack(|| store.is_anything_out()));
            return;
        }
        Scene::Done { .. } | Scene::Left { .. } => {
            store.finish_run();
            return;
        }
        Scene::LeadIn { .. }
        | Scene::PourIn { .. }
        | Scene::Agitate { .. }
        | Scene::Rest { .. }
        | Scene::PourBack { .. }
        | Scene::Over { .. }
        | Scene::Waiting { .. } => big_key(store),
    };
    let _ = store.dispatch(command);
}
