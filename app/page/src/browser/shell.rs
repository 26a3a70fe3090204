//! The service worker: started after the first paint, changed only on a tap.

use std::cell::RefCell;
use std::rc::Rc;

use gloo_timers::callback::Timeout;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{
    MessageChannel, MessageEvent, RegistrationOptions, ServiceWorker, ServiceWorkerContainer,
    ServiceWorkerRegistration, ServiceWorkerState, ServiceWorkerUpdateViaCache,
};

use super::{property, window};
use crate::ports::{Offline, Shell};

/// After a wish to change, reload at the latest now: some browsers never say that they changed.
const RELOAD_MS: u32 = 3_000;

/// The worker that keeps the page.
#[derive(Debug, Default)]
pub struct Worker {
    registration: Rc<RefCell<Option<ServiceWorkerRegistration>>>,
}

impl Worker {
    /// Not started.
    pub fn new() -> Self {
        Self::default()
    }
}

impl Shell for Worker {
    fn start(&self, on_state: Box<dyn Fn(Offline)>, on_update: Box<dyn Fn()>) {
        let Some(container) = container() else {
            on_state(Offline::Not);
            return;
        };
        let slot = Rc::clone(&self.registration);
        let on_state: Rc<dyn Fn(Offline)> = on_state.into();
        let on_update: Rc<dyn Fn()> = on_update.into();
        spawn_local(async move {
            let options = RegistrationOptions::new();
            options.set_update_via_cache(ServiceWorkerUpdateViaCache::None);
            let promise = container.register_with_options("./sw.js", &options);
            let Ok(registration) = JsFuture::from(promise).await else {
                // Registering fails without a network too; a page that a worker serves is kept.
                match container.controller() {
                    Some(worker) => ask(&worker, &on_state),
                    None => on_state(Offline::Not),
                }
                return;
            };
            let registration: ServiceWorkerRegistration = registration.unchecked_into();
            *slot.borrow_mut() = Some(registration.clone());
            match registration.active() {
                Some(worker) => {
                    ask(&worker, &on_state);
                    if registration.waiting().is_some() {
                        on_update();
                    }
                }
                None => on_state(Offline::Fetching),
            }
            follow(&registration, &on_state, &on_update);
        });
    }

    fn update(&self) {
        let registration = self.registration.borrow();
        let waiting = registration.as_ref().and_then(ServiceWorkerRegistration::waiting);
        let (Some(waiting), Some(container)) = (waiting, container()) else {
            let _ = window().location().reload();
            return;
        };
        let reload = Closure::once_into_js(|| {
            let _ = window().location().reload();
        });
        container.set_oncontrollerchange(Some(reload.unchecked_ref()));
        let _ = waiting.post_message(&"SKIP_WAITING".into());
        Timeout::new(RELOAD_MS, || {
            let _ = window().location().reload();
        })
        .forget();
    }
}

/// Follows every worker that is being installed.
fn follow(
    registration: &ServiceWorkerRegistration,
    on_state: &Rc<dyn Fn(Offline)>,
    on_update: &Rc<dyn Fn()>,
) {
    let follow_installing = {
        let registration = registration.clone();
        let (on_state, on_update) = (Rc::clone(on_state), Rc::clone(on_update));
        move || {
            if let Some(worker) = registration.installing() {
                let first = registration.active().is_none();
                follow_one(worker, first, Rc::clone(&on_state), Rc::clone(&on_update));
            }
        }
    };
    follow_installing();
    let found = Closure::<dyn Fn()>::new(follow_installing);
    registration.set_onupdatefound(Some(found.as_ref().unchecked_ref()));
    // The registration lives as long as the page.
    found.forget();
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the bindings may learn of further states")]
fn follow_one(
    worker: ServiceWorker,
    first: bool,
    on_state: Rc<dyn Fn(Offline)>,
    on_update: Rc<dyn Fn()>,
) {
    let watched = worker.clone();
    let changed = Closure::<dyn Fn()>::new(move || match watched.state() {
        ServiceWorkerState::Activated => ask(&watched, &on_state),
        ServiceWorkerState::Installed if !first => on_update(),
        ServiceWorkerState::Redundant if first => on_state(Offline::Not),
        _ => {}
    });
    worker.set_onstatechange(Some(changed.as_ref().unchecked_ref()));
    // A worker outlives the page; so does its listener.
    changed.forget();
}

/// Asks a worker whether every file of its version is in its cache: a phone short of space may have
/// dropped some. A worker that never answers leaves the page silent about it.
fn ask(worker: &ServiceWorker, on_state: &Rc<dyn Fn(Offline)>) {
    let Ok(channel) = MessageChannel::new() else { return };
    let on_state = Rc::clone(on_state);
    let answered = Closure::once_into_js(move |answer: MessageEvent| {
        on_state(if answer.data() == JsValue::TRUE { Offline::Ready } else { Offline::Incomplete });
    });
    channel.port1().set_onmessage(Some(answered.unchecked_ref()));
    let ports = js_sys::Array::of1(&channel.port2());
    let _ = worker.post_message_with_transferable(&"READY".into(), &ports);
}

fn container() -> Option<ServiceWorkerContainer> {
    let container: JsValue = property(&window().navigator(), "serviceWorker")?;
    container.dyn_into().ok()
}
