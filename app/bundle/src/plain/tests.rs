use wasm_encoder::{FunctionSection, MemorySection, MemoryType, TypeSection, ValType as Kind};

use super::*;

#[test]
fn the_local_that_is_used_most_comes_first_after_the_parameters() {
    let said = said(&plain(&module()).unwrap());

    // Of the whole numbers, the last was used most; the broken number comes after them.
    assert!(said[1].ends_with("LocalSet { local_index: 1 }"), "{said:?}");
    assert!(said[2].ends_with("LocalGet { local_index: 1 }"), "{said:?}");
    assert!(said[3].ends_with("LocalTee { local_index: 2 }"), "{said:?}");
    assert!(said[6].ends_with("LocalSet { local_index: 3 }"), "{said:?}");
}

#[test]
fn a_parameter_keeps_its_number() {
    let said = said(&plain(&module()).unwrap());

    assert!(said[0].ends_with("LocalGet { local_index: 0 }"), "{said:?}");
}

#[test]
fn what_is_loaded_promises_nothing_of_its_place() {
    let said = said(&plain(&module()).unwrap());

    assert!(said[4].contains("I32Load") && said[4].contains("align: 0"), "{said:?}");
    assert!(said[4].contains("offset: 8"), "{said:?}");
}

#[test]
fn a_plain_module_is_left_as_it_is() {
    let plainly = plain(&module()).unwrap();

    assert_eq!(plain(&plainly).unwrap(), plainly);
}

#[test]
fn what_is_no_module_is_not_made_plain() {
    let refused = plain(b"\0asm").unwrap_err().to_string();

    assert!(refused.starts_with("the module cannot be read: "), "{refused}");
}

/// What the only function of a module says, an instruction a text.
fn said(module: &[u8]) -> Vec<String> {
    let mut said = Vec::new();
    for payload in Parser::new(0).parse_all(module) {
        if let Payload::CodeSectionEntry(body) = payload.unwrap() {
            for instruction in body.get_operators_reader().unwrap() {
                said.push(format!("{:?}", instruction.unwrap()));
            }
        }
    }
    said
}

/// A module of one function with a parameter, a broken number and two whole ones.
fn module() -> Vec<u8> {
    let mut types = TypeSection::new();
    types.ty().function([Kind::I32], []);
    let mut functions = FunctionSection::new();
    functions.function(0);
    let mut memories = MemorySection::new();
    let page = MemoryType {
        minimum: 1,
        maximum: None,
        memory64: false,
        shared: false,
        page_size_log2: None,
    };
    memories.memory(page);
    let mut body = Function::new([(1, Kind::F64), (2, Kind::I32)]);
    body.instructions()
        .local_get(0)
        .local_set(3)
        .local_get(3)
        .local_tee(2)
        .i32_load(MemArg { offset: 8, align: 2, memory_index: 0 })
        .f64_convert_i32_s()
        .local_set(1)
        .end();
    let mut code = CodeSection::new();
    code.function(&body);
    let mut module = Module::new();
    module.section(&types).section(&functions).section(&memories).section(&code);
    module.finish()
}
