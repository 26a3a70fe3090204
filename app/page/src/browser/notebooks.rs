//! The notebook in the browser's database.
//!
//! Every operation goes through one door, `with_open`, that opens the database, gives up after a
//! time, and on a lost connection opens it once more. Inside a transaction nothing is awaited but
//! the transaction's own requests.
//!
//! A later version of the page may change the database while a run goes on in this one: it is given
//! way to at once, and the next write opens whatever version there is. A later version therefore only
//! ever adds shelves.

// By its path, as the bench takes this file into another crate.
#[path = "notebooks/shelves.rs"]
mod shelves;
#[path = "notebooks/why.rs"]
mod why;

use std::cell::{Cell, RefCell};
use std::future::{Future, poll_fn};
use std::ops::RangeInclusive;
use std::pin::pin;
use std::rc::Rc;
use std::task::Poll;

use gloo_timers::future::TimeoutFuture;
use indexed_db_futures::database::Database as Open;
use indexed_db_futures::error::{Error, OpenDbError};
use indexed_db_futures::prelude::*;
use indexed_db_futures::transaction::{
    Transaction, TransactionDurability, TransactionMode, TransactionOptions,
};
use shelves::{SHELVES, VERSION, name_of, put_up};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use why::{named, reason, refused};

use super::{call, property, window};
use crate::ports::{Kept, Later, Notebooks, Shelf, StoreError, Truth};

/// An upgrade that another window blocks may never answer.
const OPEN_MS: u32 = 8_000;
/// Many photos take their time.
const PHOTOS_MS: u32 = 60_000;
/// Some browsers never answer a transaction that was begun in the background.
const ANSWER_MS: u32 = 5_000;
/// So many texts are written one after another: more than a run ever writes at once.
const FEW: usize = 200;

/// The demonstration has a database of its own: nothing in it meets what is real.
fn name() -> &'static str {
    if super::events::is_demo() { "sinkside-demo" } else { "sinkside" }
}

/// What is done with an open database. Boxed, so that the door is compiled once.
type Work = Box<dyn Fn(Rc<Open>) -> Later<Result<Vec<(JsValue, JsValue)>, Error>>>;

/// The browser's database.
#[derive(Clone, Debug, Default)]
pub struct Database {
    open: Rc<RefCell<Option<Rc<Open>>>>,
    /// A second connection, which listens, as the first cannot, and takes what nobody waits for.
    listens: Rc<RefCell<JsValue>>,
    /// Whether another window with an earlier version keeps the shelves from being put up.
    blocked: Rc<Cell<bool>>,
}

impl Database {
    /// Not opened before it is needed.
    pub fn new() -> Self {
        Self::default()
    }

    /// Does `work` with the open database; once more with a new connection if the old was lost.
    async fn with_open(&self, work: Work, ms: u32) -> Result<Vec<(JsValue, JsValue)>, StoreError> {
        let mut last = StoreError::Broken;
        for _ in 0..2 {
            let open = self.opened().await?;
            match within(ms, work(open)).await {
                Some(Ok(value)) => return Ok(value),
                Some(Err(error)) => last = reason(&error),
                None => last = StoreError::Slow,
            }
            if last == StoreError::Full {
                break;
            }
            self.shut();
        }
        Err(last)
    }

    /// Closes the database; the next operation opens it again.
    fn shut(&self) {
        if let Some(open) = self.open.borrow_mut().take() {
            Open::clone(&open).close();
        }
        let _ = call(&self.listens.take(), "close", &[]);
    }

    async fn opened(&self) -> Result<Rc<Open>, StoreError> {
        if let Some(open) = self.open.borrow().as_ref() {
            return Ok(Rc::clone(open));
        }
        if self.blocked.get() {
            return Err(StoreError::Blocked);
        }
        self.put_up_shelves().await?;
        let request = Open::open(name()).build().map_err(|_| StoreError::Refused)?;
        let open = within(OPEN_MS, request.into_future()).await.ok_or(StoreError::Slow)?;
        let open = open.map_err(|error: OpenDbError| refused(&error))?;
        let mut slot = self.open.borrow_mut();
        if let Some(first) = slot.as_ref() {
            // Somebody else was quicker; a connection that nobody knows of could not give way.
            open.close();
            return Ok(Rc::clone(first));
        }
        let open = Rc::new(open);
        *slot = Some(Rc::clone(&open));
        Ok(open)
    }

