//! A module in the plainest of all the ways to say the same.
//!
//! Two things in a module may be said in several ways that do the same: which number a local has
//! within its function, and how well a load or a store promises to be aligned, which is a hint that
//! nothing may go by. Said in one way everywhere, functions that do alike things look alike, and
//! what looks alike compresses: a fiftieth of what a phone downloads.

use std::cmp::Reverse;
use std::convert::Infallible;

use wasm_encoder::reencode::{self, Reencode};
use wasm_encoder::{CodeSection, Function, Instruction, MemArg, Module};
use wasmparser::{FunctionBody, Operator, Parser, Payload, ValType};

use crate::names::NamesError;

/// `module` with the most used local of each type first, and without promises of alignment.
///
/// Equal modules give equal modules, byte for byte. Atomic operations must be aligned and are not
/// to be in it: a page without threads has none.
///
/// # Errors
///
/// A [`NamesError`] if `module` is not a module that browsers could read.
pub fn plain(module: &[u8]) -> Result<Vec<u8>, NamesError> {
    let mut written = Module::new();
    let mut plainer = Plainer { parameters: parameters(module)?, body: 0, local: Vec::new() };
    plainer.parse_core_module(&mut written, Parser::new(0), module)?;
    Ok(written.finish())
}

/// How many parameters each function of the module has; its locals are counted after them.
fn parameters(module: &[u8]) -> Result<Vec<usize>, NamesError> {
    let mut of_type = Vec::new();
    let mut of_function = Vec::new();
    for payload in Parser::new(0).parse_all(module) {
        let payload = payload?;
        if let Payload::TypeSection(types) = payload {
            for kind in types.into_iter_err_on_gc_types() {
                of_type.push(kind?.params().len());
            }
        } else if let Payload::FunctionSection(functions) = payload {
            for kind in functions {
                let parameters = usize::try_from(kind?).ok().and_then(|kind| of_type.get(kind));
                of_function.push(parameters.copied().unwrap_or_default());
            }
        }
    }
    Ok(of_function)
}

/// The local that an instruction is about.
fn local_of<'a>(said: &'a mut Operator<'_>) -> Option<&'a mut u32> {
    if let Operator::LocalGet { local_index }
    | Operator::LocalSet { local_index }
    | Operator::LocalTee { local_index } = said
    {
        Some(local_index)
    } else {
        None
    }
}

/// Writes a module again, with other numbers for locals.
struct Plainer {
    parameters: Vec<usize>,
    /// Which body comes next.
    body: usize,
    /// The new number of every parameter and local of the function that is being written.
    local: Vec<u32>,
}

impl Plainer {
    /// Numbers the locals of `body` anew, and gives their types in the new order.
    fn number(&mut self, body: &FunctionBody<'_>) -> Result<Vec<ValType>, reencode::Error> {
        let parameters = self.parameters.get(self.body).copied().unwrap_or_default();
        self.body += 1;
        let mut types = Vec::new();
        for locals in body.get_locals_reader()? {
            let (count, kind) = locals?;
            types.extend((0..count).map(|_| kind));
        }
        let mut uses = vec![0_u32; parameters + types.len()];
        for said in body.get_operators_reader()? {
            let local = local_of(&mut said?).map(|local| *local);
            let local = local.and_then(|local| usize::try_from(local).ok());
            if let Some(uses) = local.and_then(|local| uses.get_mut(local)) {
                *uses += 1;
            }
        }
        let mut order: Vec<usize> = (0..types.len()).collect();
        order.sort_by_key(|&local| (types[local], Reverse(uses[parameters + local]), local));

        self.local = (0..).take(uses.len()).collect();
        for (place, &local) in (0..).zip(&order) {
            self.local[parameters + local] = place;
        }
        let before = u32::try_from(parameters).unwrap_or_default();
        self.local[parameters..].iter_mut().for_each(|place| *place += before);
        Ok(order.iter().map(|&local| types[local]).collect())
    }
}

impl Reencode for Plainer {
    type Error = Infallible;

    fn parse_function_body(
        &mut self,
        code: &mut CodeSection,
        body: FunctionBody<'_>,
    ) -> Result<(), reencode::Error> {
        let mut locals = Vec::new();
        for kind in self.number(&body)? {
            locals.push(self.val_type(kind)?);
        }
        let mut function = Function::new_with_locals_types(locals);
        for said in body.get_operators_reader()? {
            function.instruction(&self.instruction(said?)?);
        }
        code.function(&function);
        Ok(())
    }

    fn instruction<'a>(
        &mut self,
        mut said: Operator<'a>,
    ) -> Result<Instruction<'a>, reencode::Error> {
        if let Some(local) = local_of(&mut said) {
            let place = usize::try_from(*local).ok().and_then(|local| self.local.get(local));
            *local = place.copied().unwrap_or(*local);
        }
        reencode::utils::instruction(self, said)
    }

    fn mem_arg(&mut self, place: wasmparser::MemArg) -> Result<MemArg, reencode::Error> {
        let memory_index = self.memory_index(place.memory)?;
        Ok(MemArg { offset: place.offset, align: 0, memory_index })
    }
}

#[cfg(test)]
mod tests;
