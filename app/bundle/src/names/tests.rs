use wasm_encoder::{CodeSection, EntityType, ExportKind, Function, FunctionSection, TypeSection};

use super::*;

const SCRIPT: &str = r#"const i={"./page_bg.js":{__wbg_focus_d5e2:e=>e.focus(),__wbg_text:x}};
    o.__wbindgen_malloc(1);o.memory.buffer;e.__wbg_focus_d5e2x;"memory""#;

#[test]
fn the_script_and_the_module_have_the_same_short_names() {
    let long = module(&["__wbg_focus_d5e2", "__wbg_text"], &["__wbindgen_malloc"]);
    let (script, written) = shorten(SCRIPT, &long).unwrap();

    let names = long_names(&written).unwrap();
    assert_eq!(names, ["a", "b", "a", "c", "d"]);
    for said in [r#"{"a":{b:e=>e.focus(),c:x}}"#, "o.d(1);"] {
        assert!(script.contains(said), "{said} is not in {script}");
    }
}

#[test]
fn a_name_that_stands_in_only_one_is_left() {
    let long = module(&["__wbg_blur_c285"], &["__wbindgen_free"]);
    let (script, written) = shorten(SCRIPT, &long).unwrap();

    assert_eq!(long_names(&written).unwrap(), ["a", "__wbg_blur_c285", "__wbindgen_free"]);
    assert_eq!(script, SCRIPT.replace("./page_bg.js", "a"));
}

#[test]
fn a_word_that_holds_a_name_is_another_word() {
    let long = module(&["__wbg_focus_d5e2"], &[]);
    let (script, _) = shorten(SCRIPT, &long).unwrap();

    assert!(script.contains("e.__wbg_focus_d5e2x"), "{script}");
}

#[test]
fn a_name_that_is_not_the_generators_is_left() {
    let long = module(&[], &["memory"]);

    assert_eq!(shorten(SCRIPT, &long).unwrap(), (SCRIPT.to_owned(), long));
}

#[test]
fn a_short_name_that_is_taken_is_given_to_nothing_else() {
    let long = module(&["__wbg_text"], &["b", "a"]);
    let (_, written) = shorten(SCRIPT, &long).unwrap();

    assert_eq!(long_names(&written).unwrap(), ["c", "d", "b", "a"]);
}

#[test]
fn a_module_with_nothing_to_rename_is_unchanged() {
    let long = module(&["__wbg_text"], &["__wbindgen_malloc"]);

    assert_eq!(shorten("go()", &long).unwrap(), ("go()".to_owned(), long));
}

#[test]
fn what_only_tools_read_is_left_out() {
    let bare = module(&["__wbg_text"], &[]);
    let mut long = bare.clone();
    // A custom section, 0, of 3 bytes: the name `ab`.
    long.extend([0, 3, 2, b'a', b'b']);

    assert_eq!(shorten(SCRIPT, &long).unwrap(), shorten(SCRIPT, &bare).unwrap());
}

#[test]
fn what_is_no_module_is_refused() {
    let refused = shorten(SCRIPT, b"\0asm").unwrap_err().to_string();

    assert!(refused.starts_with("the module cannot be read: "), "{refused}");
}

#[test]
fn no_two_numbers_share_a_name() {
    let names: HashSet<String> = (0..10_000).map(short_name).collect();

    assert_eq!(names.len(), 10_000);
    assert_eq!(["a", "Z", "aa", "ba"].map(str::to_owned), [0, 51, 52, 53].map(short_name));
}

/// A module of functions that do nothing, all but the exported ones from elsewhere.
fn module(imported: &[&str], exported: &[&str]) -> Vec<u8> {
    let mut types = TypeSection::new();
    types.ty().function([], []);
    let mut imports = ImportSection::new();
    for name in imported {
        imports.import("./page_bg.js", name, EntityType::Function(0));
    }
    let mut functions = FunctionSection::new();
    let mut exports = ExportSection::new();
    let mut code = CodeSection::new();
    for (number, name) in (0..).zip(exported) {
        functions.function(0);
        exports.export(name, ExportKind::Func, imports.len() + number);
        let mut body = Function::new([]);
        body.instructions().end();
        code.function(&body);
    }
    let mut module = Module::new();
    module.section(&types).section(&imports).section(&functions).section(&exports).section(&code);
    module.finish()
}
