use wasm_encoder::{DataCountSection, MemorySection, MemoryType};

use super::*;

#[test]
fn pieces_that_follow_each_other_become_one_with_zeros_between() {
    let joined = join(&module(&[(8, b"ab"), (16, b"cd"), (18, b"e")])).unwrap();

    assert_eq!(joined, module(&[(8, b"ab\0\0\0\0\0\0cde")]));
}

#[test]
fn a_large_hole_is_left() {
    let apart = module(&[(8, b"ab"), (8192, b"cd")]);

    assert_eq!(join(&apart).unwrap(), apart);
}

#[test]
fn pieces_in_another_order_are_left() {
    for pieces in [[(16, b"cd"), (8, b"ab")], [(8, b"ab"), (9, b"cd")]] {
        let pieces = pieces.map(|(begin, bytes)| (begin, bytes.as_slice()));
        let module = module(&pieces);

        assert_eq!(join(&module).unwrap(), module);
    }
}

#[test]
fn a_module_without_data_is_left() {
    let module = module(&[]);

    assert_eq!(join(&module).unwrap(), module);
}

/// A module of nothing but data, each with the place it begins at.
fn module(pieces: &[(i32, &[u8])]) -> Vec<u8> {
    let mut memories = MemorySection::new();
    memories.memory(MemoryType {
        minimum: 1,
        maximum: None,
        memory64: false,
        shared: false,
        page_size_log2: None,
    });
    let mut data = DataSection::new();
    for (begin, bytes) in pieces {
        data.active(0, &ConstExpr::i32_const(*begin), bytes.iter().copied());
    }
    let mut module = Module::new();
    module.section(&memories).section(&DataCountSection { count: data.len() }).section(&data);
    module.finish()
}
