//! A thousand simulated kitchens whose truth is not the model of the estimate: what following the
//! page is worth against common sense.

#![expect(
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "a table is printed, and a failed expectation is a failed test"
)]

mod chance;
mod people;
mod tanks;
mod truth;

use people::{Evening, follow_page, look_often};

/// How many kitchens: all thousand take minutes.
fn seeds() -> u64 {
    if std::env::var_os("SINKSIDE_LONG").is_some() { 1000 } else { 100 }
}

struct Sums {
    count: f64,
    bottles: f64,
    dips: f64,
    within: f64,
    over: f64,
    minutes: f64,
    expected: f64,
    held: f64,
    scalding: f64,
    stuck: f64,
}

impl Sums {
    fn of(evenings: &[Evening]) -> Self {
        let sum = |of: &dyn Fn(&Evening) -> f64| evenings.iter().map(of).sum::<f64>();
        #[expect(clippy::cast_precision_loss, reason = "a thousand")]
        let count = evenings.len() as f64;
        Self {
            count,
            bottles: sum(&|evening| f64::from(evening.bottles)),
            dips: sum(&|evening| f64::from(evening.dips)),
            within: sum(&|evening| f64::from(evening.within)),
            over: sum(&|evening| f64::from(evening.over)),
            minutes: sum(&|evening| evening.seconds / 60.0),
            expected: sum(&|evening| f64::from(evening.expected)),
            held: sum(&|evening| f64::from(evening.held)),
            scalding: sum(&|evening| f64::from(u8::from(evening.tub_most_c > 46.0))),
            stuck: sum(&|evening| f64::from(u8::from(evening.seconds >= people::LATEST_S))),
        }
    }

    fn dips(&self) -> f64 {
        self.dips / self.bottles
    }
    fn within(&self) -> f64 {
        100.0 * self.within / self.bottles
    }
    fn over(&self) -> f64 {
        100.0 * self.over / self.bottles
    }
    fn minutes(&self) -> f64 {
        self.minutes / self.count
    }
    fn held(&self) -> f64 {
        100.0 * self.held / self.expected.max(1.0)
    }
    fn scalding(&self) -> f64 {
        100.0 * self.scalding / self.count
    }

    fn print(&self, name: &str) {
        println!(
            "{name:28} {:5.1} {:7.1} {:6.1} {:8.1} {:6.1} {:6.1} {:5.0}",
            self.dips(),
            self.within(),
            self.over(),
            self.minutes(),
            self.held(),
            self.scalding(),
            self.stuck,
        );
    }
}

#[test]
fn following_the_page_takes_half_the_dips_and_ends_nearer() {
    let seeds = seeds();
    let threads = 2;
    let share = move |part: u64| {
        (0..seeds).filter(move |seed| seed % threads == part).map(|seed| {
            let (first, learned) = follow_page(seed);
            (look_often(seed), first, learned)
        })
    };
    let workers: Vec<_> = (0..threads)
        .map(|part| std::thread::spawn(move || share(part).collect::<Vec<_>>()))
        .collect();
    let (mut common, mut first, mut learned) = (Vec::new(), Vec::new(), Vec::new());
    for worker in workers {
        for (by_sense, by_page, by_learned) in worker.join().unwrap() {
            common.push(by_sense);
            first.push(by_page);
            learned.push(by_learned);
        }
    }
    println!("{seeds} kitchens                 dips  within%  over%  minutes band%  >46°C% stuck");
    let (common, first, learned) = (Sums::of(&common), Sums::of(&first), Sums::of(&learned));
    common.print("every two minutes");
    first.print("the page, first session");
    learned.print("the page, learned session");
    assert!(first.dips() <= 0.55 * common.dips(), "dips");
    assert!(first.within() >= 91.0 && first.within() >= common.within() + 6.0, "within");
    assert!(first.over() <= common.over() + 2.0, "overshoot");
    assert!(first.minutes() <= common.minutes() + 3.0, "minutes");
    assert!(first.held() >= 75.0, "the band of the next reading");
    assert!(first.scalding() <= 3.0 && learned.scalding() <= 3.0, "scalding");
    assert!(learned.dips() <= 0.45 * common.dips(), "learned dips");
    assert!(learned.within() >= 91.0 && learned.over() <= 4.0, "learned");
}

/// The error that nine tanks in ten stay below, in per cent of the dose.
fn nine_in_ten(reads: tanks::Reads, offset_k: f64) -> f64 {
    let off = |seed| tanks::off_by(seed, reads, offset_k).abs();
    let mut off: Vec<f64> = (0..1000).map(off).collect();
    off.sort_by(f64::total_cmp);
    off[899]
}

#[test]
fn readings_in_the_tank_bring_the_dose_nearer() {
    use tanks::Reads::{Nothing, Once, Twice};
    println!("1000 tanks, nine in ten below: offset 0  0.5 °C");
    for (name, reads) in
        [("no reading", Nothing), ("one in the tank", Once), ("two in the tank", Twice)]
    {
        println!("{name:28} {:8.1}% {:6.1}%", nine_in_ten(reads, 0.0), nine_in_ten(reads, 0.5));
    }
    assert!(nine_in_ten(Once, 0.0) <= 5.5, "one reading");
    assert!(nine_in_ten(Twice, 0.0) <= 4.0, "two readings");
    assert!(nine_in_ten(Twice, 0.0) < nine_in_ten(Nothing, 0.0));
}
