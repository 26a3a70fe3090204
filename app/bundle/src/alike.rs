//! Functions that are alike, beside each other.
//!
//! In which order the functions of a module stand makes no difference to what it does, but what
//! compresses looks for what was said shortly before: a fiftieth of what a phone downloads.

use std::convert::Infallible;

use wasm_encoder::reencode::{self, Reencode};
use wasm_encoder::{CodeSection, FunctionSection, Module};
use wasmparser::{
    CodeSectionReader, FunctionBody, FunctionSectionReader, Parser, Payload, TypeRef,
};

use crate::names::NamesError;

/// How many bytes in a row are looked for in another function: an instruction or two.
const PIECE: usize = 4;

/// Words of 64 bits in a sketch. With a quarter of them the module is half a kilobyte longer.
const WORDS: usize = 256;

/// `module` with its functions in another order: those of one type together, and each after the one
/// that it is most alike.
///
/// Equal modules give equal modules, byte for byte.
///
/// # Errors
///
/// A [`NamesError`] if `module` is not a module that browsers could read.
pub fn beside(module: &[u8]) -> Result<Vec<u8>, NamesError> {
    let functions = Functions::of(module)?;
    let order = functions.order();
    let mut places = vec![0; order.len()];
    for (place, &function) in (functions.imported..).zip(&order) {
        places[function] = place;
    }
    let mut written = Module::new();
    let mut mover = Mover { imported: functions.imported, order, places };
    mover.parse_core_module(&mut written, Parser::new(0), module)?;
    Ok(written.finish())
}

/// What is to be known of the functions of a module.
#[derive(Default)]
struct Functions {
    /// How many are imported: they are counted first.
    imported: u32,
    /// The type of each of the others.
    types: Vec<u32>,
    /// What each of them is made of.
    sketches: Vec<Sketch>,
}

impl Functions {
    fn of(module: &[u8]) -> Result<Self, NamesError> {
        let mut functions = Self::default();
        for payload in Parser::new(0).parse_all(module) {
            let payload = payload?;
            if let Payload::ImportSection(imports) = payload {
                for import in imports {
                    functions.imported += u32::from(matches!(import?.ty, TypeRef::Func(_)));
                }
            } else if let Payload::FunctionSection(types) = payload {
                functions.types = types.into_iter().collect::<Result<_, _>>()?;
            } else if let Payload::CodeSectionEntry(body) = payload {
                functions.sketches.push(Sketch::of(body.as_bytes()));
            }
        }
        Ok(functions)
    }

    /// All of them by type, each followed by what is most alike of what is left.
    fn order(&self) -> Vec<usize> {
        let mut left: Vec<usize> = (0..self.types.len().min(self.sketches.len())).collect();
        left.sort_by_key(|&function| (self.types[function], self.sketches[function].length));
        let of_one_type = left.chunk_by(|&one, &other| self.types[one] == self.types[other]);
        of_one_type.flat_map(|functions| self.chain(functions.to_vec())).collect()
    }

    /// `left`, beginning with the first.
    fn chain(&self, mut left: Vec<usize>) -> Vec<usize> {
        let mut chain = Vec::with_capacity(left.len());
        let mut nearest = 0;
        while !left.is_empty() {
            let last = left.remove(nearest);
            chain.push(last);
            nearest = self.nearest(last, &left);
        }
        chain
    }

    /// Where in `left` the function stands that is most alike `last`; the first of equals.
    fn nearest(&self, last: usize, left: &[usize]) -> usize {
        let mut nearest = 0;
        let mut most = Likeness { shared: 0, all: 1 };
        for (place, &other) in left.iter().enumerate() {
            let likeness = self.sketches[last].likeness(&self.sketches[other]);
            if likeness.is_more_than(&most) {
                (nearest, most) = (place, likeness);
            }
        }
        nearest
    }
}

/// Which pieces a function has, as bits of a set; what falls on one bit is taken for the same.
struct Sketch {
    bits: Vec<u64>,
    count: u64,
    length: usize,
}

impl Sketch {
    fn of(body: &[u8]) -> Self {
        let mut bits = vec![0; WORDS];
        for piece in body.windows(PIECE) {
            let number = piece.iter().fold(0_u32, |number, &byte| number << 8 | u32::from(byte));
            // Knuth's multiplier spreads numbers that are near each other.
            let [high, middle, _, _] = number.wrapping_mul(2_654_435_769).to_be_bytes();
            bits[usize::from(high) % WORDS] |= 1 << (middle % 64);
        }
        let count = bits.iter().map(|word: &u64| u64::from(word.count_ones())).sum();
        Self { bits, count, length: body.len() }
    }

    fn likeness(&self, other: &Self) -> Likeness {
        let both = self.bits.iter().zip(&other.bits).map(|(one, other)| one & other);
        let shared = both.map(|word| u64::from(word.count_ones())).sum();
        Likeness { shared, all: self.count + other.count - shared + 1 }
    }
}

/// The part of what two functions have that both have.
struct Likeness {
    shared: u64,
    all: u64,
}

impl Likeness {
    fn is_more_than(&self, other: &Self) -> bool {
        self.shared * other.all > other.shared * self.all
    }
}

/// Writes a module again, with its functions elsewhere.
struct Mover {
    imported: u32,
    /// Which function stands at each place, without the imported ones.
    order: Vec<usize>,
    /// The new number of each function, without the imported ones.
    places: Vec<u32>,
}

impl Mover {
    fn in_order<T: Clone>(&self, all: &[T]) -> Vec<T> {
        self.order.iter().filter_map(|&function| all.get(function).cloned()).collect()
    }
}

impl Reencode for Mover {
    type Error = Infallible;

    fn function_index(&mut self, function: u32) -> Result<u32, reencode::Error> {
        let own = function.checked_sub(self.imported).and_then(|own| usize::try_from(own).ok());
        Ok(own.and_then(|own| self.places.get(own)).copied().unwrap_or(function))
    }

    fn parse_function_section(
        &mut self,
        written: &mut FunctionSection,
        types: FunctionSectionReader<'_>,
    ) -> Result<(), reencode::Error> {
        let types: Vec<u32> = types.into_iter().collect::<Result<_, _>>()?;
        for kind in self.in_order(&types) {
            written.function(kind);
        }
        Ok(())
    }

    fn parse_code_section(
        &mut self,
        written: &mut CodeSection,
        bodies: CodeSectionReader<'_>,
    ) -> Result<(), reencode::Error> {
        let bodies: Vec<FunctionBody<'_>> = bodies.into_iter().collect::<Result<_, _>>()?;
        for body in self.in_order(&bodies) {
            self.parse_function_body(written, body)?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests;
