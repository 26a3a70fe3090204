//! The model against cases from independent libraries. Source: `data/*.json`, whose heads name the
//! libraries and their versions; tolerances stand in each case.

use tests::references::cases;

/// How many cases a file has, so that none is lost unseen.
const FILES: [(&str, usize); 6] = [
    ("tempering", 34),
    ("estimation", 21),
    ("development", 16),
    ("chemistry", 17),
    ("wash", 16),
    ("overlap", 20),
];

#[test]
fn every_case_from_an_independent_library_comes_out_within_its_tolerance() {
    for (name, count) in FILES {
        let path = format!("{}/references/data/{name}.json", env!("CARGO_MANIFEST_DIR"));
        let outcome = cases::run(&std::fs::read_to_string(path).expect("the file is there"));
        assert!(outcome.failed.is_empty(), "{name}:\n{}", outcome.failed.join("\n"));
        assert_eq!(outcome.passed, count, "{name}");
    }
}

#[test]
fn a_wrong_value_a_refusal_and_an_unknown_kind_are_failures() {
    let run = |kind: &str, input: &str, out: &str, tol: &str| {
        let case = format!(r#"{{"id":"x","kind":"{kind}","in":{input},"out":{out},"tol":{tol}}}"#);
        cases::run(&format!(r#"{{"cases":[{case}]}}"#)).failed.len()
    };
    let (input, tol) = (r#"{"temp_f":102.0}"#, r#"{"temp_c":{"abs":1e-9}}"#);
    assert_eq!(run("unit_temp", input, r#"{"temp_c":38.88888888888889}"#, tol), 0);
    assert_eq!(run("unit_temp", input, r#"{"temp_c":38.9}"#, tol), 1);
    assert_eq!(run("unit_temp", input, r#"{"error":"no"}"#, tol), 1);
    assert_eq!(run("unit_temp", "{}", r#"{"temp_c":38.9}"#, tol), 1);
    assert_eq!(run("unit_taste", input, r#"{"temp_c":38.9}"#, tol), 1);
    assert_eq!(cases::run("{").failed.len(), 1);
}
