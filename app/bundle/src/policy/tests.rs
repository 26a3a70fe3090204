use super::*;

#[test]
fn the_policy_is_the_first_child_of_the_head() {
    let page = insert("<!doctype html><html><head lang=\"en\"><title>S</title></head>").unwrap();

    assert!(page.contains("<head lang=\"en\">\n<meta http-equiv=\"Content-Security-Policy\""));
}

#[test]
fn each_inline_script_is_named_by_its_hash() {
    let page = insert("<head></head><script>abc</script><script src=\"./a.js\"></script>").unwrap();

    // The hash of `abc` is the one of FIPS 180-2, appendix B.1.
    let allowed = "script-src 'self' 'wasm-unsafe-eval' \
                   'sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0=';";
    assert!(page.contains(allowed), "{page}");
}

#[test]
fn nothing_inline_but_named_scripts_is_allowed() {
    let page = insert("<head></head>").unwrap();

    assert!(!page.contains("'unsafe-inline'") && !page.contains("'unsafe-eval'"), "{page}");
}

#[test]
fn pictures_come_from_the_page_and_from_memory_and_nowhere_else() {
    let page = insert("<head></head>").unwrap();

    assert!(page.contains("; img-src 'self' blob:; "), "{page}");
    assert_eq!(page.matches("blob:").count(), 1, "{page}");
}

#[test]
fn a_page_without_a_head_is_refused() {
    assert_eq!(insert("<p>Sinkside</p>"), Err(PolicyError::NoHead));
}

#[test]
fn what_the_policy_would_block_in_silence_is_refused() {
    refused("<p style=\"color: red\">", "<p> has the attribute style, which the policy blocks");
    refused("<body ONLOAD='go()'>", "<body> has the attribute onload, which the policy blocks");
    refused("<style>p { margin: 0 }</style>", "a <style> element, which the policy blocks");
}

#[test]
fn a_hash_that_the_build_has_made_untrue_is_refused() {
    refused(
        "<link rel=\"stylesheet\" href=\"./a.css\" integrity=\"sha384-abc\">",
        "<link> has a hash of its file that the build changes afterwards; say \
         data-integrity=\"none\"",
    );
}

#[test]
fn an_address_that_breaks_below_a_folder_is_refused() {
    let why = "does not work from every folder without a network";
    refused("<a href=\"/\">", &format!("<a href=\"/\"> {why}"));
    refused("<img src=\"//host/a.png\">", &format!("<img src=\"//host/a.png\"> {why}"));
    refused("<a href=\"https://host/\">", &format!("<a href=\"https://host/\"> {why}"));
}

#[test]
fn relative_addresses_and_namespaces_are_left_alone() {
    let page =
        "<head></head><a href=\"./\"><svg xmlns=\"http://www.w3.org/2000/svg\"><a href=\"#x\">";

    assert!(insert(page).is_ok());
}

#[track_caller]
fn refused(markup: &str, why: &str) {
    let page = format!("<head></head>{markup}");
    assert_eq!(insert(&page).unwrap_err().to_string(), why);
}
