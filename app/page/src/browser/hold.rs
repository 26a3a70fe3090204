//! One live run among all windows: a web lock, and a channel on which they tell each other.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use js_sys::{Function, Object, Promise, Reflect};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::BroadcastChannel;

use super::{call, property, window};
use crate::ports::{Hold, Later};

const NAME: &str = "sinkside-run";

/// The hold on the live run.
#[derive(Debug)]
pub struct WindowHold {
    inner: Rc<Inner>,
    channel: Option<BroadcastChannel>,
}

#[derive(Default)]
struct Inner {
    /// Ends the lock's promise, and with it the lock.
    let_go: RefCell<Option<Function>>,
    held: Cell<bool>,
    on_lost: RefCell<Option<Box<dyn Fn()>>>,
}

impl std::fmt::Debug for Inner {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Inner").field("held", &self.held).finish_non_exhaustive()
    }
}

impl WindowHold {
    /// No hold.
    pub fn new() -> Self {
        let channel =
            property(&window(), "BroadcastChannel").and_then(|_| BroadcastChannel::new(NAME).ok());
        Self { inner: Rc::new(Inner::default()), channel }
    }
}

impl Hold for WindowHold {
    fn take(&self, steal: bool) -> Later<bool> {
        let inner = Rc::clone(&self.inner);
        Box::pin(async move {
            if inner.held.get() {
                return true;
            }
            let Some(locks) = locks() else {
                // Without locks there is nothing to ask; one window is the rule.
                inner.held.set(true);
                return true;
            };
            let held = JsFuture::from(request(&inner, &locks, steal)).await;
            let held = held.is_ok_and(|held| held.is_truthy());
            inner.held.set(held);
            held
        })
    }

    fn release(&self) {
        self.inner.held.set(false);
        if let Some(let_go) = self.inner.let_go.borrow_mut().take() {
            let _ = let_go.call0(&JsValue::NULL);
        }
    }

    fn on_lost(&self, callback: Box<dyn Fn()>) {
        *self.inner.on_lost.borrow_mut() = Some(callback);
    }

    fn tell(&self) {
        if let Some(channel) = &self.channel {
            let _ = channel.post_message(&JsValue::TRUE);
        }
    }

    fn on_told(&self, callback: Box<dyn Fn()>) {
        if let Some(channel) = &self.channel {
            let told = Closure::<dyn Fn()>::new(callback);
            channel.set_onmessage(Some(told.as_ref().unchecked_ref()));
            // The channel lives as long as the page.
            told.forget();
        }
    }
}

fn locks() -> Option<JsValue> {
    property(&window().navigator(), "locks")
}

/// A promise of whether the lock is held. The lock itself is held until `let_go` is called or
/// another window steals it.
fn request(inner: &Rc<Inner>, locks: &JsValue, steal: bool) -> Promise {
    let options = Object::new();
    let wish = if steal { "steal" } else { "ifAvailable" };
    let _ = Reflect::set(&options, &wish.into(), &JsValue::TRUE);
    Promise::new(&mut |answer, _| {
        let granted_inner = Rc::clone(inner);
        let granted_answer = answer.clone();
        let granted = Closure::once_into_js(move |lock: JsValue| -> JsValue {
            let held = !lock.is_null();
            let _ = granted_answer.call1(&JsValue::NULL, &held.into());
            if !held {
                return JsValue::UNDEFINED;
            }
            Promise::new(&mut |let_go, _| {
                *granted_inner.let_go.borrow_mut() = Some(let_go);
            })
            .into()
        });
        let promise = call(locks, "request", &[NAME.into(), options.clone().into(), granted])
            .unwrap_or_default();
        let promise = Promise::resolve(&promise);
        let inner = Rc::clone(inner);
        spawn_local(async move {
            let stolen = JsFuture::from(promise).await.is_err();
            let _ = answer.call1(&JsValue::NULL, &JsValue::FALSE);
            if stolen
                && inner.held.replace(false)
                && let Some(callback) = inner.on_lost.borrow().as_ref()
            {
                callback();
            }
        });
    })
}
