//! The fields of every kind of record.

use super::Holds::{
    Day, Flag, Id, Instant, List, Number, Object, OneOf, Signed, Text, Versions, Whole,
};
use super::{Field, Holds, Kind};

/// A field that is always there. What it means is for the reader of this table: it is not carried
/// along in the program.
const fn needed(key: &'static str, holds: Holds, _says: &'static str) -> Field {
    Field { key, holds, needed: true }
}

/// A field that may be there.
const fn may(key: &'static str, holds: Holds, _says: &'static str) -> Field {
    Field { key, holds, needed: false }
}

/// What every record has.
pub(super) const HEAD: &[Field] = &[
    needed("kind", Text, "What the record is about."),
    needed("id", Id, "128 random bits in hexadecimal, made once."),
    needed("schema", Whole, "The version of these tables it was written by."),
    needed("rev", Whole, "Counts the changes, from 1."),
    needed("edited_at", Instant, "When it was last changed."),
    needed("device", Id, "Which installation changed it."),
    needed("deleted", Flag, "Whether it has been put aside."),
    may("parents", List(&Text), "Revision and SHA-256 of versions that were edited further."),
    may("conflicts", Versions, "Versions that were edited apart from this one."),
];

/// What each kind has besides.
pub(super) const BODIES: &[(Kind, &[Field])] = &[
    (Kind::Habits, HABITS),
    (Kind::Roll, ROLL),
    (Kind::Run, RUN),
    (Kind::Session, SESSION),
    (Kind::Sheet, SHEET),
    (Kind::Solution, SOLUTION),
    (Kind::Thermometer, THERMOMETER),
    (Kind::Trial, TRIAL),
    (Kind::Vessel, VESSEL),
];

const CLOCK_STARTS: Holds = OneOf(&["as_you_begin", "when_complete"]);
const WORDS: Holds = OneOf(&["words", "few", "tones"]);
const DIRECTION: Holds = OneOf(&["exact", "minimum", "minimum_soft"]);
const LIGHT: Holds = OneOf(&["lid_stays_on", "lid_may_come_off"]);
const METHOD: Holds = OneOf(&["inversion", "spindle", "rotary"]);
const BATH: Holds = OneOf(&[
    "pre_soak",
    "developer",
    "first_developer",
    "reversal_bath",
    "colour_developer",
    "pre_bleach",
    "stop_bath",
    "bleach",
    "fixer",
    "bleach_fix",
    "wash_aid",
    "wash",
    "rinse",
    "stabiliser",
    "wetting_agent",
]);

const HABITS: &[Field] = &[
    may("sheet", Text, "The sheet to start with: its key or id."),
    may(
        "clock_starts",
        CLOCK_STARTS,
        "When the clock of a step starts: pouring in begins or ends.",
    ),
    may("fill_s", Whole, "How long pouring in takes."),
    may("drain_s", Whole, "How long pouring out takes."),
    may("lead_in_s", Whole, "From the tap to the pour tone."),
    may("wash_min", Whole, "How long the person washes."),
    may("dark_min", Whole, "How long the person loads film in the dark."),
    may("words", WORDS, "How much is spoken."),
    may("pace", OneOf(&["slow", "normal", "quick"]), "How fast is spoken."),
    may("voice", Text, "The phone's name of the voice."),
    may("any_key", Flag, "Whether any key is the big button."),
    may("scale", OneOf(&["celsius", "fahrenheit"]), "How temperatures are shown."),
    may("volumes", OneOf(&["millilitres", "us_fluid_ounces"]), "How volumes are shown."),
    may("keys", OneOf(&["right", "left"]), "Side of the keys when the phone lies on its side."),
    may("ground", OneOf(&["bright", "dim"]), "Dark on light or light on dark."),
    may("switched", List(&Object(SWITCHED)), "Optional steps that are not as the sheet has them."),
];

const SWITCHED: &[Field] =
    &[needed("sheet", Text, "The sheet."), needed("step", Text, "The id of the step.")];

