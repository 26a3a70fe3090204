//! What there is to read before a first roll: a file of plain texts that is published with the page.

use serde_json::Value;

/// One section.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// What it is called.
    pub heading: String,
    /// Of a word, the letters it is found by in other texts; elsewhere the path of a line drawing.
    /// Empty: none.
    pub mark: String,
    /// What it says, at least one.
    pub paragraphs: Vec<String>,
}

/// The sections of one part, in their order. The file is an array of sections, a section an array of
/// texts: part, heading, mark, paragraphs. Nothing if the file is anything else.
pub fn sections(file: &str, part: &str) -> Option<Vec<Section>> {
    let Ok(Value::Array(all)) = serde_json::from_str(file) else { return None };
    let mut sections = Vec::new();
    for section in all {
        let Value::Array(texts) = section else { return None };
        let mut texts = texts.iter().map(Value::as_str);
        let of = texts.next()??;
        let (heading, mark) = (texts.next()??.to_owned(), texts.next()??.to_owned());
        let paragraphs: Option<Vec<_>> = texts.map(|text| Some(text?.to_owned())).collect();
        let paragraphs = paragraphs.filter(|paragraphs| !paragraphs.is_empty())?;
        if of == part {
            sections.push(Section { heading, mark, paragraphs });
        }
    }
    Some(sections)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_is_read_in_its_order() {
        let file =
            r#"[["a", "One", "", "x", "y"], ["b", "Two", "m", "z"], ["a", "Three", "", "w"]]"#;
        let section = |heading: &str, mark: &str, paragraphs: &[&str]| Section {
            heading: heading.to_owned(),
            mark: mark.to_owned(),
            paragraphs: paragraphs.iter().map(|text| (*text).to_owned()).collect(),
        };
        assert_eq!(
            sections(file, "a").unwrap(),
            [section("One", "", &["x", "y"]), section("Three", "", &["w"])]
        );
        assert_eq!(sections(file, "b").unwrap(), [section("Two", "m", &["z"])]);
        assert_eq!(sections(file, "c").unwrap(), []);
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
