//! What there is to read: it is whole, and its figures are those of the sheets and the tables.

use process_model::printed::faults;
use process_model::sheet::{Bath, SheetId};
use session::notebook::primer::{HEADING, MARK, PARAGRAPHS, Section, of_part, read};
use session::sheets::Known;
use tests::repository;

const PARTS: [&str; 6] = ["job", "loading", "words", "own", "cautions", "phone"];

fn file() -> String {
    std::fs::read_to_string(repository().join("public/primer.json")).expect("the file")
}

fn part(name: &str) -> Vec<Section> {
    of_part(&read(&file()).expect("it can be read"), name)
}

fn section(of: &str, heading: &str) -> String {
    let all = part(of);
    let found = all.into_iter().find(|section| section[HEADING] == heading);
    found.expect("a section")[PARAGRAPHS..].join(" ")
}

#[test]
fn every_part_is_there_and_says_something() {
    let count: usize = PARTS.iter().chain(&["faults"]).map(|name| part(name).len()).sum();
    assert_eq!(count, file().lines().count() - 2, "a section a line, each of a known part");
    for name in PARTS {
        let all = part(name);
        assert!(all.len() >= 6, "{name}");
        for section in all {
            for text in &section[HEADING..] {
                assert!(!text.contains(['<', '>', '&']), "plain text: {text}");
                assert_eq!(text.trim(), text);
            }
            assert!(section[PARAGRAPHS..].iter().all(|text| text.len() > 10), "{section:?}");
        }
    }
}

#[test]
fn every_fault_is_told_with_its_causes_and_its_source() {
    let told = part("faults");
    let ids: Vec<_> = told.iter().map(|row| row[HEADING].as_str()).collect();
    assert_eq!(ids, faults().map(|fault| fault.id).collect::<Vec<_>>());
    for row in told {
        // Causes, what tells them apart, remedy, prevention, processes, source.
        assert_eq!(row.len(), PARAGRAPHS + 6, "{row:?}");
        assert!(!row[PARAGRAPHS].is_empty() && !row[PARAGRAPHS + 5].is_empty(), "{row:?}");
    }
}

#[test]
fn the_whole_job_is_two_pages() {
    let texts = part("job").into_iter().map(|section| section[PARAGRAPHS..].join(" "));
    let words: usize = texts.map(|text| text.split_whitespace().count()).sum();
    assert!((600..=1_000).contains(&words), "{words} words");
}

#[test]
fn a_meaning_is_one_line_and_words_stand_in_their_order() {
    for name in ["words", "own"] {
        let all = part(name);
        for section in &all {
            assert_eq!(section.len(), PARAGRAPHS + 1, "{section:?}");
            assert!(section[PARAGRAPHS].chars().count() <= 100, "{section:?}");
        }
        let headings: Vec<_> =
            all.iter().map(|section| section[HEADING].to_ascii_lowercase()).collect();
        assert!(headings.is_sorted(), "{headings:?}");
    }
}

#[test]
fn every_word_that_can_be_found_is_found_in_the_job() {
    let job = part("job").iter().map(|section| section[PARAGRAPHS..].join(" ")).collect::<String>();
    let job = job.to_ascii_lowercase();
    let marks =
        part("words").into_iter().map(|word| word[MARK].clone()).filter(|mark| !mark.is_empty());
    for mark in marks {
        assert!(job.contains(&mark), "{mark}");
    }
}

#[test]
fn a_drawing_is_a_path_and_nothing_else() {
    for section in part("loading").into_iter().filter(|section| !section[MARK].is_empty()) {
        let is_path =
            |letter: char| letter.is_ascii_digit() || " .-MmLlHhVvCcSsQqAaZz".contains(letter);
        assert!(
            section[MARK].starts_with('M') && section[MARK].chars().all(is_path),
            "{section:?}"
        );
    }
}

/// Minutes and seconds.
fn time(seconds: f64) -> String {
    let minutes = (seconds / 60.0).floor();
    format!("{minutes:.0}:{:02.0}", seconds - 60.0 * minutes)
}

#[test]
fn the_run_is_told_as_the_usual_sheet_has_it() {
    let sheet = Known::shipped(SheetId::TwoBath389).sheet;
    let run = section("job", "Run");
    for (bath, name) in [
        (Bath::PreSoak, "Pre-soak"),
        (Bath::Developer, "developer"),
        (Bath::BleachFix, "bleach-fix"),
    ] {
        let step = sheet.steps.iter().find(|step| step.bath == bath).expect("a step");
        let told = format!("{name} {}", time(step.time.nominal.get()));
        assert!(run.contains(&told), "{told}: {run}");
    }
    let wash = sheet.steps.iter().find(|step| step.bath == Bath::Wash).expect("a wash");
    assert!(section("job", "Wash").contains(&format!("at least {}", time(wash.time.least.get()))));
    let developer = sheet.steps.iter().find(|step| step.is_developer()).expect("a developer");
    let aim = developer.band.aim.expect("an aim");
    let told = format!("{:.1} °C ({:.0} °F)", aim.get(), aim.fahrenheit());
    assert!(section("job", "Temper").contains(&told), "{told}");
}

/// The shortest time in print until water of this temperature or cooler burns.
fn shortest(celsius: f64, infants: bool) -> f64 {
    let table = repository().join("app/process-model/src/printed/scalds.tsv");
    let table = std::fs::read_to_string(table).expect("the table");
    let rows = table.lines().map(|line| line.split('\t').collect::<Vec<_>>());
    let rows = rows.filter(|row| {
        row[0].parse::<f64>().is_ok_and(|warm| warm <= celsius) && (row[1] == "infant") == infants
    });
    let times = rows.flat_map(|row| [row[2].parse::<f64>(), row[3].parse::<f64>()]);
    times.flatten().fold(f64::INFINITY, f64::min)
}

#[test]
fn hot_water_burns_as_fast_as_the_shortest_time_in_print() {
    let water = section("cautions", "Hot water");
    for (celsius, told) in [
        (60.0, "60 °C (140 °F) 3 seconds"),
        (55.0, "55 °C (131 °F) 17 seconds"),
        (51.1, "51.1 °C (124 °F) 2 minutes"),
        (49.0, "49 °C (120 °F) 5 minutes"),
    ] {
        assert!(water.contains(told), "{told}");
        let mut words = told.rsplit(' ');
        let unit = if words.next() == Some("minutes") { 60.0 } else { 1.0 };
        let said: f64 = words.next().and_then(|word| word.parse().ok()).expect("a number");
        assert!((said * unit - shortest(celsius, false)).abs() < 0.5, "{told}");
    }
    assert!((shortest(60.0, true) - 1.0).abs() < 0.01 && water.contains("60 °C 1 second."));
}

#[test]
fn every_caution_says_where_it_is_from_and_what_goes_first() {
    let all = part("cautions");
    let (last, rest) = all.split_last().expect("cautions");
    assert!(last[PARAGRAPHS].contains("go before anything on this page"));
    let sources = [
        "(from memory",
        "J-300",
        "H-24",
        "Contact Dermatitis",
        "table of burn times",
        "council",
        "page;",
    ];
    for caution in rest {
        let text = caution[PARAGRAPHS..].join(" ");
        assert!(sources.iter().any(|source| text.contains(source)), "{}", caution[HEADING]);
    }
}
