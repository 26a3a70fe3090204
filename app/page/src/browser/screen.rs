//! The wake lock, taken again whenever the browser has let it go, and the buzzer.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use js_sys::Promise;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};

use super::{call, property, window};
use crate::ports::{Lit, Screen};

/// The phone's screen.
#[derive(Debug)]
pub struct PhoneScreen {
    inner: Rc<Inner>,
}

#[derive(Debug, Default)]
struct Inner {
    wanted: Cell<bool>,
    asking: Cell<bool>,
    refused: Cell<bool>,
    sentinel: RefCell<Option<JsValue>>,
}

impl PhoneScreen {
    /// A screen that nobody keeps lit.
    pub fn new() -> Self {
        Self { inner: Rc::new(Inner::default()) }
    }
}

impl Screen for PhoneScreen {
    fn keep_lit(&self) {
        self.inner.wanted.set(true);
        ask(&self.inner);
    }

    fn let_go(&self) {
        self.inner.wanted.set(false);
        if let Some(sentinel) = self.inner.sentinel.borrow_mut().take() {
            let _ = call(&sentinel, "release", &[]);
        }
    }

    fn lit(&self) -> Lit {
        match (self.inner.wanted.get(), self.inner.refused.get()) {
            (false, _) => Lit::Unasked,
            (true, true) => Lit::Refused,
            (true, false) => Lit::Kept,
        }
    }

    fn buzz(&self) {
        let _ = call(&window().navigator(), "vibrate", &[200.into()]);
    }
}

fn ask(inner: &Rc<Inner>) {
    let is_held = |sentinel: &JsValue| {
        property(sentinel, "released").is_some_and(|released| !released.is_truthy())
    };
    let held = inner.sentinel.borrow().as_ref().is_some_and(is_held);
    if held || inner.asking.get() {
        return;
    }
    let promise = property(&window().navigator(), "wakeLock")
        .and_then(|lock| call(&lock, "request", &["screen".into()]))
        .and_then(|promise| promise.dyn_into::<Promise>().ok());
    let Some(promise) = promise else {
        inner.refused.set(true);
        return;
    };
    inner.asking.set(true);
    let inner = Rc::clone(inner);
    spawn_local(async move {
        let answer = JsFuture::from(promise).await;
        inner.asking.set(false);
        let Ok(sentinel) = answer else {
            inner.refused.set(true);
            return;
        };
        inner.refused.set(false);
        if inner.wanted.get() {
            watch(&inner, &sentinel);
            *inner.sentinel.borrow_mut() = Some(sentinel);
        } else {
            let _ = call(&sentinel, "release", &[]);
        }
    });
}

/// Asks again when the browser lets the lock go while the page is in view.
fn watch(inner: &Rc<Inner>, sentinel: &JsValue) {
    let inner = Rc::clone(inner);
    let released = Closure::once_into_js(move || {
        let in_view = window().document().is_some_and(|document| !document.hidden());
        if inner.wanted.get() && in_view {
            ask(&inner);
        }
    });
    let _ = js_sys::Reflect::set(sentinel, &"onrelease".into(), &released);
}
