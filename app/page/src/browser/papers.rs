//! The clipboard, files, and chance.

use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, BlobPropertyBag, HtmlAnchorElement, Url};

use super::{property, window};
use crate::ports::{Later, Papers};

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

fn offer(name: &str, text: &str) -> Result<(), JsValue> {
    let parts = js_sys::Array::of1(&text.into());
    let options = BlobPropertyBag::new();
    options.set_type("application/json");
    let blob = Blob::new_with_str_sequence_and_options(&parts, &options)?;
    let url = Url::create_object_url_with_blob(&blob)?;
    let document = window().document().ok_or(JsValue::NULL)?;
    let anchor: HtmlAnchorElement = document.create_element("a")?.unchecked_into();
    anchor.set_href(&url);
    anchor.set_download(name);
    anchor.click();
    Url::revoke_object_url(&url)
}