const ROLL: &[Field] = &[
    may("number", Whole, "The person's own number of the roll."),
    may("stock", Text, "The film, as its box names it."),
    may("format", Text, "135-36, 135-24, 135-12, 120, 220, 127 or the person's own word."),
    may("counts_as_rolls", Number, "How many rolls of 135-36 a format of one's own counts as."),
    may("box_iso", Whole, "The speed on the box."),
    may("rated_iso", Whole, "The speed it was exposed at."),
    may("push_stops", Number, "Stops of push; negative for pull."),
    may("camera", Text, "Where it was exposed."),
    may("lens", Text, "Through which lens."),
    may("frames", Whole, "How many frames are on it."),
    may("exposed_on", Day, "When it came out of the camera."),
    may("note", Text, "What is on it."),
    may("run", Id, "The run it was developed in."),
    may("density", OneOf(&["thin", "right", "dense"]), "How dense the negatives came out."),
    may("judgement", Text, "How it came out, in the person's words."),
    may("faults", List(&Text), "What is seen on it: rows of the printed table of faults, by id."),
    may("next_time", Text, "What to change next time."),
    may("dry_at", Instant, "When it was dry."),
    may("cut_at", Instant, "When it was cut."),
    may("filed_at", Instant, "When it was filed."),
    may("scanned_at", Instant, "When it was scanned."),
    may("filed_as", Text, "Sleeve, page or folder."),
    may("photos", List(&Object(PHOTO)), "Photos of its negatives. The pictures are kept apart."),
];

const PHOTO: &[Field] = &[
    needed("id", Id, "SHA-256 of the picture's base64, in hexadecimal."),
    may("name", Text, "What its file was called."),
    may("removed_at", Instant, "When it was removed; it can come back for thirty days."),
];

const STEP_OF_PLAN: &[Field] = &[
    needed("id", Text, "The step's name: lower-case words joined by underscores."),
    needed("bath", BATH, "What is in the tank."),
    needed("time_ms", Whole, "The planned time, drain included."),
    needed("least_ms", Whole, "The shortest that the sheet allows."),
    may("aim_celsius", Number, "What to aim at."),
    needed("least_celsius", Number, "The coolest in the tank."),
    needed("most_celsius", Number, "The warmest in the tank."),
    may("developer", Object(LIMITS), "Of a developer: what is fine, and what is too much."),
    needed("agitation", Object(AGITATION), "How the tank is moved."),
    needed("direction", DIRECTION, "Which way the time may be missed."),
    needed("light", LIGHT, "Whether the lid stays on."),
    needed("asked", Flag, "Whether it is asked about when its turn comes."),
];

const FIRST_S: Field = needed("first_s", Number, "The first agitation.");
const REPEAT_S: Field = needed("repeat_s", Number, "Each later agitation.");
const INTERVAL_S: Field =
    needed("interval_s", Number, "From one agitation to the next; 0 for once or without stopping.");

const AGITATION: &[Field] = &[FIRST_S, REPEAT_S, INTERVAL_S];

const LIMITS: &[Field] = &[
    needed("pour_celsius", Number, "How warm it is poured."),
    needed("fine_least_celsius", Number, "The coolest that needs no other time."),
    needed("fine_most_celsius", Number, "The warmest that needs no other time."),
    needed("hard_least_celsius", Number, "Cooler is never poured without a word."),
    needed("hard_most_celsius", Number, "Warmer is never poured without a word."),
];

const PLAN: &[Field] = &[
    needed("sheet", Text, "The sheet's key or id."),
    may("sheet_name", Text, "The sheet's name when the run began."),
    may("sheet_rev", Whole, "The sheet's revision when the run began; 0 for a shipped one."),
    may("method", METHOD, "How the tank is moved."),
    may("practice", Flag, "Whether it was practice with water."),
    may("scale", OneOf(&["celsius", "fahrenheit"]), "The scale that was spoken."),
    needed("clock_starts", CLOCK_STARTS, "When the clock of a step starts."),
    needed("fill_ms", Whole, "How long pouring in takes."),
    needed("drain_ms", Whole, "How long pouring out takes."),
    needed("lead_in_ms", Whole, "From the tap to the pour tone."),
    needed("wash_habit_ms", Whole, "How long the person usually washes."),
    needed("words", WORDS, "How much is spoken."),
    needed("utc_offset_min", Signed, "Local time less UTC when the run began."),
    needed("steps", List(&Object(STEP_OF_PLAN)), "The steps, in order."),
    needed("drying_ms", Whole, "How long the film hangs."),
];