    /// Makes what is missing in a database that is new or of an earlier version.
    ///
    /// Asked of the browser itself: the crate's own way brings along how its errors would be printed,
    /// down to floating point, five kilobytes that nobody reads.
    async fn put_up_shelves(&self) -> Result<(), StoreError> {
        let factory = property(&window(), "indexedDB").ok_or(StoreError::Refused)?;
        let request = call(&factory, "open", &[name().into(), VERSION.into()]);
        let request = request.ok_or(StoreError::Refused)?;
        let answered = js_sys::Promise::new(&mut |resolve, reject| {
            let asked = request.clone();
            let upgrade = Closure::once_into_js(move || put_up(&asked));
            let (database, asked) = (self.clone(), request.clone());
            let opened = Closure::once_into_js(move || {
                database.blocked.set(false);
                database.listen(property(&asked, "result").unwrap_or_default());
                let _ = resolve.call0(&JsValue::NULL);
            });
            for (name, does) in [
                ("onupgradeneeded", upgrade),
                ("onsuccess", opened),
                ("onblocked", reject.clone().into()),
                ("onerror", reject.into()),
            ] {
                let _ = js_sys::Reflect::set(&request, &name.into(), &does);
            }
        });
        let answered = within(OPEN_MS, wasm_bindgen_futures::JsFuture::from(answered)).await;
        if answered.ok_or(StoreError::Slow)?.is_ok() {
            return Ok(());
        }
        // Blocked, the request has no answer yet; it gets one when the other window is closed.
        let state = property(&request, "readyState").and_then(|state| state.as_string());
        if state.as_deref() == Some("pending") {
            self.blocked.set(true);
            return Err(StoreError::Blocked);
        }
        let name = property(&request, "error").and_then(|error| property(&error, "name"));
        match name.and_then(|name| name.as_string()).unwrap_or_default().as_str() {
            // A later version of the page has been here: its shelves are ours and more.
            "VersionError" => Ok(()),
            name => Err(named(name)),
        }
    }

    /// Gives way to a later version of the page. Only one connection listens.
    fn listen(&self, connection: JsValue) {
        let database = self.clone();
        let give_way = Closure::once_into_js(move || database.shut());
        let _ = js_sys::Reflect::set(&connection, &"onversionchange".into(), &give_way);
        let _ = call(&self.listens.replace(connection), "close", &[]);
    }

    /// Hands a text to the connection that is open, if there is one, and waits for nothing: waiting
    /// for a write costs a page at rest four times what the write does.
    fn jot_at_once(&self, shelf: Shelf, key: &str, text: &str) -> Option<()> {
        let connection = self.listens.borrow().clone();
        let options = JsValue::from(js_sys::Object::new());
        js_sys::Reflect::set(&options, &"durability".into(), &"relaxed".into()).ok()?;
        let name = JsValue::from(name_of(shelf));
        let asked = [name.clone(), "readwrite".into(), options];
        let transaction = call(&connection, "transaction", &asked)?;
        let store = call(&transaction, "objectStore", &[name])?;
        call(&store, "put", &[text.into(), key.into()]).map(|_| ())
    }

    /// The texts whose keys lie in `range`.
    fn between(
        &self,
        shelf: Shelf,
        range: RangeInclusive<String>,
    ) -> Later<Result<Vec<Kept>, StoreError>> {
        let database = self.clone();
        Box::pin(async move {
            let all: Work = Box::new(move |open| {
                let range = range.clone();
                Box::pin(async move {
                    let transaction = open.transaction(name_of(shelf)).build()?;
                    let store = transaction.object_store(name_of(shelf))?;
                    let keys = store
                        .get_all_keys::<JsValue>()
                        .with_query::<String, _>(range.clone())
                        .primitive()?
                        .await?;
                    let texts = store
                        .get_all::<JsValue>()
                        .with_query::<String, _>(range)
                        .primitive()?
                        .await?;
                    keys.zip(texts).map(|(key, text)| Ok((key?, text?))).collect()
                })
            });
            let ms = if shelf == Shelf::Photos { PHOTOS_MS } else { ANSWER_MS };
            let kept = database.with_open(all, ms).await?;
            Ok(kept.iter().map(|(key, text)| (as_text(key), as_text(text))).collect())
        })
    }

    /// Keeps all of these texts or none.
    fn put(
        &self,
        texts: Vec<(Shelf, String, String)>,
        durability: TransactionDurability,
    ) -> Later<Result<(), StoreError>> {
        let database = self.clone();
        Box::pin(async move {
            let mut scope: Vec<&'static str> = Vec::new();
            for (shelf, _, _) in &texts {
                if !scope.contains(&name_of(*shelf)) {
                    scope.push(name_of(*shelf));
                }
            }
            if scope.is_empty() {
                return Ok(());
            }
            let is_long = texts.iter().filter(|(shelf, ..)| *shelf == Shelf::Photos).count() > 1;
            let count = u32::try_from(texts.len()).unwrap_or(OPEN_MS);
            let put: Work = Box::new(move |open| {
                let (texts, scope) = (texts.clone(), scope.clone());
                Box::pin(async move {
                    let transaction = written(&open, scope, durability)?;
                    // Of thousands only the last answer is waited for: they come in order, and what goes
                    // wrong before it ends the transaction.
                    let mut left = texts.len();
                    let many = left > FEW;
                    for (shelf, key, text) in texts {
                        let store = transaction.object_store(name_of(shelf))?;
                        let put = store.put(text).with_key(key).build()?;
                        left -= 1;
                        if left == 0 || !many {
                            put.await?;
                        }
                    }
                    transaction.commit().await?;
                    Ok(Vec::new())
                })
            });
            // A thousand texts take longer than one.
            let ms = ANSWER_MS.saturating_add(count);
            let ms = if is_long { ms.max(PHOTOS_MS) } else { ms };
            database.with_open(put, ms).await.map(|_| ())
        })
    }
}

