//! Sizes, contrast, clipping, and the accessibility rules.

use serde::Deserialize;
use serde_json::{Value, json};

use super::read::ROLES;
use super::{Page, Rect};
use crate::harness::environment;
use crate::harness::scene::Viewport;

/// A visible piece of text. Lengths in CSS pixels.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Piece {
    /// As it is drawn.
    pub text: String,
    /// `timer`, `button` or empty: what it stands in.
    pub role: String,
    /// The height of its lowest digit or capital, of an H where it has none.
    pub glyph: f64,
    /// The height of an H in its font.
    pub capital: f64,
    /// Its font size.
    pub font: f64,
    /// Its contrast with the ground, 1 to 21.
    pub ratio: f64,
    /// The ground, as `#rrggbb`.
    pub ground: String,
    /// Whether a picture or a pattern lies under it, so that `ratio` is not the whole truth.
    pub picture: bool,
    /// Where its lines have ink.
    pub lines: Vec<Rect>,
}

impl Page {
    /// Every visible piece of text.
    pub async fn texts(&self) -> Vec<Piece> {
        let texts = self.eval("__clock.measure.texts()").await;
        serde_json::from_value(texts).expect("pieces of text")
    }

    /// The height of the timer's digits.
    pub async fn timer_height(&self) -> f64 {
        let texts = self.texts().await;
        let timer = texts.iter().filter(|piece| piece.role == "timer");
        let height = timer.map(|piece| piece.glyph).fold(f64::INFINITY, f64::min);
        assert!(height.is_finite(), "there is no timer");
        height
    }

    /// The height of the capitals and digits of a visible text, the largest where it stands twice.
    pub async fn glyph_height(&self, text: &str) -> f64 {
        let texts = self.texts().await;
        let same = texts.iter().filter(|piece| piece.text == text);
        let height = same.map(|piece| piece.glyph).fold(0.0, f64::max);
        assert!(height > 0.0, "\"{text}\" is not on the screen");
        height
    }

    /// The ground in the middle of the screen, as `#rrggbb`.
    pub async fn ground(&self) -> String {
        self.eval("__clock.measure.ground()").await.as_str().unwrap_or_default().to_owned()
    }

    /// Texts that are cut by the window or by a box, in words.
    pub async fn clipped_text(&self) -> Vec<String> {
        lines(self.eval("__clock.measure.clipped()").await)
    }

    /// Pairs of controls or texts that lie on one another, in words.
    pub async fn overlaps(&self) -> Vec<String> {
        lines(self.eval("__clock.measure.overlaps()").await)
    }

    /// The same in a window of that size. On its side one key may be as large as the field, and what is
    /// read lies over it; its own words lie on nothing.
    pub async fn overlaps_at(&self, size: Viewport) -> Vec<String> {
        let is_field = |one: &str| {
            let name = one.strip_prefix("the key ").unwrap_or_default();
            name.starts_with("AGAIN") || name.contains("IS OUT")
        };
        let mut all = self.overlaps().await;
        all.retain(|fault| size.width < size.height || !fault.split(" / ").any(is_field));
        all
    }

    /// By how much the page is wider and taller than the window. 0 or less: it does not scroll.
    pub async fn scrolls(&self) -> (f64, f64) {
        let more = self.eval("__clock.measure.scrolls()").await;
        let side = |name: &str| more[name].as_f64().expect("a length");
        (side("across"), side("down"))
    }

    /// What breaks the rules of WCAG 2.2 A and AA, a line for each element.
    pub async fn axe_violations(&self) -> Vec<String> {
        // Half a megabyte of rules: once for a document.
        if self.eval("typeof axe").await == "undefined" {
            // The rules wait by timers: they get the real ones, whatever the page has.
            let rules = format!(
                "((setTimeout, clearTimeout, Date) => {{ {} }})(__clock.real.setTimeout, \
                 __clock.real.clearTimeout, __clock.real.Date); 0",
                environment::axe()
            );
            self.eval(&rules).await;
        }
        let mut broken = self.broken_rules().await;
        let is_covered = |rule: &str| rule.contains("partially obscured");
        if broken.iter().any(|rule| is_covered(rule)) {
            // What stands half under the bar at the foot of a screen that scrolls is reached by
            // scrolling: only what is half covered wherever the screen stands breaks a rule.
            self.eval("(scrollBy(0, 120), 0)").await;
            let further_down = self.broken_rules().await;
            self.eval("(scrollTo(0, 0), 0)").await;
            // The rule and the element; by how much it is covered is another matter.
            let of = |rule: &str| rule.split('(').next().map(str::to_owned);
            let still: Vec<_> = further_down.iter().map(|rule| of(rule)).collect();
            broken.retain(|rule| !is_covered(rule) || still.contains(&of(rule)));
        }
        broken
    }

    async fn broken_rules(&self) -> Vec<String> {
        let tags = "['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa']";
        let run = format!(
            "axe.run(document, {{ runOnly: {{ type: 'tag', values: {tags} }}, resultTypes: ['violations'] }}).then((found) =>
                found.violations.flatMap((rule) => rule.nodes.map((node) =>
                    `${{rule.id}}: ${{rule.help}}: ${{node.html.slice(0, 160)}} `
                    + `(${{node.any.concat(node.all).map((check) => check.message).join('; ')}})`)))"
        );
        lines(self.eval(&run).await)
    }
}

impl Page {
    /// Everything a person can act on that is called otherwise by the tests than by the browser
    /// itself, a line for each.
    pub async fn misnamed(&self) -> Vec<String> {
        let things = format!("__clock.eyes.things({})", json!(ROLES));
        let ours = lines(self.eval(&format!("{things}.map(__clock.eyes.nameOf)")).await);
        let elements = self.elements(&format!("return {things}")).await;
        let mut wrong = Vec::new();
        for (ours, element) in ours.iter().zip(elements) {
            let theirs = self.computed(&element, "computedlabel").await;
            // Engines differ in spaces, and in whether capitals are the style's or the text's.
            let told = |name: &str| name.split_whitespace().collect::<String>().to_lowercase();
            if told(ours) != told(&theirs) {
                wrong.push(format!("\"{ours}\" is \"{theirs}\" to the browser"));
            }
            let role = self.computed(&element, "computedrole").await;
            if !ROLES.contains(&role.as_str()) {
                wrong.push(format!("\"{ours}\" is a {role} to the browser"));
            }
        }
        wrong
    }
}

/// The gap between two boxes: the larger of the gaps across and down, below 0 where they overlap.
pub fn gap(one: Rect, other: Rect) -> f64 {
    let between = |low: f64, length: f64, other_low: f64, other_length: f64| {
        (other_low - low - length).max(low - other_low - other_length)
    };
    let across = between(one.x, one.width, other.x, other.width);
    across.max(between(one.y, one.height, other.y, other.height))
}

fn lines(value: Value) -> Vec<String> {
    serde_json::from_value(value).expect("texts")
}
