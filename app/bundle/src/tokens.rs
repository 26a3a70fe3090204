//! Short names for the custom properties of a style sheet: nobody reads them in a finished build.

use std::collections::HashMap;

use crate::names::short_name;

/// `style` with a short name for each custom property (CSS Custom Properties Level 1) that none of
/// `others` names. The names that stand there most often are the shortest.
///
/// Equal sheets give equal sheets, byte for byte.
pub fn shorten(style: &str, others: &[&[u8]]) -> String {
    let mut counts: HashMap<&str, usize> = HashMap::new();
    for piece in pieces(style) {
        if is_property(piece) {
            *counts.entry(piece).or_default() += 1;
        }
    }
    let is_said = |name: &str| others.iter().any(|other| has(other, name.as_bytes()));
    let (kept, mut long): (Vec<_>, Vec<_>) = counts.iter().partition(|(name, _)| is_said(name));
    long.sort_by_key(|(name, count)| (usize::MAX - **count, **name));
    let free = (0..).map(|number| format!("--{}", short_name(number)));
    let free = free.filter(|short| !kept.iter().any(|(name, _)| **name == short));
    let short: HashMap<&str, String> = long.iter().map(|(name, _)| **name).zip(free).collect();
    pieces(style).map(|piece| short.get(piece).map_or(piece, String::as_str)).collect()
}

/// A sheet cut into words and what lies between them.
fn pieces(style: &str) -> impl Iterator<Item = &str> {
    let mut rest = style;
    std::iter::from_fn(move || {
        let is_word = rest.chars().next()?.is_ascii_alphanumeric() || rest.starts_with(['-', '_']);
        let ends = |sign: char| (sign.is_ascii_alphanumeric() || "-_".contains(sign)) != is_word;
        let (piece, left) = rest.split_at(rest.find(ends).unwrap_or(rest.len()));
        rest = left;
        Some(piece)
    })
}

/// Whether a word is the name of a custom property: that of a class has something before its dashes.
fn is_property(word: &str) -> bool {
    word.strip_prefix("--")
        .is_some_and(|name| name.starts_with(|sign: char| sign.is_ascii_lowercase()))
}

fn has(bytes: &[u8], name: &[u8]) -> bool {
    bytes.windows(name.len()).any(|window| window == name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_property_is_called_the_same_wherever_it_stands_and_the_most_frequent_is_shortest() {
        let style =
            ":root{--paper:#fff;--ink:#000}.a{color:var(--ink)}.b{color:var(--ink,var(--paper))}";
        let short = ":root{--b:#fff;--a:#000}.a{color:var(--a)}.b{color:var(--a,var(--b))}";
        assert_eq!(shorten(style, &[]), short);
    }

    #[test]
    fn classes_values_and_what_the_page_sets_itself_stay() {
        let style = ".key--next{inset:var(--at) auto;margin:calc(1px - -2px)}.mark--b{--b:1}";
        assert_eq!(shorten(style, &[b"x--at\0", b"--b"]), style);
        let other = shorten(style, &[b"--at"]);
        assert_eq!(other, style.replace("--b:1", "--a:1"));
        // A short name is never one that is kept.
        assert_eq!(shorten("a{--a:1;--long:2}", &[b"--a"]), "a{--a:1;--b:2}");
    }

    #[test]
    fn a_sheet_without_properties_is_as_it_was() {
        for style in ["", "a{b:c}", "é--", "--", "---"] {
            assert_eq!(shorten(style, &[]), style);
        }
    }
}
