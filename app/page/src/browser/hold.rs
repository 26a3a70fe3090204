//! One live run among all windows: a web lock, and a channel on which they tell each other.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use gloo_timers::callback::Timeout;
use js_sys::{Function, Object, Promise, Reflect};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::BroadcastChannel;

use super::mark::Mark;
use super::{call, property, window};
use crate::ports::{Hold, Later};

const NAME: &str = "sinkside-run";
/// Where this tab remembers, over a reload, that it holds the run.
const HOLDS: Mark = Mark::of_tab("holds");
/// How long a page that was reloaded waits for what it was before to let go.
const LETS_GO_WITHIN_MS: u32 = 2_000;

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
    waits: Cell<bool>,
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
            let wish =
                if steal { ("steal", JsValue::TRUE) } else { ("ifAvailable", JsValue::TRUE) };
            let mut held = asked(&inner, &locks, wish).await;
            // A browser may begin a page anew before it has done away with what it was.
            if !held
                && HOLDS.is_there()
                && let Some(soon) = soon()
            {
                inner.waits.set(true);
                held = asked(&inner, &locks, ("signal", soon)).await;
                inner.waits.set(false);
            }
            inner.held.set(held);
            HOLDS.put(held);
            held
        })
    }

    fn waits(&self) -> bool {
        self.inner.waits.get()
    }

    fn release(&self) {
        self.inner.held.set(false);
        HOLDS.put(false);
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

/// What gives a wish up that is not fulfilled soon. `None` in browsers that do not know it.
fn soon() -> Option<JsValue> {
    call(&property(&window(), "AbortSignal")?, "timeout", &[LETS_GO_WITHIN_MS.into()])
}

async fn asked(inner: &Rc<Inner>, locks: &JsValue, wish: (&str, JsValue)) -> bool {
    JsFuture::from(request(inner, locks, wish)).await.is_ok_and(|held| held.is_truthy())
}

/// A promise of whether the lock is held. The lock itself is held until `let_go` is called or
/// another window steals it.
fn request(inner: &Rc<Inner>, locks: &JsValue, (wish, how): (&str, JsValue)) -> Promise {
    let options = Object::new();
    let _ = Reflect::set(&options, &wish.into(), &how);
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
            if stolen && inner.held.replace(false) {
                if let Some(callback) = inner.on_lost.borrow().as_ref() {
                    callback();
                }
                // WebKit ends a lock so, too, as its page is reloaded: no timer of that page comes.
                let forget = move || HOLDS.put(inner.held.get());
                Timeout::new(0, forget).forget();
            }
        });
    })
}
