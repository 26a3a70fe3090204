//! The notebook that Settings shows as a demonstration: invented rolls of somebody who keeps a small
//! ferry, developed at a kitchen sink over a winter. Made here, so that it is always a notebook.

use expect_test::expect_file;
use process_model::quantity::Celsius;
use process_model::sheet::Bath;
use serde_json::{Value, json};
use session::command::{Command, decide};
use session::entry::{Look, Place, With};
use session::habits::Habits;
use session::notebook::{Kind, Record, RunRecord, file, pairs};
use session::plan::Plan;
use session::run::{Run, Tank, apply};
use session::timestamp::Timestamp;

const DEVICE: &str = "demo";

/// One evening at the sink.
struct Evening {
    day: &'static str,
    /// What the developer said as it was poured, and in the tank.
    poured_c: f64,
    tank_c: f64,
    /// By how much the developer was poured back late.
    late_s: i64,
    next_time: &'static str,
    odd: &'static str,
}

const EVENINGS: [Evening; 5] = [
    Evening {
        day: "2025-11-08",
        poured_c: 39.4,
        tank_c: 37.6,
        late_s: 9,
        next_time: "Warm the tub more before the dark",
        odd: "The lid would not close at once",
    },
    Evening {
        day: "2025-12-06",
        poured_c: 40.0,
        tank_c: 38.4,
        late_s: 2,
        next_time: "Rinse the funnel before the bleach-fix",
        odd: "",
    },
    Evening { day: "2026-01-10", poured_c: 40.2, tank_c: 38.9, late_s: 1, next_time: "", odd: "" },
    Evening {
        day: "2026-01-31",
        poured_c: 40.6,
        tank_c: 39.3,
        late_s: -2,
        next_time: "Two rolls in one tank went well",
        odd: "A door bell in the wash",
    },
    Evening {
        day: "2026-02-28",
        poured_c: 40.1,
        tank_c: 38.8,
        late_s: 0,
        next_time: "Hang the film away from the stove",
        odd: "",
    },
];

/// Rolls: evening, what is on it, exposed on, speed, how it came out, density.
const ROLLS: [(Option<usize>, &str, &str, u32, &str); 9] = [
    (Some(0), "The slip at low tide, fog", "2025-10-12", 200, "Thin: the tub was cool"),
    (Some(1), "Winter moorings, ropes", "2025-11-20", 200, "Better, a little magenta"),
    (Some(2), "Engine room by lamp", "2025-12-27", 400, "Just right"),
    (Some(3), "Gulls from the ramp", "2026-01-15", 400, "Just right"),
    (Some(3), "The crossing, first light", "2026-01-18", 200, "Just right, skies clean"),
    (Some(4), "Paint day on the slip", "2026-02-14", 200, "A shade dense"),
    (None, "Ice on the landing", "2026-02-20", 400, ""),
    (None, "Passengers, first warm day", "2026-03-08", 200, ""),
    (None, "Signal lamps at dusk", "2026-03-11", 800, ""),
];

fn at(day: &str, time: &str) -> Timestamp {
    Timestamp::from_iso(&format!("{day}T{time}Z")).expect("a time")
}

fn id(what: &str, number: usize) -> String {
    format!("demo-{what}-{number}")
}

fn act(run: &mut Run, now: Timestamp, command: Command) {
    let entry = decide(run, command, now).expect("it makes sense");
    *run = apply(run.clone(), entry);
}

fn read(run: &mut Run, now: Timestamp, place: Place, celsius: f64) {
    act(run, now, Command::Read { place, celsius: Celsius::new(celsius) });
}

/// From the first reading to the start.
fn tempered(run: &mut Run, evening: &Evening, mut now: Timestamp) -> Timestamp {
    for (place, celsius) in [
        (Place::Tub, 42.5),
        (Place::Bottle(Bath::Developer), 24.0),
        (Place::Bottle(Bath::BleachFix), 23.5),
        (Place::Bottle(Bath::Developer), evening.poured_c + 0.9),
        (Place::Bottle(Bath::BleachFix), 37.2),
    ] {
        read(run, now, place, celsius);
        now = now.plus_ms(300_000);
    }
    act(run, now, Command::GoDark);
    now = now.plus_ms(410_000);
    act(run, now, Command::LightsOn);
    read(run, now.plus_ms(20_000), Place::Bottle(Bath::Developer), evening.poured_c);
    read(run, now.plus_ms(40_000), Place::Tub, 40.5);
    now.plus_ms(60_000)
}

