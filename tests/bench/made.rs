//! Made notebooks of any size: rolls of about a kilobyte, and rolls with the runs they were
//! developed in.

use process_model::quantity::Celsius;
use process_model::sheet::Bath;
use session::command::{Command, decide};
use session::entry::{Look, Place, With};
use session::habits::Habits;
use session::notebook::{Kind, Record, RunRecord};
use session::plan::Plan;
use session::run::{Run, Tank, apply};
use session::timestamp::Timestamp;

const DEVICE: &str = "0f0e0d0c0b0a09080706050403020100";
const DAY_MS: i64 = 86_400_000;

/// When the youngest roll was written down: 8 March 2026.
pub fn now() -> Timestamp {
    Timestamp::from_milliseconds(1_773_000_000_000)
}

/// So many rolls, the youngest last, each of about a kilobyte once it is written down.
pub fn rolls(count: u32) -> Vec<Record> {
    (1..=count).map(|number| roll(number, count)).collect()
}

fn roll(number: u32, count: u32) -> Record {
    let written = now().plus_ms(-i64::from(count - number) * DAY_MS / 2);
    let day: String = written.to_iso().chars().take(10).collect();
    let place = number * 7 % 997;
    let frames: Vec<String> = (1..=12)
        .map(|frame| format!("{frame}: place {}, walls {frame} m away", place + frame))
        .collect();
    let told = ["thin, the tub was cold", "good", "good", "a shade dense", "good, clean skies"];
    let told = told.get(number as usize % 5).copied().unwrap_or_default();
    Record::new(Kind::Roll, &format!("{number:032x}"), DEVICE, written)
        .with("number", number)
        .with("stock", if number.is_multiple_of(3) { "slide 100" } else { "colour negative 400" })
        .with("format", if number.is_multiple_of(2) { "120" } else { "135-36" })
        .with("box_iso", 400)
        .with("rated_iso", 100 + number % 7 * 50)
        .with("camera", format!("camera {}", number % 9))
        .with("lens", format!("lens {}", number % 13))
        .with("exposed_on", day)
        .with(
            "note",
            format!("the walk to place {place} and back in the rain; {}", frames.join("; ")),
        )
        .with("judgement", told)
        .with("filed_at", written.plus_ms(3 * DAY_MS).to_iso())
}

/// So many rolls, each developed in a run of its own on an evening of its own: three records a roll.
pub fn rolls_with_runs(count: u32) -> Vec<Record> {
    let mut records = Vec::new();
    for number in 1..=count {
        let began = now().plus_ms(-i64::from(count - number) * DAY_MS / 2);
        // Far from the ids of rolls.
        let id = |what: u64| format!("{:032x}", 1 << 40 | u64::from(number) << 8 | what);
        let evening = Record::new(Kind::Session, &id(1), DEVICE, began)
            .with("began_at", began.to_iso())
            .with("odd", "A door bell in the wash");
        records.push(evening);
        records.push(run(&id(2), began).with("session", id(1)));
        records.push(roll(number, count).with("run", id(2)));
    }
    records
}

/// A run as a person does it: readings, then bath after bath on the tones.
fn run(id: &str, began: Timestamp) -> Record {
    let plan = Plan::shipped(&Habits::default(), 0);
    let record = RunRecord::new(id, DEVICE, plan.clone(), began);
    let mut run = Run::new(plan);
    let mut now = began;
    for (place, celsius) in [
        (Place::Tub, 42.5),
        (Place::Bottle(Bath::Developer), 24.0),
        (Place::Bottle(Bath::BleachFix), 23.5),
        (Place::Bottle(Bath::Developer), 40.9),
        (Place::Bottle(Bath::BleachFix), 37.2),
    ] {
        act(&mut run, now, Command::Read { place, celsius: Celsius::new(celsius) });
        now = now.plus_ms(300_000);
    }
    act(&mut run, now, Command::Start { anyway: true });
    // As many baths as any sheet has; a run that is over ends it.
    for _ in 0..40 {
        let Some(next) = next(&run) else { break };
        now = next.0;
        if let Tank::Bath { tone_at, .. } = run.state.tank {
            let place = Place::InTheTank;
            let read = Command::Read { place, celsius: Celsius::new(38.6) };
            act(&mut run, tone_at.plus_ms(40_000), read);
        }
        act(&mut run, now, next.1);
    }
    record.with_log(&run.log)
}

/// What is done next, and when; nothing once the film hangs.
fn next(run: &Run) -> Option<(Timestamp, Command)> {
    match run.state.tank {
        Tank::Bath { step, tone_at, .. } if run.plan.is_last_wash(step) => {
            let looks = run.log.iter().map(|entry| entry.at).max().unwrap_or(tone_at);
            Some((looks.max(tone_at).plus_ms(60_000), Command::Judge(Look::Clear)))
        }
        Tank::Bath { step, tone_at, .. } => {
            let time_ms = run.plan.steps.get(step)?.time_ms;
            Some((tone_at.plus_ms(time_ms + 800), Command::TankIsEmpty { ago_ms: 0 }))
        }
        Tank::Asking { since, .. } => Some((since.plus_ms(4_000), Command::Choose(With::With))),
        Tank::Ready | Tank::Done { .. } | Tank::Left { .. } => None,
    }
}

fn act(run: &mut Run, now: Timestamp, command: Command) {
    // What is refused is left out: it is only a made notebook.
    if let Ok(entry) = decide(run, command, now) {
        *run = apply(run.clone(), entry);
    }
}
