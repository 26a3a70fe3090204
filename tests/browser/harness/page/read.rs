//! Reading the screen, by role and by words. `names.js` says what a thing is called; a test holds
//! that against the browser's own accessibility tree.

use serde::Deserialize;
use serde_json::json;

use super::Page;

/// What the screen says at this instant.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
pub struct Look {
    /// REST, AGITATE, POUR, OVER or WAIT, if one of them is shown.
    pub state: Option<String>,
    /// The text of the timer. Several timers are joined by ` | `.
    pub timer: Option<String>,
    /// The text of the status region.
    pub status: String,
    /// The name of the screen.
    pub heading: Option<String>,
}

/// A box in CSS pixels, from the window's top left corner.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
pub struct Rect {
    /// From the left.
    pub x: f64,
    /// From the top.
    pub y: f64,
    /// Across.
    pub width: f64,
    /// Down.
    pub height: f64,
}

impl Rect {
    /// The middle.
    pub fn centre(self) -> (f64, f64) {
        (self.x + self.width / 2.0, self.y + self.height / 2.0)
    }

    /// Whether a point lies in it.
    pub fn holds(self, x: f64, y: f64) -> bool {
        (self.x..self.x + self.width).contains(&x) && (self.y..self.y + self.height).contains(&y)
    }
}

/// Something with a role and a name.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Control {
    /// Its role, such as `button`.
    pub role: String,
    /// Its accessible name.
    pub name: String,
    /// Whether it is switched off.
    pub disabled: bool,
    /// Its border box.
    pub rect: Rect,
    /// Whether its middle is to be scrolled to.
    pub away: bool,
}

/// The roles a person can act on.
pub(super) const ROLES: [&str; 11] = [
    "button",
    "link",
    "checkbox",
    "radio",
    "switch",
    "textbox",
    "spinbutton",
    "slider",
    "combobox",
    "tab",
    "menuitem",
];

impl Page {
    /// What the screen says.
    pub async fn look(&self) -> Look {
        let look = self.eval("__clock.eyes.look()").await;
        serde_json::from_value(look).expect("a look")
    }

    /// The text of the one timer on the screen.
    pub async fn timer(&self) -> String {
        let timers = self.eval("__clock.eyes.timers()").await;
        let timers: Vec<String> = serde_json::from_value(timers).expect("texts");
        assert_eq!(timers.len(), 1, "there must be one timer: {timers:?}");
        timers.into_iter().next().unwrap_or_default()
    }

    /// The accessible name of the one timer on the screen.
    pub async fn timer_name(&self) -> String {
        self.the("timer", "").await.name
    }

    /// The state word, or an empty text.
    pub async fn state_word(&self) -> String {
        self.look().await.state.unwrap_or_default()
    }

    /// What the status region says.
    pub async fn status_text(&self) -> String {
        self.look().await.status
    }

    /// The name of the screen: the `h1`.
    pub async fn heading(&self) -> String {
        self.look().await.heading.unwrap_or_default()
    }

    /// All text of the screen, as it is laid out.
    pub async fn body_text(&self) -> String {
        self.eval("document.body.innerText").await.as_str().unwrap_or_default().to_owned()
    }

    /// The part of the address from `#` on.
    pub async fn fragment(&self) -> String {
        self.eval("__clock.eyes.fragment()").await.as_str().unwrap_or_default().to_owned()
    }

    /// Everything on the screen that a person can act on.
    pub async fn controls(&self) -> Vec<Control> {
        self.with_roles(&ROLES, "").await
    }

    /// The buttons on the screen.
    pub async fn buttons(&self) -> Vec<Control> {
        self.with_roles(&["button"], "").await
    }

    /// The names of the buttons on the screen, in the order of the page.
    pub async fn button_names(&self) -> Vec<String> {
        self.buttons().await.into_iter().map(|button| button.name).collect()
    }

    /// Whether there is such a thing on the screen.
    pub async fn has(&self, role: &str, name: &str) -> bool {
        !self.with_roles(&[role], name).await.is_empty()
    }

    /// The one thing of this role whose name is `name`, or begins with it where none is just that.
    /// Capitals do not count.
    pub async fn the(&self, role: &str, name: &str) -> Control {
        let mut all = self.with_roles(&[role], name).await;
        if all.len() > 1 {
            all.retain(|one| one.name.eq_ignore_ascii_case(name));
        }
        if all.len() == 1 {
            return all.remove(0);
        }
        let there = self.with_roles(&[role], "").await;
        let names: Vec<_> = there.iter().map(|one| &one.name).collect();
        let look = self.look().await;
        panic!("no single {role} \"{name}\"; there are {names:?} on {look:?}");
    }

    async fn with_roles(&self, roles: &[&str], name: &str) -> Vec<Control> {
        let find = format!("__clock.eyes.find({}, {})", json!(roles), json!(name));
        serde_json::from_value(self.eval(&find).await).expect("controls")
    }
}
