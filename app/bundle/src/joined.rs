//! The data of a module in one piece.
//!
//! What is optimised for a download without compression leaves out every few zeros, and says
//! instead where it goes on: some four hundred times, and each time in a way of its own. Zeros cost
//! nothing once they are compressed.

use std::convert::Infallible;

use wasm_encoder::reencode::{self, Reencode};
use wasm_encoder::{ConstExpr, DataSection, Module};
use wasmparser::{BinaryReaderError, DataKind, DataSectionReader, Operator, Parser, Payload};

use crate::names::NamesError;

/// So many zeros in a row are written out; more are a hole that something keeps.
const ZEROS: usize = 4096;

/// `module` with one piece of data in place of many, where they follow each other.
///
/// Equal modules give equal modules, byte for byte.
///
/// # Errors
///
/// A [`NamesError`] if `module` is not a module that browsers could read.
pub fn join(module: &[u8]) -> Result<Vec<u8>, NamesError> {
    let mut joined = None;
    for payload in Parser::new(0).parse_all(module) {
        if let Payload::DataSection(pieces) = payload? {
            joined = in_one(pieces)?;
        }
    }
    let Some(piece) = joined else { return Ok(module.to_vec()) };
    let mut written = Module::new();
    Joiner { piece }.parse_core_module(&mut written, Parser::new(0), module)?;
    Ok(written.finish())
}

/// Data, and where in the memory they begin.
struct Piece {
    begin: usize,
    bytes: Vec<u8>,
}

/// All of `pieces`; nothing if one of them has no place, or does not follow the one before.
fn in_one(pieces: DataSectionReader<'_>) -> Result<Option<Piece>, BinaryReaderError> {
    let mut joined: Option<Piece> = None;
    for piece in pieces {
        let piece = piece?;
        let DataKind::Active { memory_index: 0, offset_expr } = piece.kind else { return Ok(None) };
        let Operator::I32Const { value } = offset_expr.get_operators_reader().read()? else {
            return Ok(None);
        };
        let Ok(begin) = usize::try_from(value) else { return Ok(None) };
        let before = joined.get_or_insert_with(|| Piece { begin, bytes: Vec::new() });
        let zeros = begin.checked_sub(before.begin + before.bytes.len());
        let Some(zeros) = zeros.filter(|&zeros| zeros < ZEROS) else { return Ok(None) };
        before.bytes.resize(before.bytes.len() + zeros, 0);
        before.bytes.extend_from_slice(piece.data);
    }
    Ok(joined)
}

/// Writes a module again, with other data.
struct Joiner {
    piece: Piece,
}

impl Reencode for Joiner {
    type Error = Infallible;

    fn data_count(&mut self, _count: u32) -> Result<u32, reencode::Error> {
        Ok(1)
    }

    fn parse_data_section(
        &mut self,
        written: &mut DataSection,
        _pieces: DataSectionReader<'_>,
    ) -> Result<(), reencode::Error> {
        let Ok(begin) = i32::try_from(self.piece.begin) else {
            return Err(reencode::Error::InvalidConstExpr);
        };
        written.active(0, &ConstExpr::i32_const(begin), self.piece.bytes.iter().copied());
        Ok(())
    }
}

#[cfg(test)]
mod tests;