/// A transaction that writes.
fn written<'a>(
    open: &'a Open,
    scope: Vec<&'static str>,
    durability: TransactionDurability,
) -> Result<Transaction<'a>, Error> {
    let options = TransactionOptions::new().with_durability(durability);
    open.transaction(scope).with_mode(TransactionMode::Readwrite).with_options(options).build()
}

impl Notebooks for Database {
    fn jot(&self, shelf: Shelf, key: String, text: String) {
        if self.jot_at_once(shelf, &key, &text).is_none() {
            let put = self.put(vec![(shelf, key, text)], TransactionDurability::Relaxed);
            wasm_bindgen_futures::spawn_local(async move {
                let _ = put.await;
            });
        }
    }

    fn find(&self, shelf: Shelf, key: String) -> Later<Result<Option<String>, StoreError>> {
        // A key sorts before every longer one that begins with it.
        let found = self.between(shelf, key.clone()..=key);
        Box::pin(async move { Ok(found.await?.pop().map(|(_, text)| text)) })
    }

    fn all(&self, shelf: Shelf, prefix: String) -> Later<Result<Vec<Kept>, StoreError>> {
        // Every key that begins with the prefix sorts before the prefix and this sign.
        let last = format!("{prefix}\u{ffff}");
        self.between(shelf, prefix..=last)
    }

    fn keep_all(&self, texts: Vec<(Shelf, String, String)>) -> Later<Result<(), StoreError>> {
        self.put(texts, TransactionDurability::Strict)
    }

    fn erase(&self) -> Later<Result<(), StoreError>> {
        let database = self.clone();
        Box::pin(async move {
            let erase: Work = Box::new(|open| {
                Box::pin(async move {
                    let scope = SHELVES.to_vec();
                    let transaction = written(&open, scope, TransactionDurability::Strict)?;
                    for shelf in SHELVES {
                        transaction.object_store(shelf)?.clear()?.await?;
                    }
                    transaction.commit().await?;
                    Ok(Vec::new())
                })
            });
            database.with_open(erase, ANSWER_MS).await.map(|_| ())
        })
    }

    fn truth(&self) -> Later<Truth> {
        Box::pin(async move {
            let Some(storage) = property(&window().navigator(), "storage") else {
                return Truth::default();
            };
            let is_durable = answer(&storage, "persisted").await.and_then(|so| so.as_bool());
            let estimate = answer(&storage, "estimate").await;
            let used = estimate.and_then(|estimate| property(&estimate, "usage"));
            Truth { is_durable, used_bytes: used.and_then(|used| used.as_f64()) }
        })
    }

    fn ask_to_persist(&self) {
        // Some browsers have no such thing, and in some the answer never comes.
        let storage = property(&window().navigator(), "storage");
        if let Some(storage) =
            storage.and_then(|value| value.dyn_into::<web_sys::StorageManager>().ok())
        {
            let _ = storage.persist();
        }
    }
}

/// Something that is there but is not text is shown as what it is, so that it can be saved.
fn as_text(value: &JsValue) -> String {
    value.as_string().unwrap_or_else(|| {
        js_sys::JSON::stringify(value).map_or_else(|_| "unreadable".to_owned(), String::from)
    })
}

/// What a promise of the browser's storage comes to, if it ever answers.
async fn answer(storage: &JsValue, method: &str) -> Option<JsValue> {
    let promise = call(storage, method, &[])?.dyn_into::<js_sys::Promise>().ok()?;
    within(ANSWER_MS, wasm_bindgen_futures::JsFuture::from(promise)).await?.ok()
}

/// What `future` gives, or nothing after `ms`.
async fn within<T>(ms: u32, future: impl Future<Output = T>) -> Option<T> {
    let mut timer = pin!(TimeoutFuture::new(ms));
    let mut future = pin!(future);
    poll_fn(|context| match future.as_mut().poll(context) {
        Poll::Ready(value) => Poll::Ready(Some(value)),
        Poll::Pending => timer.as_mut().poll(context).map(|()| None),
    })
    .await
}