const ENTRY: &[Field] = &[
    needed("seq", Whole, "The entry's place in the log."),
    needed("at", Instant, "When it happened, on the run's clock."),
    needed("event", Text, "What happened."),
    may("ms", Signed, "A length of time that belongs to the event."),
    may("of", Whole, "The place of the entry that this one speaks of."),
    may("place", OneOf(&["tub", "in_the_tank", "bottle"]), "Where a temperature was read."),
    may("bottle", BATH, "Of which solution."),
    may("celsius", Number, "What the thermometer said, or how warm the water was."),
    may("drain_ml", Whole, "How much water was taken out of the tub."),
    may("add_ml", Whole, "How much water was put into the tub."),
    may("step", Whole, "The place of a step in the plan, from 0."),
    may("choice", Text, "A choice of the event, by name."),
    may("so", Flag, "Started anyway, doubted, ends the wash, or put back."),
];

const RUN: &[Field] = &[
    needed("plan", Object(PLAN), "The sheet and the habits, frozen when the run began."),
    may("log", List(&Object(ENTRY)), "Everything that happened. Only in files."),
    may("session", Id, "The evening it belongs to."),
    may("solutions", List(&Id), "The solutions that were poured."),
];

const SESSION: &[Field] = &[
    needed("began_at", Instant, "When the first run began."),
    may("next_time", Text, "Anything to change next time."),
    may("odd", Text, "Anything odd."),
    may("pre_soak_colour", Text, "The colour of the pre-soak water."),
];

const STEP_OF_SHEET: &[Field] = &[
    needed("id", Text, "The step's name: lower-case words joined by underscores."),
    needed("bath", BATH, "What is in the tank."),
    needed("choice", OneOf(&["always", "on", "off", "asked"]), "Whether it is done at all."),
    needed("time_s", Number, "The planned time, drain included."),
    needed("least_s", Number, "The shortest that the sheet allows."),
    needed("most_s", Number, "The longest that the sheet allows."),
    may("aim_celsius", Number, "What to aim at."),
    needed("least_celsius", Number, "The coolest in the tank."),
    needed("most_celsius", Number, "The warmest in the tank."),
    FIRST_S,
    REPEAT_S,
    INTERVAL_S,
    needed("direction", DIRECTION, "Which way the time may be missed."),
    needed("light", LIGHT, "Whether the lid stays on."),
];

const PAIR: &[Field] = &[
    needed("celsius", Number, "A temperature of the developer."),
    needed("time_s", Number, "Its time."),
];

const VERSION_OF_SHEET: &[Field] = &[
    needed("rev", Whole, "Which revision it was."),
    needed("edited_at", Instant, "Until when it was in use."),
    needed("steps", List(&Object(STEP_OF_SHEET)), "Its steps."),
];

const SHEET: &[Field] = &[
    may("name", Text, "What the person calls it."),
    may("of", Text, "The key of the shipped sheet it is a copy of or speaks about."),
    may("source_note", Text, "Where its values are from."),
    may(
        "steps",
        List(&Object(STEP_OF_SHEET)),
        "The steps, in order; none if it only speaks about a shipped one.",
    ),
    may("drying_s", Number, "How long the film hangs."),
    may("pairs", List(&Object(PAIR)), "Times of the developer at other temperatures."),
    may("add_s", Number, "Seconds added to the developer for each roll before."),
    may("per_ml", Number, "The volume of developer for which that is meant."),
    may("clock_starts", CLOCK_STARTS, "When the clock of a step starts."),
    may("drain", OneOf(&["inside", "outside"]), "Whether the times include draining."),
    may("method", METHOD, "How the tank is moved."),
    may(
        "confirmed",
        List(&Text),
        "What the person's leaflet says the same: `sheet` or the ids of steps.",
    ),
    may("versions", List(&Object(VERSION_OF_SHEET)), "Earlier versions, the oldest first."),
];

