//! The shell without what only people read, and with one style sheet instead of one for each layer:
//! what is alike in them is compressed once, and a phone asks once.

use crate::digest;
use crate::files::BuildFile;
use crate::markup::{Tag, tags};

/// The style sheets of a page as one.
#[derive(Debug, PartialEq, Eq)]
pub struct Joined {
    /// The page that links to it.
    pub page: String,
    /// What is in it.
    pub styles: BuildFile,
    /// The files whose content it has, in the order of the page.
    pub instead_of: Vec<String>,
}

/// `page` with the style sheets it links to among `files` in one, where it links to the first.
/// Nothing if there are fewer than two.
pub fn join_styles(page: &str, files: &[BuildFile]) -> Option<Joined> {
    let mut bytes = Vec::new();
    let mut instead_of = Vec::new();
    let mut rest = String::new();
    let (mut first, mut written) = (None, 0);
    for tag in tags(page) {
        let linked =
            address_of_style(&tag).and_then(|path| files.iter().find(|file| file.path == path));
        let Some(linked) = linked else { continue };
        rest.push_str(&page[written..tag.start]);
        written = tag.end;
        first.get_or_insert(rest.len());
        bytes.extend(&linked.bytes);
        instead_of.push(linked.path.clone());
    }
    let first = first.filter(|_| instead_of.len() > 1)?;
    rest.push_str(&page[written..]);
    let name: String = digest::hexadecimal(&bytes).chars().take(16).collect();
    let path = format!("style-{name}.css");
    rest.insert_str(first, &format!("<link rel=\"stylesheet\" href=\"./{path}\">"));
    Some(Joined { page: rest, styles: BuildFile { path, bytes }, instead_of })
}

/// The file that a tag links to as a style sheet.
fn address_of_style<'a>(tag: &Tag<'a>) -> Option<&'a str> {
    let value = |name: &str| tag.attributes.iter().find(|(has, _)| has == name).map(|(_, is)| *is);
    let is_style = tag.name == "link" && value("rel") == Some("stylesheet");
    value("href").filter(|_| is_style)?.strip_prefix("./")
}

/// `page` asking for what it starts from before its first script: a browser that has met a policy looks
/// no further ahead, and would ask for each of them only when that script has come and run.
///
/// The style sheet stays where it is, since a script below one waits for it.
pub fn ask_early(page: &str) -> String {
    let (mut early, mut rest) = (String::new(), String::new());
    let (mut first_script, mut written) = (None, 0);
    for tag in tags(page) {
        if tag.name == "script" && first_script.is_none() {
            rest.push_str(&page[written..tag.start]);
            written = tag.start;
            first_script = Some(rest.len());
        }
        if let Some(path) = address_of_style(&tag) {
            early.extend(["<link rel=\"preload\" href=\"./", path, "\" as=\"style\">"]);
        } else if is_preload(&tag) {
            rest.push_str(&page[written..tag.start]);
            early.push_str(&page[tag.start..tag.end]);
            written = tag.end;
        }
    }
    rest.push_str(&page[written..]);
    let Some(first) = first_script else { return page.to_owned() };
    early.push('\n');
    rest.insert_str(first, &early);
    rest
}

fn is_preload(tag: &Tag<'_>) -> bool {
    let wanted = [("rel", "preload"), ("rel", "modulepreload")];
    tag.name == "link" && tag.attributes.iter().any(|(name, is)| wanted.contains(&(name, is)))
}

/// `page` without comments, indentation and empty lines.
///
/// The page has no element in which they are shown, and no comment inside a script.
pub fn shorten(page: &str) -> String {
    let mut bare = String::with_capacity(page.len());
    let mut rest = page;
    while let Some((before, comment)) = rest.split_once("<!--") {
        bare.push_str(before);
        rest = comment.split_once("-->").map_or("", |(_, after)| after);
    }
    bare.push_str(rest);
    let lines = bare.lines().map(str::trim).filter(|line| !line.is_empty());
    lines.flat_map(|line| [line, "\n"]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE: &str = "<head>\n  <!-- In order. -->\n  <link rel=\"stylesheet\" href=\"./b.css\"/>\n  \
        <link rel=\"icon\" href=\"./i.svg\">\n  <link rel=\"stylesheet\" href=\"./a.css\">\n</head>";

    fn files() -> Vec<BuildFile> {
        let file =
            |path: &str, content: &str| BuildFile { path: path.into(), bytes: content.into() };
        vec![file("a.css", "p{a:b}"), file("b.css", "@layer a,b;"), file("i.svg", "<svg/>")]
    }

    #[test]
    fn the_sheets_are_joined_in_the_order_of_the_page() {
        let joined = join_styles(PAGE, &files()).unwrap();

        assert_eq!(joined.styles.bytes, b"@layer a,b;p{a:b}");
        assert_eq!(joined.instead_of, ["b.css", "a.css"]);
        let linked = format!("<link rel=\"stylesheet\" href=\"./{}\">", joined.styles.path);
        assert_eq!(
            shorten(&joined.page),
            format!("<head>\n{linked}\n<link rel=\"icon\" href=\"./i.svg\">\n</head>\n")
        );
    }

    #[test]
    fn other_content_has_another_name() {
        let mut changed = files();
        changed[0].bytes.push(b' ');
        let name = |files: &[BuildFile]| join_styles(PAGE, files).unwrap().styles.path;

        assert_eq!(name(&files()), name(&files()));
        assert_ne!(name(&files()), name(&changed));
    }

    #[test]
    fn a_single_sheet_is_left_alone() {
        assert_eq!(join_styles(PAGE, &files()[1..]), None);
        assert_eq!(join_styles("<p>", &files()), None);
    }

    #[test]
    fn what_the_page_starts_from_is_asked_for_before_its_first_script() {
        let page = "<head><meta charset=\"utf-8\"><script src=\"./s.js\"></script>\
            <link rel=\"stylesheet\" href=\"./a.css\"><script>go()</script>\
            <link rel=\"modulepreload\" href=\"./p.js\"></head>";

        let early = "<link rel=\"preload\" href=\"./a.css\" as=\"style\">\
            <link rel=\"modulepreload\" href=\"./p.js\">\n";
        assert_eq!(
            ask_early(page),
            format!(
                "<head><meta charset=\"utf-8\">{early}<script src=\"./s.js\"></script>\
                <link rel=\"stylesheet\" href=\"./a.css\"><script>go()</script></head>"
            )
        );
    }

    #[test]
    fn a_page_without_a_script_is_left_as_it_is() {
        let page = "<link rel=\"preload\" href=\"./a.css\" as=\"style\"><p>";
        assert_eq!(ask_early(page), page);
    }

    #[test]
    fn comments_and_indentation_are_left_out() {
        let page = "<p>\n    One <!-- not\n  two -->line\n\n  <!-- open";

        assert_eq!(shorten(page), "<p>\nOne line\n");
    }
}
