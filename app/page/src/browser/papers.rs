//! The clipboard, files, and chance.

use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, BlobPropertyBag, File, FilePropertyBag, HtmlAnchorElement, Url};

use super::{call, property, window};
use crate::ports::{Handed, Later, Papers};

/// What a file is, as the internet names it (RFC 8259, 4180, 5545).
fn kind_of(name: &str) -> &'static str {
    match name.rsplit('.').next() {
        Some("csv") => "text/csv",
        Some("ics") => "text/calendar",
        Some(_) | None => "application/json",
    }
}

/// Text out of the page.
#[derive(Clone, Copy, Debug)]
pub struct PagePapers;

impl Papers for PagePapers {
    fn copy(&self, text: String) -> Later<bool> {
        Box::pin(async move {
            let navigator = window().navigator();
            if property(&navigator, "clipboard").is_none() {
                return false;
            }
            JsFuture::from(navigator.clipboard().write_text(&text)).await.is_ok()
        })
    }

    fn save(&self, name: &str, text: &str) {
        let _ = offer(name, text);
    }

    fn hand_over(&self, name: String, text: String) -> Later<Handed> {
        Box::pin(async move {
            if let Some(shared) = share(&name, &text).await {
                return shared;
            }
            if let Some(saved) = save_picked(&name, &text).await {
                return saved;
            }
            if offer(&name, &text).is_ok() { Handed::Downloaded } else { Handed::Failed }
        })
    }

    fn random_id(&self) -> String {
        let mut bytes = [0_u8; 16];
        let chance = window()
            .crypto()
            .and_then(|crypto| crypto.get_random_values_with_u8_array(&mut bytes).map(|_| ()));
        if chance.is_err() {
            // Without the browser's chance two devices could make the same id, but one device
            // cannot: the clock has moved on.
            let now = js_sys::Date::now() + js_sys::Math::random();
            bytes[..8].copy_from_slice(&now.to_bits().to_be_bytes());
        }
        bytes.iter().map(|byte| format!("{byte:02x}")).collect()
    }
}

/// Gives the file to another program, where the browser can.
async fn share(name: &str, text: &str) -> Option<Handed> {
    let navigator = window().navigator();
    let kind = FilePropertyBag::new();
    kind.set_type(kind_of(name));
    let parts = js_sys::Array::of1(&text.into());
    let file = File::new_with_str_sequence_and_options(&parts, name, &kind).ok()?;
    let what = js_sys::Object::new();
    js_sys::Reflect::set(&what, &"files".into(), &js_sys::Array::of1(&file)).ok()?;
    call(&navigator, "canShare", &[what.clone().into()])?.as_bool().filter(|can| *can)?;
    let promise = call(&navigator, "share", &[what.into()])?;
    match settled(promise).await {
        Ok(_) => Some(Handed::Shared),
        Err(error) if is_abort(&error) => Some(Handed::Nowhere),
        Err(_) => None,
    }
}

/// Writes the file where the person says, and reads it back.
async fn save_picked(name: &str, text: &str) -> Option<Handed> {
    let options = js_sys::Object::new();
    js_sys::Reflect::set(&options, &"suggestedName".into(), &name.into()).ok()?;
    let picked = call(&window(), "showSaveFilePicker", &[options.into()])?;
    match settled(picked).await {
        Ok(handle) => {
            let is_same = write_and_read(&handle, text).await.as_deref() == Some(text);
            Some(if is_same { Handed::Saved } else { Handed::Failed })
        }
        Err(error) if is_abort(&error) => Some(Handed::Nowhere),
        Err(_) => None,
    }
}

async fn write_and_read(handle: &JsValue, text: &str) -> Option<String> {
    let stream = awaited(handle, "createWritable", &[]).await?;
    awaited(&stream, "write", &[text.into()]).await?;
    awaited(&stream, "close", &[]).await?;
    let file = awaited(handle, "getFile", &[]).await?;
    awaited(&file, "text", &[]).await?.as_string()
}

/// What a method of a browser object comes to, where there is such a method. Boxed, so that who waits
/// for one does not bring all of this along.
pub fn awaited(of: &JsValue, method: &str, arguments: &[JsValue]) -> Later<Option<JsValue>> {
    let called = call(of, method, arguments);
    Box::pin(async move { settled(called?).await.ok() })
}

/// The text of a file that was published with the page. Boxed, so that who asks for one does not
/// bring all of this along.
pub fn published(name: &'static str) -> Later<Option<String>> {
    Box::pin(async move {
        let found = awaited(&window(), "fetch", &[name.into()]).await?;
        awaited(&found, "text", &[]).await?.as_string()
    })
}

/// What a promise comes to.
async fn settled(promise: JsValue) -> Result<JsValue, JsValue> {
    JsFuture::from(promise.unchecked_into::<js_sys::Promise>()).await
}

fn is_abort(error: &JsValue) -> bool {
    property(error, "name").and_then(|name| name.as_string()).as_deref() == Some("AbortError")
}

/// An address of the browser's own for a text or bytes.
pub fn address_of(what: &JsValue, kind: &str) -> Result<String, JsValue> {
    let options = BlobPropertyBag::new();
    options.set_type(kind);
    let parts = js_sys::Array::of1(what);
    let blob = Blob::new_with_str_sequence_and_options(&parts, &options)?;
    Url::create_object_url_with_blob(&blob)
}

fn offer(name: &str, text: &str) -> Result<(), JsValue> {
    let url = address_of(&text.into(), kind_of(name))?;
    let document = window().document().ok_or(JsValue::NULL)?;
    let anchor: HtmlAnchorElement = document.create_element("a")?.unchecked_into();
    anchor.set_href(&url);
    anchor.set_download(name);
    anchor.click();
    Url::revoke_object_url(&url)
}
