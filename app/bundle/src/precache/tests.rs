use super::*;

const TEMPLATE: &str = "const V = \"__VERSION__\";\nconst F = \"__FILES__\";\n";

#[test]
fn the_list_names_what_the_page_starts_from_and_nothing_else() {
    let written = worker(TEMPLATE, &build()).unwrap();

    for listed in ["./", "./page.js", "./page_bg.wasm", "./run.css", "./fonts/b612.woff2"] {
        assert!(written.contains(&format!("[\"{listed}\", \"")), "{listed} is not in {written}");
    }
    for left_out in ["sw.js", "sw-off.js", "index.html", "OFL.txt"] {
        assert!(!written.contains(left_out), "{left_out} is in {written}");
    }
}

#[test]
fn what_there_is_to_read_and_to_look_at_is_kept_and_pictures_for_installing_are_not() {
    let mut files = build();
    files.push(file("primer.json", "[]"));
    files.push(file("demo-notebook.json", "{}"));
    files.push(file("pictures/run.png", "a picture"));
    let written = worker(TEMPLATE, &files).unwrap();

    for read in ["./primer.json", "./demo-notebook.json"] {
        assert!(written.contains(read), "{read} is not in {written}");
    }
    assert!(!written.contains("run.png"), "{written}");
}

#[test]
fn equal_builds_give_an_equal_worker() {
    assert_eq!(worker(TEMPLATE, &build()), worker(TEMPLATE, &build()));
}

#[test]
fn one_changed_byte_gives_another_version() {
    let mut changed = build();
    changed[0].bytes.push(b' ');

    assert_ne!(first_line(&build(), TEMPLATE), first_line(&changed, TEMPLATE));
}

#[test]
fn a_renamed_file_gives_another_version() {
    let mut renamed = build();
    renamed[0].path = "start.css".to_owned();

    assert_ne!(first_line(&build(), TEMPLATE), first_line(&renamed, TEMPLATE));
}

#[test]
fn another_worker_is_another_version() {
    let other = format!("{TEMPLATE}// Another line.\n");

    assert_ne!(first_line(&build(), TEMPLATE), first_line(&build(), &other));
}

#[test]
fn a_file_outside_the_boot_set_changes_nothing() {
    let mut files = build();
    files.push(file("fonts/NOTE.txt", "a note"));

    assert_eq!(worker(TEMPLATE, &files), worker(TEMPLATE, &build()));
}

#[test]
fn a_template_without_its_placeholders_is_refused() {
    let refused = worker("const F = \"__FILES__\";", &build());

    assert_eq!(refused, Err(PrecacheError::NoPlaceholder(VERSION)));
}

#[test]
fn a_build_without_its_wasm_is_refused() {
    let files: Vec<BuildFile> =
        build().into_iter().filter(|file| file.ending() != "wasm").collect();

    assert_eq!(worker(TEMPLATE, &files), Err(PrecacheError::Missing("wasm")));
}

fn first_line(files: &[BuildFile], template: &str) -> String {
    worker(template, files).unwrap().lines().next().unwrap_or_default().to_owned()
}

fn build() -> Vec<BuildFile> {
    vec![
        file("run.css", "p { margin: 0 }"),
        file("fonts/OFL.txt", "a licence"),
        file("fonts/b612.woff2", "a font"),
        file("index.html", "<!doctype html>"),
        file("page.js", "export default 1"),
        file("page_bg.wasm", "\0asm"),
        file("sw-off.js", "// off"),
        file("sw.js", TEMPLATE),
    ]
}

fn file(path: &str, content: &str) -> BuildFile {
    BuildFile { path: path.to_owned(), bytes: content.as_bytes().to_vec() }
}