const SOLUTION_EVENT: &[Field] = &[
    needed("at", Instant, "When."),
    needed(
        "event",
        OneOf(&["mixed", "topped_up", "looked_at", "suspect", "blocked", "discarded"]),
        "What was done with it.",
    ),
    may("ml", Number, "How much was mixed or added, or is left."),
    may("rolls", Number, "How many rolls had gone through what was mixed before."),
    may("fine", Flag, "Whether what stood against it is settled."),
    may("clears_s", Number, "How long a clip of film took to clear in it."),
    may("note", Text, "In the person's words."),
];

const PART: &[Field] = &[
    needed("name", Text, "What the kit calls the part."),
    may("ml", Number, "How much of it, if it is liquid, for what the kit makes."),
    may("grams", Number, "How much of it, if it is a powder, for what the kit makes."),
];

const SOLUTION: &[Field] = &[
    needed("name", Text, "What is written on the bottle."),
    needed("bath", BATH, "What it is used as."),
    may("volume_ml", Number, "How much there is."),
    may("events", List(&Object(SOLUTION_EVENT)), "What was done with it, in order."),
    may("capacity_rolls", Number, "For how many rolls its leaflet says the whole kit is good."),
    may("shelf_days", Number, "For how many days its leaflet says it keeps."),
    may("add_s", Number, "Seconds that its leaflet adds for each roll before, in the whole kit."),
    may("water_parts", Number, "Parts of water to one of concentrate, for a kit of one part."),
    may("kit_ml", Number, "How much its kit makes."),
    may("first_ml", Number, "With how much water its kit begins."),
    may("mix_celsius", Number, "How warm that water is."),
    may("stir_s", Number, "For how long its leaflet has each part stirred."),
    may("parts", List(&Object(PART)), "The parts of its kit, in the order they go in."),
    may("note", Text, "In the person's words."),
];

const THERMOMETER: &[Field] = &[
    needed("name", Text, "Which one."),
    may("offset_kelvins", Number, "What it shows less what is true."),
    may("checked_at", Instant, "When that was found."),
    may("method", OneOf(&["ice_point", "comparison"]), "How that was found."),
];

const ANSWER: &[Field] =
    &[needed("at", Instant, "When."), needed("text", Text, "What the person saw.")];

const TRIAL: &[Field] = &[
    needed("question", Text, "What is to be found out."),
    may("differs", Text, "What is different between the rolls."),
    may("rolls", List(&Id), "The rolls."),
    may("look_again_on", List(&Day), "When to look again."),
    may("answers", List(&Object(ANSWER)), "What was seen."),
];

const VESSEL: &[Field] = &[
    needed("name", Text, "What the person calls it."),
    needed("vessel", OneOf(&["bottle", "tub", "tank"]), "What it is."),
    may("bath", BATH, "Which bath a bottle holds."),
    may("volume_ml", Number, "How much it holds."),
    may("hot_celsius", Number, "The hot tap that fills a tub."),
    may("cold_celsius", Number, "The cold tap that fills a tub."),
    may("room_celsius", Number, "The room that a tub stands in."),
    may("material", Text, "What it is made of."),
    may("least_ml", Number, "How much a tank needs to cover the reels."),
    may("carry_over_ml", Number, "How much stays in a tank when it is poured out."),
    may(
        "ln_tau10",
        Number,
        "Natural logarithm of the time constant in seconds at 10 °C difference.",
    ),
    may("ln_tau10_sd", Number, "Its standard deviation."),
    may("ln_g", Number, "Natural logarithm of a tub's loss in watts per kelvin."),
    may("ln_g_sd", Number, "Its standard deviation."),
    may("p", Number, "Exponent of the temperature difference."),
    may("p_sd", Number, "Its standard deviation."),
];
