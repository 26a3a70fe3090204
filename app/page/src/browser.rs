//! The ports as a browser provides them: the only place that names its objects.

pub mod clock;
pub mod events;
pub mod hold;
pub mod mark;
pub mod notebooks;
pub mod papers;
pub mod photos;
pub mod screen;
pub mod shell;
pub mod tones;
pub mod voice;

use std::rc::Rc;

use crate::ports;

/// Every port, as this browser answers it.
pub struct Ports {
    /// The phone's clocks.
    pub clock: Rc<dyn ports::Clock>,
    /// Tones.
    pub tones: Rc<dyn ports::Tones>,
    /// The voice.
    pub voice: Rc<dyn ports::Voice>,
    /// The screen.
    pub screen: Rc<dyn ports::Screen>,
    /// What outlives the page.
    pub notebooks: Rc<dyn ports::Notebooks>,
    /// The one live run.
    pub hold: Rc<dyn ports::Hold>,
    /// The worker.
    pub shell: Rc<dyn ports::Shell>,
    /// Text out of the page.
    pub papers: Rc<dyn ports::Papers>,
    /// Pictures.
    pub photos: Rc<dyn ports::Photos>,
}

impl Ports {
    /// The ports of this browser.
    pub fn new() -> Self {
        Self {
            clock: Rc::new(clock::BrowserClock),
            tones: Rc::new(tones::AudioTones::new()),
            voice: Rc::new(voice::SpeechVoice::new()),
            screen: Rc::new(screen::PhoneScreen::new()),
            notebooks: Rc::new(notebooks::Database::new()),
            hold: Rc::new(hold::WindowHold::new()),
            shell: Rc::new(shell::Worker::new()),
            papers: Rc::new(papers::PagePapers),
            photos: Rc::new(photos::PagePhotos),
        }
    }
}

/// The window. A page without one cannot be.
pub fn window() -> web_sys::Window {
    leptos::prelude::window()
}

/// Calls a method of a browser object that may not be there. The bindings leave out what is not
/// yet in every browser.
pub fn call(
    of: &wasm_bindgen::JsValue,
    name: &str,
    arguments: &[wasm_bindgen::JsValue],
) -> Option<wasm_bindgen::JsValue> {
    use wasm_bindgen::JsCast;
    let method: js_sys::Function = property(of, name)?.dyn_into().ok()?;
    method.apply(of, &arguments.iter().collect::<js_sys::Array>()).ok()
}

/// A property of a browser object that may not be there.
pub fn property(of: &wasm_bindgen::JsValue, name: &str) -> Option<wasm_bindgen::JsValue> {
    js_sys::Reflect::get(of, &name.into())
        .ok()
        .filter(|value| !value.is_undefined() && !value.is_null())
}
