use wasm_encoder::{
    EntityType, ExportKind, ExportSection, Function, ImportSection, TypeSection, ValType,
};

use super::*;

#[test]
fn functions_that_are_alike_stand_beside_each_other() {
    let moved = beside(&module()).unwrap();

    assert_eq!(constants(&moved), [[1, 1, 1], [1, 1, 2], [7, 8, 9], [7, 8, 6]]);
}

#[test]
fn what_is_exported_and_called_is_still_the_same() {
    let (before, after) = (module(), beside(&module()).unwrap());

    assert_eq!(exported(&before), exported(&after));
    assert_eq!(exported(&after), [[1, 1, 1], [7, 8, 9], [1, 1, 2], [7, 8, 6]]);
    let called =
        |module: &[u8]| said(module).concat().concat().matches("function_index: 0 ").count();
    assert_eq!((called(&before), called(&after)), (4, 4));
}

#[test]
fn equal_modules_are_put_in_the_same_order() {
    assert_eq!(beside(&module()).unwrap(), beside(&module()).unwrap());
}

#[test]
fn what_is_no_module_is_not_put_in_order() {
    let refused = beside(b"\0asm").unwrap_err().to_string();

    assert!(refused.starts_with("the module cannot be read: "), "{refused}");
}

/// The constants of each function, in the order of the functions.
fn constants(module: &[u8]) -> Vec<Vec<i32>> {
    let number = |said: &String| {
        let value = said.strip_prefix("I32Const { value: ")?.strip_suffix(" }")?;
        value.parse().ok()
    };
    said(module).iter().map(|said| said.iter().filter_map(number).collect()).collect()
}

/// The constants of each exported function, in the order of the exports.
fn exported(module: &[u8]) -> Vec<Vec<i32>> {
    let constants = constants(module);
    let mut exported = Vec::new();
    for payload in Parser::new(0).parse_all(module) {
        if let Payload::ExportSection(exports) = payload.unwrap() {
            for export in exports {
                let own = usize::try_from(export.unwrap().index).unwrap() - 1;
                exported.push(constants[own].clone());
            }
        }
    }
    exported
}

/// What each function says, an instruction a text.
fn said(module: &[u8]) -> Vec<Vec<String>> {
    let mut said = Vec::new();
    for payload in Parser::new(0).parse_all(module) {
        if let Payload::CodeSectionEntry(body) = payload.unwrap() {
            let instructions = body.get_operators_reader().unwrap().into_iter();
            said.push(instructions.map(|said| format!("{:?}", said.unwrap())).collect());
        }
    }
    said
}

/// An imported function, and four that call it and say three numbers each.
fn module() -> Vec<u8> {
    let mut types = TypeSection::new();
    types.ty().function([], [ValType::I32]);
    let mut imports = ImportSection::new();
    imports.import("elsewhere", "call", EntityType::Function(0));
    let (mut functions, mut exports) = (FunctionSection::new(), ExportSection::new());
    let mut code = CodeSection::new();
    for (number, [first, second, third]) in (1..).zip([[1, 1, 1], [7, 8, 9], [1, 1, 2], [7, 8, 6]])
    {
        functions.function(0);
        exports.export(&format!("f{number}"), ExportKind::Func, number);
        let mut body = Function::new([]);
        body.instructions()
            .i32_const(first)
            .i32_const(second)
            .i32_const(third)
            .i32_add()
            .i32_add()
            .call(0)
            .i32_add()
            .end();
        code.function(&body);
    }
    let mut module = Module::new();
    module.section(&types).section(&imports).section(&functions).section(&exports).section(&code);
    module.finish()
}
