//! What to lay out, by place. Common practice, no source.

/// A thing and how it should be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Thing {
    /// What.
    pub name: &'static str,
    /// How it should be; the answer is the value, not a tick.
    pub value: &'static str,
}

/// A place and what belongs there. At most seven things.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Group {
    /// Where.
    pub place: &'static str,
    /// What.
    pub things: &'static [Thing],
}

const fn thing(name: &'static str, value: &'static str) -> Thing {
    Thing { name, value }
}

/// What stands for every bottle of a sheet that has no row of its own.
pub const OTHERS: &str = "Its other bottles";

/// The groups after the cautions and before the sound check.
pub const GROUPS: [Group; 3] = [
    Group {
        place: "At the sink",
        things: &[
            thing("Tub", "warm, bottles in"),
            thing("Developer", "in the tub"),
            thing("Bleach-fix", "in the tub"),
            thing(OTHERS, "in the tub"),
            thing("Pre-soak water", "in a jug"),
            thing("Thermometer", "rinsed"),
            thing("Funnel", "rinsed"),
        ],
    },
    Group {
        place: "On the counter",
        things: &[
            thing("Gloves", "two pairs"),
            thing("Towel", "dry"),
            thing("Stabiliser", "room warm"),
            thing("Pegs and weight", "by the line"),
            thing("Film sleeves", "later"),
        ],
    },
    Group {
        place: "In the dark room",
        things: &[
            thing("Tank and lid", "dry"),
            thing("Reel", "dry"),
            thing("Column", "in the tank"),
            thing("Opener, scissors", "to hand"),
            thing("Film", "counted"),
        ],
    },
];

/// What helps to hear the page while the tap runs.
pub const SOUND_TIPS: [&str; 5] = [
    "Silent switch off, volume up",
    "Do not disturb on",
    "Battery full, off the charger",
    "In a clear bag",
    "On its side, where you see it",
];
