//! What there is to read before a first roll: a file of plain texts that is published with the page.

use serde_json::Value;

/// A section: part, heading, mark, and at least one paragraph.
///
/// The mark of a word is the letters it is found by in other texts; elsewhere it is the path of a
/// line drawing. Empty: none.
pub type Section = Vec<String>;

/// The place of a section's heading.
pub const HEADING: usize = 1;
/// The place of its mark.
pub const MARK: usize = 2;
/// The place of its first paragraph.
pub const PARAGRAPHS: usize = 3;

/// Every section of a file. It is an array of sections, and a section an array of texts. Nothing if
/// the file is anything else.
pub fn read(file: &str) -> Option<Vec<Section>> {
    let Ok(Value::Array(all)) = serde_json::from_str(file) else { return None };
    let mut sections = Vec::new();
    for section in &all {
        let mut texts = Vec::new();
        for text in section.as_array()? {
            texts.push(text.as_str()?.to_owned());
        }
        if texts.len() <= PARAGRAPHS {
            return None;
        }
        sections.push(texts);
    }
    Some(sections)
}

/// The sections of one part, in their order.
pub fn of_part(sections: &[Section], part: &str) -> Vec<Section> {
    let mut found = sections.to_vec();
    found.retain(|section| section[0] == part);
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sections(file: &str, part: &str) -> Option<Vec<Section>> {
        read(file).map(|all| of_part(&all, part))
    }

    #[test]
    fn a_part_is_read_in_its_order() {
        let file =
            r#"[["a", "One", "", "x", "y"], ["b", "Two", "m", "z"], ["a", "Three", "", "w"]]"#;
        let texts = |part: &str| -> Vec<String> {
            sections(file, part).unwrap().iter().map(|section| section[1..].join("|")).collect()
        };
        assert_eq!(texts("a"), ["One||x|y", "Three||w"]);
        assert_eq!(texts("b"), ["Two|m|z"]);
        assert!(texts("c").is_empty());
    }

    #[test]
    fn a_file_that_is_anything_else_is_no_primer() {
        for file in [
            "",
            "not here",
            "{}",
            "[1]",
            "[[]]",
            r#"[["a", "One", ""]]"#,
            r#"[["a", "One", "", 1]]"#,
            r#"[["a", "One", "", "x"], {}]"#,
            "<html><h1>Sign in</h1></html>",
        ] {
            assert_eq!(sections(file, "a"), None, "{file}");
        }
    }
}
