//! The two-way protocol of drivers (`WebDriver BiDi`), and Chromium's own, which asks and answers the
//! same way: one question, one answer. What comes unasked is left aside.

use std::net::TcpStream;
use std::sync::{Mutex, PoisonError};
use std::time::Duration;

use serde_json::{Value, json};
use tungstenite::client::client_with_config;
use tungstenite::protocol::WebSocketConfig;
use tungstenite::{Message, WebSocket};

/// A connection to one browser.
#[derive(Debug)]
pub struct Bidi {
    /// With the number of the last question.
    socket: Mutex<(WebSocket<TcpStream>, u64)>,
}

impl Bidi {
    /// Reaches the browser at an address such as `ws://127.0.0.1:1234/session/…`.
    pub fn reached(address: &str) -> Self {
        let host = address.split('/').nth(2).expect("an address has a host");
        let stream = TcpStream::connect(host).expect("the browser listens");
        stream.set_read_timeout(Some(Duration::from_mins(1))).expect("a time");
        stream.set_nodelay(true).expect("a switch");
        // What a day is remembered by is tens of megabytes.
        let any = WebSocketConfig::default().max_message_size(None).max_frame_size(None);
        let (socket, _) =
            client_with_config(address, stream, Some(any)).expect("the browser answers");
        Self { socket: Mutex::new((socket, 0)) }
    }

    /// Gives a command. What went wrong comes back in words.
    pub fn ask(&self, method: &str, params: Value) -> Result<Value, String> {
        let mut locked = self.socket.lock().unwrap_or_else(PoisonError::into_inner);
        let (socket, asked) = &mut *locked;
        *asked += 1;
        let id = *asked;
        let question = json!({ "id": id, "method": method, "params": params }).to_string();
        socket.send(Message::text(question)).map_err(|error| error.to_string())?;
        loop {
            let answer = socket.read().map_err(|error| error.to_string())?;
            let Message::Text(answer) = answer else { continue };
            let mut answer: Value =
                serde_json::from_str(&answer).map_err(|error| error.to_string())?;
            if answer["id"] != id {
                continue;
            }
            if !answer["error"].is_null() {
                return Err(format!("{method}: {} {}", answer["error"], answer["message"]));
            }
            return Ok(answer["result"].take());
        }
    }
}

/// A value as the protocol describes it, in plain data.
pub fn plain(told: &Value) -> Value {
    let value = &told["value"];
    let parts = || value.as_array().into_iter().flatten();
    match told["type"].as_str().unwrap_or_default() {
        "string" | "boolean" => value.clone(),
        // Numbers that data has no word for are written out.
        "number" if value.is_number() => value.clone(),
        "array" => parts().map(plain).collect(),
        "object" => {
            let entry = |pair: &Value| Some((pair[0].as_str()?.to_owned(), plain(&pair[1])));
            Value::Object(parts().filter_map(entry).collect())
        }
        _ => Value::Null,
    }
}
