//! The script in front of every document: the clock, the recorders, the eyes.

use serde_json::json;

use crate::harness::scene::Scene;

/// The parts, each a function of the page's language, in the order in which they are put on.
const PARTS: [&str; 7] = [
    include_str!("clock/speech.js"),
    include_str!("clock/doors.js"),
    include_str!("clock/database.js"),
    include_str!("clock/faults.js"),
    include_str!("clock/eyes.js"),
    include_str!("clock/names.js"),
    include_str!("clock/measure.js"),
];

/// The whole of it for this scene, at `since_ms` of the test.
///
/// It is put in by the browser itself, not by the host: so it runs with the host down, under the
/// page's own policy, and the bundle is served byte for byte as it ships.
pub fn source(scene: &Scene, since_ms: f64) -> String {
    let scene = json!(scene);
    let clock = part(include_str!("clock.js"));
    let param = part(include_str!("clock/param.js"));
    let sound = part(include_str!("clock/sound.js"));
    let rendered = part(include_str!("clock/rendered.js"));
    let parts = PARTS.map(|text| part(text) + "(clock, scene);\n").concat();
    // Empty documents have no storage and nothing to test.
    format!(
        "if (location.protocol.startsWith('http')) (() => {{
const scene = {{ ...{scene}, sinceMs: {since_ms} }};
const clock = {clock}(scene);
window.__clock = clock;
{sound}(clock, scene, {param}());
{rendered}(clock, scene);
{parts}
}})();"
    )
}

/// A part as an expression: its comments stay, its last line break does not matter.
fn part(text: &str) -> String {
    format!("(\n{text}\n)")
}
