//! Short names where the page's script and its module meet.
//!
//! The generator of the bindings names every function twice, at length and with a hash:
//! once in the script and once in the module. Nobody reads the names in a finished build,
//! and they are a fiftieth of what a phone downloads.

use std::collections::{HashMap, HashSet};
use std::convert::Infallible;

use thiserror::Error;
use wasm_encoder::reencode::{self, Reencode};
use wasm_encoder::{ExportSection, ImportSection, Module};
use wasmparser::{CustomSectionReader, Export, Import, Parser, Payload};

/// What the generator's own names have in them. Names such as `memory` are words that the script
/// may use for something else.
const GENERATED: &str = "__";

/// Letters a short name is made of.
const LETTERS: &[u8; 52] = b"abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";

/// Why the names of a build could not be shortened.
#[derive(Debug, Error)]
pub enum NamesError {
    /// The module is not one.
    #[error("the module cannot be read: {0}")]
    Unreadable(#[from] wasmparser::BinaryReaderError),
    /// The module cannot be written again.
    #[error("the module cannot be written again: {0}")]
    Unwritable(#[from] reencode::Error),
}

/// `script` and `module` with short names for what one imports from the other. A name that stands
/// in only one of them is left as it is.
///
/// Equal files give equal files, byte for byte.
///
/// # Errors
///
/// A [`NamesError`] if `module` is not a module that browsers could read.
pub fn shorten(script: &str, module: &[u8]) -> Result<(String, Vec<u8>), NamesError> {
    let short = short_names(script, &long_names(module)?);
    if short.is_empty() {
        return Ok((script.to_owned(), module.to_vec()));
    }
    let mut written = Module::new();
    Renamer { short: &short }.parse_core_module(&mut written, Parser::new(0), module)?;
    Ok((renamed(script, &short), written.finish()))
}

/// The names of everything the module imports and exports and of the modules it imports from, in
/// their order; some stand there more than once.
fn long_names(module: &[u8]) -> Result<Vec<String>, wasmparser::BinaryReaderError> {
    let mut names = Vec::new();
    for payload in Parser::new(0).parse_all(module) {
        let payload = payload?;
        if let Payload::ImportSection(imports) = payload {
            for import in imports {
                let Import { module, name, .. } = import?;
                names.extend([module.to_owned(), name.to_owned()]);
            }
        } else if let Payload::ExportSection(exports) = payload {
            for export in exports {
                names.push(export?.name.to_owned());
            }
        }
    }
    Ok(names)
}

/// A short name for each of `names` that `script` has too.
fn short_names(script: &str, names: &[String]) -> HashMap<String, String> {
    let said: HashSet<&str> = pieces(script).map(|(word, _)| word).collect();
    let mut free = (0..).map(short_name).filter(|short| !names.contains(short));
    let mut short = HashMap::new();
    for name in names {
        let shared = if name.contains(is_between) {
            script.contains(&quoted(name))
        } else {
            name.contains(GENERATED) && said.contains(name.as_str())
        };
        if shared && !short.contains_key(name) {
            short.extend(free.next().map(|free| (name.clone(), free)));
        }
    }
    short
}

/// The name of this number: `a` to `Z`, then `aa`, `ba` and so on.
pub fn short_name(number: usize) -> String {
    let mut name = String::new();
    let mut left = number + 1;
    while left > 0 {
        left -= 1;
        name.push(char::from(LETTERS[left % LETTERS.len()]));
        left /= LETTERS.len();
    }
    name
}

/// How the script says a name that is not a word, as that of a module.
fn quoted(name: &str) -> String {
    format!("\"{name}\"")
}

/// `script` with a short name for every word, and every text in quotes, that has one.
fn renamed(script: &str, short: &HashMap<String, String>) -> String {
    let mut text = String::with_capacity(script.len());
    for (word, rest) in pieces(script) {
        text.push_str(short.get(word).map_or(word, String::as_str));
        text.push_str(rest);
    }
    let others = short.iter().filter(|(name, _)| name.contains(is_between));
    others.fold(text, |text, (name, short)| text.replace(&quoted(name), &quoted(short)))
}

/// All of `script` as words, each with what stands between it and the next; both may be empty.
fn pieces(script: &str) -> impl Iterator<Item = (&str, &str)> {
    script.split_inclusive(is_between).map(|piece| {
        let word = piece.trim_end_matches(is_between);
        piece.split_at(word.len())
    })
}

/// Whether no name in a script has this letter.
fn is_between(letter: char) -> bool {
    !(letter.is_alphanumeric() || letter == '_' || letter == '$')
}

/// Writes a module again, with other names for its imports and exports.
struct Renamer<'a> {
    short: &'a HashMap<String, String>,
}

impl Renamer<'_> {
    fn name<'a>(&'a self, name: &'a str) -> &'a str {
        self.short.get(name).map_or(name, String::as_str)
    }
}

impl Reencode for Renamer<'_> {
    type Error = Infallible;

    /// Sections that only tools read are left out.
    fn parse_custom_section(
        &mut self,
        _module: &mut Module,
        _section: CustomSectionReader<'_>,
    ) -> Result<(), reencode::Error> {
        Ok(())
    }

    fn parse_import(
        &mut self,
        imports: &mut ImportSection,
        import: Import<'_>,
    ) -> Result<(), reencode::Error> {
        let kind = self.entity_type(import.ty)?;
        imports.import(self.name(import.module), self.name(import.name), kind);
        Ok(())
    }

    fn parse_export(
        &mut self,
        exports: &mut ExportSection,
        export: Export<'_>,
    ) -> Result<(), reencode::Error> {
        let kind = self.export_kind(export.kind)?;
        let index = self.external_index(export.kind, export.index)?;
        exports.export(self.name(export.name), kind, index);
        Ok(())
    }
}

#[cfg(test)]
mod tests;
