//! Tables of the trade as data: what goes wrong, what can hurt, how hot water burns.
//!
//! Each row names its source. Where work can hurt somebody the safety data sheet of the product in
//! hand, local codes and licensed practice go before any row.

/// What every caution ends with.
pub const DEFERS: &str =
    "The safety data sheet of your product, local codes and licensed practice go first.";

const FAULTS: &str = include_str!("printed/faults.tsv");
const CAUTIONS: &str = include_str!("printed/safety.tsv");
const SCALDS: &str = include_str!("printed/scalds.tsv");

/// Something seen on a film. What it may come from, and what can be done, is told by the page's
/// primer under the same name: texts that long would weigh on everybody's first visit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The row's name.
    pub id: &'static str,
    /// What is seen.
    pub seen: &'static str,
    /// Where it shows.
    pub whereabouts: &'static str,
}

/// Something that can hurt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Caution {
    /// The row's name.
    pub id: &'static str,
    /// What can hurt.
    pub hazard: &'static str,
    /// How.
    pub detail: &'static str,
    /// A number that belongs to it, with its unit; often none.
    pub value: &'static str,
    /// The usual caution.
    pub caution: &'static str,
    /// Where the row is from.
    pub source: &'static str,
}

fn cells<const N: usize>(line: &'static str) -> [&'static str; N] {
    let mut cells = line.split('\t');
    std::array::from_fn(|_| cells.next().unwrap_or_default())
}

/// Every fault.
pub fn faults() -> impl Iterator<Item = Fault> {
    FAULTS.lines().map(|line| {
        let [id, seen, whereabouts] = cells(line);
        Fault { id, seen, whereabouts }
    })
}

/// Every caution.
pub fn cautions() -> impl Iterator<Item = Caution> {
    CAUTIONS.lines().map(|line| {
        let [id, hazard, detail, value, caution, source] = cells(line);
        Caution { id, hazard, detail, value, caution, source }
    })
}

/// Faults that have all these words in what is seen, where, or what `causes` says of them, the best
/// first: words in what is seen count most. Capitals do not count; no words are every fault.
pub fn search_faults(words: &str, causes: &dyn Fn(&Fault) -> String) -> Vec<Fault> {
    let words: Vec<String> = words.split_whitespace().map(str::to_ascii_lowercase).collect();
    let mut seen = Vec::new();
    let mut elsewhere = Vec::new();
    for fault in faults() {
        let what = fault.seen.to_ascii_lowercase();
        let all = format!("{what} {} {}", fault.whereabouts, causes(&fault)).to_ascii_lowercase();
        if words.iter().all(|word| what.contains(word)) {
            seen.push(fault);
        } else if words.iter().all(|word| all.contains(word)) {
            elsewhere.push(fault);
        }
    }
    seen.append(&mut elsewhere);
    seen
}

/// The shortest time, in seconds, that any source gives for a burn by water of this temperature or
/// cooler; nothing below the coolest that is printed.
pub fn burns_after_s(celsius: f64) -> Option<f64> {
    let mut shortest: Option<f64> = None;
    for line in SCALDS.lines() {
        let [warm, _, second, third, _] = cells(line);
        let number = |cell: &str| cell.parse::<f64>().ok();
        if number(warm).is_none_or(|warm| warm > celsius || celsius.is_nan()) {
            continue;
        }
        for seconds in [number(second), number(third)].into_iter().flatten() {
            shortest = Some(shortest.map_or(seconds, |known| f64::min(known, seconds)));
        }
    }
    shortest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_whole() {
        assert_eq!((faults().count(), cautions().count()), (48, 48));
        for fault in faults() {
            assert!(!fault.seen.is_empty() && !fault.whereabouts.is_empty(), "{}", fault.id);
        }
        for caution in cautions() {
            assert!(!caution.hazard.is_empty() && !caution.source.is_empty(), "{}", caution.id);
        }
    }

    #[test]
    fn a_fault_is_found_by_what_is_seen() {
        let none = |_: &Fault| String::new();
        let found = search_faults("Clear strip", &none);
        assert!(found.iter().any(|fault| fault.id == "D01"), "{found:?}");
        assert_eq!(search_faults("", &none).len(), 48);
        assert!(search_faults("unicorn", &none).is_empty());
        let unicorns = |fault: &Fault| if fault.id == "D02" { "Unicorns" } else { "" }.to_owned();
        let found = search_faults("unicorn", &unicorns);
        assert_eq!(found.iter().map(|fault| fault.id).collect::<Vec<_>>(), ["D02"]);
    }

    #[test]
    fn hotter_water_never_burns_later() {
        assert_eq!(burns_after_s(44.0), None);
        let mut last = f64::INFINITY;
        for tenths in 450..700 {
            let now = burns_after_s(f64::from(tenths) / 10.0).unwrap();
            assert!(now <= last);
            last = now;
        }
        assert!(burns_after_s(f64::NAN).is_none());
    }
}
