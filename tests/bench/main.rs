//! `cargo run --release -q -p bench` prints how long each piece of work takes natively, and the
//! digest. `tests/run bench` prints the same in a browser and by scipy beside it, in one run.

use std::io::{self, Write as _};

/// The machine's own clock, in milliseconds.
#[expect(clippy::disallowed_methods, reason = "it measures time and nothing else")]
fn now_ms() -> f64 {
    let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
    since.map_or(0.0, |since| since.as_secs_f64() * 1_000.0)
}

fn main() {
    let mut out = io::stdout().lock();
    let _ = writeln!(out, "{}", bench::digest());
    for name in bench::WORK {
        let mut sum = 0.0;
        let mut taken: Vec<f64> = (0..21)
            .map(|_| {
                let began = now_ms();
                sum += bench::work(name, 4);
                (now_ms() - began) / 4.0
            })
            .collect();
        taken.sort_by(f64::total_cmp);
        let _ =
            writeln!(out, "{name}: native median {:.2} ms (of 21 times 4; {sum:.3})", taken[10]);
    }
}
