//! What practice teaches, a line at the moment it matters.

use session::view::{Scene, View};

/// The line, empty where there is nothing to teach. It fits one line upright.
pub fn hint(view: &View) -> &'static str {
    match view.scene {
        Scene::LeadIn { left } if view.back_date && left > 4_000 => "Too early? UNDO.",
        Scene::LeadIn { .. } if view.back_date => "Late? Say by how much.",
        Scene::LeadIn { .. } => "Jug ready, cap off.",
        Scene::PourIn { .. } if view.filling => "Touch when it is full.",
        Scene::PourIn { .. } => "Now the cap.",
        Scene::Agitate { .. } => "Over and back, evenly.",
        Scene::Rest { .. } if view.armed => "Last 20 s: end key.",
        Scene::Rest { .. } => "Let it stand. It calls.",
        Scene::PourBack { .. } => "Pour out. Then touch.",
        Scene::Over { .. } | Scene::Waiting { .. } => "Empty? Touch the key.",
        Scene::Ready
        | Scene::Washing(_)
        | Scene::Asking { .. }
        | Scene::Done { .. }
        | Scene::Left { .. } => "",
    }
}

/// Whether the line goes before what was just said: only after a touch does UNDO matter.
pub fn goes_first(view: &View) -> bool {
    view.back_date && matches!(view.scene, Scene::LeadIn { .. })
}