/// A run as a person does it: readings, then bath after bath on the tones.
fn run(evening: &Evening, number: usize, now: Timestamp) -> (Record, Timestamp) {
    let plan = Plan::shipped(&Habits::default(), 0);
    let record = RunRecord::new(&id("run", number), DEVICE, plan.clone(), now);
    let session = id("session", number);
    let record = RunRecord { record: record.record.with("session", session), plan: plan.clone() };
    let (mut run, mut now) = (Run::new(plan), now);
    now = tempered(&mut run, evening, now);
    act(&mut run, now, Command::Start { anyway: true });
    loop {
        match run.state.tank {
            Tank::Bath { step, tone_at, .. } if run.plan.is_last_wash(step) => {
                now = now.max(tone_at).plus_ms(60_000);
                act(&mut run, now, Command::Judge(Look::Clear));
            }
            Tank::Bath { step, tone_at, .. } => {
                let planned = &run.plan.steps[step];
                let (is_developer, time_ms) = (planned.is_developer(), planned.time_ms);
                let late_ms = if is_developer { evening.late_s * 1_000 } else { 800 };
                if is_developer {
                    let at = tone_at.plus_ms(70_000);
                    read(&mut run, at, Place::InTheTank, evening.tank_c);
                }
                now = tone_at.plus_ms(time_ms + late_ms);
                act(&mut run, now, Command::TankIsEmpty { ago_ms: 0 });
            }
            Tank::Asking { .. } => {
                now = now.plus_ms(4_000);
                act(&mut run, now, Command::Choose(With::With));
            }
            Tank::Done { at } => {
                let poured = [0, 1].map(|number| id("solution", number));
                let poured: Value = poured.into_iter().collect();
                return (record.with_log(&run.log).with("solutions", poured), at);
            }
            Tank::Ready | Tank::Left { .. } => unreachable!("the run has begun and goes on"),
        }
    }
}

fn new(kind: Kind, id: String, at: Timestamp) -> Record {
    Record::new(kind, &id, DEVICE, at)
}

fn notebook() -> Vec<Record> {
    let mut records = Vec::new();
    let mut hung = Vec::new();
    for (number, evening) in EVENINGS.iter().enumerate() {
        let began = at(evening.day, "18:40:00");
        let (record, done) = run(evening, number, began);
        records.push(record);
        hung.push(done);
        let session = new(Kind::Session, id("session", number), began)
            .with("began_at", began.to_iso())
            .with("pre_soak_colour", "pale green");
        let told = [("next_time", evening.next_time), ("odd", evening.odd)];
        records.push(
            told.into_iter()
                .filter(|(_, text)| !text.is_empty())
                .fold(session, |session, (field, text)| session.with(field, text)),
        );
    }
    records.extend(rolls(&hung));
    records.push(trial());
    records.extend(solutions());
    records
}

fn rolls(hung: &[Timestamp]) -> Vec<Record> {
    let mut records = Vec::new();
    for (number, (evening, note, exposed_on, rated, judgement)) in ROLLS.into_iter().enumerate() {
        let mut roll = new(Kind::Roll, id("roll", number), at(exposed_on, "17:00:00"))
            .with("number", number + 1)
            .with("stock", "colour negative 400")
            .with("format", if number == 4 { "120" } else { "135-36" })
            .with("box_iso", 400)
            .with("rated_iso", rated)
            .with("camera", if number == 4 { "folding camera" } else { "rangefinder" })
            .with("exposed_on", exposed_on)
            .with("note", note);
        if let Some(evening) = evening {
            let hung = hung[evening];
            roll = roll.with("run", id("run", evening)).with("judgement", judgement);
            let density = ["thin", "thin", "right", "right", "right", "dense"][number];
            roll = roll.with("density", density);
            for (field, hours) in [("dry_at", 14), ("cut_at", 16), ("filed_at", 40)] {
                if evening < 4 || field == "dry_at" {
                    roll = roll.with(field, hung.plus_ms(hours * 3_600_000).to_iso());
                }
            }
        }
        records.push(roll);
    }
    records
}

fn trial() -> Record {
    let asked = at("2025-12-07", "10:00:00");
    let seen = pairs(&[("at", "2026-01-12T09:00:00.000Z"), ("text", "No difference yet.")]);
    let days: Vec<Value> = ["2026-01-07", "2026-12-07"].map(Value::from).to_vec();
    new(Kind::Trial, id("trial", 0), asked)
        .with("question", "Does a strip without stabiliser fade in a bright window?")
        .with("differs", "The last bath: one strip with, one without")
        .with("rolls", vec![Value::from(id("roll", 1)), id("roll", 2).into()])
        .with("look_again_on", days)
        .with("answers", vec![seen])
}

fn solutions() -> Vec<Record> {
    let mut records = Vec::new();
    let mixed = at("2025-11-08", "11:00:00").to_iso();
    for (number, name) in ["developer", "bleach_fix"].into_iter().enumerate() {
        let events = json!([{ "at": mixed, "event": "mixed", "ml": 1000 }]);
        records.push(
            new(Kind::Solution, id("solution", number), at("2025-11-08", "11:00:00"))
                .with("name", name.replace('_', "-"))
                .with("bath", name)
                .with("volume_ml", 1000)
                .with("capacity_rolls", 16)
                .with("events", events),
        );
    }
    records
}

#[test]
fn the_demonstration_is_a_notebook_that_reads_back() {
    let text = file::write(notebook(), at("2026-03-12", "20:00:00"));
    assert_eq!(crate::faults(&serde_json::from_str(&text).expect("JSON")), None);
    assert!(file::read(&text).expect("it reads back").untouched);
    // After a change of what is in it: UPDATE_EXPECT=1 cargo test -p tests --test notebooks
    expect_file!["../../public/demo-notebook.json"].assert_eq(&text);
}
