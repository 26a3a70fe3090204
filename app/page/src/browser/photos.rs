//! Pictures: made smaller before they are kept, and shown by an address of the browser's own.
//!
//! What comes out of here was drawn anew: nothing of what a camera wrote into its file beside the
//! picture, such as a place, is left.

use wasm_bindgen::JsValue;
use web_sys::{File, Url};

use super::papers::{address_of, awaited};
use super::{call, events, property, window};
use crate::ports::{Later, PhotoError, Photos, Picked};

/// The files that are offered to be picked: a phone offers its camera, too.
pub const KIND: &str = "image/*";
/// The longest edge that is kept, in pixels; our choice: enough to see grain and dust on a screen.
const LONGEST: f64 = 1_600.0;
/// How well it is kept, from 0 to 1; our choice.
const QUALITY: f64 = 0.8;
/// A file larger than this is not tried, in bytes; our choice.
const MOST_BYTES: f64 = 100e6;
const JPEG: &str = "image/jpeg";
/// How the address of a JPEG begins that is the JPEG itself.
const HEAD: &str = "data:image/jpeg;base64,";

/// Pictures into the page, and onto it.
#[derive(Clone, Copy, Debug)]
pub struct PagePhotos;

impl Photos for PagePhotos {
    fn pick(&self, each: Box<dyn Fn(Picked)>) {
        let each = std::rc::Rc::new(each);
        let picked = move |files: web_sys::FileList| {
            let each = std::rc::Rc::clone(&each);
            // One after another: a phone has room for one large picture at a time.
            let all: Later<()> = Box::pin(async move {
                for file in (0..files.length()).filter_map(|at| files.get(at)) {
                    each((file.name(), smaller(&file).await));
                }
            });
            leptos::task::spawn_local(all);
        };
        events::pick(KIND, Box::new(picked));
    }

    fn show(&self, base64: &str) -> String {
        let bytes = js_sys::Uint8Array::from(bytes_of(base64).as_slice());
        address_of(&bytes, JPEG).unwrap_or_default()
    }

    fn forget(&self, address: &str) {
        let _ = Url::revoke_object_url(address);
    }
}

/// The picture in a file as a smaller JPEG, in base64.
async fn smaller(file: &File) -> Result<String, PhotoError> {
    if file.size() > MOST_BYTES {
        return Err(PhotoError::TooLarge);
    }
    let picture = awaited(&window(), "createImageBitmap", &[file.into()]).await;
    let picture = picture.ok_or(PhotoError::Unreadable)?;
    let drawn = drawn(&picture);
    let _ = call(&picture, "close", &[]);
    let address = drawn.and_then(|address| address.as_string());
    // What a browser cannot draw for want of room is an address of nothing.
    let base64 = address.as_deref().and_then(|address| address.strip_prefix(HEAD));
    base64.map(str::to_owned).ok_or(PhotoError::TooLarge)
}

/// The address of a picture that was drawn smaller, which is the JPEG itself in base64.
fn drawn(picture: &JsValue) -> Option<JsValue> {
    let side = |name| property(picture, name)?.as_f64();
    let (wide, high) = (side("width")?, side("height")?);
    let scale = (LONGEST / wide.max(high)).min(1.0);
    let [wide, high] = [wide, high].map(|side| JsValue::from((side * scale).round().max(1.0)));
    let canvas = window().document()?.create_element("canvas").ok()?;
    let set = |of: &JsValue, name: &str, value: &JsValue| {
        js_sys::Reflect::set(of, &name.into(), value).ok()
    };
    set(&canvas, "width", &wide)?;
    set(&canvas, "height", &high)?;
    let brush = call(&canvas, "getContext", &["2d".into()])?;
    let nought = JsValue::from(0);
    call(&brush, "drawImage", &[picture.clone(), nought.clone(), nought, wide, high])?;
    call(&canvas, "toDataURL", &[JPEG.into(), QUALITY.into()])
}

/// The bytes of base64 (RFC 4648), as far as it is any.
fn bytes_of(base64: &str) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(base64.len() / 4 * 3);
    let (mut held, mut bits) = (0_u32, 0);
    for sign in base64.bytes() {
        let value = match sign {
            b'A'..=b'Z' => sign - b'A',
            b'a'..=b'z' => sign - b'a' + 26,
            b'0'..=b'9' => sign - b'0' + 52,
            b'+' => 62,
            b'/' => 63,
            _ => break,
        };
        held = (held << 6 | u32::from(value)) & 0xFFFF;
        bits += 6;
        if bits >= 8 {
            bits -= 8;
            bytes.push((held >> bits & 0xFF) as u8);
        }
    }
    bytes
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn base64_is_read_as_the_standard_has_it() {
        // RFC 4648, section 10.
        for (base64, text) in
            [("", ""), ("Zg==", "f"), ("Zm8=", "fo"), ("Zm9v", "foo"), ("Zm9vYmFy", "foobar")]
        {
            assert_eq!(bytes_of(base64), text.as_bytes());
        }
        assert_eq!(bytes_of("/9j/+A=="), [0xFF, 0xD8, 0xFF, 0xF8]);
        assert_eq!(bytes_of("Zm9v<script>"), b"foo");
    }
}
